//! Which screen is shown: the hash of the address, and nothing else.
//!
//! A hash works from any static path, offline, and in a link; what stands behind it is never
//! sent to a server. Anything unknown leads to [`Screen::Ready`].

use fitting::visit::Paper;
use gloo_events::EventListener;
use leptos::prelude::*;

/// The longest link fragment that is looked at, in characters; what is longer is cut here and
/// then refused by the reader of links.
pub const LONGEST_FRAGMENT: usize = 4_000;

/// The screens of the page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Screen {
    /// What this is, and the short safety check.
    #[default]
    Ready,
    /// How the person is today.
    Today,
    /// Where the person and the stick are.
    SetUp,
    /// Looking for the body part.
    Sites,
    /// The stick: connecting it, and the live view.
    Stick,
    /// Who is speaking: game controller, mouse or keyboard.
    Speaks,
    /// What of a device gets through a host.
    Through,
    /// Several devices at once.
    Together,
    /// Which button does which job.
    Buttons,
    /// A host of one's own.
    Host,
    /// What to look for in a stick.
    Choosing,
    /// What to ask its maker.
    Questions,
    /// The guided tasks.
    Measure,
    /// The settings found, with their reasons.
    Settings,
    /// Every figure, for researchers.
    Details,
    /// Trying the settings.
    Try,
    /// The papers to choose from, and the summary as a file and a link.
    HandOver,
    /// The summary as a sheet.
    Summary,
    /// A paper that can be changed.
    Paper(Paper),
    /// What was kept in this browser.
    Kept,
    /// A summary that came in a link: the link's fragment, without its `#`. Untrusted.
    Shared(String),
}

impl Screen {
    /// The screens with a fixed address, in the order in which they are used.
    pub const FIXED: [Self; 22] = [
        Self::Ready,
        Self::Today,
        Self::SetUp,
        Self::Sites,
        Self::Stick,
        Self::Speaks,
        Self::Through,
        Self::Together,
        Self::Buttons,
        Self::Host,
        Self::Choosing,
        Self::Questions,
        Self::Measure,
        Self::Settings,
        Self::Details,
        Self::Try,
        Self::HandOver,
        Self::Summary,
        Self::Paper(Paper::Handover),
        Self::Paper(Paper::Letter),
        Self::Paper(Paper::Loan),
        Self::Kept,
    ];

    /// The screen for a hash, with or without its `#`.
    #[must_use]
    pub fn of_hash(hash: &str) -> Self {
        let fragment = hash.strip_prefix('#').unwrap_or(hash);
        if let Some(shared) = fragment.strip_prefix("/shared/") {
            return Self::Shared(cut(shared));
        }
        if is_link(fragment) {
            return Self::Shared(cut(fragment));
        }
        Self::FIXED
            .into_iter()
            .find(|screen| screen.name() == fragment.strip_prefix('/'))
            .unwrap_or_default()
    }

    /// The hash of this screen, with its `#`.
    #[must_use]
    pub fn hash(&self) -> String {
        match (self, self.name()) {
            (Self::Shared(fragment), _) => format!("#/shared/{fragment}"),
            (_, Some(name)) => format!("#/{name}"),
            (_, None) => String::from("#/ready"),
        }
    }

    /// The screen of the way along the top that this one belongs to, where it is not one itself.
    #[must_use]
    pub fn belongs_to(&self) -> Option<Self> {
        match self {
            Self::Today | Self::SetUp | Self::Sites => Some(Self::Ready),
            Self::Speaks
            | Self::Through
            | Self::Together
            | Self::Buttons
            | Self::Host
            | Self::Choosing
            | Self::Questions => Some(Self::Stick),
            Self::Details => Some(Self::Settings),
            Self::Summary | Self::Paper(_) => Some(Self::HandOver),
            _ => None,
        }
    }

    /// The word that stands for a fixed screen in the address.
    const fn name(&self) -> Option<&'static str> {
        match self {
            Self::Ready => Some("ready"),
            Self::Today => Some("today"),
            Self::SetUp => Some("set-up"),
            Self::Sites => Some("sites"),
            Self::Stick => Some("stick"),
            Self::Speaks => Some("who-speaks"),
            Self::Through => Some("what-gets-through"),
            Self::Together => Some("together"),
            Self::Buttons => Some("buttons"),
            Self::Host => Some("host"),
            Self::Choosing => Some("choosing"),
            Self::Questions => Some("questions"),
            Self::Measure => Some("measure"),
            Self::Settings => Some("settings"),
            Self::Details => Some("details"),
            Self::Try => Some("try"),
            Self::HandOver => Some("hand-over"),
            Self::Summary => Some("summary"),
            Self::Paper(Paper::Handover) => Some("handover-sheet"),
            Self::Paper(Paper::Letter) => Some("need-letter"),
            Self::Paper(Paper::Loan) => Some("loan-card"),
            Self::Kept => Some("kept"),
            Self::Shared(_) => None,
        }
    }
}

/// Whether a fragment looks like a summary's link: `s`, a version in digits, a full stop.
fn is_link(fragment: &str) -> bool {
    fragment.strip_prefix('s').and_then(|rest| rest.split_once('.')).is_some_and(|(version, _)| {
        (1..=3).contains(&version.len()) && version.bytes().all(|byte| byte.is_ascii_digit())
    })
}

fn cut(fragment: &str) -> String {
    fragment.chars().take(LONGEST_FRAGMENT).collect()
}

/// The screen the address stands for now.
#[must_use]
pub fn current() -> Screen {
    Screen::of_hash(&window().location().hash().unwrap_or_default())
}

/// Goes to a screen. The address changes, and with it the signal of [`use_route`]; the browser's
/// own Back leads back.
///
/// A browser that refuses to change the address leaves everything as it is.
pub fn go(screen: &Screen) {
    if window().location().set_hash(&screen.hash()).is_err() {
        crate::errors::note(crate::errors::Trouble::Unexpected, "the address could not be set");
    }
}

/// The shown screen as a signal. The first call (in the page's root) starts to follow the
/// address; later calls under the same owner get the same signal.
pub fn use_route() -> RwSignal<Screen> {
    if let Some(signal) = use_context::<RwSignal<Screen>>() {
        return signal;
    }
    let signal = RwSignal::new(current());
    let follow = EventListener::new(&window(), "hashchange", move |_| {
        let screen = current();
        if signal.try_with_untracked(|shown| *shown != screen).unwrap_or(false) {
            signal.set(screen);
        }
    });
    // Held by the root's owner; dropped, and thereby removed, with it.
    let follow = StoredValue::new_local(Some(follow));
    on_cleanup(move || {
        let _ = follow.try_update_value(Option::take);
    });
    provide_context(signal);
    signal
}
