//! Why something is advised: parts of a sentence after “because”.

use super::{actions, place};
use crate::words::number;
use device::choosing::{Answered, Reason};
use fitting::Estimate;
use fitting::papers::Limit;
use fitting::stick_kind::Mover;
use fitting::visit::{
    BodyPart, Condition, Endurance, Grasp, PadReach, Posture, Pressing, Strength, Travel, Unwanted,
    Wanted,
};

/// How the part of the body that moves the stick is called.
pub fn subject(wanted: &Wanted) -> String {
    let name = match wanted.body {
        Some(BodyPart::Other) if !wanted.body_words.is_empty() => return wanted.body_words.clone(),
        None | Some(BodyPart::Other) => "the part that moves the stick",
        Some(BodyPart::Hand) => "the hand",
        Some(BodyPart::Finger) => "the finger",
        Some(BodyPart::Thumb) => "the thumb",
        Some(BodyPart::Forearm) => "the forearm",
        Some(BodyPart::Shoulder) => "the shoulder",
        Some(BodyPart::Foot) => "the foot",
        Some(BodyPart::Toe) => "the toe",
        Some(BodyPart::Knee) => "the knee",
        Some(BodyPart::Chin) => "the chin",
        Some(BodyPart::Lip) => "the mouth",
        Some(BodyPart::Head) => "the head",
    };
    name.to_owned()
}

/// Reasons as one part of a sentence: the part of the body is named once, and places are told
/// together. `brief` leaves out figures that another piece of advice tells.
pub fn because(reasons: &[Reason], subject: &str, brief: bool) -> String {
    let mut named = false;
    let mut parts: Vec<String> = Vec::new();
    let mut places: Vec<&str> = Vec::new();
    for reason in reasons {
        if let Reason::Answer(Answered::Place(one)) = reason {
            places.push(place(*one));
            continue;
        }
        let who = if named { "it" } else { subject };
        let part = match reason {
            Reason::Always => "it holds for everybody".to_owned(),
            Reason::Answer(answered) => {
                let (is_about_it, part) = answer(*answered, who);
                named |= is_about_it;
                part
            }
            Reason::Limit(limit) => measured(limit, brief),
            // Told as a list of its own.
            Reason::Need(_) => "the recordings ask for it".to_owned(),
            Reason::Eaten(asked, _, eaten) => format!(
                "the dead zone that keeps it still at rest would take {} of the reach {}",
                number::percent(*eaten),
                number::towards(*asked)
            ),
        };
        parts.push(part);
    }
    if !places.is_empty() {
        parts.push(format!("the stick is to be {}", joined(&places, "or")));
    }
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    joined(&parts, "and")
}

/// “one”, “one and another”, “one, another and a third”.
fn joined(parts: &[&str], last_by: &str) -> String {
    match parts {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} {last_by} {last}", first.join(", ")),
    }
}

/// An answer as a part of a sentence, and whether it is about the part of the body, `who`.
fn answer(answered: Answered, who: &str) -> (bool, String) {
    let about_it = |does: &str| (true, format!("{who} {does}"));
    let plain = match answered {
        Answered::Body(_) => return about_it("moves the stick"),
        Answered::Travel(Travel::Hardly) => return about_it("hardly moves"),
        Answered::Travel(Travel::Small) => return about_it("moves only a little"),
        Answered::Travel(Travel::Middling) => return about_it("moves middling far"),
        Answered::Travel(Travel::Large) => return about_it("moves far"),
        Answered::Strength(Strength::HardlyPresses) => return about_it("can hardly press"),
        Answered::Strength(Strength::Light) => return about_it("pushes lightly"),
        Answered::Strength(Strength::Usual) => return about_it("pushes as usual"),
        Answered::Strength(Strength::StrongOrJerky) => {
            return about_it("pushes strongly or in jerks");
        }
        Answered::Unwanted(Unwanted::Still) => return about_it("is still"),
        Answered::Unwanted(Unwanted::Shakes) => return about_it("shakes"),
        Answered::Unwanted(Unwanted::Jerks) => return about_it("jerks"),
        Answered::Unwanted(Unwanted::Both) => return about_it("shakes and jerks"),
        Answered::Grasp(Grasp::Full) => return about_it("closes and holds"),
        Answered::Grasp(Grasp::Weak) => return about_it("holds weakly"),
        Answered::Grasp(Grasp::HookOrFlat) => return about_it("hooks over or lies flat"),
        Answered::Grasp(Grasp::Nothing) => return about_it("cannot hold on"),
        Answered::Endurance(Endurance::Minutes) => return about_it("tires within minutes"),
        Answered::Endurance(Endurance::HalfHour) => return about_it("goes on for half an hour"),
        Answered::Endurance(Endurance::Longer) => return about_it("goes on for long"),
        Answered::Weak => return about_it("is weak"),
        Answered::Place(one) => return (false, format!("the stick is to be {}", place(one))),
        Answered::Actions(many) => return (false, format!("{} buttons are needed", actions(many))),
        Answered::Mover(Mover::Chin) => "the chin moves the stick",
        Answered::Mover(Mover::Lip) => "lip or tongue move the stick",
        Answered::Mover(Mover::Breath) => "breath moves the stick",
        Answered::Mover(Mover::Limb) => "a limb moves the stick",
        Answered::Hurts => "there is pain, or pain or fatigue today",
        Answered::NothingAgainstForce => {
            "weakness, pain and joints that slip were each answered no"
        }
        Answered::Posture(Posture::Upright) => "the person sits upright",
        Answered::Posture(Posture::Reclined) => "the person leans back",
        Answered::Posture(Posture::OnSide) => "the person lies on the side",
        Answered::Posture(Posture::Lying) => "the person lies down",
        Answered::PadReach(PadReach::Yes) => "the stick of a pad can be reached",
        Answered::PadReach(PadReach::IfHeld) => "a pad can be reached where it is fixed",
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
    (false, plain.to_owned())
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

fn measured(limit: &Limit, brief: bool) -> String {
    match limit {
        Limit::Reach { shortest: (asked, _), .. } if brief => {
            format!("comfortable reach {} is short", number::towards(*asked))
        }
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
