//! `flyheft window`.

use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, flywheel};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, page, table_file, text};
use flyheft::study::compare::{WheelStudy, study_wheels};
use flyheft::study::map::over_release;
use flyheft::study::scatter::band::band;
use flyheft::study::scatter::draws::{DEFAULT_DRAWS, DEFAULT_SEED, Draws};
use flyheft::study::scatter::scattered_rig::ScatteredRig;
use flyheft::study::scatter::study::tables;
use flyheft::study::scatter::table::{Design, LaunchTable};
use flyheft::study::{Progress, StudyError};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct WindowArgs {
    #[command(flatten)]
    common: Common,
    /// The flywheel; without it, the one that is fitted
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    /// Write sixty-foot time over launch speed as CSV
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Draw sixty-foot time over launch speed, the window marked
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Draw a map of mean sixty-foot time over launch speed and clutch release time
    #[arg(long, value_name = "FILE.svg")]
    map: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

pub(super) fn run(args: &WindowArgs) -> Result<(), Failure> {
    let output = Output::open(
        &args.common.output,
        &[&args.csv, &args.plot, &args.map, &args.page],
    )?;
    let system = args.common.units.into();
    let reading = output.read(&args.common.sheet, system)?;
    let car = &reading.car;
    let wheel = flywheel(car, args.wheel.as_deref())?;
    let progress = TerminalProgress::new(output.quiet());
    let studies = study_wheels(car, &[wheel], &progress)?;
    let tables = launch_tables(&studies, &progress)?;
    let map = args
        .map
        .as_ref()
        .map(|_| over_release(car, wheel, &progress))
        .transpose()?;
    drop(progress);
    if let (Some(path), Some(map)) = (&args.map, &map) {
        output.file(
            path,
            &drawn(figures::map_over_release(&car.title, map).svg(Size::WIDE))?,
        );
    }
    for (study, table) in studies.iter().zip(&tables) {
        let band = band(table, &car.driver.launch_range);
        output.file_if_asked(args.csv.as_ref(), || {
            Ok(table_file::sweeps(&[(
                wheel.name().to_owned(),
                &study.sweep,
            )]))
        })?;
        output.file_if_asked(args.plot.as_ref(), || {
            drawn(figures::window(&car.title, study, &band).svg(Size::WIDE))
        })?;
        output.file_if_asked(args.page.as_ref(), || {
            Ok(page::window(&reading, study, &band, system)?)
        })?;
        output.result(&if output.wants_json() {
            json::window(&reading, study, &band)
        } else {
            text::window(&reading, study, &band).printed(&reading)
        })?;
    }
    Ok(())
}

/// The launches of each wheel under scatter.
fn launch_tables(
    studies: &[WheelStudy],
    progress: &dyn Progress,
) -> Result<Vec<LaunchTable>, StudyError> {
    let rigs: Vec<ScatteredRig> = studies
        .iter()
        .map(|study| ScatteredRig::new(study.rig.clone()))
        .collect();
    let Some(law) = rigs.first().map(|rig| rig.law) else {
        return Ok(Vec::new());
    };
    let points = Draws::new(DEFAULT_DRAWS, DEFAULT_SEED).points(&law);
    tables(&rigs, &points, Design::for_law(&law), progress)
}
