//! Rows of questions: a text, a number, one of a few, a scale. Every one may stay empty.
//!
//! The closures are boxed, so that all rows share one copy of the drawing code.

use super::live::{attribute, yes};
use super::tick::choice_in_row;
use crate::words::answer as words;
use fitting::summary::{MOST_LABEL_CHARACTERS, MOST_NOTE_CHARACTERS, plain_lines, plain_text};
use leptos::prelude::*;
use std::sync::Arc;

type Reads<T> = Arc<dyn Fn() -> T + Send + Sync>;
type Takes<T> = Arc<dyn Fn(T) + Send + Sync>;

/// A row that reads and writes a value of one type.
pub struct Row<T> {
    get: Reads<T>,
    set: Takes<T>,
}

impl<T> Clone for Row<T> {
    fn clone(&self) -> Self {
        Self { get: Arc::clone(&self.get), set: Arc::clone(&self.set) }
    }
}

impl<T: 'static> Row<T> {
    /// A row from what reads the value (tracked) and what takes a new one in.
    pub fn new(
        get: impl Fn() -> T + Send + Sync + 'static,
        set: impl Fn(T) + Send + Sync + 'static,
    ) -> Self {
        Self { get: Arc::new(get), set: Arc::new(set) }
    }
}

/// A text on one line. `id` is that of the field.
pub fn line(
    id: impl Into<String>,
    name: &'static str,
    help: Option<&'static str>,
    row: Row<String>,
) -> AnyView {
    text(id.into(), name, help, row, false)
}

/// What was typed or pasted into a field of one line, made plain, as the field shows it from now on.
pub fn typed_line(event: &web_sys::Event) -> String {
    let text = plain_text(&event_target_value(event), MOST_LABEL_CHARACTERS);
    shown_again(event, &text);
    text
}

/// The same of several lines.
pub fn typed_lines(event: &web_sys::Event) -> String {
    let text = plain_lines(&event_target_value(event), MOST_NOTE_CHARACTERS);
    shown_again(event, &text);
    text
}

fn shown_again(event: &web_sys::Event, text: &str) {
    let Some(field) = event.target() else { return };
    // A property of the browser's own, of fields of either kind.
    let _ = js_sys::Reflect::set(&field, &"value".into(), &text.into());
}

/// A text of several lines.
pub fn lines(
    id: &'static str,
    name: &'static str,
    help: Option<&'static str>,
    row: Row<String>,
) -> AnyView {
    text(id.to_owned(), name, help, row, true)
}

fn text(
    id: String,
    name: &'static str,
    help: Option<&'static str>,
    Row { get, set }: Row<String>,
    several: bool,
) -> AnyView {
    let help_id = help.map(|_| format!("{id}-help"));
    let value = attribute(move || get());
    let help = help.map(|help| {
        view! { <span id=format!("{id}-help") class="soft small">{help}</span> }
    });
    let of_field = id.clone();
    let field = if several {
        view! {
            <textarea
                id=id rows="2" maxlength="400" aria-describedby=help_id prop:value=value
                on:change=move |event| set(typed_lines(&event))
            ></textarea>
        }
        .into_any()
    } else {
        view! {
            <input
                id=id type="text" maxlength="80" autocomplete="off" aria-describedby=help_id
                prop:value=value
                on:change=move |event| set(typed_line(&event))
            />
        }
        .into_any()
    };
    view! { <div class="answer"><label for=of_field>{name}</label>{field}{help}</div> }.into_any()
}

/// A whole number from `low` to `high`.
pub fn number(
    id: impl Into<String>,
    name: &'static str,
    range: (u32, u32),
    row: Row<Option<u32>>,
) -> AnyView {
    whole_number(id.into(), name, range, row)
}

fn whole_number(
    id: String,
    name: &'static str,
    (low, high): (u32, u32),
    Row { get, set }: Row<Option<u32>>,
) -> AnyView {
    let of_field = id.clone();
    let value = attribute(move || get().map_or_else(String::new, |number| number.to_string()));
    view! {
        <div class="answer">
            <label for=of_field>{name}</label>
            <input
                id=id class="short" type="number" inputmode="numeric" min=low max=high step="1"
                prop:value=value
                on:change=move |event| {
                    let number = event_target_value(&event).parse::<f64>().ok();
                    let whole = number.filter(|number| number.is_finite()).map(f64::round);
                    // Held to the bounds first, so that nothing is cut.
                    set(whole.map(|whole| whole.clamp(f64::from(low), f64::from(high)) as u32));
                }
            />
        </div>
    }
    .into_any()
}

/// A length or an angle to one of two sides: how much, and which way. Positive is the first.
pub fn sided(
    id: &'static str,
    name: &'static str,
    most: u32,
    sides: [&'static str; 2],
    row: &Row<Option<i32>>,
) -> AnyView {
    // The side of 0 is remembered here alone: there is none in the number.
    let is_minus = untrack(|| (row.get)().is_some_and(|number| number < 0));
    let minus: RwSignal<bool> = RwSignal::new(is_minus);
    let signed = move |much: u32, minus: bool| {
        let much = i32::try_from(much).unwrap_or(i32::MAX);
        if minus { -much } else { much }
    };
    let (get, set) = (Arc::clone(&row.get), Arc::clone(&row.set));
    let much = Row::new(
        move || get().map(i32::unsigned_abs),
        move |much: Option<u32>| set(much.map(|much| signed(much, minus.get_untracked()))),
    );
    let side = {
        let (get, set) = (Arc::clone(&row.get), Arc::clone(&row.set));
        let is_minus = move || match get() {
            Some(number) if number != 0 => number < 0,
            _ => minus.get(),
        };
        let get = Arc::clone(&row.get);
        let options = sides
            .into_iter()
            .enumerate()
            .map(|(index, side)| {
                let is_minus = is_minus.clone();
                let chosen = yes(move || is_minus() == (index == 1));
                view! { <option value=index.to_string() selected=chosen>{side}</option> }
            })
            .collect_view();
        let side_name = words::side_of(name);
        view! {
            <select aria-label=side_name on:change=move |event| {
                let now = event_target_value(&event) == "1";
                minus.set(now);
                if let Some(number) = untrack(|| get()) {
                    set(Some(signed(number.unsigned_abs(), now)));
                }
            }>{options}</select>
        }
    };
    view! { <div class="sided">{number(id, name, (0, most), much)}{side}</div> }.into_any()
}

/// One of a few, by radio buttons; the last of `options` is that nothing is said. `name` names the
/// group for the browser and must be its own.
pub fn one_of(
    name: &str,
    question: &'static str,
    options: Vec<&'static str>,
    Row { get, set }: Row<usize>,
) -> AnyView {
    let options = options
        .into_iter()
        .enumerate()
        .map(|(index, option)| {
            let (get, set) = (Arc::clone(&get), Arc::clone(&set));
            choice_in_row(name, option, move || get() == index, move || set(index))
        })
        .collect_view();
    view! {
        <fieldset class="picks">
            <legend>{question}</legend>
            <div class="picks-row">{options}</div>
        </fieldset>
    }
    .into_any()
}

/// Yes, no, or not asked.
pub fn yes_or_no(name: &str, question: &'static str, row: &Row<Option<bool>>) -> AnyView {
    let (get, set) = (Arc::clone(&row.get), Arc::clone(&row.set));
    let row = Row::new(
        move || match get() {
            Some(true) => 0,
            Some(false) => 1,
            None => 2,
        },
        move |index| set([Some(true), Some(false)].get(index).copied().flatten()),
    );
    one_of(name, question, words::YES_NO.to_vec(), row)
}

/// A number of a scale from 0 to 10, or not said.
pub fn of_ten(
    id: &'static str,
    name: &'static str,
    help: &'static str,
    Row { get, set }: Row<Option<u8>>,
) -> AnyView {
    let options = (0..=10_u8)
        .map(|of_ten| {
            let get = Arc::clone(&get);
            let chosen = yes(move || get() == Some(of_ten));
            view! { <option value=of_ten.to_string() selected=chosen>{of_ten.to_string()}</option> }
        })
        .collect_view();
    let none = yes(move || get().is_none());
    view! {
        <div class="answer">
            <label for=id>{name}</label>
            <select
                id=id aria-describedby=format!("{id}-help")
                on:change=move |event| set(event_target_value(&event).parse().ok())
            >
                <option value="" selected=none>{words::NOT_SAID}</option>
                {options}
            </select>
            " "
            <span id=format!("{id}-help") class="soft small">{help}</span>
        </div>
    }
    .into_any()
}

/// A card that opens: its name, and in one line what was answered. It stays open until somebody
/// closes it: one that closed by itself would move what is looked at.
pub fn card(
    title: &'static str,
    answered: impl Fn() -> String + Send + Sync + 'static,
    content: AnyView,
) -> AnyView {
    let answered = attribute(answered);
    view! {
        <details class="answers">
            <summary>
                <span class="answers-head">
                    <strong>{title}</strong>
                    <span class="soft small" dir="auto">{answered}</span>
                </span>
            </summary>
            <div class="answers-content">{content}</div>
        </details>
    }
    .into_any()
}

/// A card that leads to a screen of its own: its name, and in one line what was answered there.
pub fn leads_to(
    screen: &crate::route::Screen,
    answered: impl Fn() -> String + Send + Sync + 'static,
) -> AnyView {
    view! {
        <a class="answers-link" href=screen.hash()>
            <strong>{crate::words::frame::screen(screen)}</strong>
            <span class="soft small" dir="auto">{attribute(answered)}</span>
        </a>
    }
    .into_any()
}
