//! The router: hashes to screens and back.

use leptos::prelude::*;
use page::route::{LONGEST_FRAGMENT, Screen, go, use_route};
use wasm_bindgen_test::wasm_bindgen_test;

use super::script::wait_ms;

#[wasm_bindgen_test]
fn every_fixed_screen_has_an_address_of_its_own() {
    for screen in Screen::FIXED {
        assert_eq!(Screen::of_hash(&screen.hash()), screen);
    }
    let mut hashes: Vec<_> = Screen::FIXED.iter().map(Screen::hash).collect();
    hashes.sort();
    hashes.dedup();
    assert_eq!(hashes.len(), Screen::FIXED.len());
    assert_eq!(Screen::of_hash("#/hand-over"), Screen::HandOver);
}

#[wasm_bindgen_test]
fn what_is_unknown_leads_to_the_beginning() {
    for hash in ["", "#", "#/", "#/nowhere", "#ready", "#/ready/more", "#s.", "#sx.AAA", "#s1234.A"]
    {
        assert_eq!(Screen::of_hash(hash), Screen::Ready, "{hash}");
    }
}

#[wasm_bindgen_test]
fn links_keep_their_fragment_up_to_a_length() {
    assert_eq!(Screen::of_hash("#s1.AbC-_9"), Screen::Shared("s1.AbC-_9".into()));
    assert_eq!(Screen::of_hash("#s12.x"), Screen::Shared("s12.x".into()));
    assert_eq!(Screen::of_hash("#/shared/s1.AbC"), Screen::Shared("s1.AbC".into()));
    let shared = Screen::Shared("s1.AbC".into());
    assert_eq!(Screen::of_hash(&shared.hash()), shared);
    let Screen::Shared(cut) = Screen::of_hash(&format!("#s1.{}", "ä".repeat(100_000))) else {
        panic!("a long link is a link");
    };
    assert_eq!(cut.chars().count(), LONGEST_FRAGMENT);
}

#[wasm_bindgen_test]
async fn the_signal_follows_the_address() {
    let owner = Owner::new();
    let (route, again) = owner.with(|| (use_route(), use_route()));
    assert_eq!(route, again, "one signal for everybody");
    go(&Screen::Settings);
    wait_ms(50).await;
    assert_eq!(route.get_untracked(), Screen::Settings);
    window().location().set_hash("#/nowhere").unwrap();
    wait_ms(50).await;
    assert_eq!(route.get_untracked(), Screen::Ready);
    owner.cleanup();
    go(&Screen::Ready);
    wait_ms(50).await;
}
