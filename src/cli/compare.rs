//! `flyheft compare`: the main job.

use super::desk::Desk;
use super::failure::Failure;
use super::launch::{TRACE_EVERY_S, drawn};
use super::options::{Common, DrawOptions, launch_failure};
use super::progress::Watch;
use clap::Args;
use flyheft::car::Flywheel;
use flyheft::car::track::Mark;
use flyheft::launch::trace::TracePoint;
use flyheft::launch::{Attempt, trace};
use flyheft::shown::chart::Size;
use flyheft::shown::{charts, json, page, table_file, text};
use flyheft::study::compare::{WheelStudy, study_wheels};
use flyheft::study::map::over_inertia;
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct Asked {
    #[command(flatten)]
    common: Common,
    #[command(flatten)]
    draws: DrawOptions,
    /// Write sixty-foot time over launch speed as CSV, one column a flywheel
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Draw sixty-foot time over launch speed, windows marked
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Draw engine and input-shaft speed over time, each flywheel from its quickest launch speed
    #[arg(long, value_name = "FILE.svg")]
    plot_engine: Option<PathBuf>,
    /// Draw quick against steady: mean against spread, each flywheel at its own aim
    #[arg(long, value_name = "FILE.svg")]
    plot_frontier: Option<PathBuf>,
    /// Draw a map of mean sixty-foot time over launch speed and crank-side inertia
    #[arg(long, value_name = "FILE.svg")]
    map: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

pub(super) fn run(asked: &Asked) -> Result<(), Failure> {
    let desk = Desk::open(
        &asked.common.output,
        &[
            &asked.csv,
            &asked.plot,
            &asked.plot_engine,
            &asked.plot_frontier,
            &asked.map,
            &asked.page,
        ],
    )?;
    let system = asked.common.units.into();
    let reading = desk.read(&asked.common.sheet, system)?;
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    let watch = Watch::new(desk.quiet());
    let studies = study_wheels(car, &wheels, &watch)?;
    let draws = Draws::new(asked.draws.draws, asked.draws.seed);
    let scatter = study_scatter(car, &studies, draws, &watch)?;
    let map = asked
        .map
        .as_ref()
        .map(|_| over_inertia(car, &watch))
        .transpose()?;
    drop(watch);
    desk.file_if_asked(asked.csv.as_ref(), || {
        let sweeps: Vec<_> = studies
            .iter()
            .map(|study| (study.wheel.name().to_owned(), &study.sweep))
            .collect();
        Ok(table_file::sweeps(&sweeps))
    })?;
    desk.file_if_asked(asked.plot.as_ref(), || {
        let chart = charts::sixty_foot_over_speed(&car.title, &studies, Some(&scatter));
        drawn(chart.svg(Size::WIDE))
    })?;
    desk.file_if_asked(asked.plot_engine.as_ref(), || {
        drawn(charts::engine_speed(&car.title, &traces(&studies)?).svg(Size::WIDE))
    })?;
    desk.file_if_asked(asked.plot_frontier.as_ref(), || {
        drawn(charts::frontier(&car.title, &studies, &scatter).svg(Size::WIDE))
    })?;
    if let (Some(path), Some(map)) = (&asked.map, &map) {
        desk.file(
            path,
            &drawn(charts::map_over_inertia(&car.title, map).svg(Size::WIDE))?,
        )?;
    }
    desk.file_if_asked(asked.page.as_ref(), || {
        let traces = traces(&studies)?;
        Ok(page::compare(
            &reading, &studies, &scatter, &traces, system,
        )?)
    })?;
    desk.result(&if desk.wants_json() {
        json::compare(&reading, &studies, &scatter)
    } else {
        text::compare(&reading, &studies, &scatter, system).printed(&reading, system)
    })
}

/// Every flywheel's quickest launch over time, to 60 ft.
fn traces(studies: &[WheelStudy]) -> Result<Vec<(String, Vec<TracePoint>)>, Failure> {
    studies
        .iter()
        .filter_map(|study| Some((study, study.best.as_ref()?)))
        .map(|(study, best)| {
            let attempt = Attempt::from_speed(best.quickest.launch_speed_rad_s);
            let points =
                trace(&study.rig, &attempt, Mark::Ft60, TRACE_EVERY_S).map_err(launch_failure)?;
            Ok((study.wheel.name().to_owned(), points))
        })
        .collect()
}
