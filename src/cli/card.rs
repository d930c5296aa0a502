//! `flyheft card`: the driver's page.

use super::failure::Failure;
use super::options::{Common, DrawOptions, TrackOption};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::car::Car;
use flyheft::sheet::Reading;
use flyheft::shown::page::{CardWork, card};
use flyheft::shown::{json, text};
use flyheft::study::card::study_card;
use flyheft::study::cutting::rules_for;
use flyheft::study::decide::{Decision, Question, decide};
use flyheft::study::plan::Planned;
use flyheft::study::play::study_play;
use flyheft::study::{Options, Progress, compare};
use flyheft::units::System;

#[derive(Debug, Args)]
pub(super) struct CardArgs {
    #[command(flatten)]
    common: Common,
    #[command(flatten)]
    track: TrackOption,
    #[command(flatten)]
    draws: DrawOptions,
}

pub(super) fn run(args: &CardArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[])?;
    let system = args.common.units.into();
    let reading = output.read_on(&args.common.sheet, args.track.track.as_deref(), system)?;
    let progress = TerminalProgress::new(output.quiet());
    let wants_json = output.wants_json();
    let told = worked_out(&reading, &args.draws.options(), system, &progress, |work| {
        Ok(if wants_json {
            json::card(work)
        } else {
            card(work)?
        })
    })?;
    drop(progress);
    output.result(&told)
}

/// Works out all that the driver's page is made from, and has it told.
pub(super) fn worked_out<R>(
    reading: &Reading,
    options: &Options,
    system: System,
    progress: &dyn Progress,
    tell: impl FnOnce(&CardWork) -> Result<R, Failure>,
) -> Result<R, Failure> {
    let car = &reading.car;
    let comparison = compare(car, options, progress)?;
    let question = Question::in_short(car, options.seed);
    let decision = decide(&reading.doubted, question, progress)?;
    let start = decision.as_ref().map(Decision::wheel_to_use);
    let studied = study_card(&comparison, start, progress)?;
    let play = study_play(&comparison, progress)?;
    let plans = sheets_plans(car, system)?;
    let plans = plans
        .iter()
        .map(|planned| {
            Ok((
                planned,
                planned.launch(&reading.doubted, options, progress)?,
            ))
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    tell(&CardWork {
        reading,
        comparison: &comparison,
        decision: decision.as_ref(),
        card: studied.as_ref(),
        play: Some(&play),
        plans: &plans,
        system,
    })
}

/// The cutting plans that the sheet gives, made.
fn sheets_plans(car: &Car, system: System) -> Result<Vec<Planned<'_>>, Failure> {
    car.flywheels
        .all()
        .iter()
        .filter(|wheel| !wheel.machining.passes.is_empty())
        .map(|wheel| {
            let rules = rules_for(car, wheel, None)
                .ok_or_else(|| Failure::said("the shop's usual rules are out of range", ""))?;
            Planned::in_stages(car, wheel, &wheel.machining.passes, None, rules).map_err(|error| {
                let (wrong, right) = text::cutting_error(&error, None, system);
                Failure::said(format!("\"{}\": {wrong}", wheel.name()), right)
            })
        })
        .collect()
}
