//! The sample job that the app opens with: our own invented house.

use risemark::{file, job::Job, quantity::Units};

use crate::fresh;

/// What the sample job is called.
pub const NAME: &str = "Old post office (sample)";

const ROOMS: [&str; 3] = [
    include_str!("../../../examples/workshop/job.json"),
    include_str!("../../../examples/drying-room/job.json"),
    include_str!("../../../examples/attic-gable/job.json"),
];

/// The sample job, with the walls of all its rooms.
pub fn job() -> Job {
    // The tests read each of the files, so none is left out.
    let rooms: Vec<Job> = ROOMS.iter().filter_map(|room| file::read(room).ok()).collect();
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
            assert!(file::read(room).is_ok(), "the file reads without a finding");
        }
    }

    #[test]
    fn the_sample_can_be_planned() {
        let job = job();
        assert_eq!(risemark::check(&job), [], "nothing speaks against it");
        assert!(3 <= job.walls.len(), "the walls of three rooms");
    }
}
