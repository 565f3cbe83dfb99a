//! The verdict.

use super::facts::{DeviceFacts, Speech};
use super::passes::{HatPasses, Passes, passes};
use super::reason::{NextStep, Reason, Weight};
use super::settings::cannot_take;
use fitting::Settings;
use fitting::visit::{Accepts, Host, Port};

/// Fewer steps than this between dead zone and full throw are felt as jumps (common practice, no
/// source): a step is then over 3 % of full output.
const LEAST_STEPS: u32 = 32;

/// Changes further apart than this eat a third of the 0.1 s that MIL-STD-1472E allows between a
/// control's movement and the display's answer, seconds.
const SLOW_SECONDS: f64 = 0.033;

/// The verdict in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VerdictWord {
    /// It works.
    Works,
    /// It works, with limits.
    WorksWithLimits,
    /// It will not work.
    WillNotWork,
    /// Too little is known.
    CannotTell,
}

/// What a device is held against.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The host.
    pub host: &'a Host,
    /// Which port, by its place; the last where there is none such.
    pub port: usize,
    /// The settings that are wanted, where anything was measured.
    pub settings: Option<&'a Settings>,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// In a word.
    pub word: VerdictWord,
    /// Why, what weighs most first.
    pub reasons: Vec<Reason>,
    /// What to do, each once, in the order of the reasons.
    pub next: Vec<NextStep>,
    /// What gets through.
    pub passes: Passes,
}

/// Holds a device against a host.
#[must_use]
pub fn verdict(device: &DeviceFacts, asked: &Asked<'_>) -> Verdict {
    let plain = Port::default();
    let ports = &asked.host.ports;
    let port = ports.get(asked.port).or_else(|| ports.last()).unwrap_or(&plain);
    let through = passes(device, port);
    let mut reasons = Vec::new();
    let accepted = speech(device, asked.host, &mut reasons);
    // Of a device that is not taken at all, its axes and buttons say nothing.
    if accepted {
        layout(device, asked.host, &mut reasons);
        axes(device, port, &through, &mut reasons);
        hat(device, &through, &mut reasons);
        buttons(device, &through, &mut reasons);
        quality(device, asked.settings, &mut reasons);
        match asked.settings {
            Some(settings) => reasons.extend(cannot_take(settings, &asked.host.sets)),
            None => reasons.push(Reason::NothingMeasured),
        }
    }
    reasons.sort_by_key(|reason| std::cmp::Reverse(reason.weight()));
    let heaviest = reasons.first().map_or(Weight::Unknown, Reason::weight);
    let word = match heaviest {
        Weight::Fine | Weight::Note => VerdictWord::Works,
        Weight::Limits => VerdictWord::WorksWithLimits,
        Weight::Unknown => VerdictWord::CannotTell,
        Weight::Blocks => VerdictWord::WillNotWork,
    };
    let mut next: Vec<NextStep> = Vec::new();
    for step in reasons.iter().filter_map(Reason::next_step) {
        if !next.contains(&step) {
            next.push(step);
        }
    }
    Verdict { word, reasons, next, passes: through }
}

/// Whether a host takes a device that speaks so; nothing where that cannot be told.
fn takes(accepts: Accepts, speech: Speech) -> Option<bool> {
    let controllers = [accepts.joystick, accepts.game_pad, accepts.multi_axis];
    match speech {
        Speech::Joystick => Some(accepts.joystick),
        Speech::GamePad => Some(accepts.game_pad),
        Speech::MultiAxis => Some(accepts.multi_axis),
        // Most devices that a browser shows are one of the first two.
        Speech::Controller if controllers[..2] == [true, true] => Some(true),
        Speech::Controller => (!controllers.contains(&true)).then_some(false),
        Speech::Mouse => Some(accepts.mouse),
        Speech::Keyboard => Some(accepts.keyboard),
        Speech::Other(_) => Some(false),
    }
}

/// Whether anything that the device speaks as is taken, or may be.
fn speech(device: &DeviceFacts, host: &Host, reasons: &mut Vec<Reason>) -> bool {
    if device.speaks.is_empty() {
        reasons.push(Reason::SpeechUnknown);
        return true;
    }
    let answers: Vec<(Speech, Option<bool>)> =
        device.speaks.iter().map(|speech| (*speech, takes(host.accepts, *speech))).collect();
    let any = answers.iter().any(|(_, taken)| *taken != Some(false));
    for (speech, taken) in answers {
        reasons.push(match taken {
            Some(true) => Reason::SpeaksAs(speech),
            None => Reason::ControllerOfUnknownSort,
            // Beside what is taken, the rest goes to the system.
            Some(false) if any => Reason::AlsoSpeaks(speech),
            Some(false) => Reason::NotAccepted(speech),
        });
    }
    any
}

fn layout(device: &DeviceFacts, host: &Host, reasons: &mut Vec<Reason>) {
    if host.wants_standard_layout {
        reasons.push(match device.standard {
            Some(true) => Reason::FollowsLayout,
            Some(false) => Reason::NoLayout,
            None => Reason::LayoutUnknown,
        });
    }
}

fn axes(device: &DeviceFacts, port: &Port, through: &Passes, reasons: &mut Vec<Reason>) {
    let Some(axes) = &device.axes else {
        // A mouse or a keyboard that the host takes moves what these move: no stick is asked.
        if device.is_controller() || device.speaks.is_empty() {
            reasons.push(Reason::AxesUnknown);
        }
        return;
    };
    let sticks: Vec<usize> = (0..axes.len()).filter(|index| !axes[*index].is_hat).collect();
    if sticks.len() < 2 {
        reasons.push(Reason::TooFewAxes(sticks.len()));
        return;
    }
    let stick = device.stick.unwrap_or([sticks[0], sticks[1]]);
    if stick.iter().any(|index| axes.get(*index).is_some_and(|axis| axis.is_relative)) {
        reasons.push(Reason::RelativeAxes);
    }
    let place = |index: usize| through.axes.iter().position(|passed| *passed == index);
    match stick.map(place) {
        [Some(across), Some(along)] => reasons.push(if across < along || port.axes > 2 {
            Reason::StickGetsThrough
        } else {
            Reason::AxesOutOfOrder
        }),
        places => {
            let lost = stick.iter().zip(places).filter(|(_, place)| place.is_none());
            reasons.extend(lost.map(|(index, _)| Reason::StickAxisLost(*index)));
        }
    }
    let others = through.axes_lost.iter().filter(|index| !stick.contains(index)).count();
    if others > 0 {
        reasons.push(Reason::OtherAxesLost(others));
    }
    let of_stick = device.odd_axes.iter().filter(|odd| stick.contains(&odd.axis));
    reasons.extend(of_stick.map(|odd| Reason::OddAxis(*odd)));
}

fn hat(device: &DeviceFacts, through: &Passes, reasons: &mut Vec<Reason>) {
    let axes = device.axes.as_deref().unwrap_or_default();
    let outside = axes.iter().enumerate().find_map(|(index, axis)| Some((index, axis.rests_at?)));
    match through.hat {
        HatPasses::Lost => reasons.push(Reason::HatLost),
        HatPasses::Unknown => reasons.push(Reason::HatUnknown),
        HatPasses::AsAxes | HatPasses::Through => {
            reasons.extend(outside.map(|(index, at)| Reason::HatAsAxis(index, at)));
        }
        HatPasses::None => {}
    }
}

fn buttons(device: &DeviceFacts, through: &Passes, reasons: &mut Vec<Reason>) {
    reasons.push(match device.buttons {
        None if device.is_controller() || device.speaks.is_empty() => Reason::ButtonsUnknown,
        None => return,
        Some(0) => Reason::NoButtons,
        Some(all) if through.buttons_lost == 0 => Reason::AllButtons(all),
        Some(_) => Reason::ButtonsLost { through: through.buttons, lost: through.buttons_lost },
    });
}

/// How finely and how fast it speaks, and what is hidden of it.
fn quality(device: &DeviceFacts, settings: Option<&Settings>, reasons: &mut Vec<Reason>) {
    if let Some(step) = device.step_of_stick().filter(|step| *step > 0.0) {
        let (from, to) = settings.map_or((0.0, 1.0), |one| (one.dead_zone, one.full_throw));
        let steps = libm::floor((to - from).max(0.0) / step + 1e-9);
        let steps = if steps < f64::from(u32::MAX) { steps as u32 } else { u32::MAX };
        reasons.push(if steps < LEAST_STEPS {
            Reason::TooCoarse { steps, step }
        } else {
            Reason::FineEnough(steps)
        });
    }
    if let Some(seconds) = device.fastest_change_seconds.filter(|seconds| seconds.is_finite()) {
        reasons.push(if seconds > SLOW_SECONDS {
            Reason::Slow(seconds)
        } else {
            Reason::FastEnough(seconds)
        });
    }
    reasons.extend(device.hidden_middle.map(Reason::HiddenMiddle));
}
