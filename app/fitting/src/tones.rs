//! What a person hears of a task, for those who see little of it or look elsewhere.
//!
//! Tones are soft and begin and end slowly, so that nothing startles: a startle moves the stick.
//! Which side is told by where it is heard, up and down by its pitch (higher is further up, as
//! people hear it without being taught: Pratt 1930, *Journal of Experimental Psychology* 13: 278,
//! from memory).

use crate::task::{Phase, Prompt, TaskView};
use crate::{Direction, Position};

/// A tone rises to its loudness in this time, and falls from it, seconds.
pub const RISE_SECONDS: f64 = 0.06;
/// See [`RISE_SECONDS`].
pub const FALL_SECONDS: f64 = 0.14;
/// The loudest a tone is, as a share of the machine's own volume.
pub const LOUDEST: f64 = 0.4;

/// The pitch of the middle, hertz.
const MIDDLE_HERTZ: f64 = 440.0;
/// Straight up is this much higher, and straight down as much lower, octaves.
const OCTAVES: f64 = 0.5;
/// How far to the side the sides are heard, 0..=1.
const ASIDE: f64 = 0.9;

/// One tone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tone {
    /// When it begins, seconds from now.
    pub after_seconds: f64,
    /// How long it lasts, its rise and fall included, seconds.
    pub seconds: f64,
    /// Its pitch, hertz.
    pub hertz: f64,
    /// Where it is heard, −1 (left) to 1 (right).
    pub pan: f64,
    /// How loud, a share of the machine's own volume, 0..=[`LOUDEST`].
    pub loudness: f64,
}

/// What is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard {
    /// Something is asked: one way, or any.
    Cue(Option<Direction>),
    /// The dot came into the ring.
    InRing,
    /// A repetition is done.
    Done,
}

/// What is to be heard when a task that looked like `before` looks like `now`.
#[must_use]
pub fn heard(before: Option<&TaskView>, now: &TaskView) -> Option<Heard> {
    let doing = |view: &TaskView| view.phase == Phase::Doing && view.paused.is_none();
    let was = before.filter(|view| doing(view));
    if !doing(now) {
        let rested = matches!(now.phase, Phase::Between | Phase::Done) && now.paused.is_none();
        return (was.is_some() && rested).then_some(Heard::Done);
    }
    if was.is_some_and(|was| (was.prompt, was.step) == (now.prompt, now.step)) {
        return None;
    }
    match now.prompt {
        Prompt::Push(way) | Prompt::ToRing(way) => Some(Heard::Cue(Some(way))),
        Prompt::PushAnywhere | Prompt::HoldAnywhere | Prompt::PressAny | Prompt::Press { .. } => {
            Some(Heard::Cue(None))
        }
        Prompt::StayInRing(_) => Some(Heard::InRing),
        Prompt::LetGo(_) => Some(Heard::Done),
        Prompt::HandsOff
        | Prompt::Rest
        | Prompt::RestWhile(_)
        | Prompt::ComeBack
        | Prompt::MoveFreely
        | Prompt::HowHard => None,
    }
}

/// The tones that tell it, at `volume` percent. A way is told by two: the middle, and from there.
#[must_use]
pub fn tones(heard: Heard, volume: u8) -> Vec<Tone> {
    let loudness = LOUDEST * f64::from(volume.min(100)) / 100.0;
    let tone = |after_seconds: f64, at: Position| Tone {
        after_seconds,
        seconds: 0.26,
        hertz: MIDDLE_HERTZ * libm::exp2(OCTAVES * at.up),
        pan: ASIDE * at.right,
        loudness,
    };
    let middle = Position::ORIGIN;
    match heard {
        Heard::Cue(None) => vec![tone(0.0, middle)],
        Heard::Cue(Some(way)) => {
            vec![tone(0.0, middle), tone(0.24, Position::polar(1.0, way.degrees()))]
        }
        Heard::InRing => {
            vec![Tone { loudness: 0.6 * loudness, ..tone(0.0, Position::new(0.0, 0.5)) }]
        }
        Heard::Done => {
            vec![tone(0.0, Position::new(0.0, 0.5)), tone(0.18, Position::new(0.0, 1.0))]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::task::{Command, TaskAsk, TaskRun};
    use crate::{Sample, StickAxes};

    #[test]
    fn the_sides_are_heard_at_their_side_and_up_is_higher() {
        let last = |way: Direction| *tones(Heard::Cue(Some(way)), 100).last().unwrap();
        let (left, right) = (last(Direction::Left), last(Direction::Right));
        assert!((left.pan + 0.9).abs() < 1e-12 && (right.pan - 0.9).abs() < 1e-12);
        assert!((left.hertz - 440.0).abs() < 1e-9 && (right.hertz - 440.0).abs() < 1e-9);
        let (up, down) = (last(Direction::Up), last(Direction::Down));
        assert!(up.pan.abs() < 1e-12 && down.pan.abs() < 1e-12);
        // Half an octave: a factor of the square root of two.
        assert!((up.hertz / 440.0 - std::f64::consts::SQRT_2).abs() < 1e-9);
        assert!((440.0 / down.hertz - std::f64::consts::SQRT_2).abs() < 1e-9);
    }

    #[test]
    fn nothing_startles() {
        let all = Direction::EIGHT.into_iter().map(|way| Heard::Cue(Some(way)));
        for heard in all.chain([Heard::Cue(None), Heard::InRing, Heard::Done]) {
            for volume in [0, 30, 100, 255] {
                for tone in tones(heard, volume) {
                    assert!(tone.seconds >= RISE_SECONDS + FALL_SECONDS && tone.seconds < 0.5);
                    assert!((0.0..=LOUDEST).contains(&tone.loudness));
                    assert!((-1.0..=1.0).contains(&tone.pan));
                    assert!((250.0..=700.0).contains(&tone.hertz), "{tone:?}");
                    assert!(volume > 0 || tone.loudness == 0.0);
                }
            }
        }
    }

    #[test]
    fn a_push_is_heard_when_it_is_asked_and_when_it_is_done() {
        let ask = TaskAsk::Reach { directions: vec![Direction::Left], rounds: 1 };
        let state = |at: f64| Sample { arrival_seconds: at, axes: vec![0.0, 0.0], buttons: vec![] };
        let known = crate::task::Known::default();
        let mut run = TaskRun::start(ask, StickAxes::default(), known, 0.0, &state(0.0));
        let ready = run.view();
        assert_eq!(heard(None, &ready), None);
        run.command(0.0, Command::Begin);
        let asked = run.view();
        assert_eq!(heard(Some(&ready), &asked), Some(Heard::Cue(Some(Direction::Left))));
        assert_eq!(heard(Some(&asked), &asked), None, "once");
        run.command(1.0, Command::Pause(crate::task::PauseCause::Asked));
        let paused = run.view();
        assert_eq!(heard(Some(&asked), &paused), None);
        run.command(2.0, Command::GoOn);
        run.poll(4.0, None);
        assert_eq!(heard(Some(&paused), &run.view()), Some(Heard::Cue(Some(Direction::Left))));
        let done = TaskView { phase: Phase::Done, ..asked.clone() };
        assert_eq!(heard(Some(&asked), &done), Some(Heard::Done));
    }
}
