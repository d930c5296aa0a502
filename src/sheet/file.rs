//! A text file, read with care: not too large, a file at all, plain UTF-8.

use super::diagnostics::Diagnostics;
use super::problem::{FileId, Place, Problem};
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

/// Size of a build sheet at most, bytes. A long sheet has a few thousand.
pub(super) const SHEET_LIMIT_BYTES: u64 = 1_000_000;
/// Size of a torque curve or a practice file at most, bytes. A logger's file at 100 lines a
/// second over a whole sweep has some 20,000.
pub(super) const TABLE_LIMIT_BYTES: u64 = 2_000_000;

/// Why a file is no text to read: what is wrong, and what would be right.
struct Unreadable {
    title: String,
    help: &'static str,
}

/// The text of a table's file that a sheet names at this place; what is wrong is noted there.
pub(super) fn read_named(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
) -> Option<(FileId, String)> {
    let folder = diagnostics.folder_of(named_at);
    let text = within(&folder, path).and_then(|()| read(path, TABLE_LIMIT_BYTES));
    match text {
        Ok(text) => {
            diagnostics.file_read(path);
            Some((diagnostics.source(&path.display().to_string(), &text), text))
        }
        Err(unreadable) => {
            diagnostics.problem(
                Problem::new(named_at.clone(), unreadable.title)
                    .label("named here")
                    .help(unreadable.help),
            );
            None
        }
    }
}

/// Refuses a file that lies, links followed, outside the folder of the sheet that names it: a
/// sheet from somebody else shall not open, nor quote, what lies elsewhere on this machine.
fn within(folder: &Path, path: &Path) -> Result<(), Unreadable> {
    let (Ok(folder), Ok(real)) = (folder.canonicalize(), path.canonicalize()) else {
        // What is not there is told when it is read.
        return Ok(());
    };
    if real.starts_with(folder) {
        return Ok(());
    }
    Err(Unreadable {
        title: format!("{} lies outside the sheet's folder", path.display()),
        help: "a file that a sheet names lies beside the sheet or in a folder below it: copy it there",
    })
}

/// The text of a file that is read for itself; what is wrong is noted of it as a whole.
pub(super) fn read_itself(
    diagnostics: &Diagnostics,
    path: &Path,
    limit_bytes: u64,
) -> Option<(FileId, String)> {
    let shown = path.display().to_string();
    match read(path, limit_bytes) {
        Ok(text) => {
            diagnostics.file_read(path);
            Some((diagnostics.source(&shown, &text), text))
        }
        Err(unreadable) => {
            let file = diagnostics.source(&shown, "");
            diagnostics
                .problem(Problem::new(Place::whole(file), unreadable.title).help(unreadable.help));
            None
        }
    }
}

/// The text of a file without its byte-order mark.
fn read(path: &Path, limit_bytes: u64) -> Result<String, Unreadable> {
    let bytes = read_bytes(path, limit_bytes)?;
    let shown = path.display();
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(Unreadable {
            title: format!("{shown} is saved as UTF-16"),
            help: "save it again as UTF-8 text",
        });
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let before = error.as_bytes().get(..at).unwrap_or_default();
        let line = before.split(|byte| *byte == b'\n').count();
        Unreadable {
            title: format!(
                "{shown} is not plain UTF-8 text: byte {} (on line {line}) is part of no character",
                at + 1
            ),
            help: "save it again as UTF-8 text; a degree sign or a raised 2 in an older encoding is the usual cause",
        }
    })?;
    let text = match text.strip_prefix('\u{feff}') {
        Some(rest) => rest.to_owned(),
        None => text,
    };
    if text.trim().is_empty() {
        return Err(Unreadable {
            title: format!("{shown} is empty"),
            help: "there is nothing to read in it",
        });
    }
    Ok(text)
}

fn read_bytes(path: &Path, limit_bytes: u64) -> Result<Vec<u8>, Unreadable> {
    let shown = path.display();
    let fault = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => Unreadable {
            title: format!("there is no file {shown}"),
            help: "look at the spelling, and at the folder: a file named in a sheet is looked for beside the sheet",
        },
        ErrorKind::PermissionDenied => Unreadable {
            title: format!("{shown} may not be read"),
            help: "look at the rights of the file",
        },
        ErrorKind::IsADirectory => a_folder(path),
        _ => Unreadable {
            title: format!("{shown} cannot be read: {error}"),
            help: "look whether the file opens in a text editor",
        },
    };
    let metadata = path.metadata().map_err(fault)?;
    if metadata.is_dir() {
        return Err(a_folder(path));
    }
    if !metadata.is_file() {
        return Err(Unreadable {
            title: format!("{shown} is not a regular file"),
            help: "name a file on the disk; pipes, devices and standard input are not read",
        });
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(limit_bytes + 1).read_to_end(&mut bytes))
        .map_err(fault)?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > limit_bytes {
        return Err(Unreadable {
            title: format!(
                "{shown} is larger than {} MB, the most that is read",
                limit_bytes / 1_000_000
            ),
            help: "a sheet or a curve is far smaller; look whether this is the right file",
        });
    }
    Ok(bytes)
}

fn a_folder(path: &Path) -> Unreadable {
    Unreadable {
        title: format!("{} is a folder, not a file", path.display()),
        help: "name the file in it",
    }
}
