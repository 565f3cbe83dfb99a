//! People, and what a practitioner would expect to be told.

use super::tests::estimate;
use super::*;
use fitting::papers::{Feature as NeedOf, Limit, Need};
use fitting::stick_kind::Mover;
use fitting::visit::{
    Actions, BodyPart, Condition, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing,
    Safety, Strength, Travel, Unwanted, Visit, Wanted,
};
use fitting::{Direction, Sureness};

fn person(wanted: Wanted, found: Found) -> Person {
    Person::of(&Visit { wanted, ..Visit::default() }, Mover::Limb, found)
}

fn of(advice: &[Advice], feature: Feature) -> Option<&Advice> {
    advice.iter().find(|one| one.feature == feature)
}

fn stance(advice: &[Advice], feature: Feature) -> Option<Stance> {
    of(advice, feature).map(|one| one.stance)
}

fn short_left() -> Limit {
    Limit::Reach {
        shortest: (Direction::Left, estimate(0.35, 0.40, 0.45)),
        farthest: None,
        sureness: Sureness::Firm,
    }
}

#[test]
fn without_answers_there_is_a_beginning_and_nothing_claimed() {
    let nobody = person(Wanted::default(), Found::default());
    let advice = advise(&nobody);
    let features: Vec<Feature> = advice.iter().map(|one| one.feature).collect();
    assert_eq!(features, [Feature::OrdinaryPad, Feature::Trial]);
    assert!(advice.iter().all(|one| one.reasons == [Reason::Always]));
    let told: Vec<Caution> = cautions(&nobody).iter().map(|item| item.caution).collect();
    assert_eq!(told, [Caution::Stop, Caution::NeverDrive, Caution::OwnTherapist]);
}

#[test]
fn a_measured_short_reach_asks_for_a_shorter_way_or_settings() {
    let need = Need {
        feature: NeedOf::FullThrow {
            at: estimate(0.28, 0.32, 0.36),
            because: (Direction::Left, Some(estimate(0.35, 0.40, 0.45))),
        },
        sureness: Sureness::Rough,
    };
    let found = Found { limits: vec![short_left()], needs: vec![need.clone()], eaten: None };
    let advice = advise(&person(Wanted::default(), found));
    let throw = of(&advice, Feature::ShortThrow).expect("a shorter way");
    assert_eq!(throw.stance, Stance::LookFor);
    assert_eq!(throw.reasons, [Reason::Limit(short_left())]);
    assert_eq!(throw.sources()[0], Source::OwnRecordings);
    let settings = of(&advice, Feature::OwnSettings).expect("settings of its own");
    assert_eq!(settings.reasons, [Reason::Need(need)]);
    // A reach that leaves nothing to ask for changes nothing.
    let ample = Limit::Reach {
        shortest: (Direction::Left, estimate(0.92, 0.95, 0.98)),
        farthest: None,
        sureness: Sureness::Firm,
    };
    let found = Found { limits: vec![ample], ..Found::default() };
    assert_eq!(advise(&person(Wanted::default(), found)).len(), 2);
}

#[test]
fn a_short_reach_that_shakes_is_tried_both_ways() {
    let wanted = Wanted {
        body: Some(BodyPart::Hand),
        travel: Some(Travel::Small),
        unwanted: Some(Unwanted::Shakes),
        ..Wanted::default()
    };
    let advice = advise(&person(wanted.clone(), Found::default()));
    assert_eq!(stance(&advice, Feature::ShortThrow), Some(Stance::TryBoth));
    // Rao 2000 and Dicianno 2009 differ: both kinds are tried, and the sheet asks for it.
    let force = of(&advice, Feature::ForceStick).expect("both kinds");
    assert_eq!(force.stance, Stance::TryBoth);
    for source in [Source::Rao2000, Source::Dicianno2009] {
        assert!(force.sources().contains(&source));
    }
    // A part that hardly moves and is still is no matter of either: only the handbook speaks.
    let still = Wanted { travel: Some(Travel::Hardly), ..Wanted::default() };
    let advice = advise(&person(still, Found::default()));
    let force = of(&advice, Feature::ForceStick).expect("both kinds");
    assert_eq!(force.stance, Stance::TryBoth);
    assert!(!force.sources().contains(&Source::Rao2000), "{:?}", force.sources());
    let far = Wanted { travel: Some(Travel::Large), ..wanted };
    let advice = advise(&person(far, Found::default()));
    assert_eq!(stance(&advice, Feature::LongThrow), Some(Stance::LookFor));
    assert_eq!(stance(&advice, Feature::ShortThrow), None);
}

#[test]
fn a_weak_chin_wants_little_force_a_cup_and_room_to_breathe() {
    let wanted = Wanted {
        body: Some(BodyPart::Chin),
        strength: Some(Strength::HardlyPresses),
        endurance: Some(Endurance::Minutes),
        places: [MountPlace::Wheelchair].into(),
        pad_reach: Some(PadReach::No),
        pressing: Some(Pressing::Nothing),
        breath: Some(true),
        ..Wanted::default()
    };
    let chin = person(wanted, Found::default());
    let advice = advise(&chin);
    assert_eq!(advice[0].feature, Feature::Trial, "the ordinary pad is out of reach");
    for looked_for in [
        Feature::LightForce,
        Feature::MovingStick,
        Feature::Topper(Topper::Cup),
        Feature::Support(Support::Head),
        Feature::SwingsClear,
        Feature::WipeClean,
        Feature::Mount(MountPlace::Wheelchair),
        Feature::BreathSwitch,
        Feature::PushAsButton,
    ] {
        assert_eq!(stance(&advice, looked_for), Some(Stance::LookFor), "{looked_for:?}");
    }
    assert_eq!(stance(&advice, Feature::StaysWherePut), Some(Stance::TryBoth));
    assert_eq!(stance(&advice, Feature::HeavierSpring), None);
    let light = of(&advice, Feature::LightForce).expect("little force");
    assert!(light.figures.contains(&Figure::KeptUpWithoutBreak));
    assert!(!light.figures.contains(&Figure::FingerForce), "that is about fingertips");
    let told: Vec<Caution> = cautions(&chin).iter().map(|item| item.caution).collect();
    for caution in [
        Caution::MouthClear,
        Caution::Mouthpiece,
        Caution::Breathing,
        Caution::HeadAndNeck,
        Caution::Skin,
        Caution::Fatigue,
        Caution::WheelchairControls,
    ] {
        assert!(told.contains(&caution), "{caution:?}");
    }
    let asked = questions(&chin);
    for question in [
        Question::OnWheelchair,
        Question::SwingsClear,
        Question::Mouthpieces,
        Question::WithoutSpring,
        Question::SwitchSockets,
        Question::Cable,
    ] {
        assert!(asked.contains(&question), "{question:?}");
    }
}

#[test]
fn a_foot_on_the_floor_stands_on_something_flat_and_firm() {
    let wanted = Wanted {
        body: Some(BodyPart::Foot),
        strength: Some(Strength::StrongOrJerky),
        travel: Some(Travel::Middling),
        places: [MountPlace::Floor].into(),
        pressing: Some(Pressing::AnotherPart),
        actions: Some(Actions::More),
        posture: Some(Posture::Upright),
        ..Wanted::default()
    };
    let foot = person(wanted, Found::default());
    let advice = advise(&foot);
    for looked_for in [
        Feature::OrdinaryPad,
        Feature::LongThrow,
        Feature::Topper(Topper::Flat),
        Feature::Support(Support::Leg),
        Feature::Mount(MountPlace::Floor),
        Feature::FirmBase,
        Feature::CableRelief,
        Feature::SeparateSwitches,
        Feature::EnoughControls,
    ] {
        assert_eq!(stance(&advice, looked_for), Some(Stance::LookFor), "{looked_for:?}");
    }
    assert_eq!(stance(&advice, Feature::TurnableMount), None);
    assert_eq!(stance(&advice, Feature::HeavierSpring), None, "nobody answered no to all three");
    assert!(questions(&foot).contains(&Question::BeyondEight));
    assert!(questions(&foot).contains(&Question::Withstands));
}

#[test]
fn a_heavier_spring_is_tried_beside_the_usual_one_at_most() {
    let wanted = Wanted {
        strength: Some(Strength::StrongOrJerky),
        weak: Some(false),
        hurts: Some(false),
        ..Wanted::default()
    };
    let mut safety = Safety::default();
    let mut visit = Visit { wanted, ..Visit::default() };
    let named = |visit: &Visit| {
        stance(&advise(&Person::of(visit, Mover::Limb, Found::default())), Feature::HeavierSpring)
    };
    assert_eq!(named(&visit), None, "joints were not asked");
    safety.set_answer(Condition::LooseJoints, Some(false));
    visit.safety = safety;
    assert_eq!(named(&visit), Some(Stance::TryBoth));
    visit.wanted.endurance = Some(Endurance::Minutes);
    assert_eq!(named(&visit), None);
    visit.wanted.endurance = None;
    visit.safety.set_answer(Condition::LooseJoints, Some(true));
    assert_eq!(named(&visit), None);
}

#[test]
fn a_hand_is_held_by_what_its_grasp_allows() {
    let topper = |grasp, topper| {
        let wanted = Wanted { body: Some(BodyPart::Hand), grasp, ..Wanted::default() };
        stance(&advise(&person(wanted, Found::default())), Feature::Topper(topper))
    };
    assert_eq!(topper(Some(Grasp::Full), Topper::Grip), Some(Stance::LookFor));
    assert_eq!(topper(Some(Grasp::Full), Topper::UShaped), None);
    assert_eq!(topper(Some(Grasp::HookOrFlat), Topper::UShaped), Some(Stance::LookFor));
    assert_eq!(topper(Some(Grasp::Nothing), Topper::Cup), Some(Stance::LookFor));
    assert_eq!(topper(None, Topper::Sphere), Some(Stance::LookFor));
    // MIL-STD-1472E 5.4.3.2.1.4: large hand movements, the elbow; small ones, the forearm; the
    // fingers, the wrist.
    let support = |body, travel| {
        let wanted = Wanted { body: Some(body), travel, ..Wanted::default() };
        let advice = advise(&person(wanted, Found::default()));
        advice.iter().find_map(|one| match one.feature {
            Feature::Support(support) => Some((support, one.sources())),
            _ => None,
        })
    };
    let standard = |paragraph| Source::Standard1472E(paragraph);
    let (large, sources) = support(BodyPart::Hand, Some(Travel::Large)).expect("a support");
    assert_eq!((large, sources[0]), (Support::Elbow, standard(Paragraph::LimbSupport)));
    let (small, _) = support(BodyPart::Hand, Some(Travel::Small)).expect("a support");
    assert_eq!(small, Support::Forearm);
    let (finger, _) = support(BodyPart::Finger, None).expect("a support");
    assert_eq!(finger, Support::Wrist);
}
