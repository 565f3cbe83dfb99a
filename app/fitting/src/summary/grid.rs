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
    /// The nearest number of whole steps, not brought within bounds: for what is checked
    /// afterwards, so that the check can name the field.
    fn rounded(value: f64) -> Self;
    /// As it stands in a link: the number of steps. Where a grid has negative numbers, they take
    /// turns with the others (0, -1, 1, -2, …; "zigzag" in the postcard wire format); where it
    /// has none, small numbers stay a byte shorter.
    fn wire(self) -> u32;
    /// From [`Self::wire`], not brought within bounds.
    fn from_wire(wire: u32) -> Self;
}

/// A number of any grid as it is written: one type, so that reading and writing come into the
/// program once and not once for every grid.
#[derive(Clone, Copy, Debug)]
pub(super) enum Number {
    /// In text: a decimal number in the grid's unit.
    Decimal(f64),
    /// In a link: [`Grid::wire`].
    Wire(u32),
}

impl Number {
    /// For text that people can read, or for a link.
    pub(super) fn of<G: Grid>(value: G, human_readable: bool) -> Self {
        if human_readable { Self::Decimal(value.get()) } else { Self::Wire(value.wire()) }
    }

    /// On its grid again.
    pub(super) fn on_grid<G: Grid>(self) -> G {
        match self {
            Self::Decimal(value) => G::rounded(value),
            Self::Wire(wire) => G::from_wire(wire),
        }
    }
}

impl Serialize for Number {
    #[inline(never)]
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match *self {
            Self::Decimal(value) => serializer.serialize_f64(value),
            Self::Wire(wire) => serializer.serialize_u32(wire),
        }
    }
}

impl<'de> Deserialize<'de> for Number {
    #[inline(never)]
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        if deserializer.is_human_readable() {
            f64::deserialize(deserializer).map(Self::Decimal)
        } else {
            u32::deserialize(deserializer).map(Self::Wire)
        }
    }
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

            fn rounded(value: f64) -> Self {
                Self((value * $per).round() as i32)
            }

            fn wire(self) -> u32 {
                if $low >= 0 { self.0.unsigned_abs() } else { ((self.0 << 1) ^ (self.0 >> 31)) as u32 }
            }

            fn from_wire(wire: u32) -> Self {
                Self(if $low >= 0 {
                    i32::try_from(wire).unwrap_or(i32::MAX)
                } else {
                    (wire >> 1) as i32 ^ -((wire & 1) as i32)
                })
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                Number::of(*self, serializer.is_human_readable()).serialize(serializer)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                Number::deserialize(deserializer).map(Number::on_grid)
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

grid! {
    /// The gain of an axis, in steps of 0.001, 0.2..=5.
    Gain, steps: 1_000.0, bounds: 200..=5_000
}
grid! {
    /// A frequency in hertz, in steps of 0.01, 0..=160.
    Hertz, steps: 100.0, bounds: 0..=16_000
}
grid! {
    /// By how many hertz a cutoff rises for each share of travel a second, in steps of 0.01,
    /// 0..=1000.
    Coefficient, steps: 100.0, bounds: 0..=100_000
}
grid! {
    /// A short time in seconds, in steps of a thousandth, 0..=60.
    Moment, steps: 1_000.0, bounds: 0..=60_000
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

    /// The signed form is that of the library for signed numbers.
    #[test]
    fn steps_stand_in_a_link_as_whole_numbers_do() {
        for steps in [0, 1, -1, 2, 63, -64, 64, 8_000, -8_000, i32::MAX, i32::MIN] {
            let share = postcard::to_allocvec(&Share::from_steps(steps)).expect("bytes");
            assert_eq!(share, postcard::to_allocvec(&steps).expect("bytes"), "{steps}");
            let rate = postcard::to_allocvec(&PerMinute::from_steps(steps)).expect("bytes");
            assert_eq!(rate, postcard::to_allocvec(&steps.unsigned_abs()).expect("bytes"));
            assert_eq!(Share::from_wire(Share::from_steps(steps).wire()), Share::from_steps(steps));
        }
        assert_eq!(PerMinute::from_wire(u32::MAX), PerMinute::from_steps(i32::MAX));
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
            same_everywhere::<Gain>(value);
            same_everywhere::<Hertz>(value);
            same_everywhere::<Coefficient>(value);
            same_everywhere::<Moment>(value);
        }
    }
}
