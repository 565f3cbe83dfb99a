//! Whatever a visit can be, and one with everything in use.

use super::devices;
use fitting::settings::Shape;
use fitting::task::{Asking, CueKind, Way};
use fitting::visit::{
    Actions, Asked, BodyPart, Compared, Condition, Connection, Consent, ConsentTo, Endurance, Felt,
    Grasp, Helping, Layer, LayerKind, LoanDay, Look, MountPlace, OwnGame, PadReach, PaperPart,
    PaperText, Papers, Path, Posture, Pressing, Safety, SetUp, SiteTrial, StopSignal, Strength,
    Support, Today, Travel, Unwanted, Visit, Wanted,
};
use proptest::collection::{btree_set, vec};
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// Anything that can be typed or read, brought into the form that is kept.
pub(crate) fn any() -> impl Strategy<Value = Visit> {
    let set_ups = (vec(set_up(), 0..3), proptest::num::u32::ANY);
    let visit = (safety(), support(), asked(), consent(), today(), set_ups);
    let rest =
        (vec(site(), 0..5), wanted(), path(), devices::any(), option::of(own_game()), papers());
    (visit, rest).prop_map(
        |(
            (safety, support, asked, consent, today, (set_ups, series_in_use)),
            (sites, wanted, path, devices, own_game, papers),
        )| {
            Visit {
                safety,
                support,
                asked,
                consent,
                today,
                set_ups,
                series_in_use,
                sites,
                wanted,
                path,
                devices,
                own_game,
                papers,
            }
            .tidied()
        },
    )
}

fn safety() -> impl Strategy<Value = Safety> {
    let conditions = || btree_set(select(Condition::ALL.to_vec()), 0..8);
    let checks = (proptest::bool::ANY, proptest::bool::ANY, proptest::bool::ANY);
    (checks, ".*", conditions(), conditions()).prop_map(
        |((drive_off, lines_clear, tried), how, holds, holds_not)| Safety {
            drive_off,
            lines_clear,
            stop: StopSignal { how, tried },
            holds,
            holds_not,
        },
    )
}

fn wanted() -> impl Strategy<Value = Wanted> {
    fn one<T: Clone + std::fmt::Debug + 'static>(
        all: impl Into<Vec<T>>,
    ) -> impl Strategy<Value = Option<T>> {
        option::of(select(all.into()))
    }
    let yes = || option::of(proptest::bool::ANY);
    let moves = (
        (one(BodyPart::ALL), ".*"),
        one(Travel::ALL),
        one(Strength::ALL),
        one(Unwanted::ALL),
        one(Grasp::ALL),
        one(Endurance::ALL),
        (yes(), yes()),
    );
    let place =
        (one(Posture::ALL), btree_set(select(MountPlace::ALL.to_vec()), 0..4), one(PadReach::ALL));
    let controls = (one(Pressing::ALL), one(Actions::ALL), yes());
    (moves, place, controls, (yes(), yes(), yes())).prop_map(|(moves, place, controls, skin)| {
        let ((body, body_words), travel, strength, unwanted, grasp, endurance, (weak, hurts)) =
            moves;
        let (posture, places, pad_reach) = place;
        let (pressing, actions, breath) = controls;
        let (sore_skin, wet, shared) = skin;
        Wanted {
            body,
            body_words,
            travel,
            strength,
            unwanted,
            grasp,
            endurance,
            weak,
            hurts,
            posture,
            places,
            pad_reach,
            pressing,
            actions,
            breath,
            sore_skin,
            wet,
            shared,
        }
    })
}

fn support() -> impl Strategy<Value = Support> {
    let helping = option::of(select(vec![Helping::Alone, Helping::Beside, Helping::FarAway]));
    (helping, ".*", ".*").prop_map(|(helping, who, how)| Support { helping, who, how })
}

fn asked() -> impl Strategy<Value = Asked> {
    let way = (select(Asking::ALL.to_vec()), select(CueKind::ALL.to_vec()));
    let way = way.prop_map(|(asking, cue)| Way { asking, cue });
    let look = select(vec![Look::Paper, Look::OneObject]);
    let volume = proptest::num::u8::ANY;
    (way, look, proptest::bool::ANY, volume, proptest::bool::ANY)
        .prop_map(|(way, look, sound, volume, speech)| Asked { way, look, sound, volume, speech })
}

fn consent() -> impl Strategy<Value = Consent> {
    let to = || btree_set(select(ConsentTo::ALL.to_vec()), 0..3);
    let when = option::of(proptest::num::u64::ANY);
    (".*", (to(), to()), when, option::of(proptest::bool::ANY), ".*").prop_map(
        |(who, (to, not_to), given_epoch_ms, own_yes, own_words)| Consent {
            who,
            to,
            not_to,
            given_epoch_ms,
            own_yes,
            own_words,
        },
    )
}

fn today() -> impl Strategy<Value = Today> {
    let ten = || option::of(proptest::num::u8::ANY);
    let compared = || option::of(select(vec![Compared::Less, Compared::Usual, Compared::More]));
    let since = || option::of(proptest::num::u32::ANY);
    let texts = (".*", ".*");
    ((ten(), ten(), ten(), ten()), compared(), compared(), since(), since(), texts).prop_map(
        |(
            (fatigue, pain, fatigue_now, pain_now),
            spasm,
            sleep,
            minutes,
            days,
            (time, else_today),
        )| Today {
            time,
            fatigue,
            pain,
            fatigue_now,
            pain_now,
            spasm,
            sleep,
            minutes_since_medication: minutes,
            days_since_injection: days,
            else_today,
        },
    )
}

fn set_up() -> impl Strategy<Value = SetUp> {
    let number = || option::of(proptest::num::i32::ANY);
    let numbers = (number(), number(), number(), number(), number());
    let connection = prop_oneof![
        Just(Connection::Unknown),
        Just(Connection::Direct),
        ".*".prop_map(Connection::Through)
    ];
    let glasses = option::of(proptest::bool::ANY);
    (vec(".*", 10), numbers, connection, glasses, 0..9_u32).prop_map(
        |(
            texts,
            (forward_mm, right_mm, up_mm, tilt_degrees, turn_degrees),
            connection,
            glasses,
            device,
        )| {
            let text = |index: usize| texts[index].clone();
            SetUp {
                device,
                body_part: text(0),
                seat: text(1),
                trunk: text(2),
                head: text(3),
                arm: text(4),
                splint: text(5),
                glasses,
                reference: text(6),
                forward_mm,
                right_mm,
                up_mm,
                tilt_degrees,
                turn_degrees,
                clamp_mark: text(7),
                topper: text(8),
                connection,
                else_set_up: text(9),
            }
        },
    )
}

fn site() -> impl Strategy<Value = SiteTrial> {
    (".*", vec(option::of(proptest::bool::ANY), 5)).prop_map(|(body_part, answers)| SiteTrial {
        body_part,
        repeatable: answers[0],
        comfortable: answers[1],
        screen_in_view: answers[2],
        sets_off_spasm: answers[3],
        only_movement: answers[4],
    })
}

fn path() -> impl Strategy<Value = Path> {
    let kinds = vec![LayerKind::Stick, LayerKind::Hub, LayerKind::Host, LayerKind::Game];
    let any_number = || proptest::num::f64::ANY;
    let does = (option::of(any_number()), any_number(), any_number(), option::of(any_number()));
    let flags = (proptest::bool::ANY, proptest::bool::ANY, proptest::bool::ANY);
    let layer = (select(kinds), ".*", does, flags).prop_map(
        |(
            kind,
            name,
            (dead_zone, full_throw, exponent, step),
            (starts_at_zero, can_be_set, round),
        )| {
            let shape = if round { Shape::Radial } else { Shape::PerAxis };
            Layer {
                kind,
                name,
                dead_zone,
                starts_at_zero,
                shape,
                full_throw,
                exponent,
                step,
                can_be_set,
            }
        },
    );
    (vec(layer, 0..8), option::of(0..9usize)).prop_map(|(layers, named)| Path { layers, named })
}

fn own_game() -> impl Strategy<Value = OwnGame> {
    let ten = || option::of(proptest::num::u8::ANY);
    let felt = btree_set(select(Felt::ALL.to_vec()), 0..9);
    (option::of(proptest::num::u32::ANY), ten(), ten(), felt, ".*").prop_map(
        |(minutes, effort, comfort, felt, changed_back)| OwnGame {
            minutes,
            effort,
            comfort,
            felt,
            changed_back,
        },
    )
}

fn papers() -> impl Strategy<Value = Papers> {
    let edit = (select(PaperPart::ALL.to_vec()), ".*", proptest::num::u32::ANY)
        .prop_map(|(part, text, instead_of)| PaperText { part, text, instead_of });
    let number = || option::of(proptest::num::u32::ANY);
    let day = (".*", number(), option::of(proptest::num::u8::ANY))
        .prop_map(|(day, minutes, comfort)| LoanDay { day, minutes, comfort });
    (vec(edit, 0..6), vec(day, 0..4)).prop_map(|(edits, diary)| Papers { edits, diary })
}

/// Everything in use.
pub(crate) fn golden() -> Visit {
    let text = |text: &str| text.to_owned();
    Visit {
        safety: Safety {
            drive_off: true,
            lines_clear: true,
            stop: StopSignal { how: text("Looks away and closes both eyes"), tried: true },
            holds: [Condition::PoorSensation].into(),
            holds_not: [Condition::Seizures, Condition::CordInjury].into(),
        },
        support: Support {
            helping: Some(Helping::Beside),
            who: text("Sister"),
            how: text("Steadies the elbow.\nPresses the key for the next task."),
        },
        asked: Asked {
            way: Way { asking: Asking::Shown, cue: CueKind::Central },
            look: Look::OneObject,
            sound: true,
            volume: 20,
            speech: true,
        },
        consent: Consent {
            who: text("The player"),
            to: [ConsentTo::Measuring, ConsentTo::Keeping].into(),
            not_to: [ConsentTo::Sharing].into(),
            given_epoch_ms: Some(1_770_000_000_001),
            own_yes: Some(true),
            own_words: text("Nodded twice"),
        },
        today: Today {
            time: text("14:30"),
            fatigue: Some(4),
            pain: Some(1),
            fatigue_now: Some(5),
            pain_now: Some(1),
            spasm: Some(Compared::Usual),
            sleep: Some(Compared::Less),
            minutes_since_medication: Some(90),
            days_since_injection: Some(21),
            else_today: text("New cushion"),
        },
        set_ups: vec![
            SetUp { body_part: text("Left hand"), ..SetUp::default() },
            SetUp {
                device: 1,
                body_part: text("Left hand"),
                seat: text("Own wheelchair, tilted back a little"),
                trunk: text("Lateral pads"),
                head: text("Head rest"),
                arm: text("Tray, foam under the forearm"),
                splint: text("Wrist splint"),
                glasses: Some(true),
                reference: text("Front edge of the left arm rest"),
                forward_mm: Some(40),
                right_mm: Some(-25),
                up_mm: Some(15),
                tilt_degrees: Some(-10),
                turn_degrees: Some(15),
                clamp_mark: text("Second groove"),
                topper: text("Sphere, 40 mm"),
                connection: Connection::Through(text("A hub with two stick ports")),
                else_set_up: text("Screen 70 cm away"),
            },
        ],
        series_in_use: 1,
        sites: vec![SiteTrial {
            body_part: text("Chin"),
            repeatable: Some(true),
            comfortable: Some(false),
            screen_in_view: Some(true),
            sets_off_spasm: Some(false),
            only_movement: Some(true),
        }],
        devices: devices::golden(),
        wanted: Wanted {
            body: Some(BodyPart::Hand),
            body_words: text("Left hand"),
            travel: Some(Travel::Small),
            strength: Some(Strength::Light),
            unwanted: Some(Unwanted::Shakes),
            grasp: Some(Grasp::HookOrFlat),
            endurance: Some(Endurance::HalfHour),
            weak: Some(true),
            hurts: Some(false),
            posture: Some(Posture::Reclined),
            places: [MountPlace::Table, MountPlace::Wheelchair].into(),
            pad_reach: Some(PadReach::IfHeld),
            pressing: Some(Pressing::AnotherPart),
            actions: Some(Actions::UpToEight),
            breath: Some(false),
            sore_skin: Some(true),
            wet: Some(false),
            shared: Some(true),
        },
        path: Path {
            layers: vec![
                Layer {
                    kind: LayerKind::Hub,
                    name: text("Hub"),
                    dead_zone: Some(0.05),
                    full_throw: 0.95,
                    can_be_set: false,
                    ..Layer::default()
                },
                Layer {
                    kind: LayerKind::Game,
                    name: text("Racing"),
                    dead_zone: None,
                    starts_at_zero: false,
                    shape: Shape::PerAxis,
                    exponent: 1.25,
                    step: Some(0.05),
                    ..Layer::default()
                },
            ],
            named: Some(1),
        },
        own_game: Some(OwnGame {
            minutes: Some(5),
            effort: Some(3),
            comfort: Some(7),
            felt: [Felt::TooSlow, Felt::MovesByItself].into(),
            changed_back: text("Sensitivity, it felt slow"),
        }),
        papers: Papers {
            edits: vec![
                PaperText {
                    part: PaperPart::HandoverAsk,
                    text: text("The clinic, mornings\nThe shop for the stick itself"),
                    instead_of: 0,
                },
                PaperText {
                    part: PaperPart::LetterGoal,
                    text: text("To play with my brother"),
                    instead_of: u32::MAX,
                },
                PaperText { part: PaperPart::LoanIn, text: String::new(), instead_of: 7 },
            ],
            diary: vec![
                LoanDay { day: text("Monday"), minutes: Some(20), comfort: Some(7) },
                LoanDay { day: text("Tuesday, tired"), minutes: None, comfort: Some(4) },
            ],
        },
    }
}

/// A visit with every text as long as it may be, of the widest characters, and every list full.
pub(crate) fn fullest() -> Visit {
    let long = || "𝄞".repeat(2_000);
    let golden = golden();
    let set_up = SetUp {
        body_part: long(),
        seat: long(),
        trunk: long(),
        head: long(),
        arm: long(),
        splint: long(),
        reference: long(),
        clamp_mark: long(),
        topper: long(),
        connection: Connection::Through(long()),
        else_set_up: long(),
        ..golden.set_ups[1].clone()
    };
    let site = SiteTrial { body_part: long(), ..golden.sites[0].clone() };
    let layer = Layer { name: long(), ..golden.path.layers[0].clone() };
    let edit = |part| PaperText { part, text: long(), instead_of: u32::MAX };
    let day = LoanDay { day: long(), minutes: Some(1_440), comfort: Some(10) };
    Visit {
        safety: Safety {
            stop: StopSignal { how: long(), tried: true },
            holds: Condition::ALL.into(),
            ..golden.safety
        },
        support: Support { who: long(), how: long(), ..golden.support },
        asked: golden.asked,
        consent: Consent { who: long(), own_words: long(), ..golden.consent },
        today: Today { else_today: long(), ..golden.today },
        set_ups: vec![set_up; 20],
        series_in_use: 11,
        sites: vec![site; 20],
        devices: devices::fullest(&long()),
        wanted: Wanted { body_words: long(), places: MountPlace::ALL.into(), ..golden.wanted },
        path: Path { layers: vec![layer; 20], ..golden.path },
        own_game: golden.own_game.map(|own| OwnGame { changed_back: long(), ..own }),
        papers: Papers { edits: PaperPart::ALL.map(edit).to_vec(), diary: vec![day; 20] },
    }
    .tidied()
}
