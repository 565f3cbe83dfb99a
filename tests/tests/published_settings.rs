//! What the pipeline makes of a position, against plain arithmetic made elsewhere.

use checks::{number, numbers, same, vector};
use fitting::pipeline::curve_at;
use fitting::settings::{Curve, Shape};
use fitting::{Pipeline, Position, Settings};

fn pipeline(shape: Shape, curve: Curve) -> Pipeline {
    Pipeline::new(&Settings {
        centre: Position::ORIGIN,
        dead_zone: 0.15,
        full_throw: 0.95,
        shape,
        curve,
        ..Settings::default()
    })
}

/// Dead zone 0.15, full throw 0.95: the radial form that keeps direction, and the per-axis one
/// that snaps to the axes.
#[test]
fn dead_zone_arithmetic() {
    for (shape, key) in [(Shape::Radial, "scaled_radial"), (Shape::PerAxis, "axial")] {
        let pipeline = pipeline(shape, Curve::Linear);
        for case in vector("deadzone")["points"].as_array().unwrap() {
            let (input, want) = (numbers(&case["in"]), numbers(&case[key]));
            let got = pipeline.apply(Position::new(input[0], input[1]));
            // Near zero a relative bound asks for digits that nobody has.
            assert!((got.right - want[0]).abs() < 1e-12, "{key} {case}");
            assert!((got.up - want[1]).abs() < 1e-12, "{key} {case}");
        }
    }
}

/// On the diagonal a per-axis dead zone d hides pushes up to d √2.
#[test]
fn a_per_axis_dead_zone_hides_more_on_the_diagonal() {
    let pipeline = pipeline(Shape::PerAxis, Curve::Linear);
    let reach = 0.15 * std::f64::consts::SQRT_2;
    assert_eq!(pipeline.apply(Position::polar(reach - 1e-9, 45.0)), Position::ORIGIN);
    assert!(pipeline.apply(Position::polar(reach + 1e-6, 45.0)).radius() > 0.0);
}

/// Power curves of 0.5 to 3.
#[test]
fn response_curves() {
    let curves = vector("response_curves");
    let inputs = numbers(&curves["r"]);
    for (exponent, outputs) in curves["power"].as_object().unwrap() {
        let curve = Curve::Exponent(exponent.parse().unwrap());
        for (input, want) in inputs.iter().zip(numbers(outputs)) {
            same(curve_at(&curve, *input), want, 1e-9, &format!("{input} ^ {exponent}"));
        }
    }
}

/// A curve given as points meets them, and lies on the chords between, by hand.
#[test]
fn curves_of_points() {
    let curves = vector("response_curves");
    let points: Vec<(f64, f64)> =
        numbers(&curves["r"]).into_iter().zip(numbers(&curves["power"]["2"])).collect();
    let curve = Curve::Points(points.clone());
    for (input, output) in &points {
        same(curve_at(&curve, *input), *output, 1e-12, "point");
    }
    // Between (0.25, 0.0625) and (0.5, 0.25), by hand: half-way is 0.15625.
    same(curve_at(&curve, 0.375), 0.156_25, 1e-12, "chord");
    assert_eq!(number(&curves["power"]["2"][3]), 0.25);
}
