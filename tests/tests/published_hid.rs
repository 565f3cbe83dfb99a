//! Report descriptors, reports and usages, checked against two open libraries and the tables.
//!
//! Sources: USB Implementers' Forum, *Device Class Definition for HID* 1.11 (2001), examples D.1,
//! E.6 and E.10, recalled from memory (their lengths, and for the joystick another published
//! example, agree); *HID Usage Tables* as shipped with hid-tools. Places and sizes by hid-parser and
//! hid-tools, values by hid-tools. Vectors: `vectors/scripts/hid_descriptors.py`. Everything is
//! whole numbers and compared exactly.
#![allow(clippy::expect_used, reason = "tests")]

use checks::vector;
use device::hid::pad::RawPad;
use device::hid::usage::{HAT_SWITCH, JOYSTICK};
use device::hid::{Field, HidDevice, Report, ReportKind, Standing, Usage, names, read, text};
use serde_json::{Value, json};

fn device(described: &Value) -> HidDevice {
    let bytes = text::bytes(described["bytes"].as_str().expect("bytes")).expect("hexadecimal");
    read(&bytes).expect("a good descriptor")
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

fn wire(given: &Value) -> Vec<u8> {
    text::bytes(given["wire"].as_str().expect("a report")).expect("hexadecimal")
}

/// A report's fields in the form of the vectors: one for each element of a variable field, one for
/// each array.
fn told(report: &Report) -> Vec<Value> {
    let mut all = Vec::new();
    for field in report.fields.iter().filter(|field| !field.flags.constant()) {
        if field.is_array() {
            let usages = (0..field.usages.count()).filter_map(|place| field.usages.nth(place));
            let mut one = element(field, 0);
            one["count"] = json!(field.count);
            one["usages"] = usages.map(|usage| usage.0).collect();
            all.push(one);
            continue;
        }
        for place in 0..field.count {
            let mut one = element(field, place);
            one["usage"] = json!(field.usages.for_element(place).expect("a usage").0);
            all.push(one);
        }
    }
    all
}

fn element(field: &Field, place: u32) -> Value {
    json!({
        "bit": field.element_at(place),
        "size": field.element_bits,
        "count": 1,
        "array": field.is_array(),
        "relative": field.flags.relative(),
        "null": field.flags.null_state(),
        "logical": [field.logical.min, field.logical.max],
        "physical": [field.physical.min, field.physical.max],
        "unit": field.unit.code,
        "exponent": field.unit.exponent,
    })
}

#[test]
fn fields_lie_where_the_libraries_find_them() {
    let vectors = vector("hid/descriptors");
    let all = vectors["descriptors"].as_object().expect("descriptors");
    let (mut fields, mut agreed) = (0, 0);
    for (name, described) in all {
        let device = device(described);
        let reports = list(&described["reports"]);
        assert_eq!(device.reports.len(), reports.len(), "{name}");
        for wanted in reports {
            let kind = match wanted["kind"].as_str() {
                Some("input") => ReportKind::Input,
                Some("output") => ReportKind::Output,
                _ => ReportKind::Feature,
            };
            let id = u8::try_from(whole(&wanted["id"])).expect("a report number");
            let report = device.report(kind, id).expect("a report");
            assert_eq!(i64::from(report.bits), whole(&wanted["bits"]), "{name} {kind:?} {id}");
            let found = told(report);
            assert_eq!(found.len(), list(&wanted["fields"]).len(), "{name} {kind:?} {id}");
            for (found, wanted) in found.into_iter().zip(list(&wanted["fields"])) {
                let mut wanted = wanted.clone();
                if wanted["physical"] == json!([0, 0]) {
                    // Where none is given it is the logical range (HID 1.11, 6.2.2.7).
                    wanted["physical"] = wanted["logical"].clone();
                }
                assert_eq!(found, wanted, "{name} {kind:?} {id}");
                fields += 1;
            }
        }
        agreed += whole(&described["places_agreed"]);
    }
    assert!(all.len() >= 20 && fields >= 200 && agreed >= 150, "{fields} {agreed}");
}

#[test]
fn reports_say_what_the_library_reads() {
    let vectors = vector("hid/descriptors");
    let (mut numbers, mut nulls, mut named_all) = (0, 0, 0);
    for (name, described) in vectors["descriptors"].as_object().expect("descriptors") {
        let device = device(described);
        for given in list(&described["inputs"]) {
            let wire = wire(given);
            let (id, data) = device.part(&wire).expect("a report");
            assert_eq!(i64::from(id), whole(&given["id"]), "{name}");
            let decoded = device.decode(ReportKind::Input, id, data).expect("declared");
            let fields = &device.report(ReportKind::Input, id).expect("declared").fields;
            let values: Vec<i64> = decoded.values.iter().map(|value| value.logical).collect();
            let wanted: Vec<i64> = list(&given["values"]).iter().map(whole).collect();
            assert_eq!(values, wanted, "{name} {}", given["wire"]);
            let standing: String = decoded
                .values
                .iter()
                .map(|value| match value.standing {
                    Standing::Inside => 'i',
                    Standing::Null => 'n',
                    Standing::Outside => 'o',
                })
                .collect();
            assert_eq!(Some(&*standing), given["standing"].as_str(), "{name} {}", given["wire"]);
            let of_arrays = decoded.values.iter().filter(|value| fields[value.field].is_array());
            let named: Vec<_> = of_arrays.map(|value| value.usage.map(|usage| usage.0)).collect();
            assert_eq!(json!(named), given["named"], "{name} {}", given["wire"]);
            numbers += values.len();
            nulls += standing.matches('n').count();
            named_all += named.iter().flatten().count();
        }
    }
    assert!(numbers > 1000 && nulls > 20 && named_all > 10, "{numbers} {nulls} {named_all}");
}

/// By hand: HID 1.11, D.1, whose hat of four stands for 0, 90, 180 and 270 degrees; report
/// 00 7F 81 52.
#[test]
fn the_joystick_of_the_standard_by_hand() {
    let vectors = vector("hid/descriptors");
    let device = device(&vectors["descriptors"]["hid_1_11_joystick_d1"]);
    assert_eq!(device.applications().collect::<Vec<_>>(), [JOYSTICK]);
    let axes: Vec<_> = device.axes.iter().filter_map(|axis| names::name(axis.usage)).collect();
    assert_eq!(axes, ["Throttle", "X", "Y"]);
    let hat = device.hats.first().expect("a hat");
    assert!(hat.null_state && names::name(HAT_SWITCH) == Some("Hat switch"));
    assert_eq!(hat.degrees(2), Some(180.0));
    assert_eq!(hat.degrees(15), None);
    let mut pad = RawPad::new(&device, "Bench stick", 0).expect("a pad");
    let state = pad.take(0, &[0x00, 0x7F, 0x81, 0x52], 5.0).expect("its report");
    assert_eq!(state.axes, [0.0, 1.0, -1.0, 0.0, 1.0], "throttle, X, Y, and the hat down");
    assert_eq!(state.buttons, [1.0, 0.0, 1.0, 0.0]);
    let state = pad.take(0, &[0x81, 0x00, 0x40, 0x0F], 6.0).expect("its report");
    assert_eq!(state.axes, [-1.0, 0.0, 64.0 / 127.0, 0.0, 0.0], "the hat in its middle");
}

#[test]
fn usages_are_called_as_in_the_tables() {
    let vectors = vector("hid/usages");
    let mut checked = 0;
    for (page, table) in vectors["pages"].as_object().expect("pages") {
        let page: u16 = page.parse().expect("a page");
        assert_eq!(names::page(page), table["name"].as_str());
        for (number, name) in names::table(page) {
            assert_eq!(
                table["usages"][number.to_string()].as_str(),
                Some(*name),
                "{page} {number}"
            );
            assert_eq!(names::name(Usage::new(page, *number)), Some(*name));
            checked += 1;
        }
    }
    assert!(checked > 200, "{checked}");
    // The numbers that decide what is an axis, by their names in the tables.
    let desktop = &vectors["pages"]["1"]["usages"];
    let axes: Vec<_> = (0..0x100)
        .filter(|number| Usage::new(1, *number).is_axis())
        .map(|number| desktop[number.to_string()].as_str().expect("a name"))
        .collect();
    assert_eq!(axes, ["X", "Y", "Z", "Rx", "Ry", "Rz", "Slider", "Dial", "Wheel"]);
    let buttons: Vec<_> = (0..0x100)
        .filter(|number| Usage::new(1, *number).is_button())
        .map(|number| desktop[number.to_string()].as_str().expect("a name"))
        .collect();
    let wanted = ["Start", "Select", "D-Pad Up", "D-Pad Down", "D-Pad Right", "D-Pad Left"];
    assert_eq!(buttons, wanted);
    assert_eq!(vectors["pages"]["9"]["usages"]["0"], "No Buttons Pressed");
    assert!(!Usage::new(9, 0).is_button() && Usage::new(9, 1).is_button());
    let ends = [0xB0, 0xD0].map(|n: u16| vectors["pages"]["2"]["usages"][n.to_string()].clone());
    assert_eq!(ends, ["Aileron", "Rear Brake"]);
}
