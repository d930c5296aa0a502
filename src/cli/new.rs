//! `flyheft new`.

use super::failure::Failure;
use super::output::{may_write, write_whole};
use clap::Args;
use flyheft::sheet::starter::{SHEET, TORQUE, TORQUE_FILE};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct NewArgs {
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

pub(super) fn run(args: &NewArgs) -> Result<(), Failure> {
    let torque = args.sheet.with_file_name(TORQUE_FILE);
    if torque == args.sheet {
        return Err(Failure::said(
            format!("a sheet cannot be called {TORQUE_FILE}"),
            "that is its torque file's name; call it car.toml, say",
        ));
    }
    for path in [&args.sheet, &torque] {
        may_write(path, args.force)?;
    }
    write_whole(&torque, TORQUE, args.force)?;
    write_whole(&args.sheet, SHEET, args.force)?;
    if !args.quiet {
        let sheet = args.sheet.display();
        eprintln!(
            "wrote {sheet} and {}: an invented car to change into yours.\nNext: flyheft check {sheet}",
            torque.display()
        );
    }
    Ok(())
}
