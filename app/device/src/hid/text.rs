//! The bytes of a descriptor out of pasted text.
//!
//! Read are hexadecimal numbers of two digits, or runs of an even number of digits, with or
//! without `0x` or `\x` in front and `u` or `l` behind (then one digit is enough), in upper or
//! lower case, parted by white space or any of `, ; : - ( ) [ ] { } " '` or by nothing. Left out
//! are comments (`//` and `#` to the end of the line, `/* … */`), and numbers of four to eight
//! digits at the start of a line with a colon behind, which count bytes in listings. Where there
//! is a brace, only what stands in the first pair of braces that holds something is read, so that
//! an array can be pasted with its declaration.

use super::MOST_DESCRIPTOR_BYTES;

/// The most bytes of text that are looked at.
pub const MOST_TEXT_BYTES: usize = 65_536;

/// Why no bytes could be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextError {
    /// There is nothing but white space and comments.
    NothingFound,
    /// The text is longer than [`MOST_TEXT_BYTES`].
    TooLong,
    /// Something stands in the way.
    At {
        /// Its line, counted from 1.
        line: usize,
        /// Its column in characters, counted from 1.
        column: usize,
        /// What it is.
        what: TextFault,
    },
}

/// What may stand in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextFault {
    /// No hexadecimal number.
    NotHexadecimal,
    /// An odd number of digits: half a byte is missing, or the numbers are decimal.
    HalfByte,
    /// A number with `0x` in front that is more than one byte.
    MoreThanAByte,
    /// The first byte beyond [`MOST_DESCRIPTOR_BYTES`].
    TooManyBytes,
    /// A comment that is never closed.
    CommentNotClosed,
}

/// Reads the bytes of pasted text.
///
/// # Errors
/// What stands in the way, and where; or that nothing was found.
pub fn bytes(text: &str) -> Result<Vec<u8>, TextError> {
    if text.len() > MOST_TEXT_BYTES {
        return Err(TextError::TooLong);
    }
    let tokens = tokens(text)?;
    let mut found = Vec::new();
    for token in inside_braces(&tokens) {
        if let Token::Word(word) = token {
            take(*word, &mut found)?;
        }
    }
    if found.is_empty() { Err(TextError::NothingFound) } else { Ok(found) }
}

#[derive(Clone, Copy)]
struct Word<'a> {
    text: &'a str,
    line: usize,
    column: usize,
    /// Whether it is the first of its line with a colon behind.
    label: bool,
}

enum Token<'a> {
    Word(Word<'a>),
    Open,
    Close,
}

/// Words and braces without comments and what parts them.
fn tokens(text: &str) -> Result<Vec<Token<'_>>, TextError> {
    let mut tokens = Vec::new();
    let (mut line, mut column) = (1, 1);
    // Where the word under way began: byte, line, column, and whether it is the first of its line.
    let mut word: Option<(usize, usize, usize, bool)> = None;
    let mut first_of_line = true;
    let mut rest = text.char_indices().peekable();
    while let Some((at, letter)) = rest.next() {
        let next = rest.peek().map(|(_, next)| *next);
        let comment = matches!((letter, next), ('#', _) | ('/', Some('/' | '*')));
        let parts = comment || parts(letter);
        if parts && let Some((from, line, column, first)) = word.take() {
            let label = first && letter == ':';
            tokens.push(Token::Word(Word { text: &text[from..at], line, column, label }));
            first_of_line = false;
        } else if !parts && word.is_none() {
            word = Some((at, line, column, first_of_line));
        }
        match letter {
            '{' => tokens.push(Token::Open),
            '}' => tokens.push(Token::Close),
            '#' => while rest.next_if(|(_, letter)| *letter != '\n').is_some() {},
            '/' if comment && next == Some('/') => {
                while rest.next_if(|(_, letter)| *letter != '\n').is_some() {}
            }
            '/' if comment => {
                let open = TextError::At { line, column, what: TextFault::CommentNotClosed };
                // The star belongs to the opening, so that `/*/` is still open.
                rest.next();
                column += 2;
                let mut star = false;
                loop {
                    let Some((_, letter)) = rest.next() else { return Err(open) };
                    (line, column) = moved(letter, line, column);
                    first_of_line |= letter == '\n';
                    if star && letter == '/' {
                        break;
                    }
                    star = letter == '*';
                }
            }
            _ => {}
        }
        if !(letter == '/' && comment) {
            (line, column) = moved(letter, line, column);
        }
        first_of_line |= letter == '\n';
    }
    if let Some((from, line, column, _)) = word {
        tokens.push(Token::Word(Word { text: &text[from..], line, column, label: false }));
    }
    Ok(tokens)
}

fn moved(letter: char, line: usize, column: usize) -> (usize, usize) {
    if letter == '\n' { (line + 1, 1) } else { (line, column + 1) }
}

fn parts(letter: char) -> bool {
    letter.is_whitespace() || letter == '\u{feff}' || ",;:-()[]{}\"'".contains(letter)
}

/// What is inside the first pair of braces that holds a word; everything where there is none.
fn inside_braces<'t, 'a>(tokens: &'t [Token<'a>]) -> &'t [Token<'a>] {
    let mut from = None;
    for (place, token) in tokens.iter().enumerate() {
        match (token, from) {
            (Token::Open, _) => from = Some(place + 1),
            (Token::Close, Some(open)) if open < place => return &tokens[open..place],
            (Token::Close, _) => from = None,
            (Token::Word(_), _) => {}
        }
    }
    // An array that was not copied to its end.
    from.map_or(tokens, |open| &tokens[open..])
}

fn take(word: Word<'_>, found: &mut Vec<u8>) -> Result<(), TextError> {
    let fault = |what| TextError::At { line: word.line, column: word.column, what };
    let mut text = word.text;
    let prefixed = ["0x", "0X"].iter().any(|prefix| text.starts_with(prefix));
    // Several may stand without anything between, as in a string: \x05\x01.
    if text.starts_with('\\') {
        for part in text.split('\\').skip(1) {
            let digits = part.strip_prefix(['x', 'X']).unwrap_or(part);
            one(digits, fault, found)?;
        }
        return Ok(());
    }
    if prefixed {
        text = text[2..].trim_end_matches(['u', 'U', 'l', 'L']);
        return one(text, fault, found);
    }
    let digits = text.as_bytes();
    if !digits.iter().all(u8::is_ascii_hexdigit) {
        return Err(fault(TextFault::NotHexadecimal));
    }
    if word.label && (4..=8).contains(&digits.len()) {
        return Ok(());
    }
    if !digits.len().is_multiple_of(2) {
        return Err(fault(TextFault::HalfByte));
    }
    for pair in text.as_bytes().chunks_exact(2) {
        one(std::str::from_utf8(pair).unwrap_or(""), fault, found)?;
    }
    Ok(())
}

/// One byte of one or two digits.
fn one(
    digits: &str,
    fault: impl Fn(TextFault) -> TextError,
    found: &mut Vec<u8>,
) -> Result<(), TextError> {
    if digits.is_empty() || !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
        return Err(fault(TextFault::NotHexadecimal));
    }
    let byte = u8::from_str_radix(digits.trim_start_matches('0'), 16);
    let zero = digits.trim_start_matches('0').is_empty();
    let byte = match byte {
        _ if zero => 0,
        Ok(byte) => byte,
        Err(_) => return Err(fault(TextFault::MoreThanAByte)),
    };
    if found.len() == MOST_DESCRIPTOR_BYTES {
        return Err(fault(TextFault::TooManyBytes));
    }
    found.push(byte);
    Ok(())
}

#[cfg(test)]
#[path = "text_tests.rs"]
mod tests;
