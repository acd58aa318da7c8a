//! `serve`: the page, from this very program.

use std::path::{Path, PathBuf};

use crate::cli;
use crate::fault::{Exit, Fault};
use crate::files;
use crate::run::Outcome;
use crate::serve::{self, Options};

/// Runs it, until it is stopped.
pub fn run(serve: cli::Serve) -> Result<Outcome, Fault> {
    let cli::Serve {
        boat,
        port,
        no_open,
        share,
        verbose: _,
    } = serve;
    if share && port == Some(0) {
        return Err(Fault::Flags(
            "--share wants a port that stays the same, so that a phone finds the page again: name one with --port, from 1."
                .into(),
        ));
    }
    let (home, boat) = meant(&boat.unwrap_or_else(|| ".".into()))?;
    serve::run(Options {
        home,
        boat,
        port,
        open: !no_open,
        share,
    })?;
    Ok(Outcome::said(String::new(), Exit::Sound))
}

/// The folder that is meant and the boat file in it; a folder without one is where a boat is begun.
fn meant(given: &Path) -> Result<(PathBuf, Option<PathBuf>), Fault> {
    match files::boat_file(given) {
        Ok(file) => {
            let folder = match file.parent() {
                Some(folder) if folder != Path::new("") => folder.to_owned(),
                _ => PathBuf::from("."),
            };
            Ok((folder, Some(file)))
        }
        Err(Fault::NoBoatFile { .. }) => Ok((given.to_owned(), None)),
        Err(fault) => Err(fault),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_without_a_boat_is_where_one_is_begun() {
        let folder = tempfile::tempdir().unwrap();
        let home = folder.path().to_owned();
        assert_eq!(meant(&home).unwrap(), (home.clone(), None));
        let file = home.join(files::BOAT_FILE);
        std::fs::write(&file, "version = 1\n").unwrap();
        let both = (home.clone(), Some(file.clone()));
        assert_eq!(meant(&home).unwrap(), both);
        assert_eq!(meant(&file).unwrap(), both);
        assert!(meant(&home.join("none")).is_err());
    }

    #[test]
    fn a_page_that_is_shared_keeps_its_port() {
        let folder = tempfile::tempdir().unwrap();
        let told = run(cli::Serve {
            boat: Some(folder.path().to_owned()),
            port: Some(0),
            no_open: true,
            share: true,
            verbose: false,
        });
        let why = told.err().map(|fault| fault.to_string());
        assert!(why.is_some_and(|why| why.starts_with("--share wants a port")));
    }
}
