//! Suggestions and their effect on recordings whose truth is known.

use super::{HostForm, Prepared, Suggestions, Wish, suggest};
use crate::estimate::{NotEnough, Sureness};
use crate::measure::measure;
use crate::measure::test_records::{hold, pushes, quiet_rest, recording};
use crate::settings::{Curve, Settings, Shape};
use crate::task::TaskRecord;
use crate::{Direction, Position};

fn wave(hertz: f64, at: f64, phase: f64) -> f64 {
    libm::sin(std::f64::consts::TAU * hertz * at + phase)
}

fn restless(at: f64, size: f64) -> Position {
    Position::new(
        size * (wave(0.31, at, 0.2) + wave(0.83, at, 1.0) + 0.7 * wave(2.3, at, 0.0)),
        size * (wave(0.27, at, 2.0) + wave(0.71, at, 0.5) + 0.7 * wave(2.1, at, 0.7)),
    )
}

fn rest(seconds: f64, size: f64) -> TaskRecord {
    quiet_rest(recording(0.0, seconds, 100.0, false, |at| restless(at, size)))
}

fn reach(left: f64) -> TaskRecord {
    let ends: Vec<(Direction, Position)> = (0..12)
        .map(|i| {
            let asked = Direction::FOUR[i % 4];
            let length = if asked == Direction::Left { left } else { 0.8 };
            let odd = 0.01 * f64::from(i as u32 / 4) - 0.01;
            (asked, Position::polar(length + odd, asked.degrees()))
        })
        .collect();
    pushes(500.0, &ends, 100.0, false, |_| Position::ORIGIN)
}

fn holds(at_centre: f64, growth: f64) -> Vec<TaskRecord> {
    [0.2, 0.4, 0.6]
        .iter()
        .enumerate()
        .flat_map(|(index, &level)| {
            let size = (at_centre + growth * level) / 1.114;
            (0..4).map(move |round| {
                let from = 1000.0 + 50.0 * (4 * index + round) as f64;
                hold(from, 8.0, level, 100.0, move |at| {
                    Position::new(0.0, level) + restless(at + 31.0 * f64::from(round as u32), size)
                })
            })
        })
        .collect()
}

/// What is suggested from these records.
fn suggested(records: &[TaskRecord], wish: Wish) -> Suggestions {
    suggest(records, &measure(records), wish)
}

#[test]
fn without_recordings_the_stick_stays_as_it_is() {
    let suggestions = suggested(&[], Wish::default());
    assert_eq!(suggestions.settings, Settings::default());
    assert_eq!(suggestions.dead_zone.unwrap_err(), NotEnough::NothingRecorded);
    assert_eq!(suggestions.full_throw.unwrap_err(), NotEnough::NothingRecorded);
    assert!(suggestions.curve.is_err());
}

#[test]
fn a_minute_is_rough_and_says_how_much_more() {
    let advice = suggested(&[rest(61.0, 0.01)], Wish::default()).dead_zone.unwrap();
    assert_eq!(advice.sureness, Sureness::Rough);
    assert!((advice.rest_seconds - 60.0).abs() < 1e-6);
    // None seen in a minute shows fewer than three a minute, whatever the model says.
    assert!((advice.counted_bound_per_minute - 3.0).abs() < 0.01, "{advice:?}");
    assert!(advice.from_model);
    let more = advice.more_seconds.unwrap();
    // Up to 95 % of the two minutes between two false movements wished for, and a second to settle.
    assert!((55.0 - 1e-6..=301.0 + 1e-6).contains(&more), "{more}");
    assert!(advice.radius.low <= advice.radius.value && advice.radius.value == advice.radius.high);
}

#[test]
fn six_minutes_without_an_event_are_firm() {
    let advice = suggested(&[rest(367.0, 0.01)], Wish::default()).dead_zone.unwrap();
    assert_eq!(advice.sureness, Sureness::Firm);
    assert_eq!(advice.more_seconds, None);
}

#[test]
fn a_dead_zone_that_eats_the_weak_side_collides() {
    let suggestions = suggested(&[rest(61.0, 0.04), reach(0.25)], Wish::default());
    let advice = suggestions.dead_zone.unwrap();
    assert!(advice.collides);
    let weakest = advice.weakest.unwrap();
    assert_eq!(weakest.asked, Direction::Left);
    assert!((weakest.eaten - advice.radius.value / weakest.reach).abs() < 1e-9);
    let roomy = suggested(&[rest(61.0, 0.01), reach(0.7)], Wish::default());
    assert!(!roomy.dead_zone.unwrap().collides);
}

#[test]
fn jerks_do_not_set_the_dead_zone_but_may_be_covered() {
    let jerky = |at: f64| {
        let jerk = [15.0, 42.0].iter().any(|start| (0.0..0.4).contains(&(at - start)));
        restless(at, 0.01) + if jerk { Position::new(0.5, 0.0) } else { Position::ORIGIN }
    };
    let record = quiet_rest(recording(0.0, 61.0, 100.0, false, jerky));
    let measures = measure(std::slice::from_ref(&record));
    assert_eq!(measures.rest.as_ref().unwrap().sudden.count, 2);
    let suggestions = suggest(std::slice::from_ref(&record), &measures, Wish::default());
    let advice = suggestions.dead_zone.as_ref().unwrap();
    let calm = suggested(&[rest(61.0, 0.01)], Wish::default()).settings.dead_zone;
    assert!((advice.radius.value / calm - 1.0).abs() < 0.2, "{advice:?} against {calm}");
    let cover = advice.covering_sudden.unwrap();
    assert!(cover > 0.45 && cover < 0.6);
    // Judged on the recording: two are left with the suggestion, none when they are covered.
    let prepared = Prepared::new(&[record], &measures);
    let left = |dead_zone: f64| {
        let settings = Settings { dead_zone, ..suggestions.settings.clone() };
        prepared.effect(&settings).false_per_minute.unwrap().basis.repetitions
    };
    assert_eq!(left(advice.radius.value), 2);
    assert_eq!(left(cover), 0);
}

#[test]
fn full_throw_is_a_share_of_the_weakest_reach() {
    let advice = suggested(&[reach(0.5)], Wish::default()).full_throw.unwrap();
    assert_eq!((advice.decided_by, advice.sureness), (Direction::Left, Sureness::Rough));
    assert!((advice.radius.value - 0.4).abs() < 0.005, "{advice:?}");
    let right = advice.by_direction.iter().find(|one| one.0 == Direction::Right).unwrap();
    assert!((right.1 - 0.64).abs() < 0.01 && (right.2 - 0.4).abs() < 0.01, "{right:?}");
}

#[test]
fn even_steadiness_gets_a_straight_line_and_growing_unsteadiness_a_curve() {
    let even = suggested(&holds(0.02, 0.0), Wish::default());
    assert!(even.curve.unwrap().straight);
    assert_eq!(even.settings.curve, Curve::Linear);
    let mut records = vec![reach(0.8)];
    records.extend(holds(0.005, 0.08));
    let growing = suggested(&records, Wish::default());
    let advice = growing.curve.unwrap();
    assert!(!advice.straight && advice.exponent < 1.0, "{advice:?}");
    let growth = advice.growth.unwrap();
    assert!(growth.low <= 0.08 && 0.08 <= growth.high, "{growth:?}");
    assert!(advice.points.len() <= crate::settings::MOST_CURVE_POINTS);
    // The suggested curve makes the output more even over the levels than the straight line.
    let measures = measure(&records);
    let prepared = Prepared::new(&records, &measures);
    let spread = |settings: &Settings| {
        let jitter = prepared.effect(settings).jitter;
        jitter.last().unwrap().deviation / jitter[0].deviation
    };
    // Full throw left out, as it cuts off the farthest holds.
    let curved = Settings { full_throw: 1.0, ..growing.settings.clone() };
    let straight = Settings { curve: Curve::Linear, ..curved.clone() };
    // Along the push; across it the output shakes by output over push, which no curve evens out.
    assert!(spread(&curved) < 0.75 * spread(&straight));
}

#[test]
fn the_effect_is_that_of_the_pipeline() {
    let mut records = vec![rest(61.0, 0.02), reach(0.5)];
    records.extend(holds(0.02, 0.0));
    let measures = measure(&records);
    let prepared = Prepared::new(&records, &measures);
    let raw = prepared.effect(&Settings::default());
    // Without a dead zone everything is one long false movement.
    assert_eq!(raw.false_per_minute.unwrap().basis.repetitions, 1);
    assert_eq!(raw.reach.len(), 4);
    let settings = Settings { dead_zone: 0.1, full_throw: 0.6, ..Settings::default() };
    let set = prepared.effect(&settings);
    let left = set.reach.iter().find(|kept| kept.asked == Direction::Left).unwrap();
    assert!((left.kept - 0.4).abs() < 0.01, "{left:?}");
    assert!((left.output - 0.8).abs() < 0.02, "{left:?}");
    // Half the span doubles the shake, outside what full throw cuts off.
    let (after, before) = set.jitter_beside(&raw).unwrap();
    assert!(after > 1.5 * before && after < 2.1 * before, "{before} {after}");
    let square = prepared.effect(&Settings { shape: Shape::PerAxis, ..settings });
    assert!(square.false_per_minute.is_ok());
}

/// What a count cannot tell: an output that never rests is one movement, all of the time.
#[test]
fn the_share_of_time_moved_falls_with_the_dead_zone() {
    let records = [rest(61.0, 0.02)];
    let measures = measure(&records);
    let prepared = Prepared::new(&records, &measures);
    let centre = measures.rest.as_ref().unwrap().centre;
    let moving = |dead_zone: f64| {
        let settings = Settings { centre, dead_zone, ..Settings::default() };
        prepared.effect(&settings).moving_share.unwrap()
    };
    assert_eq!(moving(0.0), 1.0);
    assert_eq!(moving(0.3), 0.0);
    let shares: Vec<f64> = (0..60).map(|i| moving(0.005 * f64::from(i))).collect();
    assert!(shares.windows(2).all(|pair| pair[1] <= pair[0]), "{shares:?}");
    // It is the time outside the radius that the rate curve tells of, where both are looked at.
    for point in &measures.rest.as_ref().unwrap().curve {
        assert!((moving(point.radius) - point.outside_share).abs() < 1e-9, "{point:?}");
    }
    assert_eq!(Prepared::new(&[], &measure(&[])).effect(&Settings::default()).moving_share, None);
}

/// Out for a third of the time, once in long stays and once in many short ones: the same share.
#[test]
fn the_share_of_time_moved_weighs_time() {
    for period in [0.3, 3.0] {
        let out = |at: f64| {
            let away = at % period >= period * 2.0 / 3.0;
            if away { Position::new(0.2, 0.0) } else { Position::ORIGIN }
        };
        let records = [quiet_rest(recording(0.0, 61.0, 1000.0, true, out))];
        let prepared = Prepared::new(&records, &measure(&records));
        let share =
            prepared.effect(&Settings { dead_zone: 0.1, ..Settings::default() }).moving_share;
        assert!((share.unwrap() - 1.0 / 3.0).abs() < 0.01, "{period}: {share:?}");
    }
}

#[test]
fn the_suggestion_keeps_the_wish_on_its_own_recording() {
    let records = [rest(121.0, 0.02)];
    let measures = measure(&records);
    let suggestions = suggest(&records, &measures, Wish::default());
    let effect = Prepared::new(&records, &measures).effect(&suggestions.settings);
    assert!(effect.false_per_minute.unwrap().value <= 0.5);
    let expected = effect.expected_false_per_minute.unwrap();
    assert!(expected <= 0.5, "{expected}");
    let form = HostForm::of(&suggestions.settings).stepped(5.0);
    assert!(form.dead_zone_radial_percent / 100.0 >= suggestions.settings.dead_zone);
}

/// Pushes in the four directions, three rounds: right and left to 0.8, up and down to `up`.
fn uneven(up: f64) -> TaskRecord {
    let ends: Vec<(Direction, Position)> = (0..12)
        .map(|i| {
            let asked = Direction::FOUR[i % 4];
            let along_up = matches!(asked, Direction::Up | Direction::Down);
            let odd = 1.0 + 0.02 * (f64::from(i as u32 / 4) - 1.0);
            let length = odd * if along_up { up } else { 0.8 };
            (asked, Position::polar(length, asked.degrees() + 1.5 * (odd - 1.0) / 0.02))
        })
        .collect();
    pushes(500.0, &ends, 100.0, false, |_| Position::ORIGIN)
}

/// A gain multiplies the rest too: it is taken where it brings more than it costs, and the dead
/// zone that goes with it is that of the stretched rest, or more for a host that takes no centre.
#[test]
fn a_levelling_gain_raises_the_dead_zone_and_must_be_worth_it() {
    let moved = |along: fn(Position) -> Position| {
        let path = move |at: f64| along(restless(at, 0.02));
        let records = [quiet_rest(recording(0.0, 61.0, 100.0, false, path)), uneven(0.35)];
        // The rest alone levels nothing.
        let without = suggested(&records[..1], Wish::default()).dead_zone_with_all.unwrap();
        let without = without.radius.value;
        let suggestions = suggested(&records, Wish::default());
        let advice = suggestions.direction.unwrap();
        let gain = advice.levelling_gain.unwrap();
        assert!((gain - 0.8 / 0.35).abs() < 0.1, "{gain}");
        (suggestions.settings, gain, without, advice.dead_zone_with_gain.unwrap())
    };
    // The rest moves sideways alone: stretching up and down costs nothing.
    let (settings, gain, without, with) = moved(|at| Position::new(at.right, 0.0));
    assert!((with / without - 1.0).abs() < 0.05, "{with} {without}");
    assert_eq!(settings.direction.up_gain, gain);
    assert!((with..1.05 * with).contains(&settings.dead_zone), "{} {with}", settings.dead_zone);
    // It moves every way, or up and down alone: what the gain brings, the noise takes.
    for along in [(|at| at) as fn(Position) -> Position, |at| Position::new(0.0, at.up)] {
        let (settings, _, without, with) = moved(along);
        assert!(with > 1.2 * without && with < 2.5 * without, "{with} {without}");
        assert_eq!(settings.direction, crate::settings::DirectionMap::default());
        assert!((without..1.05 * without).contains(&settings.dead_zone), "{settings:?} {without}");
    }
}

/// Busy rest stands beside the quiet one and moves nothing.
#[test]
fn busy_rest_is_shown_and_never_pooled() {
    let quiet = rest(61.0, 0.01);
    let mut busy = rest(41.0, 0.04);
    let meanwhile = crate::task::Meanwhile::Talking;
    busy.ask = crate::task::TaskAsk::BusyRest { seconds: 40.0, meanwhile };
    let alone = suggested(std::slice::from_ref(&quiet), Wish::default());
    let both = suggested(&[quiet, busy], Wish::default());
    assert_eq!(alone.settings, both.settings);
    let shown = &both.dead_zone.unwrap().busy;
    assert_eq!((shown.len(), shown[0].meanwhile), (1, meanwhile));
    let rate = shown[0].per_minute.unwrap();
    assert!(rate.value > 5.0 && rate.low > 2.0, "{rate:?}");
    assert!(shown[0].radius_needed.unwrap() > 2.0 * both.settings.dead_zone);
    assert!(alone.dead_zone.unwrap().busy.is_empty());
}

#[test]
fn what_does_not_apply_says_why() {
    use crate::{StickKind, StickTrait};
    let of_kind = |kind: StickKind| {
        let mut records = vec![rest(61.0, 0.01), reach(0.7)];
        for record in &mut records {
            record.known.kind = kind;
        }
        suggested(&records, Wish::default())
    };
    let loose = of_kind(StickKind { centres_itself: false, ..StickKind::default() });
    let why = NotEnough::NotFor(StickTrait::NotSelfCentring);
    assert_eq!(loose.dead_zone.unwrap_err(), why);
    assert_eq!((loose.settings.dead_zone, loose.settings.centre), (0.0, Position::ORIGIN));
    assert!(loose.full_throw.is_ok());
    let switches = of_kind(StickKind { switches: true, ..StickKind::default() });
    let why = NotEnough::NotFor(StickTrait::Switches);
    assert_eq!(switches.dead_zone.unwrap_err(), why);
    assert_eq!(switches.full_throw.unwrap_err(), why);
}

/// Rest and reach collide: what to try is named, in order, and no heavier spring unasked.
#[test]
fn remedies_are_named_where_rest_and_reach_collide() {
    use super::Remedy;
    let collides = suggested(&[rest(61.0, 0.04), reach(0.25)], Wish::default());
    let remedies = collides.dead_zone.unwrap().remedies;
    assert_eq!(remedies[..2], [Remedy::PostureAndArmSupport, Remedy::OtherSiteOrTopper]);
    assert!(!remedies.contains(&Remedy::HeavierSpring));
    let roomy = suggested(&[rest(61.0, 0.01), reach(0.7)], Wish::default());
    assert!(roomy.dead_zone.unwrap().remedies.is_empty());
}

/// A minute of quiet wander with `count` jerks of a fifth of the travel, 0.3 s each, at moments of
/// chance but a second apart at least, to all sides.
fn jerky(count: u32, seed: u64) -> Vec<TaskRecord> {
    let mut state = seed;
    let mut even = move || {
        state = (1_664_525 * state + 1_013_904_223) % (1 << 32);
        (state as f64 + 0.5) / 4_294_967_296.0
    };
    let room = 58.0 / f64::from(count.max(1));
    let jerks: Vec<(f64, f64)> = (0..count)
        .map(|i| (2.0 + room * f64::from(i) + even() * (room - 1.4), 360.0 * even()))
        .collect();
    let path = move |at: f64| {
        let jerk = jerks.iter().map(|(from, degrees)| {
            let since = (at - from) / 0.3;
            let height = if (0.0..1.0).contains(&since) {
                libm::sin(std::f64::consts::PI * since)
            } else {
                0.0
            };
            Position::polar(0.2 * height, *degrees)
        });
        jerk.fold(restless(at, 0.007), |at, jerk| at + jerk)
    };
    vec![quiet_rest(recording(0.0, 61.0, 100.0, false, path))]
}

/// No cliff: however many jerks there are, they are counted apart and the dead zone stays.
#[test]
fn jerks_at_any_rate_leave_the_dead_zone_where_it_is() {
    let calm = suggested(&jerky(0, 1), Wish::default()).settings.dead_zone;
    for count in 0..=20 {
        let records = jerky(count, 77 + u64::from(count));
        let measures = measure(&records);
        let sudden = &measures.rest.as_ref().unwrap().sudden;
        let rate = sudden.per_minute.unwrap();
        let advice = suggest(&records, &measures, Wish::default()).dead_zone.unwrap();
        println!("{count}: {} seen, {:.4}", sudden.count, advice.radius.value);
        assert!((rate.low..=rate.high).contains(&f64::from(count)), "{count}: {rate:?}");
        assert!(
            (advice.radius.value / calm - 1.0).abs() < 0.2,
            "{count}: {advice:?} against {calm}"
        );
        assert_eq!(advice.covering_sudden.is_some(), count > 0);
        assert_eq!(advice.covers_frequent, None);
    }
}
