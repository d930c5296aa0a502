//! `flyheft new`.

use super::desk::{may_write, write_whole};
use super::failure::Failure;
use clap::Args;
use flyheft::sheet::starter::{SHEET, TORQUE, TORQUE_FILE};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct Asked {
    /// The sheet to write; its torque file is written beside it
    #[arg(default_value = "car.toml")]
    sheet: PathBuf,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
    /// Say nothing
    #[arg(short, long)]
    quiet: bool,
}

pub(super) fn run(asked: &Asked) -> Result<(), Failure> {
    let torque = asked.sheet.with_file_name(TORQUE_FILE);
    if torque == asked.sheet {
        return Err(Failure::said(
            format!("a sheet cannot be called {TORQUE_FILE}"),
            "that is its torque file's name; call it car.toml, say",
        ));
    }
    for path in [&asked.sheet, &torque] {
        may_write(path, asked.force)?;
    }
    write_whole(&torque, TORQUE, asked.force)?;
    write_whole(&asked.sheet, SHEET, asked.force)?;
    if !asked.quiet {
        let sheet = asked.sheet.display();
        eprintln!(
            "wrote {sheet} and {}: an invented car to change into yours.\nNext: flyheft check {sheet}",
            torque.display()
        );
    }
    Ok(())
}
