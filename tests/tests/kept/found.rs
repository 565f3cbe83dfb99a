//! What was found and suggested beside rest, reach and holds, in every form.

use super::{answer, count, direction, figure, interval, on_grid, sureness};
use fitting::measure::AxisOddity;
use fitting::summary::{
    BusyFigures, BusyRestFigures, ButtonFigures, ChosenSmoothing, Coefficient, DirectionFigures,
    GateFigures, Grid, Hertz, MapFigures, OddAxisSeen, PerMinute, RateBand, ReturnFigures,
    RhythmFigures, Share, SmoothingFigures, SustainedFigures, SwitchFigures,
};
use fitting::task::Meanwhile;
use proptest::option;
use proptest::prelude::*;

pub(super) fn odd_axis() -> impl Strategy<Value = OddAxisSeen> {
    let what = prop_oneof![
        Just(AxisOddity::Dead),
        Just(AxisOddity::Stuck),
        Just(AxisOddity::NeverCentres)
    ];
    (0..32u32, what).prop_map(|(axis, what)| OddAxisSeen { axis, what })
}

pub(super) fn gate() -> impl Strategy<Value = GateFigures> {
    (on_grid(), on_grid(), 0..=8u32).prop_map(|(radius, out_of_round, directions)| GateFigures {
        radius,
        out_of_round,
        directions,
    })
}

pub(super) fn busy_rest() -> impl Strategy<Value = BusyRestFigures> {
    let meanwhile =
        prop_oneof![Just(Meanwhile::Talking), Just(Meanwhile::Watching), Just(Meanwhile::Pressing)];
    let band = interval::<PerMinute>().prop_map(|band| RateBand {
        per_minute: band.value,
        low: band.low,
        high: band.high,
    });
    let rest = (on_grid(), figure(), figure(), option::of(band)).prop_map(
        |(seconds, wander, sudden_per_minute, at_chosen)| BusyFigures {
            seconds,
            wander,
            sudden_per_minute,
            at_chosen,
        },
    );
    (meanwhile, answer(rest)).prop_map(|(meanwhile, rest)| BusyRestFigures { meanwhile, rest })
}

pub(super) fn map() -> impl Strategy<Value = MapFigures> {
    let figures = (figure(), figure(), on_grid(), figure());
    (any::<[bool; 4]>(), figures, 0..=8u32, count()).prop_map(
        |(
            [swapped, right_inverted, up_inverted, repeat_agrees],
            (turn, stretch, stretch_along, cross_talk),
            directions,
            pushes,
        )| MapFigures {
            swapped,
            right_inverted,
            up_inverted,
            turn,
            repeat_agrees,
            stretch,
            stretch_along,
            cross_talk,
            directions,
            pushes,
        },
    )
}

pub(super) fn rhythm() -> impl Strategy<Value = RhythmFigures> {
    (any::<bool>(), figure(), on_grid(), figure(), on_grid(), on_grid()).prop_map(
        |(found, frequency, resolution, amplitude, along, seconds)| RhythmFigures {
            found,
            frequency,
            resolution,
            amplitude,
            along,
            seconds,
        },
    )
}

pub(super) fn sustained() -> impl Strategy<Value = SustainedFigures> {
    (direction(), on_grid(), on_grid(), option::of(0..=10u8), figure(), figure()).prop_map(
        |(asked, level, seconds, effort, kept, drift_per_minute)| SustainedFigures {
            asked,
            level,
            seconds,
            effort,
            kept,
            drift_per_minute,
        },
    )
}

pub(super) fn back() -> impl Strategy<Value = ReturnFigures> {
    (direction(), figure(), figure(), figure()).prop_map(|(asked, time, overshoot, rests_short)| {
        ReturnFigures { asked, time, overshoot, rests_short }
    })
}

pub(super) fn button() -> impl Strategy<Value = ButtonFigures> {
    let found = (figure(), figure(), figure());
    let advised = (figure(), figure(), figure());
    (0..32u32, count(), count(), found, advised, sureness()).prop_map(
        |(
            button,
            made,
            missed,
            (length, gap, unwanted_per_minute),
            (shortest_press, bounce, repeat_delay),
            sureness,
        )| ButtonFigures {
            button,
            made,
            missed,
            length,
            gap,
            unwanted_per_minute,
            shortest_press,
            bounce,
            repeat_delay,
            sureness,
        },
    )
}

pub(super) fn direction_advice() -> impl Strategy<Value = DirectionFigures> {
    (sureness(), on_grid(), any::<[bool; 2]>(), option::of(on_grid()), option::of(on_grid()))
        .prop_map(
            |(sureness, turn, [turns, repeat_wanted], levelling_gain, dead_zone_with_gain)| {
                DirectionFigures {
                    sureness,
                    turn,
                    turns,
                    repeat_wanted,
                    levelling_gain,
                    dead_zone_with_gain,
                }
            },
        )
}

pub(super) fn smoothing_advice() -> impl Strategy<Value = SmoothingFigures> {
    let chosen = prop_oneof![
        Just(ChosenSmoothing::Off),
        (0.1..=60.0f64, on_grid::<Coefficient>()).prop_map(|(cutoff, speed_coefficient)| {
            ChosenSmoothing::OneEuro { cutoff: Hertz::of(cutoff), speed_coefficient }
        }),
    ];
    let zones = (option::of(on_grid()), option::of(on_grid()));
    (chosen, sureness(), figure(), on_grid(), zones).prop_map(
        |(chosen, sureness, jitter_left, lag, (dead_zone_without, dead_zone_with))| {
            SmoothingFigures {
                chosen,
                sureness,
                jitter_left,
                lag,
                dead_zone_without,
                dead_zone_with,
            }
        },
    )
}

pub(super) fn switch_advice() -> impl Strategy<Value = SwitchFigures> {
    let thresholds = (0.0..=1.5f64, 0.0..=1.0f64, on_grid());
    (thresholds, sureness(), direction(), on_grid(), interval()).prop_map(
        |((on, share, shortest), sureness, weakest, weakest_reach, false_per_minute)| {
            SwitchFigures {
                on: Share::of(on),
                off: Share::of(on * share),
                shortest,
                sureness,
                weakest,
                weakest_reach,
                false_per_minute,
            }
        },
    )
}
