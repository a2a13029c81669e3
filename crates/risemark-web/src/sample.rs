//! The sample job that the app opens with: our own invented house.

use risemark::{file, job::Job, quantity::Units};

use crate::fresh;

/// What the sample job is called.
pub const NAME: &str = "Old post office (sample)";

const ROOMS: [&str; 4] = [
    include_str!("../../../examples/workshop/job.json"),
    include_str!("../../../examples/drying-room/job.json"),
    include_str!("../../../examples/attic-gable/job.json"),
    include_str!("../../../examples/kiln-room/job.json"),
];

/// The sample job, with the walls of all its rooms.
pub fn job() -> Job {
    // The tests read each of the files, so that here none needs to be checked and none is left out.
    let rooms: Vec<Job> = ROOMS.iter().filter_map(|room| file::read_sound(room)).collect();
    let year_built = rooms.first().and_then(|room| room.year_built);
    let walls = rooms.into_iter().flat_map(|room| room.walls).collect();
    Job {
        name: NAME.to_owned(),
        place: Some("Larch Lane".to_owned()),
        year_built,
        walls,
        ..fresh::job(Units::FeetInches)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_room_of_the_sample_is_read() {
        for room in ROOMS {
            let read = file::read(room).expect("the file reads without a finding");
            assert_eq!(file::read_sound(room), Some(read), "the same without a check");
        }
    }

    #[test]
    fn the_sample_can_be_planned() {
        let job = job();
        assert_eq!(risemark::check(&job), [], "nothing speaks against it");
        assert!(ROOMS.len() <= job.walls.len(), "the walls of all rooms");
        let text = file::write(&job).expect("a usable job can be written");
        assert_eq!(file::read(&text), Ok(job), "it is what its own file says");
    }
}
