//! When a button was down.

use crate::pipeline::buttons::{PRESSED_FROM, RELEASED_AT};
use crate::pipeline::switches::Hysteresis;
use crate::recording::GAP_SECONDS;
use crate::statistics::plain::quantile;
use crate::task::TaskRecord;
use crate::task::press::BOUNCE_SECONDS;
use crate::{Recording, Sample, Span};

/// Changes further apart than this are not the device's own pace, seconds.
const FARTHEST_PACE_SECONDS: f64 = 0.1;
/// So many times between changes are needed before the pace is read from them.
const FEWEST_PACES: usize = 20;

/// One press of a button; contact bounce is one press that goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Press {
    /// From down to up.
    pub span: Span,
    /// The button was seen to go down.
    pub begins_seen: bool,
    /// The button was seen to go up.
    pub ends_seen: bool,
}

/// The samples of a recording that have a time of their own, in order.
fn in_order(recording: &Recording) -> impl Iterator<Item = &Sample> {
    let mut before = f64::NEG_INFINITY;
    recording.samples.iter().filter(move |sample| {
        let at = sample.arrival_seconds;
        let counts = at.is_finite() && at > before;
        if counts {
            before = at;
        }
        counts
    })
}

/// Whether somebody was looking when a change came, and since before it: what is found when
/// looking begins changed at an unknown time.
fn is_seen(polled: &[Span], at: f64) -> bool {
    polled.iter().any(|span| span.from_seconds < at && at <= span.to_seconds)
}

/// The presses of one button in a record, and the gaps between them that were contact bounce,
/// seconds.
///
/// Down from half of the value on until it is at 0.35 or below (two thresholds; the levels are
/// common practice, no source): an analogue button that hovers is one press. Up for less than 40
/// ms is bounce: good switches bounce for 1.6 ms on average and 6.2 ms at most, a bad one for 157
/// ms (Ganssle, *A Guide to Debouncing*, 2004, second hand), and no person lets go for so short a
/// time (common practice, no source).
pub(super) fn presses_of(record: &TaskRecord, button: usize) -> (Vec<Press>, Vec<f64>) {
    let polled = &record.recording.polled;
    let mut switch = Hysteresis::new(PRESSED_FROM, RELEASED_AT);
    let (mut presses, mut bounces): (Vec<Press>, Vec<f64>) = (Vec::new(), Vec::new());
    let (mut was, mut first) = (false, true);
    for sample in in_order(&record.recording) {
        let Some(value) = sample.buttons.get(button) else { continue };
        let is = switch.step(*value);
        let at = sample.arrival_seconds;
        if is && !was {
            let seen = !first && is_seen(polled, at);
            let new = Press {
                span: Span { from_seconds: at, to_seconds: at },
                begins_seen: seen,
                ends_seen: false,
            };
            match presses.last_mut() {
                Some(last) if at - last.span.to_seconds < BOUNCE_SECONDS => {
                    if seen && last.ends_seen {
                        bounces.push(at - last.span.to_seconds);
                    }
                    last.ends_seen = false;
                }
                _ => presses.push(new),
            }
        } else if was
            && !is
            && let Some(last) = presses.last_mut()
        {
            last.span.to_seconds = at;
            last.ends_seen = is_seen(polled, at);
        }
        (was, first) = (is, false);
    }
    let end = polled.iter().map(|span| span.to_seconds).filter(|to| to.is_finite());
    if let (true, Some(last), Some(end)) = (was, presses.last_mut(), end.max_by(f64::total_cmp)) {
        last.span.to_seconds = end.max(last.span.from_seconds);
    }
    (presses, bounces)
}

/// The pace at which changes come through, seconds: what is shorter cannot be seen. Of the times
/// between neighbouring changes up to a tenth of a second the one at 10 %, so that a late state
/// that is followed at once by the next does not decide. Not under [`GAP_SECONDS`] where too
/// little changed: looking itself may be as slow.
pub(super) fn pace(records: &[TaskRecord]) -> f64 {
    let mut paces: Vec<f64> = Vec::new();
    for record in records {
        let mut before: Option<f64> = None;
        for sample in in_order(&record.recording) {
            let at = sample.arrival_seconds;
            let seen = is_seen(&record.recording.polled, at);
            let since = before.map(|before| at - before);
            paces.extend(since.filter(|since| seen && *since <= FARTHEST_PACE_SECONDS));
            before = seen.then_some(at);
        }
    }
    match quantile(&paces, 0.1) {
        Some(pace) if paces.len() >= FEWEST_PACES => pace,
        _ => GAP_SECONDS,
    }
}
