//! A browser and its driver, for the tests that run inside one.

use std::path::PathBuf;

use crate::place;
use crate::setup::install_system_packages;
use crate::trouble::Trouble;

/// Chromium and its driver.
pub(crate) struct Browser {
    /// The browser.
    pub(crate) chromium: PathBuf,
    /// The driver that speaks for it.
    pub(crate) driver: PathBuf,
}

fn found() -> Option<Browser> {
    let chromium = place::find(&["chromium", "chromium-browser"])?;
    let driver = place::find(&["chromedriver"])?;
    Some(Browser { chromium, driver })
}

/// Chromium with its driver, installed where that can be done.
///
/// # Errors
/// There is none and none could be installed.
pub(crate) fn browser() -> Result<Browser, Trouble> {
    if let Some(browser) = found() {
        return Ok(browser);
    }
    install_system_packages(&["chromium", "chromium-driver"], "Chromium with its driver")?;
    found().ok_or_else(|| {
        Trouble::new(
            "Chromium was installed, but `chromium` and `chromedriver` are not on the search path.",
            "Add their folder to PATH, then run the same command again.",
        )
    })
}

/// Firefox, installed where that can be done; only a long run needs it.
///
/// # Errors
/// There is none and none could be installed.
pub(crate) fn firefox() -> Result<PathBuf, Trouble> {
    let found = || place::find(&["firefox-esr", "firefox"]);
    if let Some(firefox) = found() {
        return Ok(firefox);
    }
    install_system_packages(&["firefox-esr"], "Firefox")?;
    found().ok_or_else(|| {
        Trouble::new(
            "Firefox was installed, but `firefox-esr` is not on the search path.",
            "Add its folder to PATH, then run the same command again.",
        )
    })
}
