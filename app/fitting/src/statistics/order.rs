//! Putting things in order.
//!
//! Every sort of a new type or a new comparison is compiled anew, some kilobytes each, into a
//! program that is fetched before its first use. So there is one for numbers, one for pairs, and
//! a very short one for lists that are.

/// Puts numbers in rising order (IEEE 754 total order: equal ones have equal bits).
#[inline(never)]
pub fn sort_numbers(numbers: &mut [f64]) {
    numbers.sort_unstable_by(f64::total_cmp);
}

/// Puts pairs in rising order of their first number; equal ones stay in the order they had.
#[inline(never)]
pub fn sort_pairs(pairs: &mut [(f64, f64)]) {
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
}

/// Puts a short list in order by insertion; equal entries stay in the order they had. Work grows
/// with the square of the length, but hardly at all for what is nearly in order.
pub fn sort_few<T>(list: &mut [T], comes_before: impl Fn(&T, &T) -> bool) {
    for end in 1..list.len() {
        let mut at = end;
        while at > 0 && comes_before(&list[at], &list[at - 1]) {
            list.swap(at, at - 1);
            at -= 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{any, prop_assert_eq, proptest};

    proptest! {
        /// All three give what the standard library's stable sort gives.
        #[test]
        fn order_is_the_standard_librarys(
            numbers in proptest::collection::vec(any::<f64>(), 0..60),
            pairs in proptest::collection::vec((0..6_u8, any::<u8>()), 0..60),
        ) {
            let mut sorted = numbers.clone();
            sort_numbers(&mut sorted);
            let mut expected = numbers;
            expected.sort_by(f64::total_cmp);
            let bits = |list: &[f64]| list.iter().map(|one| one.to_bits()).collect::<Vec<_>>();
            prop_assert_eq!(bits(&sorted), bits(&expected));

            let mut expected: Vec<(f64, f64)> =
                pairs.iter().map(|&(one, other)| (f64::from(one), f64::from(other))).collect();
            let (mut paired, mut few) = (expected.clone(), expected.clone());
            expected.sort_by(|one, other| one.0.total_cmp(&other.0));
            sort_pairs(&mut paired);
            sort_few(&mut few, |one, other| one.0 < other.0);
            prop_assert_eq!(&paired, &expected);
            prop_assert_eq!(&few, &expected);
        }
    }
}
