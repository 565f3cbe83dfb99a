//! Invented sticks: what stick and system make of a movement.

use super::random::Random;
use crate::Position;

/// How far the stick's opening lets it go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gate {
    /// A round opening of this radius, share of travel.
    Round(f64),
    /// A square opening to the end of both axes.
    Square,
}

/// What the system's joystick layer does before a page sees a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// Nothing.
    AsIs,
    /// A sixteenth of the range to each side of the middle reads 0, full scale is reached as much
    /// before each end, linear between; changes below a part in 256 of the range are filtered
    /// (observed, Chromium 156 on Linux). The filter does nothing at 8 bits.
    HiddenMiddle,
}

/// An invented stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Stick {
    /// Bits of each axis, 4..=16.
    pub bits: u32,
    /// Standard deviation of its own noise on each axis, share of travel.
    pub noise: f64,
    /// Where it rests untouched, share of travel.
    pub centre: Position,
    /// Its opening.
    pub gate: Gate,
    /// How far off its centre the spring leaves it after a push, towards that push, share of
    /// travel; it creeps back over some seconds.
    pub sag: f64,
    /// What the system makes of its values.
    pub system: System,
    /// Time between two reports, seconds.
    pub report_seconds: f64,
}

impl Default for Stick {
    /// A good one: 10 bits, hardly any noise, a round opening, 250 reports a second.
    fn default() -> Self {
        Self {
            bits: 10,
            noise: 0.001,
            centre: Position::ORIGIN,
            gate: Gate::Round(1.0),
            sag: 0.0,
            system: System::AsIs,
            report_seconds: 0.004,
        }
    }
}

impl Stick {
    /// The raw reading of one axis without filter: counts from 0 to `full`.
    fn counts(&self, value: f64) -> i64 {
        let full = self.full_counts() as f64;
        ((value + 1.0) / 2.0 * full).round().clamp(0.0, full) as i64
    }

    fn full_counts(&self) -> i64 {
        (1_i64 << self.bits.clamp(4, 16)) - 1
    }

    /// What the page is shown for a count: the W3C Gamepad normalisation
    /// `2 (value − minimum) / (maximum − minimum) − 1`, after what the system does.
    fn shown(&self, counts: i64) -> f64 {
        let full = self.full_counts();
        match self.system {
            System::AsIs => 2.0 * counts as f64 / full as f64 - 1.0,
            System::HiddenMiddle => {
                let flat = full / 16;
                let middle = full / 2;
                let (low, high) = (middle - flat, middle + flat);
                let value = if counts < low {
                    (counts - low) as f64 / (low - flat) as f64
                } else if counts > high {
                    (counts - high) as f64 / (full - flat - 1 - high) as f64
                } else {
                    0.0
                };
                value.clamp(-1.0, 1.0)
            }
        }
    }

    /// Where the stick can go: a place beyond its opening is held at the edge.
    #[must_use]
    pub fn inside_gate(&self, at: Position) -> Position {
        match self.gate {
            Gate::Round(edge) => {
                let radius = at.radius();
                if radius > edge { at * (edge / radius) } else { at }
            }
            Gate::Square => Position::new(at.right.clamp(-1.0, 1.0), at.up.clamp(-1.0, 1.0)),
        }
    }

    /// What the page would be shown, without noise or filter, of a stick at `at` from its centre.
    #[must_use]
    pub fn shows(&self, at: Position) -> Position {
        let at = self.inside_gate(at + self.centre);
        Position::new(self.shown(self.counts(at.right)), -self.shown(self.counts(-at.up)))
    }
}

/// One axis as the system filters it: what was last let through, counts.
#[derive(Clone, Debug)]
struct Axis {
    passed: i64,
}

impl Axis {
    /// The system's noise filter: a change under half of `fuzz` is dropped, under `fuzz` a quarter
    /// of it passes, under twice `fuzz` half (observed, Chromium 156 on Linux).
    fn filter(&mut self, counts: i64, fuzz: i64) -> i64 {
        let change = (counts - self.passed).abs();
        self.passed = if fuzz == 0 || change >= 2 * fuzz {
            counts
        } else if change < fuzz / 2 {
            self.passed
        } else if change < fuzz {
            (self.passed * 3 + counts) / 4
        } else {
            (self.passed + counts) / 2
        };
        self.passed
    }
}

/// An invented stick in use.
#[derive(Clone, Debug)]
pub(super) struct StickInUse {
    stick: Stick,
    random: Random,
    /// Where the spring leaves it, from its centre.
    left_at: Position,
    horizontal: Axis,
    vertical: Axis,
    creep: f64,
}

/// The spring creeps back with this time constant, seconds.
const CREEP_SECONDS: f64 = 8.0;
/// A push beyond this share of travel takes the spring along.
const TAKES_ALONG: f64 = 0.25;

impl StickInUse {
    pub(super) fn new(stick: Stick, seed: u64) -> Self {
        let middle = stick.full_counts() / 2;
        let creep = libm::exp(-stick.report_seconds / CREEP_SECONDS);
        Self {
            stick,
            random: Random::new(seed, 11),
            left_at: Position::ORIGIN,
            horizontal: Axis { passed: middle },
            vertical: Axis { passed: middle },
            creep,
        }
    }

    /// One report: what the page is shown while the body moves the stick to `moved`, from its
    /// centre; as axis values (right, down).
    pub(super) fn report(&mut self, moved: Position) -> (f64, f64) {
        let radius = moved.radius();
        if radius > TAKES_ALONG {
            self.left_at = moved * (self.stick.sag / radius);
        } else {
            self.left_at = self.left_at * self.creep;
        }
        // The further out, the less the spring's rest matters: a held stick is where it is held.
        let share = (1.0 - radius / TAKES_ALONG).max(0.0);
        let noise = self.random.normal_pair() * self.stick.noise;
        let at = moved + self.left_at * share + self.stick.centre + noise;
        let at = self.stick.inside_gate(at);
        let fuzz = match self.stick.system {
            System::AsIs => 0,
            System::HiddenMiddle if self.stick.bits <= 8 => 0,
            System::HiddenMiddle => self.stick.full_counts() / 256,
        };
        let right = self.horizontal.filter(self.stick.counts(at.right), fuzz);
        let down = self.vertical.filter(self.stick.counts(-at.up), fuzz);
        (self.stick.shown(right), self.stick.shown(down))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Observed, Chromium 156 on Linux, an 8-bit stick: raw 112..=142 reads 0, 0..=15 reads −1,
    /// 239..=255 reads 1, a step is 0.0103, 195 distinct values.
    #[test]
    fn hidden_middle_is_as_observed_at_8_bits() {
        let stick = Stick { bits: 8, system: System::HiddenMiddle, ..Stick::default() };
        let shown: Vec<f64> = (0..=255).map(|counts| stick.shown(counts)).collect();
        for (counts, value) in shown.iter().enumerate() {
            assert_eq!(*value == 0.0, (112..=142).contains(&counts), "{counts}");
            assert_eq!(*value == -1.0, counts <= 15, "{counts}");
            assert_eq!(*value == 1.0, counts >= 239, "{counts}");
        }
        assert!((shown[144] - shown[143] - 0.0103).abs() < 1e-4);
        let mut distinct = shown;
        distinct.dedup();
        assert_eq!(distinct.len(), 195);
    }

    /// Observed, Chromium 156 on Linux, a 16-bit stick: within about ±4100 to 4300 counts of the
    /// middle reads 0, from about 28700 on reads 1; a change under 127 counts is dropped, under
    /// 255 a quarter passes, under 510 half.
    #[test]
    fn hidden_middle_is_as_observed_at_16_bits() {
        let stick = Stick { bits: 16, system: System::HiddenMiddle, ..Stick::default() };
        let first = (32768..65536).find(|counts| stick.shown(*counts) > 0.0).expect("one");
        assert!((4090..4310).contains(&(first - 32768)), "{first}");
        let full = (32768..65536).find(|counts| stick.shown(*counts) >= 1.0).expect("one");
        assert!((28_650..28_750).contains(&(full - 32768)), "{full}");
        let mut axis = Axis { passed: 40_000 };
        assert_eq!(axis.filter(40_126, 255), 40_000);
        assert_eq!(axis.filter(40_200, 255), 40_050);
        assert_eq!(axis.filter(40_450, 255), 40_250);
        assert_eq!(axis.filter(40_900, 255), 40_900);
    }

    #[test]
    fn a_sagging_spring_rests_off_its_centre_and_creeps_back() {
        let stick = Stick { sag: 0.08, noise: 0.0, bits: 16, ..Stick::default() };
        let mut used = StickInUse::new(stick, 1);
        used.report(Position::new(0.0, 0.7));
        let (_, down) = used.report(Position::ORIGIN);
        assert!((down + 0.08).abs() < 0.001, "{down}");
        for _ in 0..10_000 {
            used.report(Position::ORIGIN);
        }
        let (_, down) = used.report(Position::ORIGIN);
        assert!(down.abs() < 0.002, "{down}");
    }

    #[test]
    fn gates_hold() {
        let round = Stick { gate: Gate::Round(0.9), ..Stick::default() };
        assert!((round.inside_gate(Position::new(2.0, 2.0)).radius() - 0.9).abs() < 1e-12);
        let square = Stick { gate: Gate::Square, ..Stick::default() };
        assert_eq!(square.inside_gate(Position::new(2.0, -0.5)), Position::new(1.0, -0.5));
    }
}
