//! Options that commands share.

use super::failure::Failure;
use clap::{Args, ValueEnum};
use flyheft::car::{Car, Flywheel};
use flyheft::launch::LaunchError;
use flyheft::sheet::keys;
use flyheft::study::scatter::draws::{DEFAULT_DRAWS, DEFAULT_SEED, FEWEST_DRAWS, MOST_DRAWS};
use flyheft::study::{Options, StudyError};
use flyheft::units::{Kind, System, parse};
use std::path::PathBuf;

/// The sheet, and how its results are shown.
#[derive(Debug, Args)]
pub(super) struct Common {
    /// The build sheet (TOML); `flyheft new car.toml` writes one to start from
    pub(super) sheet: PathBuf,
    #[command(flatten)]
    pub(super) output: OutputOptions,
    /// Units to show results in
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub(super) units: Units,
}

/// Another strip for the same car.
#[derive(Debug, Args)]
pub(super) struct TrackOption {
    /// Take [track] from this file (TOML) in place of the sheet's own
    #[arg(long, value_name = "FILE.toml")]
    pub(super) track: Option<PathBuf>,
}

/// Where results go.
#[derive(Debug, Args)]
pub(super) struct OutputOptions {
    /// One JSON document in place of tables and sentences
    #[arg(long)]
    pub(super) json: bool,
    /// Write the result to this file instead of standard output
    #[arg(short, long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long)]
    pub(super) force: bool,
    /// No progress, no warnings about the sheet on standard error
    #[arg(short, long)]
    pub(super) quiet: bool,
}

/// Units to show results in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// kg, mm, N·m, kg·m², km/h
    Metric,
    /// lb, in, lbf·ft, lb·ft², mph
    Imperial,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Imperial => Self::Imperial,
        }
    }
}

/// How many launches a driver's scatter is drawn with.
#[derive(Debug, Args)]
pub(super) struct DrawOptions {
    /// Launches drawn for each flywheel, the same draws for all
    #[arg(long, value_name = "N", default_value_t = DEFAULT_DRAWS, value_parser = draws)]
    pub(super) draws: usize,
    /// Seed of the draws: the same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub(super) seed: u32,
}

impl DrawOptions {
    /// What is asked of a comparison.
    pub(super) fn options(&self) -> Options {
        Options {
            draws: self.draws,
            seed: self.seed,
        }
    }
}

fn draws(text: &str) -> Result<usize, String> {
    let range = format!("a whole number from {FEWEST_DRAWS} to {MOST_DRAWS}");
    let number: usize = text.parse().map_err(|_| range.clone())?;
    (FEWEST_DRAWS..=MOST_DRAWS)
        .contains(&number)
        .then_some(number)
        .ok_or(range)
}

/// A value (SI) that is held to the range of the sheet's key for the same thing.
pub(super) fn as_in_a_sheet(key: &str, si: f64) -> Result<f64, String> {
    match keys::find(key) {
        Some(key) => key.held(si),
        None => Ok(si),
    }
}

/// A launch speed in rad/s from a bare number in rpm or a number with its unit.
pub(super) fn launch_speed(text: &str) -> Result<f64, String> {
    let speed = match text.parse::<f64>() {
        Ok(rpm) => rpm * flyheft::car::constants::RAD_S_PER_RPM,
        Err(_) => parse(text, Kind::AngularSpeed)
            .map_err(|error| format!("{error}; {}", error.hint(Kind::AngularSpeed)))?,
    };
    as_in_a_sheet("driver.launch_range", speed)
}

/// The flywheel asked for, or the fitted one.
pub(super) fn flywheel<'c>(car: &'c Car, args: Option<&str>) -> Result<&'c Flywheel, Failure> {
    let wheels = &car.flywheels;
    let Some(name) = args else {
        return wheels
            .fitted()
            .ok_or_else(|| Failure::said("no flywheel is fitted", "name one with --wheel"));
    };
    wheels.named(name).ok_or_else(|| {
        let names: Vec<String> = wheels
            .all()
            .iter()
            .map(|wheel| format!("\"{}\"", wheel.name()))
            .collect();
        Failure::said(
            format!("the sheet has no flywheel called \"{name}\""),
            format!("its flywheels are {}", names.join(", ")),
        )
    })
}

/// Refuses a launch speed that the engine cannot hold.
pub(super) fn within_engine(car: &Car, speed_rad_s: f64) -> Result<(), Failure> {
    let (stall, limiter) = (car.engine.stall_rad_s.get(), car.engine.limiter_rad_s.get());
    if (stall..=limiter).contains(&speed_rad_s) {
        return Ok(());
    }
    let show = |speed: f64| System::Metric.show(speed, Kind::AngularSpeed);
    Err(Failure::said(
        format!("no launch from {}", show(speed_rad_s)),
        format!(
            "the engine runs from its stall speed, {}, to its limiter, {}",
            show(stall),
            show(limiter)
        ),
    ))
}

/// A launch that could not be computed, as a failure.
pub(super) fn launch_failure(error: LaunchError) -> Failure {
    StudyError::from(error).into()
}
