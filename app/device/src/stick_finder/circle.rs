//! How much of a circle a path in two axes went round.

use super::SECTORS;

/// How a path went round the middle of its own box.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Circle {
    /// The largest area swept one way round, as a share of the ellipse that fills the box of
    /// the path; 1 for a full turn and more.
    pub(super) turned_share: f64,
    /// The sectors around the middle that the path visited well away from it.
    pub(super) sectors: u32,
}

impl Circle {
    pub(super) fn of(path: &[(f64, f64)]) -> Self {
        let Some((middle, half)) = middle_and_half_size(path) else { return Self::default() };
        // In shares of the box's half sizes: a stick that reaches less far one way still turns.
        let scaled = path.iter().map(|&(x, y)| ((x - middle.0) / half.0, (y - middle.1) / half.1));
        let (mut area, mut least, mut most) = (0.0_f64, 0.0_f64, 0.0_f64);
        let mut visited = 0_u32;
        let mut before: Option<(f64, f64)> = None;
        for (x, y) in scaled {
            if let Some((x0, y0)) = before {
                area += (x0 * y - x * y0) / 2.0;
                least = least.min(area);
                most = most.max(area);
            }
            if libm::hypot(x, y) >= 0.5 {
                let turns = libm::atan2(y, x) / std::f64::consts::TAU;
                // Sectors are centred on the axes and the diagonals between them.
                let sector = (turns * f64::from(SECTORS)).round().rem_euclid(f64::from(SECTORS));
                visited |= 1 << (sector as u32);
            }
            before = Some((x, y));
        }
        let turned_share = ((most - least) / std::f64::consts::PI).min(1.0);
        Self { turned_share, sectors: visited.count_ones() }
    }
}

/// Middle and half size of the path's box; `None` when the box has no area.
fn middle_and_half_size(path: &[(f64, f64)]) -> Option<((f64, f64), (f64, f64))> {
    let ends = |pick: fn(&(f64, f64)) -> f64| {
        let values = path.iter().map(pick);
        let low = values.clone().fold(f64::INFINITY, f64::min);
        let high = values.fold(f64::NEG_INFINITY, f64::max);
        ((low + high) / 2.0, (high - low) / 2.0)
    };
    let (x, y) = (ends(|at| at.0), ends(|at| at.1));
    (x.1 > 1e-9 && y.1 > 1e-9).then_some(((x.0, y.0), (x.1, y.1)))
}
