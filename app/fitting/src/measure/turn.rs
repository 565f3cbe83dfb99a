//! Whether all pushes together come out turned: by the mount, or by the person's own pattern.

use super::DirectionReach;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::position::fold_degrees;
use crate::statistics::distributions::t_quantile;

/// Directions needed before anything is said.
const LEAST_DIRECTIONS: usize = 3;

/// The mean of (performed − asked) angle over the directions, degrees, positive from right
/// towards up, with a t interval over directions (each direction's own mean is one value).
///
/// Each direction counts once, however often it was asked, so that one side that is pushed
/// askew does not pass for a turned mount. The spread between directions is the person's
/// pattern, and widens the interval.
pub fn turn(reach: &[DirectionReach]) -> Measured {
    let offs: Vec<(f64, usize)> = reach
        .iter()
        .filter_map(|direction| {
            let end = direction.end?;
            let off = fold_degrees(end.degrees() - direction.asked.degrees());
            Some((off, direction.ends.len()))
        })
        .collect();
    if offs.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    if offs.len() < LEAST_DIRECTIONS {
        return Err(NotEnough::Repetitions { have: offs.len(), need: LEAST_DIRECTIONS });
    }
    let (mut sines, mut cosines) = (0.0, 0.0);
    for (off, _) in &offs {
        let (sin, cos) = libm::sincos(off.to_radians());
        sines += sin;
        cosines += cos;
    }
    let value = libm::atan2(sines, cosines).to_degrees();
    let count = offs.len() as f64;
    let squares: f64 = offs
        .iter()
        .map(|(off, _)| {
            let residual = fold_degrees(off - value);
            residual * residual
        })
        .sum();
    let error = (squares / (count - 1.0) / count).sqrt();
    let half = t_quantile(0.975, count - 1.0) * error;
    Ok(Estimate {
        value,
        low: value - half,
        high: value + half,
        basis: Basis { seconds: 0.0, repetitions: offs.iter().map(|(_, pushes)| pushes).sum() },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Direction, Position};

    fn pushed(asked: Direction, degrees: f64) -> DirectionReach {
        let end = Position::polar(0.6, degrees);
        DirectionReach {
            asked,
            reach: Err(NotEnough::NothingRecorded),
            end: Some(end),
            degrees_off: Err(NotEnough::NothingRecorded),
            ends: vec![end],
        }
    }

    /// Circular mean of (produced − asked), scipy.stats.circmean: mean rotation 12.249957149306407
    /// degrees for eight produced angles. There the asked angles are 0, 45, … 315.
    #[test]
    fn it_agrees_with_a_published_library() {
        let produced = [12.0, 55.0, 104.0, 147.0, 190.0, 240.0, 281.0, 329.0];
        let reach: Vec<DirectionReach> =
            Direction::EIGHT.into_iter().zip(produced).map(|(d, p)| pushed(d, p)).collect();
        let turn = turn(&reach).expect("eight directions");
        assert!((turn.value - 12.249_957_149_306_407).abs() < 1e-9);
        assert!(turn.low > 10.0 && turn.high < 15.0, "{turn:?}");
    }

    #[test]
    fn one_skewed_side_is_no_turned_mount() {
        let reach = [
            pushed(Direction::Right, 40.0),
            pushed(Direction::Up, 90.0),
            pushed(Direction::Left, 180.0),
            pushed(Direction::Down, -90.0),
        ];
        let turn = turn(&reach).expect("four directions");
        assert!(turn.low < 0.0 && turn.high > 10.0);
    }

    #[test]
    fn two_directions_are_not_enough() {
        let reach = [pushed(Direction::Right, 20.0), pushed(Direction::Up, 110.0)];
        assert_eq!(turn(&reach), Err(NotEnough::Repetitions { have: 2, need: 3 }));
        assert_eq!(turn(&[]), Err(NotEnough::NothingRecorded));
    }
}
