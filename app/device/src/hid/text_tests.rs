use super::*;
use proptest::prelude::*;

fn at(line: usize, column: usize, what: TextFault) -> Result<Vec<u8>, TextError> {
    Err(TextError::At { line, column, what })
}

#[test]
fn the_same_bytes_in_many_dresses() {
    for text in [
        "05 01 09 04",
        "05010904",
        "0501 0904",
        "0x05, 0x01, 0x09, 0x04,",
        "0X5,0x1,0x09u,0x04UL",
        "05:01:09:04",
        "05-01-09-04",
        "\"\\x05\\x01\\x09\\x04\"",
        "\u{feff}05\t01\r\n09\u{a0}04\n",
        "0x05, 0x01, // usage page 0x77 {\n0x09, 0x04 # joystick 88\n/* 0x99,\n 0xaa */",
        "/**/05/* x */01/***/09//\n04",
        "static const unsigned char descriptor[4] = {\n  0x05, 0x01,\n  0x09, 0x04\n};\nint x = 7;",
        "const uint8_t empty[] = {}; const uint8_t d[] = { 0x05, 0x01, 0x09, 0x04 }; // {1}",
        "static const unsigned char descriptor[4] = { 0x05, 0x01, 0x09, 0x04",
        "00000000: 0501\n00000002: 0904",
        "#define NOTHING 0x44\n05 01 09 04",
    ] {
        assert_eq!(bytes(text), Ok(vec![5, 1, 9, 4]), "{text}");
    }
    assert_eq!(bytes("aB Cd eF"), Ok(vec![0xab, 0xcd, 0xef]));
}

#[test]
fn what_stands_in_the_way_is_pointed_at() {
    assert_eq!(bytes("05 01\n  09 zz"), at(2, 6, TextFault::NotHexadecimal));
    assert_eq!(bytes("5, 1, 9"), at(1, 1, TextFault::HalfByte));
    assert_eq!(bytes("05 010"), at(1, 4, TextFault::HalfByte));
    assert_eq!(bytes("ä 0x0501"), at(1, 1, TextFault::NotHexadecimal));
    assert_eq!(bytes("0x05 /* ä\n */ 0x0501"), at(2, 5, TextFault::MoreThanAByte));
    assert_eq!(bytes("05 /* 01\n"), at(1, 4, TextFault::CommentNotClosed));
    assert_eq!(bytes("05 /*/ 01\n"), at(1, 4, TextFault::CommentNotClosed));
    assert_eq!(bytes("0x"), at(1, 1, TextFault::NotHexadecimal));
    assert_eq!(bytes("x = { 0x05, PAGE(1) }"), at(1, 13, TextFault::NotHexadecimal));
    let long = "00 ".repeat(MOST_DESCRIPTOR_BYTES);
    assert_eq!(bytes(&long).map(|bytes| bytes.len()), Ok(MOST_DESCRIPTOR_BYTES));
    let place = 3 * MOST_DESCRIPTOR_BYTES + 1;
    assert_eq!(bytes(&(long + "01")), at(1, place, TextFault::TooManyBytes));
    assert_eq!(bytes(&" ".repeat(MOST_TEXT_BYTES + 1)), Err(TextError::TooLong));
}

#[test]
fn nothing_is_nothing() {
    for text in ["", "  \n", "// 05 01", "# 05", "/* 05 */", "{}", "x = {};", ",;"] {
        let found = bytes(text);
        // A word without braces is no number, and is pointed at.
        if text == "x = {};" {
            assert_eq!(found, at(1, 1, TextFault::NotHexadecimal));
        } else {
            assert_eq!(found, Err(TextError::NothingFound), "{text}");
        }
    }
}

proptest! {
    #[test]
    fn any_bytes_come_back_from_any_dress(
        given in proptest::collection::vec(any::<u8>(), 1..200),
        dress in 0..6_u8,
        upper in any::<bool>(),
    ) {
        let one = |byte: &u8| match dress {
            0 => format!("{byte:02x}"),
            1 => format!("{byte:02x} "),
            2 => format!("0x{byte:02x}, "),
            3 => format!("0x{byte:x},\n"),
            4 => format!("  {byte:02x} // {byte}\n"),
            _ => format!("\\x{byte:02x}"),
        };
        let mut text: String = given.iter().map(one).collect();
        if upper {
            text = text.to_uppercase();
        }
        prop_assert_eq!(bytes(&text), Ok(given));
    }

    #[test]
    fn any_text_gives_bytes_or_a_place(text in "[0-9a-fx{}/*# \n:ä,\\\\]{0,80}") {
        match bytes(&text) {
            Ok(found) => prop_assert!(!found.is_empty() && found.len() <= text.len()),
            Err(TextError::At { line, column, .. }) => {
                let found = text.split('\n').nth(line - 1).and_then(|l| l.chars().nth(column - 1));
                prop_assert!(found.is_some(), "{line} {column}");
            }
            Err(_) => {}
        }
    }
}
