//! A sheet that is open on the bench: its text as it stands, what came before, the file it is of.

use crate::cli::failure::Failure;
use crate::cli::place::{Destination, Staged, place_all};
use flyheft::sheet::form::{EditError, SheetText};
use flyheft::sheet::{Reading, Refusal, read_text};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// One open sheet.
pub(super) struct OpenSheet {
    path: PathBuf,
    text: SheetText,
    /// What lay in the file when it was last read or written here; `None` where nothing did.
    saved: Option<Vec<u8>>,
    elsewhere: bool,
    read: Result<Arc<Reading>, Box<Refusal>>,
}

impl OpenSheet {
    /// The sheet that lies at a path.
    pub(super) fn open(path: &Path) -> Result<Self, Failure> {
        let bytes = on_disk(path)?.ok_or_else(|| {
            Failure::said(
                format!("there is no file {}", path.display()),
                "look at the spelling, and at the folder",
            )
        })?;
        let text = SheetText::from_bytes(&bytes).map_err(|error| {
            Failure::said(
                format!("{}: {error}", path.display()),
                "save it again as UTF-8 text",
            )
        })?;
        Ok(Self::new(path.to_owned(), text, Some(bytes)))
    }

    /// A sheet with nothing in it yet, to be saved at a path.
    pub(super) fn empty(path: &Path) -> Self {
        Self::new(path.to_owned(), SheetText::new(""), None)
    }

    fn new(path: PathBuf, text: SheetText, saved: Option<Vec<u8>>) -> Self {
        let read = read(&path, text.text());
        Self {
            path,
            text,
            saved,
            elsewhere: false,
            read,
        }
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    pub(super) fn text(&self) -> &str {
        self.text.text()
    }

    /// What was read of it, if nothing is wrong with it.
    pub(super) fn reading(&self) -> Option<Arc<Reading>> {
        self.read.as_ref().ok().cloned()
    }

    /// What was read of it, or what is wrong with it.
    pub(super) const fn read(&self) -> &Result<Arc<Reading>, Box<Refusal>> {
        &self.read
    }

    /// What is wrong with it.
    pub(super) fn refusal(&self) -> Option<&Refusal> {
        self.read.as_ref().err().map(AsRef::as_ref)
    }

    pub(super) fn name(&self) -> String {
        let name = self.path.file_name().unwrap_or_default();
        name.to_string_lossy().into_owned()
    }

    /// The folder it lies in, in words.
    pub(super) fn folder(&self) -> String {
        let folder = self
            .path
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty());
        let folder = folder.unwrap_or(Path::new("."));
        let whole = folder.canonicalize().unwrap_or_else(|_| folder.to_owned());
        whole.display().to_string()
    }

    /// Whether the file was found changed by somebody else.
    pub(super) fn is_changed_elsewhere(&self) -> bool {
        self.elsewhere
    }

    /// Looks whether the file was changed by somebody else; hands back whether that is news.
    pub(super) fn look(&mut self) -> bool {
        let before = self.elsewhere;
        self.elsewhere = on_disk(&self.path).ok() != Some(self.saved.clone());
        self.elsewhere != before
    }

    /// Writes the text into its file, unless somebody else has changed that.
    pub(super) fn save(&mut self) -> Result<String, Failure> {
        self.refuse_if_changed()?;
        let staged = self.stage(&self.path, self.saved.is_some())?;
        // Writing beside it takes time in which somebody else may have saved.
        self.refuse_if_changed()?;
        place_all(vec![staged])?;
        self.saved = Some(self.text.bytes());
        Ok(String::from("Saved."))
    }

    fn refuse_if_changed(&mut self) -> Result<(), Failure> {
        self.look();
        if self.elsewhere {
            return Err(Failure::said(
                "not saved: the file was changed by somebody else since it was opened here",
                "take it as it is now, or save this under another name",
            ));
        }
        Ok(())
    }

    /// Writes the text into a new file beside its own, and goes on with that.
    pub(super) fn save_beside(&mut self) -> Result<String, Failure> {
        /// Names tried before giving up.
        const MOST_NAMES: u32 = 99;
        let stem = self
            .path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let free = (2..=MOST_NAMES)
            .map(|number| self.path.with_file_name(format!("{stem}-{number}.toml")))
            .find(|path| path.symlink_metadata().is_err());
        let path = free.ok_or_else(|| Failure::said("no name beside it is free", ""))?;
        let staged = self.stage(&path, false)?;
        place_all(vec![staged])?;
        self.path = path;
        self.saved = Some(self.text.bytes());
        self.elsewhere = false;
        Ok(format!("Saved as {}.", self.name()))
    }

    /// Takes the file as it lies on the disk.
    pub(super) fn reload(&mut self) -> Result<(), Failure> {
        *self = Self::open(&self.path)?;
        Ok(())
    }

    pub(super) fn is_unsaved(&self) -> bool {
        self.saved.as_ref() != Some(&self.text.bytes())
    }

    pub(super) fn can_undo(&self) -> bool {
        self.text.steps() > 0
    }

    pub(super) fn can_redo(&self) -> bool {
        self.text.steps_undone() > 0
    }

    /// Changes the text; hands back whether anything became of it.
    pub(super) fn change(
        &mut self,
        change: impl FnOnce(&mut SheetText) -> Result<bool, EditError>,
    ) -> Result<bool, Failure> {
        let changed =
            change(&mut self.text).map_err(|error| Failure::said(error.to_string(), ""))?;
        if changed {
            self.read_again();
        }
        Ok(changed)
    }

    /// Reads the text anew: it has changed, or a file that it names.
    pub(super) fn read_again(&mut self) {
        self.read = read(&self.path, self.text.text());
    }

    fn stage(&self, path: &Path, replaces: bool) -> Result<Staged, Failure> {
        let bytes = self.text.bytes();
        // What was a text when it was read is one still.
        let text = String::from_utf8_lossy(&bytes);
        Destination::look_at(path, replaces)?.stage(&text)
    }
}

fn read(path: &Path, text: &str) -> Result<Arc<Reading>, Box<Refusal>> {
    read_text(path, text).map(Arc::new).map_err(Box::new)
}

/// What lies at a path; `None` where nothing does.
fn on_disk(path: &Path) -> Result<Option<Vec<u8>>, Failure> {
    /// A sheet has a few thousand bytes; nothing larger is one.
    const MOST_BYTES: u64 = 1_000_000;
    let refused = |words: &str| Err(Failure::said(format!("{} {words}", path.display()), ""));
    match path.metadata() {
        Ok(file) if !file.is_file() => return refused("is no regular file"),
        Ok(file) if file.len() > MOST_BYTES => return refused("is larger than any sheet"),
        _ => {}
    }
    match std::fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Failure::said(
            format!("{} cannot be read: {error}", path.display()),
            "",
        )),
    }
}
