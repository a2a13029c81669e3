//! The small picture of a wall in a list: outline, openings and holes, true to scale.

use risemark::plan::WallPlan;

/// Draws one wall small, in CSS pixels, standing on the lower edge of the picture.
///
/// `scale` in pixels a millimetre makes several walls comparable, see [`common_scale`]; without it
/// the wall fills the picture.
pub fn thumbnail(plan: &WallPlan, (width, height): (f64, f64), scale: Option<f64>) -> String {
    let _ = (plan, width, height, scale);
    String::new()
}

/// The largest scale, in pixels a millimetre, at which each of the walls fits into a thumbnail.
pub fn common_scale(plans: &[WallPlan], (width, height): (f64, f64)) -> f64 {
    let _ = (plans, height);
    width
}
