//! Statistics of values that each held for a length of time.
//!
//! A value that held twice as long counts twice: the same movement reported 60 or 1000 times a
//! second, or only on change, has the same statistics. Weights are seconds.

/// One value and the seconds for which it held (not negative).
pub type Held = (f64, f64);

/// Seconds in all.
#[must_use]
pub fn seconds(values: &[Held]) -> f64 {
    values.iter().map(|(_, seconds)| seconds).sum()
}

/// The mean over time; `None` when no time passed.
#[must_use]
pub fn mean(values: &[Held]) -> Option<f64> {
    let total = seconds(values);
    (total > 0.0).then(|| values.iter().map(|(value, held)| value * held).sum::<f64>() / total)
}

/// The mean squared distance from the mean over time; `None` when no time passed. No
/// correction for a small sample: how many independent values there are is another question
/// ([`super::dependence`]).
#[must_use]
pub fn variance(values: &[Held]) -> Option<f64> {
    let mean = mean(values)?;
    let squares: f64 =
        values.iter().map(|(value, held)| held * (value - mean) * (value - mean)).sum();
    Some(squares / seconds(values))
}

/// The value that is not passed for `share` (0..=1) of the time: the smallest value whose own
/// time and that of all smaller ones is at least that share. `None` when no time passed.
///
/// No lines are drawn between values: a position that was never taken is not an answer. Where
/// the share falls exactly between two values, their middle (so that the median of two halves
/// is their mean).
#[must_use]
pub fn quantile(values: &[Held], share: f64) -> Option<f64> {
    let mut sorted: Vec<Held> = values.iter().copied().filter(|(_, held)| *held > 0.0).collect();
    super::order::sort_pairs(&mut sorted);
    let total = seconds(&sorted);
    let wanted = share.clamp(0.0, 1.0) * total;
    let slack = total * 1e-12;
    let mut passed = 0.0;
    for (index, (value, held)) in sorted.iter().enumerate() {
        passed += held;
        if passed > wanted + slack {
            return Some(*value);
        }
        if (passed - wanted).abs() <= slack {
            let next = sorted.get(index + 1).map_or(*value, |next| next.0);
            return Some(0.5 * (value + next));
        }
    }
    sorted.last().map(|(value, _)| *value)
}

/// The median over time; `None` when no time passed.
#[must_use]
pub fn median(values: &[Held]) -> Option<f64> {
    quantile(values, 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_counts_and_not_reports() {
        let long = [(1.0, 3.0), (5.0, 1.0)];
        let chopped = [(1.0, 1.0), (1.0, 1.5), (1.0, 0.5), (5.0, 1.0)];
        assert_eq!(mean(&long), Some(2.0));
        assert_eq!(mean(&chopped), Some(2.0));
        assert_eq!(variance(&long), Some(3.0));
        assert_eq!(variance(&chopped), Some(3.0));
        assert_eq!(median(&long), Some(1.0));
        assert_eq!(quantile(&long, 0.9), Some(5.0));
        assert_eq!(quantile(&long, 0.75), Some(3.0));
    }

    #[test]
    fn no_time_gives_nothing() {
        assert_eq!(mean(&[]), None);
        assert_eq!(variance(&[(1.0, 0.0)]), None);
        assert_eq!(median(&[(1.0, 0.0)]), None);
    }
}
