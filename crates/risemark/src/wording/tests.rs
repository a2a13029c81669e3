//! Every sentence in every language: none empty, none with leftovers, the same figures in each.

use super::*;
use crate::{
    cautions::Caution,
    drilling::{Hole, Reach},
    finding::{Avoided, ChainFault, CompartmentId, Content, Counted, Noun, Problem, WallRef},
    framing::MemberKind,
    job::{Material, SkipReason, ThingKind, ZoneKind},
    limits,
    quantity::{Length, board_feet, cubic_inches_per_second, inches, seconds},
};

/// Lengths, counts and words that occur nowhere else in a sentence.
const A: Length = inches(11.0);
const B: Length = inches(13.0);
const C: Length = inches(17.0);

fn written(word: &str) -> String {
    word.to_owned()
}

/// One of every kind of problem of a file, each figure another one.
fn problems_of_files() -> Vec<Problem> {
    let name = limits::WALL_WIDTH.name;
    vec![
        Problem::NotJson { what: written("a trailing comma"), line: 41, column: 43 },
        Problem::FileTooLarge { found: 47, most: 53 },
        Problem::Unexpected { found: Content::ListOf(59), expected: Content::ListOf(61) },
        Problem::MarkIsVoid { mark: 97 },
        Problem::NewerFile { found: 89.0, latest: 83 },
        Problem::UnknownField { found: written("wdith"), expected: written("width, name") },
        Problem::MissingField { name: written("width") },
        Problem::RepeatedField { name: written("width") },
        Problem::LengthOutOfRange { name, found: A, min: B, max: C },
        Problem::NumberOutOfRange { name, found: 67.5, min: 71.0, max: 73.0 },
        Problem::TooMany { what: Counted::Members, found: 79, most: 83 },
        Problem::BadText { found: written("qwerty") },
        Problem::RepeatedId { id: written("qwerty") },
        Problem::More { count: 97 },
        Problem::RepeatedMark { mark: 101, other: 103 },
        Problem::TopRulesClash { clearance: A, reach: B },
        Problem::OpeningsOverlap { other: 89, name: Some(written("qwerty")) },
        Problem::OutsideWall { what: Noun::Run, found: A, limit: B },
        Problem::BadChain { what: ChainFault::RunsBack },
        Problem::NoHeight { at: A },
        Problem::NoLength,
    ]
}

/// One of every kind of problem of a wall, each figure another one.
fn problems_of_walls() -> Vec<Problem> {
    let avoided = vec![Avoided::Timber, Avoided::Zone(ZoneKind::Crown)];
    vec![
        Problem::StudInOpening { centre: A },
        Problem::NothingThere { what: Noun::Bay, at: A },
        Problem::MembersOverlap { what: Noun::ExtraStud, at: A },
        Problem::HeaderCut { depth: A, room: B },
        Problem::NotReached { across: inches(20.0), up: inches(9.0), reach: inches(18.0) },
        Problem::WeakReach { reach: inches(18.0) },
        Problem::Ties { up: inches(24.0), across: inches(36.0) },
        Problem::FinerMarks { step: inches(0.125) },
        Problem::BitLength { leaf: inches(3.625), needed: inches(5.375), usual: inches(6.0) },
        Problem::BitLength { leaf: inches(4.5), needed: inches(6.375), usual: inches(6.0) },
        Problem::OutOfReach {
            across: inches(20.0),
            up: inches(9.0),
            reach: inches(18.0),
            blocked_by: Vec::new(),
        },
        Problem::OutOfReach {
            across: inches(20.0),
            up: inches(9.0),
            reach: inches(18.0),
            blocked_by: avoided.clone(),
        },
        Problem::TooShallow { depth: A, least: B },
        Problem::TooNarrow { width: A, least: B },
        Problem::TooLow { height: A, least: B },
        Problem::StaysEmpty { thing: ThingKind::Flue, keep_off: A },
        Problem::Skipped { reason: SkipReason::KnobAndTube },
        Problem::Skipped { reason: SkipReason::Chase },
        Problem::NoHoleFits { blocked_by: Vec::new(), from: A, to: B },
        Problem::NoHoleFits { blocked_by: avoided, from: A, to: B },
        Problem::StepTooCoarse { step: A, room: B },
        Problem::HoleTooNear { blocked_by: vec![Avoided::Band], least: A },
        Problem::HoleMissesSpaces,
        Problem::NoHoleLeft,
        Problem::HolesTooFarApart { below: Some(41), above: Some(43), distance: A, most: B },
        Problem::HolesTooFarApart { below: None, above: None, distance: A, most: B },
        Problem::NotProbed { count: 13, of: 17 },
        Problem::NoBand { from: A, to: B },
        Problem::WeakPractice { depth: A, most: B },
        Problem::ProbeFirst { height: A, width: B },
        Problem::ThinFinish { material: Material::Board, thickness: A, least: B, bay: C },
        Problem::OpenBays,
        Problem::MaybeLead { year: Some(1931) },
        Problem::MaybeLead { year: None },
    ]
}

/// One of every kind of problem of foam, each figure another one.
fn problems_of_foam() -> Vec<Problem> {
    let (rate, margin) = (cubic_inches_per_second(101.0), cubic_inches_per_second(103.0));
    let holes = vec![107, 113, 114, 115];
    vec![
        Problem::FlowUntested { rate },
        Problem::OneTestShot { rate },
        Problem::FlowUnsure { rate, margin },
        Problem::ReadTooSoon { waited: seconds(127.0), least: seconds(131.0) },
        Problem::RoseAboveHole { rise: A, hole: B },
        Problem::ShotDisagrees { found: rate, middle: margin },
        Problem::NozzleChanged { nozzle: 137, first: 139, shot: 149 },
        Problem::TemperatureChanged { found: 15.0, first: 25.0, shot: 151 },
        Problem::ShortShots { holes: holes.clone(), least: seconds(3.0) },
        Problem::LongShots { holes: holes.clone(), most: seconds(61.0) },
        Problem::LiftsTooHigh { holes: holes.clone(), most: A },
        Problem::LiftsTooLarge { holes, most: board_feet(157.0) },
        Problem::ColdFoam { found: 10.0, least: 20.0 },
        Problem::FoamRunsShort {
            nominal: board_feet(163.0),
            chance: 41.0,
            needed: board_feet(167.0),
            asked: 90.0,
        },
    ]
}

fn problems_of_shots() -> Vec<Problem> {
    vec![
        Problem::NoSuchHole { wall: written("qwerty"), hole: 173 },
        Problem::NoSuchWall { id: written("qwerty") },
        Problem::OutOfTurn { hole: 179 },
        Problem::ShotsOutlastKits { n_shots: 193, lasts: seconds(197.0) },
        Problem::WaitsCostNozzles { n_waits: 181, longest: seconds(191.0) },
    ]
}

fn problems() -> Vec<Problem> {
    [problems_of_files(), problems_of_walls(), problems_of_foam(), problems_of_shots()].concat()
}

/// The numbers of a sentence, in order of size, as their figures stand in it.
fn figures(sentence: &str) -> Vec<&str> {
    let mut figures: Vec<&str> = sentence
        .split(|sign: char| !sign.is_ascii_digit())
        .filter(|part| !part.is_empty())
        .collect();
    figures.sort_unstable();
    figures
}

/// A sentence is there, says something of its own in each language, and with the same figures.
fn check(said: impl Fn(Speech) -> String) {
    for units in [Units::FeetInches, Units::Metric] {
        let [english, spanish] = Language::ALL.map(|language| said(Speech { units, language }));
        for sentence in [&english, &spanish] {
            assert!(!sentence.trim().is_empty(), "{english} / {spanish}");
            assert!(!sentence.contains(['{', '}']), "nothing is left to fill in: {sentence}");
            assert!(!sentence.contains("  "), "words are one space apart: {sentence}");
        }
        assert_ne!(english, spanish, "two languages");
        assert_eq!(figures(&english), figures(&spanish), "{english} / {spanish}");
    }
}

#[test]
fn every_kind_of_problem_is_tried_here() {
    let source = include_str!("../finding.rs");
    let codes =
        source.lines().filter_map(|line| line.trim().split_once("=> \"")).map(|(_, code)| code);
    let mut codes: Vec<&str> = codes.map(|code| code.trim_end_matches("\",")).collect();
    codes.sort_unstable();
    let mut tried: Vec<&str> = problems().iter().map(Problem::code).collect();
    tried.sort_unstable();
    tried.dedup();
    assert_eq!(tried, codes, "a sample for each code");
}

#[test]
fn problems_and_hints_are_said_in_every_language() {
    for problem in problems() {
        check(|speech| message(&problem, speech));
        check(|speech| hint(&problem).of(speech.language).to_owned());
        let wall = WallRef { number: 97, id: written("w"), name: written("North") };
        let finding = Finding::new(Place::compartment(CompartmentId(7)), problem).on(&wall);
        check(|speech| line(&finding, speech));
    }
}

#[test]
fn figures_stand_where_they_belong() {
    let spanish = Speech { units: Units::FeetInches, language: Language::Spanish };
    let narrow = Problem::TooNarrow { width: inches(1.0), least: inches(1.5) };
    assert_eq!(
        message(&narrow, spanish),
        "1\" de ancho, la broca con su distancia libre necesita 1 1/2\"",
        "the width before what it needs"
    );
    let place = Place::entry(Noun::Opening, 1).field("sill");
    assert_eq!(super::place(&place, spanish.language), "abertura 2, sill", "an entry");
    assert_eq!(super::place(&Place::default(), spanish.language), "trabajo", "the job");
    let place = Place::default().field("crew.walls");
    assert_eq!(super::place(&place, Language::English), "order of the walls", "no path");
}

#[test]
fn what_is_no_length_is_said_in_every_language() {
    for units in [Units::FeetInches, Units::Metric] {
        let refused = NotALength { found: written("1x"), units };
        check(|speech| not_a_length(&refused, speech.language));
    }
}

#[test]
fn cautions_and_sources_are_said_in_every_language() {
    let every = [
        Caution::LocalCode,
        Caution::Protection,
        Caution::KeepOut,
        Caution::Ignition,
        Caution::ThermalBarrier,
        Caution::Heat,
        Caution::Services,
        Caution::KnobAndTube,
        Caution::BundledCables,
        Caution::Flue,
        Caution::Lead,
        Caution::Asbestos,
        Caution::Bowing,
        Caution::Draught,
    ];
    for each in every {
        check(|speech| caution(each).of(speech.language).to_owned());
        let source = each.source();
        assert_eq!(figures(source.english), figures(source.spanish), "the same section");
    }
}

#[test]
fn every_name_of_the_table_of_limits_is_its_own() {
    let names = limits::LENGTHS.iter().map(|limit| limit.name);
    let names: Vec<Text> = names.chain(limits::BOUNDS.iter().map(|bounds| bounds.name)).collect();
    for (idx, name) in names.iter().enumerate() {
        for language in Language::ALL {
            assert!(!name.of(language).is_empty(), "{name:?}");
            let twin = names[..idx].iter().find(|other| other.of(language) == name.of(language));
            assert_eq!(twin, None, "{name:?} would be two things");
        }
    }
}

#[test]
fn members_and_things_have_a_name_of_their_own() {
    use MemberKind::*;
    let members = [
        BottomPlate,
        TopPlate,
        Stud,
        KingStud,
        Trimmer,
        Cripple,
        Header,
        SolidHeader,
        RoughSill,
        CornerPost,
        PartitionChannel,
        Block,
        FlatBlock,
        LetInBrace,
        CutInBrace,
        ClosingThing,
    ];
    for language in Language::ALL {
        let mut names = members.map(|kind| member(kind).of(language));
        names.sort_unstable();
        assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:?}");
    }
}

#[test]
fn one_compartment_more_is_one() {
    let job = crate::file::read(include_str!("../../../../examples/workshop/job.json"))
        .expect("the example is in order");
    let plan = crate::plan(&job);
    let mut hole: Hole = plan.walls[0].drill.holes[0].clone();
    check(|speech| may_move(&hole, speech));
    hole.why.avoided = vec![Avoided::Thing(ThingKind::Pipe), Avoided::Timber];
    hole.why.above = Reach { hole: Some(5), ..hole.why.above };
    hole.why.shared_with = 1;
    check(|speech| why(&hole, speech).join(" "));
    let spanish = Speech { units: Units::Metric, language: Language::Spanish };
    let said = |hole: &Hole| why(hole, spanish).join(" ");
    assert!(said(&hole).contains("con 1 compartimiento más."), "{}", said(&hole));
    assert!(said(&hole).contains("libre de tubo y madera."), "{}", said(&hole));
    hole.why.shared_with = 2;
    assert!(said(&hole).contains("con 2 compartimientos más."), "{}", said(&hole));
}
