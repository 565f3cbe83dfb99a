//! What holds whatever is answered.

use super::*;
use fitting::estimate::Basis;
use fitting::papers::{Feature as NeedOf, Limit, Need};
use fitting::stick_kind::Mover;
use fitting::visit::{
    Actions, BodyPart, Condition, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing,
    Safety, Strength, Today, Travel, Unwanted, Visit, Wanted,
};
use fitting::{Direction, Estimate, Sureness};
use proptest::collection::btree_set;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

pub(super) fn estimate(low: f64, value: f64, high: f64) -> Estimate {
    let basis = Basis { seconds: 30.0, repetitions: 9 };
    Estimate::new(value, low, high, basis).expect("finite")
}

fn one<T: Clone + std::fmt::Debug + 'static>(
    all: impl Into<Vec<T>>,
) -> impl Strategy<Value = Option<T>> {
    option::of(select(all.into()))
}

fn any_wanted() -> impl Strategy<Value = Wanted> {
    let yes = || option::of(proptest::bool::ANY);
    let moves = (
        one(BodyPart::ALL),
        one(Travel::ALL),
        one(Strength::ALL),
        one(Unwanted::ALL),
        one(Grasp::ALL),
        one(Endurance::ALL),
        (yes(), yes()),
    );
    let places = btree_set(select(MountPlace::ALL.to_vec()), 0..4);
    let place = (one(Posture::ALL), places, one(PadReach::ALL));
    let controls = (one(Pressing::ALL), one(Actions::ALL), yes());
    (moves, place, controls, (yes(), yes(), yes())).prop_map(|(moves, place, controls, skin)| {
        let (body, travel, strength, unwanted, grasp, endurance, (weak, hurts)) = moves;
        let (posture, places, pad_reach) = place;
        let (pressing, actions, breath) = controls;
        let (sore_skin, wet, shared) = skin;
        Wanted {
            body,
            body_words: String::new(),
            travel,
            strength,
            unwanted,
            grasp,
            endurance,
            weak,
            hurts,
            posture,
            places,
            pad_reach,
            pressing,
            actions,
            breath,
            sore_skin,
            wet,
            shared,
        }
    })
}

fn any_found() -> impl Strategy<Value = Found> {
    let reach = (0.02..1.2_f64).prop_map(|reach| Limit::Reach {
        shortest: (Direction::Left, estimate(reach * 0.9, reach, reach * 1.1)),
        farthest: None,
        sureness: Sureness::Rough,
    });
    let rhythm = Limit::Rhythm { hertz: estimate(5.5, 6.0, 6.5) };
    let sudden = Limit::Sudden { count: 2, per_minute: estimate(0.3, 2.0, 6.0) };
    let kept = (0..=10_u8).prop_map(|effort| Limit::KeptUp {
        asked: Direction::Right,
        kept: estimate(0.2, 0.3, 0.4),
        seconds: 9.0,
        effort,
        sureness: Sureness::Rough,
    });
    let dead_zone = Need {
        feature: NeedOf::DeadZone { radius: estimate(0.1, 0.12, 0.14), per_minute: 0.5 },
        sureness: Sureness::Firm,
    };
    let limits = (option::of(reach), option::of(Just(rhythm)), option::of(Just(sudden)));
    let eaten = option::of((0.05..0.9_f64, 0.34..1.0_f64));
    (limits, option::of(kept), option::of(Just(dead_zone)), eaten).prop_map(
        |((reach, rhythm, sudden), kept, need, eaten)| Found {
            limits: [reach, rhythm, sudden, kept].into_iter().flatten().collect(),
            needs: need.into_iter().collect(),
            eaten: eaten.map(|(reach, share)| (Direction::Left, reach, share)),
        },
    )
}

fn any_person() -> impl Strategy<Value = Person> {
    let conditions = || btree_set(select(Condition::ALL.to_vec()), 0..8);
    let pain = option::of(0..=10_u8);
    (any_wanted(), conditions(), conditions(), pain, one(Mover::ALL), any_found()).prop_map(
        |(wanted, holds, holds_not, pain, mover, found)| {
            let visit = Visit {
                wanted,
                safety: Safety { holds, holds_not, ..Safety::default() },
                today: Today { pain, ..Today::default() },
                ..Visit::default()
            };
            Person::of(&visit, mover.unwrap_or_default(), found)
        },
    )
}

fn stance(advice: &[Advice], feature: Feature) -> Option<Stance> {
    advice.iter().find(|one| one.feature == feature).map(|one| one.stance)
}

/// What cannot be looked for beside this feature.
const fn opposite(feature: Feature) -> Option<Feature> {
    match feature {
        Feature::ShortThrow => Some(Feature::LongThrow),
        Feature::LongThrow => Some(Feature::ShortThrow),
        Feature::LightForce => Some(Feature::HeavierSpring),
        Feature::HeavierSpring => Some(Feature::LightForce),
        Feature::MovingStick => Some(Feature::ForceStick),
        Feature::ForceStick => Some(Feature::MovingStick),
        _ => None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn nothing_contradicts_itself(person in any_person()) {
        let advice = advise(&person);
        for (index, one) in advice.iter().enumerate() {
            prop_assert!(!one.reasons.is_empty(), "{:?} without a reason", one.feature);
            prop_assert!(!one.sources().is_empty());
            let again = advice[index + 1..].iter().any(|other| other.feature == one.feature);
            prop_assert!(!again, "{:?} is told twice", one.feature);
            if let Some(opposite) = opposite(one.feature) {
                let other = stance(&advice, opposite);
                prop_assert!(other.is_none(), "{:?} beside {opposite:?} {other:?}", one.feature);
            }
        }
        let groups: Vec<Group> = advice.iter().map(|one| one.feature.group()).collect();
        prop_assert!(groups.is_sorted(), "{groups:?}");
    }

    #[test]
    fn a_heavier_spring_only_where_all_three_were_answered_no(person in any_person()) {
        let named = stance(&advise(&person), Feature::HeavierSpring);
        let no = |answer: Option<bool>| answer == Some(false);
        let body = person.body;
        if named.is_some() {
            prop_assert_eq!(named, Some(Stance::TryBoth), "never better in general");
            prop_assert!(no(body.weakness) && no(body.pain) && no(body.joint_instability));
            prop_assert_eq!(person.wanted.weak, Some(false));
            prop_assert_eq!(person.wanted.hurts, Some(false));
            prop_assert_eq!(person.safety.answer(Condition::LooseJoints), Some(false));
        }
    }

    #[test]
    fn the_mouth_is_never_without_its_cautions(person in any_person()) {
        let told: Vec<Caution> = cautions(&person).iter().map(|item| item.caution).collect();
        if person.uses_mouth() {
            prop_assert!(told.contains(&Caution::MouthClear));
            prop_assert!(told.contains(&Caution::Mouthpiece));
            prop_assert!(questions(&person).contains(&Question::Mouthpieces));
        }
        if person.is_at_face() {
            prop_assert!(told.contains(&Caution::MouthClear));
            let advice = advise(&person);
            prop_assert_eq!(stance(&advice, Feature::SwingsClear), Some(Stance::LookFor));
            prop_assert_eq!(stance(&advice, Feature::WipeClean), Some(Stance::LookFor));
        }
        if person.wanted.places.contains(&MountPlace::Wheelchair) {
            prop_assert!(told.contains(&Caution::WheelchairControls));
        }
        for always in [Caution::Stop, Caution::NeverDrive, Caution::OwnTherapist] {
            prop_assert!(told.contains(&always));
        }
        for condition in Condition::ALL {
            let is_told = match condition {
                Condition::PoorSensation => told.contains(&Caution::Sensation),
                Condition::PainOrFatigue => told.contains(&Caution::Pain),
                other => told.contains(&Caution::Care(other)),
            };
            if person.safety.answer(condition) == Some(true) {
                prop_assert!(is_told, "{condition:?}");
            }
        }
        let mut once = told.clone();
        once.sort_unstable();
        once.dedup();
        prop_assert_eq!(once.len(), told.len());
    }

    #[test]
    fn it_begins_with_the_ordinary_pad_unless_it_cannot_be_reached(person in any_person()) {
        let advice = advise(&person);
        let ruled_out = person.wanted.pad_reach == Some(PadReach::No);
        prop_assert_eq!(advice[0].feature == Feature::OrdinaryPad, !ruled_out);
        prop_assert_eq!(stance(&advice, Feature::Trial), Some(Stance::LookFor));
    }

    #[test]
    fn breath_is_avoided_with_breathing_support(person in any_person()) {
        let named = stance(&advise(&person), Feature::BreathSwitch);
        if person.safety.answer(Condition::BreathingSupport) == Some(true) {
            prop_assert_eq!(named, Some(Stance::Avoid));
        } else if person.wanted.breath != Some(true) {
            prop_assert_eq!(named, None);
        }
    }

    #[test]
    fn questions_come_in_order_and_none_twice(person in any_person()) {
        let asked = questions(&person);
        prop_assert!(asked.is_sorted());
        let mut once = asked.clone();
        once.dedup();
        prop_assert_eq!(&once, &asked);
        let groups: Vec<QuestionGroup> = asked.iter().map(|one| one.group()).collect();
        prop_assert!(groups.is_sorted(), "a heading comes once: {:?}", groups);
        // What any stick has to be asked is asked for everybody.
        let nobody = Person::of(&Visit::default(), Mover::Limb, Found::default());
        prop_assert!(questions(&nobody).iter().all(|one| asked.contains(one)));
    }
}

#[test]
fn figures_are_those_of_the_handbooks() {
    // MIL-STD-1472E 5.4.3.2.2.1.3: grip 110 to 180 mm long, at most 50 mm thick; 100 mm free to the
    // side, 50 mm behind. 5.4.3.2.3.1.2: at most 118 N for full output of a force stick.
    assert_eq!(Figure::GripLength.range(), (Some(110.0), Some(180.0), Unit::Millimetres));
    assert_eq!(Figure::GripThickness.range().1, Some(50.0));
    assert_eq!(Figure::SpaceAside.range().0, Some(100.0));
    assert_eq!(Figure::SpaceBehind.range().0, Some(50.0));
    assert_eq!(Figure::ForceGrip.range(), (None, Some(118.0), Unit::Newtons));
    // Björkstén and Jonsson 1977: 14.0 % on and off, 7.9 % without a break.
    assert_eq!(Figure::KeptUpOnAndOff.range().1, Some(14.0));
    assert_eq!(Figure::KeptUpWithoutBreak.range().1, Some(7.9));
    // From memory: 3.3 to 8.9 N (12 to 32 ounces of 0.278 N); the page has to say so.
    assert_eq!(Figure::FingerForce.range(), (Some(3.3), Some(8.9), Unit::Newtons));
    let ounce = 0.278_013_85;
    assert!((12.0 * ounce - 3.3_f64).abs() < 0.05 && (32.0 * ounce - 8.9_f64).abs() < 0.05);
    assert_eq!(Figure::FingerForce.source(), Source::Standard1472FromMemory);
    for figure in Figure::ALL {
        let (low, high, _) = figure.range();
        assert!(low.is_some() || high.is_some(), "{figure:?}");
        assert!(low.zip(high).is_none_or(|(low, high)| low < high), "{figure:?}");
        assert_ne!(figure.source(), Source::CommonPractice);
    }
}
