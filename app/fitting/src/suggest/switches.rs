//! Thresholds for directions that are used as switches.
//!
//! *On* lies between what the rest reaches and the smallest push of the weakest direction, *off*
//! below it, above the rest and below the deepest dip within a push. The four directions are
//! switches of their own, so a diagonal push counts with its part along each axis.

use super::SwitchAdvice;
use super::dead_zone::counted;
use crate::estimate::NotEnough;
use crate::measure::{Measures, RestMeasures};
use crate::settings::{Settings, SwitchThresholds};
use crate::{Direction, Pipeline, Trace};

/// Room between rest and the weakest push below this share of that push is none (our own choice).
const LEAST_ROOM: f64 = 0.2;
/// From this share of room on the thresholds are firm.
const FIRM_ROOM: f64 = 0.4;
/// Above what the rest reaches *on* lies by this share of the room: nearer to the rest, so that a
/// tired push still counts.
const ON_SHARE: f64 = 0.45;
/// *Off* stays this far below the deepest dip.
const BELOW_DIP: f64 = 0.9;
/// A false push that is this many times longer than the longest seen is waited for...
const WAIT_MARGIN: f64 = 1.25;
/// ... if that is no more than this share of the shortest push.
const WAIT_SHARE: f64 = 0.5;

/// The suggested thresholds. `rest` is the rest as the switches see it, `needed` the radius inside
/// which it keeps the wish; `path` is its absolute path, `settings` what comes before the switches.
pub(super) fn switches(
    measures: &Measures,
    rest: &Result<RestMeasures, NotEnough>,
    needed: Option<f64>,
    path: &Trace,
    settings: &Settings,
) -> Result<SwitchAdvice, NotEnough> {
    let measured = measures.switches.as_ref().map_err(|why| *why)?;
    let rest = rest.as_ref().map_err(|why| *why)?;
    let weakest = measured
        .weakest
        .iter()
        .copied()
        .min_by(|one, other| along_axes(*one).total_cmp(&along_axes(*other)))
        .ok_or(NotEnough::NothingRecorded)?;
    let push = along_axes(weakest);
    let below = needed.unwrap_or(measured.rest_reaches).min(push);
    // Where the wish needs less than was seen, what was seen still counts, unless it was sudden.
    let hidden = measures.device.hidden_middle.unwrap_or(0.0);
    let below = below.max(rest.largest_continual).max(hidden).max(0.01);
    let room = push - below;
    if room < LEAST_ROOM * push {
        return Err(NotEnough::Unsettled);
    }
    let on = (below + ON_SHARE * room).min(1.0);
    let dip = BELOW_DIP * measured.dips_to.clamp(0.0, 1.0) * push;
    let off = (0.5 * (below + on)).min(dip).clamp(0.5 * below, on);
    let mut thresholds = SwitchThresholds { on, off, shortest_seconds: 0.0 };
    // What the rest would still press, and for how long at most.
    let pressed = |thresholds: SwitchThresholds| {
        let settings = Settings { switches: Some(thresholds), ..settings.clone() };
        let out = Pipeline::new(&settings).over(path);
        let mut count = 0;
        let (mut longest, mut lasts) = (0.0_f64, 0.0);
        for piece in &out.pieces {
            if piece.at == crate::Position::ORIGIN {
                lasts = 0.0;
                continue;
            }
            count += usize::from(lasts == 0.0);
            lasts += piece.span.seconds();
            longest = longest.max(lasts);
        }
        (count, longest)
    };
    let (count, longest) = pressed(thresholds);
    let wait = WAIT_MARGIN * longest;
    if count > 0 && wait <= WAIT_SHARE * measured.shortest_push_seconds {
        thresholds.shortest_seconds = wait;
    }
    let count = pressed(thresholds).0;
    let has_dips = dip <= below;
    // What the system hides of the rest, another would let through.
    let is_hidden = measures.device.still_middle || measures.device.hidden_middle.is_some();
    let firm = room >= FIRM_ROOM * push && !has_dips && !is_hidden;
    let false_per_minute = counted(count, path.seconds())?;
    let sureness = false_per_minute.sureness(firm);
    Ok(SwitchAdvice { thresholds, sureness, weakest, false_per_minute })
}

/// What of a push comes out on the axes it lies along: all of it, or 1/√2 on each of a diagonal.
fn along_axes((asked, plateau): (Direction, f64)) -> f64 {
    let is_diagonal = !Direction::FOUR.contains(&asked);
    if is_diagonal { plateau * std::f64::consts::FRAC_1_SQRT_2 } else { plateau }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::measure;
    use crate::measure::test_records::{pushes, quiet_rest, recording};
    use crate::task::TaskRecord;
    use crate::{Position, StickKind};

    /// A rest that wanders by about 3 % with jumps to 0.5 for as long as `jump`, twice; three
    /// rounds of pushes in the four directions, `down` as far as that.
    fn records(down: f64, jump: f64) -> Vec<TaskRecord> {
        let path = move |at: f64| {
            let jumps = [20.0, 41.0].iter().any(|start| (0.0..jump).contains(&(at - start)));
            let wander = 0.015 * (libm::sin(2.0 * at) + libm::sin(5.1 * at + 1.0));
            Position::new(wander + if jumps { 0.5 } else { 0.0 }, 0.8 * wander)
        };
        let ends: Vec<(Direction, Position)> = (0..12)
            .map(|i| {
                let asked = Direction::FOUR[i % 4];
                let length = if asked == Direction::Down { down } else { 0.8 };
                (asked, Position::polar(length, asked.degrees()))
            })
            .collect();
        let mut records = vec![
            quiet_rest(recording(0.0, 61.0, 100.0, false, path)),
            pushes(500.0, &ends, 100.0, false, |_| Position::ORIGIN),
        ];
        for record in &mut records {
            record.known.kind = StickKind { switches: true, ..StickKind::default() };
        }
        records
    }

    fn advised(records: &[TaskRecord]) -> Result<SwitchAdvice, NotEnough> {
        let suggestions = crate::suggest::suggest(records, &measure(records), Default::default());
        let on = suggestions.switches.as_ref().ok().map(|advice| advice.thresholds);
        assert_eq!(suggestions.settings.switches, on);
        suggestions.switches
    }

    #[test]
    fn thresholds_lie_between_rest_and_the_weakest_push() {
        let advice = advised(&records(0.3, 0.0)).unwrap();
        assert_eq!(advice.weakest.0, Direction::Down);
        let SwitchThresholds { on, off, shortest_seconds } = advice.thresholds;
        assert!(0.03 < off && off < on && on < 0.25, "{advice:?}");
        assert_eq!((shortest_seconds, advice.false_per_minute.value), (0.0, 0.0));
    }

    #[test]
    fn a_jump_is_waited_out_where_pushes_are_longer() {
        let advice = advised(&records(0.6, 0.2)).unwrap();
        let shortest = advice.thresholds.shortest_seconds;
        assert!(shortest > 0.2 && shortest < 0.4, "{advice:?}");
        assert_eq!(advice.false_per_minute.value, 0.0);
        // Too long to be waited out: they are counted instead.
        let long = advised(&records(0.6, 1.5)).unwrap();
        assert_eq!(long.thresholds.shortest_seconds, 0.0);
        assert_eq!(long.false_per_minute.basis.repetitions, 2);
    }

    #[test]
    fn no_room_has_no_thresholds() {
        let records = records(0.6, 0.0);
        let mut measures = measure(&records);
        let mut with = |down: f64| {
            measures.switches.as_mut().unwrap().weakest = vec![(Direction::Down, down)];
            crate::suggest::suggest(&records, &measures, Default::default()).switches
        };
        assert_eq!(with(0.04), Err(NotEnough::Unsettled));
        assert!(with(0.1).is_ok());
    }
}
