//! The bytes of a link: the postcard wire format (its published specification, version 1),
//! written and read by a few short functions.
//!
//! A general library for it would be compiled once more for every type of a summary, and weigh
//! more than all of the statistics. The tests hold what is written here against that library.

use super::{
    Answer, ChosenCurve, ChosenSettings, CurveFigures, DeadZoneFigures, Degrees, DeviceSeen,
    EffectFigures, Exponent, FullThrowFigures, Interval, JitterLevel, Lacking, PerMinute, Place,
    RateStep, ReachFigures, ReachLeft, RestFigures, Seconds, Share, Spread, Steadiness,
    StickFigures, SummaryBody, WeakestLeft,
};
use crate::Direction;
use crate::estimate::Sureness;
use crate::settings::Shape;

/// What can be written to the bytes of a link and read from them.
pub(super) trait Wire: Sized {
    /// Writes it at the end of `to`.
    fn write(&self, to: &mut Vec<u8>);
    /// Reads it from the beginning of `from`, which then starts behind it; `None` when that is
    /// not what lies there. Never asks for more memory than there are bytes.
    fn read(from: &mut &[u8]) -> Option<Self>;
}

/// A whole number, seven bits a byte, the lowest first; the highest bit says that more follow.
#[inline(never)]
pub(super) fn write_number(mut number: u64, to: &mut Vec<u8>) {
    while number >= 0x80 {
        to.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    to.push(number as u8);
}

/// A whole number of at most `most`.
#[inline(never)]
pub(super) fn read_number(from: &mut &[u8], most: u64) -> Option<u64> {
    let mut number = 0_u64;
    for shift in (0..64).step_by(7) {
        let (byte, rest) = from.split_first()?;
        *from = rest;
        let part = u64::from(byte & 0x7f);
        // What is shifted out at the top is lost and would be found by shifting back.
        if part << shift >> shift != part {
            return None;
        }
        number |= part << shift;
        if byte & 0x80 == 0 {
            return (number <= most).then_some(number);
        }
    }
    None
}

impl Wire for u32 {
    fn write(&self, to: &mut Vec<u8>) {
        write_number(u64::from(*self), to);
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        Self::try_from(read_number(from, u64::from(Self::MAX))?).ok()
    }
}

impl Wire for u64 {
    fn write(&self, to: &mut Vec<u8>) {
        write_number(*self, to);
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        read_number(from, Self::MAX)
    }
}

/// Small numbers of either sign stay short: 0, -1, 1, -2, ... are 0, 1, 2, 3, ...
impl Wire for i32 {
    fn write(&self, to: &mut Vec<u8>) {
        ((self << 1) ^ (self >> 31)).cast_unsigned().write(to);
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        let folded = u32::read(from)?;
        Some((folded >> 1).cast_signed() ^ -(folded & 1).cast_signed())
    }
}

impl Wire for bool {
    fn write(&self, to: &mut Vec<u8>) {
        to.push(u8::from(*self));
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        read_number(from, 1).map(|one| one == 1)
    }
}

impl Wire for String {
    fn write(&self, to: &mut Vec<u8>) {
        write_number(self.len() as u64, to);
        to.extend_from_slice(self.as_bytes());
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        let length = usize::try_from(read_number(from, from.len() as u64)?).ok()?;
        let (text, rest) = from.split_at_checked(length)?;
        *from = rest;
        std::str::from_utf8(text).ok().map(str::to_owned)
    }
}

impl<T: Wire> Wire for Option<T> {
    fn write(&self, to: &mut Vec<u8>) {
        self.is_some().write(to);
        if let Some(value) = self {
            value.write(to);
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        if bool::read(from)? { T::read(from).map(Some) } else { Some(None) }
    }
}

impl<T: Wire> Wire for Vec<T> {
    fn write(&self, to: &mut Vec<u8>) {
        write_number(self.len() as u64, to);
        for value in self {
            value.write(to);
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        // Every entry takes a byte at least.
        let length = read_number(from, from.len() as u64)?;
        (0..length).map(|_| T::read(from)).collect()
    }
}

impl<A: Wire, B: Wire> Wire for (A, B) {
    fn write(&self, to: &mut Vec<u8>) {
        self.0.write(to);
        self.1.write(to);
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?))
    }
}

/// Numbers on a grid: the number of steps, with a sign only where the grid has negative ones.
macro_rules! grids {
    ($($name:ident)*) => {$(
        impl Wire for $name {
            fn write(&self, to: &mut Vec<u8>) {
                if Self::LOWEST_STEPS >= 0 {
                    self.steps().unsigned_abs().write(to);
                } else {
                    self.steps().write(to);
                }
            }

            fn read(from: &mut &[u8]) -> Option<Self> {
                let steps = if Self::LOWEST_STEPS >= 0 {
                    i32::try_from(u32::read(from)?).unwrap_or(i32::MAX)
                } else {
                    i32::read(from)?
                };
                Some(Self::from_steps(steps))
            }
        }
    )*};
}

/// Structures: their fields in order.
macro_rules! structures {
    ($($name:ident $(<$kind:ident>)? { $($field:ident)* })*) => {$(
        impl $(<$kind: Wire>)? Wire for $name $(<$kind>)? {
            fn write(&self, to: &mut Vec<u8>) {
                $(self.$field.write(to);)*
            }

            fn read(from: &mut &[u8]) -> Option<Self> {
                Some(Self { $($field: Wire::read(from)?,)* })
            }
        }
    )*};
}

/// Choices without fields: their place in the list.
macro_rules! choices {
    ($($name:ident { $($choice:ident)* })*) => {$(
        impl Wire for $name {
            fn write(&self, to: &mut Vec<u8>) {
                write_number(*self as u64, to);
            }

            fn read(from: &mut &[u8]) -> Option<Self> {
                const ALL: &[$name] = &[$($name::$choice),*];
                let place = read_number(from, ALL.len() as u64)? as usize;
                ALL.get(place).copied()
            }
        }
    )*};
}

grids! { Share Spread PerMinute Degrees Seconds Exponent }

choices! {
    Direction { Right UpRight Up UpLeft Left DownLeft Down DownRight }
    Sureness { NotEnough Rough Firm }
    Shape { Radial PerAxis }
}

structures! {
    SummaryBody {
        label practised device minutes wish_false_per_minute stick rest reach hold left_out
        dead_zone full_throw curve chosen before after
    }
    DeviceSeen { name axes buttons standard }
    Place { right up }
    StickFigures { noise step hidden_middle }
    RestFigures { seconds centre offset wander curve sudden sudden_per_minute }
    RateStep { radius counted per_minute low high from_model }
    ReachFigures { asked reach end degrees_off }
    Steadiness { level radius deviation at_gate }
    DeadZoneFigures {
        radius sureness rest_seconds counted_bound from_model weakest covering_sudden collides
        more_seconds
    }
    WeakestLeft { asked reach eaten }
    FullThrowFigures { radius sureness decided_by }
    CurveFigures { sureness at_centre growth straight exponent exponent_cost }
    ChosenSettings { centre dead_zone full_throw shape curve }
    EffectFigures { false_per_minute expected moving_share reach jitter jitter_pooled }
    ReachLeft { asked kept output }
    JitterLevel { level deviation }
    Interval<G> { value low high seconds repetitions }
}

impl<T: Wire> Wire for Answer<T> {
    fn write(&self, to: &mut Vec<u8>) {
        match self {
            Self::Known(value) => {
                to.push(0);
                value.write(to);
            }
            Self::NotEnough(reason) => {
                to.push(1);
                reason.write(to);
            }
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        if bool::read(from)? {
            Lacking::read(from).map(Self::NotEnough)
        } else {
            T::read(from).map(Self::Known)
        }
    }
}

impl Wire for Lacking {
    fn write(&self, to: &mut Vec<u8>) {
        match self {
            Self::NothingRecorded => to.push(0),
            Self::Seconds { have, need } => {
                to.push(1);
                have.write(to);
                need.write(to);
            }
            Self::Repetitions { have, need } => {
                to.push(2);
                have.write(to);
                need.write(to);
            }
            Self::DoesNotApply => to.push(3),
            Self::Hidden => to.push(4),
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        Some(match read_number(from, 4)? {
            0 => Self::NothingRecorded,
            1 => Self::Seconds { have: Wire::read(from)?, need: Wire::read(from)? },
            2 => Self::Repetitions { have: Wire::read(from)?, need: Wire::read(from)? },
            3 => Self::DoesNotApply,
            _ => Self::Hidden,
        })
    }
}

impl Wire for ChosenCurve {
    fn write(&self, to: &mut Vec<u8>) {
        match self {
            Self::Linear => to.push(0),
            Self::Exponent(exponent) => {
                to.push(1);
                exponent.write(to);
            }
            Self::Points(points) => {
                to.push(2);
                points.write(to);
            }
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        Some(match read_number(from, 2)? {
            0 => Self::Linear,
            1 => Self::Exponent(Wire::read(from)?),
            _ => Self::Points(Wire::read(from)?),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{any, prop_assert_eq, proptest};
    use serde::Serialize;

    fn same_bytes<T: Wire + Serialize + PartialEq + std::fmt::Debug>(value: &T) {
        let mut bytes = Vec::new();
        value.write(&mut bytes);
        assert_eq!(bytes, postcard::to_allocvec(value).unwrap(), "{value:?}");
        let mut rest = bytes.as_slice();
        assert_eq!(T::read(&mut rest).as_ref(), Some(value));
        assert!(rest.is_empty());
        for end in 0..bytes.len() {
            assert_eq!(T::read(&mut &bytes[..end]), None, "cut off at {end}");
        }
    }

    #[test]
    fn every_choice_has_the_librarys_bytes() {
        Direction::EIGHT.iter().for_each(same_bytes);
        [Sureness::NotEnough, Sureness::Rough, Sureness::Firm].iter().for_each(same_bytes);
        [Shape::Radial, Shape::PerAxis].iter().for_each(same_bytes);
        let (have, need) = (Seconds::from_steps(34_567), Seconds::from_steps(90));
        [
            Lacking::NothingRecorded,
            Lacking::Seconds { have, need },
            Lacking::Repetitions { have: 2, need: 3 },
            Lacking::DoesNotApply,
            Lacking::Hidden,
        ]
        .iter()
        .for_each(same_bytes);
        let points = vec![(Share::from_steps(-70), Share::from_steps(8_000)); 3];
        let exponent = Exponent::from_steps(1_234);
        [ChosenCurve::Linear, ChosenCurve::Exponent(exponent), ChosenCurve::Points(points)]
            .iter()
            .for_each(same_bytes);
    }

    #[test]
    fn a_length_beyond_the_bytes_is_refused_at_once() {
        let mut bytes = Vec::new();
        write_number(u64::MAX, &mut bytes);
        assert_eq!(read_number(&mut bytes.as_slice(), u64::MAX), Some(u64::MAX));
        assert_eq!(String::read(&mut bytes.as_slice()), None);
        assert_eq!(Vec::<bool>::read(&mut bytes.as_slice()), None);
        assert_eq!(read_number(&mut [0xff_u8; 12].as_slice(), u64::MAX), None);
    }

    proptest! {
        #[test]
        fn numbers_and_texts_have_the_librarys_bytes(
            (long, short, signed) in any::<(u64, u32, i32)>(), text in any::<String>(), yes in any::<Option<bool>>(),
        ) {
            same_bytes(&long);
            same_bytes(&short);
            same_bytes(&signed);
            same_bytes(&text);
            same_bytes(&yes);
        }

        /// Whatever the library reads of any bytes is read here, and nothing else.
        #[test]
        fn what_the_library_reads_is_read(bytes in proptest::collection::vec(any::<u8>(), 0..14)) {
            let library = postcard::take_from_bytes::<(u32, i32)>(&bytes).ok();
            let mut rest = bytes.as_slice();
            let here = <(u32, i32)>::read(&mut rest);
            prop_assert_eq!(here, library.map(|read| read.0));
            if let Some((_, left)) = library {
                prop_assert_eq!(rest, left);
            }
        }
    }
}
