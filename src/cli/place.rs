//! Files put in place: looked at before the work, written whole beside their place, then all
//! moved there together or none of them.

use super::failure::Failure;
use same_file::is_same_file;
use std::io::{Error, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile, TempPath};

/// A file that is going to be written.
#[derive(Debug, Clone)]
pub(super) struct Destination {
    /// As the user typed it.
    named: PathBuf,
    /// Where it really lies, links followed.
    real: PathBuf,
    /// Whether a file lies there that is to be replaced.
    replaces: bool,
}

impl Destination {
    /// Looks at a path before the work: refuses what may not or cannot be written.
    pub(super) fn look_at(path: &Path, force: bool) -> Result<Self, Failure> {
        let replaces = path.symlink_metadata().is_ok();
        let real = if replaces {
            existing(path, force)?
        } else {
            new(path)?
        };
        NamedTempFile::new_in(folder_of(&real)).map_err(|error| {
            Failure::said(
                format!(
                    "nothing can be written in {}: {error}",
                    folder_of(path).display()
                ),
                "look at the folder's rights, or choose another place",
            )
        })?;
        Ok(Self {
            named: path.to_owned(),
            real,
            replaces,
        })
    }

    /// The path as it was typed.
    pub(super) fn named(&self) -> &Path {
        &self.named
    }

    /// What is said of it once it is written.
    pub(super) fn done(&self) -> String {
        let did = if self.replaces { "replaced" } else { "wrote" };
        format!("{did} {}", self.named.display())
    }

    /// Whether this is the same file as another, however both are spelt.
    pub(super) fn is(&self, other: &Path) -> bool {
        let real = other.canonicalize();
        real.is_ok_and(|real| real == self.real) || is_same_file(&self.real, other).unwrap_or(false)
    }

    /// Whether two destinations are one file.
    pub(super) fn is_also(&self, other: &Self) -> bool {
        self.real == other.real || self.is(&other.real)
    }

    /// Writes a text whole beside the place.
    pub(super) fn stage(&self, text: &str) -> Result<Staged, Failure> {
        let failed = |error: Error| not_written(&self.named, &error);
        let mut beside = NamedTempFile::new_in(folder_of(&self.real)).map_err(failed)?;
        beside.write_all(text.as_bytes()).map_err(failed)?;
        beside.as_file().sync_all().map_err(failed)?;
        self.give_rights(&beside).map_err(failed)?;
        Ok(Staged {
            destination: self.clone(),
            beside,
        })
    }

    /// Gives a file the rights of the one it replaces, or those any new file has; a temporary
    /// one is private.
    fn give_rights(&self, beside: &NamedTempFile) -> std::io::Result<()> {
        if self.replaces {
            let before = std::fs::metadata(&self.real)?.permissions();
            return beside.as_file().set_permissions(before);
        }
        readable_by_all(beside)
    }
}

/// A file that lies there already, links followed.
fn existing(path: &Path, force: bool) -> Result<PathBuf, Failure> {
    let shown = path.display();
    let Ok(metadata) = path.metadata() else {
        return Err(Failure::said(
            format!("{shown} is a link that leads nowhere"),
            "remove it, or choose another name",
        ));
    };
    if metadata.is_dir() {
        return Err(Failure::said(
            format!("{shown} is a folder"),
            "name a file in it",
        ));
    }
    if !metadata.is_file() {
        return Err(Failure::said(
            format!("{shown} is not a regular file"),
            "results go to standard output or to a file with a name of its own",
        ));
    }
    if !force {
        return Err(Failure::said(
            format!("{shown} exists already"),
            "choose another name, or say --force to replace it",
        ));
    }
    path.canonicalize()
        .map_err(|error| not_written(path, &error))
}

/// A place where nothing lies yet.
fn new(path: &Path) -> Result<PathBuf, Failure> {
    let folder = folder_of(path);
    let real = folder.canonicalize().ok().filter(|real| real.is_dir());
    let Some(real) = real else {
        return Err(Failure::said(
            format!("there is no folder {}", folder.display()),
            "make it first, or choose another place",
        ));
    };
    let name = path.file_name().ok_or_else(|| {
        Failure::said(
            format!("{} names no file", path.display()),
            "name the file to write",
        )
    })?;
    Ok(real.join(name))
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

fn not_written(path: &Path, error: &Error) -> Failure {
    Failure::said(
        format!("{} could not be written: {error}", path.display()),
        "nothing was left behind; look at the folder's rights and the room on the disk",
    )
}

/// Another program, or another run of this one, was quicker.
fn came_meanwhile(path: &Path) -> Failure {
    Failure::said(
        format!(
            "{} was written by something else while this run was at work",
            path.display()
        ),
        "that file was left alone; choose another name, or say --force to replace it",
    )
}

#[cfg(unix)]
fn readable_by_all(file: &NamedTempFile) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    /// Owner writes, everybody reads.
    const USUAL_RIGHTS: u32 = 0o644;
    file.as_file()
        .set_permissions(std::fs::Permissions::from_mode(USUAL_RIGHTS))
}

#[cfg(not(unix))]
fn readable_by_all(_file: &NamedTempFile) -> std::io::Result<()> {
    Ok(())
}

/// A file written whole, waiting beside its place. Dropped, it is gone.
#[derive(Debug)]
pub(super) struct Staged {
    destination: Destination,
    beside: NamedTempFile,
}

/// A file that was moved into its place, and how to take that back.
struct Placed {
    real: PathBuf,
    before: Option<TempPath>,
}

impl Staged {
    fn place(self) -> Result<Placed, Failure> {
        let failed = |error: Error| not_written(&self.destination.named, &error);
        let real = self.destination.real.clone();
        if !self.destination.replaces {
            let placed = self.beside.persist_noclobber(&real);
            placed.map_err(|error| match error.error.kind() {
                ErrorKind::AlreadyExists => came_meanwhile(&self.destination.named),
                _ => failed(error.error),
            })?;
            return Ok(Placed { real, before: None });
        }
        let before = kept_beside(&real).map_err(failed)?;
        self.beside
            .persist(&real)
            .map_err(|error| failed(error.error))?;
        Ok(Placed {
            real,
            before: Some(before),
        })
    }
}

/// A second name for a file, or a copy where the file system has no second names.
fn kept_beside(real: &Path) -> std::io::Result<TempPath> {
    let folder = folder_of(real);
    let linked = Builder::new().make_in(folder, |path| std::fs::hard_link(real, path));
    if let Ok(linked) = linked {
        return Ok(linked.into_temp_path());
    }
    let copy = NamedTempFile::new_in(folder)?.into_temp_path();
    std::fs::copy(real, &copy)?;
    Ok(copy)
}

impl Placed {
    /// Puts back what lay there before. There is nobody left to tell if that fails too: the
    /// failure that led here is the one that is told.
    fn take_back(self) {
        let _ = match self.before {
            Some(before) => before.persist(&self.real).map_err(|error| error.error),
            None => std::fs::remove_file(&self.real),
        };
    }
}

/// Moves files into their places: all of them, or none.
pub(super) fn place_all(staged: Vec<Staged>) -> Result<(), Failure> {
    let mut placed = Vec::with_capacity(staged.len());
    for file in staged {
        match file.place() {
            Ok(file) => placed.push(file),
            Err(failure) => {
                placed.into_iter().rev().for_each(Placed::take_back);
                return Err(failure);
            }
        }
    }
    Ok(())
}
