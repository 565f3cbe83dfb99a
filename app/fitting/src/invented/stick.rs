//! Invented sticks: what stick and system make of a movement, noise-free.

use super::reporting::Reporting;
use crate::Position;
use crate::stick_kind::Moves;

/// How far the stick's opening lets it go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gate {
    /// A round opening of this radius, share of travel.
    Round(f64),
    /// A square opening to the end of both axes.
    Square,
    /// An opening with eight corners, one in each of the eight directions, this far from the
    /// middle, share of travel.
    Octagon(f64),
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

/// An axis of the device beside the stick's two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExtraAxis {
    /// Reads 0 whatever is done.
    Dead,
    /// Stands at −1: an axis that is declared and not connected, or a trigger at rest.
    AtLowEnd,
    /// A hat switch at rest that is told as one axis: 9/7, outside −1..=1 (from memory).
    HatAtRest,
}

impl ExtraAxis {
    /// What it reads.
    pub(super) const fn reads(self) -> f64 {
        match self {
            Self::Dead => 0.0,
            Self::AtLowEnd => -1.0,
            Self::HatAtRest => 9.0 / 7.0,
        }
    }
}

/// How the stick's two axes are connected.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wiring {
    /// The two axes change places.
    pub swapped: bool,
    /// The first axis, as it comes out, has its sign turned round.
    pub first_inverted: bool,
    /// The second axis, as it comes out, has its sign turned round.
    pub second_inverted: bool,
}

/// The spring that brings a stick back when it is let go: a damped spring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Its undamped natural frequency, hertz.
    pub hertz: f64,
    /// Its damping as a share of the critical one: under 1 it shoots past the middle.
    pub damping: f64,
}

/// An invented stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Stick {
    /// Along which lines it moves.
    pub moves: Moves,
    /// Whether it comes back to its centre when let go.
    pub centres_itself: bool,
    /// Bits of each axis, 4..=16.
    pub bits: u32,
    /// Standard deviation of its own noise on each axis, share of travel.
    pub noise: f64,
    /// Where it rests untouched, share of travel.
    pub centre: Position,
    /// Standard deviation on each axis with which its centre drifts, share of travel.
    pub drift: f64,
    /// Time constant of that drift, seconds.
    pub drift_seconds: f64,
    /// Its opening.
    pub gate: Gate,
    /// Play on each axis: how far it turns back before the reading follows, share of travel.
    pub hysteresis: f64,
    /// How far off its centre the spring leaves it after a push, towards that push, share of
    /// travel; it creeps back over some seconds.
    pub sag: f64,
    /// How it comes back when it is let go.
    pub spring: Spring,
    /// What the system makes of its values.
    pub system: System,
    /// How its axes are connected.
    pub wiring: Wiring,
    /// What other axes the device has, after the stick's two.
    pub extra_axes: Vec<ExtraAxis>,
    /// How many buttons it has, at most 32.
    pub buttons: usize,
    /// How long a contact may bounce after each press and release, seconds.
    pub bounce_seconds: f64,
    /// How its states come to the page.
    pub reporting: Reporting,
}

impl Default for Stick {
    /// A good one: 10 bits, hardly any noise, a round opening, 250 reports a second.
    fn default() -> Self {
        Self {
            moves: Moves::TwoAxes,
            centres_itself: true,
            bits: 10,
            noise: 0.001,
            centre: Position::ORIGIN,
            drift: 0.0,
            drift_seconds: 300.0,
            gate: Gate::Round(1.0),
            hysteresis: 0.0,
            sag: 0.0,
            spring: Spring { hertz: 6.0, damping: 0.5 },
            system: System::AsIs,
            wiring: Wiring::default(),
            extra_axes: Vec::new(),
            buttons: 2,
            bounce_seconds: 0.0,
            reporting: Reporting::default(),
        }
    }
}

impl Stick {
    /// The raw reading of one axis without filter: counts from 0 to `full`.
    pub(super) fn counts(&self, value: f64) -> i64 {
        let full = self.full_counts() as f64;
        ((value + 1.0) / 2.0 * full).round().clamp(0.0, full) as i64
    }

    pub(super) fn full_counts(&self) -> i64 {
        (1_i64 << self.bits.clamp(4, 16)) - 1
    }

    /// What the page is shown for a count: the W3C Gamepad normalisation
    /// `2 (value − minimum) / (maximum − minimum) − 1`, after what the system does. Counts may
    /// lie between whole ones: the truth without rounding.
    pub(super) fn shown(&self, counts: f64) -> f64 {
        let whole = self.full_counts();
        let full = whole as f64;
        match self.system {
            System::AsIs => 2.0 * counts / full - 1.0,
            System::HiddenMiddle => {
                let (flat, middle) = (whole / 16, whole / 2);
                let (low, high) = ((middle - flat) as f64, (middle + flat) as f64);
                let flat = flat as f64;
                let value = if counts < low {
                    (counts - low) / (low - flat)
                } else if counts > high {
                    (counts - high) / (full - flat - 1.0 - high)
                } else {
                    0.0
                };
                value.clamp(-1.0, 1.0)
            }
        }
    }

    /// How much the page is shown of a small movement, outside a hidden middle and inside the
    /// ends: 1, or more where full scale comes early.
    pub(super) fn slope(&self) -> f64 {
        match self.system {
            System::AsIs => 1.0,
            System::HiddenMiddle => {
                let full = self.full_counts();
                let flat = full / 16;
                full as f64 / 2.0 / (full / 2 - 2 * flat) as f64
            }
        }
    }

    /// Where the stick can go: a place beyond its opening is held at the edge.
    #[must_use]
    pub fn inside_gate(&self, at: Position) -> Position {
        match self.gate {
            Gate::Round(edge) => {
                // Far from the edge there is no need of a root.
                if at.right * at.right + at.up * at.up <= edge * edge {
                    return at;
                }
                at * (edge / at.radius())
            }
            Gate::Square => Position::new(at.right.clamp(-1.0, 1.0), at.up.clamp(-1.0, 1.0)),
            Gate::Octagon(corner) => {
                // The sides' distances are the same in each octant: fold it into one of 45
                // degrees and its mirror.
                let (across, along) = (at.right.abs(), at.up.abs());
                let (more, less) = if across > along { (across, along) } else { (along, across) };
                let side = more * COS_22_5 + less * SIN_22_5;
                let edge = corner * COS_22_5;
                if side > edge { at * (edge / side) } else { at }
            }
        }
    }

    /// How far along its way out the stick still is, so long after it was let go: 1 at first, 0 in
    /// the middle, below 0 past it. A damped spring that starts at rest.
    #[must_use]
    pub fn spring_back(&self, seconds: f64) -> f64 {
        if !self.centres_itself || seconds <= 0.0 {
            return 1.0;
        }
        let own = std::f64::consts::TAU * self.spring.hertz;
        let damping = self.spring.damping.max(0.0);
        let (decay, square) = (damping * own, (1.0 - damping * damping) * own * own);
        // Close to critical damping both forms lose their digits; the limit takes over.
        if square.abs() < 1e-6 * own * own {
            return libm::exp(-decay * seconds) * (1.0 + decay * seconds);
        }
        let rate = libm::sqrt(square.abs());
        if square > 0.0 {
            let (sin, cos) = libm::sincos(rate * seconds);
            return libm::exp(-decay * seconds) * (cos + decay / rate * sin);
        }
        let (slow, fast) = (decay - rate, decay + rate);
        (fast * libm::exp(-slow * seconds) - slow * libm::exp(-fast * seconds)) / (fast - slow)
    }

    /// Along the lines that the stick moves.
    pub(super) fn along_lines(&self, at: Position) -> Position {
        match self.moves {
            Moves::TwoAxes => at,
            Moves::OneAxis => Position::new(0.0, at.up),
            Moves::OneWay => Position::new(0.0, at.up.max(0.0)),
        }
    }

    /// What the page makes of the stick's two axes, taken as axes 0 and 1 of the standard layout.
    pub(super) fn wired(&self, right: f64, down: f64) -> [f64; 2] {
        let [first, second] = if self.wiring.swapped { [down, right] } else { [right, down] };
        let sign = |inverted: bool, value: f64| if inverted { -value } else { value };
        [sign(self.wiring.first_inverted, first), sign(self.wiring.second_inverted, second)]
    }

    fn as_position(&self, right: f64, down: f64) -> Position {
        let [first, second] = self.wired(right, down);
        Position::new(first, -second)
    }

    /// What the page would be shown, without noise or filter, of a stick at `at` from its centre.
    #[must_use]
    pub fn shows(&self, at: Position) -> Position {
        let at = self.inside_gate(self.along_lines(at) + self.centre);
        let read = |value: f64| self.shown(self.counts(value) as f64);
        self.as_position(read(at.right), read(-at.up))
    }

    /// The same without the rounding to counts: what noise and unsteadiness average it to.
    #[must_use]
    pub fn shows_on_average(&self, at: Position) -> Position {
        let at = self.inside_gate(self.along_lines(at) + self.centre);
        let full = self.full_counts() as f64;
        let read = |value: f64| self.shown(((value + 1.0) / 2.0 * full).clamp(0.0, full));
        self.as_position(read(at.right), read(-at.up))
    }

    /// The mean of what the page is shown of the untouched stick: its own noise is rounded to
    /// counts, too.
    pub(super) fn untouched(&self) -> Position {
        let centre = self.inside_gate(self.centre);
        let mean = |value: f64| {
            let (mut sum, mut weights) = (0.0, 0.0);
            for step in -40..=40 {
                let z = f64::from(step) / 10.0;
                let weight = libm::exp(-z * z / 2.0);
                sum += weight * self.shown(self.counts(value + z * self.noise) as f64);
                weights += weight;
            }
            sum / weights
        };
        self.as_position(mean(centre.right), mean(-centre.up))
    }
}

/// Cosine and sine of 22.5 degrees.
const COS_22_5: f64 = 0.923_879_532_511_286_7;
const SIN_22_5: f64 = 0.382_683_432_365_089_8;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Direction;

    /// Observed, Chromium 156 on Linux, an 8-bit stick: raw 112..=142 reads 0, 0..=15 reads −1,
    /// 239..=255 reads 1, a step is 0.0103, 195 distinct values.
    #[test]
    fn hidden_middle_is_as_observed_at_8_bits() {
        let stick = Stick { bits: 8, system: System::HiddenMiddle, ..Stick::default() };
        let shown: Vec<f64> = (0..=255).map(|counts| stick.shown(f64::from(counts))).collect();
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

    #[test]
    fn gates_hold() {
        let round = Stick { gate: Gate::Round(0.9), ..Stick::default() };
        assert!((round.inside_gate(Position::new(2.0, 2.0)).radius() - 0.9).abs() < 1e-12);
        let square = Stick { gate: Gate::Square, ..Stick::default() };
        assert_eq!(square.inside_gate(Position::new(2.0, -0.5)), Position::new(1.0, -0.5));
        let octagon = Stick { gate: Gate::Octagon(0.95), ..Stick::default() };
        for direction in Direction::EIGHT {
            let corner = octagon.inside_gate(Position::polar(3.0, direction.degrees()));
            assert!((corner.radius() - 0.95).abs() < 1e-12, "{direction:?}");
            let side = octagon.inside_gate(Position::polar(3.0, direction.degrees() + 22.5));
            assert!((side.radius() - 0.95 * COS_22_5).abs() < 1e-12, "{direction:?}");
        }
    }

    #[test]
    fn a_spring_shoots_over_as_the_textbook_says() {
        // The overshoot of a damped second-order system is exp(−π ζ / √(1 − ζ²)), first reached
        // after half a damped period (common practice; any text on control).
        for damping in [0.2, 0.5, 0.8] {
            let spring = Spring { hertz: 5.0, damping };
            let stick = Stick { spring, ..Stick::default() };
            let root = libm::sqrt(1.0 - damping * damping);
            let said = libm::exp(-std::f64::consts::PI * damping / root);
            let at = 0.5 / (5.0 * root);
            assert!((stick.spring_back(at) + said).abs() < 1e-9, "{damping}");
            let lowest = (0..2000)
                .map(|step| stick.spring_back(f64::from(step) * 0.001))
                .fold(1.0, f64::min);
            assert!((lowest + said).abs() < 1e-3, "{damping}");
        }
        // Over and about critical damping it does not pass the middle, and the forms meet.
        for damping in [1.0, 1.3] {
            let at = |damping: f64, seconds: f64| {
                let spring = Spring { hertz: 5.0, damping };
                Stick { spring, ..Stick::default() }.spring_back(seconds)
            };
            for step in 0..500 {
                let seconds = f64::from(step) * 0.001;
                let share = at(damping, seconds);
                assert!((0.0..=1.0).contains(&share));
                assert!((share - at(damping + 1e-5, seconds)).abs() < 1e-4);
            }
        }
        let stays = Stick { centres_itself: false, ..Stick::default() };
        assert_eq!(stays.spring_back(3.0), 1.0);
    }

    #[test]
    fn one_axis_and_one_way_move_along_their_line() {
        let at = Position::new(0.4, -0.5);
        let one_axis = Stick { moves: Moves::OneAxis, bits: 16, ..Stick::default() };
        assert!((one_axis.shows(at) - Position::new(0.0, -0.5)).radius() < 1e-4);
        let one_way = Stick { moves: Moves::OneWay, bits: 16, ..Stick::default() };
        assert!(one_way.shows(at).radius() < 1e-4);
    }

    #[test]
    fn swapped_and_inverted_axes_come_out_so() {
        let wiring = Wiring { swapped: true, first_inverted: true, second_inverted: false };
        let stick = Stick { wiring, bits: 16, ..Stick::default() };
        // Right 0.3 and up 0.6 is right 0.3 and down −0.6; swapped (−0.6, 0.3), the first
        // inverted (0.6, 0.3), which a page reads as right 0.6 and up −0.3.
        let shown = stick.shows(Position::new(0.3, 0.6));
        assert!((shown - Position::new(0.6, -0.3)).radius() < 1e-4, "{shown:?}");
    }

    #[test]
    fn without_rounding_is_what_many_rounded_places_average_to() {
        for system in [System::AsIs, System::HiddenMiddle] {
            let stick = Stick { bits: 8, system, ..Stick::default() };
            let (mut rounded, mut smooth) = (Position::ORIGIN, Position::ORIGIN);
            for step in 0..4000 {
                let at = Position::new(0.3 + f64::from(step) * 1e-4, -0.7);
                rounded = rounded + stick.shows(at);
                smooth = smooth + stick.shows_on_average(at);
            }
            let off = (rounded - smooth).right.abs() / 4000.0;
            assert!(off < 1e-4, "{system:?}: {off}");
        }
    }
}
