//! The imprint of the tree: what changed is named, what git ignores is not looked at.

use std::fs;

use xtask::tree::{self, Imprint};

#[test]
fn a_file_that_is_written_changed_or_removed_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let write = |path: &str, text: &str| {
        let path = root.join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    write("kept", "1");
    write("changed", "1");
    write("removed", "1");
    let before = Imprint::of(root).unwrap();
    assert!(Imprint::of(root).unwrap().changed_since(&before).is_empty());
    write("changed", "2");
    write("new/file", "1");
    write("target/built", "1");
    write("left.snap.new", "1");
    fs::remove_file(root.join("removed")).unwrap();
    assert_eq!(
        Imprint::of(root).unwrap().changed_since(&before),
        ["changed", "new/file", "removed (gone)"]
    );
}

#[test]
fn the_root_is_the_workspace() {
    let files = tree::files(&tree::root()).unwrap();
    assert!(files.iter().any(|file| file.path == "Cargo.toml"));
    assert!(files.iter().any(|file| file.path == "xtask/src/lib.rs"));
}
