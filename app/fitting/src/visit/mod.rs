//! What belongs to a visit and is no measurement: safety, help, how the person is asked, consent,
//! how the day is, where the stick is, which body parts were looked at, what the person brings to the
//! choosing of a stick, what lies between the stick and the game, how it went there, and what was
//! written on the papers.
//!
//! All of it is optional, and all of it comes from people or from files: [`Visit::tidied`] caps and
//! cleans every part, and what is read is refused where that would change it.

mod asked;
mod compared;
mod consent;
mod devices;
mod next;
mod own_game;
mod papers;
mod path;
mod safety;
mod series;
mod set_up;
mod site;
mod support;
mod today;
mod wanted;

pub use asked::{Asked, Look};
pub use compared::{Ahead, SiteSeen, SiteWarning, SitesCompared, compare_sites};
pub use consent::{Consent, ConsentTo};
pub use devices::{
    Accepts, AddedSwitch, AxesTaken, ButtonNote, CurveSet, DeviceRole, DeviceUsed, Devices, Ease,
    Hat, Heard, Host, HostChosen, HostSets, Job, KeysHeard, MOST_DESCRIPTOR_CHARACTERS,
    MOST_DEVICES, MOST_HEARD, MOST_JOBS, MOST_OWN_HOSTS, MOST_PORTS, MOST_SWITCHES, PadHeard,
    PointerHeard, Port, ShippedHost, Slider, SliderRange, is_same_stick,
};
pub use own_game::{Felt, OwnGame};
pub use papers::{LoanDay, MOST_LOAN_DAYS, Paper, PaperPart, PaperText, Papers, Room};
pub use path::{Layer, LayerKind, MOST_LAYERS, Path};
pub use safety::{Condition, Safety, StopSignal};
pub use series::{Recorded, SetUpChange};
pub use set_up::{Connection, FARTHEST_MM, SetUp};
pub use site::{MOST_SITES, SiteQuestion, SiteTrial};
pub use support::{Helping, Support};
pub use today::{ASK_AGAIN_SECONDS, Compared, OFFER_STOP_POINTS, Rise, Today};
pub use wanted::{
    Actions, BodyPart, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing, Strength, Travel,
    Unwanted, Wanted,
};

use crate::summary::{plain_lines, plain_text};
use serde::{Deserialize, Serialize};

/// The most characters of a short answer.
pub const MOST_SHORT_CHARACTERS: usize = 80;
/// The most characters of a longer answer.
pub const MOST_LONG_CHARACTERS: usize = 400;
/// The most set-ups of one fitting, each a series of its own.
pub const MOST_SET_UPS: usize = 12;

/// Everything of a visit that is no measurement.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Visit {
    /// What was looked at before anything moved.
    pub safety: Safety,
    /// Who helps, and how.
    pub support: Support,
    /// How the person is asked.
    pub asked: Asked,
    /// Who agreed to what.
    pub consent: Consent,
    /// How the person is today.
    pub today: Today,
    /// The set-ups, in the order in which they were first used: each is a series of its own,
    /// numbered from 0.
    pub set_ups: Vec<SetUp>,
    /// The number of the series in use.
    pub series_in_use: u32,
    /// The body parts that were looked at.
    pub sites: Vec<SiteTrial>,
    /// What the person brings to the choosing of a stick.
    pub wanted: Wanted,
    /// What lies between the stick and the game.
    pub path: Path,
    /// The devices, what was heard of one, the host, and the plan of the buttons.
    pub devices: Devices,
    /// How it went in the person's own game.
    pub own_game: Option<OwnGame>,
    /// What was written on the papers by hand.
    pub papers: Papers,
}

impl Visit {
    /// The same with every text made plain and cut, every number brought into range.
    #[must_use]
    pub fn tidied(&self) -> Self {
        let devices = self.devices.tidied();
        let of_device = |set_up: &SetUp| {
            let known = (set_up.device as usize) < devices.used.len();
            SetUp { device: if known { set_up.device } else { 0 }, ..set_up.tidied() }
        };
        let set_ups: Vec<SetUp> = self.set_ups.iter().take(MOST_SET_UPS).map(of_device).collect();
        Self {
            safety: self.safety.tidied(),
            support: self.support.tidied(),
            asked: self.asked.tidied(),
            consent: self.consent.tidied(),
            today: self.today.tidied(),
            series_in_use: self.series_in_use.min(series::last(&set_ups)),
            set_ups,
            sites: self.sites.iter().take(MOST_SITES).map(SiteTrial::tidied).collect(),
            wanted: self.wanted.tidied(),
            path: self.path.tidied(),
            devices,
            own_game: self.own_game.as_ref().map(OwnGame::tidied),
            papers: self.papers.tidied(),
        }
    }
}

/// A short answer, made plain.
fn short(text: &str) -> String {
    plain_text(text, MOST_SHORT_CHARACTERS)
}

/// A longer answer, made plain line by line.
fn long(text: &str) -> String {
    plain_lines(text, MOST_LONG_CHARACTERS)
}

/// A number of a scale from 0 to 10.
fn of_ten(number: Option<u8>) -> Option<u8> {
    number.map(|number| number.min(10))
}
