//! What is watched in one repetition, by what it asks for.

use super::cue::What;
use super::free::{FreePress, FreeRing, Sorted, Sorting};
use super::let_go::ReturnWatch;
use super::press::PressWatch;
use super::push::PushWatch;
use super::ring::RingWatch;
use super::{Known, Prompt, Push, Target};
use crate::{Position, Span};

/// The state of a device as far as a repetition looks at it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Held {
    /// Where the stick was, absolute, shares of travel.
    pub(super) at: Position,
    /// Whether the button that is asked for was down.
    pub(super) asked_down: bool,
    /// Whether any button was down.
    pub(super) any_down: bool,
    /// Which buttons were down, a bit each.
    pub(super) down: u32,
}

/// What is watched in one repetition.
#[derive(Clone, Debug)]
pub(super) enum Watch {
    Push(PushWatch),
    Ring(RingWatch),
    Return(ReturnWatch),
    Press(PressWatch),
    FreeRing(FreeRing),
    FreePress(FreePress),
}

impl Watch {
    /// What is watched while `what` is asked, or, with something to sort it into, anything of
    /// its kind.
    pub(super) fn new(what: What, known: &Known, free: Option<&Sorting>) -> Self {
        let Some(sorting) = free else { return Self::of(what, known) };
        match what {
            What::Push(_) => Self::Push(PushWatch::new(None, known.quiet_radius)),
            What::Hold { seconds, .. } => Self::FreeRing(FreeRing::new(known, seconds)),
            What::Return { .. } => Self::Return(ReturnWatch::from_anywhere(known)),
            What::Press { .. } => Self::FreePress(FreePress::new(sorting.buttons())),
            What::Sustain { .. } => Self::of(what, known),
        }
    }

    fn of(what: What, known: &Known) -> Self {
        match what {
            What::Push(direction) => Self::Push(PushWatch::new(direction, known.quiet_radius)),
            What::Hold { direction, level, seconds } => {
                Self::Ring(RingWatch::new(known, direction, level, seconds))
            }
            What::Sustain { direction, level, seconds } => {
                Self::Ring(RingWatch::sustained(known, direction, level, seconds))
            }
            What::Return { direction, level } => {
                Self::Return(ReturnWatch::new(known, direction, level))
            }
            What::Press { press, .. } => Self::Press(PressWatch::new(press)),
        }
    }

    /// Takes in what held from `from` to `to`, the stick's rest being at `centre`. True when the
    /// repetition is over by that.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, held: Held, centre: Position) -> bool {
        match self {
            Self::Push(watch) => watch.hold_for(to - from, held.at - centre),
            Self::Ring(watch) => watch.hold_for(from, to, held.at),
            Self::Return(watch) => watch.hold_for(from, to, held.at),
            Self::Press(watch) => watch.hold_for(from, to, held.asked_down),
            Self::FreeRing(watch) => watch.hold_for(from, to, held.at),
            Self::FreePress(watch) => watch.hold_for(from, to, held.down),
        }
    }

    /// Whether the repetition counts as done when the person says "next" now; as skipped else.
    pub(super) fn counts_when_ended(&mut self, now: f64) -> bool {
        match self {
            Self::Push(watch) => watch.is_push(),
            Self::Ring(watch) => watch.counts_when_ended(now),
            Self::Return(watch) => watch.counts_when_ended(),
            Self::Press(watch) => watch.counts_when_ended(),
            Self::FreeRing(watch) => watch.counts_when_ended(now),
            Self::FreePress(watch) => watch.counts_when_ended(),
        }
    }

    /// The span of what was done, where it is not the whole time from the cue on.
    pub(super) fn ended(&mut self, now: f64) -> Option<Span> {
        match self {
            Self::Ring(watch) => watch.ended(now),
            Self::Return(watch) => watch.ended(now),
            Self::FreeRing(watch) => watch.ended(now),
            Self::Push(_) | Self::Press(_) | Self::FreePress(_) => None,
        }
    }

    /// What it turned out to be, where no way was asked.
    pub(super) fn sorted(&self, sorting: &Sorting, known: &Known) -> Sorted {
        let place = match self {
            Self::Push(watch) => watch.end(),
            Self::FreeRing(watch) => watch.place(),
            Self::Return(watch) => watch.place(),
            Self::FreePress(watch) => {
                return Sorted { button: watch.pressed(), ..Sorted::default() };
            }
            Self::Ring(_) | Self::Press(_) => None,
        };
        place.map_or_else(Sorted::default, |at| sorting.place(at, known))
    }

    /// What is asked at this moment, where no way is.
    fn free_prompt(&self, what: What) -> Prompt {
        match self {
            Self::Push(watch) if watch.is_coming_back() => Prompt::ComeBack,
            Self::FreeRing(watch) if watch.is_staying() => Prompt::StayInRing(watch.about()),
            Self::Return(watch) => match watch.about() {
                Some(about) if watch.is_let_go() => Prompt::LetGo(about),
                Some(about) if watch.is_staying() => Prompt::StayInRing(about),
                _ => first_prompt(what, true),
            },
            _ => first_prompt(what, true),
        }
    }

    /// What is asked at this moment; `free` where no way is.
    pub(super) fn prompt(&self, what: What, free: bool) -> Prompt {
        if free {
            return self.free_prompt(what);
        }
        let (inside, coming_back) = match self {
            Self::Push(watch) => (false, watch.is_coming_back()),
            Self::Ring(watch) => (watch.is_staying(), false),
            Self::Return(watch) => (watch.is_staying(), watch.is_let_go()),
            Self::Press(_) | Self::FreeRing(_) | Self::FreePress(_) => (false, false),
        };
        match what {
            What::Push(_) if coming_back => Prompt::ComeBack,
            What::Return { direction, .. } if coming_back => Prompt::LetGo(direction),
            What::Hold { direction, .. }
            | What::Sustain { direction, .. }
            | What::Return { direction, .. }
                if inside =>
            {
                Prompt::StayInRing(direction)
            }
            _ => first_prompt(what, false),
        }
    }

    /// Since when nothing has moved, where something is asked and the stick is to move or a
    /// button to be pressed; `moved` is when it last left its rest.
    pub(super) fn silent_since(&self, moved: f64) -> Option<f64> {
        match self {
            Self::Push(watch) => (!watch.is_coming_back()).then_some(moved),
            Self::Ring(watch) => (!watch.is_staying()).then_some(moved),
            Self::Return(watch) if watch.is_let_go() => watch.still_from(),
            Self::Return(watch) => (!watch.is_staying()).then_some(moved),
            Self::FreeRing(watch) => (!watch.is_staying()).then_some(moved),
            Self::Press(_) | Self::FreePress(_) => Some(moved),
        }
    }

    /// Whether what was done was not watched, so that nothing is known of it.
    pub(super) fn is_unwatched(&self) -> bool {
        match self {
            Self::Push(watch) => watch.is_unwatched(),
            _ => false,
        }
    }

    /// The push, if it is one.
    pub(super) fn push(&self) -> Option<Push> {
        match self {
            Self::Push(watch) => watch.push(),
            _ => None,
        }
    }

    /// How far off a push went, if that is to be queried: degrees.
    pub(super) fn queried_degrees(&self) -> Option<f64> {
        match self {
            Self::Push(watch) => watch.queried_degrees(),
            _ => None,
        }
    }

    /// The ring, where there is one at the moment.
    pub(super) fn target(&self) -> Option<Target> {
        match self {
            Self::Ring(watch) => Some(watch.target()),
            Self::Return(watch) => watch.target(),
            Self::FreeRing(watch) => watch.target(),
            Self::Push(_) | Self::Press(_) | Self::FreePress(_) => None,
        }
    }

    /// How far the stay in the ring has come, 0..=1; 0 without one.
    pub(super) fn progress(&self, now: f64) -> f64 {
        match self {
            Self::Ring(watch) => watch.progress(now),
            Self::Return(watch) => watch.progress(now),
            Self::FreeRing(watch) => watch.progress(now),
            Self::Push(_) | Self::Press(_) | Self::FreePress(_) => 0.0,
        }
    }
}

/// What a repetition asks when it begins; `free` where no way is asked.
pub(super) const fn first_prompt(what: What, free: bool) -> Prompt {
    match what {
        What::Push(_) if free => Prompt::PushAnywhere,
        What::Hold { .. } | What::Return { .. } if free => Prompt::HoldAnywhere,
        What::Press { .. } if free => Prompt::PressAny,
        What::Push(direction) => Prompt::Push(direction),
        What::Hold { direction, .. }
        | What::Sustain { direction, .. }
        | What::Return { direction, .. } => Prompt::ToRing(direction),
        What::Press { button, press } => Prompt::Press { button, press },
    }
}
