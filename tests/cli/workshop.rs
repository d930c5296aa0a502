//! A folder of its own with an invented car in it, and the program run there.

use assert_cmd::Command;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Launches drawn in these tests: the fewest, as they look at form and not at numbers.
pub(crate) const DRAWS: &str = "32";

/// What the program did.
pub(crate) struct Did {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Did {
    /// Asserts that it failed as bad input should: exit 1, nothing on standard output, a message
    /// that holds these words, and no panic.
    pub(crate) fn refused(&self, words: &[&str]) {
        assert_eq!(self.code, Some(1), "{}", self.err);
        assert_eq!(self.out, "");
        assert!(self.err.starts_with("error"), "{}", self.err);
        assert!(!self.err.contains("panicked"), "{}", self.err);
        for word in words {
            assert!(self.err.contains(word), "no {word:?} in {}", self.err);
        }
    }

    /// Asserts exit 0 and hands out standard output.
    pub(crate) fn done(self) -> String {
        assert_eq!(self.code, Some(0), "{}", self.err);
        self.out
    }
}

/// A folder with an invented car of two flywheels.
pub(crate) struct Workshop {
    folder: TempDir,
}

impl Workshop {
    /// A folder with nothing in it.
    #[cfg(feature = "bench")]
    pub(crate) fn empty() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a folder"),
        }
    }

    pub(crate) fn new() -> Self {
        let workshop = Self {
            folder: tempfile::tempdir().expect("a folder"),
        };
        workshop.write("car.toml", include_str!("car.toml"));
        workshop.write("torque.csv", include_str!("torque.csv"));
        workshop
    }

    /// The same with a part of the sheet changed; it must be there once.
    pub(crate) fn with(from: &str, to: &str) -> Self {
        let workshop = Self::new();
        let sheet = include_str!("car.toml");
        assert_eq!(sheet.matches(from).count(), 1, "{from}");
        workshop.write("car.toml", sheet.replace(from, to));
        workshop
    }

    /// The same with another torque file.
    pub(crate) fn with_torque(text: &str) -> Self {
        let workshop = Self::new();
        workshop.write("torque.csv", text);
        workshop
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), bytes).expect("a file");
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).expect("a file")
    }

    /// Names of all that lies in the folder.
    pub(crate) fn names(&self) -> BTreeSet<String> {
        std::fs::read_dir(self.folder.path())
            .expect("the folder")
            .map(|entry| {
                let name = entry.expect("an entry").file_name();
                name.to_string_lossy().into_owned()
            })
            .collect()
    }

    /// The program, in this folder.
    pub(crate) fn command(&self) -> Command {
        let mut command = assert_cmd::cargo::cargo_bin_cmd!("flyheft");
        command.current_dir(self.folder.path());
        command
    }

    /// The program in this folder with its own standard streams to be chosen.
    pub(crate) fn plain(&self, arguments: &[&str]) -> std::process::Command {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_flyheft"));
        command.current_dir(self.folder.path()).args(arguments);
        command
    }

    /// Runs it with arguments given as one line; an argument holds no blank.
    pub(crate) fn run(&self, line: &str) -> Did {
        self.run_each(&line.split_whitespace().collect::<Vec<_>>())
    }

    pub(crate) fn run_each(&self, arguments: &[&str]) -> Did {
        did(self.command().args(arguments))
    }
}

pub(crate) fn did(command: &mut Command) -> Did {
    let output = command.output().expect("the program starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    Did {
        code: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

/// A demo sheet.
pub(crate) fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo-data")
        .join(name)
}
