//! `flyheft practice`.

use super::failure::Failure;
use super::options::{OutputOptions, flywheel, launch_speed};
use super::output::Output;
use clap::Args;
use flyheft::car::practice::Practice;
use flyheft::shown::{json, text};
use flyheft::study::practice::{FEWEST_LAUNCHES, study};
use flyheft::units::System;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct PracticeArgs {
    /// A build sheet that names a practice file, or a practice file itself (CSV, a column speed_rpm)
    file: PathBuf,
    /// The launch speed that was aimed at, rpm
    #[arg(long, value_name = "RPM", value_parser = launch_speed)]
    target: Option<f64>,
    /// Only launches with this flywheel; with a sheet, the fitted one if not said
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    #[command(flatten)]
    output: OutputOptions,
}

pub(super) fn run(args: &PracticeArgs) -> Result<(), Failure> {
    let output = Output::open(&args.output, &[])?;
    output.spare(std::slice::from_ref(&args.file))?;
    let is_table = args
        .file
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let (practice, wheel) = if is_table {
        (
            flyheft::sheet::practice::read(&args.file)?,
            args.wheel.clone(),
        )
    } else {
        from_sheet(&output, args)?
    };
    let study = study(&practice, wheel.as_deref()).ok_or_else(|| {
        Failure::said(
            format!("there are fewer than {FEWEST_LAUNCHES} practice launches to go by"),
            "ten or more are worth the name; with --wheel only those with that flywheel count",
        )
    })?;
    output.result(&if output.wants_json() {
        json::practice(&study, args.target)
    } else {
        text::practice(&study, args.target)
    })
}

fn from_sheet(output: &Output, args: &PracticeArgs) -> Result<(Practice, Option<String>), Failure> {
    let reading = output.read(&args.file, System::Metric)?;
    let wheel = flywheel(&reading.car, args.wheel.as_deref())?
        .name()
        .to_owned();
    let practice = reading.car.driver.practice.clone().ok_or_else(|| {
        Failure::said(
            "the sheet names no practice file",
            "write practice = \"practice.csv\" under [driver], or give the CSV file itself",
        )
    })?;
    Ok((practice, Some(wheel)))
}
