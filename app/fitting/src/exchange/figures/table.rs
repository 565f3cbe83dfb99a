//! Rows of text with their columns aligned.

use std::fmt::Write;

/// The column in which numbers stand, to the right.
const NUMBERS: usize = 2;

/// Rows under titles, the columns of all as wide as their widest cell; `head` stands above.
#[must_use]
pub fn aligned(head: &[String; 6], parts: &[(String, Vec<[String; 6]>)]) -> String {
    let mut widths = [0; 6];
    for row in parts.iter().flat_map(|part| &part.1).chain([head]) {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    let mut text = String::new();
    add(&mut text, head, &widths);
    for (title, rows) in parts {
        // Writing into a text cannot fail.
        let _ = write!(text, "\n{title}\n");
        for row in rows {
            add(&mut text, row, &widths);
        }
    }
    text
}

fn add(text: &mut String, row: &[String; 6], widths: &[usize; 6]) {
    let mut line = String::from(" ");
    for (column, (width, cell)) in widths.iter().zip(row).enumerate() {
        let blank = " ".repeat(width - cell.chars().count());
        // Numbers stand to the right, words to the left.
        if column == NUMBERS {
            line.push_str(&format!(" {blank}{cell} "));
        } else {
            line.push_str(&format!(" {cell}{blank} "));
        }
    }
    text.push_str(line.trim_end());
    text.push('\n');
}
