//! What is touched: the top of the stick, what it is made of, and what holds the body up. Common
//! practice where no source is named.

use super::advice::{Adviser, Feature, Reason, Support, Topper};
use super::person::{Answered, Person};
use super::source::Figure;
use fitting::stick_kind::Mover;
use fitting::visit::{BodyPart, Condition, Grasp, Travel};

pub(super) fn advise(person: &Person, adviser: &mut Adviser) {
    topper(person, adviser);
    surface(person, adviser);
    support(person, adviser);
}

/// By what moves the stick, and by how it holds on.
fn topper(person: &Person, adviser: &mut Adviser) {
    let Some(moved_by) = person.moved_by() else {
        if let Some(grasp) = person.wanted.grasp.filter(|grasp| *grasp != Grasp::Full) {
            let reasons = vec![Reason::Answer(Answered::Grasp(grasp))];
            adviser.look_for(Feature::ChangeableTopper, reasons);
        }
        return;
    };
    let mut reasons = vec![Reason::Answer(moved_by)];
    // How a limb holds on says nothing of a chin or a lip.
    let has_grasp = matches!(
        moved_by,
        Answered::Body(
            BodyPart::Hand
                | BodyPart::Finger
                | BodyPart::Thumb
                | BodyPart::Toe
                | BodyPart::Foot
                | BodyPart::Other
        )
    );
    let grasp = person.wanted.grasp.filter(|_| has_grasp);
    reasons.extend(grasp.map(|grasp| Reason::Answer(Answered::Grasp(grasp))));
    let toppers: &[Topper] = match moved_by {
        Answered::Body(body) => of_body(body, grasp),
        Answered::Mover(Mover::Chin) => &[Topper::Cup],
        Answered::Mover(Mover::Lip | Mover::Breath) => &[Topper::Mouthpiece],
        _ => &[],
    };
    for topper in toppers {
        adviser.look_for(Feature::Topper(*topper), reasons.clone());
    }
    let grip = [Figure::GripLength, Figure::GripThickness];
    adviser.with(Feature::Topper(Topper::Grip), &grip);
    if person.wanted.body == Some(BodyPart::Finger) {
        adviser.with(Feature::Topper(Topper::Cup), &[Figure::FingerThickness]);
    }
    adviser.look_for(Feature::ChangeableTopper, vec![Reason::Answer(moved_by)]);
}

const fn of_body(body: BodyPart, grasp: Option<Grasp>) -> &'static [Topper] {
    match (body, grasp) {
        (BodyPart::Hand, Some(Grasp::Full)) => &[Topper::Grip, Topper::Sphere],
        (BodyPart::Hand, Some(Grasp::HookOrFlat)) => &[Topper::UShaped, Topper::Flat],
        (BodyPart::Hand, Some(Grasp::Nothing)) => &[Topper::UShaped, Topper::Cup],
        (BodyPart::Hand, _) => &[Topper::Sphere],
        (BodyPart::Finger | BodyPart::Toe | BodyPart::Chin, _) => &[Topper::Cup],
        (BodyPart::Thumb | BodyPart::Foot, _) => &[Topper::Flat],
        (BodyPart::Forearm, _) => &[Topper::UShaped],
        (BodyPart::Shoulder | BodyPart::Knee | BodyPart::Head, _) => &[Topper::Wide],
        (BodyPart::Lip, _) => &[Topper::Mouthpiece],
        (BodyPart::Other, _) => &[],
    }
}

fn surface(person: &Person, adviser: &mut Adviser) {
    let wanted = &person.wanted;
    let mut soft = Vec::new();
    if wanted.sore_skin == Some(true) {
        soft.push(Reason::Answer(Answered::SoreSkin));
    }
    if person.has(Condition::PoorSensation) {
        soft.push(Reason::Answer(Answered::Care(Condition::PoorSensation)));
    }
    adviser.look_for(Feature::SoftSurface, soft);

    let mut clean = Vec::new();
    if person.is_at_face() {
        clean.extend(at_face(person).map(Reason::Answer));
    }
    if wanted.wet == Some(true) {
        clean.push(Reason::Answer(Answered::Wet));
    }
    if wanted.shared == Some(true) {
        clean.push(Reason::Answer(Answered::Shared));
    }
    adviser.look_for(Feature::WipeClean, clean);
}

/// The answer that puts the stick, or a tube, at the face.
pub(super) fn at_face(person: &Person) -> Option<Answered> {
    match person.wanted.body {
        Some(body @ (BodyPart::Lip | BodyPart::Chin)) => Some(Answered::Body(body)),
        _ if person.mover != Mover::Limb => Some(Answered::Mover(person.mover)),
        _ if person.wanted.breath == Some(true) => Some(Answered::Breath(true)),
        _ => None,
    }
}

/// Large movements of the hand want the elbow held up, small ones the forearm, those of a finger
/// the wrist (MIL-STD-1472E 5.4.3.2.1.4).
fn support(person: &Person, adviser: &mut Adviser) {
    let Some(moved_by) = person.moved_by() else { return };
    let travel = person.wanted.travel;
    let support = match moved_by {
        Answered::Body(BodyPart::Hand) if travel == Some(Travel::Large) => Support::Elbow,
        Answered::Body(BodyPart::Hand) => Support::Forearm,
        Answered::Body(BodyPart::Finger) => Support::Wrist,
        Answered::Body(BodyPart::Thumb) => Support::Palm,
        Answered::Body(BodyPart::Forearm) => Support::Elbow,
        Answered::Body(BodyPart::Shoulder) => Support::Trunk,
        Answered::Body(BodyPart::Foot | BodyPart::Toe | BodyPart::Knee) => Support::Leg,
        Answered::Body(BodyPart::Chin | BodyPart::Lip | BodyPart::Head) => Support::Head,
        Answered::Mover(_) => Support::Head,
        _ => return,
    };
    let mut reasons = vec![Reason::Answer(moved_by)];
    let by_travel = matches!(moved_by, Answered::Body(BodyPart::Hand));
    reasons.extend(travel.filter(|_| by_travel).map(|one| Reason::Answer(Answered::Travel(one))));
    adviser.look_for(Feature::Support(support), reasons);
}
