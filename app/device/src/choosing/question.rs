//! What to ask the maker before money is spent. Common practice, no source, but for the facts about
//! devices, which are those of the open standards this crate reads.
//!
//! The answers decide which questions are asked; nothing of the person stands in them.

use super::person::Person;
use fitting::visit::{Actions, MountPlace, Posture, Pressing, Strength, Travel, Unwanted};

/// Under which heading a question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum QuestionGroup {
    /// What it says it is, and what gets through.
    Signals,
    /// How it moves.
    Movement,
    /// How it is held, cleaned, and gives way.
    Body,
    /// Trial, price, service.
    Buying,
}

impl QuestionGroup {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 4] = [Self::Signals, Self::Movement, Self::Body, Self::Buying];
}

/// A question for the maker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Question {
    /// Whether it speaks as a joystick or gamepad, or as a mouse or keyboard: usage page and usage.
    SpeaksAs,
    /// Its report descriptor, in writing.
    ReportDescriptor,
    /// How many axes and buttons, and in how many steps.
    AxesAndButtons,
    /// Which eight buttons come first.
    FirstEight,
    /// How buttons beyond the first eight get through.
    BeyondEight,
    /// Which plug, whether it needs software or an adaptor.
    Plug,
    /// A dead zone or settings inside it.
    HiddenSettings,
    /// A switch that changes its mode.
    ModeSwitch,
    /// Whether it takes its middle at plug-in.
    CentreAtPlugIn,
    /// How far it moves: degrees or millimetres.
    Throw,
    /// How many steps lie within a small movement.
    StepsWithinReach,
    /// The force to start and at the end, newtons.
    Force,
    /// Whether the force can be set, and which springs there are.
    ForceAdjustable,
    /// Whether it works without its spring, or stays where it is put.
    WithoutSpring,
    /// Whether a force stick of the same kind, or a moving one, can be tried beside it.
    BothKinds,
    /// The greatest push it stands.
    Withstands,
    /// Whether it works tilted or upside down.
    AnyTilt,
    /// The thread of the topper, and which toppers there are.
    TopperThread,
    /// The thread or plate for mounting, and the weight.
    MountThread,
    /// A clamp for the place.
    Clamp,
    /// Whether it fits the wheelchair without touching its controls.
    OnWheelchair,
    /// How it swings clear or breaks away, and at which push.
    SwingsClear,
    /// Mouthpieces: material, how many, how changed.
    Mouthpieces,
    /// What touches skin: material.
    SkinMaterial,
    /// How it is cleaned, and with what.
    Cleaning,
    /// Whether it is sealed against liquids.
    Sealed,
    /// Sockets for separate switches.
    SwitchSockets,
    /// The force of its buttons.
    ButtonForce,
    /// How long the cable is and how it is held.
    Cable,
    /// Trial, loan, return.
    Trial,
    /// The price with mount and topper, and when it can be there.
    PriceAndDelivery,
    /// Warranty, repair, spare parts.
    SpareParts,
}

impl Question {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 32] = [
        Self::SpeaksAs,
        Self::ReportDescriptor,
        Self::AxesAndButtons,
        Self::FirstEight,
        Self::BeyondEight,
        Self::Plug,
        Self::HiddenSettings,
        Self::ModeSwitch,
        Self::CentreAtPlugIn,
        Self::Throw,
        Self::StepsWithinReach,
        Self::Force,
        Self::ForceAdjustable,
        Self::WithoutSpring,
        Self::BothKinds,
        Self::Withstands,
        Self::AnyTilt,
        Self::TopperThread,
        Self::MountThread,
        Self::Clamp,
        Self::OnWheelchair,
        Self::SwingsClear,
        Self::Mouthpieces,
        Self::SkinMaterial,
        Self::Cleaning,
        Self::Sealed,
        Self::SwitchSockets,
        Self::ButtonForce,
        Self::Cable,
        Self::Trial,
        Self::PriceAndDelivery,
        Self::SpareParts,
    ];

    /// Under which heading it is asked.
    #[must_use]
    pub const fn group(self) -> QuestionGroup {
        match self {
            Self::SpeaksAs
            | Self::ReportDescriptor
            | Self::AxesAndButtons
            | Self::FirstEight
            | Self::BeyondEight
            | Self::Plug
            | Self::HiddenSettings
            | Self::ModeSwitch
            | Self::CentreAtPlugIn => QuestionGroup::Signals,
            Self::Throw
            | Self::StepsWithinReach
            | Self::Force
            | Self::ForceAdjustable
            | Self::WithoutSpring
            | Self::BothKinds
            | Self::Withstands
            | Self::AnyTilt => QuestionGroup::Movement,
            Self::TopperThread
            | Self::MountThread
            | Self::Clamp
            | Self::OnWheelchair
            | Self::SwingsClear
            | Self::Mouthpieces
            | Self::SkinMaterial
            | Self::Cleaning
            | Self::Sealed
            | Self::SwitchSockets
            | Self::ButtonForce
            | Self::Cable => QuestionGroup::Body,
            Self::Trial | Self::PriceAndDelivery | Self::SpareParts => QuestionGroup::Buying,
        }
    }

    /// Whether it is asked for this person.
    #[must_use]
    pub fn is_asked(self, person: &Person) -> bool {
        let wanted = &person.wanted;
        let at = |place| wanted.places.contains(&place);
        match self {
            Self::SpeaksAs
            | Self::ReportDescriptor
            | Self::AxesAndButtons
            | Self::FirstEight
            | Self::Plug
            | Self::HiddenSettings
            | Self::ModeSwitch
            | Self::CentreAtPlugIn
            | Self::Throw
            | Self::Force
            | Self::ForceAdjustable
            | Self::TopperThread
            | Self::MountThread
            | Self::Cleaning
            | Self::Trial
            | Self::PriceAndDelivery
            | Self::SpareParts => true,
            Self::BeyondEight => wanted.actions == Some(Actions::More),
            Self::StepsWithinReach => {
                person.short_reach().is_some()
                    || matches!(wanted.travel, Some(Travel::Hardly | Travel::Small))
            }
            Self::WithoutSpring => asked_for(person, super::Feature::StaysWherePut),
            Self::BothKinds => asked_for(person, super::Feature::ForceStick),
            Self::Withstands => {
                wanted.strength == Some(Strength::StrongOrJerky)
                    || matches!(wanted.unwanted, Some(Unwanted::Jerks | Unwanted::Both))
            }
            Self::AnyTilt => wanted.posture.is_some_and(|posture| posture != Posture::Upright),
            Self::Clamp => {
                [MountPlace::Table, MountPlace::Bed, MountPlace::Stand].into_iter().any(at)
            }
            Self::OnWheelchair => at(MountPlace::Wheelchair),
            Self::SwingsClear => asked_for(person, super::Feature::SwingsClear),
            Self::Mouthpieces => person.uses_mouth(),
            Self::SkinMaterial => asked_for(person, super::Feature::SoftSurface),
            Self::Sealed => wanted.wet == Some(true) || person.is_at_face(),
            Self::SwitchSockets => {
                matches!(wanted.pressing, Some(Pressing::AnotherPart | Pressing::Nothing))
            }
            Self::ButtonForce => wanted.pressing == Some(Pressing::SamePart),
            Self::Cable => asked_for(person, super::Feature::CableRelief),
        }
    }
}

fn asked_for(person: &Person, feature: super::Feature) -> bool {
    super::advise(person).iter().any(|advice| advice.feature == feature)
}

/// What to ask the maker, in the order of the sheet. Never empty.
#[must_use]
pub fn questions(person: &Person) -> Vec<Question> {
    Question::ALL.into_iter().filter(|question| question.is_asked(person)).collect()
}
