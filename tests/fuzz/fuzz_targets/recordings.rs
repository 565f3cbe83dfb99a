//! Any bytes, taken for recordings (see `checks::fuzz`).
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    checks::fuzz::recordings(data);
});
