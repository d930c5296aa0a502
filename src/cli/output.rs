//! Where results and files are handed out: looked at before the long work, written whole or not
//! at all, never over a user's file unasked.

use super::failure::Failure;
use super::options::OutputOptions;
use flyheft::sheet::{PlacedWarning, Reading, read, read_on_track};
use flyheft::units::System;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Hands out what a command makes.
#[derive(Debug)]
pub(super) struct Output<'o> {
    options: &'o OutputOptions,
}

impl<'o> Output<'o> {
    /// A output for a command; refuses at once if a file it is going to write is in the way.
    pub(super) fn open(
        options: &'o OutputOptions,
        files: &[&Option<PathBuf>],
    ) -> Result<Self, Failure> {
        let mut wanted: Vec<&Path> = Vec::new();
        for path in files.iter().copied().chain([&options.out]).flatten() {
            if wanted.contains(&path.as_path()) {
                return Err(Failure::said(
                    format!("{} is asked for twice", path.display()),
                    "give every file a name of its own",
                ));
            }
            wanted.push(path);
            may_write(path, options.force)?;
        }
        Ok(Self { options })
    }

    /// Reads a sheet; its doubts go to standard error.
    pub(super) fn read(&self, sheet: &Path, system: System) -> Result<Reading, Failure> {
        self.read_on(sheet, None, system)
    }

    /// Reads a sheet, with the track of another file in place of its own where one is named.
    pub(super) fn read_on(
        &self,
        sheet: &Path,
        track: Option<&Path>,
        system: System,
    ) -> Result<Reading, Failure> {
        let reading = match track {
            Some(track) => read_on_track(sheet, track)?,
            None => read(sheet)?,
        };
        self.tell(&reading.warnings, system);
        Ok(reading)
    }

    /// Tells doubts on standard error.
    pub(super) fn tell(&self, warnings: &[PlacedWarning], system: System) {
        if self.options.quiet {
            return;
        }
        for placed in warnings {
            let line = placed.place.as_ref().and_then(|place| place.line);
            let place = line.map_or(String::new(), |line| format!("line {line}: "));
            eprintln!("warning: {place}{}", placed.warning.text(system));
        }
    }

    /// Whether a JSON document is wanted.
    pub(super) fn wants_json(&self) -> bool {
        self.options.json
    }

    /// Whether to keep quiet on standard error.
    pub(super) fn quiet(&self) -> bool {
        self.options.quiet
    }

    /// Hands out the result itself.
    pub(super) fn result(&self, text: &str) -> Result<(), Failure> {
        match &self.options.out {
            Some(path) => self.file(path, text),
            None => to_standard_output(text),
        }
    }

    /// Writes a file and says so on standard error.
    pub(super) fn file(&self, path: &Path, text: &str) -> Result<(), Failure> {
        write_whole(path, text, self.options.force)?;
        if !self.options.quiet {
            eprintln!("wrote {}", path.display());
        }
        Ok(())
    }

    /// Writes a chart if one was asked for; what it leaves out is said on standard error, and so
    /// is why, where there is nothing left to draw.
    pub(super) fn chart_if_asked(
        &self,
        path: Option<&PathBuf>,
        left_out: &[String],
        chart: impl FnOnce() -> Result<Option<String>, Failure>,
    ) -> Result<(), Failure> {
        let Some(path) = path else { return Ok(()) };
        if !self.options.quiet {
            for words in left_out {
                eprintln!("not drawn: {words}");
            }
        }
        match chart()? {
            Some(chart) => self.file(path, &chart),
            None if self.options.quiet => Ok(()),
            None => {
                eprintln!(
                    "{} was not written: nothing is left to draw",
                    path.display()
                );
                Ok(())
            }
        }
    }

    /// Writes a file if one was asked for.
    pub(super) fn file_if_asked(
        &self,
        path: Option<&PathBuf>,
        text: impl FnOnce() -> Result<String, Failure>,
    ) -> Result<(), Failure> {
        path.map_or(Ok(()), |path| self.file(path, &text()?))
    }
}

/// Prints to standard output; somebody who stops reading is no error.
fn to_standard_output(text: &str) -> Result<(), Failure> {
    let mut output = std::io::stdout().lock();
    match output
        .write_all(text.as_bytes())
        .and_then(|()| output.flush())
    {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::said(
            format!("standard output cannot be written to: {error}"),
            "",
        )),
        _ => Ok(()),
    }
}

/// Refuses a path that may not be written.
pub(super) fn may_write(path: &Path, force: bool) -> Result<(), Failure> {
    if path.is_dir() {
        return Err(Failure::said(
            format!("{} is a folder", path.display()),
            "name a file in it",
        ));
    }
    if path.exists() && !force {
        return Err(Failure::said(
            format!("{} exists already", path.display()),
            "choose another name, or say --force to replace it",
        ));
    }
    let folder = folder_of(path);
    if !folder.is_dir() {
        return Err(Failure::said(
            format!("there is no folder {}", folder.display()),
            "make it first, or choose another place",
        ));
    }
    Ok(())
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Writes a file whole: beside its place first, then moved there.
pub(super) fn write_whole(path: &Path, text: &str, force: bool) -> Result<(), Failure> {
    let failed = |what: std::io::Error| {
        Failure::said(
            format!("{} could not be written: {what}", path.display()),
            "nothing was left behind; look at the folder's rights and the room on the disk",
        )
    };
    let mut beside = NamedTempFile::new_in(folder_of(path)).map_err(failed)?;
    beside.write_all(text.as_bytes()).map_err(failed)?;
    beside.as_file().sync_all().map_err(failed)?;
    readable_by_all(&beside).map_err(failed)?;
    if force {
        beside.persist(path).map_err(|error| failed(error.error))?;
    } else {
        beside
            .persist_noclobber(path)
            .map_err(|error| failed(error.error))?;
    }
    Ok(())
}

/// Gives a new file the rights any new file has; a temporary one is private.
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
