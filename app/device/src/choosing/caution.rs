//! What the answers call for watching.

use super::person::{Answered, Person};
use super::touch::at_face;
use fitting::stick_kind::Mover;
use fitting::visit::{BodyPart, Condition, Endurance, Grasp, MountPlace};

/// What to watch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Caution {
    /// Stop at pain, numbness, breathlessness or a rise in spasm.
    Stop,
    /// Pain is there already.
    Pain,
    /// It tires soon.
    Fatigue,
    /// Never block breathing or speaking; swing clear.
    MouthClear,
    /// A mouthpiece is one person's.
    Mouthpiece,
    /// Breath: few at a time, then rest; stop at dizziness.
    Breathing,
    /// The neck.
    HeadAndNeck,
    /// Skin under straps, cups and whatever is touched.
    Skin,
    /// What cannot be felt is looked at.
    Sensation,
    /// Cleaning.
    Hygiene,
    /// A wheelchair's own controls.
    WheelchairControls,
    /// Straps on the body.
    Straps,
    /// A caution of the safety check.
    Care(Condition),
    /// Never to drive a wheelchair.
    NeverDrive,
    /// Licensed practice and local rules come first.
    OwnTherapist,
}

/// A caution with the answer that called for it; those without hold for everybody.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionItem {
    /// What to watch.
    pub caution: Caution,
    /// What called for it.
    pub because: Option<Answered>,
}

/// What the answers call for watching: what holds for everybody is always there.
#[must_use]
pub fn cautions(person: &Person) -> Vec<CautionItem> {
    let wanted = &person.wanted;
    let mut told = vec![CautionItem { caution: Caution::Stop, because: None }];
    let mut say = |caution, because: Option<Answered>| {
        if let Some(because) = because {
            told.push(CautionItem { caution, because: Some(because) });
        }
    };
    let if_so = |is: bool, answered| is.then_some(answered);
    let body =
        |parts: &[BodyPart]| wanted.body.filter(|body| parts.contains(body)).map(Answered::Body);
    let care = |condition| if_so(person.has(condition), Answered::Care(condition));

    say(Caution::MouthClear, at_face(person));
    let mouth = body(&[BodyPart::Lip])
        .or(if_so(
            matches!(person.mover, Mover::Lip | Mover::Breath),
            Answered::Mover(person.mover),
        ))
        .or(if_so(wanted.breath == Some(true), Answered::Breath(true)));
    say(Caution::Mouthpiece, mouth);
    let breath = if_so(wanted.breath == Some(true), Answered::Breath(true))
        .or(if_so(person.mover == Mover::Breath, Answered::Mover(Mover::Breath)));
    say(Caution::Breathing, breath);
    say(
        Caution::HeadAndNeck,
        body(&[BodyPart::Head, BodyPart::Chin, BodyPart::Lip])
            .or(if_so(person.mover == Mover::Chin, Answered::Mover(Mover::Chin))),
    );
    say(Caution::Pain, if_so(person.body.pain == Some(true), Answered::Hurts));
    say(
        Caution::Fatigue,
        if_so(
            wanted.endurance == Some(Endurance::Minutes),
            Answered::Endurance(Endurance::Minutes),
        ),
    );
    let held = if_so(wanted.grasp == Some(Grasp::Nothing), Answered::Grasp(Grasp::Nothing));
    say(
        Caution::Skin,
        if_so(wanted.sore_skin == Some(true), Answered::SoreSkin).or(held).or(body(&[
            BodyPart::Chin,
            BodyPart::Head,
            BodyPart::Forearm,
        ])),
    );
    say(Caution::Sensation, care(Condition::PoorSensation));
    say(
        Caution::Hygiene,
        if_so(wanted.wet == Some(true), Answered::Wet)
            .or(if_so(wanted.shared == Some(true), Answered::Shared)),
    );
    let at = |place| if_so(wanted.places.contains(&place), Answered::Place(place));
    say(Caution::WheelchairControls, at(MountPlace::Wheelchair));
    say(Caution::Straps, at(MountPlace::OnBody));
    for condition in Condition::ALL {
        // Pain and sensation have words of their own above.
        if !matches!(condition, Condition::PoorSensation | Condition::PainOrFatigue) {
            say(Caution::Care(condition), care(condition));
        }
    }
    told.push(CautionItem { caution: Caution::NeverDrive, because: None });
    told.push(CautionItem { caution: Caution::OwnTherapist, because: None });
    told
}
