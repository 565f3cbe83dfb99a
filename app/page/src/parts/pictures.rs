//! The pictures of a screen as files: as drawings (SVG) and as images (PNG).
//!
//! A drawing of the page has its colours from the style sheets; a file has none. So what the browser
//! computed for each element is written to it as attributes (SVG 2, section 6.6).

use super::file;
use super::live::part;
use crate::errors::Trouble;
use crate::state::App;
use crate::words::share as words;
use gloo_events::EventListener;
use js_sys::Promise;
use leptos::prelude::*;
use wasm_bindgen::{JsCast, JsValue, prelude::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, Element, HtmlCanvasElement, HtmlImageElement};

/// What of a style a drawing is made of.
const PROPERTIES: [&str; 17] = [
    "fill",
    "fill-opacity",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "stroke-linecap",
    "stroke-linejoin",
    "stroke-opacity",
    "opacity",
    "font-family",
    "font-size",
    "font-weight",
    "text-anchor",
    "dominant-baseline",
    "visibility",
    "display",
    "vector-effect",
];

/// How many points wide an image is at least.
const WIDTH: f64 = 1_600.0;

/// The list of a screen's pictures, once it is asked for.
#[component]
pub fn Pictures() -> impl IntoView {
    let app = App::of_context();
    let names = RwSignal::new(None::<Vec<String>>);
    let list = move |_| names.set(Some(found().iter().map(name).collect()));
    view! {
        <section class="no-print" aria-label=words::PICTURES>
            <div class="controls">
                <button type="button" on:click=list>{words::PICTURES}</button>
            </div>
            <div role="status">{part(move || names.get().map(|names| listed(app, names)).into_any())}</div>
        </section>
    }
}

fn listed(app: App, names: Vec<String>) -> AnyView {
    if names.is_empty() {
        return view! { <p class="notice">{words::NO_PICTURES}</p> }.into_any();
    }
    let rows = names
        .into_iter()
        .enumerate()
        .map(|(place, name)| {
            let named = |what: &str| format!("{what}: {name}");
            let (svg_name, png_name) = (named(words::AS_SVG), named(words::AS_PNG));
            view! {
                <li>
                    <p>{name}</p>
                    <div class="controls">
                        <button type="button" aria-label=svg_name on:click=move |_| save(app, place, false)>
                            {words::AS_SVG}
                        </button>
                        <button type="button" aria-label=png_name on:click=move |_| save(app, place, true)>
                            {words::AS_PNG}
                        </button>
                    </div>
                </li>
            }
        })
        .collect_view();
    view! { <p class="soft">{words::PICTURES_HELP}</p> <ul class="pictures">{rows}</ul> }.into_any()
}

/// The pictures of the screen, in their order.
fn found() -> Vec<Element> {
    let Ok(all) = document().query_selector_all("main svg.plot") else { return Vec::new() };
    (0..all.length()).filter_map(|place| all.item(place)?.dyn_into().ok()).collect()
}

/// What a picture shows, in its first words.
fn name(picture: &Element) -> String {
    let told = picture.get_attribute("aria-label").unwrap_or_default();
    let sentence = told.split_inclusive(['.', ':']).next().unwrap_or_default();
    let short: String = sentence.trim_end_matches([':', '.']).chars().take(80).collect();
    if short.is_empty() { words::PICTURE.to_owned() } else { short }
}

fn save(app: App, place: usize, as_image: bool) {
    leptos::task::spawn_local(async move {
        let Some(picture) = found().into_iter().nth(place) else { return };
        let name = format!("stick-picture-{}", place + 1);
        let done = match standing_alone(&picture) {
            Ok((text, _)) if !as_image => {
                file::offer_as(&format!("{name}.svg"), &text, "image/svg+xml")
                    .map_err(|_| JsValue::NULL)
            }
            Ok((text, sides)) => offer_image(&format!("{name}.png"), &text, sides).await,
            Err(error) => Err(error),
        };
        if let Err(error) = done {
            app.tell(Trouble::Unexpected, &format!("picture: {error:?}"));
        }
    });
}

/// The drawing as text that needs no style sheet, and its sides.
fn standing_alone(picture: &Element) -> Result<(String, (f64, f64)), JsValue> {
    let copy: Element = picture.clone_node_with_deep(true)?.unchecked_into();
    let view = picture.get_attribute("viewBox").unwrap_or_default();
    let numbers: Vec<f64> = view.split_whitespace().filter_map(|one| one.parse().ok()).collect();
    let &[left, top, width, height] = numbers.as_slice() else { return Err("viewBox".into()) };
    styled(picture, &copy)?;
    let scale = (WIDTH / width).max(1.0);
    let sides = (width * scale, height * scale);
    copy.set_attribute("xmlns", "http://www.w3.org/2000/svg")?;
    for (side, long) in [("width", sides.0), ("height", sides.1)] {
        copy.set_attribute(side, &format!("{long:.0}"))?;
    }
    copy.remove_attribute("class")?;
    // The paper it lies on: dark colours on nothing cannot be read in a dark document.
    let paper = document().create_element_ns(Some("http://www.w3.org/2000/svg"), "rect")?;
    let sides_of_paper = [("x", left), ("y", top), ("width", width), ("height", height)];
    for (side, long) in sides_of_paper {
        paper.set_attribute(side, &long.to_string())?;
    }
    let body: Element = document().body().ok_or("body")?.unchecked_into();
    paper.set_attribute("fill", &computed(&body, "background-color")?)?;
    copy.insert_before(&paper, copy.first_child().as_ref())?;
    Ok((web_sys::XmlSerializer::new()?.serialize_to_string(&copy)?, sides))
}

/// Gives an element's copy, and all in it, the look that the browser computed.
fn styled(shown: &Element, copy: &Element) -> Result<(), JsValue> {
    let style = window().get_computed_style(shown)?.ok_or("style")?;
    for property in PROPERTIES {
        let value = style.get_property_value(property)?;
        if !value.is_empty() {
            copy.set_attribute(property, &value)?;
        }
    }
    copy.remove_attribute("class")?;
    let (inside, copies) = (shown.children(), copy.children());
    for place in 0..inside.length() {
        if let (Some(shown), Some(copy)) = (inside.item(place), copies.item(place)) {
            styled(&shown, &copy)?;
        }
    }
    Ok(())
}

fn computed(element: &Element, property: &str) -> Result<String, JsValue> {
    window().get_computed_style(element)?.ok_or("style")?.get_property_value(property)
}

async fn offer_image(name: &str, drawing: &str, sides: (f64, f64)) -> Result<(), JsValue> {
    let address = file::address_of(drawing, "image/svg+xml")?;
    let image = HtmlImageElement::new()?;
    let loaded = Promise::new(&mut |resolve, reject| {
        EventListener::once(&image, "load", move |_| drop(resolve.call0(&JsValue::NULL))).forget();
        EventListener::once(&image, "error", move |_| drop(reject.call0(&JsValue::NULL))).forget();
    });
    image.set_src(&address);
    let loaded = JsFuture::from(loaded).await;
    web_sys::Url::revoke_object_url(&address)?;
    loaded?;
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
    canvas.set_width(sides.0 as u32);
    canvas.set_height(sides.1 as u32);
    let context: web_sys::CanvasRenderingContext2d =
        canvas.get_context("2d")?.ok_or("2d")?.unchecked_into();
    context.draw_image_with_html_image_element_and_dw_and_dh(&image, 0.0, 0.0, sides.0, sides.1)?;
    let mut refused = None;
    let blob = Promise::new(&mut |resolve, _| {
        let taken =
            Closure::once_into_js(move |blob: JsValue| drop(resolve.call1(&JsValue::NULL, &blob)));
        refused = canvas.to_blob(taken.unchecked_ref()).err();
    });
    if let Some(error) = refused {
        return Err(error);
    }
    let blob: Blob = JsFuture::from(blob).await?.dyn_into()?;
    file::offer_blob(name, &blob)
}
