use super::*;
use crate::estimate::{Basis, NotEnough};
use crate::invented::{Inattention, Invented, Model, play_in};
use crate::measure::measure;
use crate::task::{Asking, TaskRecord, Way};
use Direction::{Down, Left, Right, Up, UpLeft};
use proptest::prelude::*;

/// Reach of one direction, with so much to each side.
fn reached(asked: Direction, value: f64, half: f64) -> DirectionReach {
    let basis = Basis { seconds: 9.0, repetitions: 3 };
    let reach = Estimate::new(value, value - half, value + half, basis);
    DirectionReach {
        asked,
        reach: reach.ok_or(NotEnough::DoesNotApply),
        end: None,
        degrees_off: Err(NotEnough::DoesNotApply),
        ends: Vec::new(),
        free: false,
    }
}

fn measured(reach: Vec<DirectionReach>, cued: Vec<CuedReach>) -> Measures {
    Measures { reach, cued, ..measure(&[]) }
}

fn cued(cue: CueKind, left: f64, right: f64, half: f64) -> CuedReach {
    CuedReach { cue, reach: vec![reached(Right, right, half), reached(Left, left, half)] }
}

/// Left 0.40 ± 0.05; the least of the others, down, 0.60 ± 0.05.
fn short_to_the_left() -> Vec<DirectionReach> {
    vec![
        reached(Right, 0.8, 0.05),
        reached(Up, 0.7, 0.05),
        reached(UpLeft, 0.42, 0.05),
        reached(Left, 0.4, 0.05),
        reached(Down, 0.6, 0.05),
    ]
}

#[test]
fn a_side_is_weak_when_its_interval_lies_clear_below_all_that_is_elsewhere() {
    let weak = weak_side(&measured(short_to_the_left(), vec![])).expect("left is weak");
    assert_eq!((weak.side, weak.verdict), (Left, SideVerdict::AskAgain));
    assert!((weak.reach.value - 0.4).abs() < 1e-12 && (weak.least_other.value - 0.6).abs() < 1e-12);
    assert_eq!(
        weak.repeat(),
        TaskAsk::Reach { directions: vec![Left, Right], rounds: REPEAT_ROUNDS }
    );
    // Wider intervals overlap; 0.5 is more than four fifths of 0.6; without the one across nothing
    // is said; free movement never says it.
    let mut wide = short_to_the_left();
    wide[3] = reached(Left, 0.4, 0.16);
    let mut near = short_to_the_left();
    near[3] = reached(Left, 0.5, 0.01);
    let mut alone = short_to_the_left();
    alone.remove(0);
    let mut free = short_to_the_left();
    free[3].free = true;
    for reach in [wide, near, alone, free, vec![]] {
        assert_eq!(weak_side(&measured(reach, vec![])), None);
    }
}

#[test]
fn the_repeat_is_judged_within_itself() {
    let says = |repeats: Vec<CuedReach>| {
        weak_side(&measured(short_to_the_left(), repeats)).expect("weak").verdict
    };
    use CueKind::{Central, Spoken};
    // 0.4 against 0.8: clear below, at most four fifths.
    assert_eq!(says(vec![cued(Central, 0.4, 0.8, 0.05)]), SideVerdict::Reach);
    // 0.74 − 0.8 × 0.8 = 0.10; its half interval hypot(0.05, 0.04) = 0.064.
    assert_eq!(says(vec![cued(Central, 0.74, 0.8, 0.05)]), SideVerdict::Attention);
    // 0.70 − 0.64 = 0.06 is less than 0.064.
    assert_eq!(says(vec![cued(Spoken, 0.7, 0.8, 0.05)]), SideVerdict::CannotTell);
    // Both may be far shorter than without the cue: only the two of the repeat are looked at.
    assert_eq!(says(vec![cued(Central, 0.2, 0.21, 0.01)]), SideVerdict::Attention);
    // Two that say the same, two that disagree, and one that cannot tell beside one that can.
    let both = |one, two| says(vec![cued(Central, one, 0.8, 0.05), cued(Spoken, two, 0.8, 0.05)]);
    assert_eq!(both(0.4, 0.42), SideVerdict::Reach);
    assert_eq!(both(0.4, 0.8), SideVerdict::CannotTell);
    assert_eq!(both(0.7, 0.8), SideVerdict::Attention);
    // Another side was repeated: this one is still to be asked again.
    let other = CuedReach { cue: Central, reach: vec![reached(Up, 0.7, 0.05)] };
    assert_eq!(says(vec![other]), SideVerdict::AskAgain);
}

proptest! {
    /// At most one side looks weak, it is the one with the least reach of the four, and making it
    /// longer than the others takes that away.
    #[test]
    fn the_weak_side_is_the_shortest(
        values in proptest::array::uniform4(0.05..1.0_f64),
        halves in proptest::array::uniform4(0.001..0.2_f64),
    ) {
        let reach: Vec<DirectionReach> = Direction::FOUR
            .into_iter()
            .zip(values.into_iter().zip(halves))
            .map(|(asked, (value, half))| reached(asked, value, half))
            .collect();
        if let Some(weak) = weak_side(&measured(reach.clone(), vec![])) {
            let least = values.iter().copied().fold(f64::INFINITY, f64::min);
            prop_assert!((weak.reach.value - least).abs() < 1e-12);
            prop_assert!(weak.reach.high < weak.least_other.low);
            prop_assert!(weak.reach.value <= NEARLY_AS_FAR * weak.least_other.value);
            let mut longer = reach;
            for one in longer.iter_mut().filter(|one| one.asked == weak.side) {
                *one = reached(weak.side, 1.1, 0.001);
            }
            prop_assert_ne!(weak_side(&measured(longer, vec![])).map(|one| one.side), Some(weak.side));
        }
    }

    /// What a repeat says depends on nothing but the repeat.
    #[test]
    fn the_verdict_never_looks_at_what_was_not_cued(
        scale in 0.3..1.2_f64,
        left in 0.1..1.0_f64,
        right in 0.1..1.0_f64,
    ) {
        let repeat = || vec![cued(CueKind::Central, left, right, 0.05)];
        let scaled: Vec<DirectionReach> = short_to_the_left()
            .iter()
            .map(|one| reached(one.asked, one.reach.unwrap().value * scale, 0.01))
            .collect();
        let one = weak_side(&measured(short_to_the_left(), repeat())).map(|one| one.verdict);
        prop_assert_eq!(one, weak_side(&measured(scaled, repeat())).map(|one| one.verdict));
    }
}

/// A steady person whose left is not attended to, or who reaches less far to the left.
fn person(inattention: bool) -> Model {
    let mut model = Invented::SteadyHand.model();
    if inattention {
        model.body.inattention = Some(Inattention { side: Left, share: 0.5 });
    } else {
        for (index, direction) in Direction::EIGHT.into_iter().enumerate() {
            if [Left, UpLeft, Direction::DownLeft].contains(&direction) {
                model.body.reach[index] *= 0.5;
            }
        }
    }
    model
}

/// Rest, reach, and the repeat that is proposed, with a sign in the middle.
fn repeated(model: &Model, seed: u64) -> (Vec<TaskRecord>, Option<WeakSide>) {
    let tasks = [
        TaskAsk::QuietRest { seconds: 10.0 },
        TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 3 },
    ];
    let mut records = play_in(model.clone(), seed, &tasks, Way::default(), 0.004);
    let Some(weak) = weak_side(&measure(&records)) else { return (records, None) };
    let way = Way { asking: Asking::Shown, cue: CueKind::Central };
    records.extend(play_in(model.clone(), seed + 1, &[weak.repeat()], way, 0.004));
    let verdict = weak_side(&measure(&records));
    (records, verdict)
}

#[test]
fn the_repeat_tells_attention_from_reach() {
    for (inattention, truth) in [(true, SideVerdict::Attention), (false, SideVerdict::Reach)] {
        let model = person(inattention);
        let cued = model.true_reach_cued(Left, CueKind::Central);
        let across = model.true_reach_cued(Right, CueKind::Central);
        assert_eq!(cued < NEARLY_AS_FAR * across, !inattention, "the truth of the model");
        for seed in 0..10 {
            let (records, weak) = repeated(&model, 100 * seed);
            let weak = weak.expect("the left looks weak");
            assert_eq!((weak.side, weak.verdict), (Left, truth), "{seed}");
            // What was cued changed nothing of the reach, and holds its own truth.
            let before = measure(&records[..2]);
            let after = measure(&records);
            assert_eq!(before.reach, after.reach);
            assert_eq!(after.cued.len(), 1);
            let reach = after.cued[0].reach.iter().find(|one| one.asked == Left).unwrap();
            let reach = reach.reach.unwrap();
            // A fatigue of a percent and the interval's own 5 % of misses.
            assert!((reach.value - cued).abs() < 0.08, "{reach:?} {cued}");
        }
    }
}

#[test]
fn nobody_with_two_equal_sides_is_called_weak_on_one() {
    let mut wrongly = 0;
    for day in 0..20 {
        let mut model = Model::random(day);
        model.stick = Invented::SteadyHand.model().stick;
        model.body.reach = [0.6; 8];
        wrongly += usize::from(repeated(&model, day).1.is_some());
    }
    assert!(wrongly <= 1, "{wrongly} of 20");
}
