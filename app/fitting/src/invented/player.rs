//! An invented person at play: answers to what a task asks, sample by sample.

use super::buttons::Buttons;
use super::deciding::{Asked, Does};
use super::model::Model;
use super::random::Random;
use super::reporting::{Reports, State};
use super::stick_in_use::StickInUse;
use super::unintended::Unintended;
use super::will::Will;
use crate::sample::MOST_CONTROLS;
use crate::task::{Asking, Target, TaskView, Way};
use crate::{Position, Sample, StickAxes};

/// A jump of the clock further than this is not played step by step, seconds.
const LONGEST_JUMP_SECONDS: f64 = 60.0;
/// The eye's own smoothing of a moving dot, seconds.
const LOOK_SECONDS: f64 = 0.15;
/// Putting the hand on the stick or taking it off takes this long, seconds.
const TOUCH_SECONDS: f64 = 0.4;
/// The hand is on the stick, and on its buttons, from this firmness on.
const ON_BUTTONS: f64 = 0.5;
/// Beyond this share of travel the muscles work.
const MUSCLE_BEYOND: f64 = 0.1;

/// An invented person and stick at play, from a seed.
///
/// Works in steps of the stick's own reports, however often it is asked.
#[derive(Clone, Debug)]
pub struct Player {
    pub(super) model: Model,
    /// The mount as a matrix, from where the body is to where the stick is.
    mount: [[f64; 2]; 2],
    stick: StickInUse,
    reports: Reports,
    unintended: Unintended,
    pub(super) buttons: Buttons,
    pub(super) will: Will,
    pub(super) decides: Random,
    /// When the next report is due; `None` before the first call.
    next_report: Option<f64>,
    latest: Sample,
    state: State,
    pub(super) asked: Asked,
    pub(super) target: Option<Target>,
    /// In which way it is asked.
    pub(super) way: Way,
    /// The button that is pressed where any may be.
    pub(super) likes: usize,
    /// When what is asked will be acted upon.
    pub(super) acts_at: Option<f64>,
    pub(super) does: Does,
    /// How firmly the hand is on the stick, 0..=1.
    touch: f64,
    /// Where the stick is, from its centre, as the hand has it.
    pub(super) hand: Position,
    pub(super) sees: Position,
    muscle_seconds: f64,
    /// How much of what can be kept up the present hold has used, 0..=1.
    pub(super) strain: f64,
    /// The last sustained hold: its level as a share of the reach, and how long it was held.
    pub(super) held: Option<(f64, f64)>,
}

impl Player {
    /// The person of `model`, ready to play. The same seed plays the same way.
    #[must_use]
    pub fn new(mut model: Model, seed: u64) -> Self {
        model.stick.reporting = model.stick.reporting.sound();
        model.stick.buttons = model.stick.buttons.min(MOST_CONTROLS);
        let step = model.stick.reporting.seconds;
        let mut stick = StickInUse::new(model.stick.clone(), seed);
        let state = State { axes: stick.read(Position::ORIGIN), pressed: 0 };
        let habits = &model.body.presses;
        let buttons = Buttons::new(habits, model.stick.buttons, model.stick.bounce_seconds, seed);
        Self {
            unintended: Unintended::new(&model.body, step, seed),
            mount: model.mount(),
            reports: Reports::new(model.stick.reporting, seed),
            stick,
            buttons,
            will: Will::default(),
            decides: Random::new(seed, 31),
            next_report: None,
            latest: sample(&model, 0.0, state),
            state,
            asked: Asked::Rest,
            target: None,
            way: Way::default(),
            likes: 0,
            acts_at: None,
            does: Does::Rests(0.0),
            touch: 0.0,
            hand: Position::ORIGIN,
            sees: model.true_rest(),
            muscle_seconds: 0.0,
            strain: 0.0,
            held: None,
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

    /// How much the person's muscles have worked, seconds.
    #[must_use]
    pub const fn muscle_seconds(&self) -> f64 {
        self.muscle_seconds
    }

    /// Plays up to `to_seconds`, seeing what is `asked`. Returns the newest state if it differs
    /// from the one returned before, stamped with when the browser saw it; the first call
    /// returns the state it starts from. A time before the last one, or not finite, changes
    /// nothing.
    pub fn advance(&mut self, to_seconds: f64, asked: Option<&TaskView>) -> Option<Sample> {
        if !to_seconds.is_finite() {
            return None;
        }
        let step = self.model.stick.reporting.seconds;
        let Some(mut next) = self.next_report else {
            self.begin(to_seconds);
            self.latest.arrival_seconds = to_seconds;
            self.understand(asked, to_seconds);
            return Some(self.latest.clone());
        };
        if to_seconds - next > LONGEST_JUMP_SECONDS {
            next = to_seconds;
            self.buttons.begin(to_seconds);
        }
        self.understand(asked, next - step);
        while next <= to_seconds {
            self.report(next);
            next += step;
        }
        self.next_report = Some(next);
        // A stamp does not move while the values stay the same.
        let (mut at, mut state) = (to_seconds, self.state);
        while let Some((seen_at, seen)) = self.reports.next_seen(to_seconds) {
            if seen != state {
                (at, state) = (seen_at, seen);
            }
        }
        if state == self.state {
            return None;
        }
        self.state = state;
        self.latest = sample(&self.model, at, state);
        Some(self.latest.clone())
    }

    /// The clock starts.
    fn begin(&mut self, now: f64) {
        let reporting = self.model.stick.reporting;
        self.next_report = Some(now + reporting.seconds);
        self.does = Does::Rests(now);
        self.buttons.begin(now);
        self.reports.start(now);
    }

    /// Puts the hand on the stick at once, and begins at time 0 with what is asked: for truths
    /// that a long stretch of one thing is to tell.
    pub(super) fn begin_with(&mut self, asked: Asked, target: Option<Target>) {
        self.begin(0.0);
        self.touch = 1.0;
        self.asked = asked;
        self.target = target;
        if target.is_some() {
            self.does = Does::StaysInRing(0.0);
        }
    }

    /// One report on; the states that the browser has seen since, by [`Player::next_seen`].
    pub(super) fn step_on(&mut self) -> f64 {
        let next = self.next_report.unwrap_or(0.0);
        self.report(next);
        self.next_report = Some(next + self.model.stick.reporting.seconds);
        next
    }

    /// The next state that the browser has seen by `now`: its stamp and the place.
    pub(super) fn next_seen(&mut self, now: f64) -> Option<(f64, Position)> {
        let (at, state) = self.reports.next_seen(now)?;
        Some((at, Position::new(state.axes[0], -state.axes[1])))
    }

    /// One report of the stick.
    fn report(&mut self, now: f64) {
        let step = self.model.stick.reporting.seconds;
        if self.acts_at.is_some_and(|at| now >= at) {
            self.acts_at = None;
            self.act(now);
        }
        self.go_on(now);
        let meant = self.will.at(now);
        let radius = meant.radius();
        if radius > MUSCLE_BEYOND && self.way.asking != Asking::MovedByHelper {
            self.muscle_seconds += step;
        }
        self.tire(radius, step);
        let busy = self.asked == Asked::Busy;
        let unintended = self.unintended.step(&self.model.body, radius, busy);
        let on = self.touch_for(step);
        let meant = meant * (1.0 - self.model.body.endurance.sag * self.strain);
        let by_hand = self.model.body.rests_at + meant + unintended;
        self.hand = if let Does::LetGo { since, from } = self.does {
            from * self.model.stick.spring_back(now - since)
        } else if self.model.stick.centres_itself {
            by_hand * on
        } else {
            // A stick that does not centre itself stays where the hand leaves it.
            self.hand + (by_hand - self.hand) * on
        };
        let [across, along] = self.mount;
        let moved = Position::new(
            across[0] * self.hand.right + across[1] * self.hand.up,
            along[0] * self.hand.right + along[1] * self.hand.up,
        );
        let axes = self.stick.read(moved);
        let pressed = self.buttons.pressed(now, on > ON_BUTTONS);
        let shown = Position::new(axes[0], -axes[1]);
        self.sees = self.sees + (shown - self.sees) * (step / LOOK_SECONDS).min(1.0);
        self.reports.send(now, State { axes, pressed });
    }

    /// How firmly the hand is on the stick after one more step.
    fn touch_for(&mut self, step: f64) -> f64 {
        let off = self.asked == Asked::HandsOff || matches!(self.does, Does::LetGo { .. });
        let on = if off { -1.0 } else { 1.0 };
        self.touch = (self.touch + on * step / TOUCH_SECONDS).clamp(0.0, 1.0);
        self.touch
    }

    /// How much reach tiredness has cost by now, as a share of it.
    pub(super) fn fatigue(&self) -> f64 {
        super::truth::fatigue(&self.model.body, self.muscle_seconds)
    }

    /// The hand leaves the stick at this moment.
    pub(super) fn hand_off(&mut self) {
        self.touch = 0.0;
    }
}

/// A state as the page gets it.
fn sample(model: &Model, arrival_seconds: f64, state: State) -> Sample {
    let mut axes = state.axes.to_vec();
    axes.extend(model.stick.extra_axes.iter().take(MOST_CONTROLS - 2).map(|one| one.reads()));
    let down = |button: usize| state.pressed >> button & 1 == 1;
    let buttons = (0..model.stick.buttons).map(|button| f64::from(u8::from(down(button))));
    Sample { arrival_seconds, axes, buttons: buttons.collect() }
}
