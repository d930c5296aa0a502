//! `flyheft check`.

use super::desk::Desk;
use super::failure::Failure;
use super::options::Common;
use clap::Args;
use flyheft::shown::{json, text};

#[derive(Debug, Args)]
pub(super) struct Asked {
    #[command(flatten)]
    common: Common,
}

pub(super) fn run(asked: &Asked) -> Result<(), Failure> {
    let desk = Desk::open(&asked.common.output, &[])?;
    let system = asked.common.units.into();
    // The doubts are part of the answer here; they need not stand on standard error too.
    let reading = flyheft::sheet::read(&asked.common.sheet)?;
    desk.result(&if desk.wants_json() {
        json::check(&reading)
    } else {
        text::check(&reading, system)
    })
}
