//! Stage 1, frame: a wall as measured becomes its members, openings and what to keep off.

mod blocking;
mod brick;
mod measured;
mod obstacles;
mod openings;
mod plates;
mod profile;
mod site;
mod studs;

use uom::ConstZero;

use crate::{
    finding::{Avoided, Staged},
    geometry::{Point, Polygon, Rect, Span},
    job::{Construction, End, Material, OpeningKind, Side, SkipReason, ThingKind, Wall},
    language::Text,
    limits::{self, Origin},
    quantity::{Length, inches, longer, shorter},
};

pub use brick::Joints;
pub use obstacles::{effect_of, keep_off_thing, keep_off_zone};

use brick::Brickwork;
use measured::Measured;
use plates::Plates;
use profile::Edges;
use site::Site;

/// A wall with every member in its place.
///
/// Guarantees: closing members do not overlap each other or an opening; all lie in the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// Where the framing ends: the finish's edges plus floor covering and ceiling drop.
    pub outline: Polygon,
    /// What is seen of the wall, between finished floor and ceiling.
    pub face: Polygon,
    /// How the wall is built.
    pub construction: Construction,
    /// Width from end to end.
    pub width: Length,
    /// The end that readings across are taken from.
    pub datum: End,
    /// The side that is drilled.
    pub side: Side,
    /// Every member, in the order they are put up.
    pub members: Vec<Member>,
    /// Every rough opening.
    pub openings: Vec<RoughOpening>,
    /// Shallow spaces beside headers.
    pub header_spaces: Vec<HeaderSpace>,
    /// What holes keep off, in the wall and on it.
    pub obstacles: Vec<Obstacle>,
    /// Bays that differ from the wall.
    pub exceptions: Vec<Exception>,
    /// Places around which the space was probed and found clear.
    pub probed: Vec<Point>,
    /// Clear depth of the cavity.
    pub depth: Length,
    /// What is drilled through.
    pub material: Material,
    /// How thick it is: the finish, or the leaf of a brick wall with what is on it.
    pub finish: Length,
    /// Where holes of a brick wall must lie; `None` where they may lie anywhere.
    pub joints: Option<Joints>,
    /// Every value that was not measured.
    pub assumed: Vec<Assumed>,
}

/// One piece of timber.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// What it is.
    pub kind: MemberKind,
    /// Its face.
    pub polygon: Polygon,
    /// How deep it reaches into the cavity.
    pub depth: Length,
    /// What it does to the bay.
    pub bay: BayEffect,
}

/// What a member is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberKind {
    /// A bottom plate.
    BottomPlate,
    /// A top plate.
    TopPlate,
    /// A stud.
    Stud,
    /// A full-height stud beside an opening.
    KingStud,
    /// A stud under a header.
    Trimmer,
    /// A short stud over or under an opening.
    Cripple,
    /// The beam over an opening.
    Header,
    /// Timber over an opening up to the plate.
    SolidHeader,
    /// The member under a window.
    RoughSill,
    /// The post of a corner.
    CornerPost,
    /// Framing where a partition meets the wall.
    PartitionChannel,
    /// Blocking as deep as the wall.
    Block,
    /// Blocking laid flat behind the finish.
    FlatBlock,
    /// A diagonal let into the studs.
    LetInBrace,
    /// A diagonal cut between the studs.
    CutInBrace,
    /// A thing as deep as the cavity, such as a duct.
    ClosingThing,
}

/// What a member does to a bay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BayEffect {
    /// Foam does not pass it.
    Closes,
    /// Foam passes beside it.
    Narrows,
}

/// A rough opening.
#[derive(Debug, Clone, PartialEq)]
pub struct RoughOpening {
    /// What it is.
    pub kind: OpeningKind,
    /// What people call it, where they gave it a name.
    pub name: Option<String>,
    /// Its area; of a door down to the underside of the plate.
    pub polygon: Polygon,
}

/// The shallow space beside a header: a compartment of its own depth.
#[derive(Debug, Clone, PartialEq)]
pub struct HeaderSpace {
    /// Its face.
    pub polygon: Polygon,
    /// Its clear depth.
    pub depth: Length,
}

/// Something that holes keep off.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    /// What it is.
    pub what: Avoided,
    /// Its position in the wall's list of things or zones, from 1.
    pub number: usize,
    /// Its face, in convex pieces.
    pub pieces: Vec<Polygon>,
    /// From it to the edge of a hole.
    pub keep_off: Length,
    /// What it does to the foam.
    pub foam: FoamEffect,
}

/// What an obstacle does to the foam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FoamEffect {
    /// Nothing: it is on the wall, or closes the bay and so is a member too.
    None,
    /// Takes a share of the cavity this deep.
    TakesDepth(Length),
    /// Every compartment within the keep-off distance stays empty.
    Forbids(ThingKind),
}

/// A bay that differs from the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exception {
    /// Its position in the wall's list, from 1.
    pub number: usize,
    /// A place in the bay, across.
    pub at: Length,
    /// Its own depth.
    pub depth: Option<Length>,
    /// Why it is left out.
    pub skip: Option<SkipReason>,
}

/// A value that was not measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// What it is, by its name in the table of limits.
    pub what: Text,
    /// What was assumed.
    pub value: AssumedValue,
    /// Where the default comes from.
    pub origin: Origin,
}

/// What was assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AssumedValue {
    /// A length.
    Length(Length),
    /// A count.
    Count(u8),
}

/// The room that a wall takes: its framing and its finish, down to the floor.
pub fn extent(wall: &Wall) -> Rect {
    let edges = Edges::of(wall, &mut Measured::of(wall.lumber));
    let (framing, finish) = (edges.outline.bounds().y, edges.face.bounds().y);
    let bottom = shorter(shorter(framing.from, finish.from), Length::ZERO);
    let x = Span::new(Length::ZERO, wall.width);
    Rect { x, y: Span::new(bottom, longer(framing.to, finish.to)) }
}

/// Frames a wall as it was measured.
pub fn frame(wall: &Wall) -> Staged<Frame> {
    // Settle the edges: what shows of the wall, and how far the framing goes on behind it.
    let mut measured = Measured::of(wall.lumber);
    let edges = Edges::of(wall, &mut measured);

    // A wall of brick has what was entered; any other gets its timber in the order a framer puts it up.
    let brickwork = Brickwork::of(wall, &mut measured);
    let (mut site, header_spaces, finish) = if let Some(brickwork) = brickwork {
        let plates = Plates::entered(&wall.plates, &mut measured);
        let mut site = plates.brick_site(wall, &edges, &mut measured);
        brick::put_up(&mut site, wall, (&edges, plates), &mut measured);
        (site, Vec::new(), brickwork.drilled(wall, &mut measured))
    } else {
        let plates = Plates::of(&wall.plates, &mut measured);
        let mut site = plates.site(wall, &edges, &mut measured);
        let finish = finish(wall, &mut measured);
        let header_spaces = put_up(&mut site, wall, (&edges, &plates), &mut measured);
        (site, header_spaces, finish)
    };

    // Note what holes keep off; some of it closes a bay.
    let obstacles = obstacles::obstacles(
        &mut site,
        &wall.things,
        &wall.zones,
        &wall.drilling.barred,
        &edges.outline,
    );

    let product = Frame {
        outline: edges.outline,
        face: edges.face,
        construction: wall.construction.clone(),
        width: wall.width,
        datum: wall.datum,
        side: wall.side,
        members: site.members,
        openings: site.openings,
        header_spaces,
        obstacles,
        exceptions: exceptions(wall),
        probed: wall.drilling.probed.clone(),
        depth: site.depth,
        material: wall.finish.material,
        finish,
        joints: brickwork.and_then(|brickwork| brickwork.joints),
        assumed: measured.assumed,
    };
    Staged { product, findings: site.findings }
}

/// Puts up all timber; returns the shallow spaces beside headers.
fn put_up(
    site: &mut Site,
    wall: &Wall,
    (edges, plates): (&Edges, &Plates),
    measured: &mut Measured,
) -> Vec<HeaderSpace> {
    // Openings first: nothing may stand in them.
    let openings = openings::lay_out(site, &wall.openings, &edges.face_floor, measured);
    plates.put_up(site, &edges.ceiling);
    studs::end_studs(site, &edges.face_floor, &edges.face_ceiling);
    let header_spaces = openings::frame_openings(site, &openings);
    studs::extra_studs(site, &wall.studs.extra, measured);
    studs::layout_studs(site, &wall.studs, &openings, measured);
    blocking::blocks(site, &wall.blocks, measured);
    blocking::braces(site, &wall.braces, &edges.outline, measured);
    header_spaces
}

/// What a finish of this material usually measures: common practice, no source.
pub fn usual_thickness(material: Material) -> Length {
    match material {
        Material::Board => inches(0.5),
        Material::Plaster | Material::Stucco => inches(0.875),
        Material::Wood => inches(0.75),
        Material::Siding => inches(1.25),
        Material::Brick => inches(3.625),
    }
}

fn finish(wall: &Wall, measured: &mut Measured) -> Length {
    let usual = usual_thickness(wall.finish.material);
    measured.length_or(wall.finish.thickness, &limits::FINISH_THICKNESS, usual)
}

fn exceptions(wall: &Wall) -> Vec<Exception> {
    let settle = |(idx, bay): (usize, &crate::job::BayException)| Exception {
        number: idx + 1,
        at: bay.at,
        depth: bay.depth,
        skip: bay.skip,
    };
    wall.bays.iter().enumerate().map(settle).collect()
}
