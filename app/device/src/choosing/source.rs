//! Where a piece of advice comes from, and the figures of the handbooks.

/// A paragraph of MIL-STD-1472E (31 March 1998); later issues number them otherwise. All of these
/// were read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paragraph {
    /// 5.4.3.2.1.4: which part of the limb to support.
    LimbSupport,
    /// 5.4.3.2.2.1.3: hand-operated displacement sticks: grip, clearance, forearm support, a base
    /// that does not slip, move or tilt.
    HandOperated,
    /// 5.4.3.2.2.2: finger-operated displacement sticks: forearm or wrist support.
    FingerOperated,
    /// 5.4.3.2.3.1.1: secondary switches bring more error on a force grip than on one that moves.
    SwitchesOnForceGrip,
    /// 5.4.3.2.3.1.2: the greatest force for full output of a hand-operated force stick.
    ForceGrip,
}

impl Paragraph {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::LimbSupport,
        Self::HandOperated,
        Self::FingerOperated,
        Self::SwitchesOnForceGrip,
        Self::ForceGrip,
    ];

    /// Its number in MIL-STD-1472E.
    #[must_use]
    pub const fn number(self) -> &'static str {
        match self {
            Self::LimbSupport => "5.4.3.2.1.4",
            Self::HandOperated => "5.4.3.2.2.1.3",
            Self::FingerOperated => "5.4.3.2.2.2",
            Self::SwitchesOnForceGrip => "5.4.3.2.3.1.1",
            Self::ForceGrip => "5.4.3.2.3.1.2",
        }
    }
}

/// Where a piece of advice comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// This person's own recordings.
    OwnRecordings,
    /// A paragraph of MIL-STD-1472E.
    Standard1472E(Paragraph),
    /// MIL-STD-1472, figure and text on finger-operated sticks and push buttons: from memory.
    Standard1472FromMemory,
    /// NUREG-0700, Revision 3: sticks that move need less force and tire less than force sticks;
    /// used for speed of movement they should be spring-centred; force sticks return precisely.
    Nureg0700,
    /// Rao, Seliktar and Rahman, IEEE Transactions on Rehabilitation Engineering 8 (2000) 118: with
    /// cerebral palsy the spring-centred stick did better than the force stick (abstract).
    Rao2000,
    /// Dicianno and others, Journal of Rehabilitation Research and Development 46 (2009) 269: with
    /// tremor the unfiltered force stick did best (abstract).
    Dicianno2009,
    /// Björkstén and Jonsson, Scandinavian Journal of Work, Environment and Health 3 (1977) 23: the
    /// share of the greatest force that could be kept up for an hour (abstract).
    BjorkstenJonsson1977,
    /// What is usual in the trade; without a source.
    CommonPractice,
}

/// The unit of a handbook's figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Newtons.
    Newtons,
    /// Millimetres.
    Millimetres,
    /// Degrees from the middle.
    Degrees,
    /// Percent of the greatest force.
    PercentOfGreatestForce,
}

/// A figure of a handbook: it comes from healthy adults or trained operators, and this person's own
/// measure counts more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Figure {
    /// The force that moves a fingertip stick.
    FingerForce,
    /// How far a fingertip stick moves.
    FingerThrow,
    /// The thickness of a fingertip stick.
    FingerThickness,
    /// The length of a hand's grip.
    GripLength,
    /// The thickness of a hand's grip.
    GripThickness,
    /// Free space to the side of a hand-operated stick.
    SpaceAside,
    /// Free space behind it.
    SpaceBehind,
    /// The force for full output of a hand-operated force stick.
    ForceGrip,
    /// The force that presses a button under a fingertip.
    ButtonForce,
    /// The force that could be kept up for an hour, on and off.
    KeptUpOnAndOff,
    /// The force that could be kept up for an hour, without a break.
    KeptUpWithoutBreak,
}

impl Figure {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::FingerForce,
        Self::FingerThrow,
        Self::FingerThickness,
        Self::GripLength,
        Self::GripThickness,
        Self::SpaceAside,
        Self::SpaceBehind,
        Self::ForceGrip,
        Self::ButtonForce,
        Self::KeptUpOnAndOff,
        Self::KeptUpWithoutBreak,
    ];

    /// The lowest and the highest value with their unit; `None` where the handbook has no such end.
    #[must_use]
    pub const fn range(self) -> (Option<f64>, Option<f64>, Unit) {
        match self {
            Self::FingerForce => (Some(3.3), Some(8.9), Unit::Newtons),
            Self::FingerThrow => (None, Some(45.0), Unit::Degrees),
            Self::FingerThickness => (Some(6.5), Some(16.0), Unit::Millimetres),
            Self::GripLength => (Some(110.0), Some(180.0), Unit::Millimetres),
            Self::GripThickness => (None, Some(50.0), Unit::Millimetres),
            Self::SpaceAside => (Some(100.0), None, Unit::Millimetres),
            Self::SpaceBehind => (Some(50.0), None, Unit::Millimetres),
            Self::ForceGrip => (None, Some(118.0), Unit::Newtons),
            Self::ButtonForce => (Some(2.8), Some(11.0), Unit::Newtons),
            Self::KeptUpOnAndOff => (None, Some(14.0), Unit::PercentOfGreatestForce),
            Self::KeptUpWithoutBreak => (None, Some(7.9), Unit::PercentOfGreatestForce),
        }
    }

    /// Where it stands.
    #[must_use]
    pub const fn source(self) -> Source {
        match self {
            Self::FingerForce | Self::FingerThrow | Self::FingerThickness | Self::ButtonForce => {
                Source::Standard1472FromMemory
            }
            Self::GripLength | Self::GripThickness | Self::SpaceAside | Self::SpaceBehind => {
                Source::Standard1472E(Paragraph::HandOperated)
            }
            Self::ForceGrip => Source::Standard1472E(Paragraph::ForceGrip),
            Self::KeptUpOnAndOff | Self::KeptUpWithoutBreak => Source::BjorkstenJonsson1977,
        }
    }
}
