//! Where results and files are handed out: looked at before the long work, all written or none,
//! never over a user's file unasked, and never over one that was read.

use super::failure::Failure;
use super::options::OutputOptions;
use super::place::{Destination, place_all};
use super::standard_error::say;
use flyheft::sheet::{PlacedWarning, Reading, read, read_on_track};
use flyheft::units::System;
use std::cell::RefCell;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Hands out what a command makes. Files are gathered, and put in place by [`result`](Self::result).
#[derive(Debug)]
pub(super) struct Output<'o> {
    options: &'o OutputOptions,
    destinations: Vec<Destination>,
    made: RefCell<Vec<(PathBuf, String)>>,
}

impl<'o> Output<'o> {
    /// The outputs of a command; refuses at once if a file it is going to write is in the way.
    pub(super) fn open(
        options: &'o OutputOptions,
        files: &[&Option<PathBuf>],
    ) -> Result<Self, Failure> {
        let mut destinations: Vec<Destination> = Vec::new();
        for path in files.iter().copied().chain([&options.out]).flatten() {
            let destination = Destination::look_at(path, options.force)?;
            if destinations.iter().any(|other| other.is_also(&destination)) {
                return Err(Failure::said(
                    format!("{} is asked for twice", path.display()),
                    "give every file a name of its own",
                ));
            }
            destinations.push(destination);
        }
        Ok(Self {
            options,
            destinations,
            made: RefCell::default(),
        })
    }

    /// Reads a sheet; its warnings go to standard error.
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
        self.spare(&reading.files)?;
        self.tell(&reading.warnings, system);
        Ok(reading)
    }

    /// Refuses to write over a file that was read, asked or not.
    pub(super) fn spare(&self, files_read: &[PathBuf]) -> Result<(), Failure> {
        let clash = self
            .destinations
            .iter()
            .find(|destination| files_read.iter().any(|file| destination.is(file)));
        match clash {
            None => Ok(()),
            Some(destination) => Err(Failure::said(
                format!(
                    "{} is read for this result and would be lost",
                    destination.named().display()
                ),
                "choose another name",
            )),
        }
    }

    /// Tells warnings on standard error.
    pub(super) fn tell(&self, warnings: &[PlacedWarning], system: System) {
        if self.options.quiet {
            return;
        }
        for placed in warnings {
            let line = placed.place.as_ref().and_then(|place| place.line);
            let place = line.map_or(String::new(), |line| format!("line {line}: "));
            say(&format!(
                "warning: {place}{}\n",
                placed.warning.text(system)
            ));
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

    /// Hands out the result itself, and puts every file of the run in its place.
    pub(super) fn result(&self, text: &str) -> Result<(), Failure> {
        if let Some(path) = &self.options.out {
            self.file(path, text);
        }
        let made = self.made.take();
        let staged = made
            .iter()
            .map(|(path, text)| self.destination(path)?.stage(text))
            .collect::<Result<Vec<_>, _>>()?;
        if self.options.out.is_none() {
            to_standard_output(text)?;
        }
        place_all(staged)?;
        if !self.options.quiet {
            for (path, _) in &made {
                say(&format!("{}\n", self.destination(path)?.done()));
            }
        }
        Ok(())
    }

    /// Takes a file in, to be written with the result.
    pub(super) fn file(&self, path: &Path, text: &str) {
        self.made
            .borrow_mut()
            .push((path.to_owned(), text.to_owned()));
    }

    /// Takes a chart in if one was asked for; what it leaves out is said on standard error, and
    /// so is why, where there is nothing left to draw.
    pub(super) fn chart_if_asked(
        &self,
        path: Option<&PathBuf>,
        left_out: &[String],
        chart: impl FnOnce() -> Result<Option<String>, Failure>,
    ) -> Result<(), Failure> {
        let Some(path) = path else { return Ok(()) };
        if !self.options.quiet {
            for words in left_out {
                say(&format!("not drawn: {words}\n"));
            }
        }
        match chart()? {
            Some(chart) => self.file(path, &chart),
            None if self.options.quiet => {}
            None => say(&format!(
                "{} was not written: nothing is left to draw\n",
                path.display()
            )),
        }
        Ok(())
    }

    /// Takes a file in if one was asked for.
    pub(super) fn file_if_asked(
        &self,
        path: Option<&PathBuf>,
        text: impl FnOnce() -> Result<String, Failure>,
    ) -> Result<(), Failure> {
        if let Some(path) = path {
            self.file(path, &text()?);
        }
        Ok(())
    }

    /// A destination that was looked at when the outputs were opened.
    fn destination(&self, path: &Path) -> Result<&Destination, Failure> {
        self.destinations
            .iter()
            .find(|destination| destination.named() == path)
            .ok_or_else(|| {
                Failure::said(
                    format!("{} was not looked at before the work", path.display()),
                    "please report this: it is a fault of the program",
                )
            })
    }
}

/// Prints to standard output; somebody who stops reading is no error.
pub(super) fn to_standard_output(text: &str) -> Result<(), Failure> {
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
