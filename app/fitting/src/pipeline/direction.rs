//! How a push is swapped, turned round, turned and stretched.

use crate::Position;
use crate::position::fold_degrees;
use crate::settings::DirectionMap;

/// The bounds of a gain.
pub const GAINS: (f64, f64) = (0.2, 5.0);

/// A [`DirectionMap`] in range, as the matrix that it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Matrix([[f64; 2]; 2]);

/// The map brought into range: a turn that is not finite becomes none and every other is folded
/// into −180 < d ≤ 180, gains are held to 0.2..=5 (1 where not finite).
#[must_use]
pub fn in_range(map: &DirectionMap) -> DirectionMap {
    let gain = |gain: f64| if gain.is_finite() { gain.clamp(GAINS.0, GAINS.1) } else { 1.0 };
    let turn_degrees =
        if map.turn_degrees.is_finite() { fold_degrees(map.turn_degrees) } else { 0.0 };
    DirectionMap {
        turn_degrees,
        right_gain: gain(map.right_gain),
        up_gain: gain(map.up_gain),
        ..*map
    }
}

impl Matrix {
    /// Of a map, brought into range.
    pub(crate) fn of(map: &DirectionMap) -> Self {
        let map = in_range(map);
        let column = |asked: Position| {
            let mut push = asked;
            if map.swapped {
                push = Position::new(push.up, push.right);
            }
            if map.right_inverted {
                push.right = -push.right;
            }
            if map.up_inverted {
                push.up = -push.up;
            }
            let push = push.turned(map.turn_degrees);
            Position::new(push.right * map.right_gain, push.up * map.up_gain)
        };
        let (right, up) = (column(Position::new(1.0, 0.0)), column(Position::new(0.0, 1.0)));
        Self([[right.right, up.right], [right.up, up.up]])
    }

    /// What the map makes of a push.
    pub(crate) fn apply(&self, push: Position) -> Position {
        let [[a, b], [c, d]] = self.0;
        Position::new(a * push.right + b * push.up, c * push.right + d * push.up)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand, in the stated order: swapped, turned round, turned, stretched.
    #[test]
    fn the_order_is_kept() {
        let map = DirectionMap {
            swapped: true,
            right_inverted: true,
            up_inverted: false,
            turn_degrees: 90.0,
            right_gain: 2.0,
            up_gain: 3.0,
        };
        // (0.1, 0.4): swapped (0.4, 0.1), right turned round (-0.4, 0.1), turned by 90 degrees
        // (-0.1, -0.4), stretched (-0.2, -1.2).
        let out = Matrix::of(&map).apply(Position::new(0.1, 0.4));
        assert!((out - Position::new(-0.2, -1.2)).radius() < 1e-12, "{out:?}");
        let push = Position::new(0.3, -0.7);
        assert_eq!(Matrix::of(&DirectionMap::default()).apply(push), push);
    }

    #[test]
    fn senseless_maps_are_brought_into_range() {
        let map = in_range(&DirectionMap {
            turn_degrees: 370.0,
            right_gain: f64::NAN,
            up_gain: 90.0,
            ..DirectionMap::default()
        });
        assert!((map.turn_degrees - 10.0).abs() < 1e-9);
        assert_eq!((map.right_gain, map.up_gain), (1.0, 5.0));
        let lost = DirectionMap { turn_degrees: f64::INFINITY, ..DirectionMap::default() };
        assert_eq!(in_range(&lost).turn_degrees, 0.0);
    }
}
