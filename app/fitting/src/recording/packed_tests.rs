use super::*;
use proptest::prelude::*;
use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg32;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-254..=254_i32).prop_map(|count| f64::from(count) / 254.0),
        (0..=255_i32).prop_map(|count| f64::from(2.0 * count as f32 / 255.0 - 1.0)),
        -1.0..=1.0_f64,
        (-1.0..=1.0_f32).prop_map(f64::from),
        Just(0.0),
        Just(-0.0),
        Just(1.0),
        any::<f64>(),
    ]
}

fn sample() -> impl Strategy<Value = Sample> {
    let time =
        prop_oneof![any::<f64>(), (0..100_000_000_i64).prop_map(|us| us as f64 / 1000.0 / 1000.0)];
    (time, proptest::collection::vec(number(), 0..4), proptest::collection::vec(number(), 0..3))
        .prop_map(|(arrival_seconds, axes, buttons)| Sample { arrival_seconds, axes, buttons })
}

/// A sample of a device with any number of controls.
fn any_shape() -> impl Strategy<Value = Sample> {
    let controls = || proptest::collection::vec(number(), 0..=MOST_CONTROLS);
    (any::<f64>(), controls(), controls()).prop_map(|(arrival_seconds, axes, buttons)| Sample {
        arrival_seconds,
        axes,
        buttons,
    })
}

fn bits(samples: &[Sample]) -> Vec<(u64, Vec<u64>, Vec<u64>)> {
    let all = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect();
    samples
        .iter()
        .map(|one| (one.arrival_seconds.to_bits(), all(&one.axes), all(&one.buttons)))
        .collect()
}

proptest! {
    /// Whatever the samples, also what no device sends: the same bits again.
    #[test]
    fn packing_loses_nothing(samples in proptest::collection::vec(sample(), 0..60)) {
        prop_assert_eq!(pack(&samples).and_then(|text| unpack(&text)).map(|back| bits(&back)), Some(bits(&samples)));
    }

    /// What fits the memory fits the columns, however odd: so what may be written is read again.
    #[test]
    fn columns_take_little_more_than_the_memory(
        samples in proptest::collection::vec(any_shape(), 0..40),
        again in 1..4_usize,
    ) {
        let samples: Vec<Sample> =
            samples.into_iter().flat_map(|one| std::iter::repeat_n(one, again)).collect();
        let memory: usize = samples.iter().map(memory_bytes).sum();
        prop_assert!(columns(&samples).len() <= 8 + memory / 4 * 5);
    }

    /// Columns of one device, long enough for every form.
    #[test]
    fn every_column_comes_back(
        values in prop_oneof![
            proptest::collection::vec(number(), 1..300),
            proptest::collection::vec((0..3_u8).prop_map(|n| f64::from(n) * 0.1), 1..300),
            proptest::collection::vec((-1.0..1.0_f32).prop_map(f64::from), 1..300),
            proptest::collection::vec((0..65_536_u32).prop_map(|n| f64::from(n) / 65_535.0), 1..300),
        ],
    ) {
        let mut out = Vec::new();
        put_values(&mut out, &values);
        let mut from = Reader::new(&out);
        let back = super::super::column::values(&mut from, values.len()).expect("a column");
        prop_assert!(from.is_at_end());
        let bits = |all: &[f64]| all.iter().map(|one| one.to_bits()).collect::<Vec<_>>();
        prop_assert_eq!(bits(&back), bits(&values));
    }

    /// A changed character is noticed, and nothing panics.
    #[test]
    fn damage_is_noticed(
        samples in proptest::collection::vec(sample(), 1..20),
        at in any::<proptest::sample::Index>(),
        to in "[A-Za-z0-9_-]",
    ) {
        let whole = pack(&samples).expect("few");
        let mut text = whole.clone();
        let at = at.index(text.len());
        text.replace_range(at..=at, &to);
        if let Some(back) = unpack(&text) {
            prop_assert_eq!(bits(&back), bits(&samples));
        }
    }

    #[test]
    fn any_text_is_borne(text in "[A-Za-z0-9_-]{0,200}", bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = unpack(&text);
        // Behind the compression, with a right checksum: what damage alone hardly ever makes.
        let mut bytes = bytes;
        bytes.insert(0, VERSION);
        let sum = crc32(&bytes);
        bytes.extend(sum.to_le_bytes());
        let _ = unpack(&BASE64URL_NOPAD.encode(&compress_to_vec(&bytes, EFFORT)));
    }
}

/// Texts of some kilobytes that would unpack to gigabytes.
#[test]
fn what_would_fill_the_memory_is_refused() {
    let text = |mut bytes: Vec<u8>| {
        let sum = crc32(&bytes);
        bytes.extend(sum.to_le_bytes());
        BASE64URL_NOPAD.encode(&compress_to_vec(&bytes, EFFORT))
    };
    // A great many samples of columns that never change.
    let mut still = vec![VERSION];
    for number in [4_000_000_000, 32, 32] {
        put_unsigned(&mut still, number);
    }
    still.extend([0; 4096]);
    assert_eq!(unpack(&text(still)), None);
    // Many blocks, each of them small enough.
    let mut blocks = vec![VERSION];
    for _ in 0..4_000 {
        let block =
            vec![Sample { arrival_seconds: 0.0, axes: vec![0.0; 32], buttons: Vec::new() }; 100];
        let one = pack(&block).expect("few");
        let one = BASE64URL_NOPAD.decode(one.as_bytes()).expect("text");
        let one = decompress_to_vec_with_limit(&one, MOST_COLUMN_BYTES).expect("bytes");
        blocks.extend(&one[1..one.len() - 4]);
    }
    assert_eq!(unpack(&text(blocks)), None);
    // Zeros and zeros.
    assert_eq!(unpack(&text(vec![0; MOST_COLUMN_BYTES + 1])), None);
}

/// A minute of unbroken movement, 250 changes a second, as a browser of today stamps it: every 4 ms
/// more or less, in steps of 5 microseconds (W3C High Resolution Time, section 5.1, isolated pages).
fn minute(levels: u32, share: impl Fn(i32) -> f64) -> Vec<Sample> {
    let mut chance = Pcg32::seed_from_u64(u64::from(levels));
    let mut even = move || f64::from(chance.next_u32()) / f64::from(u32::MAX) - 0.5;
    let mut sway = [0.0, 0.0];
    (0..15_000)
        .map(|place| {
            let seconds = f64::from(place) * 0.004;
            let late = libm::round((even() + even()) * 40.0) as i64 * 5;
            let microseconds = 2_000_000 + i64::from(place) * 4_000 + late;
            let axes = [(0.9, 0.31), (0.7, 0.23)].into_iter().zip(&mut sway);
            let axes = axes.map(|((far, turns), sway)| {
                // Large pushes, an unsteady hand on top.
                *sway = *sway * 0.95 + even() * 0.004;
                let turn = 2.0 * core::f64::consts::PI * turns * seconds;
                let at = far * libm::sin(turn) + *sway;
                share(libm::round(at.clamp(-1.0, 1.0) * f64::from(levels) / 2.0) as i32)
            });
            Sample {
                arrival_seconds: microseconds as f64 / 1000.0 / 1000.0,
                axes: axes.collect(),
                buttons: vec![0.0; 17],
            }
        })
        .collect()
}

/// The bytes a minute takes as it is kept, which DEVELOPERS.md states.
#[test]
fn a_minute_of_movement_stays_below_sixty_kilobytes() {
    let of_byte = minute(254, |count| f64::from(2.0 * (count + 127) as f32 / 254.0 - 1.0));
    let of_ten_bits = minute(1_022, |count| f64::from(count) / 511.0);
    let of_sixteen_bits =
        minute(65_534, |count| f64::from(2.0 * (count + 32_767) as f32 / 65_534.0 - 1.0));
    let sizes = [of_byte, of_ten_bits, of_sixteen_bits].map(|samples| {
        let text = pack(&samples).expect("few");
        assert_eq!(unpack(&text).as_deref(), Some(samples.as_slice()));
        text.len()
    });
    println!("bytes a minute: {sizes:?}");
    assert!(sizes.iter().all(|bytes| *bytes < 60_000), "{sizes:?}");
}

/// A device with every control a browser shows, none of them on a grid: the most that is written is read
/// again, and one sample more is refused when it is written.
#[test]
fn what_is_written_is_read_again_and_no_more_is_written() {
    let mut chance = Pcg32::seed_from_u64(9);
    let mut any = move || f64::from(chance.next_u32()) / 1e9 + f64::from(chance.next_u32()) / 1e19;
    let mut all = |count: usize| (0..count).map(|_| any()).collect::<Vec<f64>>();
    let mut samples: Vec<Sample> = (0..)
        .map(|place| Sample {
            arrival_seconds: f64::from(place) * 0.004 + 1e-9,
            axes: all(MOST_CONTROLS),
            buttons: all(MOST_CONTROLS),
        })
        .take(MOST_MEMORY_BYTES / (SAMPLE_BYTES + 16 * MOST_CONTROLS))
        .collect();
    let text = pack(&samples).expect("within the cap");
    assert_eq!(unpack(&text).as_deref(), Some(samples.as_slice()));
    samples.push(samples[0].clone());
    assert_eq!(pack(&samples), None);
    let recording = Recording { samples, polled: Vec::new() };
    assert!(serde_json::to_string(&recording).is_err());
    // More controls than any device is read with.
    let many = Sample { axes: vec![0.0; MOST_CONTROLS + 1], ..Sample::default() };
    assert_eq!(pack(&[many]), None);
}
