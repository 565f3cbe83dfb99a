//! What holds for every settings.

use super::*;
use crate::trace::Piece;
use crate::{Span, Trace};
use proptest::prelude::{Just, Strategy, any, prop_assert, prop_assert_eq, prop_oneof, proptest};

fn curves() -> impl Strategy<Value = Curve> {
    let points = proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 0..20);
    prop_oneof![
        Just(Curve::Linear),
        (0.1..6.0_f64).prop_map(Curve::Exponent),
        points.prop_map(Curve::Points),
    ]
}

fn settings() -> impl Strategy<Value = Settings> {
    let shape = prop_oneof![Just(Shape::Radial), Just(Shape::PerAxis)];
    ((-0.3..0.3_f64), (-0.3..0.3_f64), 0.0..0.9_f64, 0.0..1.5_f64, shape, curves()).prop_map(
        |(right, up, dead_zone, full_throw, shape, curve)| Settings {
            centre: Position::new(right, up),
            dead_zone,
            full_throw,
            shape,
            curve,
            ..Settings::default()
        },
    )
}

/// Points as anything from outside may hold them: in any order, repeated, no numbers, ends anywhere.
fn any_points() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let odd = || prop_oneof![8 => -0.2..1.2_f64, 2 => Just(1.0), 1 => Just(0.0), 1 => any::<f64>()];
    proptest::collection::vec((odd(), odd()), 0..20)
}

proptest! {
        /// A curve's last point may lie anywhere: from full throw on the output is all the way.
        #[test]
        fn all_the_way_from_full_throw_on(
            settings in settings(),
            points in any_points(),
            are_points in any::<bool>(),
            beyond in 0.0..1.0_f64,
        ) {
            let curve = if are_points { Curve::Points(points) } else { settings.curve.clone() };
            let settings = Settings { curve, ..settings };
            let pipeline = Pipeline::new(&settings);
            prop_assert_eq!(pipeline.answer(pipeline.full_throw() + beyond), 1.0);
            let form = crate::suggest::HostForm::of(&settings);
            prop_assert_eq!(form.points.last(), Some(&(100.0, 100.0)));
            // So it is when they are kept, on a grid, and read again.
            let kept = crate::summary::ChosenSettings::of(&settings).settings();
            let pipeline = Pipeline::new(&kept);
            prop_assert_eq!(pipeline.answer(pipeline.full_throw() + beyond), 1.0);
        }

        #[test]
        fn nothing_at_the_centre_and_inside_the_dead_zone(settings in settings(), angle in 0.0..360.0_f64) {
            let pipeline = Pipeline::new(&settings);
            let inside = settings.centre + Position::polar(0.999 * settings.dead_zone, angle);
            prop_assert!(pipeline.apply(settings.centre).radius() == 0.0);
            prop_assert!(pipeline.apply(inside).radius() == 0.0);
        }

        #[test]
        fn a_larger_push_never_gives_less(settings in settings(), angle in 0.0..360.0_f64, one in 0.0..1.5_f64, two in 0.0..1.5_f64) {
            let pipeline = Pipeline::new(&settings);
            let out = |push: f64| pipeline.apply(settings.centre + Position::polar(push, angle)).radius();
            prop_assert!(out(one.min(two)) <= out(one.max(two)) + 1e-12);
        }

        #[test]
        fn the_radial_shape_keeps_the_direction(settings in settings(), angle in -180.0..180.0_f64, push in 0.0..1.5_f64) {
            let settings = Settings { shape: Shape::Radial, ..settings };
            let out = Pipeline::new(&settings).apply(settings.centre + Position::polar(push, angle));
            if out.radius() > 1e-9 {
                prop_assert!(crate::position::fold_degrees(out.degrees() - angle).abs() < 1e-6);
            }
        }

        #[test]
        fn the_output_is_bounded(settings in settings(), right in any::<f64>(), up in any::<f64>()) {
            let out = Pipeline::new(&settings).apply(Position::new(right, up));
            match settings.shape {
                Shape::Radial => prop_assert!(out.radius() <= 1.0 + 1e-12),
                Shape::PerAxis => prop_assert!(out.right.abs() <= 1.0 && out.up.abs() <= 1.0),
            }
        }

        #[test]
        fn senseless_settings_are_brought_into_range(numbers in proptest::collection::vec(any::<f64>(), 8), right in -2.0..2.0_f64) {
            let settings = Settings {
                centre: Position::new(numbers[0], numbers[1]),
                dead_zone: numbers[2],
                full_throw: numbers[3],
                shape: Shape::PerAxis,
                curve: Curve::Points(vec![(numbers[4], numbers[5]), (numbers[6], numbers[7])]),
..Settings::default()
            };
            let out = Pipeline::new(&settings).apply(Position::new(right, 0.5));
            prop_assert!(out.right.abs() <= 1.0 && out.up.abs() <= 1.0);
        }
    }

fn maps() -> impl Strategy<Value = DirectionMap> {
    (any::<[bool; 3]>(), -180.0..180.0_f64, 0.2..5.0_f64, 0.2..5.0_f64).prop_map(
        |([swapped, right_inverted, up_inverted], turn_degrees, right_gain, up_gain)| {
            DirectionMap { swapped, right_inverted, up_inverted, turn_degrees, right_gain, up_gain }
        },
    )
}

/// Settings with everything in them.
fn whole() -> impl Strategy<Value = Settings> {
    let smoothing = prop_oneof![
        Just(Smoothing::Off),
        (0.1..20.0_f64, 0.0..50.0_f64).prop_map(|(cutoff_hertz, speed_coefficient)| {
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient }
        })
    ];
    let switches = prop_oneof![
        Just(None),
        (0.1..0.9_f64, 0.0..0.9_f64, 0.0..0.5_f64).prop_map(|(on, off, shortest_seconds)| {
            Some(SwitchThresholds { on, off, shortest_seconds })
        })
    ];
    (settings(), maps(), smoothing, switches).prop_map(
        |(settings, direction, smoothing, switches)| Settings {
            direction,
            smoothing,
            switches,
            ..settings
        },
    )
}

/// A path of pieces that follow each other from 0 on.
fn path(held: &[(f64, f64, f64)]) -> Trace {
    let mut to_seconds = 0.0;
    let pieces = held
        .iter()
        .map(|&(seconds, right, up)| {
            let from_seconds = to_seconds;
            to_seconds += seconds;
            Piece { span: Span { from_seconds, to_seconds }, at: Position::new(right, up) }
        })
        .collect();
    Trace { pieces }
}

fn held() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    proptest::collection::vec((0.001..0.2_f64, -1.0..1.0_f64, -1.0..1.0_f64), 1..40)
}

proptest! {
    /// Live, step by step, is what comes out of a recording.
    #[test]
    fn live_and_recorded_agree(settings in whole(), held in held()) {
        let pipeline = Pipeline::new(&settings);
        let path = path(&held);
        let over = pipeline.over(&path);
        prop_assert!((over.seconds() - path.seconds()).abs() < 1e-9);
        let mut run = pipeline.run();
        for piece in &path.pieces {
            let out = run.advance(piece.span.from_seconds, piece.at);
            let at = over.pieces.iter().find(|out| out.span.holds(piece.span.from_seconds + 1e-12));
            prop_assert!(at.is_some_and(|at| (at.at - out).radius() < 1e-12), "{out:?} {at:?}");
        }
    }

    /// The same position told again in between changes nothing.
    #[test]
    fn how_often_it_is_reported_makes_no_difference(settings in whole(), held in held(), cuts in 2..9_u8) {
        let pipeline = Pipeline::new(&settings);
        let chopped: Vec<(f64, f64, f64)> = held
            .iter()
            .flat_map(|&(seconds, right, up)| {
                (0..cuts).map(move |_| (seconds / f64::from(cuts), right, up))
            })
            .collect();
        let (plain, chopped) = (pipeline.over(&path(&held)), pipeline.over(&path(&chopped)));
        let read = |trace: &Trace| trace.read_off(0.003_7).concat();
        let (plain, chopped) = (read(&plain), read(&chopped));
        let same = plain.iter().zip(&chopped).filter(|(a, b)| (**a - **b).radius() < 1e-9).count();
        // A reading may fall just beside a change.
        prop_assert!(same + 1 >= plain.len().min(chopped.len()), "{same} of {}", plain.len());
    }

    /// A stick that stays comes out as [`Pipeline::apply`] says, once switches had their time.
    #[test]
    fn a_stick_that_stays_is_a_fixed_point(settings in whole(), right in -1.0..1.0_f64, up in -1.0..1.0_f64) {
        let pipeline = Pipeline::new(&settings);
        let at = Position::new(right, up);
        let mut run = pipeline.run();
        let first = run.advance(3.0, at);
        if settings.switches.is_none() {
            prop_assert_eq!(first, pipeline.apply(at));
        }
        prop_assert_eq!(run.advance(4.0, at), pipeline.apply(at));
        prop_assert_eq!(run.advance(900.0, at), pipeline.apply(at));
    }

    /// Whatever comes in, what comes out is bounded.
    #[test]
    fn nothing_breaks_a_run(settings in whole(), map in any::<[f64; 3]>(), smoothing in any::<[f64; 2]>(), thresholds in any::<[f64; 3]>(), told in proptest::collection::vec(any::<[f64; 3]>(), 1..30)) {
        let settings = Settings {
            direction: DirectionMap { turn_degrees: map[0], right_gain: map[1], up_gain: map[2], ..settings.direction },
            smoothing: Smoothing::OneEuro { cutoff_hertz: smoothing[0], speed_coefficient: smoothing[1] },
            switches: settings.switches.map(|_| SwitchThresholds { on: thresholds[0], off: thresholds[1], shortest_seconds: thresholds[2] }),
            ..settings
        };
        let pipeline = Pipeline::new(&settings);
        let mut run = pipeline.run();
        for [at, right, up] in told {
            let out = run.advance(at, Position::new(right, up));
            prop_assert!(out.right.abs() <= 1.0 && out.up.abs() <= 1.0, "{out:?}");
        }
    }

    /// Inside the running smallest and largest push, smoothing adds nothing of its own.
    #[test]
    fn smoothing_never_overshoots(held in held(), cutoff_hertz in 0.1..20.0_f64, speed_coefficient in 0.0..50.0_f64) {
        let settings = Settings {
            smoothing: Smoothing::OneEuro { cutoff_hertz, speed_coefficient },
            shape: Shape::PerAxis,
            ..Settings::default()
        };
        let path = path(&held);
        let out = Pipeline::new(&settings).over(&path);
        for piece in &out.pieces {
            let seen = path.pieces.iter().take_while(|seen| seen.span.from_seconds <= piece.span.from_seconds + 1e-9);
            let (low, high) = seen.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), seen| {
                (low.min(seen.at.right), high.max(seen.at.right))
            });
            prop_assert!(low - 1e-12 <= piece.at.right && piece.at.right <= high + 1e-12);
        }
    }
}

/// Smoothing comes before the dead zone: what it takes away is not let through.
#[test]
fn smoothing_comes_before_the_dead_zone() {
    let shake: Vec<(f64, f64, f64)> =
        (0..600).map(|i| (0.01, 0.12 * libm::sin(f64::from(i) * 0.37), 0.0)).collect();
    let moves = |smoothing: Smoothing| {
        let settings = Settings { smoothing, dead_zone: 0.1, ..Settings::default() };
        let out = Pipeline::new(&settings).over(&path(&shake));
        out.pieces.iter().filter(|piece| piece.at.radius() > 0.0).count()
    };
    assert!(moves(Smoothing::Off) > 50);
    assert_eq!(moves(Smoothing::OneEuro { cutoff_hertz: 1.0, speed_coefficient: 0.0 }), 0);
}

/// The direction comes first of all: a gain stretches what the dead zone sees.
#[test]
fn the_direction_map_comes_before_the_dead_zone() {
    let settings = Settings {
        centre: Position::new(0.1, 0.0),
        direction: DirectionMap { swapped: true, up_gain: 2.0, ..DirectionMap::default() },
        dead_zone: 0.2,
        ..Settings::default()
    };
    let pipeline = Pipeline::new(&settings);
    // 0.15 to the right of the centre is 0.3 up: (0.3 - 0.2) / (1 - 0.2).
    let out = pipeline.apply(Position::new(0.25, 0.0));
    assert!((out - Position::new(0.0, 0.125)).radius() < 1e-12, "{out:?}");
}

/// Switches: on after the shortest time, to the moment, and off at once.
#[test]
fn switches_keep_their_times() {
    let settings = Settings {
        switches: Some(SwitchThresholds { on: 0.5, off: 0.3, shortest_seconds: 0.1 }),
        ..Settings::default()
    };
    let pushes =
        [(1.0, 0.0, 0.0), (0.08, 0.6, 0.0), (0.5, 0.0, 0.0), (0.4, 0.6, 0.0), (1.0, 0.2, 0.0)];
    let out = Pipeline::new(&settings).over(&path(&pushes));
    let told: Vec<(f64, f64)> =
        out.pieces.iter().map(|piece| (piece.span.from_seconds, piece.at.right)).collect();
    assert_eq!(told.len(), 3);
    assert!((told[1].0 - 1.68).abs() < 1e-9 && told[1].1 == 1.0, "{told:?}");
    assert!((told[2].0 - 1.98).abs() < 1e-9 && told[2].1 == 0.0, "{told:?}");
}
