//! `flyheft compare`: the main job.

use super::failure::Failure;
use super::launch::{TRACE_EVERY_S, drawn};
use super::options::{Common, DrawOptions, TrackOption, launch_failure};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::car::Car;
use flyheft::launch::trace::TracePoint;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, page, table_file, text};
use flyheft::study::decide::{Question, decide};
use flyheft::study::map::over_inertia;
use flyheft::study::{Comparison, compare};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct CompareArgs {
    #[command(flatten)]
    common: Common,
    #[command(flatten)]
    track: TrackOption,
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
    /// Draw the best aim over the release time, one line a flywheel, where the sheet gives release_range
    #[arg(long, value_name = "FILE.svg")]
    plot_release: Option<PathBuf>,
    /// Draw a map of mean sixty-foot time over launch speed and crank-side inertia
    #[arg(long, value_name = "FILE.svg")]
    map: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

pub(super) fn run(args: &CompareArgs) -> Result<(), Failure> {
    let output = Output::open(
        &args.common.output,
        &[
            &args.csv,
            &args.plot,
            &args.plot_engine,
            &args.plot_frontier,
            &args.plot_release,
            &args.map,
            &args.page,
        ],
    )?;
    let system = args.common.units.into();
    let reading = output.read_on(&args.common.sheet, args.track.track.as_deref(), system)?;
    let car = &reading.car;
    let progress = TerminalProgress::new(output.quiet());
    let comparison = compare(car, &args.draws.options(), &progress)?;
    let map = args
        .map
        .as_ref()
        .map(|_| over_inertia(car, &progress))
        .transpose()?;
    let question = Question::in_short(car, args.draws.seed);
    let decision = decide(&reading.doubted, question, &progress)?;
    drop(progress);
    tables_and_charts(args, &output, car, &comparison)?;
    if let (Some(path), Some(map)) = (&args.map, &map) {
        output.file(
            path,
            &drawn(figures::map_over_inertia(&car.title, map).svg(Size::WIDE))?,
        );
    }
    output.file_if_asked(args.page.as_ref(), || {
        Ok(page::compare(
            &reading,
            &comparison,
            decision.as_ref(),
            &over_time(&comparison)?,
            system,
        )?)
    })?;
    output.result(&if output.wants_json() {
        json::compare(&reading, &comparison, decision.as_ref())
    } else {
        text::compare(&comparison, decision.as_ref(), system).printed(&reading)
    })
}

/// Each flywheel from its quickest launch speed.
fn over_time(comparison: &Comparison) -> Result<Vec<(String, Vec<TracePoint>)>, Failure> {
    comparison
        .quickest_over_time(TRACE_EVERY_S)
        .map_err(launch_failure)
}

/// The files that come of the comparison alone.
fn tables_and_charts(
    args: &CompareArgs,
    output: &Output,
    car: &Car,
    comparison: &Comparison,
) -> Result<(), Failure> {
    output.file_if_asked(args.csv.as_ref(), || {
        let sweeps: Vec<_> = comparison
            .wheels()
            .iter()
            .map(|wheel| (wheel.name().to_owned(), &wheel.study.sweep))
            .collect();
        Ok(table_file::sweeps(&sweeps))
    })?;
    output.file_if_asked(args.plot.as_ref(), || {
        let chart = figures::sixty_foot_over_speed(&car.title, comparison);
        drawn(chart.svg(Size::WIDE))
    })?;
    output.file_if_asked(args.plot_engine.as_ref(), || {
        drawn(figures::engine_speed(&car.title, &over_time(comparison)?).svg(Size::WIDE))
    })?;
    output.file_if_asked(args.plot_frontier.as_ref(), || {
        drawn(figures::frontier(&car.title, comparison).svg(Size::WIDE))
    })?;
    output.chart_if_asked(args.plot_release.as_ref(), &no_release_range(car), || {
        figures::aim_over_release(&car.title, comparison)
            .map(|chart| drawn(chart.svg(Size::WIDE)))
            .transpose()
    })
}

/// Why there is no chart over the release time.
fn no_release_range(car: &Car) -> Vec<String> {
    let given = car.driver.release_range.is_some();
    (!given)
        .then(|| {
            String::from(
                "the best aim over the release time: release_range is not given in [driver]",
            )
        })
        .into_iter()
        .collect()
}
