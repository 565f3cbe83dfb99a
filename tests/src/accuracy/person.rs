//! One invented person: the whole visit, and every figure told beside its truth.

use fitting::invented::{Model, Resting, fixed_order, play};
use fitting::measure::Measures;
use fitting::measure::map::polar_of_ends;
use fitting::position::fold_degrees;
use fitting::statistics::plain::squares_about_mean;
use fitting::suggest::Wish;
use fitting::task::{Meanwhile, TaskAsk, TaskKind};
use fitting::{Direction, Position};

use super::POLL_SECONDS;
use super::dead_zone::{DeadZoneCase, Rested, dead_zone_case, rest_as_asked};
use super::figure::{Case, Figure};
use super::groups::Group;
use super::map_truth::true_map;
use super::observers::{told_place, told_when_out};
use super::rest_truth::Hour;
use super::rhythm_truth::wander_in_band;
use super::seeds::TRUTH_SEEDS;
use super::twin::{MeanEnd, mean_ends, meant, true_ends};
use super::{hold_truth, others};

/// One direction's reach beside that of the oracle.
#[derive(Clone, Copy, Debug)]
pub struct ReachCase {
    /// Standard deviation from push to push, as the visit's own plateaus show it, pooled over
    /// directions: what varies from push to push and what the plateau adds. Share of travel.
    pub deviation: f64,
    /// |measured − true|, share of travel.
    pub error: f64,
    /// The same of the mean of the true plateaus of the same pushes.
    pub oracle_error: f64,
    /// The same of an observer who is told when each push was out, where there is one.
    pub observer_error: Option<f64>,
}

/// The turn with what the bar asks for.
#[derive(Clone, Copy, Debug)]
pub struct TurnCase {
    /// |measured − true|, degrees.
    pub error: f64,
    /// Pushes behind it.
    pub pushes: usize,
    /// Standard deviation of the direction from push to push, degrees.
    pub deviation_degrees: f64,
}

/// Rhythmic movement with what the bar asks for.
#[derive(Clone, Copy, Debug)]
pub struct RhythmCase {
    /// Peak amplitude over the wander in its band.
    pub over_wander: f64,
    /// |measured − true|, hertz; `None` where none was found.
    pub error_hertz: Option<f64>,
}

/// Something that is known exactly or at the stop: it was told rightly or not.
#[derive(Clone, Debug)]
pub struct Exact {
    /// What.
    pub what: &'static str,
    /// Whether what was told is right.
    pub right: bool,
}

/// Everything of one person.
#[derive(Clone, Debug)]
pub struct Person {
    /// The seed: the same person on every machine.
    pub seed: u64,
    /// The plan, minutes.
    pub minutes: u32,
    /// The groups the person belongs to.
    pub groups: Vec<Group>,
    /// Figures beside their truths.
    pub cases: Vec<Case>,
    /// Errors of hold steadiness, as shares of the truth, of an observer who is told the places.
    pub hold_observer: Vec<f64>,
    /// Reach beside the oracle.
    pub reach: Vec<ReachCase>,
    /// The turn.
    pub turn: Option<TurnCase>,
    /// Rhythmic movement, where there is any.
    pub rhythm: Option<RhythmCase>,
    /// The dead zone.
    pub dead_zone: DeadZoneCase,
    /// What is right or wrong.
    pub exact: Vec<Exact>,
}

/// The model of one seed: another person, on another day than the one described.
#[must_use]
pub fn model_of(seed: u64) -> Model {
    Model::varied(seed).on_day(seed + 1)
}

/// The minutes of one seed's tasks.
const fn minutes_of(seed: u64) -> u32 {
    match seed % 5 {
        0 | 2 => 15,
        1 | 3 => 10,
        _ => 6,
    }
}

/// The tasks of one seed, in the fixed order: mostly the longer two, and after the longest everything else there is.
#[must_use]
pub fn plan_of(seed: u64) -> Vec<TaskAsk> {
    let minutes = minutes_of(seed);
    let mut tasks = fixed_order(minutes);
    if minutes < 15 {
        return tasks;
    }
    let both = vec![Direction::Right, Direction::Left];
    let more = [
        TaskAsk::BusyRest { seconds: 60.0, meanwhile: Meanwhile::Talking },
        TaskAsk::Sustained { directions: both, level: 0.5, seconds: 15.0 },
        TaskAsk::Return { directions: Direction::FOUR.to_vec(), level: 0.6, rounds: 3 },
        TaskAsk::Presses { buttons: vec![0, 1], rounds: 5 },
    ];
    for ask in more {
        if tasks.iter().all(|there| there.kind() != ask.kind()) {
            tasks.push(ask);
        }
    }
    tasks
}

/// Plays and measures the person of this seed.
#[must_use]
pub fn person(seed: u64) -> Person {
    let model = model_of(seed);
    let plan = plan_of(seed);
    let truth_seed = seed.wrapping_add(TRUTH_SEEDS);
    let wish = Wish::default();
    let records = play(model.clone(), seed, &plan, POLL_SECONDS);
    let ends = mean_ends(&model, &records);
    let rested = rest_as_asked(&model, seed.wrapping_add(2 * TRUTH_SEEDS), records, wish);
    let measures = &rested.measures;

    let mut cases = Vec::new();
    let meant = meant(&model, seed, &plan);
    let made = [true_ends(&model, &meant), told_when_out(&model, &meant, &rested.records)];
    let reach = reach_cases(measures, &ends, &made, &mut cases);
    let mut exact = others::exact(&model, measures, &ends);
    let turn = turn_case(&model, measures, &ends, &mut cases);
    let hour = Hour::played(&model.clone().without_jerks(), truth_seed, Resting::Quiet);
    rest_cases(&model, measures, &hour, &mut cases);
    let mut hold_observer = Vec::new();
    let rhythm =
        hold_cases(&model, truth_seed, &rested, &mut cases, &mut exact, &mut hold_observer);
    others::others(&model, truth_seed, &rested, &hour, &mut cases);
    let dead_zone = dead_zone_case(&model, truth_seed, &rested, &ends, wish, &hour, &mut cases);
    let (minutes, groups) = (minutes_of(seed), Group::of(&model));
    Person { seed, minutes, groups, cases, reach, hold_observer, turn, rhythm, dead_zone, exact }
}

/// The name of a direction in files.
#[must_use]
pub fn direction_code(direction: Direction) -> String {
    format!("{}°", direction.degrees())
}

fn reach_cases(
    measures: &Measures,
    ends: &[MeanEnd],
    made: &[Vec<(Direction, Position)>; 2],
    cases: &mut Vec<Case>,
) -> Vec<ReachCase> {
    let mut found = Vec::new();
    let deviation = repetition_deviation(measures);
    for direction in &measures.reach {
        let Some(truth) = ends.iter().find(|end| end.asked == direction.asked) else { continue };
        let case =
            |figure, truth, told| Case { figure, of: direction_code(direction.asked), truth, told };
        cases.push(case(Figure::Reach, truth.reach, direction.reach));
        cases.push(case(
            Figure::DegreesOff,
            truth.degrees_off,
            direction.degrees_off.map(|told| {
                // Told and true angle may stand on different sides of the half turn.
                let shift =
                    truth.degrees_off + fold_degrees(told.value - truth.degrees_off) - told.value;
                fitting::Estimate {
                    value: told.value + shift,
                    low: told.low + shift,
                    high: told.high + shift,
                    ..told
                }
            }),
        ));
        // Oracle and observer are asked only about the very same pushes.
        let [oracle, observer] = made.each_ref().map(|made| {
            let same = made.iter().filter(|end| end.0 == direction.asked);
            let same: Vec<f64> = same.map(|end| end.1.radius()).collect();
            let mean = same.iter().sum::<f64>() / same.len() as f64;
            (same.len() == direction.ends.len()).then(|| (mean - truth.reach).abs())
        });
        if let (Ok(told), Some(oracle_error)) = (direction.reach, oracle) {
            let error = (told.value - truth.reach).abs();
            found.push(ReachCase { deviation, error, oracle_error, observer_error: observer });
        }
    }
    found
}

/// What is left of a rhythm's peak amplitude behind the stick's play: half of it on each axis.
fn past_play(model: &Model, amplitude: f64) -> f64 {
    let along = model.true_rhythm_amplitude().map_or(0.0, |of| of.1);
    let peak = Position::polar(amplitude, along);
    let left = |part: f64| (part.abs() - 0.5 * model.stick.hysteresis).max(0.0);
    Position::new(left(peak.right), left(peak.up)).radius()
}

/// Standard deviation of the plateaus' distances about the mean of their direction, pooled.
fn repetition_deviation(measures: &Measures) -> f64 {
    let (mut squares, mut freedom) = (0.0, 0.0);
    for direction in &measures.reach {
        let lengths: Vec<f64> = direction.ends.iter().map(|end| end.radius()).collect();
        squares += squares_about_mean(&lengths);
        freedom += lengths.len().saturating_sub(1) as f64;
    }
    libm::sqrt(squares / f64::max(freedom, 1.0))
}

fn turn_case(
    model: &Model,
    measures: &Measures,
    ends: &[MeanEnd],
    cases: &mut Vec<Case>,
) -> Option<TurnCase> {
    let truth = true_map(ends)?;
    let map = measures.map.as_ref();
    let told = map.map_or_else(|why| Err(*why), |map| map.turn);
    cases.push(Case::one(Figure::Turn, truth.turn_degrees, told));
    let pairs: Vec<(Direction, Position)> = ends.iter().map(|end| (end.asked, end.end)).collect();
    if let Some((_, polar)) = polar_of_ends(&pairs) {
        let (f, g) = polar.uneven();
        let uneven = libm::hypot(f, g);
        let stretch = map.map_or_else(|why| Err(*why), |map| map.stretch);
        cases.push(Case::one(Figure::Stretch, (1.0 - uneven) / (1.0 + uneven), stretch));
        let cross_talk = map.map_or_else(|why| Err(*why), |map| map.cross_talk);
        cases.push(Case::one(Figure::CrossTalk, polar.cross_talk(), cross_talk));
    }
    let told = told.ok()?;
    Some(TurnCase {
        error: fold_degrees(told.value - truth.turn_degrees).abs(),
        pushes: measures.reach.iter().map(|direction| direction.ends.len()).sum(),
        deviation_degrees: model.body.angle_spread_degrees,
    })
}

fn rest_cases(model: &Model, measures: &Measures, hour: &Hour, cases: &mut Vec<Case>) {
    let rest = measures.rest.as_ref();
    let centre = hour.centre();
    let offset = rest.map_or_else(|why| Err(*why), |rest| rest.offset);
    cases.push(Case::one(Figure::Offset, centre.radius(), offset));
    if let Some(jerks) = model.body.jerks {
        let truth = rest.map_or(0.0, |rest| model.true_rate_beyond(jerks, rest.sudden.beyond));
        let told = rest.map_or_else(|why| Err(*why), |rest| rest.sudden.per_minute);
        cases.push(Case::one(Figure::SuddenRate, truth, told));
    } else {
        // With sudden movements the 95 % of the time are another, and rarely by much.
        let told = rest.map_or_else(|why| Err(*why), |rest| rest.wander);
        cases.push(Case::one(Figure::Wander, hour.inside(centre, 0.95), told));
    }
}

fn hold_cases(
    model: &Model,
    seed: u64,
    rested: &Rested,
    cases: &mut Vec<Case>,
    exact: &mut Vec<Exact>,
    observer: &mut Vec<f64>,
) -> Option<RhythmCase> {
    let record = rested.records.iter().find(|record| record.ask.kind() == TaskKind::Hold)?;
    let TaskAsk::Hold { directions, .. } = &record.ask else { return None };
    let measures = &rested.measures;
    for level in &measures.hold {
        let truth = hold_truth::deviation(model, seed, &record.known, directions, level.level);
        let of = format!("{:.0} %", 100.0 * level.level);
        let case = |figure, truth, told| Case { figure, of: of.clone(), truth, told };
        cases.push(case(Figure::HoldDeviation, truth, level.deviation));
        if level.deviation.is_ok() {
            observer.extend(told_place(model, seed, record, level.level, truth));
        }
    }
    let told = measures.rhythm.as_ref().ok();
    let Some(rhythm) = model.body.rhythm else {
        if let Some(told) = told {
            exact.push(Exact { what: "no rhythm told where there is none", right: !told.found });
        }
        return None;
    };
    let amplitude = model.true_rhythm_amplitude().map_or(0.0, |of| of.0);
    let over_wander =
        amplitude / wander_in_band(model, seed, &record.known, directions, rhythm.hertz).max(1e-9);
    if let Some(told) = told {
        if over_wander >= 2.0 {
            exact.push(Exact { what: "rhythm found where it stands out", right: told.found });
        }
        if told.found {
            cases.push(Case::one(Figure::RhythmHertz, rhythm.hertz, told.hertz));
            let seen = past_play(model, amplitude);
            cases.push(Case::one(Figure::RhythmAmplitude, seen, told.amplitude));
        }
    }
    let error_hertz =
        told.and_then(|told| told.hertz.ok()).map(|told| (told.value - rhythm.hertz).abs());
    Some(RhythmCase { over_wander, error_hertz })
}
