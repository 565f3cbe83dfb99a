//! Whether invented people steer better with the suggested settings than with plain ones.
//!
//! The task is ours (`fitting::invented`, a slow target followed with given settings), and so are the
//! people: it tells whether settings work together, not how anybody plays. The seeds are of no other
//! test.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

use checks::accuracy::groups::Group;
use fitting::invented::{Invented, Model, fixed_order, play};
use fitting::measure::measure;
use fitting::suggest::{Suggestions, Wish, suggest};
use fitting::{NotEnough, Settings, Sureness};

/// What is set without measuring: a tenth of travel, and nearly all of it. Common practice, no source.
fn plain() -> Settings {
    Settings { dead_zone: 0.1, full_throw: 0.95, ..Settings::default() }
}

/// The error with the suggested settings as a share of that with plain ones, and of that with the stick
/// as it is; nothing where no dead zone or no full throw is suggested.
fn shares(model: &Model, seed: u64, suggestions: &Suggestions) -> Option<[f64; 2]> {
    let is_whole = suggestions.dead_zone.is_ok() && suggestions.full_throw.is_ok();
    let error = |settings: &Settings| model.steering_error(settings, seed + 1_000);
    let ours = error(&suggestions.settings);
    is_whole.then(|| [ours / error(&plain()), ours / error(&Settings::default())])
}

/// One line of the table of what is suggested to whom.
fn line(who: &str, suggestions: &Suggestions, shares: Option<[f64; 2]>) -> String {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let settings = &suggestions.settings;
    let dead_zone = match &suggestions.dead_zone {
        Ok(advice) => format!("{}, {}", percent(settings.dead_zone), sure(advice.sureness)),
        Err(why) => format!("none: {why:?}"),
    };
    let room = settings.full_throw - settings.dead_zone;
    let (full_throw, span) = match &suggestions.full_throw {
        Ok(advice) => {
            let word = sure(advice.sureness);
            (format!("{}, {word}", percent(settings.full_throw)), percent(room))
        }
        Err(NotEnough::NoSteeringSpan) => ("none: too little room".to_owned(), "–".to_owned()),
        Err(why) => (format!("none: {why:?}"), "–".to_owned()),
    };
    let steers = shares.map_or("–".to_owned(), |[plain, _]| format!("{plain:.2}"));
    let remark = match (suggestions.dead_zone_alone, &suggestions.full_throw) {
        (_, Err(_)) => {
            "First another mount, body part, topper or stick, or a number for each direction"
        }
        (Some(_), _) => {
            "Only where the resting place can be set; otherwise first another mount or body part"
        }
        (None, _) if room < 0.25 => "To be tried with somebody beside: little room to steer in",
        (None, _) => "To be tried",
    };
    format!("| {who} | {dead_zone} | {full_throw} | {span} | {steers} | {remark} |\n")
}

const fn sure(sureness: Sureness) -> &'static str {
    match sureness {
        Sureness::Firm => "firm",
        Sureness::Rough => "rough",
        Sureness::NotEnough => "not enough yet",
    }
}

/// What stands above the table.
const HEAD: &str = "\
# What is suggested to the six shipped people and twenty drawn ones

Written by `tests/tests/steering.rs` (`UPDATE_GOLDEN=1 cargo test -p checks --test steering`), which compares
it: fifteen minutes of tasks each, one false movement in two minutes wished for. *Room* is full throw less
dead zone. *Steers* is the error while following a slow target, as a share of that with plain settings (a dead
zone of 10 %, full throw 95 %); below 1 is better. The last column says what a practitioner would do with it.
None of the numbers is to be typed in blindly: each is tried with the person first.

| who | dead zone | full throw | room | steers | what to do with it |
|---|---|---|---|---|---|
";

/// What stands above the table by group.
const GROUPS_HEAD: &str = "
Of people as the accuracy runs draw them (of seeds that no other run uses), by group: how many there are,
how many were suggested a whole set of settings, and how these steer, as above (geometric mean).

| group | people | with settings | steers |
|---|---|---|---|
";
/// Of fewer people than this a mean says nothing.
const FEWEST_OF_GROUP: usize = 5;

/// The table by group, and each group's mean where it has enough people.
fn by_group() -> (String, Vec<(Group, f64)>) {
    let people: Vec<(Vec<Group>, Option<f64>)> = (7_330_000..7_330_130)
        .map(|seed| {
            let model = Model::varied(seed);
            let records = play(model.clone(), seed, &fixed_order(15), 0.004);
            let suggestions = suggest(&records, &measure(&records), Wish::default());
            let steers = shares(&model, seed, &suggestions).map(|[plain, _]| plain);
            (Group::of(&model), steers)
        })
        .collect();
    let mut table = GROUPS_HEAD.to_owned();
    let mut means = Vec::new();
    for group in Group::ALL {
        let of_group = people.iter().filter(|person| person.0.contains(&group));
        let steers: Vec<f64> = of_group.clone().filter_map(|person| person.1).collect();
        let mean = (steers.len() >= FEWEST_OF_GROUP).then(|| middle(&steers));
        let told = mean.map_or("–".to_owned(), |mean| format!("{mean:.2}"));
        let (count, with) = (of_group.count(), steers.len());
        table.push_str(&format!("| {} | {count} | {with} | {told} |\n", group.code()));
        means.extend(mean.map(|mean| (group, mean)));
    }
    (table, means)
}

/// The geometric mean.
fn middle(shares: &[f64]) -> f64 {
    libm::exp(shares.iter().map(|share| libm::log(*share)).sum::<f64>() / shares.len() as f64)
}

#[test]
fn suggested_settings_steer_better_than_plain_ones() {
    let named = Invented::ALL.into_iter().map(|one| (format!("{one:?}"), one.model(), 41));
    let drawn = (7_310_000..7_310_020).map(|seed| (format!("{seed}"), Model::random(seed), seed));
    let (mut beside_plain, mut beside_none, mut without) = (Vec::new(), Vec::new(), 0);
    let mut table = HEAD.to_owned();
    for (who, model, seed) in named.chain(drawn) {
        let records = play(model.clone(), seed, &fixed_order(15), 0.004);
        let suggestions = suggest(&records, &measure(&records), Wish::default());
        let shares = shares(&model, seed, &suggestions);
        table.push_str(&line(&who, &suggestions, shares));
        let Some([plain, none]) = shares else {
            println!("{who}: nothing to set");
            without += 1;
            continue;
        };
        println!("{who}: {plain:.2} of plain settings, {none:.2} of none");
        beside_plain.push(plain);
        beside_none.push(none);
    }
    let worst = beside_plain.iter().copied().fold(0.0, f64::max);
    let (plain, none) = (middle(&beside_plain), middle(&beside_none));
    println!(
        "{plain:.3} of plain settings ({worst:.2} at worst), {none:.3} of none; {without} without"
    );
    let (groups, means) = by_group();
    println!("{groups}");
    table.push_str(&groups);
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/accuracy/settings.md");
    if std::env::var_os("UPDATE_GOLDEN").is_some() {
        std::fs::write(path, &table).unwrap();
    }
    assert_eq!(std::fs::read_to_string(path).unwrap(), table, "UPDATE_GOLDEN=1 writes it anew");
    assert!(beside_plain.len() >= 15, "{without} without");
    assert!(plain < 0.7 && none < 0.7, "{plain} {none}");
    // Known shortfall, which may not get worse: nobody should steer worse than with plain settings. Two
    // of these people do, who tremble and reach far: plain settings are wider than what is suggested.
    assert!(worst < 1.36, "{worst}");
    assert!(means.len() >= 9, "{means:?}");
    assert!(means.iter().all(|(_, mean)| *mean < 1.0), "{means:?}");
}
