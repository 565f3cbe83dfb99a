//! Buttons, breath, and how many of them get through. Common practice where no source is named.

use super::advice::{Adviser, Feature, Reason};
use super::person::{Answered, Person};
use super::source::Figure;
use fitting::visit::{BodyPart, Condition, Pressing, Strength, Unwanted};

pub(super) fn advise(person: &Person, adviser: &mut Adviser) {
    let wanted = &person.wanted;
    let pressing = wanted.pressing;
    let by = |pressing| vec![Reason::Answer(Answered::Pressing(pressing))];
    match pressing {
        Some(one @ Pressing::SamePart) => same_part(person, by(one), adviser),
        Some(one @ Pressing::AnotherPart) => adviser.look_for(Feature::SeparateSwitches, by(one)),
        Some(one @ Pressing::Nothing) => adviser.look_for(Feature::PushAsButton, by(one)),
        Some(Pressing::NotNeeded) | None => {}
    }
    breath(person, adviser);
    if let Some(actions) = wanted.actions.filter(|_| pressing != Some(Pressing::NotNeeded)) {
        let reasons = vec![Reason::Answer(Answered::Actions(actions))];
        adviser.look_for(Feature::EnoughControls, reasons);
    }
}

/// A part that moves the stick and presses: what presses also moves.
fn same_part(person: &Person, mut reasons: Vec<Reason>, adviser: &mut Adviser) {
    let mut against = Vec::new();
    if let Some(how) = person.wanted.unwanted.filter(|how| *how != Unwanted::Still) {
        against.push(Reason::Answer(Answered::Unwanted(how)));
    } else if person.wanted.strength == Some(Strength::StrongOrJerky) {
        against.push(Reason::Answer(Answered::Strength(Strength::StrongOrJerky)));
    }
    against.extend(person.sudden().cloned().map(Reason::Limit));
    adviser.look_for(Feature::PushAsButton, reasons.clone());
    if against.is_empty() {
        adviser.look_for(Feature::ButtonsOnStick, reasons);
    } else {
        reasons.extend(against);
        adviser.try_both(Feature::ButtonsOnStick, reasons);
    }
    if matches!(person.wanted.body, Some(BodyPart::Finger | BodyPart::Thumb)) {
        adviser.with(Feature::ButtonsOnStick, &[Figure::ButtonForce]);
    }
}

/// Breath, where it can be used and nothing speaks against it.
fn breath(person: &Person, adviser: &mut Adviser) {
    if person.has(Condition::BreathingSupport) {
        let care = Reason::Answer(Answered::Care(Condition::BreathingSupport));
        adviser.avoid(Feature::BreathSwitch, vec![care]);
        return;
    }
    let is_needed = matches!(person.wanted.pressing, Some(Pressing::SamePart | Pressing::Nothing));
    if person.wanted.breath == Some(true) && is_needed {
        let pressing = person.wanted.pressing.map(Answered::Pressing);
        let reasons = [Some(Answered::Breath(true)), pressing].into_iter().flatten();
        adviser.look_for(Feature::BreathSwitch, reasons.map(Reason::Answer).collect());
    }
}
