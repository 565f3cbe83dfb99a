//! Where a stick stands and how it is held there. Common practice where no source is named.

use super::advice::{Adviser, Feature, Reason};
use super::person::{Answered, Person};
use super::source::Figure;
use super::touch::at_face;
use fitting::visit::{BodyPart, MountPlace, PadReach, Posture, Strength, Unwanted};

pub(super) fn advise(person: &Person, adviser: &mut Adviser) {
    let wanted = &person.wanted;
    for place in &wanted.places {
        adviser.look_for(Feature::Mount(*place), vec![Reason::Answer(Answered::Place(*place))]);
    }

    let mut firm = Vec::new();
    if let Some(body @ (BodyPart::Hand | BodyPart::Foot)) = wanted.body {
        firm.push(Reason::Answer(Answered::Body(body)));
    }
    if wanted.strength == Some(Strength::StrongOrJerky) {
        firm.push(Reason::Answer(Answered::Strength(Strength::StrongOrJerky)));
    } else if let Some(how @ (Unwanted::Jerks | Unwanted::Both)) = wanted.unwanted {
        firm.push(Reason::Answer(Answered::Unwanted(how)));
    }
    firm.extend(person.sudden().cloned().map(Reason::Limit));
    if wanted.pad_reach == Some(PadReach::IfHeld) {
        firm.push(Reason::Answer(Answered::PadReach(PadReach::IfHeld)));
    }
    adviser.look_for(Feature::FirmBase, firm);
    if wanted.body == Some(BodyPart::Hand) {
        adviser.with(Feature::FirmBase, &[Figure::SpaceAside, Figure::SpaceBehind]);
    }

    if let Some(posture) = wanted.posture.filter(|posture| *posture != Posture::Upright) {
        let reasons = vec![Reason::Answer(Answered::Posture(posture))];
        adviser.look_for(Feature::TurnableMount, reasons);
    }

    let mut clear: Vec<Reason> = at_face(person).map(Reason::Answer).into_iter().collect();
    if wanted.body == Some(BodyPart::Head) {
        clear.push(Reason::Answer(Answered::Body(BodyPart::Head)));
    }
    adviser.look_for(Feature::SwingsClear, clear);

    let pulled = |place: &&MountPlace| !matches!(place, MountPlace::Table | MountPlace::OtherPad);
    let cable = wanted.places.iter().filter(pulled);
    let cable = cable.map(|place| Reason::Answer(Answered::Place(*place)));
    adviser.look_for(Feature::CableRelief, cable.collect());
}
