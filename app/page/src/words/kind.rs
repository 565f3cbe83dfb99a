//! What kind of stick it is, and what moves it.

use super::number;
use fitting::StickKind;
use fitting::StickTrait;
use fitting::Sureness;
use fitting::measure::{Evidence, Noticed};
use fitting::stick_kind::{Mover, Moves};

/// What moves the stick.
pub const MOVER: &str = "What moves it";

/// One of them.
pub const fn mover(mover: Mover) -> &'static str {
    match mover {
        Mover::Limb => "hand, arm, foot or head",
        Mover::Chin => "the chin",
        Mover::Lip => "lip or tongue",
        Mover::Breath => "breath (sip and puff)",
    }
}

/// The code of it in a list.
pub const fn mover_code(mover: Mover) -> &'static str {
    match mover {
        Mover::Limb => "limb",
        Mover::Chin => "chin",
        Mover::Lip => "lip",
        Mover::Breath => "breath",
    }
}

/// The cautions that go with it, in plain words.
pub const fn cautions(mover: Mover) -> &'static [&'static str] {
    match mover {
        Mover::Limb => &[],
        Mover::Chin => &[
            "The mount must swing clear by one push, also in a cough, and never press on throat or \
             chest, nor stand in the way of breathing or speaking.",
            "Look at the skin under the chin before, between and after tasks. Clean the cup by its \
             maker’s method.",
            "Busy rest asks for swallowing, speaking and breathing: they move the chin in play too.",
        ],
        Mover::Lip => &[
            "The mount must swing clear by one push, also in a cough, and never block breathing or \
             speaking. Nothing may come off in the mouth.",
            "A mouthpiece is one person’s and is never shared. Clean it by its maker’s method.",
            "With a bite reflex use no mouthpiece that can break; ask the person’s own therapist \
             first.",
            "Busy rest asks for swallowing, speaking and breathing: they move lip and tongue too.",
        ],
        Mover::Breath => &[
            "Five breath actions, then a rest, in every task: the page pauses by itself and one key \
             goes on. Common practice; there is no source for the number.",
            "Dizzy, tingling, a headache or short of breath: stop at once, breathe as usual, and \
             leave it for today.",
            "No breath is held for long: holds last at most 3 s, the longer hold and long presses \
             are not asked. Common practice; there is no source for the number.",
            "With breathing support, a lung or heart condition or recent surgery: only as the \
             person’s own team allows.",
            "A mouthpiece is one person’s and is never shared. Clean or change it by its maker’s \
             method.",
        ],
    }
}

/// What a kind of stick changes in what is asked and told.
pub fn changes(kind: StickKind) -> Vec<&'static str> {
    let mut changes = Vec::new();
    if kind.moves != Moves::TwoAxes {
        changes.push("Only along its line is asked, more often. Turn and stretch do not apply.");
    }
    if !kind.centres_itself {
        changes.push("The way back is not asked, and no dead zone is suggested.");
    }
    if kind.force {
        changes.push(
            "What is called travel is force here: reach is how hard is comfortable. What it reads \
             with nobody touching it is its preload, shown as the rest position. The shape of its \
             opening does not apply.",
        );
    }
    if kind.switches {
        changes.push(
            "On, off and the shortest time are suggested in place of full throw and sensitivity. \
             Holds do not apply.",
        );
    }
    changes
}

/// The cautions' title.
pub const CAUTIONS: &str = "With this";

/// A force stick is chosen by hand.
pub const NOT_TOLD: &str = "A force stick that hardly moves, and what moves the stick, cannot be \
    told from a recording: choose them by hand.";

/// The proposal.
pub const NOTICED: &str = "Noticed";
/// Take it.
pub const YES: &str = "Yes, use this";
/// Leave it.
pub const NO: &str = "No";
/// When it holds.
pub const FROM_NOW: &str = "It changes what is asked from the next task on. What was recorded \
    stays.";

/// What is proposed.
pub const fn proposed(what: StickTrait) -> &'static str {
    match what {
        StickTrait::OneAxis => "The stick seems to move on one line only.",
        StickTrait::OneWay => "The stick seems to move one way only.",
        StickTrait::NotSelfCentring => "The stick does not seem to come back to the middle.",
        StickTrait::Force => "The stick seems to answer to force.",
        StickTrait::Switches => "Its directions seem to be switches, on or off.",
        StickTrait::Breath => "Breath seems to move it.",
    }
}

/// What speaks for it, and what may be behind it instead.
pub fn evidence(noticed: &Noticed) -> String {
    let seen = match noticed.evidence {
        Evidence::Covered { moved, other } => format!(
            "One line covered {} of the way from end to end, the other {}, though it was asked for.",
            number::percent(0.5 * moved),
            number::fine_percent(0.5 * other)
        ),
        Evidence::WentOneWay { there, back } => format!(
            "It went {} of travel one way and {} the other, though both were asked for.",
            number::percent(there),
            number::fine_percent(back)
        ),
        Evidence::StayedOut { times, of } => {
            format!("Let go, it stayed where it was {times} of {of} times.")
        }
        Evidence::FewValues { values, changes } => {
            format!("In {changes} changes it showed only {values} different values.")
        }
    };
    let may_be = match (noticed.what, noticed.sureness) {
        (StickTrait::OneAxis | StickTrait::OneWay, Sureness::Rough) => {
            " It may be the person, who pushes no other way: then say no."
        }
        (StickTrait::NotSelfCentring, _) => {
            " It may be that the hand stayed on it: then say no, and ask once more to let go."
        }
        _ => "",
    };
    format!("{seen}{may_be}")
}

/// Found while looking for the axes.
pub const ONE_AXIS_TAKE: &str = "Yes, it moves on one line";
