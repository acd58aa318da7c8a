//! Files: finding a boat's file, reading it, and writing it so that neither a power cut nor another program loses a line.

use std::fs;
use std::io::{ErrorKind, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};

use sha2::{Digest as _, Sha256};

use crate::fault::Fault;

/// The name of the file within a boat's folder.
pub const BOAT_FILE: &str = "boat.toml";
/// A boat file is typed by hand: whatever is larger is something else.
pub const LARGEST: u64 = 4 * 1024 * 1024;
/// So much of the end of a file holds the line by which it is known [bytes].
const LAST: u64 = 256;

/// The SHA-256 of a file's bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hash([u8; 32]);

impl Hash {
    /// Of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }
    /// All 64 hexadecimal digits.
    pub fn long(self) -> String {
        self.0.iter().map(|byte| format!("{byte:02x}")).collect()
    }
    /// The first eight digits, which tell two versions of a file apart for a reader.
    pub fn short(self) -> String {
        self.long()[..8].to_owned()
    }
}

/// A file as it was read.
#[derive(Clone, Debug)]
pub struct Held {
    /// Where, as the owner would type it.
    pub path: PathBuf,
    /// What it said.
    pub text: String,
    /// What its bytes were.
    pub hash: Hash,
}

impl Held {
    /// Path as shown to people and sent to programs.
    pub fn shown(&self) -> String {
        shown(&self.path)
    }
    /// The file's own name, for places within it.
    pub fn name(&self) -> String {
        self.path.file_name().map_or_else(
            || BOAT_FILE.to_owned(),
            |name| name.to_string_lossy().into_owned(),
        )
    }
}

/// A path as shown: always with forward strokes, so that the same run prints the same on every system.
pub fn shown(path: &Path) -> String {
    path.to_string_lossy().replace('\\', "/")
}

/// The boat file that a folder or file stands for.
pub fn boat_file(given: &Path) -> Result<PathBuf, Fault> {
    let about = fs::metadata(given).map_err(|error| missing(given, &error))?;
    if !about.is_dir() {
        return Ok(given.to_owned());
    }
    let file = if given == Path::new(".") {
        PathBuf::from(BOAT_FILE)
    } else {
        given.join(BOAT_FILE)
    };
    match fs::metadata(&file) {
        Ok(_) => Ok(file),
        Err(error) if error.kind() == ErrorKind::NotFound => Err(Fault::NoBoatFile {
            folder: shown(given),
        }),
        Err(error) => Err(missing(&file, &error)),
    }
}

fn missing(path: &Path, error: &std::io::Error) -> Fault {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => Fault::NotThere { path: shown(path) },
        _ => Fault::Unreadable {
            path: shown(path),
            why: plain(error),
        },
    }
}

/// What the system says, without its number.
fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error")
        .next()
        .unwrap_or_default()
        .to_lowercase()
}

/// Reads a text file, refusing what can't be a boat file.
pub fn read(path: &Path) -> Result<Held, Fault> {
    let unreadable = |error: &std::io::Error| missing(path, error);
    let file = fs::File::open(path).map_err(|error| unreadable(&error))?;
    let mut bytes = Vec::new();
    // One byte beyond the limit is enough to know that it is passed, however large the file is.
    file.take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(&error))?;
    if bytes.len() as u64 > LARGEST {
        return Err(Fault::TooLarge { path: shown(path) });
    }
    let hash = Hash::of(&bytes);
    let text = String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..valid]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
            + 1;
        Fault::NotText {
            path: shown(path),
            line,
        }
    })?;
    Ok(Held {
        path: path.to_owned(),
        text,
        hash,
    })
}

/// Puts a new text in the place of one that was read, all of it or nothing.
///
/// A symbolic link stays a link: the file it leads to is replaced. Permissions stay.
///
/// # Errors
/// [`Fault::ChangedOutside`] where the file is no longer the one that was read;
/// [`Fault::Unwritable`] where the folder or file can't be written.
pub fn replace(held: &Held, text: &str) -> Result<(), Fault> {
    let unwritable = |error: &std::io::Error| Fault::Unwritable {
        path: held.shown(),
        why: plain(error),
    };
    let target =
        fs::canonicalize(&held.path).map_err(|_| Fault::ChangedOutside { path: held.shown() })?;
    let folder = target.parent().unwrap_or_else(|| Path::new("."));
    let permissions = fs::metadata(&target)
        .map_err(|error| unwritable(&error))?
        .permissions();
    if permissions.readonly() {
        return Err(Fault::Unwritable {
            path: held.shown(),
            why: "it is marked read-only".into(),
        });
    }
    let mut beside = tempfile::Builder::new()
        .prefix(".boat-")
        .suffix(".new")
        .tempfile_in(folder)
        .map_err(|error| unwritable(&error))?;
    beside
        .write_all(text.as_bytes())
        .map_err(|error| unwritable(&error))?;
    beside
        .as_file()
        .set_permissions(permissions)
        .map_err(|error| unwritable(&error))?;
    beside
        .as_file()
        .sync_all()
        .map_err(|error| unwritable(&error))?;
    // The comparison comes last, so that the moment in which another program could slip in is as short as can be.
    let now = fs::read(&target).map_err(|_| Fault::ChangedOutside { path: held.shown() })?;
    if Hash::of(&now) != held.hash {
        return Err(Fault::ChangedOutside { path: held.shown() });
    }
    beside
        .persist(&target)
        .map_err(|error| unwritable(&error.error))?;
    sync_folder(folder);
    Ok(())
}

/// A path as it is typed into a shell: in quotes where the shell would take it apart.
pub fn for_shell(shown: &str) -> String {
    let plain = |letter: char| letter.is_alphanumeric() || "_-./:@%+,=".contains(letter);
    if !shown.is_empty() && shown.chars().all(plain) && !shown.starts_with('-') {
        return shown.to_owned();
    }
    // A name that begins with a stroke would be read as a flag.
    let lead = if shown.starts_with('-') { "./" } else { "" };
    format!("'{lead}{}'", shown.replace('\'', r"'\''"))
}

/// Writes a file that must not be there yet, all of it or nothing.
pub fn create(path: &Path, text: &str) -> Result<(), Fault> {
    let (beside, folder) = written_beside(path, text.as_bytes())?;
    match beside.persist_noclobber(path) {
        Err(refused) if refused.error.kind() == ErrorKind::AlreadyExists => {
            return Err(Fault::ThereAlready { path: shown(path) });
        }
        placed => placed.map_err(|refused| unwritable(path, &refused.error))?,
    };
    sync_folder(folder);
    Ok(())
}

/// Whether a file has a mark anywhere in it.
pub fn holds(mark: &str) -> impl Fn(&Path) -> bool {
    move |path| {
        let bytes = fs::read(path).unwrap_or_default();
        bytes.windows(mark.len()).any(|own| own == mark.as_bytes())
    }
}

/// The last line of a file, read from its end however large it is; `None` where there is no such text.
pub fn last_line(path: &Path) -> Option<String> {
    let mut file = fs::File::open(path).ok()?;
    let from = file.metadata().ok()?.len().saturating_sub(LAST);
    file.seek(SeekFrom::Start(from)).ok()?;
    let mut bytes = Vec::new();
    file.take(LAST).read_to_end(&mut bytes).ok()?;
    let bytes = bytes.strip_suffix(b"\n").unwrap_or(&bytes);
    let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
    let line = bytes.rsplit(|byte| *byte == b'\n').next()?;
    String::from_utf8(line.to_vec()).ok()
}

/// Whether a place is free, or holds a file that this program wrote before, as `ours` tells.
pub fn may_be_placed(path: &Path, ours: impl Fn(&Path) -> bool) -> bool {
    path.symlink_metadata().is_err() || ours(path)
}

/// Puts a file into its place, all of it or nothing, where the place is free or holds one of ours.
///
/// # Errors
/// [`Fault::ThereAlready`] where somebody else's file is there; [`Fault::Unwritable`] where the folder or file
/// can't be written.
pub fn place(path: &Path, bytes: &[u8], ours: impl Fn(&Path) -> bool) -> Result<(), Fault> {
    let (beside, folder) = written_beside(path, bytes)?;
    // The look comes last, so that the moment in which another program could slip in is as short as can be.
    if !may_be_placed(path, ours) {
        return Err(Fault::ThereAlready { path: shown(path) });
    }
    beside
        .persist(path)
        .map_err(|refused| unwritable(path, &refused.error))?;
    sync_folder(folder);
    Ok(())
}

/// Takes away a file that this program wrote.
///
/// # Errors
/// [`Fault::Unwritable`] where the system refuses.
pub fn remove(path: &Path) -> Result<(), Fault> {
    fs::remove_file(path).map_err(|error| unwritable(path, &error))
}

fn unwritable(path: &Path, error: &std::io::Error) -> Fault {
    Fault::Unwritable {
        path: shown(path),
        why: plain(error),
    }
}

/// All of a file, safe on the disk under a name of its own, ready to take its place; and the folder it is in.
fn written_beside<'a>(
    path: &'a Path,
    bytes: &[u8],
) -> Result<(tempfile::NamedTempFile, &'a Path), Fault> {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let written = || {
        fs::create_dir_all(folder)?;
        let mut beside = new_beside(folder)?;
        beside.write_all(bytes)?;
        beside.as_file().sync_all()?;
        Ok(beside)
    };
    let beside = written().map_err(|error| unwritable(path, &error))?;
    Ok((beside, folder))
}

/// A file with a name of its own, with the permissions that the owner's other new files get.
fn new_beside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".boat-").suffix(".new");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        // What the mask takes away is taken away as from any other file.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

/// Makes the new name last through a power cut, where the system lets a folder be synced; elsewhere its own habit must do.
fn sync_folder(folder: &Path) {
    if let Ok(folder) = fs::File::open(folder) {
        let _ = folder.sync_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(text: &str) -> (tempfile::TempDir, Held) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(BOAT_FILE);
        fs::write(&path, text).unwrap();
        let held = read(&path).unwrap();
        (folder, held)
    }

    #[test]
    fn a_file_is_replaced_whole_and_leaves_nothing_beside_it() {
        let (folder, held) = held("version = 1\n");
        replace(&held, "version = 1\n# more\n").unwrap();
        assert_eq!(
            fs::read_to_string(&held.path).unwrap(),
            "version = 1\n# more\n"
        );
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_changed_outside_is_left_alone() {
        let (folder, held) = held("version = 1\n");
        fs::write(&held.path, "version = 1 # mine\n").unwrap();
        assert!(matches!(
            replace(&held, "version = 2\n"),
            Err(Fault::ChangedOutside { .. })
        ));
        assert_eq!(
            fs::read_to_string(&held.path).unwrap(),
            "version = 1 # mine\n"
        );
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        fs::remove_file(&held.path).unwrap();
        assert!(matches!(
            replace(&held, "version = 2\n"),
            Err(Fault::ChangedOutside { .. })
        ));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::PermissionsExt as _;
        let (folder, held) = held("version = 1\n");
        fs::set_permissions(&held.path, fs::Permissions::from_mode(0o640)).unwrap();
        let link = folder.path().join("link.toml");
        std::os::unix::fs::symlink(&held.path, &link).unwrap();
        let through = read(&link).unwrap();
        replace(&through, "new\n").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&held.path).unwrap(), "new\n");
        assert_eq!(
            fs::metadata(&held.path).unwrap().permissions().mode() & 0o777,
            0o640
        );
    }

    #[test]
    fn what_can_not_be_a_boat_file_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.toml");
        fs::write(&path, b"a\nb\xff").unwrap();
        assert!(matches!(read(&path), Err(Fault::NotText { line: 2, .. })));
        fs::write(&path, vec![b' '; usize::try_from(LARGEST).unwrap() + 1]).unwrap();
        assert!(matches!(read(&path), Err(Fault::TooLarge { .. })));
        assert!(matches!(
            boat_file(folder.path()),
            Err(Fault::NoBoatFile { .. })
        ));
        assert!(matches!(
            boat_file(&folder.path().join("none")),
            Err(Fault::NotThere { .. })
        ));
        assert!(matches!(read(folder.path()), Err(Fault::Unreadable { .. })));
    }

    #[test]
    fn a_new_file_overwrites_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/er").join(BOAT_FILE);
        create(&path, "one\n").unwrap();
        assert!(matches!(
            create(&path, "two\n"),
            Err(Fault::ThereAlready { .. })
        ));
        assert_eq!(fs::read_to_string(&path).unwrap(), "one\n");
        assert_eq!(
            fs::read_dir(path.parent().unwrap()).unwrap().count(),
            1,
            "nothing is left beside it"
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_may_be_read_as_any_other_new_file() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        let (ours, other) = (folder.path().join(BOAT_FILE), folder.path().join("other"));
        create(&ours, "one\n").unwrap();
        fs::write(&other, "two\n").unwrap();
        let mode = |path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&other));
    }

    #[test]
    fn what_is_placed_overwrites_only_our_own() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep").join("joints.pdf");
        let ours = &holds("ours");
        place(&path, b"ours 1", ours).unwrap();
        place(&path, b"ours 2", ours).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"ours 2");
        fs::write(&path, b"mine").unwrap();
        assert!(!may_be_placed(&path, ours));
        assert!(matches!(
            place(&path, b"ours 3", ours),
            Err(Fault::ThereAlready { .. })
        ));
        assert_eq!(fs::read(&path).unwrap(), b"mine");
        assert_eq!(fs::read_dir(path.parent().unwrap()).unwrap().count(), 1);
    }

    #[test]
    fn the_last_line_is_all_that_is_read_of_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("joints.pdf");
        let last = |bytes: &[u8]| {
            fs::write(&path, bytes).unwrap();
            last_line(&path)
        };
        assert_eq!(last(b"one\ntwo\n").as_deref(), Some("two"));
        assert_eq!(last(b"one\r\ntwo\r\n").as_deref(), Some("two"));
        assert_eq!(last(b"one").as_deref(), Some("one"));
        assert_eq!(last(b"").as_deref(), Some(""));
        // A PDF is no text but for its end.
        let mut large = vec![0xff; 100_000];
        large.extend(b"\n% two\n");
        assert_eq!(last(&large).as_deref(), Some("% two"));
        assert_eq!(last(&[0xff, 0xfe]), None);
        assert_eq!(last_line(folder.path()), None);
    }

    #[test]
    fn a_path_is_quoted_where_a_shell_would_take_it_apart() {
        for (path, typed) in [
            ("boats/dunlin", "boats/dunlin"),
            ("boats/Zoë", "boats/Zoë"),
            (".", "."),
            ("my boat", "'my boat'"),
            ("Jan's $1", r"'Jan'\''s $1'"),
            ("-x", "'./-x'"),
            ("a;b", "'a;b'"),
        ] {
            assert_eq!(for_shell(path), typed);
        }
    }
}
