use super::*;
use fitting::estimate::{Basis, Estimate, NotEnough};
use fitting::measure::ButtonPresses;
use fitting::visit::{AddedSwitch, ButtonNote, Ease, Host, Job, Port, ShippedHost};
use proptest::prelude::*;

fn own(name: &str) -> Job {
    Job::Own(name.to_owned())
}

fn note(button: u32, ease: Ease) -> ButtonNote {
    ButtonNote { button, ease, ..ButtonNote::default() }
}

fn presses(button: usize, made: usize, missed: usize) -> ButtonPresses {
    ButtonPresses {
        button,
        made,
        missed,
        reaction_seconds: Err(NotEnough::NothingRecorded),
        length_seconds: Err(NotEnough::NothingRecorded),
        lengths: Vec::new(),
        long_seconds: Err(NotEnough::NothingRecorded),
        gap_seconds: Err(NotEnough::NothingRecorded),
        gaps: Vec::new(),
        unwanted: Vec::new(),
        unwanted_per_minute: Err(NotEnough::NothingRecorded),
        bounces: Vec::new(),
        shortest_seen_seconds: 0.004,
    }
}

fn planned(jobs: &[Job], sources: &[Source], host: Option<(&Host, usize)>) -> Plan {
    plan(&Asked { jobs, sources, host, standard: None, devices: 1 })
}

fn by(plan: &Plan) -> Vec<Option<Pressed>> {
    plan.jobs.iter().map(|one| one.by.as_ref().ok().map(|by| by.what)).collect()
}

#[test]
fn the_most_needed_job_gets_the_easiest_and_most_reliable_button() {
    let notes = [note(1, Ease::Easy), note(2, Ease::Easy), note(3, Ease::OutOfReach)];
    // Clopper and Pearson, exact: 10 of 10 is 69 to 100 %, 1 of 10 is 0.3 to 45 %.
    let recorded = [presses(2, 10, 0), presses(0, 10, 0), presses(4, 1, 9)];
    let sources = sources(5, &notes, &recorded, &[]);
    let plan =
        planned(&[own("jump"), own("map"), own("hit"), own("run"), own("wave")], &sources, None);
    let button = |number| Some(Pressed::Button(number));
    assert_eq!(by(&plan), [button(2), button(1), button(0), button(4), None]);
    assert_eq!(plan.out_of_reach, [Pressed::Button(3)]);
    assert_eq!(plan.jobs[4].by, Err(WhyNot::NothingLeft));
    assert!(plan.suggestions.contains(&Suggestion::ReplaceUnreliable(vec![Pressed::Button(4)])));
    assert!(plan.suggestions.contains(&Suggestion::RecordPresses(vec![1])));
    assert!(plan.suggestions.contains(&Suggestion::AddSwitches(1)));
}

#[test]
fn a_bare_share_says_nothing_and_an_interval_does() {
    let class = |made, missed| Reliability::of(&presses(0, made, missed)).class();
    assert_eq!(class(0, 0), ReliabilityClass::CannotTell);
    assert_eq!(class(1, 0), ReliabilityClass::CannotTell, "one of one is 2.5 to 100 %");
    assert_eq!(class(10, 0), ReliabilityClass::Reliable);
    assert_eq!(class(9, 1), ReliabilityClass::Reliable, "9 of 10 is 55 to 100 %");
    assert_eq!(class(2, 2), ReliabilityClass::CannotTell);
    assert_eq!(class(1, 9), ReliabilityClass::Unreliable);
    let often = Reliability::Recorded {
        made: 10,
        asked: 10,
        share: (0.69, 1.0),
        unmeant_per_minute: Some(3.0),
    };
    assert_eq!(often.class(), ReliabilityClass::Unreliable, "it comes unmeant");
    // Presses that nobody asked for count also where none was asked for.
    let basis = Basis { seconds: 60.0, repetitions: 0 };
    let rate = Estimate::new(6.0, 2.5, 12.0, basis).expect("finite");
    let unmeant = ButtonPresses { unwanted_per_minute: Ok(rate), ..presses(0, 0, 0) };
    assert_eq!(Reliability::of(&unmeant).class(), ReliabilityClass::Unreliable);
}

#[test]
fn fixed_jobs_stay_with_their_buttons() {
    let port = Port {
        buttons: 3,
        jobs: vec![Job::Position(0), Job::Position(1), Job::Position(2)],
        can_be_reassigned: Some(false),
        ..Port::default()
    };
    let host = Host { ports: vec![port.clone()], joins_two: true, ..Host::default() };
    let sources = sources(4, &[note(1, Ease::OutOfReach)], &[], &[]);
    let jobs = [Job::Position(2), Job::Position(1), own("map"), Job::Position(0)];
    let plan = planned(&jobs, &sources, Some((&host, 0)));
    assert_eq!(by(&plan), [Some(Pressed::Button(2)), None, None, Some(Pressed::Button(0))]);
    assert_eq!(plan.jobs[1].by, Err(WhyNot::FixedElsewhere));
    assert_eq!(plan.lost, [Pressed::Button(3)]);
    assert!(
        plan.suggestions.contains(&Suggestion::SecondDevice(vec![Job::Position(1), own("map")]))
    );
    // Where jobs may be changed, or nobody knows, the same buttons serve what they can.
    let may = |can_be_reassigned| Host {
        ports: vec![Port { can_be_reassigned, ..port.clone() }],
        ..Host::default()
    };
    let with = planned(&jobs, &sources, Some((&may(Some(true)), 0)));
    assert_eq!(by(&with).iter().flatten().count(), 2, "two are in reach");
    let first = |plan: &Plan| plan.jobs[1].by.map(|by| by.setting);
    assert_eq!(first(&with), Ok(Setting::Assign));
    let unknown = planned(&jobs, &sources, Some((&may(None), 0)));
    assert_eq!(first(&unknown), Ok(Setting::AskWhether));
    assert!(unknown.suggestions.contains(&Suggestion::AskWhetherJobsChange));
}

#[test]
fn ports_that_do_the_same_and_a_port_that_does_more_are_told() {
    let mut hub = ShippedHost::HubTwoPorts.host();
    let sources = sources(8, &[], &[], &[AddedSwitch::default()]);
    let jobs = [own("jump"), Job::Position(0)];
    let plan = planned(&jobs, &sources, Some((&hub, 0)));
    let eight: Vec<Job> = (0..8).map(Job::Position).collect();
    assert_eq!(plan.overlaps[0], Overlap::Ports { first: 0, second: 1, jobs: eight });
    // The first button is to jump now, so nothing else does what the second was given.
    assert_eq!(by(&plan), [Some(Pressed::Button(0)), Some(Pressed::Button(1))]);
    assert_eq!(plan.overlaps.len(), 1);
    // Of buttons that are as good, a job goes to the one that has it.
    let shoulder = planned(&[Job::Position(5)], &sources, Some((&hub, 0)));
    assert_eq!(
        shoulder.jobs[0].by.map(|by| (by.what, by.setting)),
        Ok((Pressed::Button(5), Setting::AsItComes))
    );
    // Ports of two players do nothing twice, and a job that nobody knows is none.
    hub.joins_two = false;
    assert_eq!(planned(&jobs, &sources, Some((&hub, 0))).overlaps, []);
    let unknown = Port { jobs: vec![own(""); 8], ..Port::default() };
    let hub = Host { joins_two: true, ports: vec![unknown.clone(), unknown], ..Host::default() };
    assert_eq!(planned(&jobs, &sources, Some((&hub, 0))).overlaps, []);
    let fixed = |jobs: Vec<Job>| Port {
        buttons: 1,
        jobs,
        can_be_reassigned: Some(false),
        ..Port::default()
    };
    let host = Host {
        ports: vec![fixed(vec![Job::Position(3)]), fixed(vec![Job::Position(0)])],
        ..Host::default()
    };
    let no_switch = &sources[..8];
    let other = planned(&[Job::Position(0)], no_switch, Some((&host, 0)));
    let gains = vec![Job::Position(0)];
    assert!(other.suggestions.contains(&Suggestion::AnotherPort { port: 1, gains }));
}

/// W3C Gamepad: a device whose mapping is empty has buttons in no order of its own.
#[test]
fn without_the_layout_buttons_have_numbers_and_no_jobs() {
    let page = ShippedHost::WebPage.host();
    let sources = sources(4, &[], &[], &[]);
    let with = |standard| {
        let jobs = [Job::Position(2)];
        let asked =
            Asked { jobs: &jobs, sources: &sources, host: Some((&page, 0)), standard, devices: 1 };
        plan(&asked).jobs[0].by.map(|by| (by.what, by.setting))
    };
    assert_eq!(with(Some(true)), Ok((Pressed::Button(2), Setting::AsItComes)));
    assert_eq!(with(Some(false)), Ok((Pressed::Button(0), Setting::NumberOnly)));
}

#[test]
fn no_more_switches_are_advised_than_there_is_room_for() {
    let switches = vec![AddedSwitch { ease: Ease::OutOfReach, ..AddedSwitch::default() }; 6];
    let jobs: Vec<Job> = (0..10).map(Job::Position).collect();
    let plan = planned(&jobs, &sources(0, &[], &[], &switches), None);
    assert!(plan.suggestions.contains(&Suggestion::AddSwitches(2)));
}

#[test]
fn a_spare_button_that_does_what_another_is_to_do_is_told() {
    let port = Port {
        buttons: 2,
        jobs: vec![Job::Position(0), Job::Position(1)],
        can_be_reassigned: Some(true),
        ..Port::default()
    };
    let host = Host { ports: vec![port], ..Host::default() };
    let sources = sources(2, &[note(0, Ease::WithEffort), note(1, Ease::Easy)], &[], &[]);
    let plan = planned(&[Job::Position(0)], &sources, Some((&host, 0)));
    assert_eq!(by(&plan), [Some(Pressed::Button(1))]);
    let job = Job::Position(0);
    assert_eq!(plan.overlaps, [Overlap::Buttons { planned: Pressed::Button(1), also: 0, job }]);
    assert_eq!(plan.spare, [Pressed::Button(0)]);
    let none = planned(&[Job::Position(0)], &[], Some((&host, 0)));
    assert_eq!(none.jobs[0].by, Err(WhyNot::NothingThere));
}

fn any_ease() -> impl Strategy<Value = Ease> {
    prop_oneof![
        Just(Ease::Easy),
        Just(Ease::NotSaid),
        Just(Ease::WithEffort),
        Just(Ease::OutOfReach)
    ]
}

/// The served jobs as a number whose highest bit is the most needed one.
fn worth(served: &[bool]) -> u32 {
    served.iter().fold(0, |worth, served| worth * 2 + u32::from(*served))
}

/// The best that any way to give sources to jobs comes to.
fn best(fits: &[Vec<usize>], job: usize, taken: &mut [bool], served: &mut Vec<bool>) -> u32 {
    if job == fits.len() {
        return worth(served);
    }
    served.push(false);
    let mut most = best(fits, job + 1, taken, served);
    served[job] = true;
    for source in &fits[job] {
        if !taken[*source] {
            taken[*source] = true;
            most = most.max(best(fits, job + 1, taken, served));
            taken[*source] = false;
        }
    }
    served.pop();
    most
}

proptest! {
    /// Against every way there is: no job goes without for one that is needed less, and no source
    /// does two.
    #[test]
    fn no_other_way_serves_more(
        fits in proptest::collection::vec(
            proptest::sample::subsequence((0..5_usize).collect::<Vec<_>>(), 0..5).prop_shuffle(),
            0..6,
        ),
    ) {
        let given = matching::assign(&fits, 5);
        let served: Vec<bool> = given.iter().map(Option::is_some).collect();
        prop_assert_eq!(worth(&served), best(&fits, 0, &mut [false; 5], &mut Vec::new()));
        let mut used: Vec<usize> = given.iter().flatten().copied().collect();
        used.sort_unstable();
        used.dedup();
        prop_assert_eq!(used.len(), given.iter().flatten().count());
        for (fits, given) in fits.iter().zip(&given) {
            prop_assert!(given.is_none_or(|source| fits.contains(&source)));
        }
    }

    /// Whatever is known of buttons and hosts: nothing out of reach or lost is used, each thing is
    /// used, spare, lost or out of reach, and a job that is needed more never has the worse of two
    /// sources that could change places.
    #[test]
    fn a_plan_holds_together(
        eases in proptest::collection::vec(any_ease(), 0..6),
        missed in proptest::collection::vec(0..11_usize, 6),
        through in 0..7_u32,
        again in proptest::option::of(proptest::bool::ANY),
        jobs in proptest::sample::subsequence((0..7_u8).collect::<Vec<_>>(), 0..7).prop_shuffle(),
        switches in proptest::collection::vec(any_ease(), 0..3),
    ) {
        let notes: Vec<ButtonNote> = (0_u32..).zip(&eases).map(|(at, ease)| note(at, *ease)).collect();
        let recorded: Vec<ButtonPresses> = missed
            .iter()
            .enumerate()
            .filter(|(_, missed)| **missed < 11)
            .map(|(at, missed)| presses(at, 10 - (*missed).min(10), *missed))
            .collect();
        let switches: Vec<AddedSwitch> =
            switches.into_iter().map(|ease| AddedSwitch { name: String::new(), ease }).collect();
        let all = sources(u32::try_from(eases.len()).expect("few"), &notes, &recorded, &switches);
        let port = Port {
            buttons: through,
            jobs: (0..6).map(Job::Position).collect(),
            can_be_reassigned: again,
            ..Port::default()
        };
        let host = Host { ports: vec![port], ..Host::default() };
        let jobs: Vec<Job> = jobs.into_iter().map(Job::Position).collect();
        let plan = planned(&jobs, &all, Some((&host, 0)));
        let used: Vec<Pressed> = by(&plan).into_iter().flatten().collect();
        let mut everything: Vec<Pressed> = [&used, &plan.spare, &plan.lost, &plan.out_of_reach]
            .into_iter()
            .flatten()
            .copied()
            .collect();
        everything.sort_unstable();
        prop_assert_eq!(everything, all.iter().map(|one| one.what).collect::<Vec<_>>());
        for source in &all {
            if used.contains(&source.what) {
                prop_assert!(source.ease != Ease::OutOfReach);
                prop_assert!(!matches!(source.what, Pressed::Button(number) if number >= through));
            }
        }
        if again == Some(true) {
            // Everything fits everything: then the order of need is the order of the sources.
            let ranks: Vec<_> = plan
                .jobs
                .iter()
                .filter_map(|one| one.by.as_ref().ok())
                .map(|by| all[by.source].rank())
                .collect();
            prop_assert!(ranks.is_sorted(), "{:?}", ranks);
        }
    }
}
