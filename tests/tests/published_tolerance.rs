//! Limits that a share of all future values keeps.

use checks::{number, same, vector};
use fitting::statistics::tolerance::{normal_factor, order_rank};

/// Owen 1962 (from memory): the exact one-sided factor, against the noncentral t of
/// `scipy.stats.nct`.
#[test]
fn normal_factors() {
    for case in vector("tolerance")["one_sided_k_exact_nct"].as_array().unwrap() {
        let n = case["n"].as_u64().unwrap() as usize;
        let got = normal_factor(n, number(&case["p"]), number(&case["gamma"]));
        same(got, number(&case["k"]), 1e-9, &case.to_string());
    }
}

/// The worked example of NIST/SEMATECH e-Handbook 7.2.6.3 (from memory): 43 values, 90 % with
/// 99 %. It prints 1.8752, by Natrella's approximation, which is 0.07 % off the exact factor.
#[test]
fn the_handbooks_example() {
    let example = &vector("tolerance")["nist_example"];
    let got = normal_factor(43, 0.9, 0.99);
    same(got, number(&example["k1"]), 1e-9, "exact");
    same(got, number(&example["k1_published"]), 1e-3, "published");
}

/// Wilks 1941 (from memory): which order statistic is the limit, against the binomial of scipy;
/// rank 0 where there are too few values for any.
#[test]
fn ranks_of_order_statistics() {
    for case in vector("tolerance")["order_statistic_rank"].as_array().unwrap() {
        let n = case["n"].as_u64().unwrap() as usize;
        let got = order_rank(n, number(&case["p"]), number(&case["gamma"]));
        let want = case["rank"].as_u64().unwrap() as usize;
        assert_eq!(got.unwrap_or(0), want, "{case}");
    }
}
