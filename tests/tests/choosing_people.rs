//! What to look for, from the recordings of invented people alone: nobody answered anything.
#![allow(clippy::expect_used, reason = "tests")]

use device::choosing::{Advice, Feature, Found, Person, Reason, Source, Stance, advise, questions};
use fitting::invented::{Invented, fixed_order, play};
use fitting::measure::measure;
use fitting::papers::{AMPLE_REACH, Facts, Limit};
use fitting::stick_kind::Mover;
use fitting::suggest::{Prepared, Wish, suggest};
use fitting::summary::{Envelope, Findings, FittingBody, Summary};
use fitting::visit::Visit;
use fitting::{Direction, Settings};

fn found(person: Invented) -> Found {
    let records = play(person.model(), 7, &fixed_order(15), 0.004);
    let measures = measure(&records);
    let suggestions = suggest(&records, &measures, Wish::default());
    let prepared = Prepared::new(&records, &measures);
    let findings = Findings {
        measures: &measures,
        suggestions: &suggestions,
        chosen: &suggestions.settings,
        before: &prepared.effect(&Settings::default()),
        after: &prepared.effect(&suggestions.settings),
    };
    let fitting = Envelope::new("0-1", 0, FittingBody::default());
    let summary = Summary::of(&fitting, &findings, "0-2", 0);
    let facts = Facts::of(&Visit::default(), &summary.body, Mover::Limb);
    Found::of(&facts, &suggestions)
}

fn advised(person: Invented) -> Vec<Advice> {
    advise(&Person::of(&Visit::default(), Mover::Limb, found(person)))
}

fn of(advice: &[Advice], feature: Feature) -> Option<&Advice> {
    advice.iter().find(|one| one.feature == feature)
}

#[test]
fn whoever_is_short_to_the_right_is_told_so_with_the_interval() {
    let advice = advised(Invented::ShortToOneSide);
    let throw = of(&advice, Feature::ShortThrow).expect("a word on the throw");
    let reach = throw.reasons.iter().find_map(|reason| match reason {
        Reason::Limit(Limit::Reach { shortest, .. }) => Some(*shortest),
        _ => None,
    });
    let (asked, reach) = reach.expect("the reach that was measured");
    assert_eq!(asked, Direction::Right, "short to the right by its making");
    assert!(reach.low < reach.value && reach.value < reach.high && reach.high < AMPLE_REACH);
    assert_eq!(throw.sources()[0], Source::OwnRecordings);
    assert!(of(&advice, Feature::OwnSettings).is_some());
}

#[test]
fn whoever_shakes_or_jerks_tries_both_kinds_of_stick() {
    for person in [Invented::RhythmicMovement, Invented::SuddenJerks] {
        let advice = advised(person);
        let force = of(&advice, Feature::ForceStick).expect("both kinds");
        assert_eq!(force.stance, Stance::TryBoth, "{person:?}");
        let told = |reason: &Reason| match (person, reason) {
            (Invented::RhythmicMovement, Reason::Limit(Limit::Rhythm { hertz })) => {
                // 6 Hz by its making.
                (5.0..7.0).contains(&hertz.value)
            }
            (_, Reason::Limit(Limit::Sudden { count, .. })) => *count > 0,
            _ => false,
        };
        assert!(force.reasons.iter().any(told), "{person:?}: {:?}", force.reasons);
    }
}

#[test]
fn recordings_alone_claim_nothing_about_force_or_place() {
    for person in Invented::ALL {
        let advice = advised(person);
        assert_eq!(advice[0].feature, Feature::OrdinaryPad);
        for feature in [Feature::HeavierSpring, Feature::FirmBase, Feature::SwingsClear] {
            let is_measured =
                of(&advice, feature).is_none_or(|one| one.reasons.iter().all(Reason::is_measured));
            assert!(is_measured, "{person:?} {feature:?}");
        }
        assert!(of(&advice, Feature::HeavierSpring).is_none(), "{person:?}: nobody was asked");
        let whole = Person::of(&Visit::default(), Mover::Limb, found(person));
        assert!(questions(&whole).len() >= 17, "{person:?}");
    }
    let steady = advised(Invented::SteadyHand);
    assert!(of(&steady, Feature::ForceStick).is_none(), "a steady hand is no matter of either");
}
