//! Does the dead zone hold by itself? Typed into a host that takes neither centre, smoothing nor gain
//! and looks 60 times a second, it is counted against an hour of the same invented person.

use super::{Suggestions, Wish, suggest};
use crate::estimate::NotEnough;
use crate::invented::{Model, Resting, fixed_order, play};
use crate::measure::events::events;
use crate::measure::measure;
use crate::measure::test_records::{quiet_rest, recording};
use crate::pipeline::FRAME_SECONDS;
use crate::{Position, Span};

const HOUR_SECONDS: f64 = 3600.0;

/// An hour of rest, without sudden movements, as a host sees it that looks at each frame.
fn hour_at_frames(model: &Model, seed: u64) -> Vec<Position> {
    let mut frames = Vec::new();
    let mut place = Position::ORIGIN;
    for (at, next) in model.clone().without_jerks().rest_path(Resting::Quiet, HOUR_SECONDS, seed) {
        while (frames.len() as f64) * FRAME_SECONDS < at {
            frames.push(place);
        }
        place = next;
    }
    frames
}

/// False movements a minute that a dead zone about `centre` lets through.
fn per_minute(frames: &[Position], centre: Position, radius: f64) -> f64 {
    let hour = frames.iter().enumerate().map(|(i, at)| {
        let from_seconds = i as f64 * FRAME_SECONDS;
        let span = Span { from_seconds, to_seconds: (i + 1) as f64 * FRAME_SECONDS };
        (span, (*at - centre).radius() > radius)
    });
    60.0 * events(hour).len() as f64 / HOUR_SECONDS
}

/// People and what was suggested to them, where a dead zone was.
fn fitted(seeds: std::ops::Range<u64>) -> impl Iterator<Item = (u64, Model, Suggestions)> {
    seeds.filter_map(|seed| {
        let model = Model::random(seed);
        let records = play(model.clone(), seed, &fixed_order(10), 0.004);
        let suggestions = suggest(&records, &measure(&records), Wish::default());
        suggestions.dead_zone.is_ok().then_some((seed, model, suggestions))
    })
}

#[test]
fn the_number_that_stands_alone_keeps_the_wish_on_a_host_that_takes_nothing_else() {
    let wish = Wish::default().false_per_minute;
    let (mut of, mut alone, mut with_all, mut counts_on_the_rest) = (0, 0, 0, 0);
    for (seed, model, suggestions) in fitted(90_000..90_040) {
        let frames = hour_at_frames(&model, seed + 500);
        let keeps = |radius| i32::from(per_minute(&frames, Position::ORIGIN, radius) <= wish);
        of += 1;
        counts_on_the_rest += i32::from(suggestions.dead_zone_alone.is_some());
        let named = suggestions.settings.dead_zone;
        alone += match suggestions.dead_zone_alone {
            None => keeps(named),
            Some(radius) => radius.map_or(0, keeps),
        };
        with_all += keeps(suggestions.dead_zone_with_all.unwrap().radius.value);
    }
    println!(
        "of {of}: alone {alone}, the one with all settings {with_all}; {counts_on_the_rest} count on them"
    );
    assert!(of >= 34, "{of}");
    assert!(f64::from(alone) >= 0.9 * f64::from(of), "{alone} of {of}");
    // What it is for: the number that counts on the rest of the settings does not.
    assert!(f64::from(with_all) < 0.7 * f64::from(of), "{with_all} of {of}");
}

/// Where nothing else leaves room to steer in, the number counts on the rest of the settings, and says
/// what it would be alone.
#[test]
fn the_smaller_number_is_named_only_where_the_other_leaves_no_room() {
    let (mut alone, mut with_all) = (0, 0);
    for (seed, _, suggestions) in fitted(91_000..91_050) {
        let named = suggestions.dead_zone.unwrap().radius.value;
        assert_eq!(named, suggestions.settings.dead_zone, "{seed}");
        let with = suggestions.dead_zone_with_all.unwrap().radius.value;
        assert!(with <= named, "{seed}: {with} {named}");
        let Some(one) = suggestions.dead_zone_alone else {
            alone += 1;
            continue;
        };
        with_all += 1;
        assert_eq!(named, with, "{seed}");
        let Ok(one) = one else { continue };
        assert!(one > with, "{seed}: {with} {one}");
        let full_throw = suggestions.full_throw.unwrap().radius.value;
        assert!(full_throw - with >= 0.15, "{seed}: {full_throw} {one}");
    }
    assert!(alone >= 20 && with_all >= 2, "{alone} {with_all}");
}

/// A hand that rests far beside the middle: no dead zone about the middle keeps it, one about the resting
/// place does.
#[test]
fn where_no_number_holds_alone_the_one_about_the_resting_place_is_named() {
    let wave = |hertz: f64, at: f64| libm::sin(std::f64::consts::TAU * hertz * at);
    let path = |at: f64| {
        let right = wave(0.31, at) + wave(0.83, at + 0.2) + 0.7 * wave(2.3, at);
        let up = wave(0.27, at + 1.0) + wave(0.71, at) + 0.7 * wave(2.1, at + 0.1);
        Position::new(0.9 + 0.01 * right, 0.01 * up)
    };
    let rest = [quiet_rest(recording(0.0, 61.0, 100.0, false, path))];
    let suggestions = suggest(&rest, &measure(&rest), Wish::default());
    assert_eq!(suggestions.dead_zone_alone, Some(Err(NotEnough::OutOfRange)));
    let with = suggestions.dead_zone_with_all.unwrap().radius.value;
    assert!(with > 0.02 && with < 0.1, "{with}");
    assert_eq!(suggestions.settings.dead_zone, with);
    assert_eq!(suggestions.dead_zone.unwrap().radius.value, with);
}
