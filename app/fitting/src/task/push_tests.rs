//! Pushes of every pace: told to come back when they have stopped, and not before.

use super::*;

/// Plays a push along `degrees` to `radius` and back; the seconds it took, if it ended.
fn play(watch: &mut PushWatch, radius: f64, degrees: f64, dwell: f64) -> Option<f64> {
    let step = 0.004;
    for tick in 0..5000 {
        let time = f64::from(tick) * step;
        let share = if time < 0.4 {
            time / 0.4
        } else if time < 0.4 + dwell {
            1.0
        } else {
            (1.0 - (time - 0.4 - dwell) / 0.4).max(0.0)
        };
        if watch.hold_for(step, Position::polar(radius * share, degrees)) {
            return Some(time);
        }
    }
    None
}

#[test]
fn a_push_ends_a_moment_after_it_came_back() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    let took = play(&mut watch, 0.6, 95.0, 0.6).expect("it ends");
    assert!((took - (1.4 - 0.4 / 6.0 + 0.3)).abs() < 0.02, "{took}");
    let push = watch.push().expect("there is one");
    assert!((push.reach - 0.6).abs() < 0.02, "{push:?}");
    assert!((push.degrees_off.expect("it went somewhere") - 5.0).abs() < 1e-6);
    assert_eq!(watch.queried_degrees(), None);
}

#[test]
fn the_wrong_way_is_queried() {
    let mut watch = PushWatch::new(Direction::Left, 0.1);
    play(&mut watch, 0.6, -90.0, 0.6).expect("it ends");
    assert!((watch.queried_degrees().expect("queried") - 90.0).abs() < 1e-6);
}

#[test]
fn a_jerk_is_no_push() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    for tick in 0..400 {
        let radius = if (20..60).contains(&tick) { 0.5 } else { 0.0 };
        assert!(!watch.hold_for(0.004, Position::new(radius, 0.0)));
    }
    assert!(!watch.is_push() && watch.push().is_none());
}

#[test]
fn a_burst_of_rhythmic_movement_is_no_push() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    for tick in 0..2000 {
        let time = f64::from(tick) * 0.004;
        let size = if (1.0..4.0).contains(&time) { 0.2 } else { 0.0 };
        let at = Position::new(size * libm::sin(37.7 * time), 0.0);
        assert!(!watch.hold_for(0.004, at), "{time}");
    }
    assert!(!watch.is_push());
}

#[test]
fn a_stick_left_outside_starts_nothing_and_a_sagging_one_ends() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    for _ in 0..1000 {
        assert!(!watch.hold_for(0.004, Position::new(0.14, 0.0)));
    }
    assert!(!watch.is_push());
    let mut ended = false;
    for tick in 0..1500 {
        let radius = if tick < 200 { 0.7 } else { 0.14 };
        ended |= watch.hold_for(0.004, Position::new(0.0, radius));
    }
    assert!(ended, "comes to rest outside the quiet radius and still ends");
}

#[test]
fn a_long_plateau_asks_to_come_back() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    watch.hold_for(0.004, Position::ORIGIN);
    for _ in 0..200 {
        watch.hold_for(0.004, Position::new(0.0, 0.7));
    }
    assert!(!watch.is_coming_back());
    for _ in 0..150 {
        watch.hold_for(0.004, Position::new(0.0, 0.7));
    }
    assert!(watch.is_coming_back());
}

/// How far along a push is at each moment: 0 at the cue, 1 where it will end.
type Way = Box<dyn Fn(f64) -> f64>;

/// A movement from 0 to 1 as time goes from 0 to 1 (minimum jerk: Flash and Hogan 1985, *Journal of
/// Neuroscience* 5: 1688).
fn minimum_jerk(time: f64) -> f64 {
    let time = time.clamp(0.0, 1.0);
    time * time * time * (10.0 + time * (-15.0 + 6.0 * time))
}

/// Movements of equal size, each of `seconds`, with stops between them.
fn in_parts(parts: u32, seconds: f64, stop: f64) -> Way {
    Box::new(move |now| {
        let all: f64 = (0..parts)
            .map(|i| minimum_jerk((now - f64::from(i) * (seconds + stop)) / seconds))
            .sum();
        all / f64::from(parts)
    })
}

/// Pushes with the moment from which they gain nothing more, seconds.
fn pushes() -> Vec<(String, f64, Way)> {
    let mut all: Vec<(String, f64, Way)> = Vec::new();
    for seconds in [0.5, 1.0, 2.0, 3.0, 5.0, 8.0, 12.0] {
        let way: Way = Box::new(move |now| minimum_jerk(now / seconds));
        // From 97 % on it is as good as there.
        all.push((format!("smooth, {seconds} s"), 0.858 * seconds, way));
    }
    for (size, hertz) in [(0.04, 3.0), (0.05, 5.0), (0.06, 8.0), (0.06, 3.0)] {
        let way: Way = Box::new(move |now| {
            (now / 2.0).min(1.0) + size * libm::sin(std::f64::consts::TAU * hertz * now)
        });
        all.push((format!("trembling, {size} at {hertz} Hz"), 1.94, way));
    }
    for (parts, seconds, stop) in [(2, 0.5, 0.5), (3, 0.6, 0.7), (4, 0.8, 0.9), (5, 0.5, 0.4)] {
        let last = f64::from(parts) * (seconds + stop) - stop - 0.1 * seconds;
        all.push((
            format!("{parts} parts, stops of {stop} s"),
            last,
            in_parts(parts, seconds, stop),
        ));
    }
    for sag in [0.1, 0.2] {
        let way: Way = Box::new(move |now| {
            minimum_jerk(now) * (1.0 - sag * ((now - 1.0) / 2.0).clamp(0.0, 1.0))
        });
        all.push((format!("sags by {sag}"), 0.858, way));
    }
    for (at, size) in [(0.6, 0.5), (1.2, 0.8), (2.0, 0.4), (0.8, -0.3)] {
        // Up and down again in 0.3 s.
        let way: Way = Box::new(move |now| {
            let spasm = libm::sin(std::f64::consts::PI * ((now - at) / 0.3).clamp(0.0, 1.0));
            (minimum_jerk(now / 4.0) + size * spasm).max(0.0)
        });
        all.push((format!("a spasm of {size} at {at} s"), 0.858 * 4.0, way));
    }
    all
}

#[test]
fn nobody_is_called_back_before_they_have_stopped() {
    for (name, stops_at, way) in pushes() {
        for radius in [0.25, 0.6, 0.95] {
            let mut watch = PushWatch::new(Direction::Up, 0.1);
            let mut now = 0.0;
            while !watch.is_coming_back() && now < 60.0 {
                let over = watch.hold_for(0.004, Position::new(0.0, radius * way(now)));
                assert!(!over, "{name}, {radius}: over at {now}");
                now += 0.004;
            }
            assert!(
                now >= stops_at,
                "{name}, {radius}: called back at {now}, not from {stops_at} on"
            );
            // Nor is anybody left to hold at the limit.
            assert!(now < 1.15 * stops_at + 4.0, "{name}, {radius}: called back at {now} only");
        }
    }
}

#[test]
fn brisk_people_are_called_back_as_soon_as_before() {
    for seconds in [0.3, 0.5, 0.8] {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        let mut now = 0.0;
        while !watch.is_coming_back() && now < 60.0 {
            watch.hold_for(0.004, Position::new(0.0, 0.6 * minimum_jerk(now / seconds)));
            now += 0.004;
        }
        assert!(now < seconds + 1.7, "{seconds}: {now}");
    }
}

#[test]
fn a_slip_on_the_way_calls_nobody_back_for_good() {
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    let way = |now: f64| match now {
        now if now < 1.0 => 0.5 * minimum_jerk(now),
        now if now < 1.6 => 0.5 - 0.3 * minimum_jerk((now - 1.0) / 0.3),
        now => 0.2 + 0.6 * minimum_jerk((now - 1.6) / 1.5),
    };
    for tick in 0..750 {
        watch.hold_for(0.004, Position::new(0.0, way(f64::from(tick) * 0.004)));
    }
    assert!(!watch.is_coming_back(), "it goes further than ever");
}

#[test]
fn what_lies_in_gaps_is_no_push() {
    // A look every half second, every tenth, and once in a while: nobody knows how far it went.
    for between in [0.5, 0.1, 0.02] {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        let mut now = 0.0_f64;
        while now < 6.0 {
            let at = 0.6 * ((now - 1.0) / 0.4).min((4.0 - now) / 0.4).clamp(0.0, 1.0);
            if watch.hold_for(between, Position::new(0.0, at)) {
                break;
            }
            now += between;
        }
        assert!(watch.is_unwatched(), "{between}");
    }
    // One missed moment of a push that was seen is no harm.
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    play(&mut watch, 0.6, 90.0, 0.6).expect("it ends");
    assert!(!watch.is_unwatched());
    let mut watch = PushWatch::new(Direction::Up, 0.1);
    for tick in 0..500 {
        let looked_after = if tick == 200 { 0.3 } else { 0.004 };
        watch.hold_for(looked_after, Position::new(0.0, 0.6));
    }
    assert!(!watch.is_unwatched());
}
