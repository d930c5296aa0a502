//! `flyheft window`.

use super::desk::Desk;
use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, flywheel};
use super::progress::Watch;
use clap::Args;
use flyheft::shown::chart::Size;
use flyheft::shown::{charts, json, page, table_file, text};
use flyheft::study::compare::study_wheels;
use flyheft::study::map::over_release;
use flyheft::study::scatter::band::band;
use flyheft::study::scatter::chances::ScatteredRig;
use flyheft::study::scatter::mean_curve::MeanCurve;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct Asked {
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

pub(super) fn run(asked: &Asked) -> Result<(), Failure> {
    let desk = Desk::open(
        &asked.common.output,
        &[&asked.csv, &asked.plot, &asked.map, &asked.page],
    )?;
    let system = asked.common.units.into();
    let reading = desk.read(&asked.common.sheet, system)?;
    let car = &reading.car;
    let wheel = flywheel(car, asked.wheel.as_deref())?;
    let watch = Watch::new(desk.quiet());
    let studies = study_wheels(car, &[wheel], &watch)?;
    let rigs: Vec<ScatteredRig> = studies
        .iter()
        .map(|study| ScatteredRig::new(study.rig.clone()))
        .collect();
    let curves = MeanCurve::build_all(&rigs, &watch)?;
    let map = asked
        .map
        .as_ref()
        .map(|_| over_release(car, wheel, &watch))
        .transpose()?;
    drop(watch);
    if let (Some(path), Some(map)) = (&asked.map, &map) {
        desk.file(
            path,
            &drawn(charts::map_over_release(&car.title, map).svg(Size::WIDE))?,
        )?;
    }
    for ((study, rig), curve) in studies.iter().zip(&rigs).zip(&curves) {
        let band = band(curve, rig, &car.driver.launch_range);
        desk.file_if_asked(asked.csv.as_ref(), || {
            Ok(table_file::sweeps(&[(
                wheel.name().to_owned(),
                &study.sweep,
            )]))
        })?;
        desk.file_if_asked(asked.plot.as_ref(), || {
            drawn(charts::window(&car.title, study, &band).svg(Size::WIDE))
        })?;
        desk.file_if_asked(asked.page.as_ref(), || {
            Ok(page::window(&reading, study, &band, system)?)
        })?;
        desk.result(&if desk.wants_json() {
            json::window(&reading, study, &band)
        } else {
            text::window(&reading, study, &band).printed(&reading, system)
        })?;
    }
    Ok(())
}
