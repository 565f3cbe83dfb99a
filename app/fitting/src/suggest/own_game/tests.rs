use super::*;
use crate::invented::{Invented, play};
use crate::measure::measure;
use crate::settings::Curve;
use crate::task::TaskAsk;

fn felt(felt: &[Felt]) -> OwnGame {
    OwnGame { felt: felt.iter().copied().collect(), ..OwnGame::default() }
}

fn settings() -> Settings {
    let curve = Curve::Exponent(1.2);
    Settings { dead_zone: 0.11, full_throw: 0.72, curve, ..Settings::default() }
}

fn changes(played: &OwnGame, settings: &Settings) -> Vec<Change> {
    after_play(played, settings, None, None).into_iter().map(|one| one.change).collect()
}

#[test]
fn nothing_wrong_changes_nothing() {
    let fine = OwnGame { effort: Some(3), comfort: Some(4), ..OwnGame::default() };
    assert!(after_play(&fine, &settings(), None, None).is_empty());
}

#[test]
fn pain_and_effort_come_before_any_setting() {
    for hard in [
        felt(&[Felt::Hurts, Felt::TooFar]),
        OwnGame { effort: Some(7), ..felt(&[Felt::TooFar]) },
        OwnGame { comfort: Some(3), ..felt(&[Felt::TooFar]) },
    ] {
        let advice = changes(&hard, &settings());
        assert_eq!(advice.len(), 2);
        assert_eq!(advice[0], Change::Stop);
    }
    let tired = OwnGame { effort: Some(4), ..OwnGame::default() };
    let advice = after_play(&tired, &settings(), None, None);
    assert_eq!(advice, [PlayAdvice { felt: None, change: Change::Shorter }]);
    assert_eq!(changes(&felt(&[Felt::Tired]), &settings()), [Change::Shorter]);
}

#[test]
fn steps_go_the_way_that_was_felt_on_the_sliders_own_steps() {
    let ends = |what, step| match after_play(&felt(&[what]), &settings(), None, step)[0].change {
        Change::DeadZone { from, to, .. } | Change::FullThrow { from, to, .. } => {
            (from, (100.0 * to).round() / 100.0)
        }
        Change::Exponent { from, to } => (from, to),
        other => panic!("{other:?}"),
    };
    assert_eq!(ends(Felt::MovesByItself, None), (0.11, 0.14));
    assert_eq!(ends(Felt::MovesByItself, Some(0.05)), (0.11, 0.15));
    assert_eq!(ends(Felt::StartsLate, None), (0.11, 0.08));
    assert_eq!(ends(Felt::TooFar, None), (0.72, 0.67));
    assert_eq!(ends(Felt::AllAtOnce, None), (0.72, 0.77));
    assert_eq!(ends(Felt::TooQuick, None), (1.2, 1.4));
    assert_eq!(ends(Felt::TooSlow, None), (1.2, 1.0));
    let lags = felt(&[Felt::Lags]);
    assert_eq!(changes(&lags, &settings()), [Change::ElsewhereSlow]);
    let smoothing = Smoothing::OneEuro { cutoff_hertz: 1.0, speed_coefficient: 1.0 };
    let smooth = Settings { smoothing, ..settings() };
    assert_eq!(changes(&lags, &smooth), [Change::LessSmoothing]);
}

#[test]
fn what_cannot_go_further_is_not_proposed() {
    let least = Settings { dead_zone: 0.0, full_throw: LEAST_SPAN, ..Settings::default() };
    assert!(changes(&felt(&[Felt::StartsLate, Felt::TooFar]), &least).is_empty());
    let most = Settings { dead_zone: 0.6, full_throw: 0.9, ..Settings::default() };
    assert!(changes(&felt(&[Felt::MovesByItself]), &most).is_empty());
    let gentle = Settings { curve: Curve::Exponent(3.0), ..Settings::default() };
    assert!(changes(&felt(&[Felt::TooQuick]), &gentle).is_empty());
}

#[test]
fn what_pulls_both_ways_is_a_matter_of_posture() {
    let both = felt(&[Felt::MovesByItself, Felt::StartsLate]);
    assert_eq!(changes(&both, &settings()), [Change::PostureFirst]);
}

#[test]
fn the_persons_own_figures_stand_beside_it() {
    let asks = vec![
        TaskAsk::QuietRest { seconds: 60.0 },
        TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 3 },
    ];
    let records = play(Invented::RhythmicMovement.model(), 1, &asks, 0.004);
    let measures = measure(&records);
    let settings = Settings { dead_zone: 0.02, full_throw: 0.7, ..Settings::default() };
    let played = felt(&[Felt::MovesByItself, Felt::TooFar, Felt::Astray]);
    let advice = after_play(&played, &settings, Some(&measures), None);
    assert_eq!(advice.len(), 3);
    let Change::DeadZone { from, to, rates: Some((now, then)), weakest: Some(weakest) } =
        advice[0].change
    else {
        panic!("{advice:?}")
    };
    assert!((from, to) == (0.02, 0.04) && now.radius <= from && then.radius <= to);
    assert!(now.radius < then.radius && then.outside_share <= now.outside_share, "{advice:?}");
    assert!(weakest.reach > 0.2 && (weakest.eaten - to / weakest.reach).abs() < 1e-9);
    let Change::FullThrow { shortest: Some((asked, reach)), .. } = advice[1].change else {
        panic!("{advice:?}")
    };
    assert_eq!((asked, reach.value), (weakest.asked, weakest.reach));
    assert!(
        matches!(advice[2].change, Change::Turn { measured: Ok(turn) } if turn.value.abs() < 15.0)
    );
}
