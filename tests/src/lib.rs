//! Help shared by the published checks and whole runs.

#![forbid(unsafe_code)]
#![allow(clippy::expect_used, reason = "help for tests: a missing vector must end the test")]

pub mod accuracy;
#[cfg(not(target_arch = "wasm32"))]
pub mod fuzz;
#[cfg(not(target_arch = "wasm32"))]
pub mod plans;

use serde_json::Value;

/// The reference vector of this name in `tests/vectors`.
///
/// # Panics
///
/// When there is none, or it is not JSON.
#[must_use]
pub fn vector(name: &str) -> Value {
    let path = format!("{}/vectors/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the vector is committed");
    serde_json::from_str(&text).expect("vectors are JSON")
}

/// A number of a vector.
///
/// # Panics
///
/// When it is not one.
#[must_use]
pub fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number stands here")
}

/// A list of numbers of a vector.
///
/// # Panics
///
/// When it is not one.
#[must_use]
pub fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list stands here").iter().map(number).collect()
}

/// Fails unless `got` is `want` within `relative` of its size (or, where 0 is wanted, within
/// `relative` itself).
///
/// # Panics
///
/// When it is not.
pub fn same(got: f64, want: f64, relative: f64, what: &str) {
    let bound = if want == 0.0 { relative } else { relative * want.abs() };
    assert!((got - want).abs() <= bound, "{what}: {got} is not {want}");
}
