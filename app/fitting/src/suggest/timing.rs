//! Button timing, from the person's own presses.
//!
//! The acceptance delay has to lie above the presses nobody wanted and below those that were
//! meant: above the limit that 95 % of unwanted presses stay under, below the one that 95 % of
//! plain presses stay over, each with 95 % confidence ([`crate::statistics::tolerance`]: by order
//! statistics with 59 presses or more, else for durations whose logarithms are normal). Where
//! the two overlap there is no safe setting; where only few presses keep them from being told
//! apart, how many would do is said. With one or two unwanted presses nothing can be
//! said of all of them: then the longest seen stands in, and the setting is rough.

use super::ButtonAdvice;
use crate::estimate::{Basis, Estimate, Measured, NotEnough, Sureness};
use crate::measure::ButtonPresses;
use crate::settings::ButtonTiming;
use crate::statistics::plain;
use crate::statistics::tolerance::{
    FEWEST_VALUES, log_normal_lower, log_normal_upper, normal_factor, wilks_lower, wilks_upper,
};

/// Of all presses this share keeps a limit...
const SHARE: f64 = 0.95;
/// ... with this confidence.
const CONFIDENCE: f64 = 0.95;
/// Firm from this many plain presses on.
const FIRM_PRESSES: usize = 10;
/// No bounce window beyond this, seconds: a switch that chatters for longer is broken. (A bad
/// switch bounced for 157 ms in Ganssle, *A Guide to Debouncing*, 2004, second hand.)
const LONGEST_BOUNCE_SECONDS: f64 = 0.2;
/// A bounce window this many times the longest bounce seen, where few were.
const BOUNCE_MARGIN: f64 = 1.5;
/// No repeat delay beyond this is of use, seconds.
const LONGEST_REPEAT_SECONDS: f64 = 3.0;

/// The timing that suits each button.
pub(super) fn timing(presses: &[ButtonPresses]) -> Vec<ButtonAdvice> {
    presses.iter().map(one_button).collect()
}

/// How sure a timing for all buttons is: as the least sure of them; `None` without any.
#[must_use]
pub fn least_sure(buttons: &[ButtonAdvice]) -> Option<Sureness> {
    buttons.iter().map(|advice| advice.sureness).min()
}

fn one_button(presses: &ButtonPresses) -> ButtonAdvice {
    let count = presses.lengths.len();
    let seconds = presses.lengths.iter().sum();
    let basis = Basis { seconds, repetitions: count };
    let wanted = lower_limit(&presses.lengths).ok_or(if count == 0 {
        NotEnough::NothingRecorded
    } else {
        NotEnough::Repetitions { have: count, need: FEWEST_VALUES }
    });
    let (shortest_press, few_unwanted) = match wanted {
        Ok(wanted) => acceptance(presses, wanted, basis),
        Err(why) => (Err(why), false),
    };
    let bounce = wanted.and_then(|_| bounce(presses, basis));
    let repeat_delay = wanted.and_then(|_| repeat_delay(presses, basis));
    let is_firm = count >= FIRM_PRESSES && !few_unwanted;
    let sureness = match (wanted, &shortest_press) {
        (Err(_), _) => Sureness::NotEnough,
        (Ok(_), Ok(press)) => press.sureness(is_firm),
        (Ok(_), Err(_)) => Sureness::Rough,
    };
    ButtonAdvice {
        button: presses.button,
        shortest_press,
        bounce,
        repeat_delay,
        sureness,
        presses: count,
    }
}

/// What [`SHARE`] of all such lengths stay over, and every one that was seen.
fn lower_limit(lengths: &[f64]) -> Option<f64> {
    let limit = wilks_lower(lengths, SHARE, CONFIDENCE)
        .or_else(|| log_normal_lower(lengths, SHARE, CONFIDENCE))?;
    Some(lengths.iter().copied().fold(limit, f64::min))
}

/// What [`SHARE`] of all such lengths stay under, and every one that was seen.
fn upper_limit(lengths: &[f64]) -> Option<f64> {
    let limit = wilks_upper(lengths, SHARE, CONFIDENCE)
        .or_else(|| log_normal_upper(lengths, SHARE, CONFIDENCE))?;
    Some(lengths.iter().copied().fold(limit, f64::max))
}

fn longest(lengths: &[f64]) -> Option<f64> {
    lengths.iter().copied().max_by(f64::total_cmp)
}

/// The acceptance delay, and whether too few unwanted presses were seen to be sure of it. The
/// interval is the room there is: from the unwanted to the wanted presses.
fn acceptance(presses: &ButtonPresses, wanted: f64, basis: Basis) -> (Measured, bool) {
    let Some(seen) = longest(&presses.unwanted) else {
        // Nothing to keep out: every press is accepted.
        return (Estimate::new(0.0, 0.0, wanted, basis).ok_or(NotEnough::DoesNotApply), false);
    };
    let limit = upper_limit(&presses.unwanted);
    let unwanted = limit.map_or(seen, |limit| limit.max(seen));
    if unwanted >= wanted {
        return (Err(more_or_none(&presses.lengths, unwanted)), limit.is_none());
    }
    // In the middle by ratio: as many times above the one as below the other, and nearer to the
    // shorter, for every press waits for it.
    let value = libm::sqrt(unwanted.max(1e-4) * wanted).clamp(unwanted, wanted);
    let estimate = Estimate::new(value, unwanted, wanted, basis).ok_or(NotEnough::DoesNotApply);
    (estimate, limit.is_none())
}

/// Why there is no delay above `unwanted` that plain presses of these lengths surely pass: so many
/// presses more would tell, if they scatter as these do; or they overlap.
fn more_or_none(lengths: &[f64], unwanted: f64) -> NotEnough {
    let logarithms: Vec<f64> = lengths.iter().map(|length| libm::log(*length)).collect();
    let (Some(middle), Some(deviation)) = (plain::mean(&logarithms), plain::deviation(&logarithms))
    else {
        return NotEnough::Unsettled;
    };
    let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
    let would_pass = |count: usize| {
        middle - normal_factor(count, SHARE, CONFIDENCE) * deviation > libm::log(unwanted)
    };
    [10, 15, 20, 30, 40]
        .into_iter()
        .filter(|count| *count > lengths.len() && shortest > unwanted)
        .find(|count| would_pass(*count))
        .map_or(NotEnough::Unsettled, |need| NotEnough::Repetitions { have: lengths.len(), need })
}

/// The bounce window: above the bounces seen and below the gaps of a person who presses twice.
/// 0 where none was seen; its upper end then says below what none could be seen.
fn bounce(presses: &ButtonPresses, basis: Basis) -> Measured {
    let Some(seen) = longest(&presses.bounces) else {
        let unseen = presses.shortest_seen_seconds;
        return Estimate::new(0.0, 0.0, unseen, basis).ok_or(NotEnough::DoesNotApply);
    };
    let above = upper_limit(&presses.bounces).unwrap_or(0.0).max(BOUNCE_MARGIN * seen);
    let above = above.min(LONGEST_BOUNCE_SECONDS);
    let below = below_gaps(presses).unwrap_or(LONGEST_BOUNCE_SECONDS);
    if seen >= below || seen > above {
        return Err(NotEnough::Unsettled);
    }
    let value = above.min(0.5 * (seen + below)).max(seen);
    Estimate::new(value, seen, below, basis).ok_or(NotEnough::DoesNotApply)
}

/// The repeat delay: above what 95 % of plain presses stay under. Its lower end is the longest
/// plain press seen, its upper end the presses that were meant to be long, where they are known.
fn repeat_delay(presses: &ButtonPresses, basis: Basis) -> Measured {
    let few = NotEnough::Repetitions { have: presses.lengths.len(), need: FEWEST_VALUES };
    let seen = longest(&presses.lengths).ok_or(few)?;
    let value = upper_limit(&presses.lengths).ok_or(few)?.max(seen).min(LONGEST_REPEAT_SECONDS);
    let long = presses.long_seconds.map_or(value, |long| long.value);
    Estimate::new(value, seen.min(value), long.max(value), basis).ok_or(NotEnough::DoesNotApply)
}

/// Below the gaps of a person who presses this button twice, seconds; `None` where none was seen.
fn below_gaps(presses: &ButtonPresses) -> Option<f64> {
    let shortest = presses.gaps.iter().copied().min_by(f64::total_cmp);
    lower_limit(&presses.gaps).or(shortest.map(|gap| gap / BOUNCE_MARGIN))
}

/// One timing for all buttons, where it is safe for each: the acceptance delay lies in the room of
/// every button that has something to keep out, or accepts every press; the bounce window lies below
/// the gaps of every button, whether or not it bounced itself.
pub(super) fn for_all(made: &[ButtonPresses], advice: &[ButtonAdvice]) -> ButtonTiming {
    let rooms = advice.iter().filter_map(|button| button.shortest_press.ok());
    let needed = rooms.clone().map(|room| room.value).fold(0.0, f64::max);
    let most = rooms.map(|room| room.high).fold(f64::INFINITY, f64::min);
    // A button without a safe delay must not be given another's.
    let unsafe_for_one = advice.iter().any(|button| button.shortest_press.is_err());
    let windows = advice.iter().filter_map(|button| button.bounce.ok());
    let bounce_needed = windows.map(|window| window.value).fold(0.0, f64::max);
    let bounce_most = made.iter().filter_map(below_gaps).fold(f64::INFINITY, f64::min);
    let repeat = advice.iter().filter_map(|button| button.repeat_delay.ok());
    ButtonTiming {
        shortest_press_seconds: if needed < most && !unsafe_for_one { needed } else { 0.0 },
        bounce_seconds: if bounce_needed <= bounce_most { bounce_needed } else { 0.0 },
        repeat_delay_seconds: repeat.map(|delay| delay.value).max_by(f64::total_cmp),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pipeline::buttons::ButtonFilter;
    use proptest::prelude::{prop_assert, proptest};

    fn presses(lengths: &[f64], unwanted: &[f64]) -> ButtonPresses {
        ButtonPresses {
            button: 0,
            made: lengths.len(),
            missed: 0,
            reaction_seconds: Err(NotEnough::NothingRecorded),
            length_seconds: Err(NotEnough::NothingRecorded),
            lengths: lengths.to_vec(),
            long_seconds: Err(NotEnough::NothingRecorded),
            gap_seconds: Err(NotEnough::NothingRecorded),
            gaps: vec![0.15, 0.17, 0.18, 0.2],
            unwanted: unwanted.to_vec(),
            unwanted_per_minute: Err(NotEnough::NothingRecorded),
            bounces: Vec::new(),
            shortest_seen_seconds: 0.004,
        }
    }

    const PLAIN: [f64; 10] = [0.21, 0.2, 0.23, 0.19, 0.22, 0.2, 0.24, 0.21, 0.2, 0.22];

    #[test]
    fn the_delay_lies_between_unwanted_and_wanted() {
        let advice = one_button(&presses(&PLAIN, &[0.02, 0.03, 0.025, 0.03]));
        let delay = advice.shortest_press.unwrap();
        assert!(0.03 < delay.low && delay.low < delay.value && delay.value < delay.high);
        assert!(delay.high < 0.19, "{delay:?}");
        assert_eq!(advice.sureness, Sureness::Firm);
        // The filter keeps out what was not wanted and lets through what was.
        let made = [presses(&PLAIN, &[0.02, 0.03, 0.025, 0.03])];
        let mut filter = ButtonFilter::new(for_all(&made, std::slice::from_ref(&advice)));
        let mut heard = |from: f64, length: f64| {
            let changes = [filter.advance(from, true), filter.advance(from + length, false)];
            changes.concat().len()
        };
        assert_eq!(heard(1.0, 0.03), 0);
        assert_eq!(heard(2.0, 0.19), 2);
    }

    #[test]
    fn overlap_has_no_safe_setting() {
        let made = presses(&PLAIN, &[0.1, 0.15, 0.2]);
        let advice = one_button(&made);
        assert_eq!(advice.shortest_press, Err(NotEnough::Unsettled));
        assert_eq!(for_all(&[made], &[advice]).shortest_press_seconds, 0.0);
        // One button without a safe setting: what suits the other is not put on both.
        let made = [presses(&PLAIN, &[0.02, 0.03, 0.025]), presses(&PLAIN, &[0.2])];
        let both = timing(&made);
        assert!(both[0].shortest_press.is_ok() && both[1].shortest_press.is_err());
        assert_eq!(for_all(&made, &both).shortest_press_seconds, 0.0);
    }

    #[test]
    fn few_presses_that_do_not_overlap_ask_for_more() {
        let scattered = [0.136, 0.156, 0.164, 0.168, 0.192];
        let advice = one_button(&presses(&scattered, &[0.1, 0.09]));
        let Err(NotEnough::Repetitions { have: 5, need }) = advice.shortest_press else {
            unreachable!("{advice:?}")
        };
        // With as many that scatter alike there is one.
        let many: Vec<f64> = (0..need).map(|i| scattered[i % 5]).collect();
        assert!(one_button(&presses(&many, &[0.1, 0.09])).shortest_press.is_ok());
    }

    #[test]
    fn nothing_to_keep_out_accepts_every_press_and_few_presses_say_so() {
        let advice = one_button(&presses(&PLAIN, &[]));
        assert_eq!(advice.shortest_press.unwrap().value, 0.0);
        assert_eq!(advice.bounce.unwrap().value, 0.0);
        let repeat = advice.repeat_delay.unwrap();
        assert!(repeat.low == 0.24 && repeat.value > 0.24 && repeat.value < 0.35, "{repeat:?}");
        let few = one_button(&presses(&PLAIN[..2], &[0.02]));
        assert_eq!(few.shortest_press, Err(NotEnough::Repetitions { have: 2, need: 3 }));
        assert_eq!(few.sureness, Sureness::NotEnough);
        assert_eq!(one_button(&presses(&[], &[])).shortest_press, Err(NotEnough::NothingRecorded));
        assert_eq!(for_all(&[], &[]), ButtonTiming::default());
    }

    #[test]
    fn the_bounce_window_stays_below_the_shortest_gap() {
        let bouncing = |bounces: &[f64]| {
            let presses = ButtonPresses { bounces: bounces.to_vec(), ..presses(&PLAIN, &[]) };
            one_button(&presses).bounce
        };
        let window = bouncing(&[0.006, 0.007, 0.008]).unwrap();
        assert!(window.value >= 0.008 && window.value < 0.05 && window.high < 0.15, "{window:?}");
        assert_eq!(bouncing(&[0.16]), Err(NotEnough::Unsettled));
    }

    /// A second press as soon after the first as this button's own, on a button with this timing.
    fn second_press_is_heard(timing: ButtonTiming, gap: f64) -> bool {
        let mut filter = ButtonFilter::new(ButtonTiming { repeat_delay_seconds: None, ..timing });
        let mut at = 1.0;
        let mut heard = 0;
        for (seconds, down) in [(0.0, true), (0.2, false), (gap, true), (0.2, false)] {
            at += seconds;
            heard += filter.advance(at, down).len();
        }
        heard == 4
    }

    /// Neither a button that did not bounce nor one whose bounces overlap its presses is left out
    /// of the bound: the window of another must not swallow its second press.
    #[test]
    fn the_window_of_one_button_spares_the_second_press_of_every_other() {
        let slow = ButtonPresses {
            gaps: vec![0.4, 0.42, 0.45],
            bounces: vec![0.07, 0.09, 0.1],
            ..presses(&PLAIN, &[])
        };
        let quick = |bounces: &[f64]| ButtonPresses {
            button: 1,
            gaps: vec![0.06, 0.07, 0.08],
            bounces: bounces.to_vec(),
            ..presses(&PLAIN, &[])
        };
        for quick in [quick(&[]), quick(&[0.09])] {
            let made = [slow.clone(), quick];
            let advice = timing(&made);
            assert!(advice[0].bounce.unwrap().value >= 0.1);
            let both = for_all(&made, &advice);
            assert!(second_press_is_heard(both, 0.06), "{both:?}");
        }
        // Alone, or beside one that leaves room, it keeps its window.
        let alone = for_all(std::slice::from_ref(&slow), &timing(std::slice::from_ref(&slow)));
        let roomy = [slow.clone(), ButtonPresses { bounces: Vec::new(), ..slow }];
        assert!(alone.bounce_seconds >= 0.1);
        assert_eq!(for_all(&roomy, &timing(&roomy)).bounce_seconds, alone.bounce_seconds);
    }

    proptest! {
        /// Whatever the buttons did: one timing for all lets every press through that was meant,
        /// and every second press.
        #[test]
        fn one_timing_for_all_spares_every_button(
            buttons in proptest::collection::vec(
                (
                    proptest::collection::vec(0.05..0.5_f64, 3..12),
                    proptest::collection::vec(0.02..0.6_f64, 0..5),
                    proptest::collection::vec(0.001..0.15_f64, 0..5),
                    proptest::collection::vec(0.005..0.1_f64, 0..4),
                ),
                1..4,
            ),
        ) {
            let made: Vec<ButtonPresses> = buttons
                .iter()
                .map(|(lengths, gaps, bounces, unwanted)| ButtonPresses {
                    gaps: gaps.clone(),
                    bounces: bounces.clone(),
                    ..presses(lengths, unwanted)
                })
                .collect();
            let all = for_all(&made, &timing(&made));
            for button in &made {
                for length in &button.lengths {
                    prop_assert!(all.shortest_press_seconds <= *length);
                }
                for gap in &button.gaps {
                    let plain = ButtonTiming { shortest_press_seconds: 0.0, ..all };
                    prop_assert!(second_press_is_heard(plain, *gap), "{all:?} {gap}");
                }
            }
        }

        /// Whatever was pressed: a delay never shuts out a plain press that was made, and numbers
        /// are in order.
        #[test]
        fn wanted_presses_get_through(
            lengths in proptest::collection::vec(0.01..2.0_f64, 0..30),
            unwanted in proptest::collection::vec(0.001..2.0_f64, 0..10),
            bounces in proptest::collection::vec(0.0001..0.1_f64, 0..10),
        ) {
            let presses = ButtonPresses { bounces, ..presses(&lengths, &unwanted) };
            let advice = one_button(&presses);
            let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
            if let Ok(delay) = advice.shortest_press {
                prop_assert!(delay.low <= delay.value && delay.value <= delay.high);
                prop_assert!(delay.value <= shortest);
            }
            if let Ok(window) = advice.bounce {
                prop_assert!(window.value <= LONGEST_BOUNCE_SECONDS);
            }
        }
    }
}
