//! `flyheft new`.

use super::failure::Failure;
use super::place::{Destination, place_all};
use super::standard_error::say;
use clap::Args;
use clap::ValueEnum;
use flyheft::sheet::starter::{Starter, TORQUE_FILE};
use flyheft::shown::json::sheet_schema;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct NewArgs {
    /// The sheet to write; its torque file and what editors know of a sheet are written beside it
    #[arg(default_value = "car.toml")]
    sheet: PathBuf,
    /// Start from a car nearer to yours; without it, from one that shows most of what a sheet can say
    #[arg(long, value_name = "CAR")]
    like: Option<Like>,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
    /// Say nothing
    #[arg(short, long)]
    quiet: bool,
}

/// Cars to start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Like {
    /// A light rear-drive two-seater
    LightRear,
    /// A heavy rear-drive saloon
    HeavyRear,
    /// A front-drive hatchback
    Front,
}

impl Like {
    const fn starter(self) -> Starter {
        match self {
            Self::LightRear => Starter::LightRear,
            Self::HeavyRear => Starter::HeavyRear,
            Self::Front => Starter::Front,
        }
    }
}

/// Name of the file that tells editors what a sheet may say; the first line of a starter names it.
const SCHEMA_FILE: &str = "flyheft-sheet.schema.json";

pub(super) fn run(args: &NewArgs) -> Result<(), Failure> {
    let torque = args.sheet.with_file_name(TORQUE_FILE);
    if torque == args.sheet {
        return Err(Failure::said(
            format!("a sheet cannot be called {TORQUE_FILE}"),
            "that is its torque file's name; call it car.toml, say",
        ));
    }
    let starter = args.like.map_or(Starter::Usual, Like::starter);
    let schema = args.sheet.with_file_name(SCHEMA_FILE);
    let known = sheet_schema();
    let is_there = std::fs::read_to_string(&schema).is_ok_and(|there| there == known);
    let mut files = vec![(&torque, starter.torque()), (&args.sheet, starter.sheet())];
    if !is_there {
        files.push((&schema, known.as_str()));
    }
    let staged = files
        .into_iter()
        .map(|(path, text)| Destination::look_at(path, args.force)?.stage(text))
        .collect::<Result<Vec<_>, _>>()?;
    place_all(staged)?;
    if !args.quiet {
        let sheet = args.sheet.display();
        say(&format!(
            "wrote {sheet} and {}: an invented car to change into yours.\nNext: flyheft check {sheet}\n",
            torque.display()
        ));
    }
    Ok(())
}
