//! Body parts beside one another: what speaks for each, what warns of it, and whether one is ahead.
//! No number decides, and nobody is told what to take.

use super::{SiteQuestion, SiteTrial};
use crate::estimate::NotEnough;
use crate::measure::site::SiteMovement;

/// What warns of a body part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SiteWarning {
    /// A question was answered against it.
    Answered(SiteQuestion),
    /// It was called repeatable, and the recording says that it is not.
    MeasuredOtherwise,
}

/// One body part beside the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SiteSeen {
    /// Its place among those that were looked at.
    pub site: usize,
    /// Whether each question speaks for it (`true`) or against it, in the order of
    /// [`SiteQuestion::ALL`]; nothing where nobody knows. Where nobody said whether the movement
    /// repeats, the recording does.
    pub speaks: [Option<bool>; 5],
    /// Every warning, in the order of the questions.
    pub warnings: Vec<SiteWarning>,
}

/// Whether one of them is ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ahead {
    /// Fewer than two were looked at, or too little is known of them.
    NothingToCompare,
    /// Every one of them has a warning.
    AllWarned,
    /// Those without a warning do not differ in what is known.
    Alike,
    /// Nothing warns of this one, and it is ahead in this question.
    One {
        /// Its place among those that were looked at.
        site: usize,
        /// The first question, in their order, in which it is ahead.
        by: SiteQuestion,
    },
}

/// Body parts beside one another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SitesCompared {
    /// Each that has a name or a recording or an answer, in the order in which they were looked at.
    pub sites: Vec<SiteSeen>,
    /// Whether one is ahead.
    pub ahead: Ahead,
}

/// Compares body parts, each with what its recording says, in the order of the questions: a yes
/// comes before a blank, a blank before a no, and the first question in which they differ decides.
/// One with a warning is never ahead.
#[must_use]
pub fn compare_sites(looked: &[(SiteTrial, Result<SiteMovement, NotEnough>)]) -> SitesCompared {
    let sites: Vec<SiteSeen> = looked
        .iter()
        .enumerate()
        .filter(|(_, (trial, moved))| *trial != SiteTrial::default() || moved.is_ok())
        .map(|(site, (trial, moved))| seen(site, trial, moved.as_ref().ok()))
        .collect();
    SitesCompared { ahead: ahead(&sites), sites }
}

fn seen(site: usize, trial: &SiteTrial, moved: Option<&SiteMovement>) -> SiteSeen {
    let measured = moved.and_then(SiteMovement::repeats);
    let speaks = SiteQuestion::ALL.map(|question| {
        let answer = trial.answer(question);
        let answer =
            if question == SiteQuestion::Repeatable { answer.or(measured) } else { answer };
        answer.map(|answer| answer == question.wanted())
    });
    let mut warnings: Vec<SiteWarning> = SiteQuestion::ALL
        .into_iter()
        .zip(speaks)
        .filter(|(_, speaks)| *speaks == Some(false))
        .map(|(question, _)| SiteWarning::Answered(question))
        .collect();
    if trial.repeatable == Some(true) && measured == Some(false) {
        warnings.insert(0, SiteWarning::MeasuredOtherwise);
    }
    SiteSeen { site, speaks, warnings }
}

fn ahead(sites: &[SiteSeen]) -> Ahead {
    let known = |site: &SiteSeen| site.speaks.iter().any(Option::is_some);
    if sites.len() < 2 || !sites.iter().any(known) {
        return Ahead::NothingToCompare;
    }
    let fit: Vec<&SiteSeen> = sites.iter().filter(|site| site.warnings.is_empty()).collect();
    if fit.is_empty() {
        return Ahead::AllWarned;
    }
    let mut left = fit;
    for (index, question) in SiteQuestion::ALL.into_iter().enumerate() {
        let rank = |site: &SiteSeen| match site.speaks[index] {
            Some(true) => 2,
            None => 1,
            Some(false) => 0,
        };
        let best = left.iter().map(|site| rank(site)).max().unwrap_or(0);
        let remaining: Vec<&SiteSeen> =
            left.iter().filter(|site| rank(site) == best).copied().collect();
        if let [site] = remaining.as_slice()
            && left.len() > 1
        {
            return Ahead::One { site: site.site, by: question };
        }
        left = remaining;
    }
    match left.as_slice() {
        // The others all have a warning: the first of their warnings is where it is ahead.
        [site] => one_unwarned(sites, site),
        _ => Ahead::Alike,
    }
}

/// Of several, only one has no warning: it is ahead in the first question that warns of another.
fn one_unwarned(sites: &[SiteSeen], only: &SiteSeen) -> Ahead {
    let first = sites
        .iter()
        .flat_map(|site| &site.warnings)
        .map(|warning| match warning {
            SiteWarning::Answered(question) => *question,
            SiteWarning::MeasuredOtherwise => SiteQuestion::Repeatable,
        })
        .min();
    match first {
        // A blank is no reason to be ahead.
        Some(by) if only.speaks.iter().any(Option::is_some) => Ahead::One { site: only.site, by },
        _ => Ahead::NothingToCompare,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Direction;
    use crate::estimate::{Basis, Estimate};
    use crate::measure::site::UsualWay;
    use proptest::option;
    use proptest::prelude::*;

    type Looked = (SiteTrial, Result<SiteMovement, NotEnough>);

    const NOTHING: Result<SiteMovement, NotEnough> = Err(NotEnough::NothingRecorded);

    fn trial(part: &str, answers: [Option<bool>; 5]) -> SiteTrial {
        let mut trial = SiteTrial { body_part: part.to_owned(), ..SiteTrial::default() };
        for (question, answer) in SiteQuestion::ALL.into_iter().zip(answers) {
            trial.set_answer(question, answer);
            assert_eq!(trial.answer(question), answer);
        }
        trial
    }

    fn moved(spread: f64) -> Result<SiteMovement, NotEnough> {
        let basis = Basis { seconds: 25.0, repetitions: 12 };
        let spread = Estimate::new(spread, 0.8 * spread, 1.3 * spread, basis);
        Ok(SiteMovement {
            seconds: 25.0,
            movements: 12,
            per_minute: Err(NotEnough::DoesNotApply),
            directions: Vec::new(),
            usual: Some(UsualWay {
                about: Direction::Left,
                movements: 12,
                spread: spread.ok_or(NotEnough::Unsettled),
            }),
        })
    }

    const GOOD: [Option<bool>; 5] = [Some(true), Some(true), Some(true), Some(false), Some(false)];

    #[test]
    fn the_first_question_in_which_they_differ_decides() {
        let hand = trial("Hand", GOOD);
        let chin = trial("Chin", [Some(true), Some(true), None, Some(false), Some(false)]);
        let compared = compare_sites(&[(chin, NOTHING), (hand.clone(), NOTHING)]);
        assert_eq!(compared.ahead, Ahead::One { site: 1, by: SiteQuestion::ScreenInView });
        let foot = trial("Foot", GOOD);
        let compared = compare_sites(&[(foot, NOTHING), (hand, NOTHING)]);
        assert_eq!(compared.ahead, Ahead::Alike);
    }

    #[test]
    fn nobody_is_sent_to_a_body_part_with_a_warning() {
        let mut only_voice = trial("Chin", GOOD);
        only_voice.only_movement = Some(true);
        let poor = trial("Hand", [Some(true), None, None, None, None]);
        let compared = compare_sites(&[(only_voice.clone(), NOTHING), (poor, NOTHING)]);
        assert_eq!(compared.ahead, Ahead::One { site: 1, by: SiteQuestion::OnlyMovement });
        assert_eq!(compared.sites[0].warnings, [SiteWarning::Answered(SiteQuestion::OnlyMovement)]);
        let spasm = SiteTrial { sets_off_spasm: Some(true), ..trial("Foot", GOOD) };
        let compared = compare_sites(&[(only_voice, NOTHING), (spasm, NOTHING)]);
        assert_eq!(compared.ahead, Ahead::AllWarned);
    }

    #[test]
    fn the_recording_answers_where_nobody_did_and_contradicts_aloud() {
        let silent = trial("Hand", [None; 5]);
        let compared = compare_sites(&[(silent.clone(), moved(0.1)), (silent, moved(0.8))]);
        assert_eq!(compared.sites[0].speaks[0], Some(true));
        assert_eq!(compared.ahead, Ahead::One { site: 0, by: SiteQuestion::Repeatable });
        let sure = trial("Hand", GOOD);
        let compared = compare_sites(&[(sure.clone(), moved(0.8)), (sure, moved(0.34))]);
        assert_eq!(compared.sites[0].warnings, [SiteWarning::MeasuredOtherwise]);
        assert_eq!(compared.sites[1].warnings, [], "that recording does not tell");
        assert_eq!(compared.ahead, Ahead::One { site: 1, by: SiteQuestion::Repeatable });
    }

    #[test]
    fn one_alone_or_nothing_known_is_not_compared() {
        let hand = trial("Hand", GOOD);
        let one = compare_sites(&[(hand.clone(), NOTHING), (SiteTrial::default(), NOTHING)]);
        assert_eq!((one.ahead, one.sites.len()), (Ahead::NothingToCompare, 1));
        let named = |part| (trial(part, [None; 5]), NOTHING);
        let compared = compare_sites(&[named("Hand"), named("Foot")]);
        assert_eq!(compared.ahead, Ahead::NothingToCompare);
    }

    fn looked() -> impl Strategy<Value = Looked> {
        let answers = proptest::array::uniform5(option::of(proptest::bool::ANY));
        let spread = option::of(0.05..1.2_f64);
        (answers, spread)
            .prop_map(|(answers, spread)| (trial("Part", answers), spread.map_or(NOTHING, moved)))
    }

    proptest! {
        /// Invented people with any answers: no warning is hidden, and none with a warning is ahead.
        #[test]
        fn no_warning_is_hidden(looked in proptest::collection::vec(looked(), 1..4)) {
            let compared = compare_sites(&looked);
            prop_assert_eq!(compared.sites.len(), looked.len());
            for (site, (trial, _)) in compared.sites.iter().zip(&looked) {
                for question in SiteQuestion::ALL {
                    if trial.answer(question).is_some_and(|answer| answer != question.wanted()) {
                        prop_assert!(site.warnings.contains(&SiteWarning::Answered(question)));
                    }
                }
            }
            if let Ahead::One { site, by } = compared.ahead {
                prop_assert!(compared.sites[site].warnings.is_empty());
                // Nobody without a warning is better in a question before it, or in it.
                let index = SiteQuestion::ALL.iter().position(|one| *one == by).unwrap();
                for other in compared.sites.iter().filter(|one| one.warnings.is_empty()) {
                    let rank = |speaks: Option<bool>| speaks.map_or(1, |yes| 2 * u8::from(yes));
                    let of = |one: &SiteSeen| one.speaks.map(rank)[..=index].to_vec();
                    prop_assert!(of(&compared.sites[site]) >= of(other));
                }
            }
        }

        /// The order in which they were looked at decides nothing.
        #[test]
        fn the_order_of_looking_decides_nothing(one in looked(), other in looked()) {
            let forth = compare_sites(&[one.clone(), other.clone()]).ahead;
            let back = compare_sites(&[other, one]).ahead;
            let turned = match back {
                Ahead::One { site, by } => Ahead::One { site: 1 - site, by },
                same => same,
            };
            prop_assert_eq!(forth, turned);
        }
    }
}
