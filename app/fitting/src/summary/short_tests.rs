use super::super::grid::{Coefficient, Exponent, Gain, Hertz, Moment};
use super::*;
use crate::summary::{ChosenDirection, ChosenTiming};
use proptest::prelude::*;

/// The days of the calendar as POSIX.1-2017 counts them (section 4.16, "seconds since the Epoch"):
/// 946,684,800 s and 951,782,400 s are 2000-01-01 and 2000-02-29, 4,107,542,400 s is 2100-03-01
/// (from memory).
#[test]
fn published_days() {
    assert_eq!(date(0), (1970, 1, 1));
    assert_eq!(date(946_684_800 / 86_400), (2000, 1, 1));
    assert_eq!(date(951_782_400 / 86_400), (2000, 2, 29));
    assert_eq!(date(47_540), (2100, 2, 28));
    assert_eq!(date(47_541), (2100, 3, 1));
    assert_eq!(date(LAST_DAY), (9999, 12, 31));
    for known in [0, 1, 10_957, 11_016, 20_784, 47_541, LAST_DAY] {
        let (year, month, date) = date(known);
        assert_eq!(day(&format!("{year}-{month}-{date}")), Some(known));
    }
    assert_eq!(day("2026-02-30"), None);
    assert_eq!(day("1969-12-31"), None);
}

fn estimate<G: Grid + std::fmt::Debug>(
    highest: i32,
    from: fn(i32) -> G,
) -> impl Strategy<Value = Estimated<G>> {
    (0..=highest, 0..=highest, 0..=highest).prop_map(move |(one, two, three)| {
        let mut all = [one, two, three];
        all.sort_unstable();
        Estimated { value: from(all[1]), low: from(all[0]), high: from(all[2]) }
    })
}

fn chosen() -> impl Strategy<Value = ChosenSettings> {
    let curve = prop_oneof![
        Just(ChosenCurve::Linear),
        (200..=5_000).prop_map(|steps| ChosenCurve::Exponent(Exponent::from_steps(steps))),
        proptest::collection::btree_set(1..1_000_i32, 0..5).prop_map(|inner| {
            let at = |steps: i32| (Share::from_steps(steps), Share::from_steps(steps));
            let ends = [0, 1_000];
            let mut all: Vec<i32> = ends.into_iter().chain(inner).collect();
            all.sort_unstable();
            ChosenCurve::Points(all.into_iter().map(at).collect())
        }),
    ];
    let direction = (any::<[bool; 3]>(), -1_800..=1_800_i32, 200..=5_000_i32).prop_map(
        |([swapped, right_inverted, up_inverted], turn, gain)| ChosenDirection {
            swapped,
            right_inverted,
            up_inverted,
            turn: Degrees::from_steps(turn),
            right_gain: Gain::from_steps(gain),
            up_gain: Gain::from_steps(1_000),
        },
    );
    let moment = || (0..=60_000_i32).prop_map(Moment::from_steps);
    let switches = proptest::option::of((0..=1_500_i32, 0..=1_500_i32, moment()).prop_map(
        |(one, two, shortest)| ChosenSwitches {
            on: Share::from_steps(one.max(two)),
            off: Share::from_steps(one.min(two)),
            shortest,
        },
    ));
    let smoothing = prop_oneof![
        Just(ChosenSmoothing::Off),
        (10..=6_000_i32, 0..=100_000_i32).prop_map(|(cutoff, speed)| ChosenSmoothing::OneEuro {
            cutoff: Hertz::from_steps(cutoff),
            speed_coefficient: Coefficient::from_steps(speed),
        }),
    ];
    let timing = (moment(), moment(), proptest::option::of(moment())).prop_map(
        |(shortest_press, bounce, repeat_delay)| ChosenTiming {
            shortest_press,
            bounce,
            repeat_delay,
        },
    );
    let rest = (0..=900_i32, 10..=500_i32, any::<bool>(), -500..=500_i32);
    (curve, direction, switches, smoothing, timing, rest).prop_map(
        |(curve, direction, switches, smoothing, buttons, (dead, more, radial, centre))| {
            let share = Share::from_steps;
            ChosenSettings {
                centre: Place { right: share(centre), up: share(0) },
                direction,
                smoothing,
                dead_zone: share(dead),
                full_throw: share(dead + more),
                shape: if radial { Shape::Radial } else { Shape::PerAxis },
                curve,
                switches,
                buttons,
            }
        },
    )
}

fn short() -> impl Strategy<Value = ShortSummary> {
    let reach =
        proptest::collection::vec(proptest::option::of(estimate(1_500, Share::from_steps)), 8)
            .prop_map(|all| {
                let known = Direction::EIGHT.into_iter().zip(all);
                known.filter_map(|(direction, reach)| Some((direction, reach?))).collect()
            });
    let rate = || proptest::option::of(estimate(16_000, PerMinute::from_steps));
    (
        (0..=LAST_DAY, any::<[bool; 3]>(), 0..=32_u32, 0..=32_u32),
        chosen(),
        reach,
        proptest::option::of(estimate(1_000, Share::from_steps)),
        [rate(), rate()],
    )
        .prop_map(
            |(
                (made_day, [practised, has_dead_zone, has_full_throw], axes, buttons),
                mut chosen,
                reach,
                wander,
                false_per_minute,
            )| {
                if !has_dead_zone {
                    chosen.dead_zone = Share::from_steps(0);
                }
                if !has_full_throw {
                    chosen.full_throw = Share::of(1.0);
                }
                ShortSummary {
                    made_day,
                    practised,
                    controls: (axes, buttons),
                    chosen,
                    has_dead_zone,
                    has_full_throw,
                    reach,
                    wander,
                    false_per_minute,
                }
            },
        )
}

proptest! {
    #[test]
    fn what_fits_comes_back(short in short(), breaks in proptest::collection::vec(0..600_usize, 0..4)) {
        match short.to_text() {
            Ok(text) => {
                prop_assert!(text.len() <= MOST_CHARACTERS);
                // ISO/IEC 18004, table 5, without space and percent sign.
                let allowed = |one: char| {
                    one.is_ascii_digit() || one.is_ascii_uppercase() || "$*+-./:".contains(one)
                };
                prop_assert!(text.chars().all(allowed), "{}", text);
                prop_assert_eq!(ShortSummary::from_text(&text), Ok(short));
                // As a message may have made it.
                let mut broken = text.to_ascii_lowercase();
                for at in breaks {
                    broken.insert(at % text.len(), '\n');
                }
                prop_assert_eq!(ShortSummary::from_text(&broken), ShortSummary::from_text(&text));
                prop_assert!(is_short(&text));
            }
            Err(ShortError::TooLong { characters }) => prop_assert!(characters > MOST_CHARACTERS),
            Err(other) => prop_assert!(false, "{other:?}"),
        }
    }

    /// One changed character is noticed.
    #[test]
    fn damage_is_noticed(short in short(), at in any::<proptest::sample::Index>(), to in "[0-9A-Z:/.-]") {
        if let Ok(text) = short.to_text() {
            let mut other = text.clone();
            let at = at.index(text.len());
            other.replace_range(at..=at, &to);
            if other != text {
                prop_assert!(ShortSummary::from_text(&other).is_err());
            }
        }
    }

    #[test]
    fn any_text_is_borne(text in "(STICK-FITTING:1/)?(/?[A-Z-]{0,8}(:[0-9.E-]{0,9}){0,3}){0,30}") {
        let _ = ShortSummary::from_text(&text);
        let sum = crc32(text.as_bytes());
        let _ = ShortSummary::from_text(&format!("{text}/SUM:{sum:08X}"));
    }
}

#[test]
fn what_does_not_fit_says_so() {
    let points: Vec<(Share, Share)> = (0..16)
        .map(|at| (Share::from_steps(at * 66 + 1), Share::from_steps(at * 66 + 1)))
        .collect();
    let estimate = Estimated {
        value: Share::from_steps(777),
        low: Share::from_steps(666),
        high: Share::from_steps(888),
    };
    let mut short = ShortSummary {
        made_day: 20_000,
        practised: false,
        controls: (2, 17),
        chosen: ChosenSettings::of(&Settings::default()),
        has_dead_zone: true,
        has_full_throw: true,
        reach: Direction::EIGHT.map(|direction| (direction, estimate)).to_vec(),
        wander: Some(estimate),
        false_per_minute: [None; 2],
    };
    assert!(short.to_text().is_ok());
    short.chosen.curve = ChosenCurve::Points(points);
    short.chosen.smoothing = ChosenSmoothing::OneEuro {
        cutoff: Hertz::from_steps(1_234),
        speed_coefficient: Coefficient::from_steps(12_345),
    };
    short.chosen.switches = Some(ChosenSwitches {
        on: Share::from_steps(777),
        off: Share::from_steps(666),
        shortest: Moment::from_steps(1_234),
    });
    let rate = PerMinute::from_steps(12_345);
    short.false_per_minute = [Some(Estimated { value: rate, low: rate, high: rate }); 2];
    let text = short.to_text();
    assert!(
        matches!(text, Err(ShortError::TooLong { characters }) if characters > 600),
        "{text:?}"
    );
}

#[test]
fn each_kind_of_wrong_text_is_told_apart() {
    assert_eq!(ShortSummary::from_text("hello"), Err(ShortError::NotOurs));
    assert_eq!(ShortSummary::from_text(""), Err(ShortError::NotOurs));
    let newer = Err(ShortError::Newer { version: 3 });
    assert_eq!(ShortSummary::from_text("STICK-FITTING:3/X"), newer);
    assert_eq!(
        ShortSummary::from_text("STICK-FITTING:1/MADE:2026-01-01"),
        Err(ShortError::Damaged)
    );
    let long = format!("STICK-FITTING:1/{}", "A".repeat(600));
    assert_eq!(ShortSummary::from_text(&long), Err(ShortError::TooLong { characters: 601 }));
}

/// Without a dead zone or a full throw none is written; with both the first form is kept, which older
/// pages read.
#[test]
fn no_number_is_written_where_there_is_none() {
    let chosen = ChosenSettings::of(&Settings::default());
    for (has_dead_zone, has_full_throw) in
        [(false, false), (false, true), (true, false), (true, true)]
    {
        let short = ShortSummary {
            made_day: 20_000,
            practised: false,
            controls: (2, 17),
            chosen: chosen.clone(),
            has_dead_zone,
            has_full_throw,
            reach: Vec::new(),
            wander: None,
            false_per_minute: [None; 2],
        };
        let text = short.to_text().expect("it fits");
        let form = if has_dead_zone && has_full_throw { 1 } else { 2 };
        assert!(text.starts_with(&format!("STICK-FITTING:{form}/")), "{text}");
        assert_eq!(text.contains("/DEAD-ZONE:0/"), has_dead_zone, "{text}");
        assert_eq!(text.contains("/FULL-THROW:1/"), has_full_throw, "{text}");
        assert_eq!(text.matches("DEAD-ZONE").count(), usize::from(has_dead_zone), "{text}");
        assert_eq!(text.matches("FULL-THROW").count(), usize::from(has_full_throw), "{text}");
        assert_eq!(ShortSummary::from_text(&text), Ok(short));
    }
}
