//! Kept things of every form, for the tests of what is kept and shared.
#![allow(dead_code, reason = "each test file uses its own part")]

pub(crate) mod devices;
mod found;
pub(crate) mod visit;

use fitting::estimate::{StickTrait, Sureness};
use fitting::measure::AxisOddity;
use fitting::position::Direction;
use fitting::settings::{ButtonTiming, Curve, DirectionMap, Shape, Smoothing, SwitchThresholds};
use fitting::stick_kind::{Mover, Moves, StickKind};
use fitting::suggest::{FullThrowSource, Wish};
use fitting::summary::{
    Answer, BusyFigures, BusyRestFigures, ButtonFigures, ChosenCurve, ChosenDirection, ChosenFor,
    ChosenSettings, ChosenSmoothing, ChosenSwitches, ChosenTiming, Coefficient, CurveFigures,
    DeadZoneFigures, Degrees, DeviceSeen, DirectionFigures, EffectFigures, Envelope, Exponent,
    Figure, FittingBody, FullThrowFigures, Gain, GateFigures, Grid, Hertz, Interval, JitterLevel,
    Lacking, MapFigures, Moment, OddAxisSeen, PerMinute, Place, RateBand, RateStep, ReachFigures,
    ReachLeft, RestFigures, ReturnFigures, RhythmFigures, Seconds, Share, SmoothingFigures, Spread,
    Steadiness, StickFigures, Summary, SummaryBody, SustainedFigures, SwitchFigures, TaskBody,
    ThrowBy, WeakestLeft, plain_text,
};
use fitting::task::{
    Asking, CueKind, Known, KnownReach, MarkReason, Meanwhile, Outcome, PressAsk, Repetition,
    TaskAsk, TaskRecord,
};
use fitting::{Position, Recording, Sample, Settings, Span, StickAxes};
use proptest::collection::{btree_map, vec};
use proptest::option;
use proptest::prelude::*;

/// Any point of a grid, near ones more often.
pub(crate) fn on_grid<G: Grid + std::fmt::Debug + 'static>() -> BoxedStrategy<G> {
    prop_oneof![-1.0..1.0f64, -1000.0..1000.0f64, Just(1e9), Just(-1e9)].prop_map(G::of).boxed()
}

fn count() -> impl Strategy<Value = u32> {
    prop_oneof![0..20u32, 0..=10_000u32]
}

fn interval<G: Grid + std::fmt::Debug + 'static>() -> impl Strategy<Value = Interval<G>> {
    ([on_grid::<G>(), on_grid::<G>(), on_grid::<G>()], on_grid(), count()).prop_map(
        |(mut ends, seconds, repetitions)| {
            ends.sort_by(|a, b| a.get().total_cmp(&b.get()));
            let [low, value, high] = ends;
            Interval { value, low, high, seconds, repetitions }
        },
    )
}

fn lacking() -> impl Strategy<Value = Lacking> {
    prop_oneof![
        Just(Lacking::NothingRecorded),
        Just(Lacking::DoesNotApply),
        Just(Lacking::Hidden),
        Just(Lacking::NotFor(StickTrait::OneWay)),
        Just(Lacking::NotDone),
        Just(Lacking::Unsettled),
        Just(Lacking::OutOfRange),
        (on_grid(), on_grid()).prop_map(|(have, need)| Lacking::Seconds { have, need }),
        (count(), count()).prop_map(|(have, need)| Lacking::Repetitions { have, need }),
    ]
}

fn answer<T: std::fmt::Debug + Clone + 'static>(
    known: impl Strategy<Value = T> + 'static,
) -> BoxedStrategy<Answer<T>> {
    prop_oneof![3 => known.prop_map(Answer::Known), 1 => lacking().prop_map(Answer::NotEnough)]
        .boxed()
}

fn figure<G: Grid + std::fmt::Debug + 'static>() -> BoxedStrategy<Figure<G>> {
    answer(interval())
}

fn place() -> impl Strategy<Value = Place> {
    (on_grid(), on_grid()).prop_map(|(right, up)| Place { right, up })
}

fn unit() -> impl Strategy<Value = Share> {
    (0.0..=1.0f64).prop_map(Share::of)
}

fn direction() -> impl Strategy<Value = Direction> {
    proptest::sample::select(Direction::EIGHT.to_vec())
}

fn sureness() -> impl Strategy<Value = Sureness> {
    prop_oneof![Just(Sureness::NotEnough), Just(Sureness::Rough), Just(Sureness::Firm)]
}

fn shape() -> impl Strategy<Value = Shape> {
    prop_oneof![Just(Shape::Radial), Just(Shape::PerAxis)]
}

/// A list with keys that rise and come once.
fn by_key<T: std::fmt::Debug + Clone + 'static, K: Ord + 'static>(
    one: impl Strategy<Value = T> + 'static,
    most: usize,
    key: impl Fn(&T) -> K + Copy + 'static,
) -> BoxedStrategy<Vec<T>> {
    vec(one, 0..=most)
        .prop_map(move |mut list| {
            list.sort_by_key(key);
            list.dedup_by_key(|entry| key(entry));
            list
        })
        .boxed()
}

fn device() -> impl Strategy<Value = DeviceSeen> {
    (text(20), 0..=32u32, 0..=32u32, any::<bool>())
        .prop_map(|(name, axes, buttons, standard)| DeviceSeen { name, axes, buttons, standard })
}

/// Plain text of at most so many characters, of any script.
fn text(most: usize) -> impl Strategy<Value = String> {
    any::<String>().prop_map(move |text| plain_text(&text, most))
}

fn practised() -> impl Strategy<Value = Option<String>> {
    option::of("[a-z0-9_-]{1,24}")
}

fn stick() -> impl Strategy<Value = StickFigures> {
    let seen = (figure(), option::of(on_grid()), option::of(on_grid()), any::<bool>());
    let odd = by_key(found::odd_axis(), 8, |odd| odd.axis);
    let more = (figure(), figure(), answer(found::gate()), option::of(on_grid()), odd);
    (seen, more).prop_map(
        |(
            (noise, step, hidden_middle, still_middle),
            (drift_per_minute, sag, gate, early_full, odd_axes),
        )| StickFigures {
            noise,
            step,
            hidden_middle,
            still_middle,
            drift_per_minute,
            sag,
            gate,
            early_full,
            odd_axes,
        },
    )
}

fn rate_step() -> impl Strategy<Value = RateStep> {
    (on_grid::<Share>(), on_grid(), interval::<PerMinute>(), any::<bool>()).prop_map(
        |(radius, counted, band, from_model)| RateStep {
            radius: Share::of(radius.get().abs()),
            counted,
            per_minute: band.value,
            low: band.low,
            high: band.high,
            from_model,
        },
    )
}

fn rest() -> impl Strategy<Value = RestFigures> {
    let curve = by_key(rate_step(), 16, |step| step.radius);
    (on_grid(), place(), figure(), figure(), curve, count(), figure()).prop_map(
        |(seconds, centre, offset, wander, curve, sudden, sudden_per_minute)| RestFigures {
            seconds,
            centre,
            offset,
            wander,
            curve,
            sudden,
            sudden_per_minute,
        },
    )
}

fn reach() -> impl Strategy<Value = ReachFigures> {
    (direction(), figure(), option::of(place()), figure()).prop_map(
        |(asked, reach, end, degrees_off)| ReachFigures { asked, reach, end, degrees_off },
    )
}

fn steadiness() -> impl Strategy<Value = Steadiness> {
    (on_grid(), on_grid(), figure(), any::<bool>()).prop_map(
        |(level, radius, deviation, at_gate)| Steadiness { level, radius, deviation, at_gate },
    )
}

fn dead_zone() -> impl Strategy<Value = DeadZoneFigures> {
    let weakest = (direction(), on_grid(), unit()).prop_map(|(asked, reach, eaten)| WeakestLeft {
        asked,
        reach,
        eaten,
    });
    (
        (interval(), sureness(), on_grid(), on_grid(), any::<bool>()),
        (option::of(weakest), option::of(on_grid()), any::<bool>(), option::of(on_grid())),
        option::of(on_grid()),
    )
        .prop_map(
            |(
                (radius, sureness, rest_seconds, counted_bound, from_model),
                (weakest, covering_sudden, collides, more_seconds),
                hidden_middle,
            )| DeadZoneFigures {
                radius,
                sureness,
                rest_seconds,
                counted_bound,
                from_model,
                weakest,
                covering_sudden,
                collides,
                more_seconds,
                hidden_middle,
            },
        )
}

fn full_throw() -> impl Strategy<Value = FullThrowFigures> {
    let source = prop_oneof![Just(FullThrowSource::ShareOfReach), Just(FullThrowSource::Sustained)];
    let by = (direction(), on_grid(), on_grid()).prop_map(|(asked, own, left)| ThrowBy {
        asked,
        own,
        left,
    });
    (interval(), sureness(), source, direction(), by_key(by, 8, |by| by.asked)).prop_map(
        |(radius, sureness, source, decided_by, by_direction)| FullThrowFigures {
            radius,
            sureness,
            source,
            decided_by,
            by_direction,
        },
    )
}

fn curve() -> impl Strategy<Value = CurveFigures> {
    (sureness(), on_grid(), figure(), any::<bool>(), on_grid(), unit()).prop_map(
        |(sureness, at_centre, growth, straight, exponent, exponent_cost)| CurveFigures {
            sureness,
            at_centre,
            growth,
            straight,
            exponent,
            exponent_cost,
        },
    )
}

/// Any settings within their ranges.
pub(crate) fn settings() -> impl Strategy<Value = Settings> {
    let points = vec((0.0..=1.0f64, 0.0..=1.0f64), 1..=16).prop_map(|points| {
        let (mut inputs, mut outputs): (Vec<f64>, Vec<f64>) = points.into_iter().unzip();
        inputs.sort_by(f64::total_cmp);
        outputs.sort_by(f64::total_cmp);
        let all = inputs.into_iter().zip(outputs);
        // Nothing in is nothing out, all the way in is all the way out.
        let ends = |x: f64, y: f64| {
            if x <= 0.0 {
                0.0
            } else if x < 1.0 {
                y
            } else {
                1.0
            }
        };
        Curve::Points(all.map(|(x, y)| (x, ends(x, y))).collect())
    });
    let curve = prop_oneof![Just(Curve::Linear), (0.2..=5.0f64).prop_map(Curve::Exponent), points];
    let middle = (-1.0..1.0f64, -1.0..1.0f64, 0.0..=0.9f64, 0.02..=0.6f64, shape(), curve);
    (middle, direction_map(), smoothing(), option::of(switches()), timing()).prop_map(
        |((right, up, dead_zone, width, shape, curve), direction, smoothing, switches, buttons)| {
            Settings {
                centre: Position::new(right, up),
                direction,
                smoothing,
                dead_zone,
                full_throw: dead_zone + width,
                shape,
                curve,
                switches,
                buttons,
            }
        },
    )
}

fn direction_map() -> impl Strategy<Value = DirectionMap> {
    (any::<[bool; 3]>(), -180.0..=180.0f64, 0.2..=5.0f64, 0.2..=5.0f64).prop_map(
        |([swapped, right_inverted, up_inverted], turn_degrees, right_gain, up_gain)| {
            DirectionMap { swapped, right_inverted, up_inverted, turn_degrees, right_gain, up_gain }
        },
    )
}

fn smoothing() -> impl Strategy<Value = Smoothing> {
    prop_oneof![
        Just(Smoothing::Off),
        (0.1..=60.0f64, 0.0..=1000.0f64).prop_map(|(cutoff_hertz, speed_coefficient)| {
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient }
        }),
    ]
}

fn switches() -> impl Strategy<Value = SwitchThresholds> {
    (0.0..=1.5f64, 0.0..=1.0f64, 0.0..=30.0f64).prop_map(|(on, share, shortest_seconds)| {
        SwitchThresholds { on, off: on * share, shortest_seconds }
    })
}

fn timing() -> impl Strategy<Value = ButtonTiming> {
    (0.0..=30.0f64, 0.0..=30.0f64, option::of(0.0..=30.0f64)).prop_map(
        |(shortest_press_seconds, bounce_seconds, repeat_delay_seconds)| ButtonTiming {
            shortest_press_seconds,
            bounce_seconds,
            repeat_delay_seconds,
        },
    )
}

pub(super) fn stick_kind() -> impl Strategy<Value = StickKind> {
    let moves = prop_oneof![Just(Moves::TwoAxes), Just(Moves::OneAxis), Just(Moves::OneWay)];
    (moves, any::<[bool; 3]>()).prop_map(|(moves, [centres_itself, force, switches])| StickKind {
        moves,
        centres_itself,
        force,
        switches,
        ..StickKind::default()
    })
}

fn moved_kind() -> impl Strategy<Value = StickKind> {
    let mover = proptest::sample::select(Mover::ALL.to_vec());
    (stick_kind(), mover).prop_map(|(kind, mover)| StickKind { mover, ..kind })
}

fn effect() -> impl Strategy<Value = EffectFigures> {
    let left = (direction(), on_grid(), unit()).prop_map(|(asked, kept, output)| ReachLeft {
        asked,
        kept,
        output,
    });
    let jitter =
        (on_grid(), on_grid()).prop_map(|(level, deviation)| JitterLevel { level, deviation });
    (
        figure(),
        option::of(on_grid()),
        option::of(unit()),
        by_key(left, 8, |left| left.asked),
        by_key(jitter, 8, |jitter| jitter.level),
        option::of(on_grid()),
        option::of(on_grid()),
        option::of(on_grid()),
    )
        .prop_map(
            |(
                false_per_minute,
                expected,
                moving_share,
                reach,
                jitter,
                jitter_pooled,
                lag,
                degrees_off,
            )| {
                EffectFigures {
                    false_per_minute,
                    expected,
                    moving_share,
                    reach,
                    jitter,
                    jitter_pooled,
                    lag,
                    degrees_off,
                }
            },
        )
}

fn id() -> impl Strategy<Value = String> {
    "[a-z0-9-]{1,40}"
}

/// Any summary that may be written.
pub(crate) fn summary() -> impl Strategy<Value = Summary> {
    let label = option::of(text(80).prop_filter("a label", |label| !label.is_empty()));
    let wish = (on_grid(), on_grid());
    let device = (device(), stick_kind());
    let outside = (label, practised(), device, 0..=600u32, wish, stick(), count());
    let found = (
        answer(rest()),
        by_key(reach(), 8, |reach| reach.asked),
        by_key(steadiness(), 8, |hold| hold.level),
        answer(dead_zone()),
        answer(full_throw()),
        answer(curve()),
        settings().prop_map(|settings| ChosenSettings::of(&settings)),
        effect(),
        effect(),
    );
    let more = (
        by_key(found::busy_rest(), 3, |busy| busy.meanwhile),
        answer(found::map()),
        answer(found::rhythm()),
        by_key(found::sustained(), 8, |hold| hold.asked),
        by_key(found::back(), 8, |back| back.asked),
        by_key(found::button(), 8, |button| button.button),
        answer(found::direction_advice()),
        answer(found::smoothing_advice()),
        answer(found::switch_advice()),
    );
    (id(), 0..=8_640_000_000_000_000u64, outside, found, more).prop_map(
        |(
            id,
            made,
            (label, practised, (device, stick_kind), minutes, wish, stick, left_out),
            (rest, reach, hold, dead_zone, full_throw, curve, chosen, before, after),
            (busy_rest, map, rhythm, sustained, returns, buttons, direction, smoothing, switches),
        )| {
            let body = SummaryBody {
                label,
                practised,
                device,
                stick_kind,
                minutes,
                wish_false_per_minute: wish.0,
                wish_most_lag: wish.1,
                stick,
                rest,
                busy_rest,
                reach,
                hold,
                map,
                rhythm,
                sustained,
                returns,
                buttons,
                left_out,
                dead_zone,
                full_throw,
                curve,
                direction,
                smoothing,
                switches,
                chosen,
                before,
                after,
                thinned: 0,
            };
            Envelope::new(id, made, body)
        },
    )
}

/// Any fitting that may be written, with texts as a person might type them.
pub(crate) fn fitting() -> impl Strategy<Value = Envelope<FittingBody>> {
    let texts = (any::<String>(), option::of(any::<String>()), option::of(any::<String>()));
    let wish = (0.001..=160.0f64, 0.0..=1.0f64).prop_map(|(false_per_minute, most_lag_seconds)| {
        Wish { false_per_minute, most_lag_seconds }
    });
    let stick = (device(), moved_kind());
    let aside = btree_map(0..12u32, settings(), 0..4).prop_map(|aside| {
        aside.into_iter().map(|(series, settings)| ChosenFor { series, settings }).collect()
    });
    let rest = (stick, practised(), wish, 0..=600u32, option::of(settings()), aside, 0..100u32);
    (id(), 0..2_000_000_000_000u64, texts, rest, visit::any()).prop_map(
        |(
            id,
            made,
            (label, body_part, notes),
            ((device, stick_kind), practised, wish, minutes, chosen, chosen_aside, tasks),
            visit,
        )| {
            let body = FittingBody {
                label,
                device,
                stick_kind,
                practised,
                wish,
                minutes,
                chosen,
                chosen_aside,
                tasks,
                body_part,
                notes,
                visit,
            };
            Envelope::new(id, made, body)
        },
    )
}

pub(super) fn odd_kind() -> StickKind {
    StickKind {
        moves: Moves::OneAxis,
        centres_itself: false,
        force: true,
        switches: true,
        mover: Mover::Chin,
    }
}

/// The fitting of the golden file, every field in use.
#[must_use]
pub(crate) fn golden_host() -> Envelope<fitting::visit::Host> {
    Envelope::new("7c-host", 1_770_000_200_000, devices::golden_host())
}

pub(crate) fn golden_fitting() -> Envelope<FittingBody> {
    let body = FittingBody {
        label: "Tuesday, left hand".to_owned(),
        device: DeviceSeen {
            name: "Bench stick, left".to_owned(),
            axes: 4,
            buttons: 12,
            standard: false,
        },
        stick_kind: odd_kind(),
        practised: None,
        wish: Wish { false_per_minute: 0.25, most_lag_seconds: 0.045 },
        minutes: 10,
        chosen: Some(Settings {
            centre: Position::new(0.013_000_1, -0.021_000_2),
            direction: DirectionMap {
                swapped: true,
                right_inverted: false,
                up_inverted: true,
                turn_degrees: -12.5,
                right_gain: 1.0,
                up_gain: 1.375,
            },
            smoothing: Smoothing::OneEuro { cutoff_hertz: 2.5, speed_coefficient: 7.0 },
            dead_zone: 0.123_456_7,
            full_throw: 0.471_234_5,
            shape: Shape::PerAxis,
            curve: Curve::Exponent(1.342),
            switches: Some(SwitchThresholds { on: 0.5, off: 0.375, shortest_seconds: 0.08 }),
            buttons: ButtonTiming {
                shortest_press_seconds: 0.04,
                bounce_seconds: 0.015,
                repeat_delay_seconds: Some(0.6),
            },
        }),
        chosen_aside: vec![ChosenFor {
            series: 0,
            settings: Settings { dead_zone: 0.25, ..Settings::default() },
        }],
        tasks: 4,
        body_part: Some("Left hand".to_owned()),
        notes: Some("Second visit.\nArm rest raised.".to_owned()),
        visit: visit::golden(),
    };
    Envelope::new("0f3a-77", 1_770_000_000_000, body)
}

/// One ask of every kind.
#[must_use]
pub(crate) fn asks() -> Vec<TaskAsk> {
    let directions = vec![Direction::Right, Direction::UpLeft];
    vec![
        TaskAsk::HandsOff { seconds: 6.0 },
        TaskAsk::QuietRest { seconds: 60.0 },
        TaskAsk::Reach { directions: directions.clone(), rounds: 3 },
        TaskAsk::Hold {
            directions: directions.clone(),
            levels: vec![0.25, 0.5],
            rounds: 2,
            seconds: 3.0,
        },
        TaskAsk::BusyRest { seconds: 30.0, meanwhile: Meanwhile::Talking },
        TaskAsk::FreeMovement { seconds: 45.0 },
        TaskAsk::Sustained { directions: directions.clone(), level: 0.75, seconds: 15.0 },
        TaskAsk::Return { directions, level: 0.5, rounds: 2 },
        TaskAsk::Presses { buttons: vec![0, 3], rounds: 4 },
    ]
}

/// A recorded task with every field in use.
#[must_use]
pub(crate) fn task() -> Envelope<TaskBody> {
    let sample = |arrival_seconds: f64, axes: [f64; 3], pressed: f64| Sample {
        arrival_seconds,
        axes: axes.to_vec(),
        buttons: vec![pressed, 0.25],
    };
    let span = |from_seconds: f64, to_seconds: f64| Span { from_seconds, to_seconds };
    let repetition = |at: Span, outcome, mark, queried_degrees| Repetition {
        direction: Some(Direction::UpLeft),
        level: Some(0.5),
        span: at,
        outcome,
        mark,
        queried_degrees,
        queried_short: None,
        button: Some(3),
        press: Some(PressAsk::Twice),
        effort: Some(4),
    };
    let record = TaskRecord {
        ask: TaskAsk::Hold {
            directions: vec![Direction::UpLeft, Direction::Right],
            levels: vec![0.25, 0.5],
            rounds: 2,
            seconds: 3.0,
        },
        known: Known {
            centre: Position::new(0.013, -0.021),
            quiet_radius: 0.08,
            reach: vec![KnownReach { asked: Direction::UpLeft, end: Position::new(-0.4, 0.41) }],
            kind: odd_kind(),
        },
        axes: StickAxes::default(),
        recording: Recording {
            samples: vec![
                sample(12.25, [0.0, 0.1 + 0.2, 9.0 / 7.0], 0.0),
                sample(12.254_1, [-1.0 / 3.0, std::f64::consts::FRAC_1_SQRT_2, 9.0 / 7.0], 1.0),
                sample(12.9, [-0.2, 5e-324, 9.0 / 7.0], 1.0),
            ],
            polled: vec![span(12.0, 12.5), span(12.6, 13.0)],
        },
        repetitions: vec![
            repetition(span(12.0, 12.4), Outcome::Done, Some(MarkReason::Spasm), None),
            repetition(span(12.4, 12.8), Outcome::AskedAgain, None, Some(-71.5)),
            repetition(span(12.8, 13.0), Outcome::CutShort, None, None),
        ],
        pauses: vec![span(12.5, 12.6)],
        muscle_seconds: 0.43,
        asking: Asking::Shown,
        cue: CueKind::Spoken,
    };
    let body = TaskBody {
        fitting: "0f3a-77".to_owned(),
        order: 3,
        started_epoch_ms: 1_770_000_000_123,
        series: 1,
        site: Some(2),
        record,
    };
    Envelope::new("0f3a-78", 1_770_000_000_999, body)
}

/// The summary with the longest link: every list full, every number in its longest form, texts
/// of the widest characters.
#[must_use]
pub(crate) fn fullest_summary() -> Summary {
    let long = Share::from_steps(Share::LOWEST_STEPS);
    let number = Share::from_steps(Share::HIGHEST_STEPS);
    let spread = Spread::from_steps(Spread::HIGHEST_STEPS);
    let rate = PerMinute::from_steps(PerMinute::HIGHEST_STEPS);
    let seconds = Seconds::from_steps(Seconds::HIGHEST_STEPS);
    let degrees = Degrees::from_steps(Degrees::HIGHEST_STEPS);
    let moment = Moment::from_steps(Moment::HIGHEST_STEPS);
    let hertz = Hertz::from_steps(Hertz::HIGHEST_STEPS);
    let place = Place { right: long, up: long };
    let shares = known(number, seconds);
    let rates = known(rate, seconds);
    let effect = EffectFigures {
        false_per_minute: Answer::Known(rates),
        expected: Some(rate),
        moving_share: Some(Share::of(1.0)),
        reach: Direction::EIGHT
            .map(|asked| ReachLeft { asked, kept: number, output: Share::of(1.0) })
            .to_vec(),
        jitter: (0..8)
            .map(|step| JitterLevel { level: Share::from_steps(7_900 + step), deviation: spread })
            .collect(),
        jitter_pooled: Some(spread),
        lag: Some(moment),
        degrees_off: Some(degrees),
    };
    let moment_figure = Answer::Known(known(moment, seconds));
    let spread_figure = Answer::Known(known(spread, seconds));
    let body = SummaryBody {
        label: Some("𝄞".repeat(80)),
        practised: Some("p".repeat(24)),
        device: DeviceSeen { name: "𝄞".repeat(22), axes: 32, buttons: 32, standard: true },
        stick_kind: StickKind { mover: Mover::default(), ..odd_kind() },
        minutes: 600,
        wish_false_per_minute: rate,
        wish_most_lag: moment,
        stick: StickFigures {
            noise: Answer::Known(known(spread, seconds)),
            step: Some(spread),
            hidden_middle: Some(number),
            still_middle: true,
            drift_per_minute: spread_figure.clone(),
            sag: spread_figure.clone(),
            gate: Answer::Known(GateFigures {
                radius: number,
                out_of_round: number,
                directions: 8,
            }),
            early_full: Some(number),
            odd_axes: (24..32)
                .map(|axis| OddAxisSeen { axis, what: AxisOddity::NeverCentres })
                .collect(),
        },
        rest: Answer::Known(RestFigures {
            seconds,
            centre: place,
            offset: Answer::Known(shares),
            wander: Answer::Known(shares),
            curve: (0..16)
                .map(|step| RateStep {
                    radius: Share::from_steps(7_900 + step),
                    counted: rate,
                    per_minute: rate,
                    low: rate,
                    high: rate,
                    from_model: true,
                })
                .collect(),
            sudden: 10_000,
            sudden_per_minute: Answer::Known(rates),
        }),
        busy_rest: [Meanwhile::Talking, Meanwhile::Watching, Meanwhile::Pressing]
            .map(|meanwhile| BusyRestFigures {
                meanwhile,
                rest: Answer::Known(BusyFigures {
                    seconds,
                    wander: Answer::Known(shares),
                    sudden_per_minute: Answer::Known(rates),
                    at_chosen: Some(RateBand { per_minute: rate, low: rate, high: rate }),
                }),
            })
            .to_vec(),
        map: Answer::Known(MapFigures {
            swapped: true,
            right_inverted: true,
            up_inverted: true,
            turn: Answer::Known(known(degrees, seconds)),
            repeat_agrees: true,
            stretch: Answer::Known(shares),
            stretch_along: degrees,
            cross_talk: Answer::Known(shares),
            directions: 8,
            pushes: 10_000,
        }),
        rhythm: Answer::Known(RhythmFigures {
            found: true,
            frequency: Answer::Known(known(hertz, seconds)),
            resolution: hertz,
            amplitude: spread_figure.clone(),
            along: degrees,
            seconds,
        }),
        sustained: Direction::EIGHT
            .map(|asked| SustainedFigures {
                asked,
                level: number,
                seconds,
                effort: Some(10),
                kept: Answer::Known(shares),
                drift_per_minute: Answer::Known(shares),
            })
            .to_vec(),
        returns: Direction::EIGHT
            .map(|asked| ReturnFigures {
                asked,
                time: moment_figure.clone(),
                overshoot: Answer::Known(shares),
                rests_short: spread_figure.clone(),
            })
            .to_vec(),
        buttons: (24..32)
            .map(|button| ButtonFigures {
                button,
                made: 10_000,
                missed: 10_000,
                length: moment_figure.clone(),
                gap: moment_figure.clone(),
                unwanted_per_minute: Answer::Known(rates),
                shortest_press: moment_figure.clone(),
                bounce: moment_figure.clone(),
                repeat_delay: moment_figure.clone(),
                sureness: Sureness::Firm,
            })
            .collect(),
        reach: Direction::EIGHT
            .map(|asked| ReachFigures {
                asked,
                reach: Answer::Known(shares),
                end: Some(place),
                degrees_off: Answer::Known(known(degrees, seconds)),
            })
            .to_vec(),
        hold: (0..8)
            .map(|step| Steadiness {
                level: Share::from_steps(7_900 + step),
                radius: number,
                deviation: Answer::Known(known(spread, seconds)),
                at_gate: true,
            })
            .collect(),
        left_out: 10_000,
        dead_zone: Answer::Known(DeadZoneFigures {
            radius: shares,
            sureness: Sureness::Firm,
            rest_seconds: seconds,
            counted_bound: rate,
            from_model: true,
            weakest: Some(WeakestLeft {
                asked: Direction::DownRight,
                reach: number,
                eaten: Share::of(1.0),
            }),
            covering_sudden: Some(number),
            collides: true,
            more_seconds: Some(seconds),
            hidden_middle: Some(number),
        }),
        full_throw: Answer::Known(FullThrowFigures {
            radius: shares,
            sureness: Sureness::Firm,
            source: FullThrowSource::Sustained,
            decided_by: Direction::DownRight,
            by_direction: Direction::EIGHT
                .map(|asked| ThrowBy { asked, own: number, left: number })
                .to_vec(),
        }),
        curve: Answer::Known(CurveFigures {
            sureness: Sureness::Firm,
            at_centre: spread,
            growth: Answer::Known(known(spread, seconds)),
            straight: true,
            exponent: Exponent::of(5.0),
            exponent_cost: Share::of(1.0),
        }),
        direction: Answer::Known(DirectionFigures {
            sureness: Sureness::Firm,
            turn: degrees,
            turns: true,
            repeat_wanted: true,
            levelling_gain: Some(Gain::of(5.0)),
            dead_zone_with_gain: Some(number),
        }),
        smoothing: Answer::Known(SmoothingFigures {
            chosen: ChosenSmoothing::OneEuro {
                cutoff: Hertz::of(60.0),
                speed_coefficient: Coefficient::of(1000.0),
            },
            sureness: Sureness::Firm,
            jitter_left: Answer::Known(shares),
            lag: moment,
            dead_zone_without: Some(number),
            dead_zone_with: Some(number),
        }),
        switches: Answer::Known(SwitchFigures {
            on: number,
            off: number,
            shortest: moment,
            sureness: Sureness::Firm,
            weakest: Direction::DownRight,
            weakest_reach: number,
            false_per_minute: rates,
        }),
        chosen: ChosenSettings {
            centre: place,
            direction: ChosenDirection {
                swapped: true,
                right_inverted: true,
                up_inverted: true,
                turn: Degrees::of(180.0),
                right_gain: Gain::of(5.0),
                up_gain: Gain::of(5.0),
            },
            smoothing: ChosenSmoothing::OneEuro {
                cutoff: Hertz::of(60.0),
                speed_coefficient: Coefficient::of(1000.0),
            },
            dead_zone: Share::of(0.9),
            full_throw: Share::of(1.5),
            shape: Shape::PerAxis,
            curve: ChosenCurve::Points(vec![(Share::of(1.0), Share::of(1.0)); 16]),
            switches: Some(ChosenSwitches {
                on: Share::of(1.5),
                off: Share::of(1.5),
                shortest: moment,
            }),
            buttons: ChosenTiming {
                shortest_press: moment,
                bounce: moment,
                repeat_delay: Some(moment),
            },
        },
        before: effect.clone(),
        after: effect,
        thinned: 0,
    };
    Envelope::new("f".repeat(40), 8_640_000_000_000_000, body)
}

fn known<G: Grid>(value: G, seconds: Seconds) -> Interval<G> {
    Interval { value, low: value, high: value, seconds, repetitions: 10_000 }
}

/// The summary of the golden file: every figure in use, none thinned in a link.
#[must_use]
pub(crate) fn golden_summary() -> Summary {
    let full = fullest_summary();
    let mut body = full.body;
    body.label = Some("Tuesday, left hand".to_owned());
    body.practised = Some("steady-hand".to_owned());
    body.device.name = "Bench stick, left".to_owned();
    body.busy_rest.truncate(2);
    body.sustained.truncate(2);
    body.returns.truncate(2);
    body.buttons.truncate(2);
    body.reach.truncate(4);
    if let Answer::Known(rest) = &mut body.rest {
        rest.curve.truncate(6);
    }
    if let ChosenCurve::Points(points) = &mut body.chosen.curve {
        points.truncate(5);
    }
    body.sustained[1].effort = None;
    body.returns[0].overshoot = Answer::NotEnough(Lacking::NotFor(StickTrait::NotSelfCentring));
    body.buttons[1].shortest_press = Answer::NotEnough(Lacking::Unsettled);
    body.stick.sag = Answer::NotEnough(Lacking::Repetitions { have: 2, need: 3 });
    Envelope::new("0f3a-79", 1_770_000_100_000, body)
}
