//! The same bits everywhere: ten whole analyses, natively and in WebAssembly, against one golden
//! file.
//!
//! Run natively with `UPDATE_GOLDEN=1` to write the file anew after a wanted change of the core.
//! Nobody's published figures are checked here, only that one program gives the same numbers on
//! every machine.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

use fitting::invented::{Invented, Model, Player, fixed_order, play};
use fitting::measure::measure;
use fitting::settings::{Curve, Settings, Shape};
use fitting::suggest::{Prepared, Wish, suggest};
use fitting::task::TaskRecord;
use fitting::{Position, Sample};
use serde::{Deserialize, Serialize};
use std::fmt::Debug;

#[cfg(target_arch = "wasm32")]
wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_browser);

const GOLDEN: &str = include_str!("../golden/analyses.json");

#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
struct Golden {
    player: Vec<PlayerHash>,
    analyses: Vec<Analysis>,
}

/// The first thousand states of one player.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
struct PlayerHash {
    who: String,
    states: String,
}

/// One whole analysis: a hash of every stage, and how many numbers went into it.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
struct Analysis {
    who: String,
    samples: Stage,
    records: Stage,
    measures: Stage,
    suggestions: Stage,
    effects: Stage,
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
struct Stage {
    numbers: usize,
    hash: String,
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923, from memory).
struct Hash {
    state: u64,
    numbers: usize,
}

impl Hash {
    const fn new() -> Self {
        Self { state: 0xcbf2_9ce4_8422_2325, numbers: 0 }
    }

    fn bytes(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.state = (self.state ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    fn number(&mut self, number: f64) {
        assert!(!number.is_nan(), "no NaN leaves the core");
        self.bytes(&number.to_bits().to_le_bytes());
        self.numbers += 1;
    }

    fn sample(&mut self, sample: &Sample) {
        self.number(sample.arrival_seconds);
        sample.axes.iter().chain(&sample.buttons).for_each(|value| self.number(*value));
    }

    /// Every number in any value, in order. What `{:?}` prints of a number reads back to the same
    /// bits, so this misses no field, whichever are added.
    fn all_of(&mut self, value: &impl Debug) {
        let text = format!("{value:?}");
        assert!(!text.contains("NaN"), "no NaN leaves the core: {text}");
        let is_part =
            |one: char| one.is_ascii_alphanumeric() || matches!(one, '.' | '-' | '+' | '_');
        for word in text.split(|one| !is_part(one)) {
            if let Ok(number) = word.parse::<f64>() {
                self.number(number);
            } else {
                self.bytes(word.as_bytes());
            }
        }
    }

    fn stage(self) -> Stage {
        Stage { numbers: self.numbers, hash: format!("{:016x}", self.state) }
    }
}

fn stage(value: &impl Debug) -> Stage {
    let mut hash = Hash::new();
    hash.all_of(value);
    hash.stage()
}

fn analyse(who: String, model: Model, seed: u64, minutes: u32) -> Analysis {
    let records = play(model, seed, &fixed_order(minutes), 0.004);
    let mut samples = Hash::new();
    for record in &records {
        record.recording.samples.iter().for_each(|sample| samples.sample(sample));
    }
    let without_samples: Vec<TaskRecord> = records
        .iter()
        .map(|record| {
            let mut record = record.clone();
            record.recording.samples.clear();
            record
        })
        .collect();
    let measures = measure(&records);
    let suggestions = suggest(&records, &measures, Wish::default());
    let prepared = Prepared::new(&records, &measures);
    let moved = Settings {
        centre: Position::new(0.01, -0.02),
        dead_zone: 0.11,
        full_throw: 0.73,
        shape: Shape::PerAxis,
        curve: Curve::Exponent(1.7),
        ..Settings::default()
    };
    let effects = [prepared.effect(&suggestions.settings), prepared.effect(&moved)];
    Analysis {
        who,
        samples: samples.stage(),
        records: stage(&without_samples),
        measures: stage(&measures),
        suggestions: stage(&suggestions),
        effects: stage(&effects),
    }
}

fn analyses() -> Vec<Analysis> {
    let visits = [
        (Invented::SteadyHand, 1, 3, None),
        (Invented::RhythmicMovement, 2, 3, None),
        (Invented::ShortToOneSide, 3, 6, None),
        (Invented::SuddenJerks, 4, 6, None),
        (Invented::SteadyHand, 5, 10, None),
        (Invented::RhythmicMovement, 6, 10, None),
        (Invented::ShortToOneSide, 7, 10, None),
        (Invented::SuddenJerks, 8, 15, None),
        (Invented::SteadyHand, 9, 6, Some(8)),
        (Invented::RhythmicMovement, 10, 6, Some(16)),
    ];
    let analyses = visits.into_iter().map(|(invented, seed, minutes, hidden)| {
        let model = match hidden {
            None => invented.model(),
            Some(bits) => invented.model().behind_hidden_middle(bits),
        };
        let hidden = hidden.map_or(String::new(), |bits| format!(", hidden middle at {bits} bits"));
        let who = format!("{invented:?}, seed {seed}, {minutes} minutes{hidden}");
        analyse(who, model, seed, minutes)
    });
    analyses.collect()
}

fn players() -> Vec<PlayerHash> {
    let players = Invented::ALL.into_iter().map(|invented| {
        let mut player = Player::new(invented.model(), 77);
        let mut hash = Hash::new();
        let (mut states, mut polls) = (0, 0_u32);
        while states < 1000 {
            if let Some(sample) = player.advance(f64::from(polls) * 0.004, None) {
                hash.sample(&sample);
                states += 1;
            }
            polls += 1;
            assert!(polls < 100_000, "{invented:?} moves");
        }
        PlayerHash { who: format!("{invented:?}, seed 77"), states: hash.stage().hash }
    });
    players.collect()
}

fn golden() -> Golden {
    serde_json::from_str(GOLDEN).expect("the golden file can be read")
}

/// Whether the golden file is to be written anew; a page has no environment to say so in.
fn is_to_be_written() -> bool {
    cfg!(not(target_arch = "wasm32")) && std::env::var_os("UPDATE_GOLDEN").is_some()
}

#[cfg_attr(not(target_arch = "wasm32"), test)]
#[cfg_attr(target_arch = "wasm32", wasm_bindgen_test::wasm_bindgen_test)]
fn ten_whole_analyses_give_the_same_bits() {
    if is_to_be_written() {
        let golden = Golden { player: players(), analyses: analyses() };
        let text = serde_json::to_string_pretty(&golden).expect("plain data") + "\n";
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/golden/analyses.json");
        return std::fs::write(path, text).expect("the golden file can be written");
    }
    let (now, golden) = (analyses(), golden().analyses);
    assert_eq!(now.len(), 10);
    assert_eq!(golden.len(), 10);
    for (now, golden) in now.iter().zip(&golden) {
        assert!(now.samples.numbers > 10_000 && now.measures.numbers > 50, "{now:?}");
        assert_eq!(now, golden);
    }
}

#[cfg_attr(not(target_arch = "wasm32"), test)]
#[cfg_attr(target_arch = "wasm32", wasm_bindgen_test::wasm_bindgen_test)]
fn the_first_thousand_states_of_each_player_are_the_same_bits() {
    if is_to_be_written() {
        return; // The test above writes both.
    }
    assert_eq!(players(), golden().player);
}

/// FNV-1a's test vectors as its authors publish them (64 bits; from memory).
#[cfg_attr(not(target_arch = "wasm32"), test)]
#[cfg_attr(target_arch = "wasm32", wasm_bindgen_test::wasm_bindgen_test)]
fn the_hash_is_the_published_one_and_sees_every_bit() {
    let of = |bytes: &[u8]| {
        let mut hash = Hash::new();
        hash.bytes(bytes);
        hash.state
    };
    assert_eq!(of(b""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(of(b"a"), 0xaf63_dc4c_8601_ec8c);
    assert_eq!(of(b"foobar"), 0x8594_4171_f739_67e8);
    let next = f64::from_bits(0.1_f64.to_bits() + 1);
    assert_ne!(stage(&Some(0.1)), stage(&Some(next)));
    assert_ne!(stage(&0.0), stage(&-0.0));
    assert_eq!(stage(&[1e-300, -2.5e17]).numbers, 2);
}
