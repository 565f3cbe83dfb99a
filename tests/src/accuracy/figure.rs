//! One figure told of one person, beside its truth.

use fitting::estimate::Measured;

/// The figures that are held against a truth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figure {
    /// Comfortable reach in one direction.
    Reach,
    /// The angle performed less the angle asked, in one direction.
    DegreesOff,
    /// How pushes come out turned as a whole.
    Turn,
    /// Reach on the weaker axis as a share of that on the stronger.
    Stretch,
    /// What comes out on the other axis.
    CrossTalk,
    /// How far the centre is off the middle of the field.
    Offset,
    /// The distance inside which a rest stays 95 % of the time.
    Wander,
    /// The same while something else is done.
    BusyWander,
    /// Steadiness of holding at one level.
    HoldDeviation,
    /// The slow part of it.
    HoldWander,
    /// The rhythmic part of it.
    HoldRhythmic,
    /// Frequency of rhythmic movement.
    RhythmHertz,
    /// Peak amplitude of rhythmic movement.
    RhythmAmplitude,
    /// Distance kept in a longer hold.
    SustainedKept,
    /// Drift in a longer hold.
    SustainedDrift,
    /// Seconds of the way back.
    ReturnSeconds,
    /// Of these, those in movement.
    ReturnMoving,
    /// How far the way back shoots past its end.
    ReturnOvershoot,
    /// Where the way back ends, along the push.
    ReturnShort,
    /// Seconds from a cue to the press.
    PressReaction,
    /// Median length of a plain press.
    PressLength,
    /// Median length of a long press.
    PressLong,
    /// Median gap in a double press.
    PressGap,
    /// The untouched stick's own spread.
    DeviceNoise,
    /// How far the untouched centre moves.
    DeviceDrift,
    /// How far off the spring leaves the stick.
    Sag,
    /// The dead zone's radius truly needed.
    DeadZoneNeeded,
    /// Sudden movements a minute at rest.
    SuddenRate,
    /// Sudden movements a minute while something else is done.
    BusySuddenRate,
    /// Sudden movements a minute that the suggested dead zone leaves.
    LeftRate,
    /// Unwanted presses a minute.
    UnwantedRate,
}

impl Figure {
    /// All of them, in the order of the table.
    pub const ALL: [Self; 31] = [
        Self::Reach,
        Self::DegreesOff,
        Self::Turn,
        Self::Stretch,
        Self::CrossTalk,
        Self::Offset,
        Self::Wander,
        Self::BusyWander,
        Self::HoldDeviation,
        Self::HoldWander,
        Self::HoldRhythmic,
        Self::RhythmHertz,
        Self::RhythmAmplitude,
        Self::SustainedKept,
        Self::SustainedDrift,
        Self::ReturnSeconds,
        Self::ReturnMoving,
        Self::ReturnOvershoot,
        Self::ReturnShort,
        Self::PressReaction,
        Self::PressLength,
        Self::PressLong,
        Self::PressGap,
        Self::DeviceNoise,
        Self::DeviceDrift,
        Self::Sag,
        Self::DeadZoneNeeded,
        Self::SuddenRate,
        Self::BusySuddenRate,
        Self::LeftRate,
        Self::UnwantedRate,
    ];

    /// Its name in files.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Reach => "reach",
            Self::DegreesOff => "degrees_off",
            Self::Turn => "turn",
            Self::Stretch => "stretch",
            Self::CrossTalk => "cross_talk",
            Self::Offset => "offset",
            Self::Wander => "wander",
            Self::BusyWander => "busy_wander",
            Self::HoldDeviation => "hold_deviation",
            Self::HoldWander => "hold_wander",
            Self::HoldRhythmic => "hold_rhythmic",
            Self::RhythmHertz => "rhythm_hertz",
            Self::RhythmAmplitude => "rhythm_amplitude",
            Self::SustainedKept => "sustained_kept",
            Self::SustainedDrift => "sustained_drift",
            Self::ReturnSeconds => "return_seconds",
            Self::ReturnMoving => "return_moving",
            Self::ReturnOvershoot => "return_overshoot",
            Self::ReturnShort => "return_short",
            Self::PressReaction => "press_reaction",
            Self::PressLength => "press_length",
            Self::PressLong => "press_long",
            Self::PressGap => "press_gap",
            Self::DeviceNoise => "device_noise",
            Self::DeviceDrift => "device_drift",
            Self::Sag => "sag",
            Self::DeadZoneNeeded => "dead_zone_needed",
            Self::SuddenRate => "sudden_rate",
            Self::BusySuddenRate => "busy_sudden_rate",
            Self::LeftRate => "left_rate",
            Self::UnwantedRate => "unwanted_rate",
        }
    }

    /// Its name in the table.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Reach => "reach, by direction",
            Self::DegreesOff => "angle of a push, by direction",
            Self::Turn => "rotation of all pushes",
            Self::Stretch => "weaker axis against stronger",
            Self::CrossTalk => "cross-talk",
            Self::Offset => "offset of the centre",
            Self::Wander => "wander at rest (95 % radius)",
            Self::BusyWander => "wander at busy rest (95 % radius)",
            Self::HoldDeviation => "hold steadiness, by level",
            Self::HoldWander => "its slow part",
            Self::HoldRhythmic => "its rhythmic part",
            Self::RhythmHertz => "rhythm: frequency",
            Self::RhythmAmplitude => "rhythm: peak amplitude",
            Self::SustainedKept => "sustained hold: distance kept",
            Self::SustainedDrift => "sustained hold: drift",
            Self::ReturnSeconds => "return: time from the cue",
            Self::ReturnMoving => "return: time in movement",
            Self::ReturnOvershoot => "return: overshoot",
            Self::ReturnShort => "return: where it comes to rest",
            Self::PressReaction => "press: reaction",
            Self::PressLength => "press: length",
            Self::PressLong => "press: long length",
            Self::PressGap => "press: gap of two",
            Self::DeviceNoise => "stick's own noise",
            Self::DeviceDrift => "drift of the untouched centre",
            Self::Sag => "sag of the spring",
            Self::DeadZoneNeeded => "dead zone truly needed",
            Self::SuddenRate => "sudden movements at rest",
            Self::BusySuddenRate => "sudden movements at busy rest",
            Self::LeftRate => "sudden movements left by the dead zone",
            Self::UnwantedRate => "unwanted presses",
        }
    }

    /// The unit of its error.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::DegreesOff | Self::Turn => "°",
            Self::RhythmHertz => "Hz",
            Self::ReturnSeconds
            | Self::ReturnMoving
            | Self::PressReaction
            | Self::PressLength
            | Self::PressLong
            | Self::PressGap => "ms",
            Self::HoldDeviation
            | Self::HoldWander
            | Self::HoldRhythmic
            | Self::RhythmAmplitude
            | Self::Wander
            | Self::BusyWander
            | Self::DeviceNoise => "% of the truth",
            Self::SustainedDrift | Self::DeviceDrift => "% of full scale a minute",
            _ if self.is_count() => "a minute",
            Self::Stretch | Self::CrossTalk | Self::ReturnOvershoot => "%",
            _ => "% of full scale",
        }
    }

    /// Whether it counts things, with a mid-P interval: then more than 98 % is allowed.
    #[must_use]
    pub const fn is_count(self) -> bool {
        matches!(
            self,
            Self::SuddenRate | Self::BusySuddenRate | Self::LeftRate | Self::UnwantedRate
        )
    }

    /// The error of `value` in the [`Self::unit`].
    #[must_use]
    pub fn error(self, value: f64, truth: f64) -> f64 {
        let error = (value - truth).abs();
        match self.unit() {
            "% of the truth" => 100.0 * error / truth.abs().max(1e-9),
            "ms" => 1000.0 * error,
            "°" => fitting::position::fold_degrees(value - truth).abs(),
            "Hz" | "a minute" => error,
            _ => 100.0 * error,
        }
    }
}

/// One figure told of one person, beside its truth.
#[derive(Clone, Debug)]
pub struct Case {
    /// Which figure.
    pub figure: Figure,
    /// Of what, where a person has several: a direction, a level, a button.
    pub of: String,
    /// What is true.
    pub truth: f64,
    /// What was told.
    pub told: Measured,
}

impl Case {
    /// A case of the only figure of its kind.
    #[must_use]
    pub fn one(figure: Figure, truth: f64, told: Measured) -> Self {
        Self { figure, of: String::new(), truth, told }
    }

    /// Whether the interval holds the truth; `None` where nothing was told.
    ///
    /// The last bits of truth and end may differ by rounding: where a quantity is known exactly
    /// both are the same number computed on two ways.
    #[must_use]
    pub fn covered(&self) -> Option<bool> {
        let told = self.told.ok()?;
        let slack = 1e-9;
        Some(told.low - slack <= self.truth && self.truth <= told.high + slack)
    }

    /// The error of the value, in the figure's unit.
    #[must_use]
    pub fn error(&self) -> Option<f64> {
        self.told.ok().map(|told| self.figure.error(told.value, self.truth))
    }
}
