//! Whether invented people steer better with the suggested settings than with plain ones.
//!
//! The task is ours (`fitting::invented`, a slow target followed with given settings), and so are the
//! people: it tells whether settings work together, not how anybody plays. The seeds are of no other
//! test.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

use fitting::Settings;
use fitting::invented::{Invented, Model, fixed_order, play};
use fitting::measure::measure;
use fitting::suggest::{Wish, suggest};

/// What is set without measuring: a tenth of travel, and nearly all of it. Common practice, no source.
fn plain() -> Settings {
    Settings { dead_zone: 0.1, full_throw: 0.95, ..Settings::default() }
}

/// The error with the suggested settings as a share of that with plain ones, and of that with the stick
/// as it is; nothing where no dead zone or no full throw is suggested.
fn shares(model: &Model, seed: u64) -> Option<[f64; 2]> {
    let records = play(model.clone(), seed, &fixed_order(15), 0.004);
    let suggestions = suggest(&records, &measure(&records), Wish::default());
    let is_whole = suggestions.dead_zone.is_ok() && suggestions.full_throw.is_ok();
    let error = |settings: &Settings| model.steering_error(settings, seed + 1_000);
    let ours = error(&suggestions.settings);
    is_whole.then(|| [ours / error(&plain()), ours / error(&Settings::default())])
}

/// The geometric mean.
fn middle(shares: &[f64]) -> f64 {
    libm::exp(shares.iter().map(|share| libm::log(*share)).sum::<f64>() / shares.len() as f64)
}

#[test]
fn suggested_settings_steer_better_than_plain_ones() {
    let named = Invented::ALL.into_iter().map(|one| (format!("{one:?}"), one.model(), 41));
    let drawn = (7_310_000..7_310_020).map(|seed| (format!("{seed}"), Model::random(seed), seed));
    let (mut beside_plain, mut beside_none, mut without) = (Vec::new(), Vec::new(), 0);
    for (who, model, seed) in named.chain(drawn) {
        let Some([plain, none]) = shares(&model, seed) else {
            println!("{who}: nothing to set");
            without += 1;
            continue;
        };
        println!("{who}: {plain:.2} of plain settings, {none:.2} of none");
        beside_plain.push(plain);
        beside_none.push(none);
    }
    let worst = beside_plain.iter().copied().fold(0.0, f64::max);
    let (plain, none) = (middle(&beside_plain), middle(&beside_none));
    println!(
        "{plain:.3} of plain settings ({worst:.2} at worst), {none:.3} of none; {without} without"
    );
    assert!(beside_plain.len() >= 15, "{without} without");
    assert!(plain < 0.7 && none < 0.7, "{plain} {none}");
    // Known shortfall, which may not get worse: nobody should steer worse than with plain settings. For
    // one of these people rest and a hold that was hard leave 26 % of travel in between.
    assert!(worst < 1.35, "{worst}");
}
