//! Intervals of rates and shares.

use checks::{numbers, same, vector};
use fitting::statistics::counts::{clopper_pearson, poisson_mid_p, wilson};

/// Lancaster 1961 (mid-P), computed with scipy.stats.
#[test]
fn poisson_intervals() {
    for case in vector("poisson")["cases"].as_array().unwrap() {
        let (low, high) = poisson_mid_p(case["k"].as_f64().unwrap());
        let want = numbers(&case["mid_p95"]);
        same(low, want[0], 1e-9, &case.to_string());
        same(high, want[1], 1e-9, &case.to_string());
    }
    // Sixty seconds with none seen: fewer than three a minute is all this shows (the rule of three,
    // Hanley and Lippman-Hand 1983, from memory).
    same(poisson_mid_p(0.0).1, 3.0, 0.0015, "mid-P of none");
}

/// Wilson 1927 and Clopper and Pearson 1934, computed with statsmodels.
#[test]
fn binomial_intervals() {
    for case in vector("binomial")["cases"].as_array().unwrap() {
        let (k, n) = (case["k"].as_u64().unwrap() as usize, case["n"].as_u64().unwrap() as usize);
        let (low, high) = wilson(k, n);
        let want = numbers(&case["wilson95"]);
        // Where the end is 0 or 1 the reference leaves a rounding error of 1e-17.
        assert!((low - want[0]).abs() < 1e-12 && (high - want[1]).abs() < 1e-12, "{case}");
        let (low, high) = clopper_pearson(k, n);
        let want = numbers(&case["clopper_pearson95"]);
        same(low, want[0], 1e-9, &case.to_string());
        same(high, want[1], 1e-9, &case.to_string());
    }
}
