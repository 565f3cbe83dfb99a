use super::*;
use proptest::prelude::*;

/// The states of a device while its stick goes `turns` round, as `place(right, down)` lays them
/// into the axes; as a browser does, only changed states.
fn turned(turns: f64, reach: f64, place: impl Fn(f64, f64) -> Vec<f64>) -> CircleFinder {
    let mut finder = CircleFinder::new();
    finder.take_in(&sample(place(0.0, 0.0)));
    for step in 0..=(turns * 90.0) as usize {
        let (sin, cos) = libm::sincos(step as f64 * std::f64::consts::TAU / 90.0);
        finder.take_in(&sample(place(reach * cos, reach * sin)));
    }
    finder
}

fn sample(axes: Vec<f64>) -> Sample {
    Sample { arrival_seconds: 0.0, axes, buttons: vec![] }
}

fn indices(finding: &Finding) -> (usize, usize) {
    let axes = finding.axes.expect("axes");
    (axes.horizontal.index, axes.vertical.index)
}

#[test]
fn a_circle_on_the_first_stick_is_found() {
    let finding = turned(1.0, 1.0, |x, y| vec![x, y, 0.0, 0.0]).finding();
    assert_eq!(finding.found, Found::TwoAxes);
    assert_eq!(finding.axes, Some(StickAxes::default()));
    assert_eq!(finding.sureness, Sureness::Firm);
    assert_eq!(finding.progress, 1.0);
    assert_eq!(finding.kinds[0], AxisKind::Smooth);
    assert_eq!(finding.kinds[3], AxisKind::Still);
}

#[test]
fn a_small_and_shifted_circle_far_down_the_list_is_found() {
    let finding = turned(1.5, 0.15, |x, y| vec![0.0, -1.0, 9.0 / 7.0, x + 0.4, 0.1, y]).finding();
    assert_eq!(indices(&finding), (3, 5));
    assert_eq!(finding.sureness, Sureness::Firm);
}

#[test]
fn progress_counts_the_eighths_seen() {
    let progress = |turns: f64| turned(turns, 1.0, |x, y| vec![x, y]).finding().progress;
    assert_eq!(progress(0.0), 0.0);
    assert!(progress(0.125) < progress(1.0));
    assert_eq!(progress(1.0), 1.0);
    let quarter = turned(0.25, 1.0, |x, y| vec![x, y]).finding();
    assert_ne!(quarter.sureness, Sureness::Firm);
}

#[test]
fn a_hat_and_a_trigger_moved_at_the_same_time_rank_behind() {
    let hat = |value: f64| if value.abs() > 0.5 { value.signum() } else { 0.0 };
    let finding =
        turned(2.0, 0.6, |x, y| vec![hat(x * 1.6), hat(y * 1.6), x, y, x - 0.4]).finding();
    assert_eq!(indices(&finding), (2, 3));
    assert_eq!(finding.kinds[0], AxisKind::Stepped);
    assert!(finding.candidates.len() > 1);
    let trigger = turned(1.0, 1.0, |x, y| vec![2.0 * y.abs() - 1.0, x, y]).finding();
    assert_eq!(trigger.kinds[0], AxisKind::Trigger);
    assert_eq!(indices(&trigger), (1, 2));
}

#[test]
fn a_stick_of_four_switches_is_found_when_there_is_no_other() {
    let step = |value: f64| if value.abs() > 0.38 { value.signum() } else { 0.0 };
    let finding = turned(2.0, 1.0, |x, y| vec![step(x), step(y)]).finding();
    assert_eq!(indices(&finding), (0, 1));
    assert_eq!(finding.kinds, [AxisKind::Stepped; 2]);
    assert_eq!(finding.progress, 1.0);
}

#[test]
fn a_hat_told_as_one_number_is_left_out() {
    let null_state = 9.0 / 7.0;
    let finding = turned(1.0, 1.0, |x, y| vec![if x > 0.5 { -1.0 } else { null_state }, x, y]);
    let finding = finding.finding();
    assert_eq!(finding.kinds[0], AxisKind::HatOnOneAxis);
    assert_eq!(indices(&finding), (1, 2));
    assert_eq!(finding.candidates.len(), 1);
}

#[test]
fn axes_that_move_in_step_are_no_stick() {
    let finding = turned(2.0, 1.0, |x, _| vec![x, -x]).finding();
    assert_eq!(finding.candidates.first().map_or(0, |best| (best.score * 1e9) as u64), 0);
    assert_eq!(finding.sureness, Sureness::NotEnough);
}

#[test]
fn one_axis_or_none() {
    let one = turned(2.0, 0.7, |x, _| vec![0.0, x, 0.0]).finding();
    assert_eq!(one.found, Found::OneAxis);
    let axes = one.axes.expect("the one that moved");
    assert_eq!(axes.horizontal.index, 1);
    assert_eq!(axes.vertical, AxisPick::NONE);
    assert_eq!(axes.position(&sample(vec![0.0, 0.5, 0.9])), fitting::Position::new(0.5, 0.0));
    for none in [CircleFinder::new(), turned(1.0, 0.0, |x, y| vec![x, y])] {
        assert_eq!(none.finding().found, Found::Nothing);
        assert_eq!(none.finding().axes, None);
    }
    assert_eq!(turned(1.0, 1.0, |_, _| vec![]).finding().found, Found::Nothing);
}

#[test]
fn two_sticks_moved_alike_are_not_called_sure() {
    let finding = turned(1.0, 1.0, |x, y| vec![x, y, x, y]).finding();
    assert_eq!(indices(&finding), (0, 1));
    assert_eq!(finding.sureness, Sureness::Rough);
}

#[test]
fn many_turns_are_thinned_out_and_still_found() {
    let finder = turned(200.0, 1.0, |x, y| vec![x, y]);
    assert!(finder.kept.len() < MOST_KEPT);
    assert_eq!(finder.finding().sureness, Sureness::Firm);
}

proptest! {
    /// A circle drawn by any two axes among noise below the least range is found, whatever the
    /// direction of turning, the reach and the place of the middle.
    #[test]
    fn any_pair_is_found(
        first in 0..6usize, apart in 1..6usize, reach in 0.1..1.0f64, back in any::<bool>(),
        at in -0.04..0.04f64,
    ) {
        let second = (first + apart) % 6;
        prop_assume!(first != second);
        let finding = turned(1.2, reach, |x, y| {
            let mut axes = vec![0.0; 6];
            axes[first] = x + at;
            axes[second] = if back { -y } else { y };
            axes
        }).finding();
        prop_assert_eq!(indices(&finding), (first.min(second), first.max(second)));
        prop_assert_eq!(finding.sureness, Sureness::Firm);
    }

    #[test]
    fn any_states_give_a_finding(
        states in proptest::collection::vec(
            proptest::collection::vec(prop_oneof![any::<f64>(), -1.0..1.0f64], 0..40), 0..60),
    ) {
        let mut finder = CircleFinder::new();
        for state in states {
            finder.take_in(&sample(state));
        }
        let finding = finder.finding();
        prop_assert!((0.0..=1.0).contains(&finding.progress));
        prop_assert!(finding.candidates.iter().all(|c| (0.0..=1.0).contains(&c.score)));
        prop_assert_eq!(finding.axes.is_some(), finding.found != Found::Nothing);
    }
}
