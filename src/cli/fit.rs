//! `flyheft fit`: what time slips say of the unknowns.

use super::failure::Failure;
use super::options::{OutputOptions, Units};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::sheet::fitted_sheet::{Learnt, fitted_sheet};
use flyheft::sheet::{Reading, slips};
use flyheft::shown::{FitWork, json, page, table_file, text};
use flyheft::study::decide::{Decision, Question, decide};
use flyheft::study::fit::logs::{logs_over_model, with_log};
use flyheft::study::fit::next_run::next_run;
use flyheft::study::fit::{Fit, FitError, FitQuestion, fit};
use flyheft::study::scatter::draws::DEFAULT_SEED;
use flyheft::study::{Progress, StudyError};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub(super) struct FitArgs {
    /// The build sheet (TOML)
    sheet: PathBuf,
    /// The time slips (CSV), one run a row
    slips: PathBuf,
    /// A value to learn, by its key, such as tyre.grip; may come again. Without it: the usual ones
    #[arg(long = "unknown", value_name = "KEY")]
    unknowns: Vec<String>,
    /// Write a sheet with what was learnt, beside the old one, and its draws beside it
    #[arg(short, long, value_name = "SHEET.toml")]
    out: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
    /// One JSON document in place of tables and sentences
    #[arg(long)]
    json: bool,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
    /// No progress, no warnings about the sheet on standard error
    #[arg(short, long)]
    quiet: bool,
    /// Units to show results in
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    units: Units,
    /// Seed of the draws: the same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    seed: u32,
}

pub(super) fn run(args: &FitArgs) -> Result<(), Failure> {
    let options = OutputOptions {
        json: args.json,
        out: None,
        force: args.force,
        quiet: args.quiet,
    };
    let draws = args.out.as_deref().map(draws_beside);
    let output = Output::open(&options, &[&args.out, &draws, &args.page])?;
    if let Some(out) = &args.out {
        beside(&args.sheet, out)?;
    }
    let system = args.units.into();
    let reading = output.read(&args.sheet, system)?;
    let slips = slips::read(&args.slips, &reading.car)?;
    output.spare(&slips.files)?;
    let progress = TerminalProgress::new(args.quiet);
    let question = FitQuestion::new(args.unknowns.clone(), args.seed);
    let work = work(&question, &reading, &slips.runs, &progress)?;
    drop(progress);
    if let (Some(out), Some(draws)) = (&args.out, &draws) {
        output.file(out, &new_sheet(args, &reading, &work.fit, draws)?);
        output.file(draws, &table_file::fitted_draws(&work.fit));
    }
    output.file_if_asked(args.page.as_ref(), || {
        let logs = logs_over_model(&work.fit).map_err(StudyError::from)?;
        Ok(page::fit(&reading, &work, &logs, system)?)
    })?;
    output.result(&if args.json {
        json::fit(&reading, &work)
    } else {
        text::fit(&reading, &work, system).printed(&reading)
    })
}

/// What slips say, and what that does to the decision.
pub(super) fn work(
    question: &FitQuestion,
    reading: &Reading,
    runs: &[flyheft::car::slip::Slip],
    progress: &dyn Progress,
) -> Result<FitWork, Failure> {
    let runs = runs
        .iter()
        .map(|slip| with_log(&reading.car, slip).map_err(StudyError::from))
        .collect::<Result<Vec<_>, _>>()?;
    if let Some(silent) = runs.iter().find(|slip| slip.figures.is_empty()) {
        return Err(Failure::said(
            format!("row {}: nothing can be found in its log", silent.row),
            "give a figure of the slip too, such as its sixty_foot_s",
        ));
    }
    let fit = fit(&reading.doubted, &runs, question, progress).map_err(|error| failure(&error))?;
    let asked = Question::in_short(&reading.car, question.seed);
    let decided = |doubted| -> Result<Decision, Failure> {
        decide(doubted, asked, progress)?
            .ok_or_else(|| Failure::said("the sheet has no flywheel", "add one to decide about"))
    };
    let (before, after) = (decided(&reading.doubted)?, decided(&fit.doubted)?);
    let next = match &after.verdict.runner_up {
        Some(other) => next_run(&fit, (after.verdict.start_with, other.wheel), progress)?,
        None => None,
    };
    Ok(FitWork {
        fit,
        before,
        after,
        next,
    })
}

fn failure(error: &FitError) -> Failure {
    let right = match error {
        FitError::Study(_) => "",
        FitError::Implausible(_) => {
            "look at the row again; a slip of another car, or a time that holds more than the run, cannot be fitted"
        }
        FitError::NotInDoubt(_) => "flyheft check lists what is in doubt, each with its key",
        FitError::NothingInDoubt => {
            "values said to be exact are not fitted; leave out the word exactly"
        }
        FitError::NoSlips => "one run a row, such as launch_rpm and sixty_foot_s",
        FitError::OutOfReach { .. } => {
            "with the sheet's own values the car stalls or takes over a minute there; look at launch speed, clutch and grip first"
        }
        FitError::Search(_) | FitError::NoDraws => {
            "look at the slips one by one with flyheft launch; fewer unknowns (--unknown) are found more easily"
        }
    };
    Failure::said(error.to_string(), right)
}

/// Name of the file of draws that goes with a sheet.
fn draws_beside(sheet: &Path) -> PathBuf {
    let stem = sheet.file_stem().unwrap_or_default().to_string_lossy();
    sheet.with_file_name(format!("{stem}-fitted.csv"))
}

/// Refuses a sheet that would not lie beside the old one: its files are looked for there.
fn beside(old: &Path, new: &Path) -> Result<(), Failure> {
    let folder = |path: &Path| {
        let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
        folder.unwrap_or(Path::new(".")).canonicalize().ok()
    };
    if folder(old).is_some() && folder(old) == folder(new) {
        return Ok(());
    }
    Err(Failure::said(
        format!("{} does not lie beside {}", new.display(), old.display()),
        "the new sheet names the same torque file as the old one: write it into the same folder",
    ))
}

fn new_sheet(
    args: &FitArgs,
    reading: &Reading,
    fit: &Fit,
    draws: &Path,
) -> Result<String, Failure> {
    let learnt: Vec<Learnt> = fit
        .unknowns
        .iter()
        .map(|unknown| Learnt {
            key: unknown.input.key.clone(),
            kind: reading.kind_of(&unknown.input.key),
            value: unknown.posterior,
            half_width: (unknown.interval.1 - unknown.interval.0) / 2.0,
        })
        .collect();
    let old = std::fs::read_to_string(&args.sheet).map_err(|error| {
        Failure::said(
            format!("{} cannot be read again: {error}", args.sheet.display()),
            "",
        )
    })?;
    let name = |path: &Path| {
        path.file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned()
    };
    let source = format!("{} ({} runs)", name(&args.slips), fit.runs.len());
    fitted_sheet(&old, &learnt, &name(draws), &source)
        .map_err(|error| Failure::said(error.to_string(), "write the values in by hand"))
}
