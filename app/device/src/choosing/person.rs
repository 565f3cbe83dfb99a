//! Everything that is known of one person when a stick is chosen.

use fitting::papers::{self, Facts, Limit, Need};
use fitting::stick_kind::Mover;
use fitting::suggest::{BodyAnswers, COLLISION_SHARE, Suggestions};
use fitting::task::EASY_EFFORT;
use fitting::visit::{
    Actions, BodyPart, Condition, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing,
    Safety, Strength, Travel, Unwanted, Visit, Wanted,
};
use fitting::{Direction, Estimate};

/// What was measured of the person with the stick that was tried.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// What limits the person.
    pub limits: Vec<Limit>,
    /// What a stick, or software, has to be able to do.
    pub needs: Vec<Need>,
    /// The share of the weakest direction's reach that the dead zone needed at rest would eat,
    /// where that is more than a third: which direction, its reach and the share, both 0..=1.
    pub eaten: Option<(Direction, f64, f64)>,
}

impl Found {
    /// What the recordings came to.
    #[must_use]
    pub fn of(facts: &Facts, suggestions: &Suggestions) -> Self {
        let weakest = suggestions.dead_zone.as_ref().ok().and_then(|advice| advice.weakest);
        let eaten = weakest.filter(|weakest| weakest.eaten > COLLISION_SHARE);
        Self {
            limits: facts.limits.clone(),
            needs: facts.needs.clone(),
            eaten: eaten.map(|weakest| (weakest.asked, weakest.reach, weakest.eaten)),
        }
    }
}

/// One answer that led to advice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answered {
    /// What moves the stick.
    Body(BodyPart),
    /// What moves the stick, as the kind of stick says.
    Mover(Mover),
    /// How far it moves.
    Travel(Travel),
    /// How strongly it pushes.
    Strength(Strength),
    /// How it moves without being meant to.
    Unwanted(Unwanted),
    /// How it holds on.
    Grasp(Grasp),
    /// For how long it can go on.
    Endurance(Endurance),
    /// Muscles are weak.
    Weak,
    /// Moving hurts, or there is pain today.
    Hurts,
    /// Weakness, pain and loose joints were each answered with no.
    NothingAgainstForce,
    /// How the person sits or lies.
    Posture(Posture),
    /// Where a stick can be.
    Place(MountPlace),
    /// Whether the stick of an ordinary pad can be reached.
    PadReach(PadReach),
    /// What can press.
    Pressing(Pressing),
    /// How many buttons are needed.
    Actions(Actions),
    /// Whether breath can be used.
    Breath(bool),
    /// The skin gets sore.
    SoreSkin,
    /// It gets wet.
    Wet,
    /// Several people use it.
    Shared,
    /// What the safety check found.
    Care(Condition),
}

/// Everything that is known of one person when a stick is chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    /// The answers.
    pub wanted: Wanted,
    /// The safety check.
    pub safety: Safety,
    /// Weakness, pain and joints, from all answers together.
    pub body: BodyAnswers,
    /// What moves the stick that is fitted now.
    pub mover: Mover,
    /// What was measured.
    pub found: Found,
}

impl Person {
    /// The person of a visit, with what was measured.
    #[must_use]
    pub fn of(visit: &Visit, mover: Mover, found: Found) -> Self {
        let Visit { wanted, safety, today, .. } = visit.tidied();
        let body = wanted.body_answers(&safety, &today);
        Self { wanted, safety, body, mover, found }
    }

    /// Whether the safety check answered this with yes.
    pub(super) fn has(&self, condition: Condition) -> bool {
        self.safety.answer(condition) == Some(true)
    }

    /// Whether the stick, or a tube, is in the mouth: by what moves it or by breath that is used.
    #[must_use]
    pub fn uses_mouth(&self) -> bool {
        self.wanted.body == Some(BodyPart::Lip)
            || self.wanted.breath == Some(true)
            || matches!(self.mover, Mover::Lip | Mover::Breath)
    }

    /// Whether the stick is at the face: in the mouth, or at the chin.
    #[must_use]
    pub fn is_at_face(&self) -> bool {
        self.uses_mouth() || self.wanted.body == Some(BodyPart::Chin) || self.mover == Mover::Chin
    }

    /// What moves the stick, as an answer; `None` where nobody said and it is nothing special.
    pub(super) fn moved_by(&self) -> Option<Answered> {
        match (self.wanted.body, self.mover) {
            (Some(body), _) => Some(Answered::Body(body)),
            (None, Mover::Limb) => None,
            (None, mover) => Some(Answered::Mover(mover)),
        }
    }

    /// The shortest comfortable reach, where it leaves something to ask for.
    pub(super) fn short_reach(&self) -> Option<&Limit> {
        let is_short = |limit: &&Limit| match limit {
            Limit::Reach { shortest, .. } => shortest.1.value < papers::AMPLE_REACH,
            _ => false,
        };
        self.found.limits.iter().find(is_short)
    }

    /// The rhythm found while holding.
    pub(super) fn rhythm(&self) -> Option<&Limit> {
        self.found.limits.iter().find(|limit| matches!(limit, Limit::Rhythm { .. }))
    }

    /// The sudden movements found at rest.
    pub(super) fn sudden(&self) -> Option<&Limit> {
        self.found.limits.iter().find(|limit| matches!(limit, Limit::Sudden { .. }))
    }

    /// What was kept up, where that was more than easy.
    pub(super) fn hard_hold(&self) -> Option<&Limit> {
        let is_hard = |limit: &&Limit| match limit {
            Limit::KeptUp { effort, .. } => *effort > EASY_EFFORT,
            _ => false,
        };
        self.found.limits.iter().find(is_hard)
    }

    /// The comfortable reach of the shortest direction, where it was measured.
    #[must_use]
    pub fn shortest_reach(&self) -> Option<(Direction, Estimate)> {
        self.found.limits.iter().find_map(|limit| match limit {
            Limit::Reach { shortest, .. } => Some(*shortest),
            _ => None,
        })
    }

    /// Whether a heavier spring may be named: weakness, pain and joints that slip were each
    /// answered no, and nothing else speaks against it.
    #[must_use]
    pub fn may_push_harder(&self) -> bool {
        let no = |answer: Option<bool>| answer == Some(false);
        no(self.body.weakness)
            && no(self.body.pain)
            && no(self.body.joint_instability)
            && self.wanted.endurance != Some(Endurance::Minutes)
            && !self.has(Condition::RecentSurgery)
            && !self.is_at_face()
            && self.hard_hold().is_none()
    }
}
