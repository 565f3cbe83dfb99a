//! Text from outside, made plain.

/// Text from outside made fit to keep and show on one line: control characters, marks that turn
/// the direction of writing and marks without any width are removed, white space is folded to
/// single spaces, and what is left is cut at `most_characters`.
#[must_use]
pub fn plain_text(text: &str, most_characters: usize) -> String {
    let mut plain = String::new();
    let mut count = 0;
    let mut gap = false;
    for character in text.chars() {
        if character.is_whitespace() {
            gap = true;
        } else if !unseen(character) {
            let space = gap && !plain.is_empty();
            // A space is only written with the character after it: nothing ends in a space.
            if count + usize::from(space) + 1 > most_characters {
                break;
            }
            if space {
                plain.push(' ');
                count += 1;
            }
            gap = false;
            plain.push(character);
            count += 1;
        }
    }
    plain
}

/// The same for text of several lines: each line is made plain, empty lines go.
#[must_use]
pub fn plain_lines(text: &str, most_characters: usize) -> String {
    let mut lines = String::new();
    let mut left = most_characters;
    for line in text.split(['\n', '\r', '\u{2028}', '\u{2029}', '\u{85}', '\u{b}', '\u{c}']) {
        let room = if lines.is_empty() { left } else { left.saturating_sub(1) };
        let line = plain_text(line, room);
        if !line.is_empty() {
            if !lines.is_empty() {
                lines.push('\n');
                left -= 1;
            }
            left -= line.chars().count();
            lines.push_str(&line);
        }
    }
    lines
}

/// Whether a text is plain already and not too long.
pub(super) fn is_plain(text: &str, most_characters: usize) -> bool {
    plain_text(text, most_characters) == text
}

/// The longest beginning of a text that is at most so many bytes long, cut between characters.
#[must_use]
pub fn at_most_bytes(text: &str, most_bytes: usize) -> &str {
    let mut end = most_bytes.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

/// Characters that are not white space and show nothing by themselves, or change how their
/// neighbours are shown: Unicode categories Cc and part of Cf, by block.
fn unseen(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'
                | '\u{200e}'..='\u{200f}'
                | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn marks_go_and_spaces_fold() {
        assert_eq!(plain_text("  a\u{202e}b \u{0}\t c\u{200b} ", 80), "ab c");
        assert_eq!(plain_text("ab cd", 3), "ab");
        assert_eq!(plain_text("ab cd", 4), "ab c");
        assert_eq!(plain_text("\u{2066}\u{feff}", 80), "");
        assert_eq!(plain_lines(" a \r\n\n\u{202e}\n b\u{7}c ", 80), "a\nbc");
        assert_eq!(plain_lines("a\nb", 2), "a");
    }

    #[test]
    fn bytes_are_cut_at_a_characters_edge() {
        assert_eq!(at_most_bytes("ääää", 5), "ää");
        assert_eq!(at_most_bytes("ab", 5), "ab");
        assert_eq!(at_most_bytes("ä", 1), "");
    }

    proptest! {
        #[test]
        fn making_plain_twice_changes_nothing(text in any::<String>(), most in 0..100usize) {
            let once = plain_text(&text, most);
            prop_assert!(once.chars().count() <= most);
            prop_assert_eq!(plain_text(&once, most), once);
            let lines = plain_lines(&text, most);
            prop_assert!(lines.chars().count() <= most);
            prop_assert_eq!(plain_lines(&lines, most), lines);
        }
    }
}
