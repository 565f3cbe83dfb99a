//! One piece of advice, and how pieces come together.

use super::person::Answered;
use super::source::{Figure, Paragraph, Source};
use fitting::Direction;
use fitting::papers::{Limit, Need};
use fitting::visit::{MountPlace, Strength, Unwanted};

/// What is on top of a stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Topper {
    /// A sphere.
    Sphere,
    /// A grip for the whole hand.
    Grip,
    /// Two arms that hold a hand or a forearm between them.
    UShaped,
    /// A hollow that something lies in.
    Cup,
    /// A wide, padded top.
    Wide,
    /// A flat top to lie on.
    Flat,
    /// A longer shaft.
    Tall,
    /// A piece for the lips.
    Mouthpiece,
}

/// Which part of the body is held up so that the one that moves is free.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Support {
    /// The palm.
    Palm,
    /// The wrist.
    Wrist,
    /// The forearm.
    Forearm,
    /// The elbow.
    Elbow,
    /// The leg.
    Leg,
    /// The head or the neck.
    Head,
    /// The trunk.
    Trunk,
}

/// What a stick, its mount or its controls have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Feature {
    /// The stick of an ordinary pad.
    OrdinaryPad,
    /// A trial before it is bought.
    Trial,
    /// A short way to full output.
    ShortThrow,
    /// A long way to full output.
    LongThrow,
    /// Little force.
    LightForce,
    /// A spring heavier than usual.
    HeavierSpring,
    /// A force that can be set, or springs that can be changed.
    AdjustableForce,
    /// A stick that moves, rather than one that only answers to force.
    MovingStick,
    /// A stick that answers to force and hardly moves, beside a spring-centred one.
    ForceStick,
    /// A stick that stays where it is put.
    StaysWherePut,
    /// Settings of its own, or of the host: full throw, dead zone and the like.
    OwnSettings,
    /// Fine steps.
    FineSteps,
    /// What is on top.
    Topper(Topper),
    /// A top that can be changed.
    ChangeableTopper,
    /// A smooth or padded surface without edges.
    SoftSurface,
    /// A surface that can be wiped.
    WipeClean,
    /// What holds the body up.
    Support(Support),
    /// A mount for one place.
    Mount(MountPlace),
    /// A base that does not slip, move or tilt.
    FirmBase,
    /// A mount that can be turned and tilted.
    TurnableMount,
    /// A mount that gives way and swings clear.
    SwingsClear,
    /// A cable that is held.
    CableRelief,
    /// Buttons at the stick.
    ButtonsOnStick,
    /// Sockets for switches that lie elsewhere.
    SeparateSwitches,
    /// A switch worked by breath.
    BreathSwitch,
    /// A push of the stick that counts as a button.
    PushAsButton,
    /// Enough axes and buttons that get through.
    EnoughControls,
}

/// Under which heading a feature is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Where to begin.
    First,
    /// How it moves.
    Movement,
    /// What is touched.
    Touch,
    /// Where it stands.
    Place,
    /// Buttons, breath, signals.
    Controls,
}

impl Group {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 5] =
        [Self::First, Self::Movement, Self::Touch, Self::Place, Self::Controls];
}

impl Feature {
    /// Under which heading it is told.
    #[must_use]
    pub const fn group(self) -> Group {
        match self {
            Self::OrdinaryPad | Self::Trial => Group::First,
            Self::ShortThrow
            | Self::LongThrow
            | Self::LightForce
            | Self::HeavierSpring
            | Self::AdjustableForce
            | Self::MovingStick
            | Self::ForceStick
            | Self::StaysWherePut
            | Self::OwnSettings
            | Self::FineSteps => Group::Movement,
            Self::Topper(_)
            | Self::ChangeableTopper
            | Self::SoftSurface
            | Self::WipeClean
            | Self::Support(_) => Group::Touch,
            Self::Mount(_)
            | Self::FirmBase
            | Self::TurnableMount
            | Self::SwingsClear
            | Self::CableRelief => Group::Place,
            Self::ButtonsOnStick
            | Self::SeparateSwitches
            | Self::BreathSwitch
            | Self::PushAsButton
            | Self::EnoughControls => Group::Controls,
        }
    }

    /// Where the advice comes from, whoever it is for; [`Advice::sources`] adds the person's own
    /// recordings.
    const fn source(self) -> &'static [Source] {
        use Paragraph::{FingerOperated, HandOperated, LimbSupport, SwitchesOnForceGrip};
        match self {
            Self::MovingStick => &[Source::Nureg0700],
            Self::ForceStick => &[
                Source::Rao2000,
                Source::Dicianno2009,
                Source::Nureg0700,
                Source::Standard1472E(SwitchesOnForceGrip),
            ],
            Self::StaysWherePut => &[Source::Nureg0700, Source::Standard1472E(FingerOperated)],
            Self::FirmBase => &[Source::Standard1472E(HandOperated)],
            Self::Support(Support::Wrist | Support::Elbow) => &[Source::Standard1472E(LimbSupport)],
            Self::Support(Support::Forearm) => {
                &[Source::Standard1472E(LimbSupport), Source::Standard1472E(HandOperated)]
            }
            _ => &[Source::CommonPractice],
        }
    }
}

/// What to do about a feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stance {
    /// Look for it.
    LookFor,
    /// Avoid it.
    Avoid,
    /// Try with it and without: what speaks for it and against it does not decide.
    TryBoth,
}

/// What led to a piece of advice.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// It holds for everybody.
    Always,
    /// An answer.
    Answer(Answered),
    /// A figure.
    Limit(Limit),
    /// What was computed from figures.
    Need(Need),
    /// The dead zone that is needed at rest would eat this share of the reach of one direction:
    /// its reach and the share eaten, 0..=1.
    Eaten(Direction, f64, f64),
}

impl Reason {
    /// Whether it was measured.
    #[must_use]
    pub const fn is_measured(&self) -> bool {
        matches!(self, Self::Limit(_) | Self::Need(_) | Self::Eaten(..))
    }
}

/// One piece of advice.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// About what.
    pub feature: Feature,
    /// What to do about it.
    pub stance: Stance,
    /// What led to it; never empty.
    pub reasons: Vec<Reason>,
    /// Figures of handbooks that go with it; they come from healthy operators.
    pub figures: Vec<Figure>,
}

impl Advice {
    /// Whether anything that led to it is movement that is not meant.
    #[must_use]
    pub fn is_about_unwanted_movement(&self) -> bool {
        self.reasons.iter().any(|reason| match reason {
            Reason::Answer(Answered::Unwanted(how)) => *how != Unwanted::Still,
            Reason::Answer(Answered::Strength(how)) => *how == Strength::StrongOrJerky,
            Reason::Limit(limit) => matches!(limit, Limit::Rhythm { .. } | Limit::Sudden { .. }),
            Reason::Eaten(..) => true,
            _ => false,
        })
    }

    /// Where it comes from: each once, the person's own recordings first, common practice only
    /// where nothing else is known.
    #[must_use]
    pub fn sources(&self) -> Vec<Source> {
        let mut sources = Vec::new();
        if self.reasons.iter().any(Reason::is_measured) {
            sources.push(Source::OwnRecordings);
        }
        // What is known of cerebral palsy and tremor is about movement that is not meant.
        let applies = |source: &Source| {
            let of_movement = matches!(source, Source::Rao2000 | Source::Dicianno2009);
            !of_movement || self.is_about_unwanted_movement()
        };
        sources.extend(self.feature.source().iter().copied().filter(applies));
        sources.extend(self.figures.iter().map(|figure| figure.source()));
        let mut told: Vec<Source> = Vec::new();
        for source in sources {
            if !told.contains(&source) {
                told.push(source);
            }
        }
        told
    }
}

/// Collects advice: each feature once.
#[derive(Debug, Default)]
pub(super) struct Adviser {
    advice: Vec<Advice>,
}

impl Adviser {
    /// To look for; nothing without a reason.
    pub(super) fn look_for(&mut self, feature: Feature, reasons: Vec<Reason>) {
        self.say(feature, Stance::LookFor, reasons);
    }

    /// To avoid; nothing without a reason.
    pub(super) fn avoid(&mut self, feature: Feature, reasons: Vec<Reason>) {
        self.say(feature, Stance::Avoid, reasons);
    }

    /// To try both ways; nothing without a reason.
    pub(super) fn try_both(&mut self, feature: Feature, reasons: Vec<Reason>) {
        self.say(feature, Stance::TryBoth, reasons);
    }

    /// Adds figures to what was said of a feature.
    pub(super) fn with(&mut self, feature: Feature, figures: &[Figure]) {
        if let Some(said) = self.advice.iter_mut().find(|said| said.feature == feature) {
            said.figures.extend_from_slice(figures);
        }
    }

    /// What was said twice in two ways is to be tried both ways.
    fn say(&mut self, feature: Feature, stance: Stance, reasons: Vec<Reason>) {
        if reasons.is_empty() {
            return;
        }
        let Some(said) = self.advice.iter_mut().find(|said| said.feature == feature) else {
            self.advice.push(Advice { feature, stance, reasons, figures: Vec::new() });
            return;
        };
        if said.stance != stance {
            said.stance = Stance::TryBoth;
        }
        for reason in reasons {
            if !said.reasons.contains(&reason) {
                said.reasons.push(reason);
            }
        }
    }

    /// In the order in which it is told: by heading, then as it was said.
    pub(super) fn told(mut self) -> Vec<Advice> {
        self.advice.sort_by_key(|advice| advice.feature.group());
        self.advice
    }
}
