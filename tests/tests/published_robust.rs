//! Robust location, scale and drift; dependence in time; tails.

use checks::{number, numbers, same, vector};
use fitting::statistics::dependence::lag_one;
use fitting::statistics::distributions::normal_quantile;
use fitting::statistics::lines::theil_sen_of_groups;
use fitting::statistics::plain::{
    NORMAL_MEDIAN_DEVIATION, mean_interval, median, median_deviation, quantile,
};
use fitting::statistics::tails::share_above;

/// Hampel 1974; quantiles of type 7, Hyndman and Fan 1996: numpy and scipy.
#[test]
fn robust_scale() {
    let robust = vector("robust");
    let values = numbers(&robust["y"]);
    same(median(&values).unwrap(), number(&robust["median"]), 1e-9, "median");
    let deviation = median_deviation(&values).unwrap();
    same(deviation, number(&robust["mad_raw"]), 1e-9, "median deviation");
    let scaled = NORMAL_MEDIAN_DEVIATION * deviation;
    same(scaled, number(&robust["mad_normal"]), 1e-9, "scaled");
    same(NORMAL_MEDIAN_DEVIATION, number(&robust["normal_scale_const"]), 1e-12, "constant");
    for (percent, want) in robust["pct_type7"].as_object().unwrap() {
        let share = percent.parse::<f64>().unwrap() / 100.0;
        same(quantile(&values, share).unwrap(), number(want), 1e-9, percent);
    }
}

/// Sen 1968, equation 2.6: scipy.stats.theilslopes.
#[test]
fn drift_by_theil_sen() {
    let drift = vector("drift");
    let points: Vec<(f64, f64)> =
        numbers(&drift["t"]).into_iter().zip(numbers(&drift["y"])).collect();
    let line = theil_sen_of_groups(&[points], 1.0, normal_quantile(0.975)).unwrap();
    let want = &drift["theil_sen"];
    same(line.slope, number(&want["slope"]), 1e-9, "slope");
    same(line.low, number(&want["lo"]), 1e-9, "low");
    same(line.high, number(&want["hi"]), 1e-9, "high");
}

/// Bartlett 1946 for a first-order autoregressive series of 300 with coefficient 0.8.
#[test]
fn correlation_of_neighbours() {
    let series = vector("ar1_neff");
    same(lag_one(&numbers(&series["x"])), number(&series["lag1"]), 1e-9, "lag 1");
}

/// The t interval of a mean of ten: scipy.stats.t.interval.
#[test]
fn t_interval_of_a_mean() {
    let (low, high) =
        mean_interval(&[0.11, 0.14, 0.09, 0.20, 0.13, 0.12, 0.17, 0.10, 0.15, 0.31]).unwrap();
    // Six digits, as printed in the collection of check values.
    assert!((low - 0.105_787).abs() < 1e-6 && (high - 0.198_213).abs() < 1e-6);
}

/// Before and after on the same occasions: the t interval of the mean difference, by
/// `scipy.stats.ttest_rel`.
#[test]
fn t_interval_of_paired_differences() {
    let want = vector("paired");
    let differences: Vec<f64> = numbers(&want["post"])
        .iter()
        .zip(numbers(&want["pre"]))
        .map(|(after, before)| after - before)
        .collect();
    let (low, high) = mean_interval(&differences).unwrap();
    let ends = numbers(&want["ci95"]);
    same(low, ends[0], 1e-9, "low");
    same(high, ends[1], 1e-9, "high");
    let deviation = fitting::statistics::plain::deviation(&differences).unwrap();
    same(deviation, number(&want["sd_diff"]), 1e-9, "deviation");
}

/// The generalised Pareto distribution (Pickands 1975): scipy.stats.genpareto.sf.
#[test]
fn generalised_pareto_shares() {
    for case in vector("genpareto")["cases"].as_array().unwrap() {
        let got =
            share_above(number(&case["above"]), number(&case["shape"]), number(&case["scale"]));
        let want = number(&case["share"]);
        assert!((got - want).abs() <= 1e-9 * want.max(1e-300), "{case}: {got}");
    }
}
