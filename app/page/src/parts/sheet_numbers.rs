//! The numbers of a sheet with their words: how sure each is, or that it was chosen by hand.

use super::sheet::known;
use super::word::Word;
use crate::state::Decided;
use crate::words::{host as host_words, layers as layer_words, number, settings as words};
use fitting::Sureness;
use fitting::papers::Facts;
use fitting::settings::Shape;
use fitting::suggest::HostForm;
use fitting::summary::{ChosenCurve, Grid, SummaryBody};
use fitting::{NotEnough, Settings, StickTrait};
use leptos::prelude::*;

/// How a number stands to what was suggested.
#[derive(Clone, Copy, Debug)]
struct Standing {
    /// How sure the suggestion is and whether it was taken; nothing where nothing is suggested.
    suggestion: Option<(Sureness, bool)>,
    /// Whether there is a number.
    decided: Result<(), NotEnough>,
}

/// Dead zone, full throw and sensitivity.
fn standings(body: &SummaryBody) -> [Standing; 3] {
    let chosen = &body.chosen;
    let decided = Decided::of_summary(body);
    // The suggested one, or, with another smoothing than suggested, the one needed without any.
    let without = known(&body.smoothing).and_then(|advice| advice.dead_zone_without);
    let is_without = known(&body.smoothing).is_some_and(|advice| advice.chosen != chosen.smoothing);
    let dead_zone = known(&body.dead_zone).map(|advice| {
        let suggested = without.filter(|_| is_without).unwrap_or(advice.radius.value);
        (advice.sureness, suggested == chosen.dead_zone)
    });
    let full_throw = known(&body.full_throw)
        .map(|advice| (advice.sureness, advice.radius.value == chosen.full_throw));
    // A curve is suggested as points or a straight line; one number was chosen by hand.
    let by_number = matches!(chosen.curve, ChosenCurve::Exponent(_));
    let curve = known(&body.curve).map(|advice| (advice.sureness, !by_number));
    [
        Standing { suggestion: dead_zone, decided: decided.dead_zone },
        Standing { suggestion: full_throw, decided: decided.full_throw },
        Standing { suggestion: curve, decided: decided.curve },
    ]
}

/// The dead zone that is needed where there is no smoothing, in a summary whose own one counts on it
/// and would print as a smaller number.
fn without_smoothing(body: &SummaryBody) -> Option<f64> {
    let without = known(&body.smoothing)?.dead_zone_without?.get();
    let with = known(&body.dead_zone)?.radius.value.get();
    let now = body.chosen.dead_zone.get();
    let prints_larger = number::bare_percent(without) != number::bare_percent(now);
    (with <= now && now < without && prints_larger).then_some(without)
}

/// The three settings and whatever else was chosen.
pub fn headline(body: &SummaryBody) -> impl IntoView + use<> {
    let settings = body.chosen.settings();
    let exponent = number::exponent(HostForm::of(&settings).sensitivity_exponent);
    let [dead_zone, full_throw, curve] = standings(body);
    view! {
        <table>
            <tbody>
                {row(words::DEAD_ZONE, number::percent(settings.dead_zone), dead_zone)}
                {row(words::FULL_THROW, number::percent(settings.full_throw), full_throw)}
                {row(words::SENSITIVITY, exponent, curve)}
                {more(body, &settings)}
            </tbody>
        </table>
    }
}

/// The same as they are typed in: for the layer in hand where there are several.
pub fn typed(body: &SummaryBody, facts: &Facts) -> impl IntoView + use<> {
    let settings = body.chosen.settings();
    let typed = &facts.typed;
    let layer = typed.layer.and_then(|place| facts.path.layers.get(place));
    let shape = layer.map_or(settings.shape, |layer| layer.shape);
    let dead_zone_name = match shape {
        Shape::Radial => layer_words::ROUND,
        Shape::PerAxis => layer_words::BY_AXIS,
    };
    let [dead_zone, full_throw, curve] = standings(body);
    // Thresholds of switches take the place of all three.
    let switches = Err(NotEnough::NotFor(StickTrait::Switches));
    let three = (body.dead_zone.result().map(|_| ()) != switches).then(|| {
        view! {
            {row(dead_zone_name, layer_words::dead_zone(typed.dead_zone, typed.dead_zone_range), dead_zone)}
            {row(layer_words::FULL_THROW, number::percent(typed.full_throw), full_throw)}
            {row(host_words::HOST_EXPONENT, number::exponent(typed.exponent), curve)}
        }
    });
    view! { <table><tbody>{three} {more(body, &settings)}</tbody></table> }
}

/// What was chosen beyond the three.
fn more(body: &SummaryBody, settings: &Settings) -> impl IntoView + use<> {
    let counts_on_centre = body.dead_zone_counts_on_centre();
    super::sheet_found::chosen(settings, without_smoothing(body), counts_on_centre)
        .into_iter()
        .map(|(name, text)| {
            view! { <tr><th scope="row">{name}</th><td colspan="2"><strong>{text}</strong></td></tr> }
        })
        .collect_view()
}

/// One setting.
fn row(name: &'static str, figure: String, standing: Standing) -> impl IntoView {
    let (figure, word) = match standing {
        Standing { suggestion: Some((sureness, true)), .. } => {
            (figure, view! { <Word sureness/> }.into_any())
        }
        Standing { decided: Err(_), .. } => {
            (words::NO_NUMBER.to_owned(), view! { <Word sureness=Sureness::NotEnough/> }.into_any())
        }
        _ => (figure, view! { <span class="word">{words::BY_HAND}</span> }.into_any()),
    };
    view! {
        <tr>
            <th scope="row">{name}</th>
            <td><strong>{figure}</strong></td>
            <td>{word}</td>
        </tr>
    }
}
