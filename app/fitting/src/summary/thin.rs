//! Fitting a summary into a link: what is left out, in a fixed order.

use super::grid::Grid;
use super::{Answer, Lacking, SummaryBody};

/// The last step of leaving out.
pub const MOST_THINNED: u32 = 7;

impl SummaryBody {
    /// The body with one step more left out; `None` after the last. The steps, from what is
    /// missed least: half the points of the rate curve, jitter and full throw by direction, the
    /// way back, longer holds, busy rest and direction map, presses by button (their settings
    /// stay), all but four points of the rate curve with odd axes
    /// and what is left of reach without settings.
    pub(super) fn thinner(mut self) -> Option<Self> {
        let left_out = Lacking::NothingRecorded;
        match self.thinned {
            0 => self.keep_points(8),
            1 => {
                for effect in [&mut self.before, &mut self.after] {
                    effect.jitter.clear();
                }
                if let Answer::Known(advice) = &mut self.full_throw {
                    advice.by_direction.clear();
                }
            }
            2 => self.returns.clear(),
            3 => self.sustained.clear(),
            4 => {
                self.busy_rest.clear();
                self.map = Answer::NotEnough(left_out);
            }
            5 => self.buttons.clear(),
            6 => {
                self.keep_points(4);
                self.before.reach.clear();
                self.stick.odd_axes.clear();
            }
            _ => return None,
        }
        self.thinned += 1;
        Some(self)
    }

    fn keep_points(&mut self, most: usize) {
        let advised = match &self.dead_zone {
            Answer::Known(advice) => Some(advice.radius.value.get()),
            Answer::NotEnough(_) => None,
        };
        if let Answer::Known(rest) = &mut self.rest {
            rest.curve = thinned(&rest.curve, most, |step| step.radius.get(), advised);
        }
    }
}

/// At most `most` (two or more) of a curve, spread evenly over its length, both ends and the
/// point nearest to `advised` among them.
pub(super) fn thinned<T: Copy>(
    curve: &[T],
    most: usize,
    radius: impl Fn(&T) -> f64,
    advised: Option<f64>,
) -> Vec<T> {
    if curve.len() <= most {
        return curve.to_vec();
    }
    let last = curve.len() - 1;
    let mut places: Vec<usize> =
        (0..most).map(|step| (step * last + (most - 1) / 2) / (most - 1)).collect();
    if let Some(advised) = advised {
        let off = |place: usize| (radius(&curve[place]) - advised).abs();
        let nearest = (0..=last).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(0);
        // The inner kept point nearest to it gives way, so that both ends stay.
        let inner = 1..most - 1;
        if !places.contains(&nearest)
            && let Some(step) = inner.min_by_key(|step| places[*step].abs_diff(nearest))
        {
            places[step] = nearest;
        }
    }
    places.iter().map(|place| curve[*place]).collect()
}
