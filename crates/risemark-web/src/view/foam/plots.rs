//! Small plots as the content of an `<svg>`: test shots about their line, and the chance of finishing.
//!
//! Only numbers are written, so that nothing a user typed can become markup.

use std::fmt::Write;

use risemark::{
    foam::{Buying, Flow},
    quantity::{Units, Volume, seconds, to_seconds},
};

use crate::words;

/// Width and height of a plot, in pixels.
pub const SIZE: (f64, f64) = (300.0, 170.0);
/// Room for figures at the left and the lower edge.
const EDGE: (f64, f64) = (46.0, 22.0);

/// Writes shapes; a string takes whatever is written to it.
macro_rules! put {
    ($out:expr, $($parts:tt)*) => { let _written = write!($out, $($parts)*); };
}

/// A plane from nothing to its largest values.
#[derive(Debug, Clone, Copy)]
struct Plane {
    across: f64,
    up: f64,
}

impl Plane {
    fn at(self, across: f64, up: f64) -> (f64, f64) {
        let (width, height) = (SIZE.0 - EDGE.0 - 20.0, SIZE.1 - EDGE.1 - 8.0);
        let share = |value: f64, most: f64| if 0.0 < most { value / most } else { 0.0 };
        (
            EDGE.0 + width * share(across, self.across),
            8.0 + height * (1.0 - share(up, self.up).clamp(0.0, 1.0)),
        )
    }

    fn axes(self, out: &mut String) {
        let ((x, y), (right, top)) = (self.at(0.0, 0.0), self.at(self.across, self.up));
        put!(out, "<path class=\"axis\" d=\"M{x:.1} {top:.1}V{y:.1}H{right:.1}\"/>");
    }

    fn figure(self, out: &mut String, (across, up): (f64, f64), side: &str, text: &str) {
        let (x, y) = self.at(across, up);
        let (x, y) = match side {
            "end" => (x - 4.0, y + 4.0),
            "start" => (x + 4.0, y + 4.0),
            _ => (x, y + 16.0),
        };
        put!(out, "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{side}\">{text}</text>");
    }
}

/// Test shots by seconds and what they gave, the line through the origin and its band.
pub fn flow(flow: &Flow, confidence: f64, units: Units) -> String {
    let amount = |volume: Volume| words::amount(volume, units);
    let mut out = String::new();
    let longest = flow.shots.iter().map(|shot| to_seconds(shot.time)).fold(0.0, f64::max) * 1.15;
    let volume = |time: f64| amount(flow.rate * seconds(time));
    let plane = Plane { across: longest, up: volume(longest) * 1.25 };
    if let Some(fit) = flow.fit() {
        let steps = (1..=12).map(|step| longest * f64::from(step) / 12.0);
        let band: Vec<(f64, f64, f64)> = steps
            .map(|time| {
                let within = fit.volume(1, seconds(time), confidence);
                (time, amount(within.low), amount(within.high))
            })
            .collect();
        let mut path = String::new();
        let upper = band.iter().map(|(time, _, high)| (*time, *high));
        let lower = band.iter().rev().map(|(time, low, _)| (*time, low.max(0.0)));
        for (at, (time, volume)) in upper.chain(lower).enumerate() {
            let (x, y) = plane.at(time, volume);
            put!(path, "{}{x:.1} {y:.1}", if at == 0 { 'M' } else { 'L' });
        }
        put!(out, "<path class=\"band\" d=\"{path}Z\"/>");
    }
    plane.axes(&mut out);
    let ((x, y), (right, top)) = (plane.at(0.0, 0.0), plane.at(longest, volume(longest)));
    put!(out, "<path class=\"line\" d=\"M{x:.1} {y:.1}L{right:.1} {top:.1}\"/>");
    for shot in &flow.shots {
        let (x, y) = plane.at(to_seconds(shot.time), amount(shot.volume));
        put!(out, "<circle class=\"point\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"4\"/>");
    }
    plane.figure(&mut out, (longest, 0.0), "middle", &format!("{longest:.0} s"));
    let most = format!("{:.0} {}", plane.up, words::unit_of_amount(units));
    plane.figure(&mut out, (0.0, plane.up), "start", &most);
    out
}

/// The chance of finishing by the number of kits of one size.
pub fn chances(buying: &Buying) -> String {
    let mut out = String::new();
    let most = buying.curve.iter().map(|chance| chance.n_kits).max().unwrap_or(1);
    let plane = Plane { across: f64::from(most) + 0.5, up: 1.0 };
    plane.axes(&mut out);
    for share in [0.5, 0.9, 0.98] {
        let ((x, y), (right, _)) = (plane.at(0.0, share), plane.at(plane.across, share));
        put!(out, "<path class=\"mark\" d=\"M{x:.1} {y:.1}H{right:.1}\"/>");
    }
    for chance in &buying.curve {
        let (x, y) = plane.at(f64::from(chance.n_kits), chance.chance);
        let (_, foot) = plane.at(0.0, 0.0);
        put!(out, "<path class=\"bar\" d=\"M{x:.1} {foot:.1}V{y:.1}\"/>");
    }
    plane.figure(&mut out, (0.0, 0.5), "end", "50 %");
    plane.figure(&mut out, (0.0, 0.98), "end", "98 %");
    plane.figure(&mut out, (f64::from(most), 0.0), "middle", &most.to_string());
    plane.figure(&mut out, (1.0, 0.0), "middle", "1");
    out
}
