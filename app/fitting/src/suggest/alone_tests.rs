//! Does the dead zone hold by itself? Typed into a host that takes neither centre, smoothing nor gain
//! and looks 60 times a second, it is counted against an hour of the same invented person.

use super::{HostTakes, Suggestions, Wish, suggest};
use crate::invented::{Model, Resting, fixed_order, play};
use crate::measure::events::events;
use crate::measure::measure;
use crate::pipeline::FRAME_SECONDS;
use crate::settings::Smoothing;
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
fn the_number_alone_keeps_the_wish_on_a_host_that_takes_nothing_else() {
    let wish = Wish::default().false_per_minute;
    let (mut of, mut alone, mut with_centre, mut as_set) = (0, 0, 0, 0);
    for (seed, model, suggestions) in fitted(90_000..90_040) {
        let takes = |centre| HostTakes { centre, ..HostTakes::default() };
        let Ok(radius) = suggestions.dead_zone_for(takes(false)) else { continue };
        let centre = suggestions.settings.centre;
        let frames = hour_at_frames(&model, seed + 500);
        let keeps = |centre, radius| i32::from(per_minute(&frames, centre, radius) <= wish);
        of += 1;
        alone += keeps(Position::ORIGIN, radius);
        with_centre += keeps(centre, suggestions.dead_zone_for(takes(true)).unwrap());
        as_set += keeps(Position::ORIGIN, suggestions.settings.dead_zone);
    }
    println!("of {of}: alone {alone}, with the centre {with_centre}, as set {as_set}");
    assert!(of >= 34, "{of}");
    for kept in [alone, with_centre] {
        assert!(f64::from(kept) >= 0.85 * f64::from(of), "{kept} of {of}");
    }
    // What the others are for: the number that counts on the rest of the settings does not.
    assert!(f64::from(as_set) < 0.7 * f64::from(of), "{as_set} of {of}");
}

#[test]
fn the_less_a_host_takes_the_larger_it_is() {
    for (seed, _, suggestions) in fitted(91_000..91_012) {
        let of = |centre, smoothing, gain| {
            suggestions
                .dead_zone_for(HostTakes { centre, smoothing, gain })
                .unwrap_or(f64::INFINITY)
        };
        for gain in [false, true] {
            let (all, centre) = (of(true, true, gain), of(true, false, gain));
            let alone = of(false, false, gain);
            assert!(all <= centre && centre <= alone, "{seed}: {all} {centre} {alone}");
            assert_eq!(of(false, true, gain), alone);
        }
        if suggestions.settings.smoothing != Smoothing::Off {
            assert_eq!(of(true, true, true), suggestions.settings.dead_zone, "{seed}");
        }
    }
}
