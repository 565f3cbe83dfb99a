//! One column of a recording, times or values, as bytes.

use super::bytes::{Reader, put_signed, put_unsigned, unzigzag, zigzag};
use super::grid::{Form, Grid};
use crate::statistics::order::sort_numbers;
use std::collections::BTreeMap;

const STILL: u8 = 0;
const ON_GRID: u8 = 1;
const LISTED: u8 = 2;
const SHORT: u8 = 3;
const LONG: u8 = 4;

/// How a time in whole microseconds becomes seconds.
const TIME_FORMS: [fn(i64) -> f64; 2] = [thousandths_twice, millionths];

/// A browser's clock in milliseconds, turned into seconds.
fn thousandths_twice(microseconds: i64) -> f64 {
    microseconds as f64 / 1000.0 / 1000.0
}

fn millionths(microseconds: i64) -> f64 {
    microseconds as f64 / 1e6
}

/// The microseconds of a time, when it is a whole number of them in this form.
fn microseconds(form: fn(i64) -> f64, seconds: f64) -> Option<i64> {
    if seconds.abs() > 1e9 {
        return None;
    }
    let near = libm::round(seconds * 1e6) as i64;
    (form(near).to_bits() == seconds.to_bits()).then_some(near)
}

/// Writes times, which rise.
pub(super) fn put_times(out: &mut Vec<u8>, seconds: &[f64]) {
    for (number, form) in (0_u8..).zip(TIME_FORMS) {
        let all: Option<Vec<i64>> = seconds.iter().map(|at| microseconds(form, *at)).collect();
        let Some(all) = all else { continue };
        let steps: Vec<i64> = all.windows(2).map(|pair| pair[1] - pair[0]).collect();
        // A clock that was made coarser steps by several microseconds at once.
        let step = steps.iter().fold(0, |one, other| common(one, *other)).max(1);
        let usual = middle(&steps) / step;
        out.push(ON_GRID);
        out.push(number);
        put_unsigned(out, step.unsigned_abs());
        put_signed(out, usual);
        put_signed(out, all.first().copied().unwrap_or_default());
        let mut sum = 0;
        let sums = steps.iter().map(|one| {
            sum += one / step - usual;
            sum
        });
        put_differences(out, sums);
        return;
    }
    out.push(LONG);
    put_planes(out, seconds.iter().map(|at| at.to_le_bytes()));
}

/// Reads as many times.
pub(super) fn times(from: &mut Reader<'_>, count: usize) -> Option<Vec<f64>> {
    match from.byte()? {
        ON_GRID => {
            let form = *TIME_FORMS.get(usize::from(from.byte()?))?;
            let step = i64::try_from(from.unsigned()?).ok()?;
            let usual = from.signed()?;
            let first = from.signed()?;
            let later = differences(from, count.checked_sub(1)?)?;
            let time = |(place, sum): (i64, i64)| {
                let steps = usual.checked_mul(place)?.checked_add(sum)?;
                Some(form(first.checked_add(steps.checked_mul(step)?)?))
            };
            (0..).zip(std::iter::once(0).chain(later)).map(time).collect()
        }
        LONG => planes(from, count).map(|all| all.into_iter().map(f64::from_le_bytes).collect()),
        _ => None,
    }
}

/// Writes values of an axis or a button: as counts where they lie on a grid, as places in a list
/// where there are few, else as they are.
pub(super) fn put_values(out: &mut Vec<u8>, values: &[f64]) {
    if let Some(only) = values.first().filter(|first| {
        // Most columns of a device are buttons that nobody touches.
        values.iter().all(|value| value.to_bits() == first.to_bits())
    }) {
        out.push(STILL);
        out.extend(only.to_le_bytes());
        return;
    }
    let mut listed: BTreeMap<u64, usize> = values.iter().map(|v| (v.to_bits(), 0)).collect();
    let distinct: Vec<f64> = listed.keys().map(|bits| f64::from_bits(*bits)).collect();
    if let Some(grid) = Grid::of(&distinct) {
        out.push(ON_GRID);
        out.push(Form::ALL.iter().position(|form| *form == grid.form).map_or(0, |at| at as u8));
        put_unsigned(out, u64::from(grid.steps));
        let counts = values.iter().map(|value| grid.count(*value).unwrap_or_default());
        put_differences(out, counts.map(i64::from));
    } else if distinct.len() <= values.len() / 4 {
        // In the order of size, so that neighbours lie beside each other.
        let mut sorted = distinct;
        sort_numbers(&mut sorted);
        out.push(LISTED);
        put_unsigned(out, sorted.len() as u64);
        for (place, value) in sorted.iter().enumerate() {
            listed.insert(value.to_bits(), place);
            out.extend(value.to_le_bytes());
        }
        let place = |value: &f64| listed.get(&value.to_bits()).copied().unwrap_or_default();
        put_differences(out, values.iter().map(|value| place(value) as i64));
    } else if let Some(short) = all_short(values) {
        out.push(SHORT);
        put_planes(out, short.into_iter().map(f32::to_le_bytes));
    } else {
        out.push(LONG);
        put_planes(out, values.iter().map(|value| value.to_le_bytes()));
    }
}

/// Reads as many values.
pub(super) fn values(from: &mut Reader<'_>, count: usize) -> Option<Vec<f64>> {
    match from.byte()? {
        STILL => Some(vec![f64::from_le_bytes(from.some()?); count]),
        ON_GRID => {
            let form = *Form::ALL.get(usize::from(from.byte()?))?;
            let grid = Grid::new(form, u32::try_from(from.unsigned()?).ok()?)?;
            let share = |count: i64| Some(grid.share(i32::try_from(count).ok()?));
            differences(from, count)?.into_iter().map(share).collect()
        }
        LISTED => {
            let listed =
                usize::try_from(from.unsigned()?).ok().filter(|listed| *listed <= count)?;
            let list = (0..listed)
                .map(|_| from.some().map(f64::from_le_bytes))
                .collect::<Option<Vec<f64>>>()?;
            let value = |place: i64| list.get(usize::try_from(place).ok()?).copied();
            differences(from, count)?.into_iter().map(value).collect()
        }
        SHORT => planes(from, count)
            .map(|all| all.into_iter().map(|one| f64::from(f32::from_le_bytes(one))).collect()),
        LONG => planes(from, count).map(|all| all.into_iter().map(f64::from_le_bytes).collect()),
        _ => None,
    }
}

/// The values in 32 bits, when these hold each of them.
fn all_short(values: &[f64]) -> Option<Vec<f32>> {
    values
        .iter()
        .map(|value| {
            let short = *value as f32;
            (f64::from(short).to_bits() == value.to_bits()).then_some(short)
        })
        .collect()
}

/// Differences of neighbours, or differences of these where they are smaller (a smooth push on a fine
/// grid): as many bytes each as the largest needs, low bytes first.
fn put_differences(out: &mut Vec<u8>, counts: impl Iterator<Item = i64>) {
    let counts: Vec<i64> = counts.collect();
    let once = less_the_one_before(&counts);
    let twice = less_the_one_before(&once);
    let size = |all: &[i64]| all.iter().map(|one| one.unsigned_abs()).sum::<u64>();
    let (times, chosen) = if size(&twice) < size(&once) { (2, twice) } else { (1, once) };
    let all: Vec<[u8; 8]> = chosen.into_iter().map(|one| zigzag(one).to_le_bytes()).collect();
    let needed = |one: &[u8; 8]| 8 - one.iter().rev().take_while(|byte| **byte == 0).count();
    let width = all.iter().map(needed).max().unwrap_or_default();
    out.extend([times, width as u8]);
    for plane in 0..width {
        out.extend(all.iter().map(|one| one[plane]));
    }
}

fn less_the_one_before(all: &[i64]) -> Vec<i64> {
    let mut before = 0;
    all.iter().map(|one| one - std::mem::replace(&mut before, *one)).collect()
}

fn differences(from: &mut Reader<'_>, count: usize) -> Option<Vec<i64>> {
    let times = from.byte().filter(|times| (1..=2).contains(times))?;
    let width = usize::from(from.byte()?);
    if width > 8 {
        return None;
    }
    let bytes = from.take(count.checked_mul(width)?)?;
    let (mut difference, mut at) = (0_i64, 0_i64);
    (0..count)
        .map(|place| {
            let byte = |plane: usize| if plane < width { bytes[plane * count + place] } else { 0 };
            let one = unzigzag(u64::from_le_bytes(std::array::from_fn(byte)));
            difference = if times == 2 { difference.checked_add(one)? } else { one };
            at = at.checked_add(difference)?;
            Some(at)
        })
        .collect()
}

/// The first bytes of all, then the second ones and so on: like beside like.
fn put_planes<const BYTES: usize>(out: &mut Vec<u8>, all: impl Iterator<Item = [u8; BYTES]>) {
    let all: Vec<[u8; BYTES]> = all.collect();
    for plane in 0..BYTES {
        out.extend(all.iter().map(|one| one[plane]));
    }
}

fn planes<const BYTES: usize>(from: &mut Reader<'_>, count: usize) -> Option<Vec<[u8; BYTES]>> {
    let bytes = from.take(count.checked_mul(BYTES)?)?;
    let one = |place: usize| std::array::from_fn(|plane| bytes[plane * count + place]);
    Some((0..count).map(one).collect())
}

/// The middle one by size; 0 of none.
fn middle(all: &[i64]) -> i64 {
    let mut sorted: Vec<f64> = all.iter().map(|one| *one as f64).collect();
    sort_numbers(&mut sorted);
    sorted.get(sorted.len() / 2).map_or(0, |middle| *middle as i64)
}

/// The greatest common divisor (Euclid).
const fn common(one: i64, other: i64) -> i64 {
    let (mut one, mut other) = (one.abs(), other.abs());
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}
