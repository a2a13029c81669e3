//! Doors and windows with the timber around them.

use uom::ConstZero;

use crate::{
    finding::{Noun, Place, Problem},
    framing::{
        HeaderSpace, MemberKind, RoughOpening, measured::Measured, profile::Profile, site::Site,
    },
    geometry::{Polygon, Rect, Span},
    job::{Header, Opening, OpeningKind},
    limits,
    quantity::{Length, SAME, longer},
};

/// An opening with every size settled.
#[derive(Debug, Clone)]
pub(super) struct Framed {
    idx: usize,
    clear: Span,
    foot: Length,
    head: Length,
    window: bool,
    kings: u8,
    trimmers: u8,
    sill_thickness: Length,
    header: HeaderBuild,
    polygon: Polygon,
    name: Option<String>,
    kind: OpeningKind,
}

#[derive(Debug, Clone, Copy)]
enum HeaderBuild {
    Full(Length),
    Shallow(Length, Length),
    Solid,
}

/// Settles the sizes of the openings and keeps their areas free.
pub(super) fn lay_out(
    site: &mut Site,
    openings: &[Opening],
    face_floor: &Profile,
    measured: &mut Measured,
) -> Vec<Framed> {
    let framed: Vec<Framed> = openings
        .iter()
        .enumerate()
        .filter_map(|(idx, opening)| settle(site, opening, idx, face_floor, measured))
        .collect();
    site.openings = framed
        .iter()
        .map(|f| RoughOpening { kind: f.kind, name: f.name.clone(), polygon: f.polygon.clone() })
        .collect();
    framed
}

/// Keeps the areas of openings free in a wall that has no timber around them.
pub(super) fn leave_open(site: &mut Site, openings: &[Opening], face_floor: &Profile) {
    let open = openings.iter().filter_map(|opening| {
        let polygon = Room::of(opening, face_floor).polygon(site)?;
        Some(RoughOpening { kind: opening.kind, name: opening.name.clone(), polygon })
    });
    site.openings = open.collect();
}

/// Puts up kings, trimmers, headers and rough sills; returns the shallow spaces beside headers.
pub(super) fn frame_openings(site: &mut Site, openings: &[Framed]) -> Vec<HeaderSpace> {
    for opening in openings {
        uprights(site, opening);
    }
    for opening in openings {
        rough_sill(site, opening);
    }
    openings.iter().flat_map(|opening| header(site, opening)).collect()
}

/// The heights at a place across where openings leave no room for a stud, and whether there are any.
pub(super) fn blocked_at(openings: &[Framed], stud: Length, x: Length) -> Vec<Span> {
    let here = openings.iter().filter(|opening| opening.zone(stud).contains(x));
    here.map(Framed::blocked).collect()
}

impl Framed {
    /// From the outside of one outermost king to the other.
    fn zone(&self, stud: Length) -> Span {
        self.clear.widened(stud * f64::from(self.kings + self.trimmers))
    }

    /// From the outside of one outermost trimmer to the other: the length of the header.
    fn bearing(&self, stud: Length) -> Span {
        self.clear.widened(stud * f64::from(self.trimmers))
    }

    fn blocked(&self) -> Span {
        let far = Length { value: 1e4, ..self.head };
        let from = if self.window { self.foot - self.sill_thickness } else { -far };
        let to = match self.header {
            HeaderBuild::Full(depth) | HeaderBuild::Shallow(depth, _) => self.head + depth,
            HeaderBuild::Solid => far,
        };
        Span { from, to }
    }
}

/// Where an opening is.
struct Room {
    clear: Span,
    foot: Length,
    head: Length,
    window: bool,
}

impl Room {
    fn of(opening: &Opening, face_floor: &Profile) -> Self {
        let clear = Span::new(opening.left, opening.left + opening.width);
        let window = opening.kind == OpeningKind::Window;
        let sill = if window { opening.sill } else { None };
        let foot = sill.unwrap_or_else(|| face_floor.at(clear.middle()));
        Self { clear, foot, head: foot + opening.height, window }
    }

    fn polygon(&self, site: &Site) -> Option<Polygon> {
        let area = Rect { x: self.clear, y: Span { from: self.foot, to: self.head } };
        if self.window { Some(area.polygon()) } else { down_to_floor(site, area) }
    }
}

fn settle(
    site: &Site,
    opening: &Opening,
    idx: usize,
    face_floor: &Profile,
    measured: &mut Measured,
) -> Option<Framed> {
    let room = Room::of(opening, face_floor);
    let polygon = room.polygon(site)?;
    let Room { clear, foot, head, window } = room;
    let default_depth =
        |measured: &mut Measured, depth| measured.length(depth, &limits::HEADER_DEPTH);
    let header = match opening.header {
        Header::Full { depth } => HeaderBuild::Full(default_depth(measured, depth)),
        Header::Shallow { depth, beside } => HeaderBuild::Shallow(
            default_depth(measured, depth),
            measured.length(beside, &limits::BESIDE_HEADER),
        ),
        Header::Solid => HeaderBuild::Solid,
    };
    Some(Framed {
        idx,
        clear,
        foot,
        head,
        window,
        kings: measured.count(opening.kings, &limits::KINGS),
        trimmers: measured.count(opening.trimmers, &limits::TRIMMERS),
        sill_thickness: if window {
            measured.length(opening.sill_thickness, &limits::SILL_THICKNESS)
        } else {
            Length::ZERO
        },
        header,
        polygon,
        name: opening.name.clone(),
        kind: opening.kind,
    })
}

/// A door cuts the plates under it: its area runs down to the lower edge of the framing.
fn down_to_floor(site: &Site, area: Rect) -> Option<Polygon> {
    let head = Profile::of(&crate::job::Edge::Level { height: area.y.to }, site.width);
    super::profile::between(&site.floor, &head, area.x)
}

fn uprights(site: &mut Site, opening: &Framed) {
    let stud = site.stud;
    for layer in 0..(opening.trimmers + opening.kings) {
        let (near, far) = (stud * f64::from(layer), stud * f64::from(layer + 1));
        let left = Span { from: opening.clear.from - far, to: opening.clear.from - near };
        let right = Span { from: opening.clear.to + near, to: opening.clear.to + far };
        for span in [left, right] {
            let Some(span) = span.common(site.whole()).filter(|span| SAME < span.length()) else {
                continue;
            };
            if layer < opening.trimmers {
                trimmer(site, opening, span);
            } else if let Some(king) = site.upright(span) {
                site.put(MemberKind::KingStud, king);
            }
        }
    }
}

fn trimmer(site: &mut Site, opening: &Framed, span: Span) {
    let foot = site.lower.range(span).from;
    let rect = Rect { x: span, y: Span::new(foot, longer(foot, opening.head)) };
    for piece in site.between_plates(rect) {
        site.put(MemberKind::Trimmer, piece);
    }
}

fn rough_sill(site: &mut Site, opening: &Framed) {
    if opening.window {
        let y = Span { from: opening.foot - opening.sill_thickness, to: opening.foot };
        for piece in site.between_plates(Rect { x: opening.clear, y }) {
            site.put(MemberKind::RoughSill, piece);
        }
    }
}

fn header(site: &mut Site, opening: &Framed) -> Vec<HeaderSpace> {
    let Some(bearing) = opening.bearing(site.stud).common(site.whole()) else { return Vec::new() };
    let room = site.upper.range(bearing).to - opening.head;
    let (depth, kind) = match opening.header {
        HeaderBuild::Full(depth) | HeaderBuild::Shallow(depth, _) => (depth, MemberKind::Header),
        HeaderBuild::Solid => (room, MemberKind::SolidHeader),
    };
    if room + SAME < depth {
        site.say(Place::entry(Noun::Opening, opening.idx), Problem::HeaderCut { depth, room });
    }
    let y = Span { from: opening.head, to: opening.head + longer(depth, Length::ZERO) };
    let pieces = site.between_plates(Rect { x: bearing, y });
    let HeaderBuild::Shallow(_, beside) = opening.header else {
        for piece in pieces {
            site.put(kind, piece);
        }
        return Vec::new();
    };
    beside_header(site, &pieces, beside)
}

fn beside_header(site: &mut Site, pieces: &[Polygon], beside: Length) -> Vec<HeaderSpace> {
    let depth = crate::quantity::shorter(beside, site.depth);
    // The kings of a neighbouring opening, or its header, may be in this header's way.
    let headers = site.members.iter().filter(|member| member.kind == MemberKind::Header);
    let taken: Vec<Polygon> =
        headers.map(|header| &header.polygon).chain(site.closing()).cloned().collect();
    let pieces = crate::geometry::difference(pieces, &taken);
    for piece in &pieces {
        site.put_beside(MemberKind::Header, piece.clone(), site.depth - depth);
    }
    pieces.into_iter().map(|polygon| HeaderSpace { polygon, depth }).collect()
}
