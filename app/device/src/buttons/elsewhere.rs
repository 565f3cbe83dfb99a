//! What does the same twice, and what else could be done.

use super::plan::{Asked, Plan, Planned, Setting, served};
use super::source::{Pressed, ReliabilityClass, Source};
use fitting::visit::{Host, Job, MOST_SWITCHES, Port};

/// Two things that do the same.
#[derive(Clone, Debug, PartialEq)]
pub enum Overlap {
    /// Two ports whose buttons have the same jobs as they come, by their places. Pressing either
    /// does the same: a help where two people share the controls, a loss where jobs run short.
    Ports {
        /// One port.
        first: usize,
        /// The other.
        second: usize,
        /// The jobs of both.
        jobs: Vec<Job>,
    },
    /// A button that has no job in the plan does, as it comes, what another one is to do.
    Buttons {
        /// What is in the plan.
        planned: Pressed,
        /// The button that does the same, by its number.
        also: u32,
        /// What both do.
        job: Job,
    },
}

/// Something else that could be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Suggestion {
    /// Another port serves jobs that this one leaves out, and leaves out none that is needed more.
    AnotherPort {
        /// The port, by its place.
        port: usize,
        /// What it serves beside.
        gains: Vec<Job>,
    },
    /// A second device beside this one: the host makes one controller of both, so a helper's or a
    /// second stick can do what is left.
    SecondDevice(Vec<Job>),
    /// Ask whether jobs can be changed at this port: the plan stands on it.
    AskWhetherJobsChange,
    /// So many switches beside the stick would do what is left, or as much of it as there is room
    /// for.
    AddSwitches(usize),
    /// Put what is out of reach or does not get through to use: move it, or ask the maker which
    /// buttons come first.
    FreeWhatIsLost(Vec<Pressed>),
    /// Record presses of these: the plan uses them and nothing is known of them.
    RecordPresses(Vec<u32>),
    /// These are used although they are unreliable: nothing better is left.
    ReplaceUnreliable(Vec<Pressed>),
}

pub(super) fn overlaps(asked: &Asked<'_>, port: Option<&Port>, plan: &Plan) -> Vec<Overlap> {
    let mut found = Vec::new();
    // Ports that make up no one controller are two players', and do nothing twice.
    if let Some((host, _)) = asked.host.filter(|(host, _)| host.joins_two) {
        found.extend(between_ports(host));
    }
    let Some(port) = port else { return found };
    for planned in &plan.jobs {
        let Ok(by) = &planned.by else { continue };
        let is_planned = |number: u32| {
            let what = Pressed::Button(number);
            plan.jobs.iter().any(|one| one.by.as_ref().is_ok_and(|by| by.what == what))
        };
        let through = u32::try_from(port.jobs.len()).unwrap_or(u32::MAX).min(port.buttons);
        for number in 0..through {
            let has_it = port.jobs.get(number as usize) == Some(&planned.job);
            let there = asked.sources.iter().any(|one| one.what == Pressed::Button(number));
            if has_it && there && by.what != Pressed::Button(number) && !is_planned(number) {
                let job = planned.job.clone();
                found.push(Overlap::Buttons { planned: by.what, also: number, job });
            }
        }
    }
    found
}

fn between_ports(host: &Host) -> Vec<Overlap> {
    let through = |port: &Port| {
        let known = port.jobs.iter().take(port.buttons as usize).filter(|job| job.is_known());
        known.cloned().collect::<Vec<Job>>()
    };
    let mut found = Vec::new();
    for (first, one) in host.ports.iter().enumerate() {
        for (second, other) in host.ports.iter().enumerate().skip(first + 1) {
            let others = through(other);
            let jobs: Vec<Job> =
                through(one).into_iter().filter(|job| others.contains(job)).collect();
            if !jobs.is_empty() {
                found.push(Overlap::Ports { first, second, jobs });
            }
        }
    }
    found
}

pub(super) fn suggestions(asked: &Asked<'_>, port: Option<&Port>, plan: &Plan) -> Vec<Suggestion> {
    let left: Vec<Job> = plan
        .jobs
        .iter()
        .filter(|planned| planned.by.is_err())
        .map(|planned| planned.job.clone())
        .collect();
    let mut found = Vec::new();
    if let Some((host, place)) = asked.host
        && !left.is_empty()
    {
        let here = place.min(host.ports.len().saturating_sub(1));
        found.extend((0..host.ports.len()).filter(|other| *other != here).filter_map(|other| {
            let (jobs, _) = served(asked, host.ports.get(other));
            let gains = gains(&plan.jobs, &jobs)?;
            Some(Suggestion::AnotherPort { port: other, gains })
        }));
        if host.joins_two && asked.devices < 2 {
            found.push(Suggestion::SecondDevice(left.clone()));
        }
    }
    let by = || plan.jobs.iter().filter_map(|planned| planned.by.as_ref().ok());
    if port.is_some() && by().any(|by| by.setting == Setting::AskWhether) {
        found.push(Suggestion::AskWhetherJobsChange);
    }
    if !left.is_empty() {
        let lost: Vec<Pressed> = plan.lost.iter().chain(&plan.out_of_reach).copied().collect();
        if !lost.is_empty() {
            found.push(Suggestion::FreeWhatIsLost(lost));
        }
        let is_switch = |source: &&Source| matches!(source.what, Pressed::Switch(_));
        let room = MOST_SWITCHES.saturating_sub(asked.sources.iter().filter(is_switch).count());
        if room > 0 {
            found.push(Suggestion::AddSwitches(left.len().min(room)));
        }
    }
    let class = |place: usize| asked.sources.get(place).map(|one| one.reliability.class());
    let of_class = |wanted: ReliabilityClass| {
        by().filter(move |by| class(by.source) == Some(wanted)).map(|by| by.what)
    };
    let unknown: Vec<u32> = of_class(ReliabilityClass::CannotTell)
        .filter_map(|what| match what {
            Pressed::Button(number) => Some(number),
            Pressed::Switch(_) => None,
        })
        .collect();
    if !unknown.is_empty() {
        found.push(Suggestion::RecordPresses(unknown));
    }
    let unreliable: Vec<Pressed> = of_class(ReliabilityClass::Unreliable).collect();
    if !unreliable.is_empty() {
        found.push(Suggestion::ReplaceUnreliable(unreliable));
    }
    found
}

/// What another plan of the same jobs serves beside; nothing where it serves no more, or leaves out
/// a job that is needed more than the first one it gains.
fn gains(here: &[Planned], there: &[Planned]) -> Option<Vec<Job>> {
    let both = || here.iter().zip(there);
    let first = both().find(|(one, other)| one.by.is_ok() != other.by.is_ok())?;
    if first.0.by.is_ok() {
        return None;
    }
    let gained = both().filter(|(one, other)| one.by.is_err() && other.by.is_ok());
    Some(gained.map(|(one, _)| one.job.clone()).collect())
}
