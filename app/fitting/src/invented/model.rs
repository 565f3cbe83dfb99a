//! A person on a stick: the whole model, the mount between them, and the day.

use super::body::Body;
use super::random::Random;
use super::stick::{Stick, System};
use crate::stick_kind::{Mover, Moves, StickKind};
use crate::{Direction, Position};

/// An invented person with an invented stick: the truth that measures are to find.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// The person.
    pub body: Body,
    /// The stick.
    pub stick: Stick,
    /// How far the mount is turned: a push that is meant for one direction arrives this many
    /// degrees further, from right towards up.
    pub turn_degrees: f64,
    /// What the mount makes of a movement to the right and up before it turns it: factors.
    pub gain: [f64; 2],
    /// What moves the stick.
    pub mover: Mover,
}

/// No day makes more of a difference than this factor, up or down.
const MOST_OF_A_DAY: f64 = 1.6;

impl Model {
    /// The same person on another stick.
    #[must_use]
    pub fn on(self, stick: Stick) -> Self {
        Self { stick, ..self }
    }

    /// The same person and stick behind a system that hides the middle and reaches full scale
    /// early: with 8 bits, or with 16 and the system's noise filter.
    #[must_use]
    pub fn behind_hidden_middle(self, bits: u32) -> Self {
        let stick = Stick { bits, system: System::HiddenMiddle, ..self.stick.clone() };
        self.on(stick)
    }

    /// The same person on another day: reach, wander and size of rhythmic movement differ by a
    /// factor that holds for the whole visit. Day 0 is the person as described. What is true of
    /// the model that comes out is true of that visit.
    #[must_use]
    pub fn on_day(mut self, day: u64) -> Self {
        if day == 0 {
            return self;
        }
        let mut random = Random::new(day, 51);
        let mut factor = |spread: f64| {
            let log = spread * random.normal();
            libm::exp(log).clamp(1.0 / MOST_OF_A_DAY, MOST_OF_A_DAY)
        };
        let spread = self.body.day_spread;
        let reach = factor(spread.reach);
        for one in &mut self.body.reach {
            *one = (*one * reach).min(1.0);
        }
        self.body.wander *= factor(spread.wander);
        let rhythm_factor = factor(spread.rhythm);
        if let Some(rhythm) = &mut self.body.rhythm {
            rhythm.amplitude *= rhythm_factor;
        }
        self
    }

    /// The same person with no sudden movements, startles included.
    #[must_use]
    pub fn without_jerks(mut self) -> Self {
        self.body.jerks = None;
        self.body.busy.startles = None;
        self
    }

    /// What kind of stick it is.
    #[must_use]
    pub fn kind(&self) -> StickKind {
        StickKind {
            moves: self.stick.moves,
            centres_itself: self.stick.centres_itself,
            mover: self.mover,
            ..StickKind::default()
        }
    }

    /// The directions that this stick can be asked for.
    #[must_use]
    pub fn directions(&self) -> Vec<Direction> {
        match self.stick.moves {
            Moves::TwoAxes => Direction::EIGHT.to_vec(),
            Moves::OneAxis => vec![Direction::Up, Direction::Down],
            Moves::OneWay => vec![Direction::Up],
        }
    }

    /// The mount as a matrix: rows right and up of the stick, columns right and up of the body.
    pub(super) fn mount(&self) -> [[f64; 2]; 2] {
        let (sin, cos) = libm::sincos(self.turn_degrees.to_radians());
        let [right, up] = self.gain;
        [[cos * right, -sin * up], [sin * right, cos * up]]
    }

    /// Where the stick goes, from its centre, when the body goes to `at`.
    #[must_use]
    pub fn mounted(&self, at: Position) -> Position {
        let [right, up] = self.mount();
        Position::new(right[0] * at.right + right[1] * at.up, up[0] * at.right + up[1] * at.up)
    }

    /// How the body has to move for the stick to move by `by`.
    pub(super) fn unmounted(&self, by: Position) -> Position {
        let turned = by.turned(-self.turn_degrees);
        let part = |value: f64, gain: f64| if gain.abs() > 0.05 { value / gain } else { 0.0 };
        Position::new(part(turned.right, self.gain[0]), part(turned.up, self.gain[1]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::Invented;

    #[test]
    fn the_mount_can_be_undone() {
        let model = Model { turn_degrees: 31.0, gain: [0.9, 0.7], ..Invented::SteadyHand.model() };
        let at = Position::new(0.3, -0.6);
        assert!((model.unmounted(model.mounted(at)) - at).radius() < 1e-12);
    }

    #[test]
    fn days_differ_as_much_as_they_say_and_day_0_not_at_all() {
        let model = Invented::RhythmicMovement.model();
        assert_eq!(model.clone().on_day(0), model);
        assert_eq!(model.clone().on_day(3), model.clone().on_day(3));
        let spread = |value: &dyn Fn(&Model) -> f64| {
            let logs: Vec<f64> = (1..=2000)
                .map(|day| libm::log(value(&model.clone().on_day(day)) / value(&model)))
                .collect();
            let mean = logs.iter().sum::<f64>() / 2000.0;
            assert!(mean.abs() < 0.02, "{mean}");
            libm::sqrt(logs.iter().map(|log| (log - mean) * (log - mean)).sum::<f64>() / 1999.0)
        };
        // Two thousand values tell a standard deviation to within 6.3 % (four standard errors);
        // the clamp takes a little off the widest.
        let said = model.body.day_spread;
        let seen = spread(&|model| model.body.reach[0]);
        assert!((seen / said.reach - 1.0).abs() < 0.07, "{seen}");
        let seen = spread(&|model| model.body.wander);
        assert!((seen / said.wander - 1.0).abs() < 0.08, "{seen}");
        let seen = spread(&|model| model.body.rhythm.map_or(0.0, |rhythm| rhythm.amplitude));
        assert!((seen / said.rhythm - 1.0).abs() < 0.1, "{seen}");
    }
}
