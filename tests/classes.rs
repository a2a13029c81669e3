//! Walls as they are met, drawn by class from a seed: for measurements over many of them.

use risemark::{
    geometry::Point,
    job::{
        Band, BayException, Block, BlockKind, Brace, BraceKind, Construction, Drilling, Edge, End,
        Finish, Header, Opening, OpeningKind, Plates, Side, StudLayout, Studs, Thing, ThingKind,
        ThingShape, Wall, Zone, ZoneKind,
    },
    quantity::{Length, inches},
};

use crate::random::Random;

/// What a wall is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Regular studs and nothing else.
    Plain,
    /// Doors and windows.
    Openings,
    /// A block in many bays, most at one height, some beside it.
    FireBlocks,
    /// Under a sloped or a gabled ceiling.
    Raked,
    /// Trim, counters and boxes over regular studs.
    Zones,
    /// Openings, blocks, zones and a sloped ceiling now and then.
    Mixed,
    /// Irregular studs, blocks anywhere, a cut-in brace.
    Old,
    /// Long, and everything at once.
    Stress,
}

impl Class {
    /// All of them, the hardest last.
    pub const ALL: [Self; 8] = [
        Self::Plain,
        Self::Openings,
        Self::FireBlocks,
        Self::Raked,
        Self::Zones,
        Self::Mixed,
        Self::Old,
        Self::Stress,
    ];

    fn share(self, shares: [f64; 8]) -> f64 {
        let at = Self::ALL.iter().position(|class| *class == self);
        at.map_or(0.0, |at| shares[at])
    }
}

/// Figures from a seed.
#[derive(Debug)]
struct Dice(Random);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0.share()
    }

    fn between(&mut self, from: f64, to: f64) -> f64 {
        from + self.share() * (to - from)
    }

    fn quarters(&mut self, from: f64, to: f64) -> Length {
        inches((self.between(from, to) * 4.0).round() / 4.0)
    }

    fn chance(&mut self, share: f64) -> bool {
        self.share() < share
    }

    fn one_of(&mut self, from: &[f64]) -> f64 {
        let pick = (0..from.len()).find(|_| self.chance(1.0 / 3.0)).unwrap_or(0);
        from[pick]
    }
}

/// The wall of a class and a seed; it passes its check.
pub fn wall_of(class: Class, seed: u64) -> Wall {
    let mut dice = Dice(Random::seeded(seed));
    loop {
        let wall = draw(class, &mut dice);
        if risemark::check::check_wall(&wall).is_empty() {
            return wall;
        }
    }
}

fn draw(class: Class, dice: &mut Dice) -> Wall {
    let long = class == Class::Stress;
    let width = if long { dice.quarters(384.0, 480.0) } else { dice.quarters(96.0, 300.0) };
    let height = inches(dice.one_of(&[96.0, 96.0, 92.25, 102.5, 108.0, 120.0]));
    let mut wall = Wall {
        id: "drawn".to_owned(),
        name: "Drawn".to_owned(),
        room: None,
        construction: Construction::PlatformFrame,
        datum: End::Left,
        side: Side::Inside,
        width,
        top: Edge::Level { height },
        bottom: None,
        depth: Some(inches(dice.one_of(&[3.5, 3.5, 5.5, 3.0]))),
        lumber: None,
        finish: Finish::default(),
        plates: Plates::default(),
        studs: Studs::default(),
        openings: Vec::new(),
        blocks: Vec::new(),
        braces: Vec::new(),
        things: Vec::new(),
        zones: Vec::new(),
        bays: Vec::new(),
        drilling: Drilling::default(),
    };
    if dice.chance(class.share([0.0, 0.0, 0.0, 1.0, 0.0, 0.3, 0.1, 0.9])) {
        wall.top = sloped(width, height, dice);
    }
    if dice.chance(class.share([0.0, 0.0, 0.0, 0.0, 0.0, 0.2, 1.0, 0.8])) {
        wall.studs.layout = irregular(width, dice);
    }
    if dice.chance(class.share([0.0, 1.0, 0.3, 0.2, 0.3, 0.8, 0.6, 1.0])) {
        wall.openings = openings(width, height, dice);
    }
    let blocked = class.share([0.0, 0.0, 0.7, 0.0, 0.0, 0.5, 0.4, 0.7]);
    let scattered = class.share([0.0, 0.0, 0.3, 0.0, 0.0, 0.4, 0.6, 0.9]);
    wall.blocks = blocks(width, (height, blocked, scattered), dice);
    if dice.chance(class.share([0.0, 0.0, 0.0, 0.0, 0.0, 0.1, 0.5, 0.5])) {
        let from = Point::new(width * dice.between(0.0, 0.3), inches(4.0));
        let to = Point::new(width * dice.between(0.4, 0.7), height * 0.7);
        wall.braces.push(Brace { kind: BraceKind::CutIn, from, to, width: None });
    }
    let n_zones = class.share([0.0, 0.0, 0.0, 0.0, 4.0, 3.0, 1.0, 6.0]);
    wall.zones =
        (0..8).filter(|at| f64::from(*at) < n_zones).map(|_| zone(width, height, dice)).collect();
    wall.things =
        (0..8).filter(|at| f64::from(*at) < n_zones).map(|_| outlet(width, dice)).collect();
    let furred = class.share([0.0, 0.0, 0.0, 0.0, 0.0, 0.1, 0.2, 0.3]);
    wall.bays = shallow_bays(width, furred, dice);
    let n_bands = class.share([0.0, 0.0, 0.0, 0.0, 2.0, 1.0, 0.0, 4.0]);
    wall.drilling.barred =
        (0..8).filter(|at| f64::from(*at) < n_bands).map(|_| band(height, dice)).collect();
    wall
}

/// Bays that somebody has furred or that were packed in front.
fn shallow_bays(width: Length, share: f64, dice: &mut Dice) -> Vec<BayException> {
    let mut bays = Vec::new();
    let mut at = inches(8.0);
    while at < width {
        if dice.chance(share) {
            let depth = Some(inches(dice.one_of(&[2.5, 2.0, 1.5])));
            bays.push(BayException { at, depth, skip: None });
        }
        at += inches(16.0);
    }
    bays
}

/// A picture rail, a chair rail or another band that nobody drills through.
fn band(height: Length, dice: &mut Dice) -> Band {
    let from = (height - inches(12.0)) * dice.share();
    Band { from, to: from + dice.quarters(2.0, 8.0) }
}

fn sloped(width: Length, height: Length, dice: &mut Dice) -> Edge {
    let low = inches(dice.between(30.0, 72.0).round());
    if dice.chance(0.5) {
        return Edge::Raked { left: low, right: height + inches(24.0) };
    }
    let ridge_at = width * dice.between(0.35, 0.65);
    Edge::Gable { left: low, ridge_at, ridge: height + inches(36.0), right: low }
}

fn irregular(width: Length, dice: &mut Dice) -> StudLayout {
    let mut centres = Vec::new();
    let mut at = dice.quarters(10.0, 24.0);
    while at + inches(6.0) < width {
        centres.push(at);
        at += dice.quarters(11.0, 25.0);
    }
    StudLayout::Measured { centres }
}

fn openings(width: Length, height: Length, dice: &mut Dice) -> Vec<Opening> {
    let mut openings = Vec::new();
    let mut left = dice.quarters(20.0, 60.0);
    loop {
        let door = dice.chance(0.3);
        let wide = if door { dice.quarters(32.0, 38.0) } else { dice.quarters(28.0, 64.0) };
        if width < left + wide + inches(20.0) {
            return openings;
        }
        let sill = dice.quarters(20.0, 42.0);
        let top = dice.quarters(78.0, 83.0);
        openings.push(Opening {
            kind: if door { OpeningKind::Door } else { OpeningKind::Window },
            name: None,
            left,
            width: wide,
            height: if top < height - inches(12.0) { top } else { height - inches(14.0) }
                - if door { inches(0.0) } else { sill },
            sill: (!door).then_some(sill),
            kings: None,
            trimmers: None,
            header: match dice.one_of(&[0.0, 1.0, 2.0]) {
                0.0 => Header::Full { depth: None },
                1.0 => Header::Shallow { depth: None, beside: None },
                _ => Header::Solid,
            },
            sill_thickness: None,
        });
        left += wide + dice.quarters(20.0, 90.0);
    }
}

fn blocks(
    width: Length,
    (height, share, scattered): (Length, f64, f64),
    dice: &mut Dice,
) -> Vec<Block> {
    let height_of = dice.quarters(36.0, 60.0);
    let mut blocks = Vec::new();
    let mut at = inches(8.0);
    while at < width {
        if dice.chance(share) {
            let off = dice.quarters(-2.0, 2.0);
            let usual = !dice.chance(scattered);
            let up = if usual { height_of + off } else { dice.quarters(14.0, 80.0) };
            let up = if up < height * 0.85 { up } else { height * 0.5 };
            blocks.push(Block { kind: BlockKind::Full, from: at, to: None, up, height: None });
            if dice.chance(scattered / 2.0) {
                let up = if up < height * 0.5 { up + inches(19.0) } else { up - inches(19.0) };
                blocks.push(Block { kind: BlockKind::Full, from: at, to: None, up, height: None });
            }
        }
        at += inches(16.0);
    }
    blocks
}

fn zone(width: Length, height: Length, dice: &mut Dice) -> Zone {
    let high = dice.quarters(2.0, 30.0);
    Zone {
        kind: ZoneKind::Panel,
        left: width * dice.between(0.0, 0.6),
        up: (height - high) * dice.share(),
        width: dice.quarters(6.0, 70.0),
        height: high,
        keep_off: None,
    }
}

fn outlet(width: Length, dice: &mut Dice) -> Thing {
    let at = ThingShape::Box {
        left: (width - inches(4.0)) * dice.share(),
        up: dice.quarters(12.0, 60.0),
        width: inches(2.5),
        height: inches(4.0),
    };
    Thing { kind: ThingKind::ElectricalBox, at, keep_off: None, effect: None }
}
