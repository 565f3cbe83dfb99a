//! The different values that were seen, for the steps between them.

use super::side::SAME;
use super::{LEAST_VALUES, Lack, MOST_VALUES};

/// The different values of one side, in order.
#[derive(Clone, Debug, Default)]
pub(super) struct Values(Vec<f64>);

impl Values {
    pub(super) fn note(&mut self, value: f64) {
        let place = self.0.partition_point(|other| *other < value);
        let near = |other: Option<&f64>| other.is_some_and(|other| (other - value).abs() < SAME);
        let known =
            near(self.0.get(place)) || near(place.checked_sub(1).and_then(|p| self.0.get(p)));
        if value != 0.0 && !known && self.0.len() < MOST_VALUES {
            self.0.insert(place, value);
        }
    }

    pub(super) fn step(&self) -> Result<f64, Lack> {
        let seen = self.0.len();
        if seen < LEAST_VALUES {
            return Err(Lack::TooFewValues { seen });
        }
        let steps = self.0.iter().zip(self.0.iter().skip(1)).map(|(one, next)| next - one);
        Ok(steps.fold(f64::INFINITY, f64::min))
    }
}
