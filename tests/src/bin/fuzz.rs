//! `fuzz SECONDS [SEED]`: random bytes and changed good files, for so long, taken for recordings.
//! `fuzz descriptors COUNT [SEED]`: so many of them, taken for report descriptors. `fuzz outside COUNT
//! [SEED]`: so many texts, taken for links, short summaries, rows and files. All end in one line of
//! JSON with how many were tried and how many were read, the slowest, and the most memory one took.
//!
//! A stand-in for a fuzzer that follows branches: it needs no toolchain of its own, and starts
//! from files that are read, so that most changes get past the first check.

#![forbid(unsafe_code)]

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    run::run();
}

#[cfg(target_arch = "wasm32")]
fn main() {}

#[cfg(not(target_arch = "wasm32"))]
mod run {
    use checks::fuzz::{Came, Chance, Maker, Outside, descriptors, kept, recordings};
    use fitting::exchange::csv;
    use fitting::invented::{Invented, fixed_order, play};
    use fitting::summary::{Envelope, TaskBody};
    use peak_alloc::PeakAlloc;
    use std::time::{Duration, Instant};

    #[global_allocator]
    static MEMORY: PeakAlloc = PeakAlloc;

    pub(super) fn run() {
        let mut words = std::env::args().skip(1).peekable();
        let of = words.next_if(|word| ["descriptors", "outside"].contains(&word.as_str()));
        let mut number =
            |otherwise: u64| words.next().and_then(|word| word.parse().ok()).unwrap_or(otherwise);
        let (most, seed) = (number(60), number(1));
        let end = |tried: u64| tried == most;
        if of.as_deref() == Some("descriptors") {
            let mut maker = Maker::new(seed);
            try_all("descriptors", seed, end, descriptors, || maker.make());
        } else if of.is_some() {
            let mut maker = Outside::new(seed);
            try_all("outside", seed, end, kept, || maker.make());
        } else {
            let good = good_files();
            let mut chance = Chance(seed);
            let until = Instant::now() + Duration::from_secs(most);
            let end = |_: u64| Instant::now() >= until;
            try_all("recordings", seed, end, recordings, || one(&good, &mut chance));
        }
    }

    fn try_all(
        what: &str,
        seed: u64,
        end: impl Fn(u64) -> bool,
        check: fn(&[u8]) -> Came,
        mut make: impl FnMut() -> Vec<u8>,
    ) {
        let (mut tried, mut measured) = (0_u64, 0_u64);
        let mut slowest = Duration::ZERO;
        let mut largest = 0;
        while !end(tried) {
            let data = make();
            let before = MEMORY.current_usage();
            MEMORY.reset_peak_usage();
            let began = Instant::now();
            // What breaks a promise is left for a look before it ends the run.
            let came = std::panic::catch_unwind(|| check(&data));
            slowest = slowest.max(began.elapsed());
            largest = largest.max(MEMORY.peak_usage().saturating_sub(before));
            match came {
                Ok(Came::Measured) => measured += 1,
                Ok(Came::Refused) => {}
                Err(_) => {
                    let place = std::env::temp_dir().join(format!("{what}-{seed}-{tried}.bin"));
                    let kept = std::fs::write(&place, &data);
                    eprintln!("The bytes lie in {} ({kept:?}).", place.display());
                    std::process::exit(1);
                }
            }
            tried += 1;
        }
        let slowest = slowest.as_micros();
        println!(
            "{{\"tried\":{tried},\"measured\":{measured},\"slowest_us\":{slowest},\"largest_bytes\":{largest}}}"
        );
    }

    /// Files that are read, cut short enough to be measured many times a second.
    fn good_files() -> Vec<Vec<u8>> {
        let mut good = Vec::new();
        for (seed, invented) in (1..).zip([Invented::RhythmicMovement, Invented::SuddenJerks]) {
            for mut record in play(invented.model(), seed, &fixed_order(15), 0.016) {
                record.recording.samples.truncate(400);
                record.repetitions.truncate(12);
                let tagged = |way: u8, text: String| [&[way], text.as_bytes()].concat();
                good.push(tagged(0, csv::write(&record)));
                let (fitting, started_epoch_ms) = ("f".to_owned(), 0);
                let body =
                    TaskBody { fitting, order: 0, started_epoch_ms, series: 0, site: None, record };
                if let Ok(json) = Envelope::new("t", 0, body).to_json() {
                    good.push(tagged(0, json.clone()));
                    good.push(tagged(1, json));
                }
            }
        }
        for (way, text) in [
            (1, include_str!("../../golden/summary-1.json")),
            (1, include_str!("../../golden/summary-2.json")),
            (1, include_str!("../../golden/fitting-1.json")),
            (1, include_str!("../../golden/fitting-2.json")),
            (1, include_str!("../../golden/task-1.json")),
            (2, include_str!("../../golden/link-1.txt").trim_end()),
            (2, include_str!("../../golden/link-2.txt").trim_end()),
        ] {
            good.push([&[way], text.as_bytes()].concat());
        }
        good
    }

    /// Numbers that break what is not prepared for them.
    const ODD: [&str; 12] =
        ["0", "-0", "1e308", "-1e308", "1e-320", "NaN", "inf", "8", "-8", "4294967296", "0.5", ""];

    fn one(good: &[Vec<u8>], chance: &mut Chance) -> Vec<u8> {
        if chance.below(3) == 0 {
            // Raw numbers, all of them or with a stretch that stands still.
            let mut data: Vec<u8> = (0..6_000).map(|_| chance.below(256) as u8).collect();
            data[0] = 3;
            if chance.below(2) == 0 {
                let from = chance.below(data.len());
                let to = from + chance.below(data.len() - from);
                data[from.max(1)..to.max(1)].fill(chance.below(256) as u8);
            }
            return data;
        }
        let mut data = good[chance.below(good.len())].clone();
        for _ in 0..1 + chance.below(4) {
            change(&mut data, chance);
        }
        data
    }

    fn change(data: &mut Vec<u8>, chance: &mut Chance) {
        let at = 1 + chance.below(data.len().saturating_sub(1));
        match chance.below(5) {
            0 => {
                if let Some(byte) = data.get_mut(at) {
                    *byte = chance.below(256) as u8;
                }
            }
            1 => data.truncate(at),
            2 => {
                let to = (at + chance.below(200)).min(data.len());
                let part = data[at.min(to)..to].to_vec();
                let place = 1 + chance.below(data.len().saturating_sub(1));
                data.splice(place..place, part);
            }
            // A number as it stands in text, for another one.
            _ => {
                let numeric =
                    |byte: u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'e');
                let from =
                    (at..data.len()).find(|place| numeric(data[*place])).unwrap_or(data.len());
                let to =
                    (from..data.len()).find(|place| !numeric(data[*place])).unwrap_or(data.len());
                let odd = if chance.below(2) == 0 {
                    ODD[chance.below(ODD.len())].to_owned()
                } else {
                    (chance.below(4_000) as f64 / 1_000.0 - 2.0).to_string()
                };
                data.splice(from..to, odd.into_bytes());
            }
        }
    }
}
