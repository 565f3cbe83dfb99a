//! The plan: every job in order of need, and what becomes of everything that can be pressed.

use super::elsewhere::{Overlap, Suggestion, overlaps, suggestions};
use super::matching::assign;
use super::source::{Pressed, Source};
use fitting::visit::{Ease, Host, Job, Port};

/// What is planned.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The jobs, the most needed first.
    pub jobs: &'a [Job],
    /// Everything that can be pressed.
    pub sources: &'a [Source],
    /// The host and the port of it, by its place; nothing where none is chosen.
    pub host: Option<(&'a Host, usize)>,
    /// Whether the device follows the open standard's layout; nothing where nobody knows.
    pub standard: Option<bool>,
    /// How many devices the fitting has.
    pub devices: usize,
}

/// A plan of the buttons.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Each job in order of need.
    pub jobs: Vec<Planned>,
    /// What can be pressed and has no job.
    pub spare: Vec<Pressed>,
    /// What is out of reach.
    pub out_of_reach: Vec<Pressed>,
    /// What does not get through the port.
    pub lost: Vec<Pressed>,
    /// What does the same twice.
    pub overlaps: Vec<Overlap>,
    /// What else could be done.
    pub suggestions: Vec<Suggestion>,
}

/// One job.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// The job.
    pub job: Job,
    /// What does it, or why nothing does.
    pub by: Result<Assigned, WhyNot>,
}

/// What does a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Assigned {
    /// What is pressed.
    pub what: Pressed,
    /// Its place among the sources.
    pub source: usize,
    /// How it comes to that job.
    pub setting: Setting,
}

/// How something that is pressed comes to its job: what asks least of anybody first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Setting {
    /// It has this job as it comes.
    AsItComes,
    /// It has to be given the job, and the host lets one.
    Assign,
    /// It has to be given the job; whether the host lets one, nobody knows.
    AskWhether,
    /// The host goes by the open standard's layout and this device does not: its buttons have
    /// numbers and no jobs, until the game gives them some.
    NumberOnly,
    /// No host is chosen.
    HostUnknown,
    /// A switch has a socket of its own: in a hub, an interface or the stick. What that does the
    /// host does not say.
    OwnSocket,
}

/// Why nothing does a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyNot {
    /// There is nothing that can be pressed.
    NothingThere,
    /// Everything within reach that gets through has a job that is needed more.
    NothingLeft,
    /// Jobs are fixed at this port, and no button within reach has this one.
    FixedElsewhere,
}

/// Plans which button or switch does which job.
#[must_use]
pub fn plan(asked: &Asked<'_>) -> Plan {
    let port = asked.host.and_then(|(host, place)| host.ports.get(place).or(host.ports.last()));
    let (jobs, used) = served(asked, port);
    let mut plan = Plan { jobs, ..Plan::default() };
    for (place, source) in asked.sources.iter().enumerate() {
        if source.ease == Ease::OutOfReach {
            plan.out_of_reach.push(source.what);
        } else if is_lost(source, port) {
            plan.lost.push(source.what);
        } else if !used.contains(&place) {
            plan.spare.push(source.what);
        }
    }
    plan.overlaps = overlaps(asked, port, &plan);
    plan.suggestions = suggestions(asked, port, &plan);
    plan
}

/// Each job with what does it, and the places of the sources that are used.
pub(super) fn served(asked: &Asked<'_>, port: Option<&Port>) -> (Vec<Planned>, Vec<usize>) {
    let usable: Vec<usize> = (0..asked.sources.len())
        .filter(|place| can_be_used(&asked.sources[*place], port))
        .collect();
    let numbers_only = asked.host.is_some_and(|(host, _)| host.wants_standard_layout)
        && asked.standard == Some(false);
    let how = |job: &Job, source: &Source| setting(job, source, port, numbers_only);
    let fits: Vec<Vec<usize>> = asked
        .jobs
        .iter()
        .map(|job| {
            let mut fits: Vec<(usize, Setting)> = usable
                .iter()
                .filter_map(|place| Some((*place, how(job, &asked.sources[*place])?)))
                .collect();
            // Of two that are as good, the one with which less has to be done.
            fits.sort_by_key(|(place, setting)| {
                let source = &asked.sources[*place];
                (source.rank(), *setting, source.what)
            });
            fits.into_iter().map(|(place, _)| place).collect()
        })
        .collect();
    let given = assign(&fits, asked.sources.len());
    let planned = asked.jobs.iter().zip(&given).zip(&fits).map(|((job, given), fits)| {
        let by = given.and_then(|place| {
            let source = asked.sources.get(place)?;
            let setting = how(job, source)?;
            Some(Assigned { what: source.what, source: place, setting })
        });
        let why_not = || {
            if usable.is_empty() {
                WhyNot::NothingThere
            } else if fits.is_empty() {
                WhyNot::FixedElsewhere
            } else {
                WhyNot::NothingLeft
            }
        };
        Planned { job: job.clone(), by: by.ok_or_else(why_not) }
    });
    (planned.collect(), given.into_iter().flatten().collect())
}

fn can_be_used(source: &Source, port: Option<&Port>) -> bool {
    source.ease != Ease::OutOfReach && !is_lost(source, port)
}

/// Whether it does not get through: the first buttons of a stick do, and no others.
fn is_lost(source: &Source, port: Option<&Port>) -> bool {
    match (source.what, port) {
        (Pressed::Button(number), Some(port)) => number >= port.buttons,
        _ => false,
    }
}

/// How something comes to a job at a port; nothing where it cannot.
fn setting(job: &Job, source: &Source, port: Option<&Port>, numbers_only: bool) -> Option<Setting> {
    let number = match source.what {
        Pressed::Button(number) => number as usize,
        Pressed::Switch(_) => return Some(Setting::OwnSocket),
    };
    let Some(port) = port else { return Some(Setting::HostUnknown) };
    if numbers_only {
        return Some(Setting::NumberOnly);
    }
    if port.jobs.get(number) == Some(job) {
        return Some(Setting::AsItComes);
    }
    match port.can_be_reassigned {
        Some(true) => Some(Setting::Assign),
        Some(false) => None,
        None => Some(Setting::AskWhether),
    }
}
