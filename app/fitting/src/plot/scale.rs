//! A logarithmic axis.

/// A logarithmic scale from `low` to `high`, both above 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogScale {
    low: f64,
    high: f64,
}

impl LogScale {
    /// A scale from one power of ten to another that covers `low..=high`, at least a decade
    /// wide; bounds that are not above 0 and finite are taken as 0.01 and 100.
    #[must_use]
    pub fn covering(low: f64, high: f64) -> Self {
        let sound = |value: f64, otherwise: f64| {
            if value.is_finite() && value > 0.0 { value } else { otherwise }
        };
        let (low, high) = (sound(low, 0.01), sound(high, 100.0));
        let from = libm::floor(libm::log10(low.min(high)) + 1e-9);
        let to = libm::ceil(libm::log10(high.max(low)) - 1e-9).max(from + 1.0);
        Self { low: libm::pow(10.0, from), high: libm::pow(10.0, to) }
    }

    /// Where a value lies: 0 at the low end, 1 at the high end, held at the ends.
    #[must_use]
    pub fn place(&self, value: f64) -> f64 {
        if value.is_nan() || value <= self.low {
            return 0.0;
        }
        if value >= self.high {
            return 1.0;
        }
        libm::log10(value / self.low) / libm::log10(self.high / self.low)
    }

    /// The powers of ten on the scale, from low to high.
    #[must_use]
    pub fn decades(&self) -> Vec<f64> {
        let count = libm::round(libm::log10(self.high / self.low)) as i32;
        (0..=count).map(|k| self.low * libm::pow(10.0, f64::from(k))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_covers_whole_decades() {
        let scale = LogScale::covering(0.02, 70.0);
        assert_eq!(scale.decades().len(), 5);
        assert!((scale.place(1.0) - 0.5).abs() < 1e-12);
        assert_eq!(scale.place(0.0), 0.0);
        assert_eq!(scale.place(1e9), 1.0);
    }

    #[test]
    fn senseless_bounds_become_sensible() {
        let scale = LogScale::covering(f64::NAN, -3.0);
        assert_eq!(scale.decades().len(), 5);
    }
}
