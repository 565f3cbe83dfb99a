//! Unintended movement while the person does something beside resting.

use super::BusyRest;
use super::rest::rest_about;
use super::windows::settled_path_of;
use crate::task::{Meanwhile, TaskAsk, TaskRecord};
use crate::{Position, Trace};

/// The settled path of each kind of busy rest that was recorded, absolute, on a clock of its own.
pub(crate) fn busy_paths(records: &[TaskRecord]) -> Vec<(Meanwhile, Trace)> {
    Meanwhile::ALL
        .into_iter()
        .map(|wanted| {
            let does = |record: &TaskRecord| matches!(record.ask, TaskAsk::BusyRest { meanwhile, .. } if meanwhile == wanted);
            (wanted, records.iter().any(does), settled_path_of(records, does))
        })
        .filter(|(_, is_recorded, _)| *is_recorded)
        .map(|(meanwhile, _, path)| (meanwhile, path))
        .collect()
}

/// Measures each kind of busy rest that was recorded, about the visit's one `centre` (so that a
/// lean that talking brings shows as wander), or about its own where the visit has none. Kinds are
/// never pooled with one another or with the quiet rest.
pub(super) fn busy_rest(
    records: &[TaskRecord],
    centre: Option<Position>,
    step: f64,
) -> Vec<BusyRest> {
    busy_paths(records)
        .into_iter()
        .map(|(meanwhile, path)| {
            let own = path.median().unwrap_or(Position::ORIGIN);
            BusyRest { meanwhile, rest: rest_about(&path, centre.unwrap_or(own), step) }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::NotEnough;
    use crate::measure::measure;
    use crate::measure::test_records::{quiet_rest, recording};

    fn rest(from_seconds: f64, seconds: f64, at: f64, size: f64) -> TaskRecord {
        quiet_rest(recording(from_seconds, seconds, 100.0, false, move |since| {
            Position::new(at + size * libm::sin(2.0 * since), size * libm::cos(3.1 * since))
        }))
    }

    #[test]
    fn kinds_are_told_apart_about_the_centre_of_the_quiet_rest() {
        let busy = |from_seconds, seconds, at, size, meanwhile| {
            let mut record = rest(from_seconds, seconds, at, size);
            record.ask = TaskAsk::BusyRest { seconds, meanwhile };
            record
        };
        let records = [
            rest(0.0, 40.0, 0.05, 0.01),
            busy(100.0, 30.0, 0.15, 0.03, Meanwhile::Talking),
            busy(200.0, 5.0, 0.05, 0.02, Meanwhile::Pressing),
        ];
        let measures = measure(&records);
        assert_eq!(measures.busy_rest.len(), 2);
        let quiet = measures.rest.unwrap();
        assert!((quiet.wander.unwrap().value - 0.0135).abs() < 0.002);
        let talking = measures.busy_rest[0].rest.as_ref().unwrap();
        assert_eq!(measures.busy_rest[0].meanwhile, Meanwhile::Talking);
        assert_eq!(talking.centre, quiet.centre);
        // A tenth aside, and 0.03 to and fro.
        assert!((talking.wander.unwrap().value - 0.13).abs() < 0.01, "{talking:?}");
        assert!((talking.offset.unwrap().value - 0.15).abs() < 0.01);
        assert_eq!(
            measures.busy_rest[1].rest.as_ref().unwrap_err(),
            &NotEnough::Seconds { have: 4.0, need: 10.0 }
        );
        assert!(measure(&records[..1]).busy_rest.is_empty());
    }
}
