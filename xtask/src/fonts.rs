//! Makes the embedded fonts anew out of pinned packages. Needed only when a sign is added: what it
//! makes is committed.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::steps::{self, Steps};
use crate::{Fault, python, tree};

/// Where the fonts stand, and the script that makes them.
const FOLDER: &str = "crates/sheets/fonts";

/// The packages the fonts come from.
const PACKAGES: [&str; 2] = ["@fontsource/b612@5.3.0", "dejavu-fonts-ttf@2.37.3"];

/// What the script needs.
const LIBRARIES: [&str; 2] = ["fonttools==4.68.0", "brotli==1.2.0"];

/// Fetches the packages with npm, and makes the fonts.
pub fn make() -> Result<(), Fault> {
    let root = tree::root();
    let folder = root.join("target/fonts");
    fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut steps = Steps::default();
    let mut python = None;
    steps.run("Python with its font tools", || {
        python = Some(python::small(&folder.join("python"), &LIBRARIES)?);
        Ok(())
    });
    let mut packed = Vec::new();
    steps.run("packages", || {
        for package in PACKAGES {
            packed.push(pack(&folder, package)?);
        }
        Ok(())
    });
    if let Some(python) = python {
        steps.run("fonts", || {
            let mut command = Command::new(python);
            command
                .current_dir(&root)
                .env("PYTHONDONTWRITEBYTECODE", "1");
            command.arg(Path::new(FOLDER).join("make.py"));
            command
                .args(packed.iter().map(|name| folder.join(name)))
                .arg(FOLDER);
            steps::run(&mut command)
        });
    }
    steps.finish()
}

/// Fetches one package as it is packed, and gives the name of its file.
fn pack(folder: &Path, package: &str) -> Result<String, Fault> {
    let printed = steps::capture(
        Command::new("npm")
            .current_dir(folder)
            .args(["pack", "--silent", package]),
    )?;
    // It prints the name of the file last.
    let name = printed.lines().last().unwrap_or_default().trim().to_owned();
    if folder.join(&name).is_file() && !name.is_empty() {
        Ok(name)
    } else {
        Err(format!(
            "`npm pack {package}` printed `{name}`, which is no file"
        ))
    }
}
