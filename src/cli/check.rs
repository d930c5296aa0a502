//! `flyheft check`.

use super::failure::Failure;
use super::options::Common;
use super::output::Output;
use clap::Args;
use flyheft::shown::{json, text};

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    #[command(flatten)]
    common: Common,
}

pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[])?;
    let system = args.common.units.into();
    // The doubts are part of the answer here; they need not stand on standard error too.
    let reading = flyheft::sheet::read(&args.common.sheet)?;
    output.spare(&reading.files)?;
    output.result(&if output.wants_json() {
        json::check(&reading)
    } else {
        text::check(&reading, system)
    })
}
