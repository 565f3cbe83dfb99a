use super::*;
use crate::invented::{Invented, fixed_order, play};
use crate::measure::measure;
use crate::suggest::{Prepared, Wish, suggest};
use crate::summary::{Envelope, Findings, FittingBody, Summary};
use crate::task::{TaskAsk, TaskRecord};
use crate::visit::{Felt, Layer, LayerKind, Path, StopSignal};
use crate::{Direction, Settings};

pub(super) fn summary(records: &[TaskRecord]) -> SummaryBody {
    let measures = measure(records);
    let suggestions = suggest(records, &measures, Wish::default());
    let prepared = Prepared::new(records, &measures);
    let (before, after) =
        (prepared.effect(&Settings::default()), prepared.effect(&suggestions.settings));
    let findings = Findings {
        measures: &measures,
        suggestions: &suggestions,
        chosen: &suggestions.settings,
        before: &before,
        after: &after,
    };
    let fitting = Envelope::new("0-1", 0, FittingBody::default());
    Summary::of(&fitting, &findings, "0-2", 0).body
}

/// What an invented person's records of a plan of fifteen minutes come to.
fn of_person(person: Invented, keep: fn(&TaskAsk) -> bool) -> SummaryBody {
    let mut plan = fixed_order(15);
    plan.retain(keep);
    summary(&play(person.model(), 7, &plan, 0.004))
}

#[test]
fn nothing_measured_claims_nothing() {
    let facts = Facts::of(&Visit::default(), &summary(&[]), Mover::Limb);
    assert_eq!((facts.limits, facts.needs), (Vec::new(), Vec::new()));
    assert_eq!(facts.unmeasured, Unmeasured::ALL);
    assert_eq!((facts.place, facts.stop_signal, facts.by_settings), (None, None, None));
}

#[test]
fn rest_alone_claims_nothing_about_reach() {
    let body = of_person(Invented::SuddenJerks, |ask| matches!(ask, TaskAsk::QuietRest { .. }));
    let limits = limits(&body);
    assert!(matches!(limits.first(), Some(Limit::Wander { .. })), "{limits:?}");
    assert!(
        !limits.iter().any(|limit| matches!(limit, Limit::Reach { .. } | Limit::KeptUp { .. }))
    );
    let needs = needs(&body);
    assert!(needs.iter().all(|need| matches!(need.feature, Feature::DeadZone { .. })), "{needs:?}");
    assert!(unmeasured(&body).contains(&Unmeasured::Reach));
    assert!(!unmeasured(&body).contains(&Unmeasured::Rest));
}

/// Every figure of a need is that of the summary, to the last step of its grid.
#[test]
fn needs_are_matched_to_the_figures_of_the_summary() {
    for person in Invented::ALL {
        let body = of_person(person, |_| true);
        let facts = Facts::of(&Visit::default(), &body, Mover::Limb);
        for need in &facts.needs {
            match &need.feature {
                Feature::FullThrow { at, because } => {
                    let advice = body.full_throw.result().unwrap();
                    assert_eq!((*at, need.sureness), (advice.radius.estimate(), advice.sureness));
                    assert_eq!(because.0, advice.decided_by);
                    let reach = body.reach.iter().find(|one| one.asked == because.0).unwrap();
                    assert_eq!(because.1, reach.reach.measured().ok());
                    assert!(because.1.is_none_or(|reach| reach.value < 0.9));
                }
                Feature::DeadZone { radius, .. } => {
                    let advice = body.dead_zone.result().unwrap();
                    assert_eq!(
                        (*radius, need.sureness),
                        (advice.radius.estimate(), advice.sureness)
                    );
                }
                Feature::Turn { .. } => assert!(body.direction.result().unwrap().turns),
                Feature::Sensitivity { .. } => assert!(!body.curve.result().unwrap().straight),
                _ => {}
            }
        }
        let shortest = body.reach.iter().filter_map(|one| one.reach.measured().ok());
        let shortest = shortest.map(|reach| reach.value).fold(f64::INFINITY, f64::min);
        let told = facts.limits.iter().find_map(|limit| match limit {
            Limit::Reach { shortest, .. } => Some(shortest.1.value),
            _ => None,
        });
        assert_eq!(told, Some(shortest), "{person:?}");
    }
    let body = of_person(Invented::ShortToOneSide, |_| true);
    let needs = needs(&body);
    let throw = needs.iter().find_map(|need| match &need.feature {
        Feature::FullThrow { because, .. } => Some(because.0),
        _ => None,
    });
    assert_eq!(throw, Some(Direction::Right), "the short side is asked for");
}

#[test]
fn what_was_said_is_told_and_what_was_not_is_not() {
    let visit = Visit {
        set_ups: vec![
            SetUp { topper: "Sphere".into(), ..SetUp::default() },
            SetUp { topper: "Cup".into(), ..SetUp::default() },
            SetUp { topper: "Sphere".into(), up_mm: Some(20), ..SetUp::default() },
        ],
        series_in_use: 2,
        sites: vec![
            SiteTrial::default(),
            SiteTrial { body_part: "Chin".into(), ..SiteTrial::default() },
        ],
        safety: crate::visit::Safety {
            stop: StopSignal { how: "closes both\neyes ".into(), tried: true },
            holds: [Condition::CordInjury].into(),
            ..crate::visit::Safety::default()
        },
        ..Visit::default()
    };
    let facts = Facts::of(&visit, &summary(&[]), Mover::Chin);
    assert!(facts.place_is_drawn);
    assert_eq!(facts.place.and_then(|place| place.up_mm), Some(20), "the set-up in use");
    assert_eq!(facts.stop_signal.as_deref(), Some("closes both eyes"));
    assert_eq!(facts.cares, [Condition::CordInjury]);
    assert_eq!((facts.set_ups, facts.sites.len()), (3, 1));
    assert_eq!(facts.toppers, ["Sphere", "Cup"]);
    // A set-up of which nothing was told is no place.
    let untold = Visit { set_ups: vec![SetUp::default()], ..Visit::default() };
    let facts = Facts::of(&untold, &summary(&[]), Mover::Limb);
    assert_eq!((facts.place, facts.place_is_drawn), (None, false));
}

#[test]
fn the_first_changes_are_steps_of_what_is_typed_in() {
    let settings = Settings { dead_zone: 0.12, full_throw: 0.5, ..Settings::default() };
    let direct = first_changes(&settings, true, &Path::default());
    let of = |changes: &[FirstChange], felt: Felt| {
        let change = changes.iter().find(|change| change.felt == felt);
        change.map(|change| (change.number, change.from, change.to))
    };
    let near = |found: Option<(TypedNumber, f64, f64)>, number, from: f64, to: f64| {
        let (found, one, other) = found.unwrap();
        assert_eq!(found, number);
        assert!((one - from).abs() < 1e-9 && (other - to).abs() < 1e-9, "{one} to {other}");
    };
    near(of(&direct, Felt::MovesByItself), TypedNumber::DeadZone, 0.12, 0.14);
    near(of(&direct, Felt::StartsLate), TypedNumber::DeadZone, 0.12, 0.1);
    near(of(&direct, Felt::TooFar), TypedNumber::FullThrow, 0.5, 0.45);
    near(of(&direct, Felt::AllAtOnce), TypedNumber::FullThrow, 0.5, 0.55);
    near(of(&direct, Felt::TooQuick), TypedNumber::Exponent, 1.0, 1.2);
    // Behind a hub that already ignores a tenth of travel, what is typed in is less, and the
    // slider's own step is one of the dead zone at the stick.
    let hub =
        Layer { kind: LayerKind::Hub, dead_zone: Some(0.1), can_be_set: false, ..Layer::default() };
    let path =
        Path { layers: vec![hub, Layer { dead_zone: None, ..Layer::default() }], named: Some(1) };
    let behind = first_changes(&settings, true, &path);
    let (_, from, to) = of(&behind, Felt::MovesByItself).unwrap();
    assert!(from < 0.04 && to > from && to < 0.06, "{from} to {to}");
    // A hub that ignores all of it and more: less cannot be had by typing.
    let hub =
        Layer { kind: LayerKind::Hub, dead_zone: Some(0.3), can_be_set: false, ..Layer::default() };
    let path =
        Path { layers: vec![hub, Layer { dead_zone: None, ..Layer::default() }], named: Some(1) };
    assert_eq!(of(&first_changes(&settings, true, &path), Felt::StartsLate), None);
}

/// With too little rest there is no dead zone, and nothing tells anybody to change one; one that was
/// chosen by hand is one.
#[test]
fn without_enough_rest_no_number_of_a_dead_zone_is_typed_in() {
    let enough = of_person(Invented::SteadyHand, |_| true);
    let mut body = of_person(Invented::SteadyHand, |ask| !matches!(ask, TaskAsk::QuietRest { .. }));
    assert!(enough.dead_zone_to_type_in().is_ok());
    assert!(body.dead_zone_to_type_in().is_err());
    let of_dead_zone = |body: &SummaryBody| {
        let facts = Facts::of(&Visit::default(), body, Mover::default());
        facts.first.iter().filter(|change| change.number == TypedNumber::DeadZone).count()
    };
    assert_eq!((of_dead_zone(&enough), of_dead_zone(&body)), (2, 0));
    body.chosen.dead_zone = crate::summary::Share::of(0.1);
    assert_eq!((body.dead_zone_to_type_in(), of_dead_zone(&body)), (Ok(0.1), 2));
}

#[test]
fn switches_leave_none_of_these_numbers() {
    let body = of_person(Invented::SteadyHand, |_| true);
    let switches = crate::settings::SwitchThresholds { on: 0.5, off: 0.4, shortest_seconds: 0.0 };
    let settings = Settings { switches: Some(switches), ..body.chosen.settings() };
    assert_eq!(first_changes(&settings, true, &Path::default()), []);
}

#[test]
fn a_wide_interval_is_rough() {
    let of = |half: f64, repetitions: usize| {
        let basis = crate::estimate::Basis { seconds: 9.0, repetitions };
        sureness_of(&Estimate::new(0.5, 0.5 - half, 0.5 + half, basis).unwrap())
    };
    assert_eq!((of(0.04, 3), of(0.06, 3)), (Sureness::Firm, Sureness::Rough));
    // So is what rests on little, and an interval without a width says nothing.
    assert_eq!((of(0.04, 2), of(0.0, 3)), (Sureness::Rough, Sureness::Rough));
}
