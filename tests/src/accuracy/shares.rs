//! Shares of people with their own interval, and quantiles of errors.

use fitting::statistics::counts::wilson;
use fitting::statistics::plain::quantile;
use serde::{Deserialize, Serialize};

/// A share with its 95 % interval.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// How many did.
    pub count: usize,
    /// Of how many.
    pub of: usize,
    /// The share, 0..=1; 0 of none.
    pub share: f64,
    /// Lower end of its interval.
    pub low: f64,
    /// Upper end of its interval.
    pub high: f64,
}

impl Share {
    /// The share over people, each of whom brings some cases `(held, all)`.
    ///
    /// The interval is Wilson's, on as many independent cases as the shares of the people hold:
    /// the eight reaches of one person share an estimate of their spread, and may be wrong
    /// together (the design effect of a cluster sample; Kish 1965, from memory).
    #[must_use]
    pub fn of_people(people: &[(usize, usize)]) -> Self {
        let count: usize = people.iter().map(|one| one.0).sum();
        let of: usize = people.iter().map(|one| one.1).sum();
        if of == 0 {
            return Self::default();
        }
        let share = count as f64 / of as f64;
        let squares: f64 = people
            .iter()
            .map(|(held, all)| {
                let off = *held as f64 - share * *all as f64;
                off * off
            })
            .sum();
        let plain = share * (1.0 - share) * of as f64;
        let effect = if plain > 0.0 { (squares / plain).max(1.0) } else { 1.0 };
        let independent = (of as f64 / effect).round().max(1.0);
        let (low, high) = wilson((share * independent).round() as usize, independent as usize);
        Self { count, of, share: rounded(share), low: rounded(low), high: rounded(high) }
    }
}

/// Rounded to four significant digits: what the files keep.
#[must_use]
pub fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return 0.0;
    }
    let digits = 3 - libm::floor(libm::log10(value.abs())) as i32;
    let scale = libm::exp10(f64::from(digits.clamp(-12, 12)));
    (value * scale).round() / scale
}

/// A quantile of a list; `None` of an empty one.
#[must_use]
pub fn quantile_of(values: &[f64], share: f64) -> Option<f64> {
    quantile(values, share).map(rounded)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cases_that_fall_together_count_as_few() {
        let apart: Vec<(usize, usize)> = (0..200).map(|i| (usize::from(i % 20 != 0), 1)).collect();
        let together: Vec<(usize, usize)> =
            (0..200).map(|i| if i % 20 == 0 { (0, 8) } else { (8, 8) }).collect();
        let (apart, together) = (Share::of_people(&apart), Share::of_people(&together));
        assert_eq!((apart.share, together.share), (0.95, 0.95));
        assert_eq!((apart.low, apart.high), (together.low, together.high));
        assert_eq!(Share::of_people(&[(0, 0)]), Share::default());
    }

    #[test]
    fn four_digits_are_kept() {
        assert_eq!(rounded(0.012_345_6), 0.012_35);
        assert_eq!(rounded(-1234.56), -1235.0);
        assert_eq!(rounded(f64::NAN), 0.0);
    }
}
