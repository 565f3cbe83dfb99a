//! How a stick moves: throw, force, return, steps. Common practice where no source is named.

use super::advice::{Adviser, Feature, Reason, Topper};
use super::person::{Answered, Person};
use super::source::Figure;
use fitting::papers;
use fitting::visit::{BodyPart, Condition, Endurance, Grasp, Strength, Travel, Unwanted};

pub(super) fn advise(person: &Person, adviser: &mut Adviser) {
    let unwanted = unwanted(person);
    let light = light(person);
    throw(person, &unwanted, adviser);
    force(person, &unwanted, &light, adviser);
    principle(person, &unwanted, &light, adviser);
    returns(person, &light, adviser);
    settings(person, adviser);
}

/// What speaks of movement that is not meant.
fn unwanted(person: &Person) -> Vec<Reason> {
    let mut reasons = Vec::new();
    match person.wanted.unwanted {
        Some(Unwanted::Still) | None => {}
        Some(how) => reasons.push(Reason::Answer(Answered::Unwanted(how))),
    }
    let jerks = matches!(person.wanted.unwanted, Some(Unwanted::Jerks | Unwanted::Both));
    // Told once: whoever jerks may have said so twice.
    if person.wanted.strength == Some(Strength::StrongOrJerky) && !jerks {
        reasons.push(Reason::Answer(Answered::Strength(Strength::StrongOrJerky)));
    }
    reasons.extend(person.rhythm().cloned().map(Reason::Limit));
    reasons.extend(person.sudden().cloned().map(Reason::Limit));
    if let Some((asked, reach, eaten)) = person.found.eaten {
        reasons.push(Reason::Eaten(asked, reach, eaten));
    }
    reasons
}

/// What speaks for little force.
fn light(person: &Person) -> Vec<Reason> {
    let wanted = &person.wanted;
    let mut reasons = Vec::new();
    let mut answer = |answered| reasons.push(Reason::Answer(answered));
    if let Some(strength @ (Strength::HardlyPresses | Strength::Light)) = wanted.strength {
        answer(Answered::Strength(strength));
    }
    if wanted.weak == Some(true) {
        answer(Answered::Weak);
    }
    if wanted.grasp == Some(Grasp::Weak) {
        answer(Answered::Grasp(Grasp::Weak));
    }
    if person.body.pain == Some(true) {
        answer(Answered::Hurts);
    }
    for care in [Condition::LooseJoints, Condition::RecentSurgery] {
        if person.has(care) {
            answer(Answered::Care(care));
        }
    }
    if wanted.endurance == Some(Endurance::Minutes) {
        answer(Answered::Endurance(Endurance::Minutes));
    }
    reasons.extend(person.hard_hold().cloned().map(Reason::Limit));
    reasons
}

/// What speaks for a short way.
fn short(person: &Person) -> Vec<Reason> {
    let mut reasons = Vec::new();
    if let Some(travel @ (Travel::Hardly | Travel::Small)) = person.wanted.travel {
        reasons.push(Reason::Answer(Answered::Travel(travel)));
    }
    reasons.extend(person.short_reach().cloned().map(Reason::Limit));
    reasons
}

/// A short way makes a small movement count; what is not meant counts more as well.
fn throw(person: &Person, unwanted: &[Reason], adviser: &mut Adviser) {
    let short = short(person);
    let far =
        person.wanted.travel.filter(|travel| matches!(travel, Travel::Middling | Travel::Large));
    if short.is_empty() {
        if let Some(travel) = far.filter(|_| !unwanted.is_empty()) {
            let mut reasons = vec![Reason::Answer(Answered::Travel(travel))];
            reasons.extend_from_slice(unwanted);
            adviser.look_for(Feature::LongThrow, reasons);
        }
    } else if unwanted.is_empty() {
        adviser.look_for(Feature::ShortThrow, short);
    } else {
        let mut reasons = short;
        reasons.extend_from_slice(unwanted);
        adviser.try_both(Feature::ShortThrow, reasons);
    }
    if moved_by_finger(person) {
        adviser.with(Feature::ShortThrow, &[Figure::FingerThrow]);
    }
}

/// Whether the handbook's figures for fingertip sticks are about this.
fn moved_by_finger(person: &Person) -> bool {
    matches!(person.wanted.body, Some(BodyPart::Finger | BodyPart::Thumb))
}

/// Little force where anything speaks for it. More than usual only where weakness, pain and joints
/// were each answered no, and never as advice: to be tried beside the usual one.
fn force(person: &Person, unwanted: &[Reason], light: &[Reason], adviser: &mut Adviser) {
    if !light.is_empty() {
        adviser.look_for(Feature::LightForce, light.to_vec());
        if moved_by_finger(person) {
            adviser.with(Feature::LightForce, &[Figure::FingerForce]);
        }
        if person.wanted.endurance == Some(Endurance::Minutes) || person.hard_hold().is_some() {
            let figures = [Figure::KeptUpOnAndOff, Figure::KeptUpWithoutBreak];
            adviser.with(Feature::LightForce, &figures);
        }
    } else if !unwanted.is_empty() && person.may_push_harder() {
        let mut reasons = unwanted.to_vec();
        reasons.push(Reason::Answer(Answered::NothingAgainstForce));
        adviser.try_both(Feature::HeavierSpring, reasons);
    }
    let vary = if light.is_empty() { unwanted } else { light };
    adviser.look_for(Feature::AdjustableForce, vary.to_vec());

    // A longer shaft is a longer lever: less force, a longer way.
    let tall = Feature::Topper(Topper::Tall);
    match (light.is_empty(), short(person)) {
        (false, short) if short.is_empty() => adviser.try_both(tall, light.to_vec()),
        (false, mut both) => {
            both.extend_from_slice(light);
            adviser.try_both(tall, both);
        }
        (true, short) => adviser.avoid(tall, short),
    }
}

/// A stick that moves against one that answers to force. What is known differs: with cerebral palsy
/// the one, with tremor the other did better; so both are tried.
fn principle(person: &Person, unwanted: &[Reason], light: &[Reason], adviser: &mut Adviser) {
    let mut reasons = unwanted.to_vec();
    if person.wanted.travel == Some(Travel::Hardly) {
        reasons.push(Reason::Answer(Answered::Travel(Travel::Hardly)));
    }
    if !reasons.is_empty() {
        adviser.try_both(Feature::ForceStick, reasons);
        if person.wanted.body == Some(BodyPart::Hand) {
            adviser.with(Feature::ForceStick, &[Figure::ForceGrip]);
        }
    } else {
        adviser.look_for(Feature::MovingStick, light.to_vec());
    }
}

/// Where holding against a spring is the trouble, a stick without one may help, and may be lost.
fn returns(person: &Person, light: &[Reason], adviser: &mut Adviser) {
    let hardly = person.wanted.strength == Some(Strength::HardlyPresses);
    let tires = person.wanted.endurance == Some(Endurance::Minutes);
    if hardly || tires || person.hard_hold().is_some() {
        adviser.try_both(Feature::StaysWherePut, light.to_vec());
    }
}

/// What was computed from recordings can be set, in the stick or in what it is plugged into.
fn settings(person: &Person, adviser: &mut Adviser) {
    let needs = person.found.needs.iter().cloned().map(Reason::Need);
    adviser.look_for(Feature::OwnSettings, needs.collect());
    let coarse = person.shortest_reach().is_some_and(|reach| reach.1.value < papers::AMPLE_REACH);
    if coarse || matches!(person.wanted.travel, Some(Travel::Hardly | Travel::Small)) {
        adviser.look_for(Feature::FineSteps, short(person));
    }
}
