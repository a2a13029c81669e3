//! The studs of a layout, each with where it stands in spite of it.

use risemark::{
    job::{End, StudCorrection, StudLayout, Wall},
    limits,
    quantity::{Length, count, inches},
};

/// A stud of the layout.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stud {
    /// Its centre in the layout, from the left end.
    pub layout: Length,
    /// Its centre as it was found; `None` when it is not there.
    pub stands: Option<Length>,
    /// The correction that says so, by its position in the list.
    pub correction: Option<usize>,
}

/// Every stud of the layout, in the layout's order.
pub fn layout(wall: &Wall) -> Vec<Stud> {
    let whole = |layout| Stud { layout, stands: Some(layout), correction: None };
    let mut studs: Vec<Stud> = centres(wall).into_iter().map(whole).collect();
    for (idx, correction) in wall.studs.corrections.iter().enumerate() {
        let (StudCorrection::Moved { stud: near, .. } | StudCorrection::Missing { stud: near }) =
            *correction;
        let Some(stud) = nearest(&mut studs, near) else { continue };
        stud.correction = Some(idx);
        stud.stands = match *correction {
            StudCorrection::Moved { found, .. } => Some(found),
            StudCorrection::Missing { .. } => None,
        };
    }
    studs
}

/// The distance from stud to stud, as the layout has it or as is assumed.
pub fn spacing(wall: &Wall) -> Length {
    let set = match wall.studs.layout {
        StudLayout::Regular { spacing, .. } => spacing,
        StudLayout::Measured { .. } => None,
    };
    set.or(limits::STUD_SPACING.default).unwrap_or(inches(16.0))
}

/// The face width of a stud, as it was measured or as is assumed.
pub fn thickness(wall: &Wall) -> Length {
    wall.studs.thickness.or(limits::STUD_THICKNESS.default).unwrap_or(inches(1.5))
}

fn centres(wall: &Wall) -> Vec<Length> {
    if wall.construction.is_brick() {
        return Vec::new();
    }
    let (first, from) = match &wall.studs.layout {
        StudLayout::Measured { centres } => return centres.clone(),
        StudLayout::Regular { first, from, .. } => (*first, *from),
    };
    let spacing = spacing(wall);
    let first = first.unwrap_or(spacing);
    let mut centres = Vec::new();
    let mut centre = first;
    while centre < wall.width {
        centres.push(match from {
            End::Left => centre,
            End::Right => wall.width - centre,
        });
        centre = first + spacing * count(centres.len());
    }
    centres
}

/// A correction names a stud that still stands, to within half a foot, as the framing reads it.
fn nearest(studs: &mut [Stud], place: Length) -> Option<&mut Stud> {
    let off = |stud: &Stud| stud.stands.map(|stands| (stands - place).abs());
    let standing = studs.iter_mut().filter(|stud| off(stud).is_some_and(|off| off < inches(6.0)));
    standing.min_by(|a, b| {
        let value = |stud: &Stud| off(stud).map_or(f64::INFINITY, |off| off.value);
        value(a).total_cmp(&value(b))
    })
}

#[cfg(test)]
mod tests {
    use risemark::{framing::MemberKind, quantity::same};

    use super::*;
    use crate::edit::tests::planned;

    #[test]
    fn studs_stand_where_the_framing_puts_them() {
        for from in [End::Left, End::Right] {
            let (wall, plan) = planned("workshop-north", |wall| {
                wall.studs.layout =
                    StudLayout::Regular { spacing: None, first: Some(inches(14.0)), from };
                let near = inches(60.0);
                wall.studs.corrections = vec![
                    StudCorrection::Moved { stud: near, found: near + inches(3.0) },
                    StudCorrection::Missing { stud: inches(110.0) },
                ];
            });
            let framed: Vec<Length> = plan
                .frame
                .members
                .iter()
                .filter(|member| member.kind == MemberKind::Stud)
                .map(|member| member.polygon.bounds().x.middle())
                .collect();
            let studs = layout(&wall);
            let standing: Vec<Length> = studs.iter().filter_map(|stud| stud.stands).collect();
            assert_eq!(standing.len() + 1, studs.len(), "one is missing");
            let half = thickness(&wall) / 2.0;
            for stands in standing {
                let past_end = wall.width < stands + half || stands < half;
                let found = framed.iter().any(|centre| same(*centre, stands));
                let on_end_stud = stands < half * 3.0 || wall.width - half * 3.0 < stands;
                assert!(found || past_end || on_end_stud, "{stands:?} among {framed:?}");
            }
        }
    }
}
