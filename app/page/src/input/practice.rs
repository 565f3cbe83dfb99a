//! The practice stick: a model of a small spring-centred stick, driven by pointer, touch or keys.
//!
//! It takes commands from the page and gives states as a browser would give them for a device:
//! axes in −1..=1, the second counted downwards, in steps of a 10-bit converter. Everything
//! after that is the same code as for a device.
//!
//! So that the whole job can be done with one key at a time, the stick can be told to stay
//! where it is when it is let go ([`PracticeStick::stay`]), and be moved in small steps.

use fitting::{Direction, Position};

/// How fast held keys move the stick, shares of travel a second: full travel in half a second.
const KEY_SPEED: f64 = 2.0;

/// How fast the spring is: natural frequency of the critically damped return, radians a second.
/// From the end of travel it is within 2 % of the middle after about 0.2 seconds.
const SPRING_RATE: f64 = 30.0;

/// Within this distance of the middle, and as slow, the return has ended; share of travel.
const AT_REST: f64 = 0.001;

/// The longest step of the model, seconds.
const LONGEST_STEP: f64 = 0.001;

/// A pause longer than this is not played back: the page was hidden or held up. Seconds.
const LONGEST_CATCH_UP: f64 = 0.25;

/// Steps of a 10-bit converter, less one.
const CODES: f64 = 1023.0;

/// How many buttons the practice stick has.
pub const PRACTICE_BUTTONS: usize = 4;

/// What the hand does to the stick.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Hand {
    /// Nothing: the spring has it, unless it stays.
    Off,
    /// Holds it at this place.
    At(Position),
}

/// The model. All times in seconds on one monotonic clock.
#[derive(Clone, Debug)]
pub struct PracticeStick {
    at: Position,
    /// Shares of travel a second; moves only on the spring.
    speed: Position,
    hand: Hand,
    /// Right, up, left, down.
    keys: [bool; 4],
    stays: bool,
    centring: bool,
    buttons: [bool; PRACTICE_BUTTONS],
    moved_to_seconds: Option<f64>,
}

impl Default for PracticeStick {
    fn default() -> Self {
        Self {
            at: Position::ORIGIN,
            speed: Position::ORIGIN,
            hand: Hand::Off,
            keys: [false; 4],
            stays: false,
            centring: false,
            buttons: [false; PRACTICE_BUTTONS],
            moved_to_seconds: None,
        }
    }
}

impl PracticeStick {
    /// The hand takes the stick to `to`, brought into the round gate of radius 1. What is not
    /// finite lets it go.
    pub fn push(&mut self, to: Position) {
        self.hand = if to.right.is_finite() && to.up.is_finite() {
            self.centring = false;
            Hand::At(gated(to))
        } else {
            Hand::Off
        };
    }

    /// The hand and every key let go. The spring takes the stick back, unless it stays.
    pub fn release(&mut self) {
        if let Hand::At(place) = self.hand {
            // A quick touch may come and go between two polls: it still moved the stick.
            self.at = place;
        }
        self.hand = Hand::Off;
        self.keys = [false; 4];
    }

    /// A key for one of the four directions goes down or up. Two held keys move diagonally;
    /// diagonals themselves hold both.
    pub fn key(&mut self, direction: Direction, down: bool) {
        let keys: &[usize] = match direction {
            Direction::Right => &[0],
            Direction::UpRight => &[0, 1],
            Direction::Up => &[1],
            Direction::UpLeft => &[1, 2],
            Direction::Left => &[2],
            Direction::DownLeft => &[2, 3],
            Direction::Down => &[3],
            Direction::DownRight => &[3, 0],
        };
        for &key in keys {
            self.keys[key] = down;
        }
        self.centring &= !down;
    }

    /// Moves the stick by one step and lets it stay there (turns [`PracticeStick::stay`] on).
    pub fn step(&mut self, by: Position) {
        if by.right.is_finite() && by.up.is_finite() {
            self.stays = true;
            self.centring = false;
            self.hand = Hand::Off;
            self.at = gated(self.at + by);
            self.speed = Position::ORIGIN;
        }
    }

    /// Whether the stick stays where it is when it is let go.
    pub fn stay(&mut self, stays: bool) {
        self.stays = stays;
    }

    /// Whether the stick stays where it is when it is let go.
    #[must_use]
    pub fn stays(&self) -> bool {
        self.stays
    }

    /// Lets go and has the spring take the stick to the middle, also when it stays.
    pub fn centre(&mut self) {
        self.release();
        self.centring = true;
    }

    /// A button goes down or up; numbers past the last are ignored.
    pub fn button(&mut self, index: usize, down: bool) {
        if let Some(button) = self.buttons.get_mut(index) {
            *button = down;
        }
    }

    /// Moves the model on to `to_seconds`.
    pub fn advance(&mut self, to_seconds: f64) {
        let from = self.moved_to_seconds.unwrap_or(to_seconds);
        self.moved_to_seconds = Some(to_seconds.max(from));
        let mut left = (to_seconds - from).clamp(0.0, LONGEST_CATCH_UP);
        while left > 0.0 {
            let step = left.min(LONGEST_STEP);
            self.move_by(step);
            left -= step;
        }
        if let Hand::At(place) = self.hand {
            self.at = place;
            self.speed = Position::ORIGIN;
        }
    }

    fn move_by(&mut self, seconds: f64) {
        let held = |on: bool| f64::from(u8::from(on));
        let keys = Position::new(
            held(self.keys[0]) - held(self.keys[2]),
            held(self.keys[1]) - held(self.keys[3]),
        );
        if self.hand != Hand::Off {
            return;
        }
        if keys != Position::ORIGIN {
            // On a diagonal the speed stays the same.
            let way = keys * (1.0 / keys.radius());
            self.at = gated(self.at + way * (KEY_SPEED * seconds));
            self.speed = Position::ORIGIN;
        } else if self.keys.contains(&true) || (self.stays && !self.centring) {
            // Opposite keys, or a stick that stays: it is held where it is.
            self.speed = Position::ORIGIN;
        } else {
            let pull = self.at * -(SPRING_RATE * SPRING_RATE) - self.speed * (2.0 * SPRING_RATE);
            self.speed = self.speed + pull * seconds;
            self.at = self.at + self.speed * seconds;
            if self.at.radius() < AT_REST && self.speed.radius() < AT_REST * SPRING_RATE {
                self.at = Position::ORIGIN;
                self.speed = Position::ORIGIN;
                self.centring = false;
            }
        }
    }

    /// The axes as a browser would give them: to the right, and down.
    #[must_use]
    pub fn axes(&self) -> [f64; 2] {
        [quantised(self.at.right), quantised(-self.at.up)]
    }

    /// The buttons' values, 0 or 1.
    #[must_use]
    pub fn buttons(&self) -> [f64; PRACTICE_BUTTONS] {
        self.buttons.map(|down| if down { 1.0 } else { 0.0 })
    }
}

/// `place`, or the point of the round gate in its direction.
fn gated(place: Position) -> Position {
    let radius = place.radius();
    if radius > 1.0 { place * (1.0 / radius) } else { place }
}

/// A share of travel as a 10-bit converter and the W3C Gamepad normalisation give it,
/// 2 (code − least) / (most − least) − 1. No code is 0: at rest an axis reads +0.001.
fn quantised(share: f64) -> f64 {
    let code = ((share.clamp(-1.0, 1.0) + 1.0) / 2.0 * CODES + 0.5).floor().min(CODES);
    2.0 * code / CODES - 1.0
}
