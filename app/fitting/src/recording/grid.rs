//! The values that a device can send, as whole numbers.
//!
//! A device counts in whole steps; system and browser turn a count into a share by one of a few
//! short computations. Where every value of an axis is, to the last bit, what one of them makes of
//! a whole number, the number says it all.

/// The most steps of a grid: a device counts in 16 bits, and one more step with a middle.
const MOST_STEPS: u32 = 65_536;

/// How a count becomes a share. The computations that stacks are known to make (W3C Gamepad,
/// "map and normalize axes", in the two precisions in use; the rest is common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// `count / steps`.
    Share,
    /// `2 * count / steps - 1`.
    FromEnd,
    /// `count / steps`, computed in 32 bits.
    ShareShort,
    /// `2 * count / steps - 1`, computed in 32 bits.
    FromEndShort,
    /// As `Share`, with one step more below the middle.
    Uneven,
    /// The same computed in 32 bits.
    UnevenShort,
}

impl Form {
    pub(super) const ALL: [Self; 6] = [
        Self::Share,
        Self::FromEnd,
        Self::ShareShort,
        Self::FromEndShort,
        Self::Uneven,
        Self::UnevenShort,
    ];
}

/// A grid of values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Grid {
    pub(super) form: Form,
    /// Into how many steps travel is divided, 1 to 65,536.
    pub(super) steps: u32,
}

impl Grid {
    pub(super) fn new(form: Form, steps: u32) -> Option<Self> {
        (1..=MOST_STEPS).contains(&steps).then_some(Self { form, steps })
    }

    /// The share of a count. Counts and steps are below 2^24, so 32 bits hold them exactly.
    pub(super) fn share(self, count: i32) -> f64 {
        let one_more = if count < 0 { self.steps + 1 } else { self.steps };
        match self.form {
            Form::Share => f64::from(count) / f64::from(self.steps),
            Form::FromEnd => 2.0 * f64::from(count) / f64::from(self.steps) - 1.0,
            Form::ShareShort => f64::from(count as f32 / self.steps as f32),
            Form::FromEndShort => f64::from(2.0 * count as f32 / self.steps as f32 - 1.0),
            Form::Uneven => f64::from(count) / f64::from(one_more),
            Form::UnevenShort => f64::from(count as f32 / one_more as f32),
        }
    }

    /// The count whose share this is, to the last bit.
    pub(super) fn count(self, share: f64) -> Option<i32> {
        // Far outside travel nothing is on a grid.
        if !(-8.0..=8.0).contains(&share) {
            return None;
        }
        let steps = f64::from(self.steps);
        let near = match self.form {
            Form::Share | Form::ShareShort => share * steps,
            Form::FromEnd | Form::FromEndShort => (share + 1.0) * steps / 2.0,
            Form::Uneven | Form::UnevenShort if share < 0.0 => share * (steps + 1.0),
            Form::Uneven | Form::UnevenShort => share * steps,
        };
        let count = libm::round(near) as i32;
        (self.share(count).to_bits() == share.to_bits()).then_some(count)
    }

    /// The coarsest grid on which all these shares lie.
    pub(super) fn of(shares: &[f64]) -> Option<Self> {
        let few = 1..=1024_u32;
        // Devices of 11 to 16 bits, with or without a step left out at the ends.
        let many = (11..=16).flat_map(|bits| {
            let whole = 1_u32 << bits;
            [whole / 2 - 1, whole / 2, whole - 2, whole - 1, whole]
        });
        few.chain(many)
            .flat_map(|steps| Form::ALL.map(|form| Self { form, steps }))
            .find(|grid| shares.iter().all(|share| grid.count(*share).is_some()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_counts_of_a_byte_are_found_in_every_form() {
        for form in Form::ALL {
            for steps in [254, 255, 1023, 65_535] {
                let made = Grid { form, steps };
                let shares: Vec<f64> = (0..=254).map(|count| made.share(count)).collect();
                let found = Grid::of(&shares).expect("a grid");
                assert!(found.steps <= steps, "{made:?} {found:?}");
                for share in shares {
                    let count = found.count(share).expect("on the grid");
                    assert_eq!(found.share(count).to_bits(), share.to_bits());
                }
            }
        }
    }

    #[test]
    fn what_is_on_no_grid_is_told_so() {
        assert_eq!(Grid::of(&[0.1, core::f64::consts::FRAC_1_SQRT_2]), None);
        assert_eq!(Grid::of(&[-0.0]), None, "a zero with a sign would lose it");
        assert_eq!(Grid::of(&[9.0]), None);
    }

    proptest! {
        #[test]
        fn a_count_comes_back(form in 0..6_usize, steps in 1..=65_536_u32, count in -65_536..=65_536_i32) {
            let grid = Grid { form: Form::ALL[form], steps };
            let share = grid.share(count);
            if let Some(back) = grid.count(share) {
                prop_assert_eq!(grid.share(back).to_bits(), share.to_bits());
            } else {
                // Only outside travel, or for the zero of a negative count.
                prop_assert!(share.abs() > 1.0 || form >= 2 || share == 0.0, "{share}");
            }
        }
    }
}
