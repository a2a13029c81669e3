//! Labels that stand too close are moved apart, as little as can be.

use risemark::quantity::count;

/// Places moved apart so that each keeps its distance to the next, in their order.
///
/// The sum of the squared moves is the least there is. `None` when they do not fit between the ends.
pub(super) fn spread(
    places: &[f64],
    distances: &[f64],
    (low, high): (f64, f64),
) -> Option<Vec<f64>> {
    // With the distances taken out, places in order are places that never fall.
    let mut taken = vec![0.0];
    for distance in distances {
        taken.push(taken.last().copied().unwrap_or(0.0) + distance);
    }
    let high = high - taken.last().copied().unwrap_or(0.0);
    if high < low {
        return None;
    }
    let rising = rising(places.iter().zip(&taken).map(|(place, taken)| place - taken));
    let moved = rising.into_iter().zip(&taken).map(|(place, taken)| place.clamp(low, high) + taken);
    Some(moved.collect())
}

/// The nearest values that never fall: neighbours that do are replaced by their mean.
fn rising(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut groups: Vec<(f64, usize)> = Vec::new();
    for value in values {
        groups.push((value, 1));
        while let [.., (first, n_first), (second, n_second)] = groups[..] {
            if first <= second {
                break;
            }
            let (a, b) = (count(n_first), count(n_second));
            groups.truncate(groups.len() - 2);
            groups.push(((first * a + second * b) / (a + b), n_first + n_second));
        }
    }
    groups.into_iter().flat_map(|(mean, n)| std::iter::repeat_n(mean, n)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(places: &[f64], pitch: f64, expected: &[f64]) {
        let moved = spread(places, &vec![pitch; places.len() - 1], (0.0, 100.0)).expect("they fit");
        let close = moved.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9);
        assert!(close, "{places:?} go to {moved:?}, not {expected:?}");
    }

    #[test]
    fn labels_move_apart_and_no_more() {
        check(&[10.0, 50.0], 6.0, &[10.0, 50.0]);
        check(&[10.0, 12.0], 6.0, &[8.0, 14.0]);
        check(&[30.0, 31.0, 32.0, 80.0], 6.0, &[25.0, 31.0, 37.0, 80.0]);
    }

    #[test]
    fn labels_stay_between_the_ends() {
        check(&[1.0, 2.0], 6.0, &[0.0, 6.0]);
        check(&[99.0, 100.0], 6.0, &[94.0, 100.0]);
        assert_eq!(
            spread(&[1.0, 2.0, 3.0], &[60.0, 60.0], (0.0, 100.0)),
            None,
            "no room for three"
        );
    }
}
