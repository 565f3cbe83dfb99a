//! Pushes one by one, and those that stand out.

use super::{measure, number};
use fitting::measure::ListedPush;
use fitting::task::Query;

/// Title.
pub const TITLE: &str = "Your pushes, one by one";
/// What it shows.
pub const TEXT: &str = "How far each push went, and how far off to the side.";
/// After an answer.
pub const COUNTS: &str = "That push counts now.";
/// After an answer.
pub const LEFT_OUT: &str = "That push is left out now. It stays saved.";
/// It was not meant.
pub const LEAVE_OUT: &str = "Not on purpose: leave it out";

/// One direction with its pushes: `Right: 70 %, straight; 0 % (stands out; not counted)`.
pub fn one_way(pushes: &[ListedPush]) -> Option<(String, String)> {
    let asked = pushes.first()?.asked;
    let each: Vec<String> = pushes.iter().map(one).collect();
    Some((number::capital(number::direction(asked)), each.join("; ")))
}

fn one(push: &ListedPush) -> String {
    let off = push
        .degrees_off
        .map_or_else(String::new, |degrees| format!(", {}", number::degrees_off(degrees)));
    let mut about: Vec<&str> = Vec::new();
    about.extend(push.mark.map(measure::mark));
    if push.odd.is_some() {
        about.push("stands out");
        about.extend(push.counts.then_some("counted"));
    }
    about.extend((!push.counts).then_some("not counted"));
    let about = if about.is_empty() { String::new() } else { format!(" ({})", about.join("; ")) };
    format!("{}{off}{about}", number::percent(push.reach))
}

/// Which push it is, for a button's name.
fn which(push: &ListedPush) -> String {
    format!("push {} {}", push.number, number::towards(push.asked))
}

/// What is odd about a push, and the question.
pub fn question(push: &ListedPush, odd: Query) -> String {
    let what = match odd {
        Query::Off(degrees) => {
            format!("went {:.0}° away from what was asked.", degrees.abs())
        }
        Query::Short(short) => format!(
            "went {}. Others that way went about {}.",
            number::percent(push.reach),
            number::percent(short.usual)
        ),
    };
    let counts = if push.counts {
        "It counts. Was it on purpose?"
    } else {
        "Was it on purpose? If not, it won’t count."
    };
    format!("{} {what} {counts}", number::capital(&which(push)))
}

/// What the button says.
pub const fn answer(push: &ListedPush) -> &'static str {
    if push.counts { LEAVE_OUT } else { measure::QUERY_KEEP }
}

/// The button's name, with the push it is about.
pub fn answer_aloud(push: &ListedPush) -> String {
    format!("{}, {}", answer(push), which(push))
}

#[cfg(test)]
mod tests {
    use super::*;
    use fitting::Direction;
    use fitting::task::{MarkReason, ShortPush};

    #[test]
    fn each_push_says_how_far_it_went_and_what_stands_out() {
        let plain = ListedPush {
            record: 0,
            repetition: 0,
            number: 1,
            asked: Direction::Right,
            reach: 0.7,
            degrees_off: Some(3.0),
            odd: None,
            mark: None,
            counts: true,
        };
        let short = Query::Short(ShortPush { reach: 0.0009, usual: 0.7 });
        let odd = ListedPush {
            number: 2,
            reach: 0.0009,
            degrees_off: None,
            odd: Some(short),
            counts: false,
            ..plain
        };
        let marked = ListedPush { mark: Some(MarkReason::Helped), counts: false, ..plain };
        let meant = ListedPush { counts: true, ..odd };
        let (name, text) = one_way(&[plain, odd, marked, meant]).expect("there are some");
        assert_eq!(name, "Right");
        assert_eq!(
            text,
            "70\u{a0}%, 3° to its left; 0\u{a0}% (stands out; not counted); 70\u{a0}%, 3° to its left \
             (helped; not counted); 0\u{a0}% (stands out; counted)"
        );
        assert_eq!(
            question(&odd, short),
            "Push 2 to the right went 0\u{a0}%. Others that way went about 70\u{a0}%. Was it on \
             purpose? If not, it won’t count."
        );
        assert_eq!((answer(&odd), answer(&meant)), (measure::QUERY_KEEP, LEAVE_OUT));
    }
}
