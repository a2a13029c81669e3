//! What every wall starts with, where that comes from, and which walls differ from it.

use leptos::prelude::*;
use risemark::{
    framing::usual_thickness,
    job::{StudLayout, Wall},
    limits::{self, Bounds, Limit, Origin},
    quantity::{Length, Units, inches},
    tape,
};

use crate::{
    fresh,
    route::Route,
    session::Session,
    shape::{LayoutKind, construction_kind},
    words::{self, Word},
};

/// What it is called, where its value comes from, and the value that a wall has.
type Setting = (Word, Origin, fn(&Wall, Units) -> String);

const SETTINGS: [Setting; 13] = [
    (words::CAVITY_DEPTH, limits::DEPTH.origin, |wall, units| {
        size(wall.depth, &limits::DEPTH, wall, units)
    }),
    (words::STUD_THICKNESS, limits::STUD_THICKNESS.origin, |wall, units| {
        size(wall.studs.thickness, &limits::STUD_THICKNESS, wall, units)
    }),
    (words::STUD_SPACING, limits::STUD_SPACING.origin, |wall, units| match wall.studs.layout {
        StudLayout::Regular { spacing, .. } => size(spacing, &limits::STUD_SPACING, wall, units),
        StudLayout::Measured { .. } => {
            words::word_of(words::LAYOUTS, &LayoutKind::Measured).to_owned()
        }
    }),
    (words::BOTTOM_PLATES, limits::BOTTOM_PLATES.origin, |wall, _| {
        count(wall.plates.bottom, &limits::BOTTOM_PLATES)
    }),
    (words::TOP_PLATES, limits::TOP_PLATES.origin, |wall, _| {
        count(wall.plates.top, &limits::TOP_PLATES)
    }),
    (words::PLATE_THICKNESS, limits::PLATE_THICKNESS.origin, |wall, units| {
        size(wall.plates.thickness, &limits::PLATE_THICKNESS, wall, units)
    }),
    (words::FLOOR_COVERING, limits::FLOOR_COVERING.origin, |wall, units| {
        size(wall.plates.floor_covering, &limits::FLOOR_COVERING, wall, units)
    }),
    (words::CEILING_DROP, limits::CEILING_DROP.origin, |wall, units| {
        size(wall.plates.ceiling_drop, &limits::CEILING_DROP, wall, units)
    }),
    (words::FINISH, Origin::Project, |wall, _| {
        words::word_of(words::MATERIALS, &wall.finish.material).to_owned()
    }),
    (words::FINISH_THICKNESS, limits::FINISH_THICKNESS.origin, |wall, units| {
        let usual = usual_thickness(wall.finish.material);
        tape::size(wall.finish.thickness.unwrap_or(usual), units)
    }),
    (words::DATUM, Origin::Project, |wall, _| words::word_of(words::ENDS, &wall.datum).to_owned()),
    (words::SIDE, Origin::Project, |wall, _| words::word_of(words::SIDES, &wall.side).to_owned()),
    (words::CONSTRUCTION, Origin::Project, |wall, _| {
        words::word_of(words::CONSTRUCTIONS, &construction_kind(&wall.construction)).to_owned()
    }),
];

/// The settings that walls have of their own.
pub fn settings(session: Session) -> AnyView {
    let rows = SETTINGS.into_iter().map(|setting| row(session, setting));
    view! {
        <details class="group" id="group-walls">
            <summary><h2>{words::WALL_SETTINGS.text()}</h2></summary>
            <dl class="fields settings">{rows.collect_view()}</dl>
        </details>
    }
    .into_any()
}

fn row(session: Session, (label, origin, value): Setting) -> AnyView {
    let standard = move || {
        let job = fresh::job(session.units.get());
        value(&fresh::wall(&job, inches(96.0), inches(96.0), None), job.units)
    };
    // Id, name and value of each wall that differs.
    let others = Memo::new(move |_| {
        let (standard, units) = (standard(), session.units.get());
        let other = |wall: &Wall| {
            let value = value(wall, units);
            (value != standard).then(|| (wall.id.clone(), wall.name.clone(), value))
        };
        session.job(|job| job.walls.iter().filter_map(other).collect::<Vec<_>>())
    });
    let differ = move || {
        let others = others.get();
        let links = others.iter().map(|(id, name, value)| {
            let href = Route::Wall(id.clone()).href();
            view! { <li><a href=href>{name.clone()}</a>" "{value.clone()}</li> }
        });
        let links = links.collect_view();
        (!others.is_empty()).then(|| {
            view! {
                <dd class="differ"><p>{words::walls_differ(others.len())}</p><ul>{links}</ul></dd>
            }
        })
    };
    view! {
        <div>
            <dt>{label.text()}</dt>
            <dd><span>{standard}</span><span class="assumption">{origin.words().of(words::language())}</span></dd>
            {differ}
        </div>
    }
    .into_any()
}

fn size(given: Option<Length>, limit: &'static Limit, wall: &Wall, units: Units) -> String {
    let assumed = || limits::assumption(limit, wall.lumber).map(|(assumed, _)| assumed);
    given.or_else(assumed).map(|length| tape::size(length, units)).unwrap_or_default()
}

fn count(given: Option<u8>, bounds: &Bounds) -> String {
    given.map_or(bounds.default, f64::from).to_string()
}
