//! Where the stick is, as two pictures drawn from the numbers: from the person's right side, and
//! from above.
//!
//! Both are to one scale, so that they can be compared. The stick itself is a sign of fixed size.

use crate::visit::SetUp;

/// Half the size of the sign of the stick, in units of the picture: nothing of it lies farther from
/// its foot.
const SIGN: f64 = 52.0;
/// How long the stick is drawn.
const SHAFT: f64 = 44.0;
/// Where the arc of an angle lies.
const ARC: f64 = 28.0;
/// From so many degrees on an angle has room for its number.
const WIDE: f64 = 60.0;
/// So many degrees to the other side of upright the number of a narrower one stands.
const BESIDE: f64 = 30.0;
/// What is nearer than this is not drawn larger, millimetres: a stick beside its reference stays a
/// stick beside its reference.
const NEAREST_MM: f64 = 40.0;

/// A place in a picture, in its units: to the right, and down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// From the left edge.
    pub across: f64,
    /// From the upper edge.
    pub down: f64,
}

/// One picture of where the stick is.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceView {
    /// What the place is measured from.
    pub reference: At,
    /// The foot of the stick: where it leaves its box.
    pub foot: At,
    /// The end of the stick as it is tilted or turned.
    pub tip: At,
    /// Where its end would be without tilt or turn.
    pub upright: At,
    /// The angle between the two as a path, where there is one.
    pub arc: Option<String>,
    /// Where the angle's number stands.
    pub angle_label: At,
    /// The angle, degrees; nothing where nobody measured it.
    pub degrees: Option<i32>,
    /// From the reference to the foot along the picture's breadth, millimetres, positive to the
    /// right; nothing where nobody measured it.
    pub across_mm: Option<i32>,
    /// The same along its height, positive upwards.
    pub up_mm: Option<i32>,
}

/// The two pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceDrawing {
    /// From the person's right side: forward is to the right, up is up, tilt is seen.
    pub side: PlaceView,
    /// From above: right is to the right, forward is up, turn is seen.
    pub above: PlaceView,
}

impl PlaceDrawing {
    /// The pictures of a set-up, each `width` by `height` units (at least four signs of the stick
    /// wide and high); nothing where no number of the place is known.
    ///
    /// A length that nobody measured is drawn as none, and has no number.
    #[must_use]
    pub fn of(set_up: &SetUp, width: f64, height: f64) -> Option<Self> {
        if !set_up.has_place() {
            return None;
        }
        let (width, height) = (width.max(4.0 * SIGN), height.max(4.0 * SIGN));
        let side = (set_up.forward_mm, set_up.up_mm);
        let above = (set_up.right_mm, set_up.forward_mm);
        let scale = [side, above]
            .into_iter()
            .map(|(across, up)| {
                let across = (width - 2.0 * SIGN) / length(across).abs().max(NEAREST_MM);
                let up = (height - 2.0 * SIGN) / length(up).abs().max(NEAREST_MM);
                across.min(up)
            })
            .fold(f64::INFINITY, f64::min);
        let view = |(across_mm, up_mm), degrees| {
            PlaceView::of((across_mm, up_mm), degrees, scale, (width, height))
        };
        Some(Self {
            side: view(side, set_up.tilt_degrees),
            above: view(above, set_up.turn_degrees),
        })
    }
}

impl PlaceView {
    fn of(
        (across_mm, up_mm): (Option<i32>, Option<i32>),
        degrees: Option<i32>,
        scale: f64,
        (width, height): (f64, f64),
    ) -> Self {
        let (across, up) = (length(across_mm) * scale, length(up_mm) * scale);
        let middle = At { across: width / 2.0, down: height / 2.0 };
        let reference = At { across: middle.across - across / 2.0, down: middle.down + up / 2.0 };
        let foot = At { across: middle.across + across / 2.0, down: middle.down - up / 2.0 };
        let turned = length(degrees);
        // In the angle where it is wide enough, else beside it, clear of the stick.
        let label_degrees =
            if turned.abs() >= WIDE { turned / 2.0 } else { -BESIDE.copysign(turned) };
        Self {
            reference,
            foot,
            tip: foot.at(SHAFT, turned),
            upright: foot.at(SHAFT, 0.0),
            arc: degrees.filter(|degrees| *degrees != 0).map(|_| arc(foot, turned)),
            angle_label: foot.at(SHAFT, label_degrees),
            degrees,
            across_mm,
            up_mm,
        }
    }
}

impl At {
    /// The place at a distance, `degrees` clockwise from straight up.
    fn at(self, distance: f64, degrees: f64) -> Self {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        Self { across: self.across + distance * sin, down: self.down - distance * cos }
    }
}

/// A number that nobody knows is none.
fn length(number: Option<i32>) -> f64 {
    number.map_or(0.0, f64::from)
}

/// The arc from straight up to `degrees` clockwise, as the data of an SVG path.
fn arc(foot: At, degrees: f64) -> String {
    let (from, to) = (foot.at(ARC, 0.0), foot.at(ARC, degrees));
    let clockwise = u8::from(degrees > 0.0);
    format!(
        "M{:.1} {:.1}A{ARC:.1} {ARC:.1} 0 0 {clockwise} {:.1} {:.1}",
        from.across, from.down, to.across, to.down
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::option;
    use proptest::prelude::*;

    const WIDTH: f64 = 280.0;
    const HEIGHT: f64 = 240.0;

    fn placed(forward: i32, right: i32, up: i32) -> SetUp {
        SetUp {
            forward_mm: Some(forward),
            right_mm: Some(right),
            up_mm: Some(up),
            ..SetUp::default()
        }
    }

    #[test]
    fn without_a_number_there_is_no_picture() {
        let words_only = SetUp {
            seat: "Own chair".to_owned(),
            reference: "Arm rest".to_owned(),
            ..SetUp::default()
        };
        assert_eq!(PlaceDrawing::of(&words_only, WIDTH, HEIGHT), None);
        let turned = SetUp { turn_degrees: Some(0), ..SetUp::default() };
        assert!(PlaceDrawing::of(&turned, WIDTH, HEIGHT).is_some());
    }

    #[test]
    fn forward_right_and_up_lie_where_a_person_looks_for_them() {
        let drawing = PlaceDrawing::of(&placed(60, -30, 15), WIDTH, HEIGHT).unwrap();
        let (side, above) = (&drawing.side, &drawing.above);
        // From the right side a person who looks forward looks to the right.
        assert!(side.foot.across > side.reference.across);
        assert!(side.foot.down < side.reference.down, "up is up");
        assert!(above.foot.across < above.reference.across, "left is left");
        assert!(above.foot.down < above.reference.down, "forward is up, seen from above");
    }

    #[test]
    fn both_are_to_one_scale() {
        let drawing = PlaceDrawing::of(&placed(60, -30, 15), WIDTH, HEIGHT).unwrap();
        let side = drawing.side.foot.across - drawing.side.reference.across;
        let above = drawing.above.reference.down - drawing.above.foot.down;
        assert!((side - above).abs() < 1e-9, "forward {side} and {above}");
        let up = drawing.side.reference.down - drawing.side.foot.down;
        assert!((side / up - 4.0).abs() < 1e-9, "60 mm to 15 mm");
    }

    #[test]
    fn tilt_and_turn_are_drawn_as_they_are() {
        let tilted = SetUp { tilt_degrees: Some(30), turn_degrees: Some(-90), ..placed(0, 0, 0) };
        let drawing = PlaceDrawing::of(&tilted, WIDTH, HEIGHT).unwrap();
        let (side, above) = (&drawing.side, &drawing.above);
        // sin 30° = 1/2: away from the person, to the right in the picture.
        assert!((side.tip.across - side.foot.across - SHAFT / 2.0).abs() < 1e-9);
        assert!(side.tip.down < side.foot.down);
        // A quarter turn against the clock points to the person's left.
        assert!((above.tip.across - above.foot.across + SHAFT).abs() < 1e-9);
        assert!((above.tip.down - above.foot.down).abs() < 1e-9);
        assert!(side.arc.as_deref().is_some_and(|arc| arc.contains(" 0 0 1 ")), "clockwise");
        assert!(above.arc.as_deref().is_some_and(|arc| arc.contains(" 0 0 0 ")), "against it");
        let straight = SetUp { tilt_degrees: Some(0), ..placed(0, 0, 0) };
        let drawing = PlaceDrawing::of(&straight, WIDTH, HEIGHT).unwrap();
        assert_eq!((drawing.side.arc, drawing.side.degrees), (None, Some(0)));
        assert_eq!(drawing.above.degrees, None, "nobody measured the turn");
    }

    proptest! {
        #[test]
        fn nothing_leaves_the_picture(
            lengths in proptest::array::uniform3(option::of(-3_000..=3_000_i32)),
            angles in proptest::array::uniform2(option::of(-180..=180_i32)),
        ) {
            let set_up = SetUp {
                forward_mm: lengths[0],
                right_mm: lengths[1],
                up_mm: lengths[2],
                tilt_degrees: angles[0],
                turn_degrees: angles[1],
                ..SetUp::default()
            };
            let drawing = PlaceDrawing::of(&set_up, WIDTH, HEIGHT);
            prop_assert_eq!(drawing.is_some(), set_up.has_place());
            for view in drawing.iter().flat_map(|one| [&one.side, &one.above]) {
                for at in [view.reference, view.foot, view.tip, view.upright, view.angle_label] {
                    prop_assert!((0.0..=WIDTH).contains(&at.across), "{view:?}");
                    prop_assert!((0.0..=HEIGHT).contains(&at.down), "{view:?}");
                }
                let drawn = view.foot.across - view.reference.across;
                prop_assert!(drawn * f64::from(view.across_mm.unwrap_or(0)) >= 0.0);
                let drawn = view.reference.down - view.foot.down;
                prop_assert!(drawn * f64::from(view.up_mm.unwrap_or(0)) >= 0.0);
            }
        }
    }
}
