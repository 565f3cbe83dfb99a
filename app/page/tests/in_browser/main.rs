//! Tests of the page's input, store and router in a real browser.
//!
//! Run with `cargo xtask test`, or by hand with a driver of the browser and the `wasm-bindgen` runner:
//! `cargo test -p page --target wasm32-unknown-unknown`.
#![cfg(target_arch = "wasm32")]
#![allow(
    clippy::unwrap_used,
    reason = "a test that finds nothing where something must be has failed"
)]

use wasm_bindgen_test::wasm_bindgen_test_configure;

wasm_bindgen_test_configure!(run_in_browser);

pub mod adapter;
pub mod capture;
pub mod errors;
pub mod people;
pub mod practice;
pub mod route;
pub mod saves;
pub mod script;
pub mod store;
