//! A device's own name string, made fit to show.

use fitting::summary::plain_text;

/// The most characters of a device's name that are kept.
pub const MOST_NAME_CHARACTERS: usize = 80;

/// What a device's name string says. The standard fixes no format for it (W3C Gamepad, `id`).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DeviceName {
    /// The name as it may be shown: at most [`MOST_NAME_CHARACTERS`], one line, no control or
    /// direction marks. `None` when nothing is left of it.
    pub shown: Option<String>,
    /// The USB vendor number, if the string carries one.
    pub vendor: Option<u16>,
    /// The USB product number, if the string carries one.
    pub product: Option<u16>,
}

/// Takes a device's name string apart and makes it fit to show.
///
/// Two widespread forms are known: `NAME (Vendor: vvvv Product: pppp)` (observed, Chromium 156
/// on Linux) and `vvvv-pppp-NAME` (from memory). Anything else is a name by itself.
#[must_use]
pub fn clean_id(id: &str) -> DeviceName {
    let (name, numbers) = numbers_behind(id)
        .or_else(|| numbers_in_front(id))
        .map_or((id, None), |(name, vendor, product)| (name, Some((vendor, product))));
    let shown = plain_text(name, MOST_NAME_CHARACTERS);
    DeviceName {
        shown: (!shown.is_empty()).then_some(shown),
        vendor: numbers.map(|(vendor, _)| vendor),
        product: numbers.map(|(_, product)| product),
    }
}

/// `NAME (… Vendor: vvvv Product: pppp)`: words before the vendor, such as the layout's name,
/// are dropped with the bracket.
fn numbers_behind(id: &str) -> Option<(&str, u16, u16)> {
    let open = id.rfind('(')?;
    let inside = id[open + 1..].trim_end().strip_suffix(')')?;
    let (_, numbers) = inside.split_once("Vendor:")?;
    let (vendor, product) = numbers.split_once("Product:")?;
    Some((&id[..open], hexadecimal(vendor.trim())?, hexadecimal(product.trim())?))
}

/// `vvvv-pppp-NAME`, where leading zeros may be missing. A number without any decimal digit
/// must be of full length, so that a name like `a-b-stick` stays a name.
fn numbers_in_front(id: &str) -> Option<(&str, u16, u16)> {
    let (vendor, rest) = id.split_once('-')?;
    let (product, name) = rest.split_once('-')?;
    let sure = |digits: &str| digits.len() == 4 || digits.bytes().any(|d| d.is_ascii_digit());
    if !(sure(vendor) && sure(product)) {
        return None;
    }
    Some((name, hexadecimal(vendor)?, hexadecimal(product)?))
}

fn hexadecimal(digits: &str) -> Option<u16> {
    let plain =
        (1..=4).contains(&digits.len()) && digits.bytes().all(|digit| digit.is_ascii_hexdigit());
    if plain { u16::from_str_radix(digits, 16).ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn name(shown: &str, vendor: u16, product: u16) -> DeviceName {
        DeviceName { shown: Some(shown.into()), vendor: Some(vendor), product: Some(product) }
    }

    #[test]
    fn both_forms_are_taken_apart() {
        let behind = "Bench stick (v2) (Vendor: 1209 Product: 00af)";
        assert_eq!(clean_id(behind), name("Bench stick (v2)", 0x1209, 0xaf));
        let laid_out = "Bench stick (STANDARD GAMEPAD Vendor: 1209 Product: 00AF)";
        assert_eq!(clean_id(laid_out), name("Bench stick", 0x1209, 0xaf));
        assert_eq!(clean_id("1209-00af-Bench stick"), name("Bench stick", 0x1209, 0xaf));
        assert_eq!(clean_id("79-6-Bench-stick"), name("Bench-stick", 0x79, 6));
    }

    #[test]
    fn what_only_looks_like_numbers_stays_a_name() {
        for id in [
            "a-b-stick",
            "Stick (Vendor: 12345 Product: 1)",
            "Stick (Vendor: +123 Product: 0001)",
            "Stick (Vendor: 1209)",
            "Stick (blue",
        ] {
            let cleaned = clean_id(id);
            assert_eq!(cleaned.shown.as_deref(), Some(id));
            assert_eq!((cleaned.vendor, cleaned.product), (None, None));
        }
    }

    #[test]
    fn hostile_names_are_made_plain() {
        let cleaned = clean_id(" \u{202e}kcits\u{2066}\u{0} \t\n  of  bench\u{7f}\u{feff} ");
        assert_eq!(cleaned.shown.as_deref(), Some("kcits of bench"));
        assert_eq!(clean_id("\u{202e}\u{0} \n").shown, None);
        assert_eq!(clean_id("").shown, None);
        let long = clean_id(&"ä".repeat(5_000)).shown.unwrap();
        assert_eq!(long.chars().count(), MOST_NAME_CHARACTERS);
    }

    proptest! {
        #[test]
        fn any_string_gives_a_short_plain_name(id in any::<String>()) {
            if let Some(shown) = clean_id(&id).shown {
                prop_assert!((1..=MOST_NAME_CHARACTERS).contains(&shown.chars().count()));
                prop_assert!(!shown.chars().any(char::is_control));
                prop_assert_eq!(plain_text(&shown, MOST_NAME_CHARACTERS), shown);
            }
        }
    }
}
