//! Studs as they were called out along the tape: the run is read, and the regular layout that fits it
//! best is found. A reading off that layout is named, never refused.

use crate::{
    geometry::Span,
    job::{End, ExtraKind, ExtraStud, StudCorrection, StudLayout, Studs, Wall},
    limits,
    quantity::{
        Length, NotALength, SAME, Units, at_step, count, inches, millimeters, same, shorter, steps,
        whole,
    },
    tape,
};

/// What of a stud the tape was read at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadAt {
    /// Its centre.
    Centre,
    /// Its edge towards the datum.
    NearEdge,
}

/// The regular layout that fits a run best, and where each reading stands in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The layout, from the datum end; `None` when no reading lies between the end studs.
    pub layout: Option<Layout>,
    /// One entry a reading, in the order they were called out.
    pub studs: Vec<FoundStud>,
    /// Centres of studs that the layout has between the readings, and that nobody called out.
    pub missing: Vec<Length>,
}

/// A regular layout, read from the datum end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    /// On centre.
    pub spacing: Length,
    /// Centre of the first stud past the end stud.
    pub first: Length,
}

/// A stud that was called out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundStud {
    /// Its centre, from the datum end.
    pub centre: Length,
    /// Where it stands.
    pub place: Standing,
}

/// Where a found stud stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// Where the layout has it.
    OnLayout,
    /// Near its place in the layout.
    Off {
        /// Its place in the layout, from the datum end.
        place: Length,
    },
    /// Where the layout has none.
    Beside,
    /// It is an end stud, which every wall has.
    AtTheEnd,
    /// It belongs to the framing of an opening.
    AtAnOpening,
    /// It lies outside the wall.
    Outside,
}

/// Reads a run of tape readings.
///
/// A comma, a semicolon, a new line or two spaces stand between readings, so a decimal needs its point.
/// Each reading is read alone, so that one bad reading does not spoil the others.
pub fn run(text: &str, units: Units) -> Vec<Result<Length, NotALength>> {
    let split = text.replace("  ", "\n");
    let readings = split.split([',', ';', '\n', '\t']).map(str::trim);
    readings.filter(|text| !text.is_empty()).map(|text| tape::parse(text, units)).collect()
}

/// The centres of studs from readings, both from the datum end.
pub fn centres(wall: &Wall, readings: &[Length], read_at: ReadAt) -> Vec<Length> {
    let to_centre = match read_at {
        ReadAt::Centre => Length::default(),
        ReadAt::NearEdge => thickness(wall) / 2.0,
    };
    readings.iter().map(|reading| *reading + to_centre).collect()
}

/// Finds the regular layout that fits studs best, given by their centres from the datum end.
///
/// The best layout has the most studs on it, less those it would have and nobody called out; among
/// equals a common spacing comes first, then the smaller deviation.
pub fn fit(wall: &Wall, centres: &[Length], units: Units) -> Fit {
    let around = Around::of(wall);
    let free = |centre: &Length| around.standing(*centre) == Standing::OnLayout;
    let mut between: Vec<Length> = centres.iter().copied().filter(free).collect();
    crate::quantity::sort(&mut between);
    let rank = |grid: &Grid| grid.rank(&between, &around);
    let through = &between[..between.len().min(MOST_TRIED)];
    let grids = candidates(&between, units)
        .into_iter()
        .flat_map(|spacing| through.iter().map(move |centre| Grid { spacing, through: *centre }));
    // The first of equals wins, which `max_by_key` alone would not give.
    let best = grids.rev().max_by_key(rank).map(|grid| grid.centred(&between, units));
    let Some(grid) = best else {
        let found =
            |centre: &Length| FoundStud { centre: *centre, place: around.standing(*centre) };
        let studs = centres.iter().map(found).collect();
        return Fit { layout: None, studs, missing: Vec::new() };
    };
    let found = |centre: &Length| {
        let standing = around.standing(*centre);
        let place = if standing == Standing::OnLayout {
            grid.standing(*centre, &between, &around)
        } else {
            standing
        };
        FoundStud { centre: *centre, place }
    };
    Fit {
        layout: Some(Layout { spacing: grid.spacing, first: grid.first(around.thickness) }),
        studs: centres.iter().map(found).collect(),
        missing: grid.missing(&between, &around),
    }
}

impl Fit {
    /// The studs of the wall by the regular layout, with a correction for each that stands off it.
    ///
    /// Posts and what else was added beside the layout stays, unless a reading names the same stud.
    pub fn regular(&self, wall: &Wall) -> Studs {
        let from_left = |reading| from_end(wall, reading);
        let Some(Layout { spacing, first }) = self.layout else { return wall.studs.clone() };
        let mut corrections = Vec::new();
        let mut extra: Vec<ExtraStud> = wall.studs.extra.clone();
        extra.retain(|extra| {
            let named =
                |stud: &FoundStud| (from_left(stud.centre) - extra.centre).abs() < thickness(wall);
            extra.kind != ExtraKind::Stud || !self.studs.iter().any(named)
        });
        for stud in &self.studs {
            let centre = from_left(stud.centre);
            match stud.place {
                Standing::Off { place } => {
                    corrections
                        .push(StudCorrection::Moved { stud: from_left(place), found: centre });
                }
                Standing::Beside => {
                    extra.push(ExtraStud { kind: ExtraKind::Stud, centre, width: None });
                }
                Standing::OnLayout
                | Standing::AtTheEnd
                | Standing::AtAnOpening
                | Standing::Outside => {}
            }
        }
        let missing = self.missing.iter().map(|place| from_left(*place));
        corrections.extend(missing.map(|stud| StudCorrection::Missing { stud }));
        let layout =
            StudLayout::Regular { spacing: Some(spacing), first: Some(first), from: wall.datum };
        Studs { thickness: wall.studs.thickness, layout, corrections, extra }
    }

    /// The studs of the wall one by one, as they were found.
    pub fn one_by_one(&self, wall: &Wall) -> Studs {
        let stands = |stud: &&FoundStud| {
            !matches!(stud.place, Standing::AtTheEnd | Standing::AtAnOpening | Standing::Outside)
        };
        let studs = self.studs.iter().filter(stands);
        let mut centres: Vec<Length> = studs.map(|stud| from_end(wall, stud.centre)).collect();
        crate::quantity::sort(&mut centres);
        centres.dedup_by(|a, b| same(*a, *b));
        let layout = StudLayout::Measured { centres };
        Studs { layout, corrections: Vec::new(), ..wall.studs.clone() }
    }

    /// How many readings the layout explains, and how many lie between the end studs.
    pub fn n_on_layout(&self) -> (usize, usize) {
        let count = |wanted: fn(&Standing) -> bool| {
            self.studs.iter().filter(|stud| wanted(&stud.place)).count()
        };
        let on = count(|place| *place == Standing::OnLayout);
        let off = count(|place| matches!(place, Standing::Off { .. } | Standing::Beside));
        (on, on + off)
    }
}

/// A reading from the datum end as one from the left end, and the other way round.
fn from_end(wall: &Wall, reading: Length) -> Length {
    match wall.datum {
        End::Left => reading,
        End::Right => wall.width - reading,
    }
}

fn thickness(wall: &Wall) -> Length {
    let assumed = limits::assumption(&limits::STUD_THICKNESS, wall.lumber);
    let assumed = assumed.map_or(limits::STUD_THICKNESS.min, |(thickness, _)| thickness);
    wall.studs.thickness.unwrap_or(assumed)
}

/// What stands in the wall beside the layout, from the datum end.
struct Around {
    width: Length,
    thickness: Length,
    /// Openings with their kings and trimmers.
    openings: Vec<Span>,
    /// Kings and trimmers alone.
    jambs: Vec<Span>,
}

impl Around {
    fn of(wall: &Wall) -> Self {
        let thickness = thickness(wall);
        let (mut openings, mut jambs) = (Vec::new(), Vec::new());
        for opening in &wall.openings {
            let n_uprights = opening.kings.unwrap_or(1) + opening.trimmers.unwrap_or(1);
            let beside = thickness * f64::from(n_uprights);
            let (left, right) = (opening.left, opening.left + opening.width);
            let span = |from, to| Span::new(from_end(wall, from), from_end(wall, to));
            openings.push(span(left - beside, right + beside));
            jambs.extend([span(left - beside, left), span(right, right + beside)]);
        }
        Self { width: wall.width, thickness, openings, jambs }
    }

    /// Where a stud stands that the layout has no say in; all others are taken to be on it.
    fn standing(&self, centre: Length) -> Standing {
        if centre < -SAME || self.width + SAME < centre {
            return Standing::Outside;
        }
        if !self.is_past_the_end_studs(centre) {
            return Standing::AtTheEnd;
        }
        let jamb = self.jambs.iter().any(|jamb| jamb.contains(centre));
        if jamb { Standing::AtAnOpening } else { Standing::OnLayout }
    }

    /// Whether a stud has room between the end studs.
    fn is_past_the_end_studs(&self, centre: Length) -> bool {
        let end = beside_the_end(self.thickness);
        end <= centre && centre <= self.width - end
    }

    /// Whether a stud of the layout has room for its whole height.
    fn has_room(&self, centre: Length) -> bool {
        let half = self.thickness / 2.0;
        !self.openings.iter().any(|opening| opening.widened(half).contains(centre))
    }
}

/// The centre of a stud that touches the end stud.
fn beside_the_end(thickness: Length) -> Length {
    thickness * 1.5 - SAME
}

/// A spacing, and a place that it passes through.
#[derive(Debug, Clone, Copy)]
struct Grid {
    spacing: Length,
    through: Length,
}

impl Grid {
    fn index(&self, centre: Length) -> i64 {
        steps(centre - self.through, self.spacing)
    }

    fn place(&self, index: i64) -> Length {
        self.through + at_step(index, self.spacing)
    }

    fn off(&self, centre: Length) -> Length {
        centre - self.place(self.index(centre))
    }

    /// How well it explains the studs; more is better.
    fn rank(&self, studs: &[Length], around: &Around) -> (i64, bool, i64) {
        let off: Vec<Length> = studs.iter().map(|centre| self.off(*centre).abs()).collect();
        let on: Vec<Length> = off.into_iter().filter(|off| *off < ON_LAYOUT + SAME).collect();
        let score = whole(on.len()) - whole(self.missing(studs, around).len());
        let common = limits::COMMON_SPACINGS.iter().any(|spacing| same(*spacing, self.spacing));
        let deviation = on.into_iter().fold(Length::default(), |sum, off| sum + off);
        (score, common, -steps(deviation, SAME))
    }

    /// The same spacing, moved to the middle of the studs that stand on it.
    fn centred(&self, studs: &[Length], units: Units) -> Self {
        let off = studs.iter().map(|centre| self.off(*centre));
        let off: Vec<Length> = off.filter(|off| off.abs() < ON_LAYOUT + SAME).collect();
        let sum = off.iter().fold(Length::default(), |sum, off| sum + *off);
        let middle = self.through + sum / count(off.len().max(1));
        let step = match units {
            Units::FeetInches => inches(0.0625),
            Units::Metric => millimeters(1.0),
        };
        let centred = Self { through: at_step(steps(middle, step), step), ..*self };
        let n_on = |grid: &Self| {
            studs.iter().filter(|centre| grid.off(**centre).abs() < ON_LAYOUT + SAME).count()
        };
        // The middle may lose a stud that only just stood on the layout.
        if n_on(&centred) < n_on(self) { *self } else { centred }
    }

    fn standing(&self, centre: Length, studs: &[Length], around: &Around) -> Standing {
        let (index, off) = (self.index(centre), self.off(centre).abs());
        let nearer =
            |other: &Length| self.index(*other) == index && self.off(*other).abs() + SAME < off;
        let place = self.place(index);
        let taken = studs.iter().any(nearer);
        if taken || !around.is_past_the_end_studs(place) || self.reach() <= off {
            return Standing::Beside;
        }
        if off < ON_LAYOUT + SAME {
            return Standing::OnLayout;
        }
        Standing::Off { place }
    }

    /// Places between the first stud and the last where the layout has a stud and none was found.
    fn missing(&self, studs: &[Length], around: &Around) -> Vec<Length> {
        let (Some(first), Some(last)) = (studs.first(), studs.last()) else { return Vec::new() };
        // Before the first reading and past the last one nobody has looked.
        let indices = self.index(*first)..=self.index(*last);
        let places = indices.map(|index| self.place(index));
        let looked_at = |place: &Length| *first < *place && *place < *last;
        let found = |place: Length| studs.iter().any(|at| (*at - place).abs() < self.reach());
        let places = places.filter(looked_at);
        places.filter(|place| !found(*place) && around.has_room(*place)).collect()
    }

    /// A stud farther than this from its place is another stud: as far as corrections reach.
    fn reach(&self) -> Length {
        shorter(self.spacing / 2.0, inches(6.0))
    }

    /// The first place past the end stud.
    fn first(&self, thickness: Length) -> Length {
        let past = self.through - beside_the_end(thickness);
        let whole = (past / self.spacing).value.floor();
        self.through - self.spacing * whole
    }
}

/// A stud this near to its place is taken to stand on it: a project decision, as much as a hole's
/// distance to timber can bear.
const ON_LAYOUT: Length = inches(0.25);

/// Spacings to try: the common ones, and those that the readings suggest.
fn candidates(studs: &[Length], units: Units) -> Vec<Length> {
    let step = match units {
        Units::FeetInches => inches(0.125),
        Units::Metric => millimeters(5.0),
    };
    let gaps = studs.windows(2).map(|pair| pair[1] - pair[0]);
    let mut spacings = limits::COMMON_SPACINGS.to_vec();
    for gap in gaps {
        let spacing = at_step(steps(gap, step), step);
        let known = spacings.iter().any(|known| same(*known, spacing));
        // A longer way to the next reading has studs that nobody called out.
        let sane = limits::STUD_SPACING.min <= spacing && spacing <= MOST_APART;
        if sane && !known && spacings.len() < MOST_TRIED {
            spacings.push(spacing);
        }
    }
    spacings
}

/// Studs of a layout do not stand farther apart: a project decision, half as much again as is common
/// (common practice, no source).
const MOST_APART: Length = inches(36.0);

/// More spacings and more studs to start from than these would take long to try, and change nothing.
const MOST_TRIED: usize = 24;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        file,
        framing::{MemberKind, frame},
        job::{Opening, OpeningKind},
        quantity::to_inches,
    };

    fn wall(width: f64) -> Wall {
        let text = format!(
            "{{\"format\":\"risemark-job\",\"version\":1,\"job\":{{\"name\":\"n\",\"walls\":[{{\"id\":\"w\",\
             \"name\":\"w\",\"width\":{},\"top\":{{\"shape\":\"level\",\"height\":2467}}}}]}}}}",
            width * 25.4
        );
        file::read(&text).expect("a plain wall").walls.remove(0)
    }

    fn called(text: &str) -> Vec<Length> {
        run(text, Units::FeetInches).into_iter().map(|reading| reading.expect("a length")).collect()
    }

    fn fitted(wall: &Wall, text: &str) -> Fit {
        fit(wall, &called(text), Units::FeetInches)
    }

    fn layout(fit: &Fit) -> (f64, f64) {
        let layout = fit.layout.expect("a layout");
        (to_inches(layout.spacing), to_inches(layout.first))
    }

    /// Centres of the studs between the end studs, from the left end, in inches.
    fn framed(wall: &Wall, studs: Studs) -> Vec<f64> {
        let wall = Wall { studs, ..wall.clone() };
        let members = frame(&wall).product.members;
        let studs = members.iter().filter(|member| member.kind == MemberKind::Stud);
        let mut centres: Vec<f64> =
            studs.map(|stud| to_inches(stud.polygon.bounds().x.middle())).collect();
        crate::order::sort_numbers(&mut centres);
        centres[1..centres.len() - 1].to_vec()
    }

    #[test]
    fn studs_that_are_far_apart_have_others_between_them() {
        for run in ["14 1/2, 46 1/2, 110", "14-1/2, 30 3/4, 80 1/8"] {
            let (spacing, _) = layout(&fitted(&wall(192.0), run));
            assert!(spacing <= 36.0, "{run}: {spacing} in on centre");
        }
    }

    #[test]
    fn a_run_is_read_as_it_is_called_out() {
        let read = called("14-1/2, 30 3/4,47; 5' 3\"  79 1/4\n95.5");
        let read: Vec<f64> = read.into_iter().map(to_inches).collect();
        assert_eq!(read, [14.5, 30.75, 47.0, 63.0, 79.25, 95.5], "six readings");
        let read = run("16, thirty-two, 48,, ", Units::FeetInches);
        let good: Vec<bool> = read.iter().map(Result::is_ok).collect();
        assert_eq!(good, [true, false, true], "one bad reading spoils no other");
        assert_eq!(run(" ;\n", Units::Metric).len(), 0, "nothing was called out");
    }

    /// Studs at 16 in on centre are marked at 15-1/4 in, 31-1/4 in and so on, a line at the edge of
    /// each stud: common practice, no source.
    #[test]
    fn near_edges_at_fifteen_and_a_quarter_are_centres_at_sixteen() {
        let wall = wall(96.0);
        let edges = called("15-1/4, 31-1/4, 47-1/4, 63-1/4, 79-1/4");
        let centres = centres(&wall, &edges, ReadAt::NearEdge);
        let fit = fit(&wall, &centres, Units::FeetInches);
        assert_eq!(layout(&fit), (16.0, 16.0), "spacing and first stud");
        assert_eq!(fit.n_on_layout(), (5, 5), "every reading fits");
        assert_eq!(framed(&wall, fit.regular(&wall)), [16.0, 32.0, 48.0, 64.0, 80.0], "studs");
    }

    #[test]
    fn a_stud_off_the_layout_is_corrected_and_one_that_is_not_there_is_taken_out() {
        let wall = wall(130.0);
        let fit = fitted(&wall, "16, 32, 49-1/8, 64, 96, 104, 112");
        assert_eq!(layout(&fit), (16.0, 16.0), "spacing and first stud");
        let off = Standing::Off { place: inches(48.0) };
        assert_eq!(fit.studs[2].place, off, "the third is off by 1-1/8 in");
        assert_eq!(fit.studs[5].place, Standing::Beside, "104 in is a stud more");
        assert_eq!(fit.missing, [inches(80.0)], "nobody called out 80 in");
        let found = [16.0, 32.0, 49.125, 64.0, 96.0, 104.0, 112.0];
        assert_eq!(framed(&wall, fit.regular(&wall)), found, "framed as found");
        assert_eq!(framed(&wall, fit.one_by_one(&wall)), found, "and one by one");
    }

    #[test]
    fn a_run_from_the_right_end_is_the_mirrored_run() {
        let wall = Wall { datum: End::Right, ..wall(130.0) };
        let fit = fitted(&wall, "16, 32, 49, 64, 80, 96, 112");
        let found = [18.0, 34.0, 50.0, 66.0, 81.0, 98.0, 114.0];
        assert_eq!(framed(&wall, fit.regular(&wall)), found, "the regular layout");
        assert_eq!(framed(&wall, fit.one_by_one(&wall)), found, "one by one");
    }

    #[test]
    fn other_spacings_are_found_too() {
        let fit = fitted(&wall(150.0), "22, 46, 70, 94, 118");
        assert_eq!(layout(&fit), (24.0, 22.0), "at 24 in");
        let fit = fitted(&wall(150.0), "18, 36, 54, 72, 90");
        assert_eq!(layout(&fit), (18.0, 18.0), "at 18 in, which is not common");
        let fit = fit_metric("590, 1190, 1790, 2390");
        let layout = fit.layout.expect("a layout");
        assert!(same(layout.spacing, millimeters(600.0)), "{layout:?}");
        assert!(same(layout.first, millimeters(590.0)), "{layout:?}");
    }

    fn fit_metric(text: &str) -> Fit {
        let readings = run(text, Units::Metric).into_iter().flatten().collect::<Vec<_>>();
        fit(&wall(150.0), &readings, Units::Metric)
    }

    #[test]
    fn an_opening_takes_its_studs_out_of_the_reckoning() {
        let mut wall = wall(192.0);
        wall.openings.push(Opening {
            kind: OpeningKind::Door,
            name: None,
            left: inches(70.0),
            width: inches(34.0),
            height: inches(82.5),
            sill: None,
            kings: None,
            trimmers: None,
            header: crate::job::Header::Solid,
            sill_thickness: None,
        });
        let fit =
            fitted(&wall, "3/4, 16, 32, 48, 64, 67-3/4, 69-1/4, 112, 128, 144, 160, 176, 200");
        assert_eq!(fit.missing, [], "80 in and 96 in lie in the opening");
        assert_eq!(fit.studs[0].place, Standing::AtTheEnd, "an end stud");
        assert_eq!(fit.studs[5].place, Standing::AtAnOpening, "a king stud");
        assert_eq!(fit.studs[12].place, Standing::Outside, "past the end");
        assert_eq!(fit.n_on_layout(), (9, 9), "the others are on the layout");
        assert_eq!(fit.regular(&wall).corrections, [], "nothing to correct");
    }

    #[test]
    fn what_was_added_beside_the_layout_stays_unless_a_reading_names_it() {
        let mut wall = wall(130.0);
        let extra = |kind, centre| ExtraStud { kind, centre: inches(centre), width: None };
        wall.studs.extra = vec![
            extra(ExtraKind::PartitionChannel, 40.0),
            extra(ExtraKind::Stud, 57.0),
            extra(ExtraKind::Stud, 104.0),
        ];
        let fit = fitted(&wall, "16, 32, 48, 64, 80, 96, 104, 112");
        let kept: Vec<f64> =
            fit.regular(&wall).extra.iter().map(|extra| to_inches(extra.centre)).collect();
        assert_eq!(kept, [40.0, 57.0, 104.0], "each once");
    }

    #[test]
    fn nothing_between_the_ends_gives_no_layout() {
        let wall = wall(100.0);
        let fit = fitted(&wall, "0, 100, 180");
        assert_eq!(fit.layout, None, "no layout");
        assert_eq!(fit.regular(&wall), wall.studs, "the studs stay");
        assert_eq!(fitted(&wall, "").studs, [], "an empty run");
    }
}
