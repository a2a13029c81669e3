//! The edges of a wall: level, raked, gable, or any chain of points.

use leptos::prelude::*;
use risemark::{geometry::Point, job::Edge, limits, quantity::Length};

use crate::{
    part::Part,
    session::Session,
    shape::{EdgeKind, Outline, edge_as, edge_kind},
    view::field::{choice, length, refused},
    words,
};

/// The upper edge.
pub fn top(outline: &Part<Outline>) -> AnyView {
    let kind = outline.part(
        |outline| Some(edge_kind(&outline.top)),
        |outline, kind| outline.top = edge_as(&outline.top, kind, outline.width),
    );
    let edge =
        outline.part(|outline| Some(outline.top.clone()), |outline, edge| outline.top = edge);
    view! {
        {choice((words::TOP_EDGE.text(), "top"), words::EDGES, kind)}
        {edge_fields(edge)}
    }
    .into_any()
}

/// The lower edge, which is the finished floor unless something else was measured.
pub fn bottom(outline: &Part<Outline>) -> AnyView {
    let kind = outline.part(
        |outline| Some(outline.bottom.as_ref().map(edge_kind)),
        |outline, kind| {
            let floor = Edge::Level { height: Length::default() };
            let edge = outline.bottom.as_ref().unwrap_or(&floor);
            outline.bottom = kind.map(|kind| match kind {
                // Under a floor a gable hangs upside down; it starts flat, to be pulled either way.
                EdgeKind::Gable => Edge::Gable {
                    left: Length::default(),
                    ridge_at: outline.width / 2.0,
                    ridge: Length::default(),
                    right: Length::default(),
                },
                other => edge_as(edge, other, outline.width),
            });
        },
    );
    let edge =
        outline.part(|outline| outline.bottom.clone(), |outline, edge| outline.bottom = Some(edge));
    view! {
        {choice((words::BOTTOM_EDGE.text(), "bottom"), words::BOTTOM_EDGES, kind)}
        {edge_fields(edge)}
    }
    .into_any()
}

fn edge_fields(edge: Part<Edge>) -> AnyView {
    let reading = edge.clone();
    let kind = Memo::new(move |_| reading.get().map(|edge| edge_kind(&edge)));
    let fields = move || match kind.get() {
        None => ().into_any(),
        Some(EdgeKind::Level) => {
            length((words::HEIGHT.text(), "height"), &limits::LEVEL, height(&edge))
        }
        Some(EdgeKind::Raked) => ends(&edge),
        Some(EdgeKind::Gable) => view! { {ends(&edge)} {ridge(&edge)} }.into_any(),
        Some(EdgeKind::Points) => {
            let chain = edge.part(
                |edge| match edge {
                    Edge::Points { points } => Some(points.clone()),
                    Edge::Level { .. } | Edge::Raked { .. } | Edge::Gable { .. } => None,
                },
                |edge, points| *edge = Edge::Points { points },
            );
            points(chain, 2)
        }
    };
    view! { {fields} }.into_any()
}

fn height(edge: &Part<Edge>) -> Part<Length> {
    edge.part(
        |edge| match edge {
            Edge::Level { height } => Some(*height),
            Edge::Raked { .. } | Edge::Gable { .. } | Edge::Points { .. } => None,
        },
        |edge, height| *edge = Edge::Level { height },
    )
}

fn ends(edge: &Part<Edge>) -> AnyView {
    let left = edge.part(
        |edge| match edge {
            Edge::Raked { left, .. } | Edge::Gable { left, .. } => Some(*left),
            Edge::Level { .. } | Edge::Points { .. } => None,
        },
        |edge, value| {
            if let Edge::Raked { left, .. } | Edge::Gable { left, .. } = edge {
                *left = value;
            }
        },
    );
    let right = edge.part(
        |edge| match edge {
            Edge::Raked { right, .. } | Edge::Gable { right, .. } => Some(*right),
            Edge::Level { .. } | Edge::Points { .. } => None,
        },
        |edge, value| {
            if let Edge::Raked { right, .. } | Edge::Gable { right, .. } = edge {
                *right = value;
            }
        },
    );
    view! {
        {length((words::HEIGHT_LEFT.text(), "left"), &limits::LEVEL, left)}
        {length((words::HEIGHT_RIGHT.text(), "right"), &limits::LEVEL, right)}
    }
    .into_any()
}

fn ridge(edge: &Part<Edge>) -> AnyView {
    let at = edge.part(
        |edge| match edge {
            Edge::Gable { ridge_at, .. } => Some(*ridge_at),
            Edge::Level { .. } | Edge::Raked { .. } | Edge::Points { .. } => None,
        },
        |edge, value| {
            if let Edge::Gable { ridge_at, .. } = edge {
                *ridge_at = value;
            }
        },
    );
    let height = edge.part(
        |edge| match edge {
            Edge::Gable { ridge, .. } => Some(*ridge),
            Edge::Level { .. } | Edge::Raked { .. } | Edge::Points { .. } => None,
        },
        |edge, value| {
            if let Edge::Gable { ridge, .. } = edge {
                *ridge = value;
            }
        },
    );
    view! {
        {length((words::RIDGE_AT.text(), "ridge_at"), &limits::ACROSS, at)}
        {length((words::RIDGE_HEIGHT.text(), "ridge"), &limits::LEVEL, height)}
    }
    .into_any()
}

/// A chain of places, of which at least a number must stay.
pub fn points(chain: Part<Vec<Point>>, least: usize) -> AnyView {
    let session = Session::here();
    let reading = chain.clone();
    let n_points = Memo::new(move |_| reading.get().map_or(0, |points| points.len()));
    let message = RwSignal::new(String::new());
    let chain = StoredValue::new(chain);
    let put = move |points| {
        message.set(refused(chain.read_value().set(points), session).err().unwrap_or_default());
    };
    let add = move |_| {
        let Some(mut points) = chain.read_value().get() else { return };
        let Some((before, after)) =
            points.len().checked_sub(2).map(|idx| (points[idx], points[idx + 1]))
        else {
            return;
        };
        let middle = Point::new((before.x + after.x) / 2.0, (before.y + after.y) / 2.0);
        points.insert(points.len() - 1, middle);
        put(points);
    };
    let remove = move |idx: usize| {
        let Some(mut points) = chain.read_value().get() else { return };
        if idx < points.len() {
            points.remove(idx);
            put(points);
        }
    };
    let row = move |idx: usize| {
        let point = chain.read_value().entry(idx);
        let can_go = move || n_points.get() <= least;
        view! {
            <li class="point">
                {place(&point)}
                <button type="button" class="remove" aria-label=words::remove_entry(words::POINT.text(), idx + 1)
                    disabled=can_go on:click=move |_| remove(idx)>{words::REMOVE.text()}</button>
            </li>
        }
    };
    view! {
        <ol class="points">
            <For each=move || 0..n_points.get() key=|idx| *idx let:idx>{row(idx)}</For>
        </ol>
        <button type="button" class="add" on:click=add>{words::ADD_POINT.text()}</button>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}

/// The two fields of a place on the wall.
pub fn place(point: &Part<Point>) -> AnyView {
    view! {
        {length((words::ACROSS.text(), "across"), &limits::ACROSS, point.part(|point| Some(point.x), |point, x| point.x = x))}
        {length((words::UP.text(), "up"), &limits::UP, point.part(|point| Some(point.y), |point, y| point.y = y))}
    }
    .into_any()
}
