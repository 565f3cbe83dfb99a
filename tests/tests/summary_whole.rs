//! From the recordings of invented people to their summaries: kept, reopened, linked, equal.
#![allow(clippy::expect_used, reason = "tests")]

use fitting::Settings;
use fitting::invented::{Invented, Model, fixed_order, play};
use fitting::measure::measure;
use fitting::suggest::{Prepared, Suggestions, Wish, suggest};
use fitting::summary::{
    Answer, DeviceSeen, Envelope, Findings, FittingBody, Grid, Summary, SummaryBody, TaskBody,
    link, read,
};
use fitting::task::TaskRecord;

fn fitting_of(invented: Invented, minutes: u32) -> Envelope<FittingBody> {
    let body = FittingBody {
        label: format!("A trial of {}", invented.code()),
        device: DeviceSeen {
            name:
                "Пример длинного имени устройства, которое не помещается ни в одну короткую строку"
                    .chars()
                    .take(80)
                    .collect(),
            axes: 2,
            buttons: 0,
            standard: false,
        },
        practised: Some(invented.code().to_owned()),
        minutes,
        notes: Some("Nobody else needs to know this.".to_owned()),
        ..FittingBody::default()
    };
    Envelope::new("a-fitting", 1_770_000_000_000, body)
}

fn summary_of(fitting: &Envelope<FittingBody>, records: &[TaskRecord]) -> (Summary, Suggestions) {
    let measures = measure(records);
    let suggestions = suggest(records, &measures, Wish::default());
    let prepared = Prepared::new(records, &measures);
    let findings = Findings {
        measures: &measures,
        suggestions: &suggestions,
        chosen: &suggestions.settings,
        before: &prepared.effect(&Settings::default()),
        after: &prepared.effect(&suggestions.settings),
    };
    (Summary::of(fitting, &findings, "a-summary", 1_770_000_100_000), suggestions)
}

#[test]
fn the_summary_of_any_prefix_of_any_plan_is_kept_and_linked() {
    for invented in Invented::ALL {
        for minutes in [3, 6, 10, 15] {
            let records = play(invented.model(), 5, &fixed_order(minutes), 0.004);
            let fitting = fitting_of(invented, 10);
            for end in 0..=records.len() {
                let (summary, _) = summary_of(&fitting, &records[..end]);
                let json = summary.to_json().expect("json");
                assert_eq!(read::<SummaryBody>(&json).expect("it is read"), summary);
                assert!(!json.contains("Nobody else"), "notes never leave");
                let text = link::encode(&summary, true).expect("it fits");
                let opened = link::decode(&text).expect("it opens");
                assert_eq!(opened.body, summary.body);
                assert_eq!(opened.canonical(), summary.canonical());
                let plain = link::decode(&link::encode(&summary, false).expect("it fits"));
                assert_eq!(plain.expect("it opens").canonical(), summary.canonical());
                println!("{invented:?} {minutes} {end}: {} characters", text.len());
            }
        }
    }
}

/// The summary says what the core found, to the grid.
#[test]
fn the_summary_says_what_was_found() {
    let records = play(Invented::RhythmicMovement.model(), 5, &fixed_order(10), 0.004);
    let fitting = fitting_of(Invented::RhythmicMovement, 10);
    let (summary, suggestions) = summary_of(&fitting, &records);
    let body = &summary.body;
    assert_eq!(body.label.as_deref(), Some("A trial of rhythmic-movement"));
    assert_eq!(body.practised.as_deref(), Some("rhythmic-movement"));
    assert!(fitting.body.device.name.starts_with(&body.device.name));
    assert!(body.device.name.len() > 80 && body.device.name.len() <= 88);
    let advice = suggestions.dead_zone.as_ref().expect("a dead zone");
    let Answer::Known(kept) = &body.dead_zone else { panic!("a dead zone") };
    assert!((kept.radius.value.get() - advice.radius.value).abs() <= 0.000_5);
    assert_eq!(kept.sureness, advice.sureness);
    let settings = body.chosen.settings();
    assert!((settings.dead_zone - suggestions.settings.dead_zone).abs() <= 0.000_5);
    assert!((settings.full_throw - suggestions.settings.full_throw).abs() <= 0.000_5);
    let Answer::Known(rest) = &body.rest else { panic!("a rest") };
    assert!((2..=16).contains(&rest.curve.len()));
    // The curve keeps a point near the suggestion, so that a drawing can mark it.
    let full = measure(&records).rest.expect("a rest").curve;
    let nearest = |radii: &mut dyn Iterator<Item = f64>| {
        radii.map(|radius| (radius - advice.radius.value).abs()).fold(f64::INFINITY, f64::min)
    };
    let kept_off = nearest(&mut rest.curve.iter().map(|step| step.radius.get()));
    assert!(kept_off <= nearest(&mut full.iter().map(|point| point.radius)) + 0.000_5);
    assert!(body.reach.len() >= 4 && !body.hold.is_empty());
    assert!(body.after.reach.iter().all(|left| left.output.get() <= 1.0));
}

/// Whether a middle stood still is told as it was found, true or not.
#[test]
fn the_summary_says_whether_the_middle_stood_still() {
    let mut told = [0, 0];
    for invented in Invented::ALL {
        for model in [invented.model(), invented.model().behind_hidden_middle(16)] {
            let records = play(model, 5, &fixed_order(6), 0.004);
            let (summary, _) = summary_of(&fitting_of(invented, 6), &records);
            let found = measure(&records).device.still_middle;
            assert_eq!(summary.body.stick.still_middle, found, "{invented:?}");
            told[usize::from(found)] += 1;
        }
    }
    assert!(told[0] > 0 && told[1] > 0, "{told:?}");
}

/// A stored task gives the very same measures: every number comes back to the last bit.
#[test]
fn reopened_recordings_give_the_same_summary() {
    let records = play(Invented::SuddenJerks.model(), 7, &fixed_order(6), 0.004);
    let reopened: Vec<TaskRecord> = records
        .iter()
        .zip(0..)
        .map(|(record, order)| {
            let body = TaskBody {
                fitting: "a-fitting".to_owned(),
                order,
                started_epoch_ms: 1_770_000_000_000,
                series: 0,
                site: None,
                record: record.clone(),
            };
            let json = Envelope::new(format!("task-{order}"), 1_770_000_050_000, body)
                .to_json()
                .expect("a played task may be kept");
            read::<TaskBody>(&json).expect("and read").body.record
        })
        .collect();
    assert!(reopened == records, "every number is the same");
    assert_eq!(measure(&reopened), measure(&records));
    let fitting = fitting_of(Invented::SuddenJerks, 6);
    assert_eq!(summary_of(&fitting, &reopened).0, summary_of(&fitting, &records).0);
}

/// A summary tells from its own figures whether its dead zone holds only with the resting place set.
#[test]
fn a_dead_zone_that_counts_on_the_resting_place_is_known_by_its_summary() {
    let (mut alone, mut counting) = (0, 0);
    let fitting = fitting_of(Invented::SteadyHand, 10);
    for seed in 7_320_000..7_320_016 {
        let records = play(Model::random(seed), seed, &fixed_order(10), 0.004);
        let (summary, suggestions) = summary_of(&fitting, &records);
        let counts = summary.body.dead_zone_counts_on_centre();
        println!("{seed}: {counts} {:?}", suggestions.dead_zone_alone);
        if suggestions.dead_zone_alone.is_none() {
            assert!(!counts, "{seed}: it holds alone");
            alone += 1;
        }
        counting += i32::from(counts);
    }
    assert!(alone >= 3 && counting >= 1, "{alone} {counting}");
}
