//! The form of a wall: every property that was measured, in groups that open.

pub mod edge;
pub mod entries;
pub mod found;
pub mod list;
pub mod studs;

use leptos::prelude::*;
use risemark::{
    job::{Construction, Finish, Plates},
    limits,
    quantity::Length,
};

use crate::{
    command::{Command, WallChange},
    edit::holes,
    part::Part,
    room,
    session::Session,
    shape::{ConstructionKind, Outline, construction_as, construction_kind},
    view::field::{choice, count, length, measured, measured_or, optional_text, refused, text},
    words,
};

pub use list::entry_id;

/// The form of the wall that bears an id.
pub fn wall_form(session: Session, id: &str) -> AnyView {
    let is_brick = session.is_brick(id);
    view! {
        {group("size", words::SIZE_AND_SHAPE.text(), size(session, id))}
        {by_construction((session, id), is_brick, None, |session, id| {
            group("studs", words::STUDS.text(), studs::studs(session, id))
        })}
        {group("plates", words::PLATES.text(), plates(session, id))}
        {group("openings", words::OPENINGS.text(), by_construction((session, id), is_brick,
            Some(|session, id| list::list(session, id, entries::OPENINGS_IN_BRICK)),
            |session, id| list::list(session, id, entries::OPENINGS)))}
        {by_construction((session, id), is_brick,
            Some(|session, id| group("blocks", words::CLOSING_THE_SPACE.text(), closing(session, id))),
            |session, id| group("blocks", words::BLOCKS_AND_BRACES.text(), blocks_and_braces(session, id)))}
        {group("things", words::IN_THE_WALL.text(), list::list(session, id, entries::THINGS))}
        {group("zones", words::ON_THE_WALL.text(), list::list(session, id, entries::ZONES))}
        {group("depth", words::DEPTH_AND_FINISH.text(), depth(session, id))}
        {group("bays", words::BAYS.text(), list::list(session, id, entries::BAYS))}
        {group("rows", words::ROWS_AND_HOLES.text(), rows(session, id))}
        {group("marking", words::MARKING.text(), marking(session, id))}
    }
    .into_any()
}

/// A part of the form that reads otherwise for a wall of brick, or is not there.
fn by_construction(
    (session, id): (Session, &str),
    is_brick: Memo<bool>,
    brick: Option<fn(Session, &str) -> AnyView>,
    timber: fn(Session, &str) -> AnyView,
) -> AnyView {
    let id = id.to_owned();
    let part = move || match (is_brick.get(), brick) {
        (false, _) => Some(timber(session, &id)),
        (true, Some(brick)) => Some(brick(session, &id)),
        (true, None) => None,
    };
    part.into_any()
}

fn group(id: &'static str, title: &'static str, fields: AnyView) -> AnyView {
    view! {
        <details class="group" id=format!("group-{id}")>
            <summary><h3>{title}</h3></summary>
            <div class="fields">{fields}</div>
        </details>
    }
    .into_any()
}

fn size(session: Session, id: &str) -> AnyView {
    let name = Part::of_wall(session, id, |wall| wall.name.clone(), WallChange::Name);
    let outline = Part::of_wall(session, id, Outline::of, WallChange::Outline);
    let width = outline.part(|outline| Some(outline.width), Outline::set_width);
    view! {
        {text((words::NAME.text(), "name"), name)}
        {room(session, id)}
        {length((words::WIDTH.text(), "width"), &limits::WALL_WIDTH, width)}
        {edge::top(&outline)}
        {edge::bottom(&outline)}
    }
    .into_any()
}

/// The room, where a wall takes over what was left open and gives what it was measured with.
fn room(session: Session, id: &str) -> AnyView {
    let id = StoredValue::new(id.to_owned());
    let message = RwSignal::new(String::new());
    let run = move |command: Option<Command>| command.map_or(Ok(()), |step| session.run(step));
    let name = Part::new(
        move || session.wall(&id.read_value(), |wall| wall.room.clone()),
        move |name| run(untrack(|| session.job(|job| room::enter(job, &id.read_value(), name)))),
    );
    let give = move |_| {
        let step = untrack(|| session.job(|job| room::give(job, &id.read_value())));
        message.set(refused(run(step), session).err().unwrap_or_default());
    };
    let shared = Memo::new(move |_| {
        let id = id.read_value();
        let room = session.wall(&id, |wall| wall.room.clone()).flatten()?;
        session.job(|job| room::neighbour(job, &room, &id).map(|_| room))
    });
    let button = move || {
        let room = shared.get()?;
        Some(view! {
            <button type="button" class="add" id="give-to-room" on:click=give>{words::give_to_room(&room)}</button>
            <p class="assumption">{words::GIVE_HINT.text()}</p>
            <p class="message" role="alert">{message}</p>
        })
    };
    view! {
        {optional_text((words::ROOM.text(), "room"), name)}
        {button}
    }
    .into_any()
}

fn plates(session: Session, id: &str) -> AnyView {
    let plates = Part::of_wall(session, id, |wall| wall.plates.clone(), WallChange::Plates);
    let of = |get: fn(&Plates) -> Option<Option<u8>>, put: fn(&mut Plates, Option<u8>)| {
        plates.part(get, put)
    };
    let length_of = |get: fn(&Plates) -> Option<Option<Length>>,
                     put: fn(&mut Plates, Option<Length>)| {
        plates.part(get, put)
    };
    view! {
        {count((words::BOTTOM_PLATES.text(), "bottom"), &limits::BOTTOM_PLATES, of(|p| Some(p.bottom), |p, n| p.bottom = n))}
        {count((words::TOP_PLATES.text(), "top"), &limits::TOP_PLATES, of(|p| Some(p.top), |p, n| p.top = n))}
        {measured((words::PLATE_THICKNESS.text(), "thickness"), &limits::PLATE_THICKNESS,
            length_of(|p| Some(p.thickness), |p, length| p.thickness = length))}
        {measured((words::FLOOR_COVERING.text(), "floor_covering"), &limits::FLOOR_COVERING,
            length_of(|p| Some(p.floor_covering), |p, length| p.floor_covering = length))}
        {measured((words::CEILING_DROP.text(), "ceiling_drop"), &limits::CEILING_DROP,
            length_of(|p| Some(p.ceiling_drop), |p, length| p.ceiling_drop = length))}
    }
    .into_any()
}

fn blocks_and_braces(session: Session, id: &str) -> AnyView {
    view! {
        {list::list(session, id, entries::BLOCKS)}
        {list::list(session, id, entries::BRACES)}
    }
    .into_any()
}

/// What closes an air space from leaf to leaf.
fn closing(session: Session, id: &str) -> AnyView {
    view! {
        {list::list(session, id, entries::EXTRA)}
        {list::list(session, id, entries::BLOCKS)}
    }
    .into_any()
}

fn lumber(session: Session, id: &str) -> AnyView {
    let lumber = Part::of_wall(session, id, |wall| wall.lumber, WallChange::Lumber);
    choice((words::FRAMED_OF.text(), "lumber"), words::LUMBER, lumber)
}

fn depth(session: Session, id: &str) -> AnyView {
    let depth = Part::of_wall(session, id, |wall| wall.depth, WallChange::Depth);
    let finish = Part::of_wall(session, id, |wall| wall.finish.clone(), WallChange::Finish);
    let material = finish.part(
        |finish: &Finish| Some(finish.material),
        |finish, material| finish.material = material,
    );
    let thickness = finish
        .part(|finish| Some(finish.thickness), |finish, thickness| finish.thickness = thickness);
    view! {
        {by_construction((session, id), session.is_brick(id), None, lumber)}
        {measured((words::CAVITY_DEPTH.text(), "depth"), &limits::DEPTH, depth)}
        {choice((words::FINISH.text(), "material"), words::MATERIALS, material)}
        {measured_or((words::FINISH_THICKNESS.text(), "thickness"), &limits::FINISH_THICKNESS, thickness, words::BY_MATERIAL.text())}
    }
    .into_any()
}

/// What is wanted of the rows, holes of one's own, and the rows of the walls beside it.
fn rows(session: Session, id: &str) -> AnyView {
    let rows_from =
        Part::of_wall(session, id, |wall| wall.drilling.rows_from, WallChange::RowsFrom);
    view! {
        {choice((words::ROWS_FROM.text(), "rows_from"), words::ROWS_FROM_CHOICES, rows_from)}
        {neighbours_rows(session, id)}
        {list::list(session, id, entries::LIKED)}
        {list::list(session, id, entries::BARRED)}
        {list::list(session, id, entries::HOLES)}
    }
    .into_any()
}

/// One chalk height round the room: takes over the rows of another wall of it.
fn neighbours_rows(session: Session, id: &str) -> AnyView {
    let id = StoredValue::new(id.to_owned());
    let message = RwSignal::new(String::new());
    let neighbour = Memo::new(move |_| {
        let id = id.read_value();
        let room = session.wall(&id, |wall| wall.room.clone()).flatten()?;
        session.job(|job| {
            room::neighbour(job, &room, &id).map(|wall| (wall.id.clone(), wall.name.clone()))
        })
    });
    let take = move |_| {
        let Some((other, _)) = neighbour.get_untracked() else { return };
        let Some(planned) = untrack(|| session.planned_wall(&other)) else { return };
        let id = id.read_value();
        let change = untrack(|| session.wall(&id, |wall| holes::rows_of(wall, planned.plan())));
        let done = change.map_or(Ok(()), |change| session.change_wall(&id, change));
        message.set(refused(done, session).err().unwrap_or_default());
    };
    let button = move || {
        let (_, name) = neighbour.get()?;
        Some(view! {
            <button type="button" class="add" id="rows-of-neighbour" on:click=take>{words::rows_of(&name)}</button>
            <p class="message" role="alert">{message}</p>
        })
    };
    view! { {button} }.into_any()
}

fn marking(session: Session, id: &str) -> AnyView {
    let datum = Part::of_wall(session, id, |wall| wall.datum, WallChange::Datum);
    let side = Part::of_wall(session, id, |wall| wall.side, WallChange::Side);
    let construction =
        Part::of_wall(session, id, |wall| wall.construction.clone(), WallChange::Construction);
    let kind = construction.part(
        |construction| Some(construction_kind(construction)),
        |construction, kind| *construction = construction_as(kind),
    );
    view! {
        {choice((words::DATUM.text(), "datum"), words::ENDS, datum)}
        {choice((words::SIDE.text(), "side"), words::SIDES, side)}
        {choice((words::CONSTRUCTION.text(), "construction"), words::CONSTRUCTIONS, kind)}
        {brick(construction)}
    }
    .into_any()
}

fn brick(construction: Part<Construction>) -> AnyView {
    let reading = construction.clone();
    let kind =
        Memo::new(move |_| reading.get().map(|construction| construction_kind(&construction)));
    let sizes: Part<BrickSizes> = construction.part(brick_sizes, set_brick_sizes);
    let leaf = sizes.part(|[leaf, ..]| Some(*leaf), |sizes, length| sizes[0] = length);
    let course = sizes.part(|[_, course, ..]| Some(*course), |sizes, length| sizes[1] = length);
    let brick = sizes.part(|[_, _, brick, ..]| Some(*brick), |sizes, length| sizes[2] = length);
    let bed = sizes.part(|[.., bed, _]| Some(*bed), |sizes, length| sizes[3] = length);
    let perpend = sizes.part(|[.., perpend]| Some(*perpend), |sizes, length| sizes[4] = length);
    let holes = construction.part(
        |construction| match construction {
            Construction::BrickAirSpace { holes, .. } => Some(*holes),
            Construction::PlatformFrame | Construction::BalloonFrame => None,
        },
        |construction, value| {
            if let Construction::BrickAirSpace { holes, .. } = construction {
                *holes = value;
            }
        },
    );
    let fields = move || {
        (kind.get() == Some(ConstructionKind::Brick)).then(|| {
            view! {
                {measured((words::LEAF.text(), "leaf"), &limits::LEAF_THICKNESS, leaf.clone())}
                {choice((words::BRICK_HOLES.text(), "holes"), words::COURSINGS, holes.clone())}
                {measured((words::COURSE.text(), "course"), &limits::COURSE_HEIGHT, course.clone())}
                {measured((words::BRICK_LENGTH.text(), "brick"), &limits::BRICK_LENGTH, brick.clone())}
                {measured((words::BED_JOINT.text(), "bed"), &limits::BED_JOINT, bed.clone())}
                {measured((words::PERPEND.text(), "perpend"), &limits::PERPEND, perpend.clone())}
            }
        })
    };
    view! { {fields} }.into_any()
}

/// Leaf, course, brick, bed joint and upright joint, as far as they were measured.
type BrickSizes = [Option<Length>; 5];

fn brick_sizes(construction: &Construction) -> Option<BrickSizes> {
    match *construction {
        Construction::BrickAirSpace { leaf, course, brick, bed, perpend, .. } => {
            Some([leaf, course, brick, bed, perpend])
        }
        Construction::PlatformFrame | Construction::BalloonFrame => None,
    }
}

fn set_brick_sizes(construction: &mut Construction, sizes: BrickSizes) {
    if let Construction::BrickAirSpace { leaf, course, brick, bed, perpend, .. } = construction {
        [*leaf, *course, *brick, *bed, *perpend] = sizes;
    }
}
