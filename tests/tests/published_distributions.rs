//! Quantiles and shares of the distributions behind every interval, against `scipy.stats`.

use checks::{number, numbers, same, vector};
use fitting::statistics::distributions::{
    chi_square_quantile, chi_square_share, deviation_factors, normal_quantile, normal_share,
    t_quantile,
};
use fitting::statistics::special::gamma_upper;

/// Student's t, tables as in any handbook (Gosset 1908).
#[test]
fn student_t_quantiles() {
    let quantiles = vector("quantiles");
    for (share, by_freedom) in quantiles["t"].as_object().unwrap() {
        for (freedom, want) in by_freedom.as_object().unwrap() {
            let got = t_quantile(share.parse().unwrap(), freedom.parse().unwrap());
            same(got, number(want), 1e-9, &format!("t {share} {freedom}"));
        }
    }
}

/// The standard normal.
#[test]
fn normal_quantiles() {
    for (share, want) in vector("quantiles")["z"].as_object().unwrap() {
        same(normal_quantile(share.parse().unwrap()), number(want), 1e-9, share);
    }
    for case in vector("distributions")["normal_share"].as_array().unwrap() {
        same(normal_share(number(&case["z"])), number(&case["p"]), 1e-9, "normal share");
    }
}

/// Chi-square, whole and broken degrees of freedom.
#[test]
fn chi_square_quantiles_and_shares() {
    for (share, want) in vector("quantiles")["chi2_2"].as_object().unwrap() {
        same(chi_square_quantile(share.parse().unwrap(), 2.0), number(want), 1e-9, share);
    }
    let distributions = vector("distributions");
    for case in distributions["chi2"].as_array().unwrap() {
        let got = chi_square_quantile(number(&case["p"]), number(&case["df"]));
        same(got, number(&case["x"]), 1e-9, &case.to_string());
    }
    for case in distributions["chi2_share"].as_array().unwrap() {
        let (x, df) = (number(&case["x"]), number(&case["df"]));
        same(chi_square_share(x, df), number(&case["p"]), 1e-9, &case.to_string());
        same(gamma_upper(0.5 * df, 0.5 * x), number(&case["above"]), 1e-9, &case.to_string());
    }
}

/// The interval of a standard deviation: factors of NIST/SEMATECH e-Handbook 1.3.5.8 (from
/// memory), values by scipy.
#[test]
fn interval_of_a_standard_deviation() {
    for (n, want) in vector("quantiles")["sd_ci95_factors"].as_object().unwrap() {
        let (low, high) = deviation_factors(n.parse::<f64>().unwrap() - 1.0);
        let want = numbers(want);
        same(low, want[0], 1e-9, n);
        same(high, want[1], 1e-9, n);
    }
}
