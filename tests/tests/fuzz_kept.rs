//! 200,000 texts from outside, changed from good ones, taken for links, short summaries, rows and
//! files: no panic, and never more than 64 MiB of memory (see `checks::fuzz::kept`). Five million are
//! tried by `cargo xtask prove outside`.

use checks::fuzz::{Came, Outside, kept};
use peak_alloc::PeakAlloc;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

const MOST_BYTES: usize = 64 << 20;

#[test]
fn any_text_from_outside_is_answered() {
    let mut maker = Outside::new(11);
    let tried = 200_000;
    let mut read = 0;
    for _ in 0..tried {
        let data = maker.make();
        let before = MEMORY.current_usage();
        MEMORY.reset_peak_usage();
        read += usize::from(kept(&data) == Came::Measured);
        let taken = MEMORY.peak_usage().saturating_sub(before);
        assert!(taken < MOST_BYTES, "{taken} bytes for {:?}", String::from_utf8_lossy(&data));
    }
    // Enough get past the checks, and enough do not.
    println!("{read} of {tried} were read");
    assert!((tried / 50..tried * 9 / 10).contains(&read), "{read} of {tried} were read");
}
