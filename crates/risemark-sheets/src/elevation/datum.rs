//! The corner that all readings start from.

use risemark::{geometry::Point, job::End, quantity::millimeters};

use super::Draft;
use crate::{
    drawing::{At, Item, Shape},
    ink::Ink,
};

/// A target of four quarters, two of them filled, on the corner at the floor.
pub(super) fn corner(draft: &Draft<'_>) -> Vec<Item> {
    let across = match draft.subject.plan.frame.datum {
        End::Left => millimeters(0.0),
        End::Right => draft.subject.plan.frame.width,
    };
    let corner = Point::new(across, millimeters(0.0));
    if !draft.sees(corner) {
        return Vec::new();
    }
    let (centre, r) = (draft.scale.at(corner), draft.manner.height() * 0.6);
    let quarters = [(1.0, -1.0), (-1.0, 1.0)];
    let filled = quarters.into_iter().map(|(x, y)| quarter(centre, (x * r, y * r))).collect();
    vec![
        Item::new(Ink::Datum, Shape::Ellipse { centre, rx: r, ry: r }),
        Item::new(Ink::DatumFill, Shape::Rings(filled)),
    ]
}

/// A quarter of a disc, from its centre towards a corner of the square around it.
fn quarter(centre: At, (x, y): (f64, f64)) -> Vec<At> {
    const N_STEPS: u8 = 8;
    let arc = (0..=N_STEPS).map(|step| {
        let turn = f64::from(step) / f64::from(N_STEPS) * std::f64::consts::FRAC_PI_2;
        centre.moved(x * libm::cos(turn), y * libm::sin(turn))
    });
    std::iter::once(centre).chain(arc).collect()
}
