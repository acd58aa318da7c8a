//! Makes sure that there is a page to build into the program: where `web/` was not built, one that says how.
#![allow(clippy::disallowed_methods, clippy::disallowed_macros)] // A build script writes and prints.

use std::fs;
use std::path::Path;

/// What stands in for the page.
const PLAIN: &str = r#"<!doctype html>
<html lang="en-GB">
  <head>
    <meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1">
    <title>Hosewright</title>
  </head>
  <body>
    <h1>The page was not built into this program</h1>
    <p>Node builds it: in the folder <code>web</code> run <code>npm ci</code> and <code>npm run build</code>, then build the program again.</p>
    <p>The command line tells the same: <code>hosewright check</code>.</p>
  </body>
</html>
"#;

fn main() {
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/dist");
    let index = dist.join("index.html");
    if !index.exists() {
        fs::create_dir_all(&dist).expect("the folder for the page can be made");
        fs::write(&index, PLAIN).expect("the plain page can be written");
    }
    println!("cargo::rerun-if-changed={}", dist.display());
    println!("cargo::rerun-if-changed=build.rs");
}
