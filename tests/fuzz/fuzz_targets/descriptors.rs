//! Any bytes, taken for report descriptors (see `checks::fuzz`).
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    checks::fuzz::descriptors(data);
});
