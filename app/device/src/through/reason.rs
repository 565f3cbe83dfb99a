//! Why a device works with a host or does not, and what to do next.

use super::facts::Speech;
use fitting::measure::OddAxis;

/// What a reason does to the verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// It speaks for it.
    Fine,
    /// Worth knowing; the verdict stays.
    Note,
    /// It works, with a limit.
    Limits,
    /// Without knowing this, nothing can be said.
    Unknown,
    /// It will not work.
    Blocks,
}

/// One reason. Shares are of the travel; numbers of axes and buttons count from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The host accepts what the device speaks as.
    SpeaksAs(Speech),
    /// The host accepts some controllers and not others, and which this is, a browser does not say.
    ControllerOfUnknownSort,
    /// The host does not accept what the device speaks as.
    NotAccepted(Speech),
    /// The device speaks as something else beside the controller: that goes elsewhere.
    AlsoSpeaks(Speech),
    /// Nobody knows as what it speaks.
    SpeechUnknown,
    /// The host goes by the open standard's layout, and the device follows it.
    FollowsLayout,
    /// The host goes by the open standard's layout, and this device has none: its axes and buttons
    /// have numbers and no jobs.
    NoLayout,
    /// Nobody knows whether the device follows the layout the host goes by.
    LayoutUnknown,
    /// Both axes of the stick get through.
    StickGetsThrough,
    /// It has fewer axes than the two that a stick needs.
    TooFewAxes(usize),
    /// Nobody knows which axes it has.
    AxesUnknown,
    /// The port takes other axes than the stick's: this one is lost.
    StickAxisLost(usize),
    /// The stick's axes get through in the other order: across is along.
    AxesOutOfOrder,
    /// So many other axes are lost.
    OtherAxesLost(usize),
    /// Its axes give movements, not places.
    RelativeAxes,
    /// An axis does something odd.
    OddAxis(OddAxis),
    /// A hat switch does not get through.
    HatLost,
    /// A hat switch comes as an axis, which rests at this value, outside −1 to 1.
    HatAsAxis(usize, f64),
    /// Nobody knows what becomes of the hat switch.
    HatUnknown,
    /// All of its buttons get through: so many.
    AllButtons(u32),
    /// The first so many of its buttons get through, and so many are lost.
    ButtonsLost {
        /// Through.
        through: u32,
        /// Lost.
        lost: u32,
    },
    /// It has no buttons.
    NoButtons,
    /// Nobody knows how many buttons it has.
    ButtonsUnknown,
    /// Between dead zone and full throw there are only so many steps.
    TooCoarse {
        /// Steps of the stick between the dead zone and full throw.
        steps: u32,
        /// One step, share of travel.
        step: f64,
    },
    /// There are enough steps.
    FineEnough(u32),
    /// Its changes come at most every so many seconds.
    Slow(f64),
    /// Its changes come fast enough: so many seconds apart.
    FastEnough(f64),
    /// Movement so near the middle is hidden by stick, system or browser, share of travel.
    HiddenMiddle(f64),
    /// What was suggested cannot be set: the largest dead zone of the host is smaller.
    DeadZoneBeyond {
        /// Suggested.
        wanted: f64,
        /// The host's largest.
        most: f64,
    },
    /// The host's smallest dead zone is larger than the suggested one.
    DeadZoneBelow {
        /// Suggested.
        wanted: f64,
        /// The host's smallest.
        least: f64,
    },
    /// The host's dead zone moves in steps so large that the suggested one is missed by more than
    /// a quarter of itself.
    StepTooLarge {
        /// Suggested.
        wanted: f64,
        /// One step of the host's slider.
        step: f64,
    },
    /// The host has no dead zone that can be set, and one is suggested.
    NoDeadZone(f64),
    /// The host has no full throw that can be set, and one is suggested.
    NoFullThrow(f64),
    /// The suggested full throw lies outside the host's range.
    FullThrowOutside {
        /// Suggested.
        wanted: f64,
        /// The host's smallest.
        least: f64,
        /// The host's largest.
        most: f64,
    },
    /// A curve is suggested, and the host has none.
    NoCurve,
    /// An axis should be turned round, and the host cannot.
    CannotInvert,
    /// The axes should change places, and the host cannot.
    CannotSwap,
    /// Directions should be turned by so many degrees, and the host cannot.
    CannotTurn(f64),
    /// Smoothing is suggested, and the host has none.
    CannotSmooth,
    /// A timing of the buttons is suggested, and the host has none.
    CannotTime,
    /// The host takes all that is suggested.
    TakesSettings,
    /// Nothing was measured with it: what it needs of the host is not known.
    NothingMeasured,
}

impl Reason {
    /// What it does to the verdict.
    #[must_use]
    pub const fn weight(&self) -> Weight {
        match self {
            Self::SpeaksAs(_)
            | Self::FollowsLayout
            | Self::StickGetsThrough
            | Self::AllButtons(_)
            | Self::FineEnough(_)
            | Self::FastEnough(_)
            | Self::TakesSettings => Weight::Fine,
            Self::ControllerOfUnknownSort
            | Self::AlsoSpeaks(_)
            | Self::OtherAxesLost(_)
            | Self::HatUnknown
            | Self::HatAsAxis(..)
            | Self::ButtonsUnknown
            | Self::HiddenMiddle(_)
            | Self::NothingMeasured => Weight::Note,
            Self::NoLayout
            | Self::LayoutUnknown
            | Self::AxesOutOfOrder
            | Self::OddAxis(_)
            | Self::HatLost
            | Self::ButtonsLost { .. }
            | Self::NoButtons
            | Self::TooCoarse { .. }
            | Self::Slow(_)
            | Self::DeadZoneBeyond { .. }
            | Self::DeadZoneBelow { .. }
            | Self::StepTooLarge { .. }
            | Self::NoDeadZone(_)
            | Self::NoFullThrow(_)
            | Self::FullThrowOutside { .. }
            | Self::NoCurve
            | Self::CannotInvert
            | Self::CannotSwap
            | Self::CannotTurn(_)
            | Self::CannotSmooth
            | Self::CannotTime => Weight::Limits,
            Self::SpeechUnknown | Self::AxesUnknown => Weight::Unknown,
            Self::NotAccepted(_)
            | Self::TooFewAxes(_)
            | Self::StickAxisLost(_)
            | Self::RelativeAxes => Weight::Blocks,
        }
    }

    /// What to do about it.
    #[must_use]
    pub const fn next_step(&self) -> Option<NextStep> {
        Some(match self {
            Self::NotAccepted(_) | Self::RelativeAxes => NextStep::AskForAnotherMode,
            Self::SpeechUnknown => NextStep::ListenOrPaste,
            Self::ControllerOfUnknownSort => NextStep::ReadReports,
            Self::NoLayout | Self::LayoutUnknown => NextStep::AssignByHand,
            Self::AxesUnknown | Self::ButtonsUnknown => NextStep::ListenOrPaste,
            Self::TooFewAxes(_) => NextStep::UseAsSwitches,
            Self::StickAxisLost(_) | Self::AxesOutOfOrder => NextStep::AskForAxisOrder,
            Self::OddAxis(_) => NextStep::MeasureHandsOff,
            Self::HatLost => NextStep::PlanButtons,
            Self::HatUnknown => NextStep::TryTheHat,
            Self::ButtonsLost { .. } => NextStep::PressToFindOut,
            Self::NoButtons => NextStep::AddSwitches,
            Self::TooCoarse { .. } => NextStep::FinerStick,
            Self::Slow(_) => NextStep::ConnectDirectly,
            Self::HiddenMiddle(_) => NextStep::ReadReports,
            Self::DeadZoneBeyond { .. }
            | Self::DeadZoneBelow { .. }
            | Self::StepTooLarge { .. }
            | Self::NoDeadZone(_)
            | Self::NoFullThrow(_)
            | Self::FullThrowOutside { .. }
            | Self::NoCurve
            | Self::CannotInvert
            | Self::CannotSwap
            | Self::CannotSmooth
            | Self::CannotTime => NextStep::SetElsewhere,
            Self::CannotTurn(_) => NextStep::TurnTheMount,
            Self::NothingMeasured => NextStep::Measure,
            _ => return None,
        })
    }
}

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NextStep {
    /// Ask the maker for a mode in which it speaks as a joystick, or use a host that takes it.
    AskForAnotherMode,
    /// Listen to who speaks, or paste its report descriptor.
    ListenOrPaste,
    /// Read its reports by WebHID, where the browser can.
    ReadReports,
    /// Say in the game or system which axis and button does what.
    AssignByHand,
    /// Use what it has as direction switches, or take another stick.
    UseAsSwitches,
    /// Ask the maker which axes come first, and whether that can be changed.
    AskForAxisOrder,
    /// Record hands off, and look at the axis.
    MeasureHandsOff,
    /// Plan which button does what.
    PlanButtons,
    /// Push the hat in the host's own test and see.
    TryTheHat,
    /// Press each button in turn and see which number it has.
    PressToFindOut,
    /// Add switches beside it.
    AddSwitches,
    /// Use a stick of finer steps, or a smaller dead zone.
    FinerStick,
    /// Connect it directly, or by cable, and look again.
    ConnectDirectly,
    /// Set it in another layer of the way to the game.
    SetElsewhere,
    /// Turn the mount instead.
    TurnTheMount,
    /// Measure first.
    Measure,
}
