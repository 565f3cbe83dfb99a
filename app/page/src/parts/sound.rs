//! Soft tones, by the browser's own sound.

use fitting::tones::{FALL_SECONDS, Heard, RISE_SECONDS, Tone, tones};
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use web_sys::AudioContext;

thread_local! {
    /// Made when somebody first wants to hear something: a browser lets a page sound only after
    /// that.
    static CONTEXT: std::cell::RefCell<Option<AudioContext>> = const { std::cell::RefCell::new(None) };
}

/// Makes ready to sound: called where somebody pressed something.
pub fn wake() {
    // A machine without sound shows everything all the same.
    let Some(context) = context().or_else(|| AudioContext::new().ok()) else { return };
    // A refusal leaves it silent.
    let _ = context.resume();
    CONTEXT.set(Some(context));
}

/// Cloned, so that nothing is borrowed while the browser is called.
fn context() -> Option<AudioContext> {
    CONTEXT.with_borrow(Clone::clone)
}

/// Lets hear what is told, at `volume` percent.
pub fn play(heard: Heard, volume: u8) {
    wake();
    if let Some(context) = context() {
        for tone in tones(heard, volume) {
            // One tone less is no loss.
            let _ = sound(&context, tone);
        }
    }
}

/// The same a moment later, so that nothing of it is in the way of what is drawn now.
pub fn play_soon(heard: Heard, volume: u8) {
    set_timeout(move || play(heard, volume), std::time::Duration::ZERO);
}

fn sound(context: &AudioContext, tone: Tone) -> Result<(), JsValue> {
    let begins = context.current_time() + tone.after_seconds;
    let ends = begins + tone.seconds;
    let (source, loudness) = (context.create_oscillator()?, context.create_gain()?);
    let side = context.create_stereo_panner()?;
    source.frequency().set_value(tone.hertz as f32);
    side.pan().set_value(tone.pan as f32);
    let gain = loudness.gain();
    gain.set_value_at_time(0.0, begins)?;
    gain.linear_ramp_to_value_at_time(tone.loudness as f32, begins + RISE_SECONDS)?;
    gain.set_value_at_time(tone.loudness as f32, ends - FALL_SECONDS)?;
    gain.linear_ramp_to_value_at_time(0.0, ends)?;
    source.connect_with_audio_node(&loudness)?;
    loudness.connect_with_audio_node(&side)?;
    side.connect_with_audio_node(&context.destination())?;
    source.start_with_when(begins)?;
    source.stop_with_when(ends)
}
