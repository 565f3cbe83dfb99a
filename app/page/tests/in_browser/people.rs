//! Invented people through the input: the same boundary as a device.

use std::{cell::RefCell, rc::Rc};

use fitting::{Sample, invented::Invented};
use page::input::Source;
use wasm_bindgen_test::wasm_bindgen_test;

use super::script::{Bench, wait_ms};

#[wasm_bindgen_test]
async fn each_of_them_gives_a_stream_like_a_device() {
    for who in Invented::ALL {
        let bench = Bench::start();
        let input = bench.input;
        assert!(input.choose(Source::Invented(who)));
        let heard: Rc<RefCell<Vec<(f64, Sample)>>> = Rc::default();
        let into = heard.clone();
        input.set_listener(Some(Box::new(move |now, change| {
            if let Some(change) = change {
                into.borrow_mut().push((now, change.clone()));
            }
        })));
        input.measuring(true);
        wait_ms(400).await;
        input.measuring(false);
        let heard = heard.borrow();
        assert!(!heard.is_empty(), "{who:?}");
        for (now, sample) in heard.iter() {
            assert!(sample.arrival_seconds <= now + 0.000_1, "{who:?}");
            assert!(sample.arrival_seconds > now - 0.1, "{who:?}: on the page's own clock");
            assert!(sample.axes.len() >= 2 && sample.axes.iter().all(|axis| axis.abs() <= 1.0));
        }
        let rising = |pair: &[(f64, Sample)]| pair[0].1.arrival_seconds < pair[1].1.arrival_seconds;
        assert!(heard.windows(2).all(rising), "{who:?}");
        assert_eq!(input.latest().as_ref(), heard.last().map(|(_, sample)| sample));
    }
}
