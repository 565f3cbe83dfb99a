//! What an invented person makes of what is asked, and when.

use super::player::Player;
use super::will::Will;
use crate::task::{Asking, Phase, PressAsk, Prompt, TaskKind, TaskView};
use crate::{Direction, Position};

/// Spread of the logarithm of the reaction time.
pub(super) const REACTION_SPREAD: f64 = 0.18;
/// A push that led nowhere is tried again after this long at rest, seconds.
const TRY_AGAIN_SECONDS: f64 = 3.0;
/// ... and no sooner than so many movements over the whole travel take.
const TRY_AGAIN_MOVEMENTS: f64 = 2.0;
/// The person looks where the dot is and corrects this often, seconds.
const CORRECT_SECONDS: f64 = 0.4;
/// The person corrects by this share of what is seen, once it is more than that share of the
/// ring's radius.
const CORRECT_SHARE: f64 = 0.75;
const CORRECT_BEYOND: f64 = 0.3;
/// A hand that let go comes back to a stick at rest no sooner than this, seconds.
const AWAY_SECONDS: f64 = 1.2;
/// How long finding a number for an effort takes beyond the reaction, seconds.
const THINKS_SECONDS: f64 = 1.5;
/// A tired hand is as good as new after this long, seconds.
const RECOVERS_SECONDS: f64 = 120.0;
/// Who gave a hold up tries again once no more than this share of the strain is left.
const RECOVERED: f64 = 0.5;
/// The shortest and longest push when anything goes, shares of the reach, and how often one
/// push leads straight to the next.
const ROAMS: (f64, f64) = (0.4, 1.0);
const ROAMS_ON: f64 = 0.3;
/// Where the person stays when anything may be held, shares of the reach.
const HOLDS_AT: (f64, f64) = (0.4, 0.8);
/// A helper moves the stick this far whichever way, share of travel, and so evenly (coefficient of
/// variation): the stick's way, not the person's.
const HELPER_REACH: f64 = 0.93;
const HELPER_SPREAD: f64 = 0.02;

/// What the person understands to be asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Asked {
    HandsOff,
    Rest,
    /// Rest while doing something else.
    Busy,
    Push {
        direction: Direction,
        step: usize,
    },
    ComeBack,
    Ring {
        direction: Direction,
        step: usize,
        sustained: bool,
    },
    Roam,
    LetGo {
        step: usize,
    },
    /// Push any way.
    PushAnywhere {
        step: usize,
    },
    /// Go out any way, and stay there.
    HoldAnywhere {
        step: usize,
    },
    /// Press any button.
    PressAny {
        step: usize,
    },
    Press {
        button: usize,
        how: PressAsk,
        step: usize,
    },
    HowHard,
}

impl Asked {
    /// Whether it is a cue to move.
    const fn is_a_movement(self) -> bool {
        matches!(
            self,
            Self::Push { .. }
                | Self::Ring { .. }
                | Self::LetGo { .. }
                | Self::PushAnywhere { .. }
                | Self::HoldAnywhere { .. }
        )
    }
}

/// What the person does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Does {
    /// Rests since then.
    Rests(f64),
    /// Is out, and means to come back then.
    IsOut(f64),
    /// Stays in a ring, and looks again then.
    StaysInRing(f64),
    /// Has kept it up for as long as could be, and rests.
    GaveUp,
    /// Let go then, there.
    LetGo { since: f64, from: Position },
    /// Moves about, and does the next thing then.
    Roams(f64),
}

impl Player {
    /// Takes in what is asked; a change is acted upon after a reaction time.
    pub(super) fn understand(&mut self, view: Option<&TaskView>, now: f64) {
        let asked = asked(view);
        self.target = match asked {
            Asked::HoldAnywhere { .. } => None,
            _ => view.and_then(|view| view.target).or(self.target),
        };
        self.way = view.map_or(self.way, |view| view.way);
        if asked == self.asked {
            return;
        }
        let was = std::mem::replace(&mut self.asked, asked);
        let reaction = self.model.body.reaction_seconds;
        self.acts_at = match asked {
            Asked::Press { button, .. } => {
                self.buttons.reaction_seconds(button).map(|seconds| now + seconds)
            }
            Asked::PressAny { .. } => {
                self.likes = self.buttons.any(self.decides.even());
                self.buttons.reaction_seconds(self.likes).map(|seconds| now + seconds)
            }
            _ => Some(now + self.decides.about(reaction, REACTION_SPREAD)),
        };
        if let Some(lapses) = self.model.body.lapses.filter(|_| asked.is_a_movement())
            && self.decides.chance(lapses.share)
        {
            let late = self.decides.between(lapses.seconds.0, lapses.seconds.1);
            self.acts_at = self.acts_at.map(|at| at + late);
        }
        if asked == Asked::HowHard {
            self.acts_at = self.acts_at.map(|at| at + THINKS_SECONDS);
        }
        if let Asked::Ring { sustained: true, .. } = asked
            && !matches!(was, Asked::Ring { .. })
        {
            self.held = None;
        }
    }

    /// How hard the last sustained hold was, 0 to 10, once the person is asked and has found a
    /// number: answer it with [`crate::task::Command::Effort`].
    #[must_use]
    pub fn effort(&self, view: &TaskView) -> Option<u8> {
        let is_asked = self.asked == Asked::HowHard && view.prompt == Prompt::HowHard;
        if !is_asked || self.acts_at.is_some() {
            return None;
        }
        let (level, seconds) = self.held.unwrap_or((0.0, 0.0));
        Some(self.model.body.effort(level, seconds).round().clamp(0.0, 10.0) as u8)
    }

    /// Begins to do what is asked.
    pub(super) fn act(&mut self, now: f64) {
        match self.asked {
            Asked::Push { direction, .. } => self.push(direction, now),
            Asked::Ring { .. } => self.does = Does::StaysInRing(now),
            Asked::Roam => self.does = Does::Roams(now),
            Asked::LetGo { .. } if self.model.body.lets_go => self.let_go(now),
            Asked::Press { button, how, .. } => self.buttons.press(button, how, now),
            Asked::PressAny { .. } => self.buttons.press(self.likes, PressAsk::Once, now),
            Asked::PushAnywhere { .. } => self.push_anywhere(now),
            Asked::HoldAnywhere { .. } => self.hold_anywhere(now),
            Asked::HandsOff
            | Asked::Rest
            | Asked::Busy
            | Asked::ComeBack
            | Asked::LetGo { .. }
            | Asked::HowHard => self.come_back(now),
        }
    }

    /// Goes on with what is being done.
    pub(super) fn go_on(&mut self, now: f64) {
        match self.does {
            Does::IsOut(back_at) if now >= back_at => self.come_back(now),
            Does::StaysInRing(_) if self.strain >= 1.0 => {
                self.come_back(now);
                self.does = Does::GaveUp;
            }
            Does::StaysInRing(look_at) if now >= look_at => self.correct(now),
            Does::GaveUp if self.strain < RECOVERED && matches!(self.asked, Asked::Ring { .. }) => {
                self.does = Does::StaysInRing(now);
            }
            Does::Roams(next_at) if now >= next_at => self.roam(now),
            Does::Rests(since) if now - since >= self.tries_again() && self.acts_at.is_none() => {
                match self.asked {
                    Asked::Push { direction, .. } => self.push(direction, now),
                    Asked::PushAnywhere { .. } => self.push_anywhere(now),
                    Asked::HoldAnywhere { .. } => self.hold_anywhere(now),
                    _ => {}
                }
            }
            Does::LetGo { since, .. }
                if now - since >= AWAY_SECONDS && !matches!(self.asked, Asked::LetGo { .. }) =>
            {
                self.does = Does::Rests(now);
            }
            _ => {}
        }
    }

    /// How long after turning back a push that led nowhere is tried again, seconds: whoever is slow
    /// has to be back first.
    fn tries_again(&self) -> f64 {
        TRY_AGAIN_SECONDS.max(TRY_AGAIN_MOVEMENTS * self.model.body.movement_seconds)
    }

    /// Muscles that hold for long tire, and recover at rest. Only longer holds are long enough to
    /// show it.
    pub(super) fn tire(&mut self, radius: f64, step: f64) {
        match (self.asked, self.does) {
            (Asked::Ring { direction, sustained: true, .. }, Does::StaysInRing(_)) => {
                let reach = self.model.body.reach_towards(direction).max(1e-6);
                let level = radius / reach;
                self.strain =
                    (self.strain + step / self.model.body.endurance_seconds(level)).min(1.0);
                let (highest, seconds) = self.held.unwrap_or((0.0, 0.0));
                self.held = Some((level.max(highest), seconds + step));
            }
            _ => self.strain = (self.strain - step / RECOVERS_SECONDS).max(0.0),
        }
    }

    /// One comfortable push, a share of the reach.
    fn goes_out(&mut self, direction: Direction, share: f64) -> Position {
        let body = &self.model.body;
        if self.way.asking == Asking::MovedByHelper {
            let far = HELPER_REACH * (1.0 + HELPER_SPREAD * self.decides.normal());
            return Position::polar(far * share, direction.degrees());
        }
        let share = share * body.attended_share(direction, self.way.cue);
        let spread = 1.0 + body.reach_spread * self.decides.normal();
        let reach = body.reach_towards(direction) * (1.0 - self.fatigue()) * spread.clamp(0.7, 1.3);
        let degrees = direction.degrees() + body.angle_spread_degrees * self.decides.normal();
        Position::polar(reach * share, degrees)
    }

    /// Which way it goes when anything goes.
    fn likes_to_go(&mut self) -> Option<Direction> {
        pick(self.model.body.roaming.likelihood, self.decides.even())
    }

    fn push(&mut self, direction: Direction, now: f64) {
        let goal = self.goes_out(direction, 1.0);
        self.push_to(goal, now);
    }

    /// A push any way, large or small.
    fn push_anywhere(&mut self, now: f64) {
        let Some(direction) = self.likes_to_go() else { return };
        let share = self.decides.between(ROAMS.0, ROAMS.1);
        let goal = self.goes_out(direction, share);
        self.push_to(goal, now);
    }

    /// Goes out any way, and stays.
    fn hold_anywhere(&mut self, now: f64) {
        let Some(direction) = self.likes_to_go() else { return };
        let share = self.decides.between(HOLDS_AT.0, HOLDS_AT.1);
        let goal = self.goes_out(direction, share);
        let there = self.will.go_to(goal, now, &self.model.body, &mut self.decides);
        self.does = Does::StaysInRing(there + CORRECT_SECONDS);
    }

    fn push_to(&mut self, goal: Position, now: f64) {
        let body = &self.model.body;
        let dwell = self.decides.between(body.dwell_seconds.0, body.dwell_seconds.1);
        let there = self.will.go_to(goal, now, body, &mut self.decides);
        self.does = Does::IsOut(there + dwell);
    }

    fn come_back(&mut self, now: f64) {
        if matches!(self.does, Does::Rests(_)) {
            return;
        }
        if self.will.goal() != Position::ORIGIN {
            self.will.go_to(Position::ORIGIN, now, &self.model.body, &mut self.decides);
        }
        self.does = Does::Rests(now);
    }

    /// The stick is let go where it is.
    fn let_go(&mut self, now: f64) {
        self.will = Will::default();
        self.hand_off();
        self.does = Does::LetGo { since: now, from: self.hand };
    }

    /// Moves about: out in a direction that the person likes, and back or on.
    fn roam(&mut self, now: f64) {
        let is_out = self.will.goal() != Position::ORIGIN;
        if is_out && !self.decides.chance(ROAMS_ON) {
            let body = &self.model.body;
            let there = self.will.go_to(Position::ORIGIN, now, body, &mut self.decides);
            let pause = self.decides.waits(self.model.body.roaming.pause_seconds.max(1e-3));
            self.does = Does::Roams(there + pause);
            return;
        }
        let Some(direction) = self.likes_to_go() else {
            self.does = Does::Roams(now + TRY_AGAIN_SECONDS);
            return;
        };
        let share = self.decides.between(ROAMS.0, ROAMS.1);
        let goal = self.goes_out(direction, share);
        let dwell = self.model.body.dwell_seconds;
        let there = self.will.go_to(goal, now, &self.model.body, &mut self.decides);
        self.does = Does::Roams(there + self.decides.between(dwell.0, dwell.1));
    }

    /// Looks where the dot is and moves it towards the middle of the ring. The person has learnt
    /// by now which way the dot goes, on a turned mount too.
    fn correct(&mut self, now: f64) {
        self.does = Does::StaysInRing(now + CORRECT_SECONDS);
        let Some(target) = self.target else {
            return;
        };
        let off = target.at - self.sees;
        if off.radius() < CORRECT_BEYOND * target.radius {
            return;
        }
        let off = self.model.unmounted(off);
        // A long way is gone in one movement, a short one is corrected by a part.
        let share = if off.radius() > 2.0 * target.radius { 1.0 } else { CORRECT_SHARE };
        let goal = self.will.goal() + off * share;
        // Nobody goes further for a ring than the stick goes.
        let rest = self.model.body.rests_at;
        let goal = self.model.stick.inside_gate(rest + goal) - rest;
        let there = self.will.go_to(goal, now, &self.model.body, &mut self.decides);
        self.does = Does::StaysInRing(there + CORRECT_SECONDS);
    }
}

/// The direction at `share` (0..1) of the likelihoods laid end to end; `None` where none is
/// likely.
fn pick(likelihood: [f64; 8], share: f64) -> Option<Direction> {
    let sound = |one: f64| if one.is_finite() { one.max(0.0) } else { 0.0 };
    let whole: f64 = likelihood.iter().copied().map(sound).sum();
    let mut left = share * whole;
    let mut last = None;
    for (direction, likely) in Direction::EIGHT.into_iter().zip(likelihood.map(sound)) {
        if likely > 0.0 {
            last = Some(direction);
            if left < likely {
                break;
            }
            left -= likely;
        }
    }
    last
}

/// What a person understands from the page.
fn asked(view: Option<&TaskView>) -> Asked {
    let Some(view) = view else {
        return Asked::Rest;
    };
    if view.kind == TaskKind::HandsOff {
        return Asked::HandsOff;
    }
    if view.phase != Phase::Doing && view.prompt != Prompt::HowHard || view.paused.is_some() {
        return Asked::Rest;
    }
    let step = view.step;
    let sustained = view.kind == TaskKind::Sustained;
    match view.prompt {
        Prompt::HandsOff => Asked::HandsOff,
        Prompt::Rest => Asked::Rest,
        Prompt::RestWhile(_) => Asked::Busy,
        Prompt::Push(direction) => Asked::Push { direction, step },
        Prompt::ComeBack => Asked::ComeBack,
        Prompt::ToRing(direction) | Prompt::StayInRing(direction) => {
            Asked::Ring { direction, step, sustained }
        }
        Prompt::MoveFreely => Asked::Roam,
        Prompt::LetGo(_) => Asked::LetGo { step },
        Prompt::PushAnywhere => Asked::PushAnywhere { step },
        Prompt::HoldAnywhere => Asked::HoldAnywhere { step },
        Prompt::PressAny => Asked::PressAny { step },
        Prompt::Press { button, press } => Asked::Press { button, how: press, step },
        Prompt::HowHard => Asked::HowHard,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_are_picked_as_often_as_they_are_liked() {
        let likelihood = [1.0, 0.0, 3.0, f64::NAN, 0.0, -2.0, 4.0, 0.0];
        let mut counts = [0_u32; 8];
        for share in 0..8000 {
            let picked =
                pick(likelihood, (f64::from(share) + 0.5) / 8000.0).expect("one is likely");
            let index = Direction::EIGHT.iter().position(|one| *one == picked).expect("one");
            counts[index] += 1;
        }
        assert_eq!(counts, [1000, 0, 3000, 0, 0, 0, 4000, 0]);
        assert_eq!(pick([0.0; 8], 0.5), None);
    }
}
