//! `flyheft launch`.

use super::failure::Failure;
use super::options::{Common, flywheel, launch_failure, launch_speed, within_engine};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::{Args, ValueEnum};
use flyheft::car::track::Mark;
use flyheft::car::{Car, Flywheel};
use flyheft::launch::{Attempt, Rig, run as run_launch, trace};
use flyheft::sheet::trace_file;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, table_file, text};
use flyheft::study::compare::study_wheels;
use flyheft::study::logged_run;
use std::path::PathBuf;

/// Points of a trace are no further apart than this, s.
pub(super) const TRACE_EVERY_S: f64 = 0.005;

#[derive(Debug, Args)]
pub(super) struct LaunchArgs {
    #[command(flatten)]
    common: Common,
    /// The flywheel; without it, the one that is fitted
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    /// Launch speed, rpm; without it, the one of --trace, else this flywheel's quickest
    #[arg(long, value_name = "RPM", value_parser = launch_speed)]
    at: Option<f64>,
    /// Last mark, feet
    #[arg(long, value_enum, default_value_t = To::Ft1320)]
    to: To,
    /// Lay a logged run (CSV: time_s and any of engine_rpm, input_rpm, wheel_rpm, speed_kmh) over the model's
    #[arg(long, value_name = "LOG.csv")]
    trace: Option<PathBuf>,
    /// Write the launch over time as CSV
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Draw engine and input-shaft speed over time, the log of --trace with them
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
}

/// The last mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum To {
    #[value(name = "60")]
    Ft60,
    #[value(name = "330")]
    Ft330,
    #[value(name = "660")]
    Ft660,
    #[value(name = "1000")]
    Ft1000,
    #[value(name = "1320")]
    Ft1320,
}

impl From<To> for Mark {
    fn from(to: To) -> Self {
        match to {
            To::Ft60 => Self::Ft60,
            To::Ft330 => Self::Ft330,
            To::Ft660 => Self::Ft660,
            To::Ft1000 => Self::Ft1000,
            To::Ft1320 => Self::Ft1320,
        }
    }
}

pub(super) fn run(args: &LaunchArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[&args.csv, &args.plot])?;
    let system = args.common.units.into();
    let reading = output.read(&args.common.sheet, system)?;
    let car = &reading.car;
    let wheel = flywheel(car, args.wheel.as_deref())?;
    let rig = Rig::new(car, wheel);
    let log = args.trace.as_deref().map(trace_file::read).transpose()?;
    let speed = match (args.at, &log) {
        (Some(speed), _) => speed,
        (None, Some(log)) => {
            logged_run::launch_speed_rad_s(log, &rig).ok_or_else(no_launch_speed)?
        }
        (None, None) => quickest_speed(car, wheel, output.quiet())?,
    };
    within_engine(car, speed)?;
    let (attempt, to) = (Attempt::from_speed(speed), args.to.into());
    let launch = run_launch(&rig, &attempt, to).map_err(launch_failure)?;
    let points = if log.is_some() || args.csv.is_some() || args.plot.is_some() {
        trace(&rig, &attempt, to, TRACE_EVERY_S).map_err(launch_failure)?
    } else {
        Vec::new()
    };
    let overlay = match &log {
        Some(log) => {
            let found = logged_run::overlay(log, &rig, &launch, &points);
            Some(found.ok_or_else(no_first_bite)?)
        }
        None => None,
    };
    output.file_if_asked(args.plot.as_ref(), || {
        let chart = match (&log, &overlay) {
            (Some(log), Some(overlay)) => {
                figures::log_over_model(&car.title, log, overlay, &points)
            }
            _ => figures::engine_speed(&car.title, &[(wheel.name().to_owned(), points.clone())]),
        };
        drawn(chart.svg(Size::WIDE))
    })?;
    output.file_if_asked(args.csv.as_ref(), || {
        Ok(table_file::traces(&[(
            wheel.name().to_owned(),
            points.clone(),
        )]))
    })?;
    output.result(&if output.wants_json() {
        json::launch(&reading, &launch, to, overlay.as_ref())
    } else {
        text::launch(&reading, &launch, to, overlay.as_ref(), system)
    })
}

fn no_launch_speed() -> Failure {
    Failure::said(
        "the log does not tell the launch speed",
        "it takes engine speed from half a second before first bite on, and input_rpm, wheel_rpm or car speed to tell first bite by; or say the launch speed with --at",
    )
}

fn no_first_bite() -> Failure {
    Failure::said(
        "first bite cannot be found in the log",
        "it takes input_rpm, wheel_rpm or the car's speed, from before the car moves until it does more than 2 m/s",
    )
}

/// A drawn chart, or that it could not be drawn.
pub(super) fn drawn(
    svg: Result<String, flyheft::shown::plot::ChartError>,
) -> Result<String, Failure> {
    svg.map_err(|error| Failure::said(error.to_string(), ""))
}

fn quickest_speed(car: &Car, wheel: &Flywheel, quiet: bool) -> Result<f64, Failure> {
    let studies = study_wheels(car, &[wheel], &TerminalProgress::new(quiet))?;
    studies
        .first()
        .and_then(|study| study.best.as_ref())
        .map(|best| best.quickest.launch_speed_rad_s)
        .ok_or_else(|| {
            Failure::said(
                format!(
                    "with \"{}\" no launch speed of the range gets the car to 60 ft",
                    wheel.name()
                ),
                "say --at with a launch speed to see what happens",
            )
        })
}
