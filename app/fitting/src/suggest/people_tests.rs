//! Suggestions for the invented people, before and after, on their own recordings.

use super::{Prepared, Suggestions, Wish, suggest};
use crate::Settings;
use crate::invented::{Invented, fixed_order, play};
use crate::measure::{Measures, measure};
use crate::settings::{DirectionMap, Smoothing};
use crate::task::TaskRecord;

fn fitted(person: Invented, minutes: u32) -> (Vec<TaskRecord>, Measures, Suggestions) {
    let records = play(person.model(), 7, &fixed_order(minutes), 0.004);
    let measures = measure(&records);
    let suggestions = suggest(&records, &measures, Wish::default());
    (records, measures, suggestions)
}

#[test]
fn everybody_is_still_more_often_than_before() {
    for person in Invented::ALL {
        let (records, measures, suggestions) = fitted(person, 10);
        let prepared = Prepared::new(&records, &measures);
        let before = prepared.effect(&Settings::default());
        let after = prepared.effect(&suggestions.settings);
        let (moved, moves) = (before.moving_share.unwrap(), after.moving_share.unwrap());
        assert!(moves < 0.1 && moves <= moved, "{person:?}: {moved} {moves}");
        for kept in &after.reach {
            assert!((0.0..=1.0 + 1e-9).contains(&kept.output), "{person:?}: {kept:?}");
            assert!(kept.kept <= kept.reach + 1e-9, "{person:?}: {kept:?}");
        }
        assert!(after.lag_seconds.unwrap() <= Wish::default().most_lag_seconds);
        // The same records say the same.
        assert_eq!(suggest(&records, &measures, Wish::default()), suggestions);
    }
}

/// Rhythmic movement is what smoothing is for: it lowers jitter and the dead zone that is needed.
#[test]
fn smoothing_steadies_rhythmic_movement_and_lowers_its_dead_zone() {
    let (records, measures, suggestions) = fitted(Invented::RhythmicMovement, 10);
    let advice = suggestions.smoothing.as_ref().unwrap();
    assert!(advice.chosen != Smoothing::Off, "{advice:?}");
    assert!(advice.jitter_left.unwrap().high < 0.85);
    let (without, with) = advice.dead_zone_without_and_with.unwrap();
    assert!(with < 0.8 * without, "{with} {without}");
    assert_eq!(suggestions.dead_zone_with_all.unwrap().radius.value, with);
    let prepared = Prepared::new(&records, &measures);
    let smooth = Settings { dead_zone: with, ..suggestions.settings };
    let plain = prepared.effect(&Settings { smoothing: Smoothing::Off, ..smooth.clone() });
    let smooth = prepared.effect(&smooth);
    let (smoothed, unsmoothed) = smooth.jitter_beside(&plain).unwrap();
    assert!(smoothed < 0.85 * unsmoothed, "{smoothed} {unsmoothed}");
    assert!(smooth.moving_share < plain.moving_share);
    assert!((smooth.lag_seconds.unwrap() - advice.lag_seconds).abs() < 1e-9);
    assert_eq!(plain.lag_seconds, Some(0.0));
}

/// A mount turned by 25 degrees is found; turning it back in software is an offer and no part of the
/// suggested settings. A straight one is left as it is.
#[test]
fn turning_a_turned_mount_back_is_offered() {
    let (records, measures, suggestions) = fitted(Invented::ShortToOneSide, 15);
    let advice = suggestions.direction.as_ref().unwrap();
    assert!(advice.turns && (advice.map.turn_degrees + 25.0).abs() < 4.0);
    assert_eq!(suggestions.settings.direction.turn_degrees, 0.0);
    let prepared = Prepared::new(&records, &measures);
    let off = |settings: &Settings| prepared.effect(settings).degrees_off.unwrap();
    assert!(off(&Settings::default()) > 20.0);
    let turned = Settings { direction: advice.map, ..suggestions.settings.clone() };
    assert!(off(&turned).abs() < 5.0, "{}", off(&turned));
    let straight = fitted(Invented::SteadyHand, 10).2;
    assert_eq!(straight.settings.direction, DirectionMap::default());
}

/// The reach that is named beside the dead zone is the one in the table of what is kept of it.
#[test]
fn a_direction_has_one_reach() {
    let mut compared = 0;
    for invented in Invented::ALL {
        let (records, measures, suggestions) = fitted(invented, 10);
        let Some(weakest) = suggestions.dead_zone.ok().and_then(|advice| advice.weakest) else {
            continue;
        };
        let effect = Prepared::new(&records, &measures).effect(&suggestions.settings);
        let row = effect.reach.iter().find(|row| row.asked == weakest.asked).unwrap();
        // A gain makes what the dead zone sees longer.
        let direction = &suggestions.settings.direction;
        if (direction.right_gain, direction.up_gain) != (1.0, 1.0) {
            continue;
        }
        assert!((row.reach - weakest.reach).abs() < 1e-9, "{invented:?}: {row:?} {weakest:?}");
        compared += 1;
    }
    assert!(compared >= 4, "{compared}");
}
