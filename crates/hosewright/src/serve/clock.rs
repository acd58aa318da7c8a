//! The time of day where the computer stands, as the page shows it.

use std::path::Path;
use std::time::SystemTime;

use chrono::{DateTime, Local};

/// `14:32`
pub(super) fn of(time: SystemTime) -> String {
    DateTime::<Local>::from(time).format("%H:%M").to_string()
}

/// Now.
pub(super) fn now() -> String {
    of(SystemTime::now())
}

/// Today: `2027-03-14`.
pub(super) fn day() -> String {
    Local::now().format("%Y-%m-%d").to_string()
}

/// When a file was last written; now where the system does not tell.
pub(super) fn written(path: &Path) -> String {
    let time = std::fs::metadata(path).and_then(|about| about.modified());
    time.map_or_else(|_| now(), of)
}
