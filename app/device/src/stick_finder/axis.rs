//! What one axis looks like from the values it took.

/// What an axis looks like so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisKind {
    /// It took one value only.
    Still,
    /// It moves smoothly about some middle.
    Smooth,
    /// It took only the values −1, 0 and 1: half a hat switch, or a stick of four switches.
    Stepped,
    /// It lies outside −1..=1: a whole hat switch told as one number, at rest outside its
    /// range (W3C Gamepad normalisation of a null state).
    HatOnOneAxis,
    /// It starts at one end of its scale and moves from there: a trigger or a lever.
    Trigger,
}

/// The values one axis took.
#[derive(Clone, Copy, Debug)]
pub(super) struct AxisSeen {
    first: f64,
    low: f64,
    high: f64,
    only_steps: bool,
}

/// Values this near to a whole number count as it: browsers hand on 32-bit numbers.
const NEAR: f64 = 1e-6;

impl AxisSeen {
    pub(super) fn new(value: f64) -> Self {
        Self { first: value, low: value, high: value, only_steps: is_step(value) }
    }

    pub(super) fn take_in(&mut self, value: f64) {
        self.low = self.low.min(value);
        self.high = self.high.max(value);
        self.only_steps &= is_step(value);
    }

    /// How much of the scale of length 2 the values cover.
    pub(super) fn range(&self) -> f64 {
        self.high - self.low
    }

    pub(super) fn kind(&self) -> AxisKind {
        if self.high > 1.05 || self.low < -1.05 {
            AxisKind::HatOnOneAxis
        } else if self.range() <= NEAR {
            AxisKind::Still
        } else if self.only_steps {
            AxisKind::Stepped
        } else if self.first.abs() >= 0.95 {
            AxisKind::Trigger
        } else {
            AxisKind::Smooth
        }
    }
}

fn is_step(value: f64) -> bool {
    (value - value.round()).abs() <= NEAR && value.abs() <= 1.0 + NEAR
}
