use super::*;
use crate::hid::usage::{JOYSTICK, X, Y};

/// A joystick with its axes in an inner collection, as a browser tells it: observed, Chromium 156
/// on Linux, the inner items stand in the outer collection as well.
const TOLD: &str = r#"[{
  "usagePage": 1, "usage": 4, "type": 1, "outputReports": [], "featureReports": [],
  "inputReports": [{"reportId": 0, "items": [
    {"isAbsolute": true, "isArray": false, "isConstant": false, "isLinear": true, "isRange": false,
     "hasPreferredState": true, "usages": [65584, 65585], "strings": [], "reportSize": 8,
     "reportCount": 2, "unitSystem": "none", "logicalMinimum": -127, "logicalMaximum": 127},
    {"isAbsolute": true, "isArray": false, "isConstant": false, "isLinear": true, "isRange": true,
     "hasPreferredState": true, "usageMinimum": 589825, "usageMaximum": 589828, "reportSize": 1,
     "reportCount": 4, "unitSystem": "none", "logicalMinimum": 0, "logicalMaximum": 1}]}],
  "children": [{"usagePage": 1, "usage": 1, "type": 0, "children": [],
    "inputReports": [{"reportId": 0, "items": [
      {"isAbsolute": true, "isArray": false, "isConstant": false, "isLinear": true,
       "isRange": false, "hasPreferredState": true, "usages": [65584, 65585], "strings": [],
       "reportSize": 8, "reportCount": 2, "unitSystem": "none", "logicalMinimum": -127,
       "logicalMaximum": 127}]}]}]
}]"#;

fn told() -> Vec<CollectionInfo> {
    serde_json::from_str(TOLD).unwrap()
}

#[test]
fn what_is_told_twice_counts_once() {
    let device = HidDevice::from_collections(&told()).unwrap();
    assert_eq!(device.applications().collect::<Vec<_>>(), [JOYSTICK]);
    let axes: Vec<_> = device.axes.iter().map(|a| (a.usage, a.bit_offset, a.bits)).collect();
    assert_eq!(axes, [(X, 0, 8), (Y, 8, 8)]);
    assert_eq!((device.buttons.len(), device.reports[0].bits), (4, 20));
    assert!(device.remarks.is_empty());
    let inner: Vec<_> = device.reports[0].fields.iter().map(|field| field.collection).collect();
    assert_eq!(inner, [Some(1), Some(0)]);
    let values = device.decode(ReportKind::Input, 0, &[0x81, 0x7F, 5]).unwrap().values;
    let numbers: Vec<_> = values.iter().map(|value| value.logical).collect();
    assert_eq!(numbers, [-127, 127, 1, 0, 1, 0]);
}

#[test]
fn what_is_told_once_counts_too() {
    // Listed by the inner collection only: nothing of the outer one is known to come first.
    let mut told = told();
    told[0].input_reports[0].items.remove(0);
    let device = HidDevice::from_collections(&told).unwrap();
    assert_eq!((device.axes.len(), device.buttons.len()), (2, 4));
    assert_eq!(device.axes[0].bit_offset, 4);
    assert_eq!(device.remarks[0].what, RemarkKind::OrderUncertain);
    // By no outer report at all: then there is no doubt.
    told[0].input_reports.clear();
    let device = HidDevice::from_collections(&told).unwrap();
    assert_eq!((device.axes.len(), device.axes[0].bit_offset), (2, 0));
    assert!(device.remarks.is_empty());
}

/// Two equal items inside and one outside: the outer list is not the whole.
#[test]
fn an_item_stands_for_one_only() {
    let mut told = told();
    let inner = &mut told[0].children[0].input_reports[0].items;
    inner.push(inner[0].clone());
    let device = HidDevice::from_collections(&told).unwrap();
    assert_eq!((device.axes.len(), device.buttons.len()), (6, 4));
    assert_eq!(device.remarks[0].what, RemarkKind::OrderUncertain);
}

#[test]
fn a_lost_sign_bit_is_put_back() {
    let mut told = told();
    for (max, bits, meant) in
        [(-1, 8, 255), (-1, 16, 65_535), (-1, 10, 1023), (-32_768, 16, 32_768)]
    {
        let info = &mut told[0].input_reports[0].items[0];
        (info.logical_minimum, info.logical_maximum, info.report_size) = (0, max, bits);
        told[0].children.clear();
        let device = HidDevice::from_collections(&told).unwrap();
        assert_eq!(device.axes[0].logical, LogicalRange { min: 0, max: meant });
        assert_eq!(device.remarks[0].what, RemarkKind::SignDropped);
    }
}

#[test]
fn what_is_too_much_is_refused() {
    let refused = |told: &[CollectionInfo]| HidDevice::from_collections(told).unwrap_err();
    assert_eq!(refused(&[]), DescriptorFault::NoReport);
    let mut deep = CollectionInfo::default();
    for _ in 0..MOST_DEPTH {
        deep = CollectionInfo { children: vec![deep], ..CollectionInfo::default() };
    }
    assert_eq!(refused(&[deep]), DescriptorFault::TooDeep);
    let wide = vec![CollectionInfo::default(); MOST_COLLECTIONS + 1];
    assert_eq!(refused(&wide), DescriptorFault::TooManyCollections);
    let mut long = told();
    long[0].input_reports[0].items[0].report_count = u32::MAX;
    assert_eq!(refused(&long), DescriptorFault::ReportTooLong);
    let mut many = told();
    many[0].input_reports[0].items = vec![ItemInfo::default(); MOST_FIELDS + 1];
    assert_eq!(refused(&many), DescriptorFault::TooManyFields);
    let mut back = told();
    back[0].input_reports[0].items[1].usage_maximum = 589_824;
    assert_eq!(refused(&back), DescriptorFault::RangeBackwards);
    let unknown = TOLD.replace("\"none\"", "\"furlongs\"");
    let told: Vec<CollectionInfo> = serde_json::from_str(&unknown).unwrap();
    assert_eq!(told[0].input_reports[0].items[0].unit_system, UnitSystemInfo::Reserved);
}
