//! The whole run over plans by time: a hundred invented people play every shipped plan, and plans
//! of every length against the fixed order. The last line is JSON.

fn main() {
    #[cfg(not(target_arch = "wasm32"))]
    run::run();
}

#[cfg(not(target_arch = "wasm32"))]
mod run {
    use checks::plans::{compare, means, of_people, played, quantile, shares};
    use fitting::Direction;
    use fitting::invented::Model;
    use fitting::task::Working;

    const PEOPLE: u64 = 100;

    pub(super) fn run() {
        let mut told = serde_json::Map::new();
        for way in Working::ALL {
            let all = of_people(0..PEOPLE, |seed| {
                let played = played(Model::random(seed), seed, way, way.minutes());
                (shares(&played), played.longest_burst_seconds)
            });
            let figures = [
                ("time", all.iter().map(|one| one.0.0).collect::<Vec<_>>()),
                ("muscle", all.iter().map(|one| one.0.1).collect()),
                ("burst", all.iter().map(|one| one.1).collect()),
            ];
            for (name, values) in figures {
                let five =
                    [0.0, 0.05, 0.1, 0.5, 0.9, 0.95, 1.0].map(|share| quantile(&values, share));
                println!("{way:?} {name}: {five:.3?}");
                told.insert(format!("{way:?} {name} median"), five[3].into());
                told.insert(format!("{way:?} {name} most"), five[6].into());
                let off: Vec<f64> = values.iter().map(|value| (value - 1.0).abs()).collect();
                told.insert(format!("{way:?} {name} off 90"), quantile(&off, 0.9).into());
            }
        }
        let two = vec![Direction::Right, Direction::Left];
        for minutes in [3, 6, 10, 15] {
            for needed in [Direction::FOUR.to_vec(), two.clone()] {
                let pairs = of_people(0..PEOPLE, |seed| compare(seed, minutes, &needed));
                let (mean, better) = means(&pairs);
                println!(
                    "{minutes} min, {} directions: {mean:.3?}, better {better:.2}",
                    needed.len()
                );
                let name = format!("{minutes} {}", needed.len());
                told.insert(format!("{name} ratio"), (mean.plan / mean.fixed).into());
                told.insert(format!("{name} better"), better.into());
            }
        }
        println!("{}", serde_json::Value::Object(told));
    }
}
