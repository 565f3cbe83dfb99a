//! The map from asked to performed pushes of a model, taken apart.

use super::twin::MeanEnd;
use fitting::Position;

/// A two by two matrix, rows first.
type Matrix = [[f64; 2]; 2];

/// What is true of a model's map: performed = turn × stretch × (swap and inversions) × asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrueMap {
    /// The axes come out swapped.
    pub swapped: bool,
    /// Right comes out as left.
    pub right_inverted: bool,
    /// Up comes out as down.
    pub up_inverted: bool,
    /// The polar factor: degrees from right towards up.
    pub turn_degrees: f64,
    /// The stretch: symmetric.
    pub stretch: Matrix,
}

/// The least-squares map from asked unit vectors to mean ends, and its parts; `None` where the
/// directions do not span the plane.
#[must_use]
pub fn true_map(ends: &[MeanEnd]) -> Option<TrueMap> {
    let (mut square, mut product) = ([[0.0; 2]; 2], [[0.0; 2]; 2]);
    for end in ends {
        let asked = Position::polar(1.0, end.asked.degrees());
        let (asked, end) = ([asked.right, asked.up], [end.end.right, end.end.up]);
        for row in 0..2 {
            for column in 0..2 {
                square[row][column] += asked[row] * asked[column];
                product[row][column] += end[row] * asked[column];
            }
        }
    }
    let determinant = square[0][0] * square[1][1] - square[0][1] * square[1][0];
    if determinant.abs() < 1e-9 {
        return None;
    }
    let inverse = [
        [square[1][1] / determinant, -square[0][1] / determinant],
        [-square[1][0] / determinant, square[0][0] / determinant],
    ];
    Some(apart(times(product, inverse)))
}

fn times(one: Matrix, other: Matrix) -> Matrix {
    let cell =
        |row: usize, column: usize| one[row][0] * other[0][column] + one[row][1] * other[1][column];
    [[cell(0, 0), cell(0, 1)], [cell(1, 0), cell(1, 1)]]
}

/// Takes out the swap and inversions that leave the smallest turn, then the polar factor.
fn apart(map: Matrix) -> TrueMap {
    let mut best: Option<TrueMap> = None;
    for swapped in [false, true] {
        for right_inverted in [false, true] {
            for up_inverted in [false, true] {
                let (right, up) = (sign(right_inverted), sign(up_inverted));
                // What is performed for asked right and asked up.
                let exchange =
                    if swapped { [[0.0, right], [up, 0.0]] } else { [[right, 0.0], [0.0, up]] };
                // Its own inverse, turned over its diagonal.
                let undone = times(
                    map,
                    [[exchange[0][0], exchange[1][0]], [exchange[0][1], exchange[1][1]]],
                );
                if undone[0][0] * undone[1][1] - undone[0][1] * undone[1][0] <= 0.0 {
                    continue;
                }
                let radians = libm::atan2(undone[1][0] - undone[0][1], undone[0][0] + undone[1][1]);
                let (sin, cos) = libm::sincos(radians);
                let found = TrueMap {
                    swapped,
                    right_inverted,
                    up_inverted,
                    turn_degrees: radians.to_degrees(),
                    stretch: times([[cos, sin], [-sin, cos]], undone),
                };
                if best.is_none_or(|best| found.turn_degrees.abs() < best.turn_degrees.abs() - 1e-9)
                {
                    best = Some(found);
                }
            }
        }
    }
    best.unwrap_or(TrueMap {
        swapped: false,
        right_inverted: false,
        up_inverted: false,
        turn_degrees: 0.0,
        stretch: map,
    })
}

const fn sign(inverted: bool) -> f64 {
    if inverted { -1.0 } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fitting::Direction;

    fn ends(of: impl Fn(Position) -> Position) -> Vec<MeanEnd> {
        Direction::EIGHT
            .iter()
            .map(|asked| {
                let end = of(Position::polar(1.0, asked.degrees()));
                MeanEnd { asked: *asked, reach: end.radius(), end, degrees_off: 0.0 }
            })
            .collect()
    }

    #[test]
    fn a_turn_and_a_stretch_are_taken_apart() {
        let map = true_map(&ends(|at| Position::new(0.8 * at.right, 0.4 * at.up).turned(20.0)));
        let map = map.expect("eight directions");
        assert!((map.turn_degrees - 20.0).abs() < 1e-9 && !map.swapped);
        assert!((map.stretch[0][0] - 0.8).abs() < 1e-9 && (map.stretch[1][1] - 0.4).abs() < 1e-9);
    }

    #[test]
    fn swapped_and_inverted_axes_are_no_turn() {
        let map = true_map(&ends(|at| Position::new(0.5 * at.up, 0.7 * at.right).turned(-8.0)));
        let map = map.expect("eight directions");
        assert!(map.swapped && !map.right_inverted && !map.up_inverted);
        assert!((map.turn_degrees + 8.0).abs() < 1e-9);
        let map = true_map(&ends(|at| Position::new(-0.5 * at.right, 0.7 * at.up)));
        let map = map.expect("eight directions");
        assert!(map.right_inverted && !map.up_inverted && !map.swapped);
    }
}
