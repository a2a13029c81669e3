//! Studs: at the ends, at steps, beside the layout, on the layout; over and under openings as cripples.

use uom::ConstZero;

use crate::{
    finding::{Noun, Place, Problem},
    framing::{
        MemberKind,
        measured::Measured,
        openings::{Framed, blocked_at},
        profile::Profile,
        site::Site,
    },
    geometry::{Rect, Span},
    job::{End, ExtraKind, ExtraStud, StudCorrection, StudLayout, Studs},
    limits,
    quantity::{Length, SAME},
};

/// Puts a stud flush with each end, and one at each step of the wall, on its taller side.
pub(super) fn end_studs(site: &mut Site, floor: &Profile, ceiling: &Profile) {
    let (stud, width) = (site.stud, site.width);
    let mut places =
        vec![Span { from: Length::ZERO, to: stud }, Span { from: width - stud, to: width }];
    let beside = |x: Length, right: bool| {
        if right { Span { from: x, to: x + stud } } else { Span { from: x - stud, to: x } }
    };
    places.extend(ceiling.steps().into_iter().map(|(x, rises)| beside(x, rises)));
    places.extend(floor.steps().into_iter().map(|(x, rises)| beside(x, !rises)));
    for place in places {
        if let Some(upright) = site.upright(place) {
            site.put(MemberKind::Stud, upright);
        }
    }
}

/// Puts up the members that were entered beside the layout.
pub(super) fn extra_studs(site: &mut Site, extra: &[ExtraStud], measured: &mut Measured) {
    for (idx, entry) in extra.iter().enumerate() {
        let (kind, default) = match entry.kind {
            ExtraKind::Stud => (MemberKind::Stud, site.stud),
            ExtraKind::CornerPost => {
                (MemberKind::CornerPost, limits::POST_WIDTH.default.unwrap_or(site.stud))
            }
            ExtraKind::PartitionChannel => {
                (MemberKind::PartitionChannel, limits::POST_WIDTH.default.unwrap_or(site.stud))
            }
        };
        let width = match entry.kind {
            ExtraKind::Stud => entry.width.unwrap_or(default),
            ExtraKind::CornerPost | ExtraKind::PartitionChannel => {
                measured.length_or(entry.width, &limits::POST_WIDTH, default)
            }
        };
        let span = Span { from: entry.centre - width / 2.0, to: entry.centre + width / 2.0 };
        let upright = span.common(site.whole()).and_then(|span| site.upright(span));
        let cut = upright.is_none_or(|upright| site.put(kind, upright));
        if cut {
            site.say(
                Place::entry(Noun::ExtraStud, idx),
                Problem::MembersOverlap { what: Noun::ExtraStud, at: entry.centre },
            );
        }
    }
}

/// Puts up the studs of the layout; openings turn them into cripples.
pub(super) fn layout_studs(
    site: &mut Site,
    studs: &Studs,
    openings: &[Framed],
    measured: &mut Measured,
) {
    let is_measured = matches!(studs.layout, StudLayout::Measured { .. });
    for (idx, centre) in centres(site, studs, measured).into_iter().enumerate() {
        let stands = layout_stud(site, openings, centre);
        // A regular layout passes over openings; a stud somebody found must be somewhere.
        if !stands && is_measured && !in_an_upright(site, centre) {
            site.say(Place::entry(Noun::MeasuredStud, idx), Problem::StudInOpening { centre });
        }
    }
}

fn centres(site: &mut Site, studs: &Studs, measured: &mut Measured) -> Vec<Length> {
    let mut centres = match &studs.layout {
        StudLayout::Regular { spacing, first, from } => {
            let spacing = measured.length(*spacing, &limits::STUD_SPACING);
            regular(site.width, spacing, first.unwrap_or(spacing), *from)
        }
        StudLayout::Measured { centres } => centres.clone(),
    };
    for (idx, correction) in studs.corrections.iter().enumerate() {
        let (StudCorrection::Moved { stud, .. } | StudCorrection::Missing { stud }) = *correction;
        let Some(nearest) = nearest(&centres, stud) else {
            site.say(
                Place::entry(Noun::StudCorrection, idx),
                Problem::NothingThere { what: Noun::Stud, at: stud },
            );
            continue;
        };
        match *correction {
            StudCorrection::Moved { found, .. } => centres[nearest] = found,
            StudCorrection::Missing { .. } => drop(centres.remove(nearest)),
        }
    }
    centres
}

fn regular(width: Length, spacing: Length, first: Length, from: End) -> Vec<Length> {
    let mut centres = Vec::new();
    let mut centre = first;
    while centre < width {
        centres.push(match from {
            End::Left => centre,
            End::Right => width - centre,
        });
        // Counted from the first, so that a long wall gathers no rounding.
        centre = first + spacing * crate::quantity::count(centres.len());
    }
    centres
}

/// A correction names its stud to within half a foot.
fn nearest(centres: &[Length], place: Length) -> Option<usize> {
    let off = |idx: &usize| (centres[*idx] - place).abs();
    let nearest = (0..centres.len()).min_by(|a, b| off(a).value.total_cmp(&off(b).value))?;
    (off(&nearest) < crate::quantity::inches(6.0)).then_some(nearest)
}

fn layout_stud(site: &mut Site, openings: &[Framed], centre: Length) -> bool {
    let half = site.stud / 2.0;
    let span = Span { from: centre - half, to: centre + half };
    if span.from < -SAME || site.width + SAME < span.to {
        return false;
    }
    let blocked = blocked_at(openings, site.stud, centre);
    if blocked.is_empty() {
        let upright = site.upright(span);
        return upright.is_some_and(|upright| site.put_whole(MemberKind::Stud, upright));
    }
    let column = Span::new(site.lower.range(span).from, site.upper.range(span).to);
    let mut stands = false;
    for y in column.without(&blocked) {
        for piece in site.between_plates(Rect { x: span, y }) {
            stands |= site.put_whole(MemberKind::Cripple, piece);
        }
    }
    stands
}

fn in_an_upright(site: &Site, centre: Length) -> bool {
    site.members.iter().any(|member| {
        let upright = matches!(
            member.kind,
            MemberKind::Stud
                | MemberKind::KingStud
                | MemberKind::Trimmer
                | MemberKind::CornerPost
                | MemberKind::PartitionChannel
        );
        upright && member.polygon.bounds().x.widened(site.stud).contains(centre)
    })
}
