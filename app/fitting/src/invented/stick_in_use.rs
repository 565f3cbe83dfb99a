//! An invented stick in use: with its noise, play, sag and drift, and the system's filter.

use super::random::{Random, Smooth};
use super::stick::{Stick, System};
use crate::Position;

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
    /// Where the reading stands, which lags by the play.
    reads_at: Position,
    drift: Option<Smooth>,
    horizontal: Axis,
    vertical: Axis,
    fuzz: i64,
    creep: f64,
}

/// The spring creeps back with this time constant, seconds.
pub(super) const CREEP_SECONDS: f64 = 8.0;
/// A push beyond this share of travel takes the spring along.
pub(super) const TAKES_ALONG: f64 = 0.25;

impl StickInUse {
    pub(super) fn new(stick: Stick, seed: u64) -> Self {
        let middle = stick.full_counts() / 2;
        let step = stick.reporting.seconds;
        let fuzz = match stick.system {
            System::AsIs => 0,
            System::HiddenMiddle if stick.bits <= 8 => 0,
            System::HiddenMiddle => stick.full_counts() / 256,
        };
        let drift = (stick.drift > 0.0)
            .then(|| Smooth::new(stick.drift_seconds, step, Random::new(seed, 12)));
        Self {
            random: Random::new(seed, 11),
            left_at: Position::ORIGIN,
            reads_at: Position::ORIGIN,
            drift,
            horizontal: Axis { passed: middle },
            vertical: Axis { passed: middle },
            fuzz,
            creep: libm::exp(-step / CREEP_SECONDS),
            stick,
        }
    }

    /// One reading: what the page is shown while the body moves the stick to `moved`, from its
    /// centre; as the values of its two axes.
    pub(super) fn read(&mut self, moved: Position) -> [f64; 2] {
        let stick = &self.stick;
        let mut at = stick.along_lines(moved);
        if stick.sag > 0.0 {
            let radius = at.radius();
            if radius > TAKES_ALONG {
                self.left_at = at * (stick.sag / radius);
            } else {
                self.left_at = self.left_at * self.creep;
            }
            // The further out, the less the spring's rest matters: a held stick is where it is
            // held.
            at = at + self.left_at * (1.0 - radius / TAKES_ALONG).max(0.0);
        }
        if let Some(drift) = &mut self.drift {
            at = at + drift.step() * stick.drift;
        }
        at = stick.inside_gate(at + stick.centre);
        if stick.hysteresis > 0.0 {
            let play = stick.hysteresis / 2.0;
            let follow = |reads: f64, at: f64| reads.max(at - play).min(at + play);
            self.reads_at = Position::new(
                follow(self.reads_at.right, at.right),
                follow(self.reads_at.up, at.up),
            );
            at = self.reads_at;
        }
        if stick.noise > 0.0 {
            at = at + self.random.normal_pair() * stick.noise;
        }
        let right = self.horizontal.filter(stick.counts(at.right), self.fuzz);
        let down = self.vertical.filter(stick.counts(-at.up), self.fuzz);
        stick.wired(stick.shown(right as f64), stick.shown(down as f64))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Observed, Chromium 156 on Linux, a 16-bit stick: within about ±4100 to 4300 counts of the
    /// middle reads 0, from about 28700 on reads 1; a change under 127 counts is dropped, under
    /// 255 a quarter passes, under 510 half.
    #[test]
    fn hidden_middle_is_as_observed_at_16_bits() {
        let stick = Stick { bits: 16, system: System::HiddenMiddle, ..Stick::default() };
        let first =
            (32768..65536).find(|counts| stick.shown(f64::from(*counts)) > 0.0).expect("one");
        assert!((4090..4310).contains(&(first - 32768)), "{first}");
        let full =
            (32768..65536).find(|counts| stick.shown(f64::from(*counts)) >= 1.0).expect("one");
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
        used.read(Position::new(0.0, 0.7));
        let [_, down] = used.read(Position::ORIGIN);
        assert!((down + 0.08).abs() < 0.001, "{down}");
        for _ in 0..10_000 {
            used.read(Position::ORIGIN);
        }
        let [_, down] = used.read(Position::ORIGIN);
        assert!(down.abs() < 0.002, "{down}");
    }

    #[test]
    fn a_stick_with_play_turns_back_late() {
        let stick = Stick { hysteresis: 0.02, noise: 0.0, bits: 16, ..Stick::default() };
        let mut used = StickInUse::new(stick, 1);
        let out: Vec<f64> = (0..=500)
            .map(|step| used.read(Position::new(f64::from(step) / 1000.0, 0.0))[0])
            .collect();
        let back: Vec<f64> = (0..=500)
            .map(|step| used.read(Position::new(0.5 - f64::from(step) / 1000.0, 0.0))[0])
            .collect();
        // On the way out the reading is half the play behind, on the way back half before.
        assert!((out[300] - 0.29).abs() < 1e-4 && (back[200] - 0.31).abs() < 1e-4);
        assert_eq!(back[10], out[500]);
    }

    #[test]
    fn a_drifting_centre_spreads_as_it_says() {
        let mut squares = 0.0;
        let seeds = 400;
        for seed in 0..seeds {
            let stick = Stick {
                drift: 0.01,
                drift_seconds: 60.0,
                noise: 0.0,
                bits: 16,
                ..Stick::default()
            };
            let mut used = StickInUse::new(stick, seed);
            let at = used.read(Position::ORIGIN);
            squares += (at[0] * at[0] + at[1] * at[1]) / 2.0;
            let soon = (0..250).map(|_| used.read(Position::ORIGIN)).last().expect("reads");
            assert!((soon[0] - at[0]).abs() < 0.003, "slow: {at:?} {soon:?}");
        }
        let deviation = libm::sqrt(squares / seeds as f64);
        assert!((deviation / 0.01 - 1.0).abs() < 0.15, "{deviation}");
    }
}
