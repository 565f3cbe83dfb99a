//! Sources of our own, the practice stick and invented people, made to speak like a device:
//! their states go through the same [`Watcher`] as the browser's.

use device::gamepad::{PadState, WatchEvent, Watcher};
use fitting::{
    Sample,
    invented::{Invented, Player},
    task::TaskView,
};

use super::{practice::PracticeStick, status::Source};

/// The seed of the invented people: the same person does the same things at every visit.
pub const INVENTED_SEED: u64 = 20_251_125;

/// A source of our own.
#[derive(Debug)]
pub(super) struct Own {
    watcher: Watcher,
    state: PadState,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    Practice,
    Person(Box<Person>),
}

#[derive(Debug)]
struct Person {
    player: Player,
    asked: Option<TaskView>,
    /// The page's clock when the person sat down, seconds: their own clock starts at 0.
    began_seconds: f64,
}

/// How many axes and buttons the stick of such a source has; nothing of a device, which says so
/// itself.
pub(super) fn controls(source: Source) -> Option<(usize, usize)> {
    match source {
        Source::Practice => {
            let stick = PracticeStick::default();
            Some((stick.axes().len(), stick.buttons().len()))
        }
        Source::Invented(who) => {
            let stick = who.model().stick;
            Some((2 + stick.extra_axes.len(), stick.buttons))
        }
        Source::Pad(_) | Source::Fed => None,
    }
}

impl Own {
    /// The practice stick.
    pub(super) fn practice() -> Self {
        Self::new("practice stick", Kind::Practice)
    }

    /// An invented person who sits down now.
    pub(super) fn person(who: Invented, now_seconds: f64) -> Self {
        let player = Player::new(who.model(), INVENTED_SEED);
        let person = Person { player, asked: None, began_seconds: now_seconds };
        Self::new("invented stick", Kind::Person(Box::new(person)))
    }

    fn new(id: &str, kind: Kind) -> Self {
        let state = PadState { id: id.to_owned(), connected: true, ..PadState::default() };
        Self { watcher: Watcher::default(), state, kind }
    }

    /// Tells an invented person what is asked.
    pub(super) fn ask(&mut self, asked: Option<TaskView>) {
        if let Kind::Person(person) = &mut self.kind {
            person.asked = asked;
        }
    }

    /// What an invented person answers when asked how hard a hold was.
    pub(super) fn effort(&self) -> Option<u8> {
        match &self.kind {
            Kind::Person(person) => person.player.effort(person.asked.as_ref()?),
            Kind::Practice => None,
        }
    }

    /// Moves on to now; the new state, if it changed.
    pub(super) fn advance(
        &mut self,
        now_seconds: f64,
        stick: &mut PracticeStick,
    ) -> Option<Sample> {
        let now_ms = now_seconds * 1000.0;
        match &mut self.kind {
            Kind::Practice => {
                stick.advance(now_seconds);
                self.state.axes = stick.axes().to_vec();
                self.state.buttons = stick.buttons().to_vec();
                self.state.timestamp_ms = now_ms;
            }
            Kind::Person(person) => {
                let own_seconds = now_seconds - person.began_seconds;
                let sample = person.player.advance(own_seconds, person.asked.as_ref())?;
                // The stamp is the arrival, as a browser's: not after now.
                let arrival_seconds = person.began_seconds + sample.arrival_seconds;
                self.state.timestamp_ms = (arrival_seconds * 1000.0).min(now_ms);
                self.state.axes = sample.axes;
                self.state.buttons = sample.buttons;
            }
        }
        let events = self.watcher.observe(now_ms, std::slice::from_ref(&Some(self.state.clone())));
        events.into_iter().rev().find_map(|event| match event {
            WatchEvent::Changed { sample, .. } => Some(sample),
            WatchEvent::Connected { .. } | WatchEvent::Gone { .. } => None,
        })
    }
}
