//! The pieces that can be asked next.

use super::gathered::{FIRST_REST_SECONDS, Gathered, HANDS_OFF_SECONDS, place};
use super::wanted::Wanted;
use super::{Amount, Reason};
use crate::Direction;
use crate::task::for_stick::{SIDES, directions_for};
use crate::task::{Asking, TaskAsk, TaskKind};

/// Rests are asked for in pieces of so many seconds.
const RESTS: [f64; 4] = [10.0, 20.0, 30.0, 60.0];
/// The longest rest in one task, seconds.
const LONGEST_REST_SECONDS: f64 = 90.0;
/// From so many seconds on a rest task is a rest for the muscles too.
const RESTED_SECONDS: f64 = 10.0;
/// One hold, seconds: the least in which rhythmic movement from 4 Hz up shows (a resolution of a
/// third of a hertz).
const HOLD_SECONDS: f64 = 3.0;
/// The longer hold: at half of own reach, for so many seconds.
const SUSTAINED: (f64, f64) = (0.5, 15.0);
/// Where that was easy, once more at this level: only there it shows what can be kept up.
const FARTHER_LEVEL: f64 = 0.75;
/// An interval wider than this share of its value is called rough.
const ROUGH_WIDTH: f64 = 0.25;

/// What is outside the figure of merit has a worth of its own, in its units (2 for knowing
/// nothing): what could be kept up, on which the full throw rests; the way presses are made;
/// what comes along while busy; directions between the four, from which a turned mount is told;
/// the way back; and, where nothing is said in words, free movement as the beginning. Choices of
/// ours, no source.
const WORTH_SUSTAINED: f64 = 0.1;
const WORTH_SUSTAINED_AGAIN: f64 = 0.03;
const WORTH_PRESSES: f64 = 0.06;
const WORTH_BUSY: f64 = 0.04;
const WORTH_BETWEEN: f64 = 0.03;
const WORTH_RETURN: f64 = 0.03;
const WORTH_HIGH_HOLD: f64 = 0.015;
const WORTH_FREE: f64 = 0.1;

/// A piece that could be asked next.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) ask: TaskAsk,
    pub(super) reason: Reason,
    /// What it is worth beside what it does to the figure of merit.
    pub(super) worth: f64,
}

/// How many rounds a task has, or tens of seconds.
pub(super) fn rounds(ask: &TaskAsk) -> usize {
    match ask {
        TaskAsk::HandsOff { seconds }
        | TaskAsk::QuietRest { seconds }
        | TaskAsk::BusyRest { seconds, .. }
        | TaskAsk::FreeMovement { seconds } => (seconds / 10.0).round() as usize,
        TaskAsk::Reach { rounds, .. }
        | TaskAsk::Hold { rounds, .. }
        | TaskAsk::Return { rounds, .. }
        | TaskAsk::Presses { rounds, .. } => *rounds,
        TaskAsk::Sustained { .. } => 1,
    }
}

/// Whether a task of this kind lets the muscles rest.
pub(super) const fn is_rest(kind: TaskKind) -> bool {
    matches!(kind, TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest)
}

/// What lies in the present burst after a task took this much.
pub(super) fn burst_after(burst: Amount, kind: TaskKind, took: Amount) -> Amount {
    let rested = is_rest(kind) && took.seconds >= RESTED_SECONDS;
    Amount {
        seconds: burst.seconds + took.seconds,
        muscle_seconds: if rested { 0.0 } else { burst.muscle_seconds + took.muscle_seconds },
    }
}

/// Both in one task, if that can be.
pub(super) fn joined(one: &TaskAsk, two: &TaskAsk) -> Option<TaskAsk> {
    match (one, two) {
        (TaskAsk::QuietRest { seconds: a }, TaskAsk::QuietRest { seconds: b })
            if a + b <= LONGEST_REST_SECONDS =>
        {
            Some(TaskAsk::QuietRest { seconds: a + b })
        }
        (
            TaskAsk::Reach { directions: a, rounds: m },
            TaskAsk::Reach { directions: b, rounds: n },
        ) if a == b => Some(TaskAsk::Reach { directions: a.clone(), rounds: m + n }),
        (
            TaskAsk::Hold { directions: a, levels: v, rounds: m, seconds },
            TaskAsk::Hold { directions: b, levels: w, rounds: n, .. },
        ) if a == b && v == w => Some(TaskAsk::Hold {
            directions: a.clone(),
            levels: v.clone(),
            rounds: m + n,
            seconds: *seconds,
        }),
        _ => None,
    }
}

/// All pieces that make sense next, in a fixed order.
pub(super) fn pieces(wanted: &Wanted, so_far: &Gathered) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut add = |ask: TaskAsk, reason: Reason, worth: f64| {
        let left_out = wanted.left_out.contains(&ask.kind());
        if let Some(ask) = ask.for_stick(wanted.kind, wanted.axes).filter(|_| !left_out) {
            pieces.push(Piece { ask, reason, worth });
        }
    };
    let leaves_out = |kind: TaskKind| wanted.left_out.contains(&kind);
    // What the rest is told from comes first, whatever it is worth.
    if so_far.lacks_hands_off() && !leaves_out(TaskKind::HandsOff) {
        add(TaskAsk::HandsOff { seconds: HANDS_OFF_SECONDS }, Reason::StickAlone, 0.0);
        return pieces;
    }
    rests(so_far, &mut add);
    if so_far.lacks_first_rest() && !leaves_out(TaskKind::QuietRest) {
        return pieces;
    }
    if wanted.asking == Asking::Shown && so_far.free <= 0.0 {
        let reason = Reason::NothingYet(TaskKind::FreeMovement);
        add(TaskAsk::FreeMovement { seconds: 20.0 }, reason, WORTH_FREE);
    }
    pushes(wanted, so_far, &mut add);
    let two = pair(&so_far.needed, &[]);
    if so_far.knows_reach(&two) && !two.is_empty() {
        levels(so_far, &two, &mut add);
    }
    if so_far.busy <= 0.0 && so_far.rest > 0.0 {
        for seconds in [60.0, 30.0] {
            let ask = TaskAsk::BusyRest { seconds, meanwhile: wanted.kind.mover.meanwhile()[0] };
            // Half the time tells less, by the root.
            let worth = WORTH_BUSY * libm::sqrt(seconds / 60.0);
            add(ask, Reason::NothingYet(TaskKind::BusyRest), worth);
        }
    }
    if so_far.presses == 0 {
        for count in (1..=wanted.buttons.len()).rev() {
            let ask = TaskAsk::Presses { buttons: wanted.buttons[..count].to_vec(), rounds: 3 };
            let worth = WORTH_PRESSES * libm::sqrt(count as f64);
            add(ask, Reason::NothingYet(TaskKind::Presses), worth);
        }
    }
    pieces
}

fn rests(so_far: &Gathered, add: &mut impl FnMut(TaskAsk, Reason, f64)) {
    let reason = if so_far.rest <= 0.0 {
        Reason::NothingYet(TaskKind::QuietRest)
    } else if so_far.rest_width() > ROUGH_WIDTH {
        Reason::RestRough
    } else {
        Reason::Surer(TaskKind::QuietRest)
    };
    for seconds in RESTS {
        if so_far.rest + seconds >= FIRST_REST_SECONDS {
            add(TaskAsk::QuietRest { seconds }, reason, 0.0);
        }
    }
}

fn pushes(wanted: &Wanted, so_far: &Gathered, add: &mut impl FnMut(TaskAsk, Reason, f64)) {
    let Some(widest) = so_far.widest() else { return };
    let missing = so_far.missing();
    let reason = if so_far.pushes.iter().all(|count| *count == 0) {
        Reason::NothingYet(TaskKind::Reach)
    } else if let Some(first) = missing.first() {
        Reason::Missing(*first)
    } else if so_far.reach_width(widest) > ROUGH_WIDTH {
        Reason::Rough(widest)
    } else {
        Reason::Surer(TaskKind::Reach)
    };
    let mut sets: Vec<Vec<Direction>> = vec![so_far.needed.clone()];
    // Those with the widest intervals alone.
    let mut rising = so_far.needed.clone();
    rising.sort_by(|a, b| so_far.reach_width(*b).total_cmp(&so_far.reach_width(*a)));
    for count in [2, 1] {
        if rising.len() > count {
            sets.push(rising[..count].to_vec());
        }
    }
    if !missing.is_empty() && !sets.contains(&missing) {
        sets.push(missing);
    }
    for set in sets {
        for rounds in 1..=3 {
            add(TaskAsk::Reach { directions: set.clone(), rounds }, reason, 0.0);
        }
    }
    let between: Vec<Direction> =
        Direction::EIGHT.iter().copied().filter(|one| !Direction::FOUR.contains(one)).collect();
    let suits = directions_for(wanted.kind, wanted.axes, &between) == between;
    if suits
        && between.iter().all(|one| so_far.pushes[place(*one)] == 0)
        && so_far.missing().is_empty()
    {
        let ask = TaskAsk::Reach { directions: between, rounds: 3 };
        add(ask, Reason::BetweenTheFour, WORTH_BETWEEN);
    }
}

/// Two of the needed directions, left and right first, and those before the others that come
/// less often in `counts`.
fn pair(needed: &[Direction], counts: &[usize]) -> Vec<Direction> {
    let mut all: Vec<Direction> =
        SIDES.iter().copied().filter(|side| needed.contains(side)).collect();
    all.extend(needed.iter().copied().filter(|one| !SIDES.contains(one)));
    all.sort_by_key(|one| counts.get(place(*one)).copied().unwrap_or(0));
    all.truncate(2);
    all
}

/// What is asked at levels of own reach.
fn levels(so_far: &Gathered, two: &[Direction], add: &mut impl FnMut(TaskAsk, Reason, f64)) {
    let hold = |directions: Vec<Direction>, levels: Vec<f64>, rounds: usize| TaskAsk::Hold {
        directions,
        levels,
        rounds,
        seconds: HOLD_SECONDS,
    };
    let reason = if so_far.holds.iter().all(|count| *count == 0) {
        Reason::NothingYet(TaskKind::Hold)
    } else if so_far.hold_width(0).max(so_far.hold_width(1)) > ROUGH_WIDTH {
        Reason::HoldRough
    } else {
        Reason::Surer(TaskKind::Hold)
    };
    let both = super::unknown::LEVELS.to_vec();
    let next = pair(&so_far.needed, &so_far.holds);
    let ways = if so_far.knows_reach(&next) { next } else { two.to_vec() };
    for count in [ways.len(), 1] {
        for rounds in 1..=2 {
            add(hold(ways[..count].to_vec(), both.clone(), rounds), reason, 0.0);
        }
    }
    // At one level alone, where hardly any muscle work is left.
    let wider = if so_far.hold_width(0) >= so_far.hold_width(1) { 0 } else { 1 };
    add(hold(ways[..1].to_vec(), vec![super::unknown::LEVELS[wider]], 1), reason, 0.0);
    if so_far.high_holds == 0 && so_far.held[1] > 0.0 {
        let reason = Reason::Surer(TaskKind::Hold);
        add(hold(two.to_vec(), vec![0.75], 2), reason, WORTH_HIGH_HOLD);
    }
    let (level, seconds) = SUSTAINED;
    let times = two.iter().map(|one| so_far.sustained[place(*one)]).min().unwrap_or(0);
    let (reason, worth) = match times {
        0 => (Reason::NothingYet(TaskKind::Sustained), WORTH_SUSTAINED),
        1 => (Reason::Once(TaskKind::Sustained), WORTH_SUSTAINED_AGAIN),
        _ => (Reason::Surer(TaskKind::Sustained), 0.0),
    };
    let less = two
        .iter()
        .copied()
        .filter(|one| so_far.sustained[place(*one)] == times && !so_far.easily_kept[place(*one)]);
    let less: Vec<Direction> = less.collect();
    if times < 2 {
        let share = |count: usize| worth * count as f64 / two.len() as f64;
        for count in (1..=less.len()).rev() {
            let directions = less[..count].to_vec();
            add(TaskAsk::Sustained { directions, level, seconds }, reason, share(count));
        }
    }
    let farther = |one: &Direction| {
        so_far.easily_kept[place(*one)] && so_far.sustained_farther[place(*one)] == 0
    };
    let farther: Vec<Direction> = two.iter().copied().filter(farther).collect();
    for count in (1..=farther.len()).rev() {
        let directions = farther[..count].to_vec();
        let worth = WORTH_SUSTAINED * count as f64 / two.len() as f64;
        add(
            TaskAsk::Sustained { directions, level: FARTHER_LEVEL, seconds },
            Reason::WasEasy,
            worth,
        );
    }
    if so_far.returns.iter().all(|count| *count == 0) {
        let reason = Reason::NothingYet(TaskKind::Return);
        for (directions, share) in [(so_far.needed.clone(), 1.0), (two.to_vec(), 0.5)] {
            if so_far.knows_reach(&directions) {
                let ask = TaskAsk::Return { directions, level: 0.5, rounds: 3 };
                add(ask, reason, share * WORTH_RETURN);
            }
        }
    }
}
