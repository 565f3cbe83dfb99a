//! A paper as it will be printed: made from the facts of the visit, with what was written by hand
//! in its place.

use super::live::part;
use super::path::keep_said;
use super::place_drawing::PlaceDrawing;
use super::sheet::{date, device};
use super::sheet_numbers::typed;
use crate::state::{App, Decided};
use crate::store::now_epoch_ms;
use crate::words::{hand_over as sheet_words, papers as words, ready};
use fitting::papers::Facts;
use fitting::summary::Summary;
use fitting::visit::{LoanDay, MOST_LOAN_DAYS, Paper, PaperPart};
use leptos::html;
use leptos::prelude::*;
use std::sync::Arc;

/// What a paper is made from. Nothing of it changes while its screen is shown.
#[derive(Clone, Debug)]
pub struct Making {
    /// Which paper.
    pub paper: Paper,
    /// The summary behind it.
    pub summary: Summary,
    /// The facts.
    pub facts: Facts,
    /// What is suggested for each of its parts.
    suggested: Vec<(PaperPart, Suggestion)>,
}

/// What is suggested for a part.
#[derive(Clone, Debug, Default)]
pub struct Suggestion {
    /// All that there is to say.
    pub whole: String,
    /// As much of it as there is room for.
    pub fitting: String,
}

impl Suggestion {
    fn of(part: PaperPart, whole: String) -> Self {
        let fitting = part.tidied(&whole);
        // Made plain, spaces that do not break are ordinary ones; where all of it fits they stay.
        let fitting = if whole.replace('\u{a0}', " ") == fitting { whole.clone() } else { fitting };
        Self { whole, fitting }
    }

    /// Whether there is more to say than room.
    pub fn is_cut(&self) -> bool {
        self.whole != self.fitting
    }
}

impl Making {
    /// Of the page's fitting; nothing without one.
    pub fn of(app: App, paper: Paper) -> Option<Arc<Self>> {
        let summary = app.summary()?;
        let mover = app.kind.get_untracked().mover;
        let mut facts = app.visit.with_untracked(|visit| Facts::of(visit, &summary.body, mover));
        let decided = Decided::of_summary(&summary.body);
        keep_said(&mut facts.typed.notes, &decided);
        // A step from a number that nobody has is none.
        facts.first.retain(|change| decided.has(change.number));
        let measured = sheet_words::made(&date(summary.made_epoch_ms), &device(&summary.body));
        let of = |part| Suggestion::of(part, words::suggested(part, &facts, &measured));
        let suggested = paper.parts().map(|part| (part, of(part))).collect();
        Some(Arc::new(Self { paper, summary, facts, suggested }))
    }

    /// What is suggested for a part.
    pub fn suggested(&self, part: PaperPart) -> Suggestion {
        let found = self.suggested.iter().find(|one| one.0 == part);
        found.map(|one| one.1.clone()).unwrap_or_default()
    }

    /// What stands in a part now.
    pub fn text(&self, app: App, part: PaperPart) -> String {
        app.visit.with(|visit| match visit.papers.edit(part) {
            Some(edit) => edit.text.clone(),
            None => self.suggested(part).fitting,
        })
    }

    /// The same, not tracked.
    pub fn text_untracked(&self, app: App, part: PaperPart) -> String {
        untrack(|| self.text(app, part))
    }
}

/// The paper.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn PaperView(
    /// What it is made from.
    making: Arc<Making>,
    /// The element, to see how long it is.
    node: NodeRef<html::Article>,
) -> impl IntoView {
    let app = App::of_context();
    let body = &making.summary.body;
    let label = body.label.clone().unwrap_or_else(|| ready::UNNAMED.to_owned());
    let invented = (body.practised.as_deref().is_some_and(|code| code != "practice"))
        .then(|| view! { <p class="paper-notice">{sheet_words::INVENTED}</p> });
    let of = {
        let making = Arc::clone(&making);
        move |part: PaperPart| part_view(app, &making, part)
    };
    let (when, inner) = match making.paper {
        Paper::Handover => (making.summary.made_epoch_ms, handover(&making, &of)),
        Paper::Letter => (now_epoch_ms(), letter(&of)),
        Paper::Loan => (now_epoch_ms(), loan(app, &of)),
    };
    view! {
        <article class="paper" node_ref=node aria-label=words::PREVIEW>
            <header>
                <h2>{words::title(making.paper)}</h2>
                <p dir="auto">{label}", "{date(when)}</p>
            </header>
            {invented}
            {inner}
            <p class="paper-foot">{words::FOOT}</p>
        </article>
    }
}

/// A heading and its lines; nothing where the part was left out.
fn part_view(app: App, making: &Arc<Making>, of: PaperPart) -> AnyView {
    let making = Arc::clone(making);
    part(move || {
        let text = making.text(app, of);
        if text.is_empty() {
            return ().into_any();
        }
        let lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let lines = if lines.len() == 1 || is_address(of) {
            view! { <p class="lines" dir="auto">{text}</p> }.into_any()
        } else {
            let items = lines.into_iter().map(|line| view! { <li dir="auto">{line}</li> });
            view! { <ul>{items.collect_view()}</ul> }.into_any()
        };
        view! { <section><h3>{words::part(of)}</h3>{lines}</section> }.into_any()
    })
}

/// Whether lines are lines of an address or of a form, not points of a list.
const fn is_address(part: PaperPart) -> bool {
    matches!(
        part,
        PaperPart::LetterTo
            | PaperPart::LetterGoal
            | PaperPart::LetterFrom
            | PaperPart::LoanOut
            | PaperPart::LoanIn
            | PaperPart::LoanCleaned
    )
}

fn handover(making: &Making, of: &impl Fn(PaperPart) -> AnyView) -> AnyView {
    let drawn = making.facts.place.clone().filter(|_| making.facts.place_is_drawn);
    let drawing = drawn.map(|set_up| view! { <PlaceDrawing set_up/> });
    view! {
        {of(PaperPart::HandoverPlace)}
        {drawing}
        <div class="paper-two">
            <section>
                <h3>{sheet_words::SHEET_NUMBERS}</h3>
                {typed(&making.summary.body, &making.facts)}
                {of(PaperPart::HandoverType)}
            </section>
            {of(PaperPart::HandoverFirst)}
        </div>
        <div class="paper-two">
            {of(PaperPart::HandoverStop)}
            <div>{of(PaperPart::HandoverSkin)} {of(PaperPart::HandoverAsk)}</div>
        </div>
    }
    .into_any()
}

fn letter(of: &impl Fn(PaperPart) -> AnyView) -> AnyView {
    Paper::Letter.parts().map(of).collect_view().into_any()
}

fn loan(app: App, of: &impl Fn(PaperPart) -> AnyView) -> AnyView {
    view! {
        {of(PaperPart::LoanItem)}
        <div class="paper-two">{of(PaperPart::LoanParts)} {of(PaperPart::LoanCondition)}</div>
        <div class="paper-two">{of(PaperPart::LoanOut)} {of(PaperPart::LoanIn)}</div>
        {of(PaperPart::LoanCleaned)}
        <section>
            <h3 id="paper-diary">{words::DIARY_TITLE}</h3>
            {part(move || diary(app.visit.with(|visit| visit.papers.diary.clone())))}
        </section>
    }
    .into_any()
}

/// The days that were written, and empty rows to write the others in by hand.
fn diary(days: Vec<LoanDay>) -> AnyView {
    let empty = MOST_LOAN_DAYS.saturating_sub(days.len());
    let rows = days
        .into_iter()
        .chain(std::iter::repeat_n(LoanDay::default(), empty))
        .map(|day| {
            let number =
                |number: Option<u32>| number.map_or_else(String::new, |one| one.to_string());
            view! {
                <tr>
                    <td dir="auto">{day.day}</td>
                    <td>{number(day.minutes)}</td>
                    <td>{number(day.comfort.map(u32::from))}</td>
                </tr>
            }
        })
        .collect_view();
    view! {
        <table class="paper-diary" aria-labelledby="paper-diary">
            <thead>
                <tr>
                    <th scope="col">{words::DIARY_DAY}</th>
                    <th scope="col">{words::DIARY_MINUTES}</th>
                    <th scope="col">{words::DIARY_COMFORT}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}

/// Whether a paper is longer than one page of any usual size: a copy of it is laid out as on paper,
/// out of sight, and taken away again. How large a page is, and the letters on it, the style sheet
/// says.
pub fn runs_over(paper: &web_sys::Element) -> bool {
    let document = gloo_utils::document();
    let Ok(page) = document.create_element("div") else { return false };
    page.set_class_name("paper-page");
    let laid = paper
        .clone_node_with_deep(true)
        .and_then(|copy| page.append_child(&copy))
        .and_then(|_| gloo_utils::body().append_child(&page));
    let over = laid.is_ok() && page.scroll_height() > page.client_height();
    page.remove();
    over
}
