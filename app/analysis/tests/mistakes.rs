//! Mistakes that would give wrong figures without a word: each is refused or warned of, with its
//! place, what was found and what to do.
#![allow(clippy::expect_used, reason = "tests")]

use analysis::input::read_csv;
use fitting::task::TaskKind;

/// A rest of half a minute, 50 lines a second: `head` is the header, `row` makes a line of a time in
/// seconds and two shares of travel.
fn rest(head: &str, row: impl Fn(f64, f64, f64) -> String) -> String {
    let mut text = format!("{head}\n");
    for step in 0..1500 {
        let at = f64::from(step) / 50.0;
        let (right, down) = (0.02 + 0.03 * libm::sin(9.0 * at), 0.025 * libm::cos(7.0 * at));
        text.push_str(&format!("{}\n", row(at, right, down)));
    }
    text
}

const SHARES: &str = "time_s,axis0_share,axis1_share";
const PERCENT: &str = "time_s,axis0_percent,axis1_percent";

/// The same with pushes to both sides, a second out of two.
fn pushes(head: &str, row: impl Fn(f64, f64, f64) -> String) -> String {
    let mut text = String::from("# task: reach\n");
    for push in 0..6 {
        let (from, way) = (2 * push, if push % 2 == 0 { "right" } else { "left" });
        text.push_str(&format!("# repetition_s: {from},{},done,direction={way}\n", from + 2));
    }
    text.push_str(&format!("{head}\n"));
    for step in 0..600 {
        let at = f64::from(step) / 50.0;
        let far = if at % 4.0 < 2.0 { 0.7 } else { -0.6 };
        let out = if (0.5..1.5).contains(&(at % 2.0)) { far } else { 0.0 };
        text.push_str(&format!("{}\n", row(at, out, 0.01)));
    }
    text
}

fn error(text: &str) -> String {
    read_csv(text, Some(TaskKind::QuietRest)).expect_err("it is refused").to_string()
}

fn warning(text: &str) -> String {
    let (_, warnings) = read_csv(text, Some(TaskKind::QuietRest)).expect("it is read");
    assert_eq!(warnings.len(), 1, "{warnings:?}");
    warnings[0].to_string()
}

#[test]
fn what_is_right_is_read_without_a_word() {
    let plain = |at: f64, right: f64, down: f64| format!("{at},{right},{down}");
    let percent =
        |at: f64, right: f64, down: f64| format!("{at},{},{}", 100.0 * right, 100.0 * down);
    for text in [
        rest(SHARES, plain),
        rest(PERCENT, percent),
        pushes(SHARES, plain),
        pushes(PERCENT, percent),
    ] {
        let (_, warnings) = read_csv(&text, Some(TaskKind::QuietRest)).expect("it is read");
        assert_eq!(warnings, []);
    }
}

#[test]
fn a_header_without_lines_is_no_recording() {
    assert_eq!(
        error(&format!("{SHARES}\n")),
        "line 1, header: no line of values below the columns. Write one line for each state of the \
         device"
    );
    let one = error(&format!("{SHARES}\n0,0.1,0.1\n"));
    assert!(
        one.starts_with("line 1, header: one line of values, and nothing says how long"),
        "{one}"
    );
    // A stick that did not move at all while somebody looked.
    assert!(
        read_csv(&format!("# polled_s: 0,30\n{SHARES}\n0,0.1,0.1\n"), Some(TaskKind::QuietRest))
            .is_ok()
    );
}

#[test]
fn percent_and_shares_are_distinguished() {
    let told =
        error(&rest(SHARES, |at, right, down| format!("{at},{},{}", 100.0 * right, 100.0 * down)));
    assert!(told.starts_with("line 1, axis0_share: goes as far as "), "{told}");
    assert!(told.ends_with("If these are percent, call the column axis0_percent"), "{told}");
    // So little percent could be shares of a device that goes beyond its ends.
    let told = warning(&rest(SHARES, |at, right, _| format!("{at},{},0", 24.0 * right)));
    assert!(
        told.contains("axis0_share: goes as far as 1.") && told.contains("axis0_percent"),
        "{told}"
    );
    // And back: a push of one in a hundred is none, a rest may be that still.
    let told = error(&pushes(PERCENT, |at, right, down| format!("{at},{right},{down}")));
    assert!(
        told.contains("no axis goes beyond 0.700 % of its travel. If these are shares"),
        "{told}"
    );
    let told = warning(&rest(PERCENT, |at, right, down| format!("{at},{right},{down}")));
    assert!(told.contains("no axis goes beyond 0.050 %"), "{told}");
    let keys = |line: &str| {
        error(&format!("# {line}\n{}", rest(SHARES, |at, r, d| format!("{at},{r},{d}"))))
    };
    assert_eq!(
        keys("levels_share: 25,50"),
        "line 1, levels_share: 25, and a share is at most 1. If this is percent, write 0.25"
    );
    assert!(keys("quiet_radius_share: 5").contains("write 0.05"));
    assert!(keys("centre_share: 3,0").contains("line 1, centre_share: 3, and"));
    assert!(keys("known_reach: left,-60,0").contains("write -0.6"));
    assert!(keys("repetition_s: 1,2,level=50").contains("line 1, repetition_s: 50, and"));
    let button = "# task: presses\n# buttons: 0\n# repetition_s: 0,2\ntime_s,button0_percent\n0,0\n1,1\n2,0\n";
    let told = error(button);
    assert!(told.starts_with("line 4, button0_percent: never beyond 1.00 %"), "{told}");
}

#[test]
fn milliseconds_and_seconds_are_distinguished() {
    let told = error(&rest(SHARES, |at, right, down| format!("{},{right},{down}", 1000.0 * at)));
    assert_eq!(
        told,
        "line 1, time_s: 29980 s in all, a line every 20.0 s. If these are milliseconds, call the \
         column time_ms"
    );
    let short: String = rest(SHARES, |at, right, down| format!("{},{right},{down}", 1000.0 * at))
        .lines()
        .take(100)
        .map(|line| format!("{line}\n"))
        .collect();
    assert!(warning(&short).contains("1960 s in all, a line every 20.0 s"));
    // A day's log of a slow kind, asked for as such.
    let long = rest(SHARES, |at, right, down| format!("{},{right},{down}", 1000.0 * at));
    assert!(warning(&format!("# seconds: 30000\n{long}")).contains("time_s: "));
    let told = error(&rest("time_ms,axis0_share,axis1_share", |at, r, d| format!("{at},{r},{d}")));
    assert!(
        told.starts_with("line 1, time_ms: a line every 0.0200 ms, which no device sends"),
        "{told}"
    );
}

#[test]
fn an_axis_from_0_to_1_is_told() {
    let half = |value: f64| 0.5 + 0.5 * value;
    let told =
        error(&rest(SHARES, |at, right, down| format!("{at},{},{}", half(right), half(down))));
    assert!(
        told.starts_with("line 1, axis0_share, axis1_share: never below 0 and mostly near a half"),
        "{told}"
    );
    assert!(told.contains("write 2 * value - 1"), "{told}");
    let told = warning(&rest(SHARES, |at, right, down| format!("{at},{},{down}", half(right))));
    assert!(told.starts_with("line 1, axis0_share: never below 0"), "{told}");
    assert!(
        error(&pushes(SHARES, |at, right, down| format!("{at},{},{}", half(right), half(down))))
            .contains("never below 0")
    );
    // A stick that stays where it is left may stay at a half.
    let stays = rest(SHARES, |at, right, down| format!("{at},{},{}", half(right), half(down)));
    let stays = format!("# stick_kind: not_self_centring\n{stays}");
    assert_eq!(read_csv(&stays, Some(TaskKind::QuietRest)).expect("it is read").1, []);
}

#[test]
fn spans_outside_the_recording_are_reported() {
    let with = |line: &str| {
        let rest = rest(SHARES, |at, right, down| format!("{at},{right},{down}"));
        format!("# {line}\n{rest}")
    };
    for (line, key) in [
        ("repetition_s: 40,50", "repetition_s"),
        ("repetition_s: 20,50", "repetition_s"),
        ("repetition_s: -5,10", "repetition_s"),
        ("gap_s: 31,35", "gap_s"),
        ("pause_s: 3000,4000", "pause_s"),
        ("polled_s: -9,-1", "polled_s"),
    ] {
        let told = error(&with(line));
        assert_eq!(
            told,
            format!("line 1, {key}: outside the recording, which goes from 0 to 29.98 s")
        );
    }
    // The last state held until the end that somebody wrote down.
    assert!(read_csv(&with("repetition_s: 0,30"), Some(TaskKind::QuietRest)).is_ok());
    assert!(
        read_csv(&with("polled_s: 0,60\n# repetition_s: 0,60"), Some(TaskKind::QuietRest)).is_ok()
    );
}

#[test]
fn a_repetition_says_what_was_asked() {
    let with = |task: &str, more: &str, repetition: &str| {
        let rest = rest(SHARES, |at, right, down| format!("{at},{right},{down}"));
        format!("# task: {task}\n{more}# repetition_s: 1,5,{repetition}\n{rest}")
    };
    assert_eq!(
        error(&with("hold", "", "done,direction=right")),
        "line 2, repetition_s: missing: level=, the share of own reach that was held, from 0 to 1"
    );
    for task in ["hold", "reach", "return", "sustained"] {
        let told = error(&with(task, "# levels_share: 0.5\n", "done"));
        assert!(told.contains("line 3, repetition_s: missing: direction="), "{task}: {told}");
    }
    assert!(error(&with("presses", "# buttons: 0,1\n", "done")).contains("missing: button="));
    // What was said once for the whole task holds; what was not done need not say anything.
    let hold = with("hold", "# levels_share: 0.5\n", "done,direction=right");
    let (record, _) = read_csv(&hold, None).expect("it is read");
    assert_eq!(record.repetitions[0].level, Some(0.5));
    assert!(read_csv(&with("hold", "", "skipped"), None).is_ok());
    assert!(read_csv(&with("reach", "# asking: free_movement\n", "done"), None).is_ok());
    let own = with("hold", "", "done,direction=right,level=0.25");
    let (record, _) = read_csv(&own, None).expect("it is read");
    assert_eq!(fitting::exchange::csv::write(&record).matches("# levels_share: 0.25\n").count(), 1);
}

#[test]
fn a_key_that_would_not_be_read_is_reported() {
    let rest = rest(SHARES, |at, right, down| format!("{at},{right},{down}"));
    let late = rest.replacen("\n0.02,", "\n# gap_s: 5,6\n0.02,", 1);
    assert_eq!(
        error(&late),
        "line 3, key: a key below the columns is not read. Put it above the line of column names"
    );
    let remark = rest.replacen("\n0.02,", "\n# at 5 s: the phone rang\n0.02,", 1);
    assert!(read_csv(&remark, Some(TaskKind::QuietRest)).is_ok());
    // Empty lines hide none.
    let (record, _) =
        read_csv(&format!("\n# gap_s: 5,6\n\n# gap_s: 8,9\n{rest}"), Some(TaskKind::QuietRest))
            .expect("it is read");
    assert_eq!(record.recording.polled.len(), 3);
    assert!(error("time_s;axis0_share\n0;0,5\n").contains("separated by commas"));
}
