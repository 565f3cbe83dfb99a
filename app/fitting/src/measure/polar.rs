//! A map of the plane taken apart: which axes are swapped or inverted, how far it turns, and how
//! it stretches.

/// Rows: performed right and up; columns: asked right and up.
pub type Matrix = [[f64; 2]; 2];

/// A map taken apart: map = turn × stretch × (swap, then inversions).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Polar {
    /// Asked right and up are exchanged first.
    pub swapped: bool,
    /// Then what comes out to the right is turned round.
    pub right_inverted: bool,
    /// And what comes out up.
    pub up_inverted: bool,
    /// Degrees of the turn, from right towards up, −45..=45.
    pub degrees: f64,
    /// The symmetric positive part: along right, across (the same both ways), along up.
    pub stretch: [f64; 3],
}

impl Polar {
    /// Takes a map apart; `None` when anything is not finite, or the map squeezes the plane to a
    /// line.
    ///
    /// The turn is the orthogonal factor of the polar decomposition (Higham, *SIAM Journal on
    /// Scientific and Statistical Computing* 7 (1986) 1160, from memory), which for two
    /// dimensions is closed: `atan2(m21 − m12, m11 + m22)`, the angle of an orthogonal
    /// Procrustes fit. Of the eight ways to swap and invert axes four leave a map that does not
    /// mirror; of these the one with the smallest turn is taken. A quarter turn is therefore
    /// told as a swap with an inversion.
    #[must_use]
    pub fn of(matrix: Matrix) -> Option<Self> {
        let mut best: Option<Self> = None;
        for way in 0..8_u8 {
            let (swapped, right_inverted, up_inverted) = (way & 4 != 0, way & 1 != 0, way & 2 != 0);
            let Some(polar) = Self::with(matrix, swapped, right_inverted, up_inverted) else {
                continue;
            };
            if best.is_none_or(|best| polar.degrees.abs() < best.degrees.abs()) {
                best = Some(polar);
            }
        }
        best
    }

    /// The same with this swap and these inversions; `None` also when what is left mirrors.
    pub(super) fn with(
        matrix: Matrix,
        swapped: bool,
        right_inverted: bool,
        up_inverted: bool,
    ) -> Option<Self> {
        let sign = |inverted: bool| if inverted { -1.0 } else { 1.0 };
        let (first, second) = if swapped { (1, 0) } else { (0, 1) };
        let column = |from: usize, by: f64| [matrix[0][from] * by, matrix[1][from] * by];
        let (right, up) = (column(first, sign(right_inverted)), column(second, sign(up_inverted)));
        let size = right[0] * right[0] + right[1] * right[1] + up[0] * up[0] + up[1] * up[1];
        let area = right[0] * up[1] - right[1] * up[0];
        if !size.is_finite() || size < 1e-18 || area <= 1e-9 * size {
            return None;
        }
        let angle = libm::atan2(right[1] - up[0], right[0] + up[1]);
        let (sin, cos) = libm::sincos(angle);
        Some(Self {
            swapped,
            right_inverted,
            up_inverted,
            degrees: angle.to_degrees(),
            stretch: [
                cos * right[0] + sin * right[1],
                cos * up[0] + sin * up[1],
                cos * up[1] - sin * up[0],
            ],
        })
    }

    /// How far the stretch is from an even one, as (f, g): the stretch is
    /// `mean × [[1 + f, g], [g, 1 − f]]`. Its length k is below 1, and the weaker axis is
    /// `(1 − k) / (1 + k)` of the stronger.
    #[must_use]
    pub fn uneven(&self) -> (f64, f64) {
        let [right, across, up] = self.stretch;
        ((right - up) / (right + up), 2.0 * across / (right + up))
    }

    /// The direction of the stronger axis before the turn, degrees from right towards up,
    /// −90..=90; 0 for an even stretch.
    #[must_use]
    pub fn stronger_degrees(&self) -> f64 {
        let (f, g) = self.uneven();
        0.5 * libm::atan2(g, f).to_degrees()
    }

    /// What share of a push along one axis comes out on the other once turn and the stretch
    /// along the axes are taken out: `s12 / sqrt(s11 s22)`, −1..=1; positive when pushes lean
    /// towards the line from down left to up right.
    #[must_use]
    pub fn cross_talk(&self) -> f64 {
        let [right, across, up] = self.stretch;
        (across / libm::sqrt(right * up)).clamp(-1.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{prop_assert, proptest};

    fn product(turn: f64, [a, b, c]: [f64; 3], columns: Matrix) -> Matrix {
        let (sin, cos) = libm::sincos(turn.to_radians());
        let first =
            [[cos * a - sin * b, cos * b - sin * c], [sin * a + cos * b, sin * b + cos * c]];
        [0, 1].map(|row| {
            [0, 1].map(|column| {
                first[row][0] * columns[0][column] + first[row][1] * columns[1][column]
            })
        })
    }

    proptest! {
        /// What was put together comes apart into the same pieces.
        #[test]
        fn every_map_comes_apart_as_it_was_put_together(
            turn in -44.0..44.0_f64, strong in 0.1..3.0_f64, weak in 0.05..1.0_f64,
            along in -90.0..90.0_f64, swapped: bool, right: bool, up: bool,
        ) {
            let (sin, cos) = libm::sincos(along.to_radians());
            let weak = weak * strong;
            let stretch = [
                strong * cos * cos + weak * sin * sin,
                (strong - weak) * sin * cos,
                strong * sin * sin + weak * cos * cos,
            ];
            let (r, u) = (if right { -1.0 } else { 1.0 }, if up { -1.0 } else { 1.0 });
            let columns = if swapped { [[0.0, r], [u, 0.0]] } else { [[r, 0.0], [0.0, u]] };
            let polar = Polar::of(product(turn, stretch, columns)).unwrap();
            prop_assert!((polar.degrees - turn).abs() < 1e-6);
            prop_assert!((polar.swapped, polar.right_inverted, polar.up_inverted) == (swapped, right, up));
            for (got, want) in polar.stretch.iter().zip(stretch) {
                prop_assert!((got - want).abs() < 1e-9);
            }
            if weak < 0.95 * strong {
                let off = (polar.stronger_degrees() - along).abs();
                prop_assert!(off < 1e-6 || (off - 180.0).abs() < 1e-6);
            }
        }

        #[test]
        fn no_map_gives_nan(a: f64, b: f64, c: f64, d: f64) {
            if let Some(polar) = Polar::of([[a, b], [c, d]]) {
                let (f, g) = polar.uneven();
                let told = [polar.degrees, f, g, polar.stronger_degrees(), polar.cross_talk()];
                prop_assert!(told.iter().all(|one| one.is_finite()), "{polar:?}");
            }
        }
    }

    #[test]
    fn a_map_onto_a_line_has_no_turn() {
        assert_eq!(Polar::of([[1.0, 2.0], [0.5, 1.0]]), None);
        assert_eq!(Polar::of([[0.0, 0.0], [0.0, 0.0]]), None);
        assert_eq!(Polar::of([[f64::NAN, 0.0], [0.0, 1.0]]), None);
    }
}
