//! The project's own files: which there are, and whether they changed.

use std::collections::BTreeMap;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use crate::Fault;

/// Folders that hold what was built, fetched or found, never what was written.
const MADE_FOLDERS: [&str; 10] = [
    ".git",
    "target",
    ".venv",
    "node_modules",
    "dist",
    "__pycache__",
    "corpus",
    "artifacts",
    "coverage",
    "shots",
];

/// Endings of files that a failing test leaves behind and git ignores.
const MADE_ENDINGS: [&str; 3] = [".snap.new", ".pending-snap", ".pyc"];

/// The folder that holds the workspace.
pub fn root() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.parent()
        .map_or_else(|| own.to_path_buf(), Path::to_path_buf)
}

/// One file of the project.
#[derive(Clone, Debug)]
pub struct File {
    /// From the root, with `/` on every platform.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

impl File {
    /// Its text; `None` for what is no text.
    pub fn text(&self) -> Option<&str> {
        std::str::from_utf8(&self.bytes).ok()
    }

    /// Whether it is Rust that goes into a program or library: not a test, bench or example.
    pub fn is_source(&self) -> bool {
        self.path.ends_with(".rs") && self.path.contains("/src/")
    }
}

/// Every file under `root` that somebody wrote, in order of path.
pub fn files(root: &Path) -> Result<Vec<File>, Fault> {
    let mut found = Vec::new();
    let mut folders = vec![root.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
        for entry in entries {
            let path = entry
                .map_err(|e| format!("{}: {e}", folder.display()))?
                .path();
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            if path.is_dir() {
                if !MADE_FOLDERS.contains(&name.as_str()) {
                    folders.push(path);
                }
            } else if !MADE_ENDINGS.iter().any(|ending| name.ends_with(ending)) {
                // A file may vanish between the listing and the reading: an editor's temporary.
                let Ok(bytes) = fs::read(&path) else { continue };
                let inside = path.strip_prefix(root).unwrap_or(&path);
                let path = inside
                    .components()
                    .map(|part| part.as_os_str().to_string_lossy())
                    .collect::<Vec<_>>()
                    .join("/");
                found.push(File { path, bytes });
            }
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(found)
}

/// What every file held at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Imprint(BTreeMap<String, u64>);

impl Imprint {
    /// Takes it now.
    pub fn of(root: &Path) -> Result<Self, Fault> {
        let mark = |file: File| {
            let mut hasher = DefaultHasher::new();
            file.bytes.hash(&mut hasher);
            (file.path, hasher.finish())
        };
        Ok(Self(files(root)?.into_iter().map(mark).collect()))
    }

    /// The files that were written, changed or removed since, by path.
    pub fn changed_since(&self, before: &Self) -> Vec<String> {
        let mut changed: Vec<String> = self
            .0
            .iter()
            .filter(|(path, mark)| before.0.get(*path) != Some(mark))
            .map(|(path, _)| path.clone())
            .chain(
                before
                    .0
                    .keys()
                    .filter(|path| !self.0.contains_key(*path))
                    .map(|path| format!("{path} (gone)")),
            )
            .collect();
        changed.sort();
        changed
    }
}

/// Reads one text file of the project.
pub fn read(root: &Path, path: &str) -> Result<String, Fault> {
    fs::read_to_string(root.join(path)).map_err(|e| format!("{path}: {e}"))
}
