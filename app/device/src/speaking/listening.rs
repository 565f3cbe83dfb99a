//! Listening to every kind of event together.

use crate::gamepad::DeviceKey;
use fitting::Sample;
use fitting::visit::{Heard, KeysHeard, MOST_HEARD, PadHeard, PointerHeard};

/// How long nobody is to touch anything at first, seconds: what speaks then is not the device.
pub const HANDS_OFF_SECONDS: f64 = 3.0;

/// A step ends by itself after this long without anything new, seconds.
pub const PATIENCE_SECONDS: f64 = 30.0;

/// The most controllers that are listened to at once.
const MOST_DEVICES: usize = 8;

/// An axis moved when it is this far from where it was at first, share of travel: well beyond
/// noise, and within the reach of a small movement.
const MOVED: f64 = 0.15;

/// A button at this value or above is pressed.
const PRESSED: f64 = 0.5;

/// What a pointer did so many seconds before or after somebody pressed a control of the page with
/// it was the way to that control, or back.
const WAY_TO_CONTROL_SECONDS: f64 = 2.0;

/// What is asked now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Touch nothing.
    HandsOff,
    /// Move the stick.
    Move,
    /// Press each button.
    Press,
    /// It is over.
    Over(EndedBy),
}

/// What ended the check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndedBy {
    /// The control on the page.
    Control,
    /// Escape: a person's, or the device's own.
    Escape,
    /// Tab: a person's, or the device's own.
    Tab,
    /// Nothing new for [`PATIENCE_SECONDS`].
    Silence,
}

/// A sort of key. What was typed is not taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// An arrow.
    Arrow,
    /// A letter, a digit or a sign.
    Letter,
    /// Space or Enter.
    SpaceOrEnter,
    /// Escape.
    Escape,
    /// Tab.
    Tab,
    /// Any other.
    Other,
}

impl Key {
    /// The sort of a key, from the place of it (`code`, W3C, UI Events `KeyboardEvent` code Values),
    /// or, where a browser knows none, from its value (`key`).
    #[must_use]
    pub fn of(code: &str, key: &str) -> Self {
        let name = if code.is_empty() || code == "Unidentified" { key } else { code };
        match name {
            "ArrowUp" | "ArrowDown" | "ArrowLeft" | "ArrowRight" => Self::Arrow,
            "Escape" => Self::Escape,
            "Tab" => Self::Tab,
            "Space" | "Enter" | "NumpadEnter" | " " => Self::SpaceOrEnter,
            "Minus" | "Equal" | "BracketLeft" | "BracketRight" | "Backslash" | "Semicolon"
            | "Quote" | "Backquote" | "Comma" | "Period" | "Slash" | "IntlBackslash" | "IntlRo"
            | "IntlYen" => Self::Letter,
            // A key value of one character is what it types.
            _ if name.starts_with("Key") || name.starts_with("Digit") => Self::Letter,
            _ if name.starts_with("Numpad") || name.chars().count() == 1 => Self::Letter,
            _ => Self::Other,
        }
    }
}

/// Something that spoke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event<'a> {
    /// The present state of a game controller; told at every look, changed or not.
    Pad {
        /// Which.
        key: DeviceKey,
        /// Its name, made plain.
        name: &'a str,
        /// Its state.
        sample: &'a Sample,
    },
    /// The pointer moved, CSS pixels to the right and down.
    PointerMoved {
        /// To the right.
        right: f64,
        /// Down.
        down: f64,
    },
    /// A pointer button went down.
    PointerPressed,
    /// The wheel turned.
    WheelTurned,
    /// A key went down.
    KeyPressed(Key),
}

#[derive(Clone, Debug)]
struct Pad {
    key: DeviceKey,
    first: Sample,
    pressed: Vec<bool>,
    heard: PadHeard,
}

/// A check that runs.
#[derive(Clone, Debug)]
pub struct Listening {
    step: Step,
    step_began_seconds: f64,
    last_news_seconds: f64,
    pads: Vec<Pad>,
    pointer: PointerHeard,
    /// What the pointer did before the last [`WAY_TO_CONTROL_SECONDS`] is counted above; these are
    /// the events since, with their time and what they add.
    recent: Vec<(f64, PointerHeard)>,
    keys: KeysHeard,
    unasked: bool,
}

impl Listening {
    /// Begins, with hands off.
    #[must_use]
    pub fn start(now_seconds: f64) -> Self {
        Self {
            step: Step::HandsOff,
            step_began_seconds: now_seconds,
            last_news_seconds: now_seconds,
            pads: Vec::new(),
            pointer: PointerHeard::default(),
            recent: Vec::new(),
            keys: KeysHeard::default(),
            unasked: false,
        }
    }

    /// What is asked now. Time alone leads on: from hands off to the movement, and from a step in
    /// which nothing new came for [`PATIENCE_SECONDS`] to the next.
    pub fn step(&mut self, now_seconds: f64) -> Step {
        match self.step {
            Step::HandsOff if now_seconds - self.step_began_seconds >= HANDS_OFF_SECONDS => {
                self.begin(Step::Move, now_seconds);
            }
            Step::Move if self.is_silent(now_seconds) => self.begin(Step::Press, now_seconds),
            Step::Press if self.is_silent(now_seconds) => {
                self.begin(Step::Over(EndedBy::Silence), now_seconds);
            }
            _ => {}
        }
        self.step
    }

    /// Seconds until the step ends by itself.
    #[must_use]
    pub fn seconds_left(&self, now_seconds: f64) -> f64 {
        let until = match self.step {
            Step::HandsOff => self.step_began_seconds + HANDS_OFF_SECONDS,
            Step::Move | Step::Press => self.last_news_seconds + PATIENCE_SECONDS,
            Step::Over(_) => now_seconds,
        };
        (until - now_seconds).max(0.0)
    }

    /// The control of the page for the next step was pressed: what the pointer did on the way to it
    /// was no device's.
    pub fn go_on(&mut self, now_seconds: f64) {
        self.recent.retain(|(at, _)| now_seconds - at > WAY_TO_CONTROL_SECONDS);
        match self.step {
            Step::HandsOff => self.begin(Step::Move, now_seconds),
            Step::Move => self.begin(Step::Press, now_seconds),
            Step::Press => self.begin(Step::Over(EndedBy::Control), now_seconds),
            Step::Over(_) => {}
        }
    }

    /// Takes in what spoke.
    pub fn take(&mut self, now_seconds: f64, event: Event<'_>) {
        let step = self.step(now_seconds);
        if matches!(step, Step::Over(_)) {
            return;
        }
        let hands_off = step == Step::HandsOff;
        let news = match event {
            Event::Pad { key, name, sample } => self.take_pad(key, name, sample, hands_off),
            _ if hands_off => {
                let by_key = matches!(event, Event::KeyPressed(_));
                let since = now_seconds - self.step_began_seconds;
                self.unasked |= by_key || since > WAY_TO_CONTROL_SECONDS;
                false
            }
            Event::PointerMoved { right, down } => {
                let pixels = libm::hypot(right, down);
                let pixels = if pixels.is_finite() { pixels.min(10_000.0) as u32 } else { 0 };
                let moved = PointerHeard { moves: 1, pixels, ..PointerHeard::default() };
                self.take_pointer(now_seconds, moved)
            }
            Event::PointerPressed => {
                let pressed = PointerHeard { presses: 1, ..PointerHeard::default() };
                self.take_pointer(now_seconds, pressed)
            }
            Event::WheelTurned => {
                let turned = PointerHeard { wheel: 1, ..PointerHeard::default() };
                self.take_pointer(now_seconds, turned)
            }
            Event::KeyPressed(key) => {
                self.take_key(key, now_seconds);
                true
            }
        };
        if news {
            self.last_news_seconds = now_seconds;
        }
    }

    /// What was heard so far.
    #[must_use]
    pub fn heard(&self) -> Heard {
        let mut pointer = self.pointer.clone();
        for (_, more) in &self.recent {
            add(&mut pointer, more);
        }
        let said = |pad: &&Pad| !(pad.heard.axes.is_empty() && pad.heard.buttons.is_empty());
        // Of several the one that said most; the first of those that said as much.
        let most = |pad: &&Pad| pad.heard.axes.len() + pad.heard.buttons.len();
        let loudest = self.pads.iter().filter(said).rev().max_by_key(most);
        Heard {
            pad: loudest.map(|pad| pad.heard.clone()),
            pointer: (pointer != PointerHeard::default()).then_some(pointer),
            keys: (self.keys.all() > 0).then(|| self.keys.clone()),
            unasked: self.unasked,
        }
    }

    fn begin(&mut self, step: Step, now_seconds: f64) {
        self.step = step;
        self.step_began_seconds = now_seconds;
        self.last_news_seconds = now_seconds;
    }

    fn is_silent(&self, now_seconds: f64) -> bool {
        now_seconds - self.last_news_seconds >= PATIENCE_SECONDS
    }

    /// A look at a controller; whether it said something new.
    fn take_pad(&mut self, key: DeviceKey, name: &str, sample: &Sample, hands_off: bool) -> bool {
        let place = self.pads.iter().position(|pad| pad.key == key);
        if place.is_none() && self.pads.len() < MOST_DEVICES {
            // One that shows itself only now was told of by a press: its buttons count from here.
            let heard = PadHeard { name: name.to_owned(), ..PadHeard::default() };
            let pressed = vec![false; sample.buttons.len()];
            self.pads.push(Pad { key, first: sample.clone(), pressed, heard });
        }
        let place = place.unwrap_or_else(|| self.pads.len().saturating_sub(1));
        let Some(pad) = self.pads.get_mut(place).filter(|pad| pad.key == key) else {
            return false;
        };
        let mut axes: Vec<u32> = Vec::new();
        for (index, (value, first)) in sample.axes.iter().zip(&pad.first.axes).enumerate() {
            if (value - first).abs() >= MOVED {
                axes.extend(u32::try_from(index));
            }
        }
        let mut buttons: Vec<u32> = Vec::new();
        for (index, value) in sample.buttons.iter().enumerate() {
            let down = *value >= PRESSED;
            let before = pad.pressed.get_mut(index).map(|held| std::mem::replace(held, down));
            if down && before == Some(false) {
                buttons.extend(u32::try_from(index));
            }
        }
        if hands_off {
            self.unasked |= !(axes.is_empty() && buttons.is_empty());
            // What it does by itself now is where it stands when the movement begins.
            pad.first = sample.clone();
            return false;
        }
        let heard = &mut pad.heard;
        let known = (heard.axes.len(), heard.buttons.len());
        heard.axes.extend(axes);
        heard.axes.sort_unstable();
        heard.axes.dedup();
        for button in buttons {
            if !heard.buttons.contains(&button) {
                heard.buttons.push(button);
            }
        }
        known != (heard.axes.len(), heard.buttons.len())
    }

    fn take_pointer(&mut self, now_seconds: f64, what: PointerHeard) -> bool {
        self.recent.push((now_seconds, what));
        let old = |(at, _): &(f64, PointerHeard)| now_seconds - at > WAY_TO_CONTROL_SECONDS;
        let settled = self.recent.iter().take_while(|one| old(one)).count();
        for (_, more) in self.recent.drain(..settled) {
            add(&mut self.pointer, &more);
        }
        true
    }

    fn take_key(&mut self, key: Key, now_seconds: f64) {
        let keys = &mut self.keys;
        let count = match key {
            Key::Arrow => &mut keys.arrows,
            Key::Letter => &mut keys.letters,
            Key::SpaceOrEnter => &mut keys.space_and_enter,
            Key::Escape => &mut keys.escape,
            Key::Tab => &mut keys.tab,
            Key::Other => &mut keys.others,
        };
        *count = count.saturating_add(1).min(MOST_HEARD);
        // These two lead a person out of anything: they end the check, whoever sent them.
        match key {
            Key::Escape => self.begin(Step::Over(EndedBy::Escape), now_seconds),
            Key::Tab => self.begin(Step::Over(EndedBy::Tab), now_seconds),
            _ => {}
        }
    }
}

fn add(to: &mut PointerHeard, more: &PointerHeard) {
    let sum = |one: u32, other: u32| one.saturating_add(other).min(MOST_HEARD);
    to.moves = sum(to.moves, more.moves);
    to.pixels = sum(to.pixels, more.pixels);
    to.presses = sum(to.presses, more.presses);
    to.wheel = sum(to.wheel, more.wheel);
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
