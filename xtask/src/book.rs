//! The manual as a book: `docs/` made into pages by mdBook, under `target/book`.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::{Fault, steps, tree};

/// The program that makes it.
const MAKER: &str = "mdbook";

/// The version that is installed where none is there.
const VERSION: &str = "0.5.4";

/// Where it is installed to: what `target/` holds is made, never written.
const TOOLS: &str = "target/tools";

/// Makes the book, and installs its maker first where there is none.
///
/// # Errors
/// Where the maker cannot be installed, or finds fault with the pages.
pub fn make() -> Result<(), Fault> {
    let root = tree::root();
    let maker = maker(&root)?;
    steps::run(
        Command::new(maker)
            .current_dir(&root)
            .args(["build", "docs"]),
    )?;
    println!("The book: target/book/index.html");
    Ok(())
}

/// The maker on the search path, else the one in `target/`, which is put there if need be.
fn maker(root: &Path) -> Result<PathBuf, Fault> {
    let own = root
        .join(TOOLS)
        .join("bin")
        .join(MAKER)
        .with_extension(std::env::consts::EXE_EXTENSION);
    let there = |maker: &Path| steps::capture(Command::new(maker).arg("--version")).is_ok();
    let found = [PathBuf::from(MAKER), own.clone()]
        .into_iter()
        .find(|maker| there(maker));
    if let Some(found) = found {
        return Ok(found);
    }
    println!("── {MAKER} is installed into {TOOLS}, which takes some minutes");
    steps::run(
        steps::cargo(root)
            .args(["install", MAKER, "--version", VERSION])
            .args(["--no-default-features", "--locked"])
            .args(["--root", TOOLS]),
    )?;
    Ok(own)
}
