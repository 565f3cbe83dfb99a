//! Numbers on a fixed grid, so that a summary is exactly the same wherever it is read.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A number on a fixed grid: a whole number of equal steps within bounds.
///
/// In JSON it is written as a plain decimal number in its unit and rounded to the grid when
/// read; in a link it is the whole number of steps. Both ways bring back the same number.
pub trait Grid: Copy + PartialEq + PartialOrd + Serialize {
    /// The nearest point of the grid; bounds stand for what lies outside, 0 or the lower bound
    /// for what is not a number.
    fn of(value: f64) -> Self;
    /// The number, in its unit.
    fn get(self) -> f64;
    /// Whether it lies within the bounds: what was read from outside may not.
    fn within(self) -> bool;
}

macro_rules! grid {
    ($(#[$doc:meta])* $name:ident, steps: $per:literal, bounds: $low:literal..=$high:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(i32);

        impl $name {
            /// The lowest number of steps.
            pub const LOWEST_STEPS: i32 = $low;
            /// The highest number of steps.
            pub const HIGHEST_STEPS: i32 = $high;

            /// From a number of steps.
            #[must_use]
            pub const fn from_steps(steps: i32) -> Self {
                Self(steps)
            }
        }

        impl Grid for $name {
            fn of(value: f64) -> Self {
                // A cast turns what is not a number into 0.
                Self(((value * $per).round() as i32).clamp($low, $high))
            }

            fn get(self) -> f64 {
                f64::from(self.0) / $per
            }

            fn within(self) -> bool {
                ($low..=$high).contains(&self.0)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                if serializer.is_human_readable() {
                    serializer.serialize_f64(self.get())
                } else if Self::LOWEST_STEPS >= 0 {
                    // A byte shorter in a link than with room for a sign.
                    serializer.serialize_u32(self.0.unsigned_abs())
                } else {
                    serializer.serialize_i32(self.0)
                }
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                if deserializer.is_human_readable() {
                    // Not brought within bounds here: the check afterwards names the field.
                    let steps = (f64::deserialize(deserializer)? * $per).round();
                    Ok(Self(steps as i32))
                } else if Self::LOWEST_STEPS >= 0 {
                    let steps = u32::deserialize(deserializer)?;
                    Ok(Self(i32::try_from(steps).unwrap_or(i32::MAX)))
                } else {
                    i32::deserialize(deserializer).map(Self)
                }
            }
        }
    };
}

grid! {
    /// A share of travel, of reach or of full output, in steps of 0.001, −8..=8.
    Share, steps: 1_000.0, bounds: -8_000..=8_000
}
grid! {
    /// A spread or another small share of travel, in steps of 0.0001, −0.8..=0.8.
    Spread, steps: 10_000.0, bounds: -8_000..=8_000
}
grid! {
    /// How often a minute, in steps of 0.01, 0..=160; 160 stands for 160 and more, close to
    /// what runs a quarter of a second apart can reach at all. Two bytes in a link.
    PerMinute, steps: 100.0, bounds: 0..=16_000
}
grid! {
    /// An angle in degrees, in steps of 0.1, −360..=360.
    Degrees, steps: 10.0, bounds: -3_600..=3_600
}
grid! {
    /// Seconds, in steps of 0.1, 0..=36,000 (ten hours).
    Seconds, steps: 10.0, bounds: 0..=360_000
}
grid! {
    /// The exponent of a sensitivity curve, in steps of 0.001, 0.2..=5.
    Exponent, steps: 1_000.0, bounds: 200..=5_000
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bounds_and_rounding() {
        assert_eq!(Share::of(0.1234), Share::from_steps(123));
        assert_eq!(Share::of(-0.1236).get(), -0.124);
        assert_eq!(Share::of(1e9).get(), 8.0);
        assert_eq!(Share::of(f64::NEG_INFINITY).get(), -8.0);
        assert_eq!(Share::of(f64::NAN).get(), 0.0);
        assert_eq!(Exponent::of(f64::NAN).get(), 0.2);
        assert_eq!(PerMinute::of(-1.0).get(), 0.0);
        assert!(!PerMinute::from_steps(-1).within());
        assert!(!Spread::from_steps(8_001).within());
    }

    fn same_everywhere<G: Grid + std::fmt::Debug + for<'de> Deserialize<'de>>(value: f64) {
        let on_grid = G::of(value);
        assert!(on_grid.within() && on_grid.get().is_finite());
        assert_eq!(G::of(on_grid.get()), on_grid);
        let json = serde_json::to_string(&on_grid).expect("json");
        assert_eq!(serde_json::from_str::<G>(&json).expect("json"), on_grid);
        let bytes = postcard::to_allocvec(&on_grid).expect("bytes");
        assert_eq!(postcard::from_bytes::<G>(&bytes).expect("bytes"), on_grid);
    }

    proptest! {
        #[test]
        fn every_form_brings_back_the_same(value in prop_oneof![any::<f64>(), -700.0..700.0f64]) {
            same_everywhere::<Share>(value);
            same_everywhere::<Spread>(value);
            same_everywhere::<PerMinute>(value);
            same_everywhere::<Degrees>(value);
            same_everywhere::<Seconds>(value);
            same_everywhere::<Exponent>(value);
        }
    }
}
