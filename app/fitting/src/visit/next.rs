//! What a next visit of the same person begins with, and a visit with another stick.

use super::{Condition, Consent, Devices, PaperPart, Papers, Safety, StopSignal, Today, Visit};

/// What does not change from one visit to the next, so that a yes to it is remembered. A no is
/// asked again, whatever it was to: a caution that is missed hurts, one too many does not.
const LASTING: [Condition; 6] = [
    Condition::Seizures,
    Condition::LooseJoints,
    Condition::CordInjury,
    Condition::BreathingSupport,
    Condition::BiteReflex,
    Condition::PoorSensation,
];

impl Visit {
    /// What is remembered for a next visit of this person; the rest is asked again.
    ///
    /// Remembered: the stop signal (to be tried again), the lasting conditions that hold, who helps
    /// and how, how tasks are asked, who speaks for the person, the set-up in use as the first series, what lies between
    /// stick and game, devices, host and buttons, what the person brings to the choosing of a stick
    /// (but for pain), whom to ask and the goal on the papers. Asked again: what was checked and
    /// answered of the day, consent and the person's own yes, the body parts, the own game, the diary of a loan.
    #[must_use]
    pub fn next(&self) -> Self {
        let holds = self.safety.holds.iter().copied().filter(|one| LASTING.contains(one));
        let lasting = |part| matches!(part, PaperPart::HandoverAsk | PaperPart::LetterGoal);
        let edits = self.papers.edits.iter().filter(|edit| lasting(edit.part)).cloned();
        Self {
            safety: Safety {
                stop: StopSignal { how: self.safety.stop.how.clone(), tried: false },
                holds: holds.collect(),
                ..Safety::default()
            },
            support: self.support.clone(),
            asked: self.asked,
            consent: Consent { who: self.consent.who.clone(), ..Consent::default() },
            today: Today::default(),
            set_ups: self.set_up().cloned().into_iter().collect(),
            series_in_use: 0,
            sites: Vec::new(),
            wanted: self.wanted.next(),
            path: self.path.clone(),
            devices: Devices { heard: None, ..self.devices.clone() },
            own_game: None,
            papers: Papers { edits: edits.collect(), diary: Vec::new() },
        }
        .tidied()
    }

    /// What holds when another stick is taken up within the same visit: everything of the person
    /// and the day, so that no caution and no no is lost. What was told of the other stick is not.
    #[must_use]
    pub fn with_another_stick(&self) -> Self {
        Self {
            safety: self.safety.clone(),
            support: self.support.clone(),
            asked: self.asked,
            consent: self.consent.clone(),
            today: self.today.clone(),
            devices: Devices {
                host: self.devices.host,
                port: self.devices.port,
                own_hosts: self.devices.own_hosts.clone(),
                jobs: self.devices.jobs.clone(),
                switches: self.devices.switches.clone(),
                ..Devices::default()
            },
            wanted: self.wanted.clone(),
            ..Self::default()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::visit::{ConsentTo, OwnGame, PaperText, SetUp, SiteTrial, Support};

    fn visited() -> Visit {
        let text = |text: &str| text.to_owned();
        let edit = |part| PaperText { part, text: text("as written"), instead_of: 0 };
        Visit {
            safety: Safety {
                drive_off: true,
                lines_clear: true,
                stop: StopSignal { how: text("Closes both eyes"), tried: true },
                holds: Condition::ALL
                    .into_iter()
                    .filter(|one| *one != Condition::BiteReflex)
                    .collect(),
                holds_not: [Condition::BiteReflex].into(),
            },
            support: Support { who: text("Sister"), ..Support::default() },
            consent: Consent {
                who: text("Father"),
                to: ConsentTo::ALL.into(),
                given_epoch_ms: Some(1),
                own_yes: Some(true),
                own_words: text("Nodded"),
                ..Consent::default()
            },
            today: Today { fatigue: Some(4), pain: Some(1), ..Today::default() },
            set_ups: vec![
                SetUp { reference: text("Tray"), ..SetUp::default() },
                SetUp { reference: text("Lap"), ..SetUp::default() },
            ],
            series_in_use: 0,
            sites: vec![SiteTrial { body_part: text("Chin"), ..SiteTrial::default() }],
            own_game: Some(OwnGame::default()),
            papers: Papers {
                edits: vec![
                    edit(PaperPart::HandoverFirst),
                    edit(PaperPart::HandoverAsk),
                    edit(PaperPart::LetterGoal),
                ],
                diary: Vec::new(),
            },
            ..Visit::default()
        }
    }

    #[test]
    fn what_lasts_is_remembered_and_the_rest_is_asked_again() {
        let next = visited().next();
        assert_eq!(next.safety.stop.how, "Closes both eyes");
        assert!(!next.safety.stop.tried && !next.safety.drive_off && !next.safety.lines_clear);
        assert!(!next.safety.is_ready());
        assert_eq!(next.safety.answer(Condition::CordInjury), Some(true));
        for asked_again in
            [Condition::RecentSurgery, Condition::PainOrFatigue, Condition::BiteReflex]
        {
            assert_eq!(next.safety.answer(asked_again), None, "{asked_again:?}");
        }
        assert_eq!(next.support.who, "Sister");
        assert_eq!(next.consent, Consent { who: "Father".to_owned(), ..Consent::default() });
        assert_eq!(next.today, Today::default());
        assert_eq!(next.set_ups.len(), 1);
        assert_eq!(next.set_up().map(|one| one.reference.as_str()), Some("Tray"), "the one in use");
        assert_eq!((next.sites.len(), next.own_game), (0, None));
        let parts: Vec<PaperPart> = next.papers.edits.iter().map(|edit| edit.part).collect();
        assert_eq!(parts, [PaperPart::HandoverAsk, PaperPart::LetterGoal]);
    }

    #[test]
    fn the_visit_after_the_next_one_begins_alike() {
        let next = visited().next();
        assert_eq!(next.next(), next);
        assert_eq!(Visit::default().next(), Visit::default());
    }

    #[test]
    fn another_stick_loses_no_answer_of_the_person() {
        let mut before = visited();
        before.consent.set_answer(ConsentTo::Measuring, Some(false));
        let other = before.with_another_stick();
        assert!(other.consent.refuses(ConsentTo::Measuring));
        assert_eq!(other.safety, before.safety);
        assert_eq!((other.today, other.support), (before.today, before.support));
        assert_eq!((other.set_ups.len(), other.sites.len()), (0, 0), "they are of the other stick");
    }
}
