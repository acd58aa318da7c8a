//! What is installed by itself where we are root on Debian, as on a fresh machine.

use std::path::Path;
use std::process::Command;
use std::sync::{Mutex, PoisonError};

use crate::{Fault, steps};

/// Whether we may install packages of Debian.
pub fn is_root() -> bool {
    Path::new("/etc/debian_version").exists()
        && steps::capture(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

/// One install at a time: the system's own lock refuses a second one.
static TURN: Mutex<()> = Mutex::new(());

/// Installs packages of the system.
pub fn install(packages: &[&str]) -> Result<(), Fault> {
    let _turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
    let apt = |arguments: &[&str]| {
        let mut command = Command::new("apt-get");
        command.env("DEBIAN_FRONTEND", "noninteractive");
        steps::capture(command.args(arguments)).map(drop)
    };
    apt(&["update"])?;
    let mut arguments = vec!["install", "-y", "--no-install-recommends"];
    arguments.extend(packages);
    apt(&arguments)
}
