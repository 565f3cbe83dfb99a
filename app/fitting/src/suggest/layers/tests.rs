use super::*;
use crate::suggest::HostForm;
use crate::visit::{LayerKind, Path};
use proptest::prelude::*;

fn layer(dead_zone: f64) -> Layer {
    Layer { dead_zone: Some(dead_zone), ..Layer::default() }
}

fn hub(dead_zone: f64) -> Layer {
    Layer { kind: LayerKind::Hub, can_be_set: false, ..layer(dead_zone) }
}

fn path(layers: Vec<Layer>, named: usize) -> Path {
    Path { layers, named: Some(named) }
}

fn wish(dead_zone: f64, full_throw: f64) -> Settings {
    Settings { dead_zone, full_throw, ..Settings::default() }
}

fn near(one: f64, other: f64) {
    assert!((one - other).abs() < 1e-6, "{one} is not {other}");
}

#[test]
fn two_layers_by_hand() {
    // 10 % and, of what is left, 10 % once more: 0.1 + 0.9 · 0.1 = 19 % of travel.
    let both = LayeredPath::new(&[layer(0.1), layer(0.1)], 0.0);
    near(both.dead_zone(), 0.19);
    near(both.full_throw().unwrap(), 1.0);
    // Half way: (0.5 − 0.1) / 0.9 = 0.4444…; (0.4444… − 0.1) / 0.9 = 0.382716…
    near(both.answer(0.5), 0.382_716_049);
    // One that jumps lets 0.5 through as it is: (0.5 − 0.1) / 0.9.
    let jumps = Layer { starts_at_zero: false, ..layer(0.1) };
    let one = LayeredPath::new(std::slice::from_ref(&jumps), 0.0);
    near(one.answer(0.5), 0.5);
    near(one.answer(0.1), 0.0);
    near(one.answer(0.100_001), 0.100_001);
    near(LayeredPath::new(&[jumps, layer(0.1)], 0.0).answer(0.5), 4.0 / 9.0);
    // All the way from 80 % on, squared: (0.4 / 0.8)² = 0.25.
    let squared = Layer { full_throw: 0.8, exponent: 2.0, ..Layer::default() };
    let squared = LayeredPath::new(&[squared], 0.0);
    near(squared.answer(0.4), 0.25);
    near(squared.full_throw().unwrap(), 0.8);
}

#[test]
fn shapes_differ_off_the_axes() {
    let square = Layer { shape: Shape::PerAxis, starts_at_zero: false, ..layer(0.1) };
    let round = Layer { starts_at_zero: false, ..layer(0.1) };
    let at = Position::new(0.09, 0.5);
    let of = |layer: &Layer| LayeredPath::new(std::slice::from_ref(layer), 0.0).apply(at);
    assert_eq!(of(&round), at);
    assert_eq!(of(&square), Position::new(0.0, 0.5));
    let corner = Position::new(0.08, 0.08);
    let of = |layer: &Layer| LayeredPath::new(std::slice::from_ref(layer), 0.0).apply(corner);
    assert_eq!((of(&round), of(&square)), (corner, Position::ORIGIN));
}

#[test]
fn nothing_in_between_is_what_hosts_take() {
    let settings = Settings { curve: Curve::Exponent(1.4), ..wish(0.12, 0.7) };
    let advice = for_path(&settings, &Path::default());
    assert_eq!((advice.layer, advice.notes.len()), (None, 0));
    assert_eq!(advice.form, HostForm::of(&settings));
    // One host that does nothing by itself takes the same numbers, to its steps.
    let advice = for_path(&settings, &path(vec![Layer::default()], 0));
    near(advice.dead_zone, 0.12);
    near(advice.full_throw, 0.7);
    near(advice.exponent, 1.4);
    assert!(advice.notes.is_empty(), "{:?}", advice.notes);
    assert!(advice.reached.error < 1e-6, "{:?}", advice.reached);
    let coarse = Layer { step: Some(0.05), ..Layer::default() };
    let advice = for_path(&settings, &path(vec![coarse], 0));
    near(advice.dead_zone, 0.15);
    near(advice.full_throw, 0.7);
    near(advice.reached.dead_zone, 0.15);
}

#[test]
fn a_hub_that_swallows_a_part_leaves_the_rest_to_the_host() {
    // 15 % wanted, 10 % gone in the hub: of what comes in (0.15 − 0.1) / 0.9 = 5.6 %, so 6 %.
    let advice = for_path(&wish(0.15, 0.8), &path(vec![hub(0.1), Layer::default()], 1));
    near(advice.dead_zone, 0.06);
    // All the way at (0.8 − 0.1) / 0.9 = 77.8 %, so 77 %.
    near(advice.full_throw, 0.77);
    // At the stick: 0.1 + 0.9 · 0.06 = 15.4 %.
    near(advice.reached.dead_zone, 0.154);
    near(advice.reached.full_throw.unwrap(), 0.1 + 0.9 * 0.77);
    assert_eq!(advice.notes, [LayerNote::EarlierTakesPart { layer: 0, dead_zone: 0.1 }]);
    near(advice.exponent, 1.0);
    // All of it gone in the hub already: nothing to type in, and it says why.
    let advice = for_path(&wish(0.1, 0.8), &path(vec![hub(0.12), Layer::default()], 1));
    near(advice.dead_zone, 0.0);
    let said = [LayerNote::EarlierIgnoresIt(0), LayerNote::StaysThere(0)];
    assert_eq!(advice.notes, said);
    near(advice.reached.dead_zone, 0.12);
}

#[test]
fn a_later_layer_is_made_up_for_or_to_be_lowered_there() {
    // The game ignores 10 % of what the host passes on. x = (0.15 − 0.1 f) / 0.9 with f = 1.
    let game = Layer { kind: LayerKind::Game, ..layer(0.1) };
    let advice = for_path(&wish(0.15, 1.0), &path(vec![Layer::default(), game.clone()], 0));
    near(advice.dead_zone, 0.06);
    near(advice.full_throw, 1.0);
    assert_eq!(advice.notes, [LayerNote::LaterTakesPart { layer: 1, dead_zone: 0.1 }]);
    near(advice.reached.dead_zone, 0.06 + 0.1 * 0.94);
    // 5 % wanted and 10 % ignored in the game: nothing to type in, and the game is to be lowered.
    let advice = for_path(&wish(0.05, 1.0), &path(vec![Layer::default(), game.clone()], 0));
    near(advice.dead_zone, 0.0);
    near(advice.reached.dead_zone, 0.1);
    let lower = LayerNote::LowerThere { layer: 1, to: 0.05 };
    assert_eq!(advice.notes, [LayerNote::LaterTakesPart { layer: 1, dead_zone: 0.1 }, lower]);
    // Where it cannot be, it is said to stay.
    let fixed = Layer { can_be_set: false, ..game };
    let advice = for_path(&wish(0.05, 1.0), &path(vec![Layer::default(), fixed], 0));
    assert!(advice.notes.contains(&LayerNote::StaysThere(1)));
}

#[test]
fn a_layer_nobody_knows_gives_a_range_and_a_check_tells_it() {
    let unknown = Layer { dead_zone: None, ..hub(0.0) };
    let whole = path(vec![unknown, Layer::default()], 1);
    let advice = for_path(&wish(0.15, 0.9), &whole);
    near(advice.dead_zone, 0.15);
    // 10 % there leaves (0.15 − 0.1) / 0.9 = 6 %, 25 % leaves nothing.
    let (low, high) = advice.dead_zone_range.unwrap();
    near(low, 0.0);
    near(high, 0.15);
    assert_eq!(advice.notes, [LayerNote::Unknown(0)]);
    // The game moves from 10 % of travel on: that is what the hub ignores.
    near(found_by_moving(&whole, 0, 0.1).unwrap(), 0.1);
    // Behind a host that ignores 10 % itself, 19 % at the stick are 10 % in the game.
    let behind = path(vec![layer(0.1), Layer { dead_zone: None, ..layer(0.0) }], 1);
    near(found_by_moving(&behind, 1, 0.19).unwrap(), 0.1);
    near(found_by_moving(&behind, 1, 0.05).unwrap(), 0.0);
    assert_eq!(found_by_moving(&behind, 2, 0.05), None);
    assert_eq!(found_by_moving(&behind, 1, f64::NAN), None);
}

#[test]
fn jumps_shapes_and_what_cannot_be_set_are_said() {
    let jumps = Layer { starts_at_zero: false, ..Layer::default() };
    let advice = for_path(&wish(0.15, 1.0), &path(vec![jumps], 0));
    near(advice.dead_zone, 0.15);
    match advice.notes.as_slice() {
        [LayerNote::Jumps(to)] => assert!((to - 0.15).abs() < 1e-3),
        other => panic!("{other:?}"),
    }
    let square = Layer { shape: Shape::PerAxis, ..hub(0.05) };
    let advice = for_path(&wish(0.15, 1.0), &path(vec![square, Layer::default()], 1));
    assert!(advice.notes.contains(&LayerNote::MixedShapes));
    let advice = for_path(&wish(0.15, 1.0), &path(vec![hub(0.05)], 0));
    assert!(advice.notes.contains(&LayerNote::CannotBeSet(0)));
    near(advice.dead_zone, 0.05);
    let nothing = Path { layers: vec![hub(0.05)], named: None };
    let advice = for_path(&wish(0.15, 1.0), &nothing);
    assert_eq!((advice.layer, advice.notes), (None, vec![LayerNote::NothingCanBeSet]));
    near(advice.reached.dead_zone, 0.05);
    // A hub that is all the way at half of the travel leaves no room for the wish.
    let early = Layer { full_throw: 0.5, ..hub(0.0) };
    let advice = for_path(&wish(0.1, 0.9), &path(vec![early, Layer::default()], 1));
    assert!(advice.notes.contains(&LayerNote::FullEarly), "{:?}", advice.notes);
    near(advice.reached.full_throw.unwrap(), 0.5);
}

#[test]
fn a_round_dead_zone_stands_in_for_one_by_axis() {
    let square = Settings { shape: Shape::PerAxis, ..wish(0.1, 1.0) };
    let advice = for_path(&square, &path(vec![Layer::default()], 0));
    // The disc that holds a square of half-width 10 % has the radius 14.1 %: 15 % on the slider.
    near(advice.dead_zone, 0.15);
    match advice.notes.as_slice() {
        [LayerNote::RoundForSquare(radius)] => near(*radius, 0.1 * std::f64::consts::SQRT_2),
        other => panic!("{other:?}"),
    }
    let by_axis = Layer { shape: Shape::PerAxis, ..Layer::default() };
    let advice = for_path(&square, &path(vec![by_axis], 0));
    near(advice.dead_zone, 0.1);
    assert!(advice.notes.is_empty(), "{:?}", advice.notes);
}

#[test]
fn a_bend_in_one_layer_is_straightened_in_the_next() {
    // The game squares what comes in; the square root before it makes it straight again.
    let game = Layer { exponent: 2.0, can_be_set: false, ..layer(0.0) };
    let advice = for_path(&wish(0.1, 0.9), &path(vec![Layer::default(), game], 0));
    near(advice.exponent, 0.5);
    near(advice.dead_zone, 0.1);
    assert!(advice.reached.error < 0.01, "{:?}", advice.reached);
}

fn any_layer() -> impl Strategy<Value = Layer> {
    let flags = (any::<bool>(), any::<bool>(), any::<bool>());
    (0.0..0.4_f64, 0.5..1.0_f64, 0.3..3.0_f64, flags, 0.0..1.0_f64).prop_map(
        |(dead_zone, full_throw, exponent, (starts_at_zero, round, can_be_set), plain)| Layer {
            // Half of them are plain dead zones, as most are.
            dead_zone: Some(dead_zone),
            full_throw: if plain < 0.5 { 1.0 } else { full_throw },
            exponent: if plain < 0.5 { 1.0 } else { exponent },
            starts_at_zero,
            shape: if round { Shape::Radial } else { Shape::PerAxis },
            can_be_set,
            ..Layer::default()
        },
    )
}

fn place() -> impl Strategy<Value = Position> {
    (-1.2..1.2_f64, -1.2..1.2_f64).prop_map(|(right, up)| Position::new(right, up))
}

proptest! {
    #[test]
    fn a_path_is_each_layer_in_turn(layers in prop::collection::vec(any_layer(), 0..5), at in place()) {
        let whole = LayeredPath::new(&layers, 0.0).apply(at);
        let mut turn = at;
        for one in &layers {
            turn = LayeredPath::new(std::slice::from_ref(one), 0.0).apply(turn);
        }
        prop_assert_eq!(whole, turn);
        // Two halves of it one after the other are the same.
        let (front, back) = layers.split_at(layers.len() / 2);
        let halves = LayeredPath::new(back, 0.0).apply(LayeredPath::new(front, 0.0).apply(at));
        prop_assert_eq!(whole, halves);
    }

    #[test]
    fn layers_that_do_nothing_are_as_if_not_there(count in 0usize..5, at in place()) {
        let layers = vec![Layer::default(); count];
        prop_assert_eq!(LayeredPath::new(&layers, 0.0).apply(at), at);
    }

    #[test]
    fn more_push_is_never_less(
        layers in prop::collection::vec(any_layer(), 0..5),
        one in 0.0..1.5_f64,
        other in 0.0..1.5_f64,
    ) {
        let whole = LayeredPath::new(&layers, 0.0);
        let (less, more) = (one.min(other), one.max(other));
        prop_assert!(whole.answer(less) <= whole.answer(more) + 1e-12);
        prop_assert!(layers.is_empty() || whole.answer(more) <= 1.0 + 1e-12);
        prop_assert!(layers.is_empty() || whole.answer(0.99 * whole.dead_zone()) == 0.0);
    }

    /// False movements never grow: whatever lies around it, the whole path ignores at least what
    /// was wanted, and not more than a step beyond where nothing stands in the way.
    #[test]
    fn what_is_typed_keeps_still_what_was_to_be_kept_still(
        before in prop::collection::vec(any_layer(), 0..3),
        after in prop::collection::vec(any_layer(), 0..3),
        rescales in any::<bool>(),
        dead_zone in 0.0..0.4_f64,
        span in 0.1..0.6_f64,
        exponent in 0.5..2.0_f64,
    ) {
        let named = before.len();
        let mut layers = before;
        layers.push(Layer { starts_at_zero: rescales, ..Layer::default() });
        layers.extend(after);
        let curve = Curve::Exponent(exponent);
        let settings = Settings { curve, ..wish(dead_zone, dead_zone + span) };
        let advice = for_path(&settings, &path(layers.clone(), named));
        prop_assert_eq!(advice.layer, Some(named));
        prop_assert!((0.0..=0.9).contains(&advice.dead_zone));
        prop_assert!(advice.full_throw > advice.dead_zone && advice.full_throw <= 1.0);
        layers[named] = Layer {
            dead_zone: Some(advice.dead_zone),
            full_throw: advice.full_throw,
            exponent: advice.exponent,
            ..layers[named].clone()
        };
        let whole = LayeredPath::new(&layers, 0.0);
        prop_assert!((whole.dead_zone() - advice.reached.dead_zone).abs() < 1e-9);
        // The largest dead zone there is may not be enough behind layers that make much of little:
        // that is said.
        let still = whole.dead_zone() >= dead_zone - 1e-6;
        let largest = advice.dead_zone >= 0.9 && advice.notes.contains(&LayerNote::NotStill);
        prop_assert!(still || largest || whole.dead_zone() >= dead_zone - 0.005 && advice.dead_zone >= 0.9, "{:?}", advice);
        let says_more = advice.notes.iter().any(|note| matches!(
            note, LayerNote::LowerThere { .. } | LayerNote::StaysThere(_)
        ));
        let more = whole.dead_zone() > dead_zone + 0.005;
        prop_assert!(!more || advice.dead_zone > 0.0 || says_more, "{:?}", advice);
    }

    /// The check at the game finds what a layer ignores, to the percent it is told in.
    #[test]
    fn a_slow_push_finds_the_unknown_dead_zone(
        before in 0.0..0.3_f64,
        truth in 0.0..0.4_f64,
        after in 0.0..0.3_f64,
    ) {
        let known = path(vec![layer(before), layer(truth), layer(after)], 0);
        let moves_from = LayeredPath::new(&known.layers, 0.0).dead_zone();
        let mut asked = known;
        asked.layers[1].dead_zone = None;
        let found = found_by_moving(&asked, 1, moves_from).unwrap();
        prop_assert!((found - truth).abs() <= 0.005 + 1e-6, "{} {}", found, truth);
    }
}
