//! Speech by a voice of this machine, and by no other: a voice elsewhere would be sent the words.

use wasm_bindgen::JsCast;
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance, SpeechSynthesisVoice};

/// The language of the page's words.
const LANGUAGE: &str = "en";
/// Somewhat slower than usual.
const PACE: f32 = 0.9;

fn speech() -> Option<SpeechSynthesis> {
    let window = web_sys::window()?;
    // A browser without speech has no such thing at all.
    let has = js_sys::Reflect::has(&window, &"speechSynthesis".into()).unwrap_or(false);
    if has { window.speech_synthesis().ok() } else { None }
}

/// The voice that is spoken with: of this machine, in the language of the page; `None` without one.
fn voice() -> Option<SpeechSynthesisVoice> {
    let voices = speech()?.get_voices();
    let mut own = voices
        .iter()
        .map(JsCast::unchecked_into::<SpeechSynthesisVoice>)
        .filter(|voice| voice.local_service() && voice.lang().starts_with(LANGUAGE));
    let first = own.next()?;
    if first.default() {
        Some(first)
    } else {
        own.find(SpeechSynthesisVoice::default).or(Some(first))
    }
}

/// The name of that voice.
pub fn voice_name() -> Option<String> {
    voice().map(|voice| voice.name().chars().take(60).collect())
}

/// Says a sentence, in place of what is being said; nothing without a voice of this machine.
pub fn say(text: &str, volume: u8) {
    let (Some(speech), Some(voice)) = (speech(), voice()) else { return };
    speech.cancel();
    let Ok(utterance) = SpeechSynthesisUtterance::new_with_text(text) else { return };
    utterance.set_voice(Some(&voice));
    utterance.set_lang(&voice.lang());
    utterance.set_rate(PACE);
    utterance.set_volume(f32::from(volume.min(100)) / 100.0);
    speech.speak(&utterance);
}

/// Says nothing more.
pub fn hush() {
    if let Some(speech) = speech() {
        speech.cancel();
    }
}
