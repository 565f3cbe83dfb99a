//! Intervals of rates and shares, the rule of three, and tolerance by order statistics.

use checks::{number, numbers, same, vector};
use fitting::statistics::counts::{
    clopper_pearson, none_seen_exact, poisson_exact, poisson_mid_p, rule_of_three, wilks_samples,
    wilks_samples_two_sided, wilson,
};

/// Garwood 1936 (exact) and Lancaster 1961 (mid-P), computed with scipy.stats.
#[test]
fn poisson_intervals() {
    for case in vector("poisson")["cases"].as_array().unwrap() {
        let count = case["k"].as_u64().unwrap() as usize;
        for (got, want) in [
            (poisson_exact(count), numbers(&case["exact95"])),
            (poisson_mid_p(count as f64), numbers(&case["mid_p95"])),
        ] {
            same(got.0, want[0], 1e-9, &case.to_string());
            same(got.1, want[1], 1e-9, &case.to_string());
        }
    }
}

/// Garwood's own table gives, for 10 seen, 4.80 to 18.39 (from memory).
#[test]
fn poisson_of_the_table() {
    let (low, high) = poisson_exact(10);
    assert!((low - 4.80).abs() < 0.005 && (high - 18.39).abs() < 0.005);
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

/// Hanley and Lippman-Hand 1983 (from memory): none in n shows less than 3/n.
#[test]
fn the_rule_of_three() {
    let binomial = vector("binomial");
    for (n, want) in binomial["rule_of_three_exact_one_sided"].as_object().unwrap() {
        same(none_seen_exact(n.parse().unwrap()), number(want), 1e-9, n);
    }
    for (n, want) in binomial["rule_of_three_3/n"].as_object().unwrap() {
        same(rule_of_three(n.parse().unwrap()), number(want), 1e-12, n);
    }
    // Sixty seconds with none seen: fewer than three a minute is all this shows.
    same(poisson_mid_p(0.0).1, 3.0, 0.0015, "mid-P of none");
}

/// Wilks 1941: 59 samples for 95/95, 299 for 99/95, 93 with both ends.
#[test]
fn wilks_tolerance() {
    let tolerance = vector("tolerance");
    for (key, find) in [
        ("nonparametric_n_max_one_sided", wilks_samples as fn(f64, f64) -> usize),
        ("nonparametric_n_minmax_two_sided", wilks_samples_two_sided),
    ] {
        for (pair, want) in tolerance[key].as_object().unwrap() {
            let (share, confidence) = pair.split_once('/').unwrap();
            let got = find(share.parse().unwrap(), confidence.parse().unwrap());
            assert_eq!(got as u64, want.as_u64().unwrap(), "{key} {pair}");
        }
    }
    assert_eq!(wilks_samples(0.95, 0.95), 59);
    assert_eq!(wilks_samples(0.99, 0.95), 299);
    assert_eq!(wilks_samples_two_sided(0.95, 0.95), 93);
}
