//! The rest tasks and free movement: recorded in stretches, so that a mark leaves only one of
//! them out.

use super::{MarkReason, Outcome, Repetition};
use crate::Span;
use crate::recording::GAP_SECONDS;

/// The longest stretch, watched seconds.
pub(super) const STRETCH_SECONDS: f64 = 10.0;
/// What one more press of "more" adds, seconds.
const MORE_SECONDS: f64 = 30.0;
/// The last moment before a pause or a stop is left out, seconds: the hand that reaches for the
/// key, or a plug that is being pulled, moves the stick.
const LAST_MOMENT_SECONDS: f64 = 1.0;
/// The longest rest that is ever asked for at once, seconds.
const LONGEST_SECONDS: f64 = 3600.0;
/// A machine too busy to look often enough must not keep a person waiting for ever: the rest
/// also ends after this many times the asked seconds.
const MOST_TIMES: f64 = 3.0;
/// A marked stretch is made up for once and not for ever: the rest ends when this many times the
/// asked seconds were watched.
const MOST_WATCHED_TIMES: f64 = 2.0;
/// Sums of many small steps must not cost one more stretch, seconds.
const ROUNDING_SECONDS: f64 = 1e-3;
/// Where movement is what is asked for, a pause is offered when there was none for this long,
/// seconds.
const SILENT_SECONDS: f64 = 20.0;

/// A rest while it is recorded.
#[derive(Clone, Debug)]
pub(super) struct Rest {
    pub(super) repetitions: Vec<Repetition>,
    asked_seconds: f64,
    /// Watched seconds of each finished stretch, beside `repetitions`.
    watched: Vec<f64>,
    /// When the present stretch began, and how much of it was watched; `None` when not recording.
    present: Option<(f64, f64)>,
    mark: Option<MarkReason>,
    unpaused_seconds: f64,
    /// When the stick was last outside the quiet radius.
    moved: f64,
    /// The rest also ends at this many watched, and at this many unpaused seconds.
    most_watched_seconds: f64,
    most_unpaused_seconds: f64,
}

impl Rest {
    /// A rest of this many seconds, in range.
    pub(super) fn new(seconds: f64) -> Self {
        Self {
            repetitions: Vec::new(),
            asked_seconds: seconds,
            watched: Vec::new(),
            present: None,
            mark: None,
            unpaused_seconds: 0.0,
            moved: 0.0,
            most_watched_seconds: MOST_WATCHED_TIMES * seconds,
            most_unpaused_seconds: MOST_TIMES * seconds,
        }
    }

    /// Begins to record: at first, and after a pause.
    pub(super) fn begin(&mut self, now: f64) {
        self.moved = now;
        self.begin_stretch(now);
    }

    fn begin_stretch(&mut self, now: f64) {
        self.present = Some((now, 0.0));
        self.mark = None;
    }

    /// Takes in that the time from `from` to `to` was recorded, and whether the stick was outside
    /// the quiet radius. True when all is there.
    pub(super) fn pass(&mut self, from: f64, to: f64, is_out: bool) -> bool {
        if is_out {
            self.moved = to;
        }
        self.unpaused_seconds += to - from;
        if let Some((_, watched)) = &mut self.present
            && to - from <= GAP_SECONDS
        {
            *watched += to - from;
        }
        if self.is_complete() {
            self.close(to, Outcome::Done);
            return true;
        }
        if self.present.is_some_and(|(_, watched)| watched >= STRETCH_SECONDS) {
            self.close(to, Outcome::Done);
            self.begin_stretch(to);
        }
        false
    }

    /// Whether what was asked is there, a marked stretch not counted, or one of the bounds is met.
    fn is_complete(&self) -> bool {
        self.counted_seconds() >= self.asked_seconds - ROUNDING_SECONDS
            || self.watched_seconds() >= self.most_watched_seconds - ROUNDING_SECONDS
            || self.unpaused_seconds >= self.most_unpaused_seconds - ROUNDING_SECONDS
    }

    fn watched_seconds(&self) -> f64 {
        self.watched.iter().sum::<f64>() + self.present.map_or(0.0, |(_, seconds)| seconds)
    }

    /// Watched seconds that count: in stretches that were done and not marked.
    pub(super) fn counted_seconds(&self) -> f64 {
        let finished: f64 = self
            .repetitions
            .iter()
            .zip(&self.watched)
            .filter(|(stretch, _)| stretch.counts())
            .map(|(_, seconds)| *seconds)
            .sum();
        let present = if self.mark.is_none() { self.present.map_or(0.0, |(_, s)| s) } else { 0.0 };
        finished + present
    }

    fn close(&mut self, to: f64, outcome: Outcome) {
        if let Some((since, watched)) = self.present.take() {
            let span = Span { from_seconds: since, to_seconds: to.max(since) };
            self.push(span, watched, outcome);
        }
    }

    fn push(&mut self, span: Span, watched: f64, outcome: Outcome) {
        let mark = self.mark.take();
        if span.seconds() > 0.0 || mark.is_some() {
            self.watched.push(watched);
            self.repetitions.push(Repetition { outcome, mark, ..Repetition::done(span) });
        }
    }

    /// Breaks the present stretch off: for a pause or a stop. What came before its last moment
    /// still counts, so that any beginning of a rest is usable.
    pub(super) fn break_off(&mut self, now: f64) {
        if let Some((since, watched)) = self.present.take() {
            let kept = watched - LAST_MOMENT_SECONDS;
            let (to_seconds, watched, outcome) = if kept >= LAST_MOMENT_SECONDS {
                ((now - LAST_MOMENT_SECONDS).max(since), kept, Outcome::Done)
            } else {
                (now.max(since), watched, Outcome::CutShort)
            };
            self.push(Span { from_seconds: since, to_seconds }, watched, outcome);
        }
    }

    /// This stretch is asked again.
    pub(super) fn again(&mut self, now: f64) {
        if self.present.is_some() {
            self.close(now, Outcome::AskedAgain);
            self.begin_stretch(now);
        }
    }

    /// Ends the rest here.
    pub(super) fn end(&mut self, now: f64, outcome: Outcome) {
        self.close(now, outcome);
    }

    /// Asks for more.
    pub(super) fn more(&mut self) {
        // Counted from what there is: a rest that was ended early is not caught up with.
        let counted = self.counted_seconds();
        let from = if self.present.is_some() { self.asked_seconds } else { counted };
        self.asked_seconds = (from + MORE_SECONDS).min(LONGEST_SECONDS);
        let left = (self.asked_seconds - counted).max(0.0);
        self.most_watched_seconds = self.watched_seconds() + MOST_WATCHED_TIMES * left;
        self.most_unpaused_seconds = self.unpaused_seconds + MOST_TIMES * left;
    }

    /// Marks the present or last stretch.
    pub(super) fn set_mark(&mut self, mark: MarkReason) {
        if self.present.is_some() {
            self.mark = Some(mark);
        } else if let Some(last) = self.repetitions.last_mut() {
            last.mark = Some(mark);
        }
    }

    /// Takes the last mark back.
    pub(super) fn unmark(&mut self) {
        if self.mark.take().is_none()
            && let Some(last) = self.repetitions.iter_mut().rev().find(|one| one.mark.is_some())
        {
            last.mark = None;
        }
    }

    /// The mark on the present or last stretch.
    pub(super) fn mark(&self) -> Option<MarkReason> {
        if self.present.is_some() {
            self.mark
        } else {
            self.repetitions.last().and_then(|stretch| stretch.mark)
        }
    }

    /// Marked stretches, the present one included.
    pub(super) fn marked(&self) -> usize {
        self.repetitions.iter().filter(|stretch| stretch.mark.is_some()).count()
            + usize::from(self.mark.is_some())
    }

    /// Watched seconds still to go.
    pub(super) fn left_seconds(&self) -> f64 {
        (self.asked_seconds - self.counted_seconds()).max(0.0)
    }

    /// How much is there, 0..=1.
    pub(super) fn progress(&self) -> f64 {
        if self.asked_seconds > 0.0 {
            (self.counted_seconds() / self.asked_seconds).clamp(0.0, 1.0)
        } else {
            1.0
        }
    }

    /// Which stretch, from 1, and of how many.
    pub(super) fn step(&self) -> (usize, usize) {
        let finished = self.repetitions.iter().filter(|one| one.counts()).count();
        let present = self.present.map_or(0.0, |(_, watched)| watched);
        let left = ((self.left_seconds() + present) / STRETCH_SECONDS).ceil() as usize;
        if self.present.is_some() {
            (finished + 1, finished + left.max(1))
        } else {
            (finished.max(1), (finished + left).max(1))
        }
    }

    /// Whether nothing has moved for so long that a pause is offered, where movement is asked for.
    pub(super) fn is_silent(&self, now: f64) -> bool {
        self.present.is_some() && now - self.moved >= SILENT_SECONDS
    }
}
