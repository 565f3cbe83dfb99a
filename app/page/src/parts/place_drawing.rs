//! Where the stick is, drawn from the numbers: from the side, from above, and as steps with a tape
//! measure. For the screen and for paper.

use crate::words::place as words;
use fitting::plot::{At, PlaceDrawing as Drawing, PlaceView};
use fitting::visit::SetUp;
use leptos::prelude::*;

/// The size of what is drawn from numbers.
const WIDTH: f64 = 276.0;
const HEIGHT: f64 = 228.0;
/// The room around it: for a length at the right and one below.
const RIGHT: f64 = 84.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 48.0;
/// The least distance of a label's middle from the edges.
const LABEL_HALF: f64 = 66.0;

/// The two pictures and the steps; one line where no number of the place is known.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn PlaceDrawing(
    /// The set-up.
    set_up: SetUp,
) -> impl IntoView {
    let Some(drawing) = Drawing::of(&set_up, WIDTH, HEIGHT) else {
        return view! { <p class="soft">{words::NONE}</p> }.into_any();
    };
    let steps = words::steps(&set_up)
        .into_iter()
        .map(|step| view! { <li dir="auto">{step}</li> })
        .collect_view();
    let Drawing { side, above } = drawing;
    let side = Picture {
        title: words::FROM_SIDE,
        across: side.across_mm.map(words::forward),
        up: side.up_mm.map(words::up),
        angle: side.degrees.map(words::tilted),
        from_above: false,
        view: side,
    };
    let above = Picture {
        title: words::FROM_ABOVE,
        across: above.across_mm.map(words::right),
        up: above.up_mm.map(words::forward),
        angle: above.degrees.map(words::turned),
        from_above: true,
        view: above,
    };
    view! {
        <div class="place">
            {picture(&side)}
            {picture(&above)}
            <ol class="place-steps">{steps}</ol>
        </div>
    }
    .into_any()
}

/// One picture with its words.
struct Picture {
    title: &'static str,
    view: PlaceView,
    across: Option<(String, &'static str)>,
    up: Option<(String, &'static str)>,
    angle: Option<String>,
    from_above: bool,
}

fn picture(picture: &Picture) -> AnyView {
    let Picture { title, view, across, up, angle, from_above } = picture;
    let lengths = [across, up].into_iter().flatten().map(words::labelled);
    let parts: Vec<String> = lengths.chain(angle.clone()).collect();
    let (width, height) = (WIDTH + RIGHT, TOP + HEIGHT + BOTTOM);
    let angle = view.degrees.filter(|degrees| *degrees != 0).map(words::angle);
    let at = view.angle_label;
    view! {
        <figure class="place-view">
            <svg
                class="plot"
                viewBox=format!("0 0 {width} {height}")
                role="img"
                aria-label=words::described(title, &parts)
            >
                {facing(*from_above)}
                <g transform=format!("translate(0 {TOP})")>
                    {breadth(view, across.as_ref())}
                    {tallness(view, up.as_ref())}
                    {cross(view.reference)}
                    {view.arc.clone().map(|arc| view! { <path class="place-arc" d=arc></path> })}
                    {stick(view, *from_above)}
                    {angle.map(|angle| view! {
                        <text
                            class="halo" font-size="15" text-anchor="middle"
                            x=at.across y=at.down - 4.0
                        >{angle}</text>
                    })}
                </g>
            </svg>
            <figcaption>{*title}</figcaption>
        </figure>
    }
    .into_any()
}

/// Which way the person looks: to the right, or up.
fn facing(from_above: bool) -> AnyView {
    let arrow = if from_above { "M14 22V5M8 11L14 5L20 11" } else { "M5 13H24M18 7L24 13L18 19" };
    view! {
        <path class="place-way" d=arrow></path>
        <text class="quiet" x="30" y="18" font-size="14">{words::FORWARD}</text>
    }
    .into_any()
}

/// What is measured from.
fn cross(at: At) -> AnyView {
    let At { across, down } = at;
    let (left, right, top, bottom) = (across - 8.0, across + 8.0, down - 8.0, down + 8.0);
    view! {
        <path class="place-cross" d=format!("M{left} {down}H{right}M{across} {top}V{bottom}")></path>
        <circle class="place-ring" cx=across cy=down r="5"></circle>
        <text
            class="halo" font-size="14" text-anchor="middle"
            x=across.clamp(32.0, WIDTH - 32.0) y=(down + 24.0).min(HEIGHT)
        >{words::FROM_HERE}</text>
    }
    .into_any()
}

/// The stick: from the side a box with a shaft, from above a box with an arrow.
fn stick(view: &PlaceView, from_above: bool) -> AnyView {
    let PlaceView { foot, tip, upright, .. } = view;
    let shaft = format!("M{} {}L{} {}", foot.across, foot.down, tip.across, tip.down);
    let dashed = format!("M{} {}L{} {}", foot.across, foot.down, upright.across, upright.down);
    let turn = f64::from(view.degrees.unwrap_or(0));
    let about = format!("rotate({turn} {} {})", foot.across, foot.down);
    // The box turns with what is measured.
    let (left, top, tall) = if from_above {
        (foot.across - 16.0, foot.down - 16.0, 32.0)
    } else {
        (foot.across - 16.0, foot.down, 11.0)
    };
    view! {
        <path class="place-plumb" d=dashed></path>
        <rect class="place-box" x=left y=top width="32" height=tall rx="3" transform=about></rect>
        <path class="place-shaft" d=shaft></path>
        <circle class="place-tip" cx=tip.across cy=tip.down r=if from_above { "4" } else { "7" }></circle>
        <circle class="place-foot" cx=foot.across cy=foot.down r="3.5"></circle>
    }
    .into_any()
}

/// The length along the picture's breadth, under it.
fn breadth(view: &PlaceView, label: Option<&(String, &'static str)>) -> AnyView {
    let (from, to) = (view.reference, view.foot);
    let line = HEIGHT + 12.0;
    let middle = f64::midpoint(from.across, to.across).clamp(LABEL_HALF, WIDTH - LABEL_HALF);
    let Some(label) = label else {
        return view! {
            <text class="quiet" font-size="14" text-anchor="middle" x=middle y=line + 20.0>
                {words::UNMEASURED}
            </text>
        }
        .into_any();
    };
    let aid = |at: At| format!("M{} {}V{}", at.across, at.down, line + 5.0);
    view! {
        <path class="place-aid" d=aid(from)></path>
        <path class="place-aid" d=aid(to)></path>
        <path class="place-length" d=format!("M{} {line}H{}", from.across, to.across)></path>
        {tick(from.across, line)}
        {tick(to.across, line)}
        <text font-size="16" font-weight="700" text-anchor="middle" x=middle y=line + 24.0>
            {words::labelled(label)}
        </text>
    }
    .into_any()
}

/// The length along its height, at its right.
fn tallness(view: &PlaceView, label: Option<&(String, &'static str)>) -> AnyView {
    let (from, to) = (view.reference, view.foot);
    let line = WIDTH + 4.0;
    let middle = f64::midpoint(from.down, to.down).clamp(20.0, HEIGHT - 20.0);
    let x = line + 8.0;
    let Some((number, side)) = label else {
        return view! {
            <text class="quiet" font-size="14" x=x y=middle>{words::UNMEASURED_IN_TWO.0}</text>
            <text class="quiet" font-size="14" x=x y=middle + 17.0>{words::UNMEASURED_IN_TWO.1}</text>
        }
        .into_any();
    };
    let aid = |at: At| format!("M{} {}H{}", at.across, at.down, line + 5.0);
    view! {
        <path class="place-aid" d=aid(from)></path>
        <path class="place-aid" d=aid(to)></path>
        <path class="place-length" d=format!("M{line} {}V{}", from.down, to.down)></path>
        {tick(line, from.down)}
        {tick(line, to.down)}
        <text font-size="16" font-weight="700" x=x y=middle>{number.clone()}</text>
        <text font-size="16" font-weight="700" x=x y=middle + 18.0>{*side}</text>
    }
    .into_any()
}

/// The end of a length: a stroke across it, as on a builder's drawing.
fn tick(across: f64, down: f64) -> AnyView {
    let path = format!("M{} {}L{} {}", across - 4.0, down + 4.0, across + 4.0, down - 4.0);
    view! { <path class="place-length" d=path></path> }.into_any()
}
