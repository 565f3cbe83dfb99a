//! Presses of the buttons: on cue, and those nobody asked for.

use super::ButtonPresses;
use super::button_path::{Press, pace, presses_of};
use super::windows::without_pauses;
use crate::Span;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::sample::MOST_CONTROLS;
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::medians::{log_interval, sign_interval};
use crate::statistics::order::sort_numbers;
use crate::statistics::plain::median;
use crate::task::{
    HELD_SECONDS, Meanwhile, Outcome, PressAsk, Repetition, TaskAsk, TaskKind, TaskRecord,
};

/// The fewest presses that say anything of reaction, length or gap.
const FEWEST_PRESSES: usize = 3;
/// From this many on the interval asks nothing of the shape of the times.
const MANY_PRESSES: usize = 10;
/// The least watched time that says how often a button is pressed unasked, seconds.
const LEAST_WATCHED_SECONDS: f64 = 10.0;

/// All that was seen of one button.
#[derive(Default)]
struct Seen {
    asked: bool,
    made: usize,
    missed: usize,
    reactions: Vec<f64>,
    lengths: Vec<f64>,
    long: Vec<f64>,
    gaps: Vec<f64>,
    unwanted: Vec<f64>,
    unwanted_count: usize,
    bounces: Vec<f64>,
    asked_seconds: f64,
}

/// Measures the presses of every button that was asked for, or was pressed unasked.
///
/// A repetition's presses are those that begin in its span. Pressed once: the first is the
/// press. Long: the longest. Twice: the first two. What follows these nobody asked for, nor what
/// comes outside of the button's own repetitions in any other task. Left out is what is marked,
/// skipped or paused, free movement, what a helper pressed, a rest beside pressing, hands off
/// (nobody is there), and outside the presses a button held for two seconds or until the end, which
/// stops the task.
///
/// Reaction, length and gap are medians: with fewer than ten the interval is Student's t of the
/// logarithms, else that of the sign test. Fewer than three are not enough.
pub(super) fn presses(records: &[TaskRecord]) -> Vec<ButtonPresses> {
    let shortest_seen = pace(records);
    let watched: f64 = records.iter().flat_map(watched).fold(0.0, |sum, span| sum + span.seconds());
    let samples = records.iter().flat_map(|record| &record.recording.samples);
    let buttons = samples.map(|sample| sample.buttons.len()).max().unwrap_or(0);
    let asked = records.iter().filter(|record| record.is_of_person());
    let asked = asked.flat_map(|record| &record.repetitions);
    let asked = asked.filter_map(|repetition| repetition.button).map(|button| button + 1).max();
    (0..buttons.max(asked.unwrap_or(0)).min(MOST_CONTROLS))
        .filter_map(|button| {
            let mut seen = Seen::default();
            for record in records {
                let (presses, bounces) = presses_of(record, button);
                seen.bounces.extend(bounces);
                look(&mut seen, record, button, &presses);
            }
            (seen.asked || seen.unwanted_count > 0)
                .then(|| told(button, seen, watched, shortest_seen))
        })
        .collect()
}

/// The spans in which a press that nobody asked for counts as one.
fn watched(record: &TaskRecord) -> Vec<Span> {
    let counts = match &record.ask {
        _ if !record.is_of_person() => false,
        TaskAsk::BusyRest { meanwhile, .. } => *meanwhile != Meanwhile::Pressing,
        TaskAsk::HandsOff { .. } | TaskAsk::FreeMovement { .. } => false,
        // Where any button may be pressed, none is unwanted.
        TaskAsk::Presses { .. } => !record.is_free(),
        _ => true,
    };
    if !counts {
        return Vec::new();
    }
    let mut without: Vec<Span> = record.pauses.clone();
    let left_out = |repetition: &&Repetition| repetition.mark.is_some();
    without.extend(record.repetitions.iter().filter(left_out).map(|repetition| repetition.span));
    record
        .recording
        .polled
        .iter()
        .filter(|span| span.seconds().is_finite() && span.seconds() > 0.0)
        .flat_map(|span| without_pauses(*span, &without))
        .collect()
}

fn begins_in(span: Span, press: &Press) -> bool {
    span.from_seconds <= press.span.from_seconds && press.span.from_seconds <= span.to_seconds
}

/// Takes in the presses of one button in one record.
fn look(seen: &mut Seen, record: &TaskRecord, button: usize, presses: &[Press]) {
    // What a helper presses shows how the contact bounces, and nothing of the person.
    if !record.is_of_person() {
        return;
    }
    let mut is_asked = vec![false; presses.len()];
    let of_button =
        |repetition: &&Repetition| repetition.button == Some(button) && repetition.press.is_some();
    for repetition in record.repetitions.iter().filter(of_button) {
        let mine: Vec<usize> = (0..presses.len())
            .filter(|index| {
                presses[*index].begins_seen && begins_in(repetition.span, &presses[*index])
            })
            .collect();
        if !repetition.counts() {
            // What was pressed in what does not count is neither asked nor unasked.
            mine.iter().for_each(|index| is_asked[*index] = true);
            let missed = repetition.outcome == Outcome::Skipped && repetition.mark.is_none();
            seen.asked |= missed;
            seen.missed += usize::from(missed && mine.is_empty());
            continue;
        }
        seen.asked = true;
        let of = |index: &usize| presses[*index];
        let answers = match repetition.press {
            Some(PressAsk::Twice) => mine.len().min(2),
            Some(PressAsk::Long) => longest(presses, &mine).map_or(0, |place| place + 1),
            Some(PressAsk::Once) | None => mine.len().min(1),
        };
        mine.iter().take(answers).for_each(|index| is_asked[*index] = true);
        let wanted = if repetition.press == Some(PressAsk::Twice) { 2 } else { 1 };
        if answers < wanted {
            seen.missed += 1;
            continue;
        }
        seen.made += 1;
        seen.asked_seconds += repetition.span.seconds();
        let (Some(first), Some(last)) = (mine.first().map(of), mine.get(answers - 1).map(of))
        else {
            continue;
        };
        // Where any button may be pressed at any time, the cue is none.
        if !record.is_free() {
            seen.reactions.push(first.span.from_seconds - repetition.span.from_seconds);
        }
        match repetition.press {
            Some(PressAsk::Once) if first.ends_seen => seen.lengths.push(first.span.seconds()),
            Some(PressAsk::Long) if last.ends_seen => seen.long.push(last.span.seconds()),
            Some(PressAsk::Twice) if first.ends_seen => {
                seen.gaps.push(last.span.from_seconds - first.span.to_seconds);
            }
            _ => {}
        }
    }
    let watched = watched(record);
    let may_stop = record.ask.kind() != TaskKind::Presses;
    for (press, is_asked) in presses.iter().zip(is_asked) {
        let stops = may_stop && (!press.ends_seen || press.span.seconds() >= HELD_SECONDS);
        let counts = press.begins_seen && !is_asked && !stops;
        if counts && watched.iter().any(|span| begins_in(*span, press)) {
            seen.unwanted_count += 1;
            if press.ends_seen {
                seen.unwanted.push(press.span.seconds());
            }
        }
    }
}

/// Where the longest press stands in the list of these.
fn longest(presses: &[Press], among: &[usize]) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for (place, index) in among.iter().enumerate() {
        let seconds = presses[*index].span.seconds();
        if best.is_none_or(|best| seconds > best.1) {
            best = Some((place, seconds));
        }
    }
    best.map(|best| best.0)
}

fn told(button: usize, mut seen: Seen, watched: f64, shortest_seen: f64) -> ButtonPresses {
    for list in [&mut seen.lengths, &mut seen.gaps, &mut seen.unwanted, &mut seen.bounces] {
        sort_numbers(list);
    }
    let middle = |values: &[f64]| middle(values, seen.asked_seconds);
    ButtonPresses {
        button,
        made: seen.made,
        missed: seen.missed,
        reaction_seconds: middle(&seen.reactions),
        length_seconds: middle(&seen.lengths),
        long_seconds: middle(&seen.long),
        gap_seconds: middle(&seen.gaps),
        unwanted_per_minute: rate(seen.unwanted_count, watched),
        shortest_seen_seconds: shortest_seen,
        lengths: seen.lengths,
        gaps: seen.gaps,
        unwanted: seen.unwanted,
        bounces: seen.bounces,
    }
}

/// The median with its interval.
fn middle(values: &[f64], seconds: f64) -> Measured {
    if values.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    let few = NotEnough::Repetitions { have: values.len(), need: FEWEST_PRESSES };
    if values.len() < FEWEST_PRESSES {
        return Err(few);
    }
    let interval =
        if values.len() >= MANY_PRESSES { sign_interval(values) } else { log_interval(values) };
    // A time of nothing (a press stamped with its cue) has no logarithm: what was seen is told.
    let most = values.iter().copied().fold(0.0, f64::max);
    let (low, high) = interval.unwrap_or((0.0, most));
    let basis = Basis { seconds, repetitions: values.len() };
    Estimate::new(median(values).ok_or(few)?, low, high, basis).ok_or(NotEnough::DoesNotApply)
}

fn rate(count: usize, seconds: f64) -> Measured {
    if seconds <= 0.0 {
        return Err(NotEnough::NothingRecorded);
    }
    if seconds < LEAST_WATCHED_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_WATCHED_SECONDS });
    }
    let minutes = seconds / 60.0;
    let (low, high) = poisson_mid_p(count as f64);
    let basis = Basis { seconds, repetitions: count };
    Estimate::new(count as f64 / minutes, low / minutes, high / minutes, basis)
        .ok_or(NotEnough::DoesNotApply)
}

#[cfg(test)]
#[path = "presses_tests.rs"]
mod tests;
