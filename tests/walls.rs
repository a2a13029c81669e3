//! Generated walls for property tests: every kind of outline, framing and obstacle, at real sizes.

use proptest::prelude::*;
use risemark::{
    geometry::Point,
    job::{
        BayException, Block, BlockKind, Brace, BraceKind, Construction, CrewSettings, Drilling,
        Edge, End, Finish, FoamSettings, Header, Job, Opening, OpeningKind, Plates, RuleSettings,
        Side, StudLayout, Studs, Thing, ThingKind, ThingShape, Wall, Zone, ZoneKind,
    },
    quantity::{Length, Units, inches},
};

/// A length of whole and quarter inches.
pub fn quarters(from: i32, to: i32) -> impl Strategy<Value = Length> {
    (from * 4..=to * 4).prop_map(|quarter| inches(f64::from(quarter) / 4.0))
}

/// A wall that passes its check.
pub fn wall() -> impl Strategy<Value = Wall> {
    let base = (
        quarters(30, 240),
        quarters(60, 130),
        prop::sample::select(vec![1.5, 2.25, 3.0, 3.5, 5.5]),
    );
    (base, top(), studs(), any::<bool>(), openings(), entries())
        .prop_map(|((width, height, depth), top, studs, datum_right, openings, entries)| {
            let datum = if datum_right { End::Right } else { End::Left };
            Wall {
                datum,
                ..assemble((width, height, inches(depth)), &top, studs, openings, entries)
            }
        })
        .prop_filter("passes its check", |wall| risemark::check::check_wall(wall).is_empty())
}

/// A job of one wall.
pub fn job(wall: Wall) -> Job {
    Job {
        name: "Generated".to_owned(),
        place: None,
        date: None,
        units: Units::FeetInches,
        year_built: Some(1984),
        rules: RuleSettings::default(),
        foam: FoamSettings::default(),
        crew: CrewSettings::default(),
        walls: vec![wall],
    }
}

#[derive(Debug, Clone)]
enum Top {
    Level,
    Raked(f64),
    Gable(f64),
    Step(f64),
}

fn top() -> impl Strategy<Value = Top> {
    prop_oneof![
        4 => Just(Top::Level),
        1 => (0.5..1.0).prop_map(Top::Raked),
        1 => (0.4..0.9).prop_map(Top::Gable),
        1 => (0.5..0.9).prop_map(Top::Step),
    ]
}

fn studs() -> impl Strategy<Value = Studs> {
    let regular = prop::sample::select(vec![12.0, 16.0, 19.25, 24.0]).prop_map(|spacing| {
        StudLayout::Regular { spacing: Some(inches(spacing)), first: None, from: End::Left }
    });
    let measured = prop::collection::vec(quarters(8, 30), 1..12).prop_map(|gaps| {
        let mut at = inches(0.0);
        let centres = gaps.into_iter().map(|gap| {
            at += gap;
            at
        });
        StudLayout::Measured { centres: centres.collect() }
    });
    prop_oneof![regular, measured].prop_map(|layout| Studs { layout, ..Studs::default() })
}

type OpeningDraw = (f64, Length, Length, bool, u8);

fn openings() -> impl Strategy<Value = Vec<OpeningDraw>> {
    prop::collection::vec(
        (0.0..0.9, quarters(16, 60), quarters(20, 84), any::<bool>(), 0u8..3),
        0..3,
    )
}

type Entries =
    (Vec<(f64, f64)>, Vec<(f64, f64, u8)>, Vec<(f64, f64, f64, f64)>, Option<(f64, f64, bool)>);

fn entries() -> impl Strategy<Value = Entries> {
    let share = || 0.05..0.95;
    (
        prop::collection::vec((share(), share()), 0..3),
        prop::collection::vec((share(), share(), 0u8..4), 0..3),
        prop::collection::vec((share(), share(), 0.02..0.3, 0.02..0.3), 0..2),
        prop::option::of((share(), share(), any::<bool>())),
    )
}

fn assemble(
    (width, height, depth): (Length, Length, Length),
    top: &Top,
    studs: Studs,
    openings: Vec<OpeningDraw>,
    (blocks, things, zones, brace): Entries,
) -> Wall {
    let at = |across: f64, up: f64| Point::new(snapped(width * across), snapped(height * up));
    let studs = within(studs, width);
    Wall {
        id: "generated".to_owned(),
        name: "Generated".to_owned(),
        room: None,
        construction: Construction::PlatformFrame,
        datum: End::Left,
        side: Side::Inside,
        width,
        top: edge(top, width, height),
        bottom: None,
        depth: Some(depth),
        lumber: None,
        finish: Finish::default(),
        plates: Plates::default(),
        studs,
        openings: openings.into_iter().map(|draw| opening(draw, width)).collect(),
        blocks: blocks
            .into_iter()
            .map(|(across, up)| {
                let place = at(across, up);
                Block { kind: BlockKind::Full, from: place.x, to: None, up: place.y, height: None }
            })
            .collect(),
        braces: brace
            .into_iter()
            .map(|(across, up, cut_in)| Brace {
                kind: if cut_in { BraceKind::CutIn } else { BraceKind::LetIn },
                from: at(across, 0.05),
                to: at(1.0 - across, up),
                width: None,
            })
            .collect(),
        things: things.into_iter().map(|(across, up, kind)| thing(at(across, up), kind)).collect(),
        zones: zones
            .into_iter()
            .map(|(across, up, wide, high)| {
                let (corner, size) = (at(across * (1.0 - wide), up * (1.0 - high)), at(wide, high));
                Zone {
                    kind: ZoneKind::Panel,
                    left: corner.x,
                    up: corner.y,
                    width: size.x + inches(0.25),
                    height: size.y + inches(0.25),
                    keep_off: None,
                }
            })
            .collect(),
        bays: Vec::<BayException>::new(),
        drilling: Drilling::default(),
    }
}

fn snapped(length: Length) -> Length {
    let quarter = inches(0.25);
    quarter * (length / quarter).value.round()
}

fn edge(top: &Top, width: Length, height: Length) -> Edge {
    match *top {
        Top::Level => Edge::Level { height },
        Top::Raked(share) => Edge::Raked { left: snapped(height * share), right: height },
        Top::Gable(share) => {
            let eaves = snapped(height * share);
            Edge::Gable { left: eaves, ridge_at: snapped(width / 2.0), ridge: height, right: eaves }
        }
        Top::Step(share) => {
            let (low, middle) = (snapped(height * share), snapped(width / 2.0));
            let zero = width * 0.0;
            let points = [(zero, low), (middle, low), (middle, height), (width, height)];
            Edge::Points { points: points.into_iter().map(|(x, y)| Point::new(x, y)).collect() }
        }
    }
}

fn within(mut studs: Studs, width: Length) -> Studs {
    if let StudLayout::Measured { centres } = &mut studs.layout {
        centres.retain(|centre| *centre < width);
    }
    studs
}

fn opening((share, width, height, window, header): OpeningDraw, wall: Length) -> Opening {
    Opening {
        kind: if window { OpeningKind::Window } else { OpeningKind::Door },
        name: None,
        left: snapped(wall * share),
        width,
        height,
        sill: window.then(|| inches(24.0)),
        kings: None,
        trimmers: None,
        header: match header {
            0 => Header::Full { depth: Some(inches(5.5)) },
            1 => Header::Shallow { depth: Some(inches(7.25)), beside: Some(inches(1.25)) },
            _ => Header::Solid,
        },
        sill_thickness: None,
    }
}

fn thing(corner: Point, kind: u8) -> Thing {
    let (width, height) = (inches(2.5), inches(4.0));
    let at = ThingShape::Box { left: corner.x, up: corner.y, width, height };
    let kind = match kind {
        0 => ThingKind::ElectricalBox,
        1 => ThingKind::Duct,
        2 => ThingKind::Pipe,
        _ => ThingKind::Flue,
    };
    Thing { kind, at, keep_off: None, effect: None }
}
