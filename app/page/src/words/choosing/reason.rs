//! Why something is advised: parts of a sentence after “because”.

use super::{actions, place};
use crate::words::number;
use device::choosing::{Answered, Reason};
use fitting::Estimate;
use fitting::papers::Limit;
use fitting::stick_kind::Mover;
use fitting::visit::{
    BodyPart, Condition, Endurance, Grasp, PadReach, Posture, Pressing, Strength, Travel, Unwanted,
};

/// A reason. `body_words` is how the person calls the body part.
pub fn because(reason: &Reason, body_words: &str) -> String {
    match reason {
        Reason::Always => "it holds for everybody".to_owned(),
        Reason::Answer(answered) => answer(*answered, body_words),
        Reason::Limit(limit) => measured(limit),
        // Told as a list of its own.
        Reason::Need(_) => "the recordings ask for it".to_owned(),
        Reason::Eaten(asked, _, eaten) => format!(
            "the dead zone that keeps it still at rest would take {} of the reach {}",
            number::percent(*eaten),
            number::towards(*asked)
        ),
    }
}

/// An answer, as a part of a sentence.
pub fn answer(answered: Answered, body_words: &str) -> String {
    let plain = match answered {
        Answered::Body(BodyPart::Other) if body_words.is_empty() => "another part moves it",
        Answered::Body(body) => {
            let name = super::body(body);
            return match (body, body_words) {
                (BodyPart::Other, words) => format!("what moves it is: {words}"),
                (_, "") => format!("the {name} moves it"),
                (_, words) => format!("the {name} ({words}) moves it"),
            };
        }
        Answered::Place(one) => return format!("it is to be {}", place(one)),
        Answered::Actions(many) => return format!("{} buttons are needed", actions(many)),
        Answered::Mover(Mover::Chin) => "the chin moves it",
        Answered::Mover(Mover::Lip) => "lip or tongue move it",
        Answered::Mover(Mover::Breath) => "breath moves it",
        Answered::Mover(Mover::Limb) => "a limb moves it",
        Answered::Travel(Travel::Hardly) => "it hardly moves",
        Answered::Travel(Travel::Small) => "it moves only a little",
        Answered::Travel(Travel::Middling) => "it moves middling far",
        Answered::Travel(Travel::Large) => "it moves far",
        Answered::Strength(Strength::HardlyPresses) => "it can hardly press",
        Answered::Strength(Strength::Light) => "it pushes lightly",
        Answered::Strength(Strength::Usual) => "it pushes as usual",
        Answered::Strength(Strength::StrongOrJerky) => "it pushes strongly or in jerks",
        Answered::Unwanted(Unwanted::Still) => "it is still",
        Answered::Unwanted(Unwanted::Shakes) => "it shakes",
        Answered::Unwanted(Unwanted::Jerks) => "it jerks",
        Answered::Unwanted(Unwanted::Both) => "it shakes and jerks",
        Answered::Grasp(Grasp::Full) => "it closes and holds",
        Answered::Grasp(Grasp::Weak) => "it holds weakly",
        Answered::Grasp(Grasp::HookOrFlat) => "it hooks over or lies flat",
        Answered::Grasp(Grasp::Nothing) => "it cannot hold on",
        Answered::Endurance(Endurance::Minutes) => "it tires within minutes",
        Answered::Endurance(Endurance::HalfHour) => "it goes on for half an hour",
        Answered::Endurance(Endurance::Longer) => "it goes on for long",
        Answered::Weak => "its muscles are weak",
        Answered::Hurts => "there is pain, or pain or fatigue today",
        Answered::NothingAgainstForce => {
            "weakness, pain and joints that slip were each answered no"
        }
        Answered::Posture(Posture::Upright) => "the person sits upright",
        Answered::Posture(Posture::Reclined) => "the person leans back",
        Answered::Posture(Posture::OnSide) => "the person lies on the side",
        Answered::Posture(Posture::Lying) => "the person lies down",
        Answered::PadReach(PadReach::Yes) => "it can be reached",
        Answered::PadReach(PadReach::IfHeld) => "it can be reached where the pad is fixed",
        Answered::PadReach(PadReach::No) => "no ordinary pad can be reached",
        Answered::Pressing(Pressing::SamePart) => "only the part that moves the stick can press",
        Answered::Pressing(Pressing::AnotherPart) => "another part can press",
        Answered::Pressing(Pressing::Nothing) => "nothing can press a button",
        Answered::Pressing(Pressing::NotNeeded) => "no button is needed",
        Answered::Breath(true) => "breath can be used",
        Answered::Breath(false) => "breath cannot be used",
        Answered::SoreSkin => "the skin gets sore",
        Answered::Wet => "liquids get at it",
        Answered::Shared => "more than one person uses it",
        Answered::Care(condition) => care(condition),
    };
    plain.to_owned()
}

const fn care(condition: Condition) -> &'static str {
    match condition {
        Condition::Seizures => "there are seizures",
        Condition::RecentSurgery => "there was surgery or a fracture lately",
        Condition::LooseJoints => "joints slip out",
        Condition::CordInjury => "there is a spinal cord injury at T6 or above",
        Condition::BreathingSupport => "breathing is supported",
        Condition::BiteReflex => "there is a bite reflex",
        Condition::PoorSensation => "it is felt poorly",
        Condition::PainOrFatigue => "there is pain or fatigue today",
    }
}

fn measured(limit: &Limit) -> String {
    match limit {
        Limit::Reach { shortest: (asked, reach), .. } => format!(
            "comfortable reach {} is {} of the travel of the stick that was tried",
            number::towards(*asked),
            shares(reach)
        ),
        Limit::Rhythm { hertz } => format!(
            "it moves regularly while holding, {:.1} ({:.1} to {:.1}) times a second",
            hertz.value, hertz.low, hertz.high
        ),
        Limit::Sudden { count, .. } => match count {
            1 => "1 sudden movement was seen at rest".to_owned(),
            many => format!("{many} sudden movements were seen at rest"),
        },
        Limit::KeptUp { asked, kept, seconds, effort, .. } => format!(
            "holding {} {} for {} was an effort of {effort} of 10",
            shares(kept),
            number::towards(*asked),
            number::duration(*seconds)
        ),
        Limit::Wander { inside, .. } | Limit::Busy { inside, .. } => {
            format!("it moves by itself within {}", shares(inside))
        }
        Limit::Press { button, length } => {
            format!("a press of button {button} lasts {:.2}\u{a0}s", length.value)
        }
    }
}

/// A share with its interval.
fn shares(share: &Estimate) -> String {
    format!("{} ({})", number::percent(share.value), number::percent_interval(share))
}
