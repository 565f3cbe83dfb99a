//! Truths against what players really do.

use super::{Gate, Invented, Model, Player, Resting, play};
use crate::task::TaskAsk;
use crate::{Direction, Position};
use proptest::prelude::{ProptestConfig, TestCaseError, any, prop_assert, proptest};

/// The plateaus of many pushes of one model, by direction: the mean distance from the true centre.
fn mean_reach(model: &Model, rounds: usize) -> Vec<(Direction, f64, f64)> {
    use crate::Trace;
    use crate::measure::reach::plateau;
    let directions = Direction::EIGHT.to_vec();
    let plan = [TaskAsk::Reach { directions, rounds }];
    let records = play(model.clone(), 3, &plan, 0.004);
    let record = &records[0];
    let path = Trace::of(&record.recording, record.axes);
    let centre = model.true_centre();
    Direction::EIGHT
        .into_iter()
        .map(|direction| {
            let pushes = record.repetitions.iter().filter(|one| one.direction == Some(direction));
            let ends: Vec<f64> = pushes
                .filter_map(|one| plateau(&path, centre, one.span))
                .map(Position::radius)
                .collect();
            let mean = ends.iter().sum::<f64>() / ends.len() as f64;
            let squares = ends.iter().map(|end| (end - mean) * (end - mean)).sum::<f64>();
            let error = libm::sqrt(squares / (ends.len() * (ends.len() - 1)) as f64);
            (direction, mean, error)
        })
        .collect()
}

#[test]
fn true_reach_is_what_many_pushes_come_to() {
    let mut narrow = Invented::SteadyHand.model();
    narrow.stick.gate = Gate::Octagon(0.9);
    let mut turned = Invented::ShortToOneSide.model();
    turned.gain = [0.85, 1.0];
    let models = [narrow, turned, Invented::SteadyHand.model().behind_hidden_middle(16)];
    for mut model in models {
        model.body.fatigue_per_minute = 0.0;
        for (direction, mean, error) in mean_reach(&model, 40) {
            let truth = model.true_reach(direction);
            // Four standard errors, and what a plateau's shape and the counts leave.
            let bound = 4.0 * error + 0.012;
            assert!((mean - truth).abs() < bound, "{direction:?}: {mean} against {truth}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    /// Whoever it is and whatever is asked: numbers, inside the axes, and the same again.
    #[test]
    fn anybody_plays_within_bounds(seed in any::<u64>(), day in 0..9_u64) {
        plays_within_bounds(seed, day)?;
    }
}

/// Of a short reach that is short today as well, the hidden sixteenth at the middle leaves little.
#[test]
fn a_hidden_middle_may_take_most_of_a_short_reach() -> Result<(), TestCaseError> {
    plays_within_bounds(8_948_093_189_763_519_311, 0)
}

fn plays_within_bounds(seed: u64, day: u64) -> Result<(), TestCaseError> {
    let model = Model::random(seed).on_day(day);
    let mut player = Player::new(model.clone(), seed);
    let mut other = Player::new(model.clone(), seed);
    let mut before = f64::NEG_INFINITY;
    for poll in 0..2000_u32 {
        let now = f64::from(poll) * 0.004;
        let sample = player.advance(now, None);
        prop_assert!(sample == other.advance(now, None));
        if let Some(sample) = sample {
            prop_assert!(sample.axes.iter().take(2).all(|axis| (-1.0..=1.0).contains(axis)));
            prop_assert!(sample.axes.iter().all(|axis| axis.is_finite()));
            prop_assert!(sample.buttons.iter().all(|one| (0.0..=1.0).contains(one)));
            prop_assert!(sample.arrival_seconds > before && sample.arrival_seconds <= now);
            before = sample.arrival_seconds;
        }
    }
    for direction in Direction::EIGHT {
        let reach = model.true_reach(direction);
        prop_assert!((0.02..1.6).contains(&reach), "{}", reach);
    }
    prop_assert!(model.true_map_turn_degrees(&Direction::EIGHT).is_some());
    for (at, place) in model.rest_path(Resting::Quiet, 3.0, seed) {
        prop_assert!((0.0..3.0).contains(&at) && place.radius() <= 1.5);
    }
    Ok(())
}

#[test]
fn the_map_of_a_mount_is_its_turn_where_reach_is_the_same_all_round() {
    let mut model = Invented::SteadyHand.model();
    model.body.reach = [0.7; 8];
    model.turn_degrees = 20.0;
    let turn = |model: &Model| model.true_map_turn_degrees(&Direction::EIGHT).expect("eight");
    assert!((turn(&model) - 20.0).abs() < 0.01, "{}", turn(&model));
    // A mount's gain along the axes is a stretch, which the polar factor leaves out.
    model.gain = [1.0, 0.8];
    assert!((turn(&model) - 20.0).abs() < 0.01, "{}", turn(&model));
    let map = model.true_map(&Direction::EIGHT).expect("eight");
    let length = libm::hypot(map[0][0], map[1][0]);
    // The mean of a push that varies by 3 degrees is shorter by exp(−σ²/2).
    assert!((length - 0.7 * libm::exp(-0.5 * 0.052_36 * 0.052_36)).abs() < 0.002, "{length}");
    assert_eq!(model.true_map(&[Direction::Up, Direction::Down]), None);
}

#[test]
fn true_rhythm_is_seen_through_mount_and_system() {
    let mut model = Invented::RhythmicMovement.model();
    let (amplitude, along) = model.true_rhythm_amplitude().expect("has one");
    assert!((amplitude - 0.05).abs() < 1e-12 && (along - 70.0).abs() < 1e-9);
    model.turn_degrees = 30.0;
    let (_, along) = model.true_rhythm_amplitude().expect("has one");
    assert!((along + 80.0).abs() < 1e-9, "100 degrees is the line of −80: {along}");
    // Behind a hidden middle three quarters of the travel are shown as the whole.
    let (amplitude, _) = model.behind_hidden_middle(16).true_rhythm_amplitude().expect("has one");
    assert!((amplitude / 0.05 - 4.0 / 3.0).abs() < 1e-3, "{amplitude}");
    assert_eq!(Invented::SteadyHand.model().true_rhythm_amplitude(), None);
}
