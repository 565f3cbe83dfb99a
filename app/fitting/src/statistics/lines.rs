//! Straight lines through points.

use super::plain::quantile_of_sorted;

/// A robust straight line (Theil 1950; Sen, *JASA* 63 (1968) 1379): the median of the slopes
/// between all pairs of points with different `x`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TheilSen {
    /// The median slope, units of y by units of x.
    pub slope: f64,
    /// Lower end of Sen's 95 % interval of the slope (normal approximation, without ties).
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The common slope of groups of points that have no common zero: the median of the slopes
/// between pairs of the same group. `wider` multiplies the
/// variance of Kendall's statistic (1 for independent points; more where they follow slowly from
/// each other), `normal` is the normal quantile of the interval's ends (1.96 for 95 %). `None`
/// when no two points of a group differ in x.
#[must_use]
pub fn theil_sen_of_groups(
    groups: &[Vec<(f64, f64)>],
    wider: f64,
    normal: f64,
) -> Option<TheilSen> {
    let mut slopes = Vec::new();
    let mut variance = 0.0;
    for points in groups {
        for (index, one) in points.iter().enumerate() {
            for other in &points[index + 1..] {
                if other.0 != one.0 {
                    slopes.push((other.1 - one.1) / (other.0 - one.0));
                }
            }
        }
        let n = points.len() as f64;
        variance += n * (n - 1.0) * (2.0 * n + 5.0) / 18.0;
    }
    super::order::sort_numbers(&mut slopes);
    let slope = quantile_of_sorted(&slopes, 0.5)?;
    // Sen's equation 2.6: the variance of Kendall's statistic gives the ranks of the ends.
    let spread = normal * libm::sqrt(variance * wider);
    let count = slopes.len() as f64;
    let rank = |place: f64| slopes[libm::round(place).clamp(0.0, count - 1.0) as usize];
    let (low, high) = (rank((count - spread) / 2.0 - 1.0), rank((count + spread) / 2.0));
    Some(TheilSen { slope, low: low.min(slope), high: high.max(slope) })
}

/// A point with the variance of its `y`, which must be known and above 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// Where.
    pub x: f64,
    /// What was measured there.
    pub y: f64,
    /// The variance of the measurement.
    pub variance: f64,
}

/// `y = at_zero + growth x` with neither part negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RisingLine {
    /// Value at x = 0, at least 0.
    pub at_zero: f64,
    /// Slope, at least 0.
    pub growth: f64,
    /// Standard error of the free slope (before the bound at 0), from the known variances.
    pub growth_error: f64,
    /// The free slope, which may be negative.
    pub free_growth: f64,
}

/// The weighted least-squares line with neither part negative; `None` when fewer than two
/// points differ in x. Where a bound holds, the other part is fitted alone (the solution of
/// this two-variable problem: Lawson and Hanson, *Solving Least Squares Problems* (1974),
/// chapter 23, from memory).
#[must_use]
pub fn rising_line(points: &[Weighed]) -> Option<RisingLine> {
    let sum = |f: &dyn Fn(&Weighed) -> f64| {
        points.iter().map(|point| f(point) / point.variance).sum::<f64>()
    };
    let (s, sx, sy) = (sum(&|_| 1.0), sum(&|p| p.x), sum(&|p| p.y));
    let (sxx, sxy) = (sum(&|p| p.x * p.x), sum(&|p| p.x * p.y));
    let determinant = s * sxx - sx * sx;
    if determinant.is_nan() || determinant <= 1e-12 * s * sxx {
        return None;
    }
    let free_growth = (s * sxy - sx * sy) / determinant;
    let growth_error = libm::sqrt(s / determinant);
    let (at_zero, growth) = if free_growth < 0.0 {
        ((sy / s).max(0.0), 0.0)
    } else {
        let at_zero = (sy - free_growth * sx) / s;
        if at_zero < 0.0 { (0.0, (sxy / sxx).max(0.0)) } else { (at_zero, free_growth) }
    };
    Some(RisingLine { at_zero, growth, growth_error, free_growth })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weighed(points: &[(f64, f64)]) -> Vec<Weighed> {
        points.iter().map(|&(x, y)| Weighed { x, y, variance: 1.0 }).collect()
    }

    #[test]
    fn one_wild_point_does_not_turn_the_line() {
        let mut points: Vec<(f64, f64)> = (0..9).map(|x| (f64::from(x), f64::from(x))).collect();
        points[4].1 = 100.0;
        let line = theil_sen_of_groups(&[points], 1.0, 1.96).unwrap();
        assert!((line.slope - 1.0).abs() < 1e-12);
        assert_eq!(theil_sen_of_groups(&[vec![(1.0, 2.0), (1.0, 3.0)]], 1.0, 1.96), None);
    }

    #[test]
    fn lines_keep_their_bounds() {
        let line = rising_line(&weighed(&[(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)])).unwrap();
        assert!((line.at_zero - 1.0).abs() < 1e-12 && (line.growth - 2.0).abs() < 1e-12);
        let falling = rising_line(&weighed(&[(0.0, 2.0), (1.0, 1.0)])).unwrap();
        assert_eq!((falling.at_zero, falling.growth), (1.5, 0.0));
        let steep = rising_line(&weighed(&[(1.0, 0.0), (2.0, 3.0)])).unwrap();
        assert_eq!(steep.at_zero, 0.0);
        assert!((steep.growth - 1.2).abs() < 1e-12);
        assert_eq!(rising_line(&weighed(&[(1.0, 0.0), (1.0, 3.0)])), None);
    }
}
