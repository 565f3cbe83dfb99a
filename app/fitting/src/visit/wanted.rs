//! What the person brings to the choosing of a stick.

use super::{Safety, Today, short};
use crate::suggest::BodyAnswers;
use crate::visit::Condition;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Which part of the body moves the stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodyPart {
    /// The whole hand.
    Hand,
    /// One finger, or some.
    Finger,
    /// The thumb.
    Thumb,
    /// The forearm or the elbow.
    Forearm,
    /// The shoulder or the upper arm.
    Shoulder,
    /// The foot.
    Foot,
    /// A toe, or some.
    Toe,
    /// The knee or the thigh.
    Knee,
    /// The chin.
    Chin,
    /// The lip, the tongue or the mouth.
    Lip,
    /// The head.
    Head,
    /// Another part, in the person's own words.
    Other,
}

impl BodyPart {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 12] = [
        Self::Hand,
        Self::Finger,
        Self::Thumb,
        Self::Forearm,
        Self::Shoulder,
        Self::Foot,
        Self::Toe,
        Self::Knee,
        Self::Chin,
        Self::Lip,
        Self::Head,
        Self::Other,
    ];
}

/// How far it moves in comfort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Travel {
    /// Hardly at all.
    Hardly,
    /// A little: as a finger does by itself.
    Small,
    /// Middling: as a hand does at the wrist.
    Middling,
    /// Far: as a whole arm does.
    Large,
}

impl Travel {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Hardly, Self::Small, Self::Middling, Self::Large];
}

/// How strongly it pushes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Strength {
    /// It can hardly press anything.
    HardlyPresses,
    /// Lightly.
    Light,
    /// As most people do.
    Usual,
    /// Strongly, or in jerks.
    StrongOrJerky,
}

impl Strength {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::HardlyPresses, Self::Light, Self::Usual, Self::StrongOrJerky];
}

/// How it moves without being meant to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unwanted {
    /// It does not.
    Still,
    /// It shakes.
    Shakes,
    /// It jerks suddenly.
    Jerks,
    /// It shakes and it jerks.
    Both,
}

impl Unwanted {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Still, Self::Shakes, Self::Jerks, Self::Both];
}

/// How it can hold on to something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Grasp {
    /// It closes round it and holds.
    Full,
    /// It holds weakly, or not for long.
    Weak,
    /// It hooks over something or lies flat on it.
    HookOrFlat,
    /// It cannot hold on.
    Nothing,
}

impl Grasp {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Full, Self::Weak, Self::HookOrFlat, Self::Nothing];
}

/// For how long it can go on in comfort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Endurance {
    /// Some minutes.
    Minutes,
    /// About half an hour.
    HalfHour,
    /// Longer.
    Longer,
}

impl Endurance {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Minutes, Self::HalfHour, Self::Longer];
}

/// How the person sits or lies while playing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Posture {
    /// Upright.
    Upright,
    /// Leaning back.
    Reclined,
    /// Lying on the side.
    OnSide,
    /// Lying on the back.
    Lying,
}

impl Posture {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Upright, Self::Reclined, Self::OnSide, Self::Lying];
}

/// Where a stick can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MountPlace {
    /// On a table or tray.
    Table,
    /// On a wheelchair.
    Wheelchair,
    /// On the floor.
    Floor,
    /// On the bed.
    Bed,
    /// On a stand or an arm of its own.
    Stand,
    /// Strapped to the body.
    OnBody,
    /// On another pad.
    OtherPad,
}

impl MountPlace {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 7] = [
        Self::Table,
        Self::Wheelchair,
        Self::Floor,
        Self::Bed,
        Self::Stand,
        Self::OnBody,
        Self::OtherPad,
    ];
}

/// Whether any part of the body reaches the stick of an ordinary pad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PadReach {
    /// Yes.
    Yes,
    /// Yes, where the pad is held or fixed.
    IfHeld,
    /// No.
    No,
}

impl PadReach {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Yes, Self::IfHeld, Self::No];
}

/// What can press buttons.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pressing {
    /// The part that moves the stick, and no other.
    SamePart,
    /// Another part.
    AnotherPart,
    /// Nothing can.
    Nothing,
    /// No button is needed.
    NotNeeded,
}

impl Pressing {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::SamePart, Self::AnotherPart, Self::Nothing, Self::NotNeeded];
}

/// How many buttons are needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Actions {
    /// One to four.
    UpToFour,
    /// Five to eight.
    UpToEight,
    /// More than eight.
    More,
}

impl Actions {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::UpToFour, Self::UpToEight, Self::More];
}

/// What the person brings to the choosing of a stick. Every answer may be missing; what
/// [`Safety`] asks already is not asked here again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Wanted {
    /// What moves the stick.
    pub body: Option<BodyPart>,
    /// What moves it, in the person's own words: which side, which finger.
    pub body_words: String,
    /// How far it moves in comfort.
    pub travel: Option<Travel>,
    /// How strongly it pushes.
    pub strength: Option<Strength>,
    /// How it moves without being meant to.
    pub unwanted: Option<Unwanted>,
    /// How it can hold on.
    pub grasp: Option<Grasp>,
    /// For how long it can go on.
    pub endurance: Option<Endurance>,
    /// Whether its muscles are weak.
    pub weak: Option<bool>,
    /// Whether moving it hurts.
    pub hurts: Option<bool>,
    /// How the person sits or lies.
    pub posture: Option<Posture>,
    /// Where a stick can be.
    pub places: BTreeSet<MountPlace>,
    /// Whether the stick of an ordinary pad can be reached.
    pub pad_reach: Option<PadReach>,
    /// What can press buttons.
    pub pressing: Option<Pressing>,
    /// How many buttons are needed.
    pub actions: Option<Actions>,
    /// Whether breath can be used, in and out of a tube.
    pub breath: Option<bool>,
    /// Whether the skin where it touches gets sore or breaks easily.
    pub sore_skin: Option<bool>,
    /// Whether saliva or other liquids get at it.
    pub wet: Option<bool>,
    /// Whether more than one person will use it.
    pub shared: Option<bool>,
}

impl Wanted {
    /// What the answers say of weakness, pain and joints, with those of the safety check and of the
    /// day. A no is given only where nothing else speaks against it.
    #[must_use]
    pub fn body_answers(&self, safety: &Safety, today: &Today) -> BodyAnswers {
        let unless =
            |against: bool, answer: Option<bool>| if against { Some(true) } else { answer };
        let weak = matches!(self.strength, Some(Strength::HardlyPresses | Strength::Light))
            || self.grasp == Some(Grasp::Weak);
        let told = |of_ten: Option<u8>| of_ten.is_some_and(|of_ten| of_ten > 0);
        let pain = told(today.pain) || told(today.pain_now);
        let pain = pain || safety.answer(Condition::PainOrFatigue) == Some(true);
        BodyAnswers {
            weakness: unless(weak, self.weak),
            pain: unless(pain, self.hurts),
            joint_instability: safety.answer(Condition::LooseJoints),
        }
    }

    pub(super) fn tidied(&self) -> Self {
        Self { body_words: short(&self.body_words), ..self.clone() }
    }

    /// What a next visit begins with: all but whether it hurts, which is asked again.
    pub(super) fn next(&self) -> Self {
        Self { hurts: None, ..self.clone() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_no_stands_only_where_nothing_speaks_against_it() {
        let no = Wanted { weak: Some(false), hurts: Some(false), ..Wanted::default() };
        let mut safety = Safety::default();
        safety.set_answer(Condition::LooseJoints, Some(false));
        let none = |answers: BodyAnswers| {
            [answers.weakness, answers.pain, answers.joint_instability] == [Some(false); 3]
        };
        let today = Today::default();
        assert!(none(no.body_answers(&safety, &today)));
        for strength in Strength::ALL {
            let wanted = Wanted { strength: Some(strength), ..no.clone() };
            let light = matches!(strength, Strength::HardlyPresses | Strength::Light);
            assert_eq!(none(wanted.body_answers(&safety, &today)), !light, "{strength:?}");
        }
        let weak_grasp = Wanted { grasp: Some(Grasp::Weak), ..no.clone() };
        assert_eq!(weak_grasp.body_answers(&safety, &today).weakness, Some(true));
        let sore = Today { pain_now: Some(1), ..Today::default() };
        assert_eq!(no.body_answers(&safety, &sore).pain, Some(true));
        let none_now = Today { pain: Some(0), ..Today::default() };
        assert!(none(no.body_answers(&safety, &none_now)));
        safety.set_answer(Condition::PainOrFatigue, Some(true));
        assert_eq!(no.body_answers(&safety, &today).pain, Some(true));
        let unanswered = Wanted::default().body_answers(&Safety::default(), &today);
        assert_eq!(unanswered, BodyAnswers::default());
    }

    #[test]
    fn own_words_are_cut() {
        let long = Wanted { body_words: "a".repeat(500), ..Wanted::default() };
        assert_eq!(long.tidied().body_words.chars().count(), crate::visit::MOST_SHORT_CHARACTERS);
        assert_eq!(long.tidied().tidied(), long.tidied());
    }
}
