//! Scans that were read, kept so that an edit of the boat file does not read them again.

use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use boat::Boat;
use reckon::RawScan;
use tracing::warn;

/// What tells one file from another: its path, size and time.
type Mark = (String, u64, Option<SystemTime>);

/// The last one: a boat has one scan, and a program serves one boat.
static LAST: Mutex<Option<(Mark, Option<Arc<RawScan>>)>> = Mutex::new(None);

/// The scan that a boat file names, looked for in the folder of that file; `None` where it names none, or where it
/// can't be read, which the stage that wants it then tells.
pub fn of(file: &Path, boat: &Boat) -> Option<Arc<RawScan>> {
    let name = boat.bay.scan.as_ref()?.file.given()?;
    let path = file.parent().unwrap_or(Path::new("")).join(name);
    let about = std::fs::metadata(&path).ok()?;
    let mark: Mark = (
        path.to_string_lossy().into_owned(),
        about.len(),
        about.modified().ok(),
    );
    let mut last = LAST.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((known, scan)) = last.as_ref()
        && *known == mark
    {
        return scan.clone();
    }
    let read = match super::read_file(&path) {
        Ok(super::RawScan {
            points,
            triangles,
            unit,
        }) => Some(Arc::new(RawScan {
            id: format!("{mark:?}"),
            points,
            triangles,
            unit,
        })),
        Err(fault) => {
            warn!(%fault, "the scan is not read");
            None
        }
    };
    *last = Some((mark, read.clone()));
    read
}
