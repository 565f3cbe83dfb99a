//! Files out, and the clipboard.

use crate::errors::Trouble;
use wasm_bindgen::{JsCast, JsValue};

/// How long the address of an offered file is kept.
const KEPT_MILLISECONDS: u32 = 30_000;

/// Our own files.
pub const JSON: &str = "application/json";
/// Plain text.
pub const TEXT: &str = "text/plain";
/// A recording as a table.
pub const CSV: &str = "text/csv";

/// Offers `text` to the person as one of our own files. Nothing leaves the machine.
///
/// # Errors
/// [`Trouble::Unexpected`] where the browser refuses.
pub fn offer(name: &str, text: &str) -> Result<(), Trouble> {
    offer_as(name, text, JSON)
}

/// The same for a file of the media type `kind`.
///
/// # Errors
/// [`Trouble::Unexpected`] where the browser refuses.
pub fn offer_as(name: &str, text: &str, kind: &str) -> Result<(), Trouble> {
    try_offer(name, text, kind).map_err(|error| {
        crate::errors::note(Trouble::Unexpected, &format!("file: {error:?}"));
        Trouble::Unexpected
    })
}

fn try_offer(name: &str, text: &str, kind: &str) -> Result<(), JsValue> {
    offer_blob(name, &blob_of(text, kind)?)
}

fn blob_of(text: &str, kind: &str) -> Result<web_sys::Blob, JsValue> {
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let properties = web_sys::BlobPropertyBag::new();
    properties.set_type(kind);
    web_sys::Blob::new_with_str_sequence_and_options(&parts, &properties)
}

/// An address within this page for a text of the media type `kind`; to be taken back by the caller.
///
/// # Errors
/// What the browser throws.
pub fn address_of(text: &str, kind: &str) -> Result<String, JsValue> {
    web_sys::Url::create_object_url_with_blob(&blob_of(text, kind)?)
}

/// Offers what the browser made as a file.
///
/// # Errors
/// What the browser throws.
pub fn offer_blob(name: &str, blob: &web_sys::Blob) -> Result<(), JsValue> {
    let address = web_sys::Url::create_object_url_with_blob(blob)?;
    let anchor: web_sys::HtmlAnchorElement =
        gloo_utils::document().create_element("a")?.unchecked_into();
    anchor.set_href(&address);
    anchor.set_download(name);
    anchor.click();
    // Some browsers read the address only a moment after the click.
    gloo_timers::callback::Timeout::new(KEPT_MILLISECONDS, move || {
        // An address that is gone already needs no taking back.
        let _ = web_sys::Url::revoke_object_url(&address);
    })
    .forget();
    Ok(())
}

/// Copies text to the clipboard.
///
/// # Errors
/// [`Trouble::ClipboardRefused`] where the browser refuses.
pub async fn copy(text: &str) -> Result<(), Trouble> {
    let clipboard = gloo_utils::window().navigator().clipboard();
    // Outside a secure context there is no clipboard at all.
    if JsValue::from(&clipboard).is_undefined() {
        return Err(Trouble::ClipboardRefused);
    }
    wasm_bindgen_futures::JsFuture::from(clipboard.write_text(text))
        .await
        .map(|_| ())
        .map_err(|_| Trouble::ClipboardRefused)
}
