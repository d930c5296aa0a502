//! `flyheft gearing`.

use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, as_in_a_sheet, flywheel};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::{ArgGroup, Args};
use flyheft::car::checked::Positive;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, page, table_file, text};
use flyheft::study::gearing::{GearChoice, geared_cars, study_gearing};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(group(ArgGroup::new("gears").required(true).multiple(true).args(["finals", "first"])))]
pub(super) struct GearingArgs {
    #[command(flatten)]
    common: Common,
    /// Other final drives, such as 3.9,4.1,4.4
    #[arg(long = "final", value_name = "RATIOS", value_delimiter = ',', value_parser = final_drive)]
    finals: Vec<Positive>,
    /// Other first gears, such as 2.8,3.2
    #[arg(long, value_name = "RATIOS", value_delimiter = ',', value_parser = first_gear)]
    first: Vec<Positive>,
    /// The flywheel; without it, the one that is fitted
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    /// Write sixty-foot time over launch speed as CSV, one column a gearing
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Draw sixty-foot time over launch speed, one line a gearing
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

fn final_drive(text: &str) -> Result<Positive, String> {
    ratio(text, "gearbox.final")
}

fn first_gear(text: &str) -> Result<Positive, String> {
    ratio(text, "gearbox.ratios")
}

fn ratio(text: &str, key: &str) -> Result<Positive, String> {
    let ratio = text.trim().parse();
    let ratio = ratio.map_err(|_| "a ratio is a number, such as 4.1")?;
    Positive::new(as_in_a_sheet(key, ratio)?).ok_or_else(|| "a ratio is above zero".into())
}

pub(super) fn run(args: &GearingArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[&args.csv, &args.plot, &args.page])?;
    let system = args.common.units.into();
    let reading = output.read(&args.common.sheet, system)?;
    let car = &reading.car;
    let wheel = flywheel(car, args.wheel.as_deref())?;
    let choices: Vec<GearChoice> = args
        .finals
        .iter()
        .map(|ratio| GearChoice::Final(*ratio))
        .chain(args.first.iter().map(|ratio| GearChoice::First(*ratio)))
        .collect();
    let cars = geared_cars(car, &choices).map_err(|error| {
        Failure::said(
            format!("a first gear asked for does not stay above second: {error}"),
            "first must be a higher number than the ratio of second gear",
        )
    })?;
    let progress = TerminalProgress::new(output.quiet());
    let studies = study_gearing(&cars, wheel, &progress)?;
    drop(progress);
    output.file_if_asked(args.csv.as_ref(), || {
        let sweeps: Vec<_> = studies
            .iter()
            .map(|(choice, study)| (text::gearing::choice_words(choice), &study.sweep))
            .collect();
        Ok(table_file::sweeps(&sweeps))
    })?;
    output.file_if_asked(args.plot.as_ref(), || {
        drawn(figures::gearing(&car.title, &studies).svg(Size::WIDE))
    })?;
    output.file_if_asked(args.page.as_ref(), || {
        Ok(page::gearing(&reading, &studies, system)?)
    })?;
    output.result(&if output.wants_json() {
        json::gearing(&reading, &studies)
    } else {
        text::gearing::gearing(&reading, &studies).printed(&reading)
    })
}
