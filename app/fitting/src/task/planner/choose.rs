//! Takes, again and again, the piece that is worth most for its time.

use super::gathered::Gathered;
use super::pace_now::PaceNow;
use super::piece::{Piece, burst_after, is_rest, joined, pieces, rounds};
use super::wanted::Wanted;
use super::{Amount, PAUSE_SECONDS, Planned, Reason};
use crate::task::pace::READY_SECONDS;
use crate::task::{TaskAsk, TaskKind};

/// What was asked for by hand outweighs everything else.
const ASKED_WORTH: f64 = 100.0;
/// About the seconds a task takes for one second of muscle work, its pauses not counted: so much
/// time is kept free for the muscle work that is planned.
const SECONDS_OF_MUSCLE: f64 = 2.5;
/// A change to another task costs attention, too: as much as so many seconds, when pieces are
/// weighed against each other. A choice of ours, no source.
const CHANGE_SECONDS: f64 = 30.0;
/// No plan has more tasks.
const MOST_TASKS: usize = 40;

/// A plan as it grows.
pub(super) struct Choosing<'a> {
    wanted: &'a Wanted,
    so_far: Gathered,
    pace: PaceNow,
    /// What there was to spend.
    budget: Amount,
    left: Amount,
    /// In the present burst, the last task of the plan not counted.
    before: Amount,
    tasks: Vec<Planned>,
    /// What is done.
    done: Vec<TaskAsk>,
}

/// A piece with its price.
struct Offer {
    piece: Piece,
    /// The last task with the piece in it, if it goes there.
    joined: Option<TaskAsk>,
    after_pause: bool,
    amount: Amount,
    /// The pause before it included.
    price: Amount,
    worth_for_price: f64,
}

impl<'a> Choosing<'a> {
    pub(super) fn new(
        wanted: &'a Wanted,
        so_far: Gathered,
        pace: PaceNow,
        budget: Amount,
        burst: Amount,
        done: Vec<TaskAsk>,
    ) -> Self {
        let tasks = Vec::new();
        Self { wanted, so_far, pace, budget, left: budget, before: burst, tasks, done }
    }

    /// The tasks, in order.
    pub(super) fn tasks(mut self) -> Vec<Planned> {
        while let Some(offer) = self.best() {
            self.take(offer);
        }
        self.tasks
    }

    /// The piece that is worth most for its price, the earlier one of two alike.
    fn best(&self) -> Option<Offer> {
        let mut best: Option<Offer> = None;
        for piece in pieces(self.wanted, &self.so_far) {
            if let Some(offer) = self.offer(piece)
                && best.as_ref().is_none_or(|best| offer.worth_for_price > best.worth_for_price)
            {
                best = Some(offer);
            }
        }
        best
    }

    /// What this piece costs here and what it is worth; nothing where it does not fit.
    fn offer(&self, piece: Piece) -> Option<Offer> {
        let kind = piece.ask.kind();
        let (least, most) = self.wanted.bound(kind);
        let there = self.rounds_of(kind);
        let with_it = there + rounds(&piece.ask);
        if with_it > most {
            return None;
        }
        let itself = self.pace.of_ask(&piece.ask);
        let together = self.tasks.last().and_then(|last| joined(&last.ask, &piece.ask));
        let own = Amount { seconds: itself.seconds + READY_SECONDS, ..itself };
        let (joined, amount, after_pause) = match together {
            Some(together) if self.goes_on_with(itself) => (Some(together), itself, false),
            _ => {
                let after_pause = !self.fits_burst(self.burst(), kind, own);
                if after_pause && !self.fits_burst(Amount::default(), kind, own) {
                    return None;
                }
                (None, own, after_pause)
            }
        };
        if joined.is_none() && self.tasks.len() >= MOST_TASKS {
            return None;
        }
        let pause = if after_pause { PAUSE_SECONDS } else { 0.0 };
        let price = Amount { seconds: amount.seconds + pause, ..amount };
        let muscle_left = self.left.muscle_seconds - price.muscle_seconds;
        let seconds_left = self.left.seconds - price.seconds;
        let works = price.muscle_seconds > 0.0;
        if seconds_left < 0.0 || (works && muscle_left < 0.0) {
            return None;
        }
        // What does not use the muscles leaves the time for what does, once there is some rest.
        let is_first = self.so_far.lacks_first_rest();
        if !works && !is_first && kind != TaskKind::HandsOff && there >= least {
            let needs = self.seconds_of_muscle() * muscle_left;
            if seconds_left < needs && self.can_work() {
                return None;
            }
        }
        let mut after = self.so_far.clone();
        after.add(&piece.ask);
        let narrower = (self.so_far.unknown() - after.unknown()).max(0.0);
        let asked = if there < least { ASKED_WORTH } else { 0.0 };
        // What is scarcer costs more.
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let change = if joined.is_none() { CHANGE_SECONDS } else { 0.0 };
        let cost = share(price.seconds + change, self.budget.seconds)
            + share(price.muscle_seconds, self.budget.muscle_seconds);
        let worth_for_price = (narrower + piece.worth + asked) / cost.max(1e-6);
        let piece = if asked > 0.0 { Piece { reason: Reason::Asked, ..piece } } else { piece };
        Some(Offer { piece, joined, after_pause, amount, price, worth_for_price })
    }

    /// Seconds that one second of muscle work takes this person, with the pauses between.
    fn seconds_of_muscle(&self) -> f64 {
        let burst = self.wanted.burst_muscle_seconds.max(1.0);
        SECONDS_OF_MUSCLE * self.pace.seconds_factor() + PAUSE_SECONDS / burst
    }

    /// Whether there is a kind of work left at all that can be asked.
    fn can_work(&self) -> bool {
        let work = [TaskKind::Reach, TaskKind::Hold, TaskKind::Return, TaskKind::Sustained];
        work.iter().any(|kind| {
            let open = self.rounds_of(*kind) < self.wanted.bound(*kind).1;
            open && !self.wanted.left_out.contains(kind) && self.wanted.kind.lacks(*kind).is_none()
        })
    }

    /// Rounds of a kind in what is done and in the plan so far.
    fn rounds_of(&self, kind: TaskKind) -> usize {
        let planned = self.tasks.iter().map(|task| &task.ask);
        self.done.iter().chain(planned).filter(|ask| ask.kind() == kind).map(rounds).sum()
    }

    /// The present burst, the last task included.
    fn burst(&self) -> Amount {
        match self.tasks.last() {
            Some(last) => burst_after(self.before, last.ask.kind(), last.amount),
            None => self.before,
        }
    }

    /// Whether the last task still fits its burst with this in it.
    fn goes_on_with(&self, more: Amount) -> bool {
        self.tasks.last().is_some_and(|last| {
            let whole = Amount {
                seconds: last.amount.seconds + more.seconds,
                muscle_seconds: last.amount.muscle_seconds + more.muscle_seconds,
            };
            self.fits_burst(self.before, last.ask.kind(), whole)
        })
    }

    fn fits_burst(&self, burst: Amount, kind: TaskKind, more: Amount) -> bool {
        let caution = self.pace.caution();
        let seconds = burst.seconds + caution * more.seconds;
        let muscle = burst.muscle_seconds + caution * more.muscle_seconds;
        seconds <= self.wanted.burst_seconds
            && (is_rest(kind) || muscle <= self.wanted.burst_muscle_seconds)
    }

    fn take(&mut self, offer: Offer) {
        self.so_far.add(&offer.piece.ask);
        self.left.seconds -= offer.price.seconds;
        self.left.muscle_seconds -= offer.price.muscle_seconds;
        if let (Some(together), Some(last)) = (offer.joined, self.tasks.last_mut()) {
            last.ask = together;
            last.amount.seconds += offer.amount.seconds;
            last.amount.muscle_seconds += offer.amount.muscle_seconds;
            return;
        }
        self.before = if offer.after_pause { Amount::default() } else { self.burst() };
        self.tasks.push(Planned {
            ask: offer.piece.ask,
            reason: offer.piece.reason,
            after_pause: offer.after_pause,
            amount: offer.amount,
        });
    }
}
