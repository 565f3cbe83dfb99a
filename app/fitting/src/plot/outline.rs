//! A closed outline through what was reached in a few directions.

use crate::Position;
use crate::position::fold_degrees;

/// Degrees between two drawn points of an outline.
const STEP_DEGREES: f64 = 4.0;

/// A closed curve about `centre` through `spokes` of (degrees from right towards up, radius in shares of
/// travel), as points [`STEP_DEGREES`] apart, in order of angle.
///
/// Between spokes the radius follows a periodic piecewise cubic that keeps the shape monotone
/// (Fritsch and Carlson 1980, SIAM J. Numer. Anal. 17:238–246; end slopes as harmonic means), so
/// that the drawing never bulges beyond what was measured: each drawn radius lies between those
/// of the two spokes beside it. Spokes closer than a degree are averaged. Fewer than three
/// spokes make no outline: `None`.
///
/// No point lies beyond travel: an interval may end there, a stick does not go there. No axis goes
/// beyond 1; and nothing is drawn farther out than `farthest`, which is 1 for a round opening and
/// more where pushes went farther into the corners of another.
#[must_use]
pub fn outline(centre: Position, farthest: f64, spokes: &[(f64, f64)]) -> Option<Vec<Position>> {
    let spokes = in_order(spokes);
    if spokes.len() < 3 {
        return None;
    }
    let slopes = monotone_slopes(&spokes);
    let mut points = Vec::with_capacity((360.0 / STEP_DEGREES) as usize + spokes.len());
    for (index, &(from, radius)) in spokes.iter().enumerate() {
        let next = (index + 1) % spokes.len();
        let width = width_between(&spokes, index);
        let pieces = (width / STEP_DEGREES).ceil().max(1.0);
        let (left, right) = (slopes[index] * width, slopes[next] * width);
        for piece in 0..pieces as usize {
            let t = piece as f64 / pieces;
            let r = hermite(t, radius, spokes[next].1, left, right);
            let at = centre + Position::polar(r.max(0.0), from + t * width);
            points.push(within_travel(at, farthest));
        }
    }
    Some(points)
}

/// How far out an outline about `centre` through `spokes` may go: to the end of a round opening, or
/// where pushes ended beyond it, in the corners of another. Share of travel.
#[must_use]
pub fn farthest(centre: Position, spokes: &[(f64, f64)]) -> f64 {
    let end =
        |&(degrees, radius): &(f64, f64)| (centre + Position::polar(radius, degrees)).radius();
    spokes.iter().map(end).filter(|radius| radius.is_finite()).fold(1.0, f64::max)
}

/// The place on the same line from the middle that is not beyond travel.
fn within_travel(at: Position, farthest: f64) -> Position {
    let most = (at.radius() / farthest).max(at.right.abs()).max(at.up.abs());
    if most > 1.0 { at * (1.0 / most) } else { at }
}

/// Finite spokes sorted by angle, those closer than a degree averaged.
fn in_order(spokes: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut sorted: Vec<(f64, f64)> = spokes
        .iter()
        .filter(|(degrees, radius)| degrees.is_finite() && radius.is_finite() && *radius >= 0.0)
        .map(|&(degrees, radius)| (fold_degrees(degrees), radius))
        .collect();
    crate::statistics::order::sort_pairs(&mut sorted);
    let mut merged: Vec<(f64, f64, f64)> = Vec::with_capacity(sorted.len());
    for (degrees, radius) in sorted {
        match merged.last_mut() {
            Some((at, sum, count)) if degrees - *at < 1.0 => {
                *sum += radius;
                *count += 1.0;
            }
            _ => merged.push((degrees, radius, 1.0)),
        }
    }
    merged.into_iter().map(|(degrees, sum, count)| (degrees, sum / count)).collect()
}

/// Degrees from spoke `index` to the next one, the last one going round to the first.
fn width_between(spokes: &[(f64, f64)], index: usize) -> f64 {
    let next = spokes[(index + 1) % spokes.len()].0;
    let width = next - spokes[index].0;
    if width > 0.0 { width } else { width + 360.0 }
}

/// Slopes of radius over degrees at each spoke that keep each piece monotone.
fn monotone_slopes(spokes: &[(f64, f64)]) -> Vec<f64> {
    let count = spokes.len();
    let secant = |index: usize| {
        let rise = spokes[(index + 1) % count].1 - spokes[index].1;
        rise / width_between(spokes, index)
    };
    (0..count)
        .map(|index| {
            let (before, after) = (secant((index + count - 1) % count), secant(index));
            if before * after <= 0.0 { 0.0 } else { 2.0 * before * after / (before + after) }
        })
        .collect()
}

/// The cubic from `a` to `b` over t in 0..=1 with end slopes `left`, `right` (per unit of t).
fn hermite(t: f64, a: f64, b: f64, left: f64, right: f64) -> f64 {
    let (t2, t3) = (t * t, t * t * t);
    a * (2.0 * t3 - 3.0 * t2 + 1.0)
        + left * (t3 - 2.0 * t2 + t)
        + b * (3.0 * t2 - 2.0 * t3)
        + right * (t3 - t2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_circle_stays_a_circle() {
        let spokes: Vec<(f64, f64)> = (0..8).map(|k| (45.0 * f64::from(k), 0.5)).collect();
        let points = outline(Position::ORIGIN, 1.0, &spokes).expect("eight spokes");
        assert!(points.iter().all(|point| (point.radius() - 0.5).abs() < 1e-12));
        assert!(points.len() >= 90);
    }

    #[test]
    fn it_passes_through_the_spokes() {
        let spokes = [(0.0, 0.4), (90.0, 0.9), (180.0, 0.6), (-90.0, 0.3)];
        let points = outline(Position::ORIGIN, 1.0, &spokes).expect("four spokes");
        for (degrees, radius) in spokes {
            let wanted = Position::polar(radius, degrees);
            assert!(points.iter().any(|&point| (point - wanted).radius() < 1e-9));
        }
    }

    #[test]
    fn two_directions_make_no_outline() {
        assert_eq!(outline(Position::ORIGIN, 1.0, &[(0.0, 0.4), (90.0, 0.9)]), None);
        assert_eq!(
            outline(
                Position::ORIGIN,
                1.0,
                &[(0.0, 0.4), (0.5, 0.9), (360.0, 0.5), (90.0, f64::NAN)]
            ),
            None
        );
    }

    #[test]
    fn the_corners_of_a_square_opening_stay() {
        let spokes = [(0.0, 1.0), (45.0, 1.4), (90.0, 1.0), (180.0, 1.0), (-90.0, 1.0)];
        let farthest = farthest(Position::ORIGIN, &spokes);
        let points = outline(Position::ORIGIN, farthest, &spokes).expect("five spokes");
        let corner = Position::polar(1.4, 45.0);
        assert!(points.iter().any(|&point| (point - corner).radius() < 1e-9));
        // The upper end of an interval of a round one is not drawn beyond it.
        let round = outline(Position::ORIGIN, 1.0, &spokes).expect("five spokes");
        assert!(round.iter().all(|point| point.radius() <= 1.0 + 1e-9));
    }

    proptest! {
        #[test]
        fn nothing_is_drawn_beyond_travel(
            spokes in prop::collection::vec((-360.0f64..360.0, 0.0f64..1.6), 3..12),
            (right, up) in (-0.5f64..0.5, -0.5f64..0.5),
            farthest in 1.0f64..1.4,
        ) {
            let points = outline(Position::new(right, up), farthest, &spokes);
            for point in points.unwrap_or_default() {
                prop_assert!(point.radius() <= farthest + 1e-9, "{point:?}");
                let axis = point.right.abs().max(point.up.abs());
                prop_assert!(axis <= 1.0 + 1e-9, "{point:?}");
            }
        }

        #[test]
        fn it_never_bulges_beyond_what_was_measured(
            spokes in prop::collection::vec((-360.0f64..360.0, 0.0f64..1.0), 0..12)
        ) {
            if let Some(points) = outline(Position::ORIGIN, 1.0, &spokes) {
                let largest = spokes.iter().map(|spoke| spoke.1).fold(0.0, f64::max);
                let smallest = spokes.iter().map(|spoke| spoke.1).fold(9.0, f64::min);
                for point in points {
                    prop_assert!(point.radius() <= largest + 1e-9);
                    prop_assert!(point.radius() >= smallest - 1e-9);
                }
            }
        }
    }
}
