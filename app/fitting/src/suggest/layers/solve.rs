//! What is to be typed into one layer of a path.

use super::{LayerAdvice, LayerNote, LayeredPath, Reached};
use crate::settings::Shape;
use crate::suggest::HostForm;
use crate::suggest::curve::nearest_exponent;
use crate::visit::{Layer, Path};
use crate::{Pipeline, Settings};
use std::f64::consts::SQRT_2;

/// What a layer whose dead zone nobody knows usually ignores, share of travel: common practice, no
/// source. It may as well be nothing.
pub const USUAL_DEAD_ZONE: (f64, f64) = (0.10, 0.25);

/// The step of a slider nobody told of, share: whole percent.
const USUAL_STEP: f64 = 0.01;
/// The step of a sensitivity number.
const EXPONENT_STEP: f64 = 0.05;
/// Another exponent must come nearer by this much of full output to be worth typing in.
const WORTH_TYPING: f64 = 0.005;
/// What a dead zone or a full throw may be off without a word, share of travel.
const NEAR: f64 = 0.005;
/// An output that begins with more than this jumps, share of full output.
const JUMP: f64 = 0.02;
/// Between dead zone and full throw of a layer there is at least this much, share.
const LEAST_SPAN: f64 = 0.01;

/// What is wanted along an axis.
struct Wanted {
    dead_zone: f64,
    full_throw: f64,
    answer: Pipeline,
    /// The dead zone is one of the other shape.
    stands_in: bool,
}

impl Wanted {
    /// The settings as a layer of this shape takes them: a dead zone of the other shape stands in
    /// so that nothing more gets through, as [`HostForm::of`] says.
    fn of(settings: &Settings, shape: Shape) -> Self {
        let answer = Pipeline::new(settings);
        let stands_in = settings.shape == Shape::PerAxis && shape == Shape::Radial;
        let factor = if stands_in { SQRT_2 } else { 1.0 };
        let dead_zone = (factor * answer.dead_zone()).min(0.9);
        let full_throw = answer.full_throw().max(dead_zone + LEAST_SPAN).min(1.0);
        Self { dead_zone, full_throw, answer, stands_in: stands_in && dead_zone > 0.0 }
    }
}

/// The numbers of a layer while they are looked for, shares as they come into it.
#[derive(Clone, Copy, Debug)]
struct Typed {
    dead_zone: f64,
    full_throw: f64,
    exponent: f64,
}

/// What is to be typed into the layer in hand ([`Path::in_hand`]) so that the whole path does what
/// `settings` say at the stick, as nearly as it can: the dead zone rounded up to a step of its
/// slider and the full throw down, so that neither false movements nor effort grow.
///
/// Along an axis the layers before it make `a(r)` of a push `r`, those behind it let nothing
/// through up to `b` and everything from `s` on. A layer that starts again at nothing gives
/// `((u - x) / (f - x)) ^ g`, so dead zone x and full throw f follow from
/// `((a(D) - x) / (f - x)) ^ g = b` and `((a(F) - x) / (f - x)) ^ g = s` for the wanted dead zone D
/// and full throw F; the exponent g is the one whose output stays nearest to the wanted one.
#[must_use]
pub fn for_path(settings: &Settings, path: &Path) -> LayerAdvice {
    let Some((place, named)) =
        path.in_hand().and_then(|place| Some((place, path.layers.get(place)?)))
    else {
        return direct(settings, path);
    };
    let wanted = Wanted::of(settings, named.shape);
    let bench = Bench { layers: &path.layers, place, named, wanted: &wanted };
    let typed = if named.can_be_set {
        bench.solved(0.0, nearest_exponent(&settings.curve).0)
    } else {
        Typed {
            dead_zone: named.dead_zone.unwrap_or(0.0),
            full_throw: named.full_throw,
            exponent: named.exponent,
        }
    };
    let unknown: Vec<usize> = (0..path.layers.len())
        .filter(|other| *other != place && path.layers[*other].dead_zone.is_none())
        .collect();
    let dead_zone_range = (named.can_be_set && !unknown.is_empty()).then(|| {
        let (least, most) = USUAL_DEAD_ZONE;
        let other = |unknown| bench.solved(unknown, typed.exponent).dead_zone;
        let (least, most) = (other(least), other(most));
        let low = typed.dead_zone.min(least).min(most);
        (low, typed.dead_zone.max(least).max(most))
    });
    let whole = bench.with(typed, 0.0);
    let reached = reached(&whole, &wanted.answer);
    let mut notes = Vec::new();
    if !named.can_be_set {
        notes.push(LayerNote::CannotBeSet(place));
    }
    notes.extend(bench.notes(typed, &reached));
    notes.extend(unknown.into_iter().map(LayerNote::Unknown));
    LayerAdvice {
        layer: Some(place),
        dead_zone: typed.dead_zone,
        dead_zone_range,
        full_throw: typed.full_throw,
        exponent: typed.exponent,
        form: bench.form(settings, typed, &reached),
        reached,
        notes,
    }
}

/// The dead zone of a layer, share as it comes in, when a slow push along an axis does something
/// at the end of the path from `push` on (share of travel at the stick): to whole percent. Other
/// layers nobody knows are taken to ignore nothing.
#[must_use]
pub fn found_by_moving(path: &Path, layer: usize, push: f64) -> Option<f64> {
    let named = path.layers.get(layer)?;
    if !(push.is_finite() && push >= 0.0) {
        return None;
    }
    let ignores = |dead_zone: f64| {
        let mut layers = path.layers.clone();
        layers[layer] = with_dead_zone(named, dead_zone);
        LayeredPath::new(&layers, 0.0).dead_zone()
    };
    let found = largest(0.9, |dead_zone| ignores(dead_zone) <= push);
    Some(libm::round(100.0 * found) / 100.0)
}

/// A layer with another dead zone; its full throw stays above that.
fn with_dead_zone(layer: &Layer, dead_zone: f64) -> Layer {
    let full_throw = layer.full_throw.max(dead_zone + LEAST_SPAN);
    Layer { dead_zone: Some(dead_zone), full_throw, ..layer.clone() }
}

/// The largest number up to `most` of which this holds; it must hold up to some number.
fn largest(most: f64, holds: impl Fn(f64) -> bool) -> f64 {
    if holds(most) {
        return most;
    }
    let (mut low, mut high) = (0.0, most);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// No layer in hand: what is suggested goes into whatever the stick is plugged into.
fn direct(settings: &Settings, path: &Path) -> LayerAdvice {
    let form = HostForm::of(settings);
    let wanted = Pipeline::new(settings);
    let (reached, notes) = if path.layers.is_empty() {
        let full_throw = Some(wanted.full_throw());
        (Reached { dead_zone: wanted.dead_zone(), full_throw, error: 0.0 }, Vec::new())
    } else {
        let whole = LayeredPath::new(&path.layers, 0.0);
        (reached(&whole, &wanted), vec![LayerNote::NothingCanBeSet])
    };
    LayerAdvice {
        layer: None,
        dead_zone: wanted.dead_zone(),
        dead_zone_range: None,
        full_throw: wanted.full_throw(),
        exponent: form.sensitivity_exponent,
        form,
        reached,
        notes,
    }
}

fn reached(path: &LayeredPath, wanted: &Pipeline) -> Reached {
    let error = (0..=100)
        .map(|percent| f64::from(percent) / 100.0)
        .map(|push| (path.answer(push) - wanted.answer(push)).abs())
        .fold(0.0, f64::max);
    Reached { dead_zone: path.dead_zone(), full_throw: path.full_throw(), error }
}

/// The path with the layer that is being set.
struct Bench<'a> {
    layers: &'a [Layer],
    place: usize,
    named: &'a Layer,
    wanted: &'a Wanted,
}

impl Bench<'_> {
    fn earlier(&self, unknown: f64) -> LayeredPath {
        LayeredPath::new(&self.layers[..self.place], unknown)
    }

    fn later(&self, unknown: f64) -> LayeredPath {
        LayeredPath::new(&self.layers[self.place + 1..], unknown)
    }

    fn layer(&self, typed: Typed) -> Layer {
        Layer {
            dead_zone: Some(typed.dead_zone),
            full_throw: typed.full_throw,
            exponent: typed.exponent,
            ..self.named.clone()
        }
    }

    /// The whole path with these numbers.
    fn with(&self, typed: Typed, unknown: f64) -> LayeredPath {
        let mut layers = self.layers.to_vec();
        layers[self.place] = self.layer(typed);
        LayeredPath::new(&layers, unknown)
    }

    /// The numbers that come nearest to what is wanted, on the steps of the slider. `first` is the
    /// exponent that is kept where no other comes nearer.
    fn solved(&self, unknown: f64, first: f64) -> Typed {
        let (earlier, later) = (self.earlier(unknown), self.later(unknown));
        // Where the wish lets something through: the curve is judged there.
        let pushes: Vec<(f64, f64)> = (0..=40)
            .map(|part| {
                let share = f64::from(part) / 40.0;
                let span = self.wanted.full_throw - self.wanted.dead_zone;
                let push = self.wanted.dead_zone + share * span;
                (earlier.answer(push), self.wanted.answer.answer(push))
            })
            .collect();
        let off = |exponent: f64| {
            let typed = self.ends(&earlier, &later, exponent);
            let alone = LayeredPath::new(&[self.layer(typed)], 0.0);
            pushes
                .iter()
                .map(|(comes_in, wanted)| (later.answer(alone.answer(*comes_in)) - wanted).abs())
                .fold(0.0, f64::max)
        };
        // Where everything is straight a bend would only hide a dead zone that is to be lowered.
        let others = self.layers.iter().enumerate().filter(|(place, _)| *place != self.place);
        if first == 1.0 && others.into_iter().all(|(_, layer)| layer.exponent == 1.0) {
            return self.ends(&earlier, &later, 1.0);
        }
        let stepped = |exponent: f64| libm::round(exponent / EXPONENT_STEP) * EXPONENT_STEP;
        let mut best = (stepped(first), off(stepped(first)));
        for number in 4..=100 {
            let exponent = f64::from(number) * EXPONENT_STEP;
            let off = off(exponent);
            if off < best.1 - WORTH_TYPING {
                best = (exponent, off);
            }
        }
        self.ends(&earlier, &later, best.0)
    }

    /// Dead zone and full throw for this exponent.
    fn ends(&self, earlier: &LayeredPath, later: &LayeredPath, exponent: f64) -> Typed {
        let step = self.named.step.unwrap_or(USUAL_STEP);
        let (from, to) =
            (earlier.answer(self.wanted.dead_zone), earlier.answer(self.wanted.full_throw));
        let through = later.dead_zone().min(1.0 - LEAST_SPAN);
        let whole = later.full_throw().unwrap_or(1.0).clamp(through + LEAST_SPAN, 1.0);
        let root = |value: f64| libm::pow(value, 1.0 / exponent);
        let (low, high) = (root(through), root(whole));
        let to = to.max(from + LEAST_SPAN);
        let mut dead_zone = if self.named.starts_at_zero {
            let span = (to - from) / (high - low).max(LEAST_SPAN);
            let dead_zone = (from - low * span).max(0.0);
            if dead_zone + span > 1.0 {
                // All the way cannot come later than all that comes in.
                ((from - low) / (1.0 - low).max(LEAST_SPAN)).max(0.0)
            } else {
                dead_zone
            }
        } else if from <= low * (to / high).min(1.0) {
            0.0
        } else {
            from
        };
        // A value that lies on a step but for rounding stays there.
        dead_zone = (libm::ceil(dead_zone / step - 1e-6) * step).clamp(0.0, 0.9);
        loop {
            let base = if self.named.starts_at_zero { dead_zone } else { 0.0 };
            let full_throw = (base + (to - base).max(0.0) / high).min(1.0);
            let full_throw = libm::floor(full_throw / step + 1e-6) * step;
            let full_throw = full_throw.max(dead_zone + step.max(LEAST_SPAN)).min(1.0);
            let typed = Typed { dead_zone, full_throw, exponent };
            // The full throw was rounded down, which lifts what comes out: a step more of dead
            // zone keeps still what was to be kept still.
            let comes_out = LayeredPath::new(&[self.layer(typed)], 0.0).answer(from);
            if comes_out <= through + 1e-9 || dead_zone >= from.min(0.9) {
                return typed;
            }
            dead_zone = (dead_zone + step).min(0.9);
        }
    }

    /// What there is to say about the path with these numbers.
    fn notes(&self, typed: Typed, reached: &Reached) -> Vec<LayerNote> {
        let wanted = self.wanted;
        let mut notes = Vec::new();
        let ignores = |place: &usize| self.layers[*place].dead_zone.filter(|share| *share > 0.0);
        if wanted.stands_in {
            notes.push(LayerNote::RoundForSquare(wanted.dead_zone));
        }
        let enough = (0..self.place).find(|place| {
            let up_to = LayeredPath::new(&self.layers[..=*place], 0.0);
            wanted.dead_zone > 0.0 && up_to.dead_zone() >= wanted.dead_zone - 1e-9
        });
        if let Some(place) = enough {
            notes.push(LayerNote::EarlierIgnoresIt(place));
        } else {
            notes.extend((0..self.place).filter_map(|layer| {
                Some(LayerNote::EarlierTakesPart { layer, dead_zone: ignores(&layer)? })
            }));
        }
        notes.extend((self.place + 1..self.layers.len()).filter_map(|layer| {
            Some(LayerNote::LaterTakesPart { layer, dead_zone: ignores(&layer)? })
        }));
        let none_here = typed.dead_zone <= 0.0 || !self.named.can_be_set;
        if none_here && reached.dead_zone > wanted.dead_zone + NEAR {
            let others = (0..self.layers.len()).filter(|other| *other != self.place);
            notes.extend(others.filter(|other| ignores(other).is_some()).map(|layer| {
                if self.layers[layer].can_be_set {
                    LayerNote::LowerThere { layer, to: self.lowered(typed, layer) }
                } else {
                    LayerNote::StaysThere(layer)
                }
            }));
        }
        if reached.dead_zone < wanted.dead_zone - NEAR {
            notes.push(LayerNote::NotStill);
        }
        let begins = self.with(typed, 0.0).answer(reached.dead_zone + 1e-6);
        if begins > JUMP {
            notes.push(LayerNote::Jumps(begins));
        }
        let step = self.named.step.unwrap_or(USUAL_STEP);
        match reached.full_throw {
            Some(full) if full < wanted.full_throw - step - NEAR => {
                notes.push(LayerNote::FullEarly);
            }
            Some(full) if full <= wanted.full_throw + NEAR => {}
            _ => notes.push(LayerNote::FullLate),
        }
        let shapes = self.layers.iter().enumerate().any(|(place, layer)| {
            place != self.place && ignores(&place).is_some() && layer.shape != self.named.shape
        });
        if shapes {
            notes.push(LayerNote::MixedShapes);
        }
        notes
    }

    /// The dead zone to which another layer is to be lowered so that no more is ignored than
    /// wanted; nothing where that is not enough. On a step of its slider.
    fn lowered(&self, typed: Typed, other: usize) -> f64 {
        let Some(layer) = self.layers.get(other) else { return 0.0 };
        let ignores = |dead_zone: f64| {
            let mut layers = self.layers.to_vec();
            layers[self.place] = self.layer(typed);
            layers[other] = with_dead_zone(layer, dead_zone);
            LayeredPath::new(&layers, 0.0).dead_zone()
        };
        let most = layer.dead_zone.unwrap_or(0.0);
        let found = largest(most, |dead_zone| ignores(dead_zone) <= self.wanted.dead_zone + 1e-9);
        let step = layer.step.unwrap_or(USUAL_STEP);
        libm::floor(found / step + 1e-6) * step
    }

    /// The numbers the way hosts take them.
    fn form(&self, settings: &Settings, typed: Typed, reached: &Reached) -> HostForm {
        let (earlier, later) = (self.earlier(0.0), self.later(0.0));
        let told = Settings {
            dead_zone: typed.dead_zone,
            full_throw: typed.full_throw,
            shape: self.named.shape,
            ..settings.clone()
        };
        let form = HostForm::of(&told);
        let span = typed.full_throw - typed.dead_zone;
        let points = if earlier.steps.is_empty() && later.steps.is_empty() {
            form.points.clone()
        } else {
            let point = |tenth: u32| {
                let share = f64::from(tenth) / 10.0;
                let push = earlier.push_for(typed.dead_zone + share * span);
                let out = later.push_for(self.wanted.answer.answer(push));
                (100.0 * share, 100.0 * out.clamp(0.0, 1.0))
            };
            let mut points: Vec<(f64, f64)> = (1..10).map(point).collect();
            points.insert(0, (0.0, 0.0));
            points.push((100.0, 100.0));
            points
        };
        let arrives = |percent: f64| 100.0 * earlier.answer(percent / 100.0);
        HostForm {
            sensitivity_exponent: typed.exponent,
            exponent_error_percent: 100.0 * reached.error,
            points,
            switches: form
                .switches
                .map(|(on, off, shortest)| (arrives(on), arrives(off), shortest)),
            ..form
        }
    }
}
