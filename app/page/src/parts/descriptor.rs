//! A pasted report descriptor, and what any device says of itself.

use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when, yes};
use crate::state::{App, Judged};
use crate::words::descriptor as words;
use crate::words::through::speech;
use device::hid::{self, HidDevice};
use device::through::Speech;
use leptos::prelude::*;

/// The field for pasting, what is wrong with the text, and what it says.
#[component]
pub fn Descriptor() -> impl IntoView {
    let app = App::of_context();
    let pasted = StoredValue::new(String::new());
    let wrong = RwSignal::new(String::new());
    let kept = Memo::new(move |_| app.visit.with(|visit| visit.devices.descriptor.clone()));
    let read = move |_| match bytes_of(&pasted.get_value()) {
        Ok(bytes) => {
            let hex = bytes.iter().map(|byte| format!("{byte:02X}")).collect();
            wrong.set(String::new());
            app.change_visit(|visit| visit.devices.descriptor = hex);
            app.judged.set(Some(Judged::Pasted));
        }
        Err(error) => wrong.set(error),
    };
    let forget = move |_| {
        app.change_visit(|visit| visit.devices.descriptor.clear());
        if app.judged.get_untracked() == Some(Judged::Pasted) {
            app.judged.set(None);
        }
        mend_focus();
    };
    let has_one = move || kept.with(|hex| !hex.is_empty());
    let said = move || {
        let wrong = wrong.get();
        match kept.with(String::len) / 2 {
            0 => wrong,
            bytes if wrong.is_empty() => words::read(bytes),
            _ => format!("{wrong} {}", words::KEPT),
        }
    };
    view! {
        <details class="answers" open=yes(has_one)>
            <summary><span class="answers-head"><strong>{words::TITLE}</strong></span></summary>
            <div class="answers-content">
                <p>{words::WHAT}</p>
                <p class="soft small">{words::HOW} " " <code>{words::COMMAND}</code></p>
                <div class="answer">
                    <label for="descriptor">{words::FIELD}</label>
                    <textarea
                        id="descriptor"
                        rows="6"
                        spellcheck="false"
                        autocapitalize="off"
                        maxlength=hid::text::MOST_TEXT_BYTES.to_string()
                        aria-describedby="descriptor-help"
                        on:input=move |event| pasted.set_value(event_target_value(&event))
                    ></textarea>
                    <p id="descriptor-help" class="soft small">{words::FIELD_HELP}</p>
                </div>
                <div class="controls">
                    <button type="button" on:click=read>{words::READ}</button>
                    {when(has_one, move || view! {
                        <button type="button" on:click=forget>{words::FORGET}</button>
                    }.into_any())}
                </div>
                <p role="status">{text(said)}</p>
                {part(move || app.pasted_device().as_ref().map(told).into_any())}
            </div>
        </details>
    }
}

/// The bytes of a descriptor that can be read.
fn bytes_of(text: &str) -> Result<Vec<u8>, String> {
    let bytes = hid::text::bytes(text).map_err(words::text_error)?;
    hid::read(&bytes).map_err(words::fault)?;
    Ok(bytes)
}

/// What a device says of itself: as what it speaks, its axes, hats, buttons and reports.
pub fn told(device: &HidDevice) -> AnyView {
    let mut speaks: Vec<String> =
        device.applications().map(|usage| speech(Speech::of_usage(usage.0))).collect();
    speaks.dedup();
    let axes = device.axes.iter().map(|axis| {
        let [name, rest @ ..] = words::axis(axis);
        let cells = rest.into_iter().map(|cell| view! { <td>{cell}</td> }).collect_view();
        view! { <tr><th scope="row">{name}</th>{cells}</tr> }
    });
    let axes = axes.collect_view();
    let columns =
        words::COLUMNS.into_iter().map(|name| view! { <th scope="col">{name}</th> }).collect_view();
    let mut lines: Vec<String> = device.hats.iter().map(words::hat).collect();
    lines.push(words::buttons(device.buttons.len()));
    lines.extend(device.reports.iter().map(words::report));
    lines.extend(device.remarks.iter().map(words::remark));
    let lines = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view();
    view! {
        <h3>{words::SAYS}</h3>
        <ul>{speaks.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
        {(!device.axes.is_empty()).then(|| view! {
            <div class="wide" role="region" aria-label=words::AXES tabindex="0">
                <table>
                    <thead><tr>{columns}</tr></thead>
                    <tbody>{axes}</tbody>
                </table>
            </div>
        })}
        <ul>{lines}</ul>
    }
    .into_any()
}
