//! Which pushes stand out among those the same way.

use super::ShortPush;

/// A push that goes less than this share of others the same way stands out: 38 % beside 65 %, and not
/// 45 % beside 70 %, as tired pushes go. Our own choice.
const STANDS_OUT: f64 = 0.6;

/// Whether a push this long, share of travel, stands out: it goes less than three fifths of the
/// median of `others` the same way, of the shorter of the middle two of an even number: one that went
/// far makes no others stand out.
pub(crate) fn falls_short(reach: f64, mut others: Vec<f64>) -> Option<ShortPush> {
    others.sort_by(f64::total_cmp);
    let usual = *others.get(others.len().checked_sub(1)? / 2)?;
    (reach < STANDS_OUT * usual).then_some(ShortPush { reach, usual })
}
