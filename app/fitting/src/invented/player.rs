//! An invented person at play: answers to what a task asks, sample by sample.

use super::body::Unintended;
use super::people::Model;
use super::random::Random;
use super::stick::StickInUse;
use super::will::Will;
use crate::task::{Phase, Prompt, Target, TaskKind, TaskView};
use crate::{Direction, Position, Sample, StickAxes};

/// A jump of the clock further than this is not played step by step, seconds.
const LONGEST_JUMP_SECONDS: f64 = 60.0;
/// Spread of the logarithm of the reaction time.
const REACTION_SPREAD: f64 = 0.18;
/// A push that led nowhere is tried again after this long at rest, seconds.
const TRY_AGAIN_SECONDS: f64 = 3.0;
/// The person looks where the dot is and corrects this often, seconds.
const CORRECT_SECONDS: f64 = 0.4;
/// The person corrects by this share of what is seen, once it is more than that share of the
/// ring's radius.
const CORRECT_SHARE: f64 = 0.75;
const CORRECT_BEYOND: f64 = 0.3;
/// The eye's own smoothing of a moving dot, seconds.
const LOOK_SECONDS: f64 = 0.15;
/// Putting the hand on the stick or taking it off takes this long, seconds.
const TOUCH_SECONDS: f64 = 0.4;
/// Beyond this share of travel the muscles work.
const MUSCLE_BEYOND: f64 = 0.1;
/// Fatigue never costs more than this share of the reach.
const MOST_FATIGUE: f64 = 0.2;

/// What the person understands to be asked.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Asked {
    HandsOff,
    Rest,
    Push { direction: Direction, step: usize },
    ComeBack,
    Ring { step: usize },
}

/// What the person does.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Does {
    /// Rests since then.
    Rests(f64),
    /// Is out, and means to come back then.
    IsOut(f64),
    /// Stays in a ring, and looks again then.
    StaysInRing(f64),
}

/// An invented person and stick at play, from a seed.
///
/// Works in steps of the stick's own reports, however often it is asked.
#[derive(Clone, Debug)]
pub struct Player {
    model: Model,
    stick: StickInUse,
    unintended: Unintended,
    will: Will,
    decides: Random,
    /// When the next report is due; `None` before the first call.
    next_report: Option<f64>,
    latest: Sample,
    asked: Asked,
    target: Option<Target>,
    /// When what is asked will be acted upon.
    acts_at: Option<f64>,
    does: Does,
    /// How firmly the hand is on the stick, 0..=1.
    touch: f64,
    sees: Position,
    muscle_seconds: f64,
}

impl Player {
    /// The person of `model`, ready to play. The same seed plays the same way.
    #[must_use]
    pub fn new(mut model: Model, seed: u64) -> Self {
        let report = model.stick.report_seconds;
        model.stick.report_seconds =
            if report.is_finite() { report.clamp(0.001, 0.1) } else { 0.004 };
        let mut stick = StickInUse::new(model.stick.clone(), seed);
        let (right, down) = stick.report(Position::ORIGIN);
        Self {
            unintended: Unintended::new(&model.body, model.stick.report_seconds, seed),
            stick,
            will: Will::default(),
            decides: Random::new(seed, 31),
            next_report: None,
            latest: Sample { arrival_seconds: 0.0, axes: vec![right, down], buttons: vec![0.0; 2] },
            asked: Asked::Rest,
            target: None,
            acts_at: None,
            does: Does::Rests(0.0),
            touch: 0.0,
            sees: model.true_centre(),
            muscle_seconds: 0.0,
            model,
        }
    }

    /// The model that plays.
    #[must_use]
    pub const fn model(&self) -> &Model {
        &self.model
    }

    /// Which of the axes are the stick.
    #[must_use]
    pub fn axes(&self) -> StickAxes {
        StickAxes::default()
    }

    /// The present state, whether it changed or not.
    #[must_use]
    pub const fn latest(&self) -> &Sample {
        &self.latest
    }

    /// Plays up to `to_seconds`, seeing what is `asked`. Returns the newest state if it differs
    /// from the one returned before, stamped with the report that brought it; the first call
    /// returns the state it starts from. A time before the last one, or not finite, changes
    /// nothing.
    pub fn advance(&mut self, to_seconds: f64, asked: Option<&TaskView>) -> Option<Sample> {
        if !to_seconds.is_finite() {
            return None;
        }
        let step = self.model.stick.report_seconds;
        let Some(mut next) = self.next_report else {
            self.next_report = Some(to_seconds + step);
            self.does = Does::Rests(to_seconds);
            self.latest.arrival_seconds = to_seconds;
            self.understand(asked, to_seconds);
            return Some(self.latest.clone());
        };
        if to_seconds - next > LONGEST_JUMP_SECONDS {
            next = to_seconds;
        }
        self.understand(asked, next - step);
        let before = (self.latest.axes.clone(), self.latest.arrival_seconds);
        while next <= to_seconds {
            self.report(next);
            next += step;
        }
        self.next_report = Some(next);
        if self.latest.axes == before.0 {
            self.latest.arrival_seconds = before.1;
            return None;
        }
        Some(self.latest.clone())
    }

    /// Takes in what is asked; a change is acted upon after a reaction time.
    fn understand(&mut self, view: Option<&TaskView>, now: f64) {
        let asked = asked(view);
        self.target = view.and_then(|view| view.target).or(self.target);
        if asked != self.asked {
            self.asked = asked;
            let spread = libm::exp(REACTION_SPREAD * self.decides.normal());
            self.acts_at = Some(now + self.model.body.reaction_seconds * spread);
        }
    }

    /// One report of the stick.
    fn report(&mut self, now: f64) {
        let step = self.model.stick.report_seconds;
        if self.acts_at.is_some_and(|at| now >= at) {
            self.acts_at = None;
            self.act(now);
        }
        self.go_on(now);
        let hand_on = if self.asked == Asked::HandsOff { -1.0 } else { 1.0 };
        self.touch = (self.touch + hand_on * step / TOUCH_SECONDS).clamp(0.0, 1.0);
        let meant = self.will.at(now);
        let radius = meant.radius();
        if radius > MUSCLE_BEYOND {
            self.muscle_seconds += step;
        }
        let unintended = self.unintended.step(&self.model.body, radius);
        let moved = (meant + unintended) * self.touch;
        let (right, down) = self.stick.report(moved.turned(self.model.turn_degrees));
        let shown = Position::new(right, -down);
        self.sees = self.sees + (shown - self.sees) * (step / LOOK_SECONDS).min(1.0);
        if self.latest.axes != [right, down] {
            self.latest.axes = vec![right, down];
            self.latest.arrival_seconds = now;
        }
    }

    /// Begins to do what is asked.
    fn act(&mut self, now: f64) {
        match self.asked {
            Asked::Push { direction, .. } => self.push(direction, now),
            Asked::Ring { .. } => self.does = Does::StaysInRing(now),
            Asked::HandsOff | Asked::Rest | Asked::ComeBack => self.come_back(now),
        }
    }

    /// Goes on with what is being done.
    fn go_on(&mut self, now: f64) {
        match self.does {
            Does::IsOut(back_at) if now >= back_at => self.come_back(now),
            Does::StaysInRing(look_at) if now >= look_at => self.correct(now),
            Does::Rests(since) if now - since >= TRY_AGAIN_SECONDS && self.acts_at.is_none() => {
                if let Asked::Push { direction, .. } = self.asked {
                    self.push(direction, now);
                }
            }
            _ => {}
        }
    }

    fn push(&mut self, direction: Direction, now: f64) {
        let body = &self.model.body;
        let fatigue =
            (body.fatigue_per_minute * self.muscle_seconds / 60.0).clamp(0.0, MOST_FATIGUE);
        let spread = 1.0 + body.reach_spread * self.decides.normal();
        let reach = body.reach_towards(direction) * (1.0 - fatigue) * spread.clamp(0.7, 1.3);
        let degrees = direction.degrees() + body.angle_spread_degrees * self.decides.normal();
        let goal = Position::polar(reach, degrees);
        let dwell = self.decides.between(body.dwell_seconds.0, body.dwell_seconds.1);
        let there = self.will.go_to(goal, now, body.movement_seconds, &mut self.decides);
        self.does = Does::IsOut(there + dwell);
    }

    fn come_back(&mut self, now: f64) {
        if self.will.goal() != Position::ORIGIN && !matches!(self.does, Does::Rests(_)) {
            let seconds = self.model.body.movement_seconds;
            self.will.go_to(Position::ORIGIN, now, seconds, &mut self.decides);
        }
        if !matches!(self.does, Does::Rests(_)) {
            self.does = Does::Rests(now);
        }
    }

    /// Looks where the dot is and moves it towards the middle of the ring. The person has learnt
    /// by now which way the dot goes, on a turned mount too.
    fn correct(&mut self, now: f64) {
        self.does = Does::StaysInRing(now + CORRECT_SECONDS);
        let Some(target) = self.target else {
            return;
        };
        let off = (target.at - self.sees).turned(-self.model.turn_degrees);
        if off.radius() < CORRECT_BEYOND * target.radius {
            return;
        }
        // A long way is gone in one movement, a short one is corrected by a part.
        let share = if off.radius() > 2.0 * target.radius { 1.0 } else { CORRECT_SHARE };
        let goal = self.will.goal() + off * share;
        // Nobody goes further for a ring than the stick goes.
        let goal = self.model.stick.inside_gate(goal);
        let seconds = self.model.body.movement_seconds;
        let there = self.will.go_to(goal, now, seconds, &mut self.decides);
        self.does = Does::StaysInRing(there + CORRECT_SECONDS);
    }
}

/// What a person understands from the page.
fn asked(view: Option<&TaskView>) -> Asked {
    let Some(view) = view else {
        return Asked::Rest;
    };
    if view.kind == TaskKind::HandsOff {
        return Asked::HandsOff;
    }
    if view.phase != Phase::Doing || view.paused.is_some() {
        return Asked::Rest;
    }
    match view.prompt {
        Prompt::HandsOff => Asked::HandsOff,
        Prompt::Rest => Asked::Rest,
        Prompt::Push(direction) => Asked::Push { direction, step: view.step },
        Prompt::ComeBack => Asked::ComeBack,
        Prompt::ToRing(_) | Prompt::StayInRing(_) => Asked::Ring { step: view.step },
        _ => Asked::Rest,
    }
}
