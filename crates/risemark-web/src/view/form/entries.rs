//! The lists of a wall, with the fields of their entries.

use leptos::prelude::*;
use risemark::{
    finding::Noun,
    geometry::Point,
    job::{
        Band, BayException, Block, Brace, BraceKind, Effect, ExtraStud, Header, Liked, Opening,
        OpeningKind, OwnHole, StudCorrection, Thing, ThingShape, Zone,
    },
    limits,
    quantity::Length,
};

use super::{edge, list::List};
use crate::{
    command::WallChange,
    fresh,
    part::Part,
    shape::{
        EffectKind, HeaderKind, LikedKind, ThingShapeKind, effect_as, effect_kind, header_as,
        header_depth, header_kind, liked_as, liked_kind, set_opening_kind, thing_shape_as,
        thing_shape_kind,
    },
    view::field::{choice, count, length, measured, measured_or, optional_text},
    words,
};

/// Doors and windows.
pub const OPENINGS: List<Opening> = List {
    noun: Noun::Opening,
    add: words::ADD_OPENING,
    of: |wall| &wall.openings,
    change: WallChange::Openings,
    fresh: fresh::opening,
    summary: words::opening,
    form: opening,
};

/// Doors and windows of a wall of brick, which has no timber around them.
pub const OPENINGS_IN_BRICK: List<Opening> = List { form: opening_size, ..OPENINGS };

/// Blocks.
pub const BLOCKS: List<Block> = List {
    noun: Noun::Block,
    add: words::ADD_BLOCK,
    of: |wall| &wall.blocks,
    change: WallChange::Blocks,
    fresh: fresh::block,
    summary: words::block,
    form: block,
};

/// Braces.
pub const BRACES: List<Brace> = List {
    noun: Noun::Brace,
    add: words::ADD_BRACE,
    of: |wall| &wall.braces,
    change: WallChange::Braces,
    fresh: fresh::brace,
    summary: words::brace,
    form: brace,
};

/// Things in the wall.
pub const THINGS: List<Thing> = List {
    noun: Noun::Thing,
    add: words::ADD_THING,
    of: |wall| &wall.things,
    change: WallChange::Things,
    fresh: fresh::thing,
    summary: words::thing,
    form: thing,
};

/// Things on the wall.
pub const ZONES: List<Zone> = List {
    noun: Noun::Zone,
    add: words::ADD_ZONE,
    of: |wall| &wall.zones,
    change: WallChange::Zones,
    fresh: fresh::zone,
    summary: words::zone,
    form: zone,
};

/// Bays that differ from the wall.
pub const BAYS: List<BayException> = List {
    noun: Noun::Bay,
    add: words::ADD_BAY,
    of: |wall| &wall.bays,
    change: WallChange::Bays,
    fresh: fresh::bay,
    summary: words::bay,
    form: bay,
};

/// Heights at which rows are liked.
pub const LIKED: List<Liked> = List {
    noun: Noun::Liked,
    add: words::ADD_LIKED,
    of: |wall| &wall.drilling.liked,
    change: WallChange::Liked,
    fresh: fresh::liked,
    summary: words::liked,
    form: liked,
};

/// Bands without holes.
pub const BARRED: List<Band> = List {
    noun: Noun::Band,
    add: words::ADD_BAND,
    of: |wall| &wall.drilling.barred,
    change: WallChange::Barred,
    fresh: fresh::band,
    summary: words::band,
    form: band,
};

/// Holes that are not the planner's to choose.
pub const HOLES: List<OwnHole> = List {
    noun: Noun::Hole,
    add: words::ADD_HOLE,
    of: |wall| &wall.drilling.holes,
    change: WallChange::Holes,
    fresh: fresh::own_hole,
    summary: words::own_hole,
    form: own_hole,
};

/// Studs that are not where the layout has them.
pub const CORRECTIONS: List<StudCorrection> = List {
    noun: Noun::StudCorrection,
    add: words::ADD_CORRECTION,
    of: |wall| &wall.studs.corrections,
    change: WallChange::Corrections,
    fresh: fresh::correction,
    summary: words::correction,
    form: correction,
};

/// Members beside the layout.
pub const EXTRA: List<ExtraStud> = List {
    noun: Noun::ExtraStud,
    add: words::ADD_EXTRA,
    of: |wall| &wall.studs.extra,
    change: WallChange::Extra,
    fresh: fresh::extra,
    summary: words::extra,
    form: extra,
};

fn liked(part: Part<Liked>) -> AnyView {
    let kind =
        part.part(|liked| Some(liked_kind(liked)), |liked, kind| *liked = liked_as(liked, kind));
    let from = part.part(
        |liked| {
            Some(match *liked {
                Liked::Height { up: from }
                | Liked::Band { from, .. }
                | Liked::Laps { first: from, .. } => from,
            })
        },
        |liked, value| match liked {
            Liked::Height { up: from }
            | Liked::Band { from, .. }
            | Liked::Laps { first: from, .. } => *from = value,
        },
    );
    let to = part.part(
        |liked| match *liked {
            Liked::Band { to, .. } => Some(to),
            Liked::Height { .. } | Liked::Laps { .. } => None,
        },
        |liked, value| {
            if let Liked::Band { to, .. } = liked {
                *to = value;
            }
        },
    );
    let spacing = part.part(
        |liked| match *liked {
            Liked::Laps { spacing, .. } => Some(spacing),
            Liked::Height { .. } | Liked::Band { .. } => None,
        },
        |liked, value| {
            if let Liked::Laps { spacing, .. } = liked {
                *spacing = value;
            }
        },
    );
    let shown = part.clone();
    let is = Memo::new(move |_| shown.get().map(|liked| liked_kind(&liked)));
    let more = move || match is.get() {
        Some(LikedKind::Band) => Some(length((words::UP_TO.text(), "to"), &limits::UP, to.clone())),
        Some(LikedKind::Laps) => Some(length(
            (words::LAP_SPACING.text(), "spacing"),
            &limits::LAP_SPACING,
            spacing.clone(),
        )),
        Some(LikedKind::Height) | None => None,
    };
    view! {
        {choice((words::KIND.text(), "kind"), words::LIKED_KINDS, kind)}
        {length((words::HEIGHT_OF_ROW.text(), "from"), &limits::UP, from)}
        {more}
    }
    .into_any()
}

fn band(part: Part<Band>) -> AnyView {
    let from = part.part(|band| Some(band.from), |band, from| band.from = from);
    let to = part.part(|band| Some(band.to), |band, to| band.to = to);
    view! {
        {length((words::LOWER_EDGE.text(), "from"), &limits::UP, from)}
        {length((words::UPPER_EDGE.text(), "to"), &limits::UP, to)}
    }
    .into_any()
}

fn own_hole(part: Part<OwnHole>) -> AnyView {
    let state = part.part(|hole| Some(hole.state), |hole, state| hole.state = state);
    let across = part.part(|hole| Some(hole.at.x), |hole, x| hole.at.x = x);
    let up = part.part(|hole| Some(hole.at.y), |hole, y| hole.at.y = y);
    view! {
        {choice((words::KIND.text(), "state"), words::OWN_STATES, state)}
        {length((words::ACROSS.text(), "across"), &limits::ACROSS, across)}
        {length((words::UP.text(), "up"), &limits::UP, up)}
    }
    .into_any()
}

fn opening(part: Part<Opening>) -> AnyView {
    let kings = part.part(|opening| Some(opening.kings), |opening, kings| opening.kings = kings);
    let trimmers = part
        .part(|opening| Some(opening.trimmers), |opening, trimmers| opening.trimmers = trimmers);
    let header = part
        .part(|opening| Some(opening.header.clone()), |opening, header| opening.header = header);
    view! {
        {opening_size(part)}
        {count((words::KINGS.text(), "kings"), &limits::KINGS, kings)}
        {count((words::TRIMMERS.text(), "trimmers"), &limits::TRIMMERS, trimmers)}
        {header_fields(header)}
    }
    .into_any()
}

fn opening_size(part: Part<Opening>) -> AnyView {
    let kind = part.part(|opening| Some(opening.kind), set_opening_kind);
    let name = part.part(|opening| Some(opening.name.clone()), |opening, name| opening.name = name);
    let left = part.part(|opening| Some(opening.left), |opening, left| opening.left = left);
    let width = part.part(|opening| Some(opening.width), |opening, width| opening.width = width);
    let height =
        part.part(|opening| Some(opening.height), |opening, height| opening.height = height);
    view! {
        {choice((words::KIND.text(), "kind"), words::OPENING_KINDS, kind)}
        {optional_text((words::NAME.text(), "name"), name)}
        {length((words::LEFT.text(), "left"), &limits::ACROSS, left)}
        {length((words::ROUGH_WIDTH.text(), "width"), &limits::EXTENT, width)}
        {length((words::ROUGH_HEIGHT.text(), "height"), &limits::EXTENT, height)}
        {sill(part)}
    }
    .into_any()
}

fn sill(part: Part<Opening>) -> AnyView {
    let reading = part.clone();
    let window = Memo::new(move |_| {
        reading.get().is_some_and(|opening| opening.kind == OpeningKind::Window)
    });
    let fields = move || {
        window.get().then(|| {
            let sill = part.part(|opening| opening.sill, |opening, sill| opening.sill = Some(sill));
            let thickness = part.part(
                |opening| Some(opening.sill_thickness),
                |opening, thickness| opening.sill_thickness = thickness,
            );
            view! {
                {length((words::SILL.text(), "sill"), &limits::UP, sill)}
                {measured((words::SILL_THICKNESS.text(), "sill_thickness"), &limits::SILL_THICKNESS, thickness)}
            }
        })
    };
    view! { {fields} }.into_any()
}

fn header_fields(header: Part<Header>) -> AnyView {
    let kind = header
        .part(|header| Some(header_kind(header)), |header, kind| *header = header_as(header, kind));
    let reading = kind.clone();
    let now = Memo::new(move |_| reading.get());
    let depth = header.part(
        |header| Some(header_depth(header)),
        |header, value| {
            if let Header::Full { depth } | Header::Shallow { depth, .. } = header {
                *depth = value;
            }
        },
    );
    let beside = header.part(
        |header| match header {
            Header::Shallow { beside, .. } => Some(*beside),
            Header::Full { .. } | Header::Solid => None,
        },
        |header, value| {
            if let Header::Shallow { beside, .. } = header {
                *beside = value;
            }
        },
    );
    let fields = move || {
        let deep = matches!(now.get(), Some(HeaderKind::Full | HeaderKind::Shallow));
        let shallow = now.get() == Some(HeaderKind::Shallow);
        view! {
            {deep.then(|| measured((words::HEADER_DEPTH.text(), "header_depth"), &limits::HEADER_DEPTH, depth.clone()))}
            {shallow.then(|| measured((words::BESIDE_HEADER.text(), "beside"), &limits::BESIDE_HEADER, beside.clone()))}
        }
    };
    view! {
        {choice((words::HEADER.text(), "header"), words::HEADERS, kind)}
        {fields}
    }
    .into_any()
}

fn block(part: Part<Block>) -> AnyView {
    let kind = part.part(|block| Some(block.kind), |block, kind| block.kind = kind);
    let from = part.part(|block| Some(block.from), |block, from| block.from = from);
    let to = part.part(|block| Some(block.to), |block, to| block.to = to);
    let up = part.part(|block| Some(block.up), |block, up| block.up = up);
    let height = part.part(|block| Some(block.height), |block, height| block.height = height);
    view! {
        {choice((words::KIND.text(), "kind"), words::BLOCK_KINDS, kind)}
        {length((words::FIRST_BAY.text(), "from"), &limits::ACROSS, from)}
        {measured_or((words::LAST_BAY.text(), "to"), &limits::ACROSS, to, words::SAME_BAY.text())}
        {length((words::UNDERSIDE.text(), "up"), &limits::UP, up)}
        {measured((words::BLOCK_HEIGHT.text(), "height"), &limits::BLOCK_HEIGHT, height)}
    }
    .into_any()
}

fn brace(part: Part<Brace>) -> AnyView {
    let kind = part.part(|brace| Some(brace.kind), |brace, kind| brace.kind = kind);
    let from: Part<Point> = part.part(|brace| Some(brace.from), |brace, from| brace.from = from);
    let to: Part<Point> = part.part(|brace| Some(brace.to), |brace, to| brace.to = to);
    let width = part.part(|brace| Some(brace.width), |brace, width| brace.width = width);
    let reading = kind.clone();
    let let_in = Memo::new(move |_| reading.get() == Some(BraceKind::LetIn));
    let width = move || {
        let limit = if let_in.get() { &limits::LET_IN_WIDTH } else { &limits::CUT_IN_WIDTH };
        measured((words::BRACE_WIDTH.text(), "width"), limit, width.clone())
    };
    view! {
        {choice((words::KIND.text(), "kind"), words::BRACE_KINDS, kind)}
        <fieldset class="point"><legend>{words::ONE_END.text()}</legend>{edge::place(&from)}</fieldset>
        <fieldset class="point"><legend>{words::OTHER_END.text()}</legend>{edge::place(&to)}</fieldset>
        {width}
    }
    .into_any()
}

fn thing(part: Part<Thing>) -> AnyView {
    let kind = part.part(|thing| Some(thing.kind), |thing, kind| thing.kind = kind);
    let shape = part.part(
        |thing| Some(thing_shape_kind(thing)),
        |thing, kind| thing.at = thing_shape_as(&thing.at, kind),
    );
    let reading = shape.clone();
    let now = Memo::new(move |_| reading.get());
    let at = part.part(|thing| Some(thing.at.clone()), |thing, at| thing.at = at);
    let keep_off =
        part.part(|thing| Some(thing.keep_off), |thing, keep_off| thing.keep_off = keep_off);
    let effect = part.part(|thing| Some(thing.effect), |thing, effect| thing.effect = effect);
    let place = move || match now.get() {
        None => ().into_any(),
        Some(ThingShapeKind::Box) => rectangle(&at),
        Some(ThingShapeKind::Run) => run(&at),
        Some(ThingShapeKind::Round) => round(&at),
    };
    view! {
        {choice((words::KIND.text(), "kind"), words::THING_KINDS, kind)}
        {choice((words::SHAPE.text(), "shape"), words::THING_SHAPES, shape)}
        {place}
        {measured_or((words::KEEP_OFF.text(), "keep_off"), &limits::KEEP_OFF, keep_off, words::BY_KIND.text())}
        {effect_fields(effect)}
    }
    .into_any()
}

/// The two readings and the size of an upright rectangle.
type Corner = (Length, Length, Length, Length);

fn rectangle(at: &Part<ThingShape>) -> AnyView {
    let corner: Part<Corner> = at.part(
        |shape| match shape {
            ThingShape::Box { left, up, width, height } => Some((*left, *up, *width, *height)),
            ThingShape::Run { .. } | ThingShape::Round { .. } => None,
        },
        |shape, (left, up, width, height)| *shape = ThingShape::Box { left, up, width, height },
    );
    corner_fields(&corner)
}

fn corner_fields(corner: &Part<Corner>) -> AnyView {
    let left = corner.part(|corner| Some(corner.0), |corner, left| corner.0 = left);
    let up = corner.part(|corner| Some(corner.1), |corner, up| corner.1 = up);
    let width = corner.part(|corner| Some(corner.2), |corner, width| corner.2 = width);
    let height = corner.part(|corner| Some(corner.3), |corner, height| corner.3 = height);
    view! {
        {length((words::LEFT.text(), "left"), &limits::ACROSS, left)}
        {length((words::UNDERSIDE.text(), "up"), &limits::UP, up)}
        {length((words::WIDTH.text(), "width"), &limits::EXTENT, width)}
        {length((words::HEIGHT.text(), "height"), &limits::EXTENT, height)}
    }
    .into_any()
}

fn run(at: &Part<ThingShape>) -> AnyView {
    let points = at.part(
        |shape| match shape {
            ThingShape::Run { points, .. } => Some(points.clone()),
            ThingShape::Box { .. } | ThingShape::Round { .. } => None,
        },
        |shape, new| {
            if let ThingShape::Run { points, .. } = shape {
                *points = new;
            }
        },
    );
    let diameter = at.part(
        |shape| match shape {
            ThingShape::Run { diameter, .. } => Some(*diameter),
            ThingShape::Box { .. } | ThingShape::Round { .. } => None,
        },
        |shape, new| {
            if let ThingShape::Run { diameter, .. } = shape {
                *diameter = new;
            }
        },
    );
    view! {
        {edge::points(points, 2)}
        {length((words::DIAMETER.text(), "diameter"), &limits::RUN_DIAMETER, diameter)}
    }
    .into_any()
}

fn round(at: &Part<ThingShape>) -> AnyView {
    let circle: Part<(Point, Length)> = at.part(
        |shape| match shape {
            ThingShape::Round { centre, diameter } => Some((*centre, *diameter)),
            ThingShape::Box { .. } | ThingShape::Run { .. } => None,
        },
        |shape, (centre, diameter)| *shape = ThingShape::Round { centre, diameter },
    );
    let across = circle.part(|circle| Some(circle.0.x), |circle, x| circle.0.x = x);
    let up = circle.part(|circle| Some(circle.0.y), |circle, y| circle.0.y = y);
    let diameter = circle.part(|circle| Some(circle.1), |circle, diameter| circle.1 = diameter);
    view! {
        {length((words::CENTRE_ACROSS.text(), "across"), &limits::ACROSS, across)}
        {length((words::CENTRE_UP.text(), "up"), &limits::UP, up)}
        {length((words::DIAMETER.text(), "diameter"), &limits::EXTENT, diameter)}
    }
    .into_any()
}

fn effect_fields(effect: Part<Option<Effect>>) -> AnyView {
    let kind = effect.part(
        |effect| Some(effect.map(effect_kind)),
        |effect, kind: Option<EffectKind>| *effect = kind.map(effect_as),
    );
    let reading = kind.clone();
    let takes = Memo::new(move |_| reading.get().flatten() == Some(EffectKind::TakesVolume));
    let depth = effect.part(
        |effect| match effect {
            Some(Effect::TakesVolume { depth }) => Some(*depth),
            Some(Effect::ClosesBay | Effect::ForbidsFilling) | None => None,
        },
        |effect, depth| *effect = Some(Effect::TakesVolume { depth }),
    );
    let fields = move || {
        takes.get().then(|| {
            measured_or(
                (words::THING_DEPTH.text(), "depth"),
                &limits::THING_DEPTH,
                depth.clone(),
                words::ITS_OWN_DEPTH.text(),
            )
        })
    };
    view! {
        {choice((words::EFFECT.text(), "effect"), words::EFFECTS, kind)}
        {fields}
    }
    .into_any()
}

fn zone(part: Part<Zone>) -> AnyView {
    let kind = part.part(|zone| Some(zone.kind), |zone, kind| zone.kind = kind);
    let corner: Part<Corner> = part.part(
        |zone| Some((zone.left, zone.up, zone.width, zone.height)),
        |zone, corner| (zone.left, zone.up, zone.width, zone.height) = corner,
    );
    let keep_off = part.part(|zone| Some(zone.keep_off), |zone, keep_off| zone.keep_off = keep_off);
    view! {
        {choice((words::KIND.text(), "kind"), words::ZONE_KINDS, kind)}
        {corner_fields(&corner)}
        {measured_or((words::KEEP_OFF.text(), "keep_off"), &limits::KEEP_OFF, keep_off, words::BY_KIND.text())}
    }
    .into_any()
}

fn bay(part: Part<BayException>) -> AnyView {
    let at = part.part(|bay| Some(bay.at), |bay, at| bay.at = at);
    let depth = part.part(|bay| Some(bay.depth), |bay, depth| bay.depth = depth);
    let skip = part.part(|bay| Some(bay.skip), |bay, skip| bay.skip = skip);
    view! {
        {length((words::IN_BAY.text(), "at"), &limits::ACROSS, at)}
        {measured_or((words::OWN_DEPTH.text(), "depth"), &limits::DEPTH, depth, words::AS_THE_WALL.text())}
        {choice((words::FILLING.text(), "skip"), words::SKIP_REASONS, skip)}
    }
    .into_any()
}

fn correction(part: Part<StudCorrection>) -> AnyView {
    let missing = part.part(
        |correction| Some(matches!(correction, StudCorrection::Missing { .. })),
        |correction, missing| {
            let (StudCorrection::Moved { stud, .. } | StudCorrection::Missing { stud }) =
                *correction;
            *correction = match missing {
                true => StudCorrection::Missing { stud },
                false => StudCorrection::Moved { stud, found: stud },
            };
        },
    );
    let stud = part.part(
        |(StudCorrection::Moved { stud, .. } | StudCorrection::Missing { stud })| Some(*stud),
        |(StudCorrection::Moved { stud, .. } | StudCorrection::Missing { stud }), value| {
            *stud = value;
        },
    );
    let found = part.part(
        |correction| match correction {
            StudCorrection::Moved { found, .. } => Some(*found),
            StudCorrection::Missing { .. } => None,
        },
        |correction, value| {
            if let StudCorrection::Moved { found, .. } = correction {
                *found = value;
            }
        },
    );
    let reading = missing.clone();
    let moved = Memo::new(move |_| reading.get() == Some(false));
    let fields = move || {
        moved
            .get()
            .then(|| length((words::FOUND_AT.text(), "found"), &limits::ACROSS, found.clone()))
    };
    view! {
        {choice((words::KIND.text(), "kind"), words::CORRECTION_KINDS, missing)}
        {length((words::STUD_NEAR.text(), "stud"), &limits::ACROSS, stud)}
        {fields}
    }
    .into_any()
}

fn extra(part: Part<ExtraStud>) -> AnyView {
    let kind = part.part(|extra| Some(extra.kind), |extra, kind| extra.kind = kind);
    let centre = part.part(|extra| Some(extra.centre), |extra, centre| extra.centre = centre);
    let width = part.part(|extra| Some(extra.width), |extra, width| extra.width = width);
    view! {
        {choice((words::KIND.text(), "kind"), words::EXTRA_KINDS, kind)}
        {length((words::CENTRE.text(), "centre"), &limits::ACROSS, centre)}
        {measured_or((words::FACE_WIDTH.text(), "width"), &limits::POST_WIDTH, width, words::BY_KIND.text())}
    }
    .into_any()
}
