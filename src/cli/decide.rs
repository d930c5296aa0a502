//! `flyheft decide`: which flywheel to start with.

use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, TrackOption};
use super::output::Output;
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, page, text};
use flyheft::study::decide::drawn::{DEFAULT_SHEETS, FEWEST_SHEETS, MOST_SHEETS};
use flyheft::study::decide::who_wins::who_wins;
use flyheft::study::decide::{Decision, Question, decide};
use flyheft::study::scatter::draws::DEFAULT_SEED;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct DecideArgs {
    #[command(flatten)]
    common: Common,
    #[command(flatten)]
    track: TrackOption,
    /// Sheets drawn from what the sheet does not know for sure
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SHEETS, value_parser = sheets)]
    sheets: usize,
    /// Seed of the draws: the same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    seed: u32,
    /// Draw what each flywheel loses, on average and in the worst 1 in 20
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Draw mean time over the metal left
    #[arg(long, value_name = "FILE.svg")]
    plot_metal: Option<PathBuf>,
    /// Draw where to aim over the tyre's grip
    #[arg(long, value_name = "FILE.svg")]
    plot_aim: Option<PathBuf>,
    /// Draw who wins over the two inputs that matter most, the sheet's doubt on it
    #[arg(long, value_name = "FILE.svg")]
    map: Option<PathBuf>,
    /// Write it all with its charts as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

fn sheets(text: &str) -> Result<usize, String> {
    let range = format!("a whole number from {FEWEST_SHEETS} to {MOST_SHEETS}");
    let number: usize = text.parse().map_err(|_| range.clone())?;
    (FEWEST_SHEETS..=MOST_SHEETS)
        .contains(&number)
        .then_some(number)
        .ok_or(range)
}

pub(super) fn run(args: &DecideArgs) -> Result<(), Failure> {
    let output = Output::open(
        &args.common.output,
        &[
            &args.plot,
            &args.plot_metal,
            &args.plot_aim,
            &args.map,
            &args.page,
        ],
    )?;
    let system = args.common.units.into();
    let reading = output.read_on(&args.common.sheet, args.track.track.as_deref(), system)?;
    let question = Question {
        sheets: args.sheets,
        seed: args.seed,
        ..Question::of(&reading.car)
    };
    let progress = TerminalProgress::new(output.quiet());
    let decision = decide(&reading.doubted, question, &progress)?
        .ok_or_else(|| Failure::said("the sheet has no flywheel", "add one to decide about"))?;
    let map = if args.map.is_some() || args.page.is_some() {
        who_wins(&reading.doubted, &decision, &progress)?
    } else {
        None
    };
    drop(progress);
    if let Some(path) = &args.map {
        let chart = map
            .as_ref()
            .and_then(|map| figures::who_wins(&reading.car.title, &decision, &reading.doubted, map))
            .ok_or_else(|| {
                Failure::said(
                    "fewer than two inputs are in doubt: there is no map to draw",
                    "leave --map out",
                )
            })?;
        output.file(path, &drawn(chart.svg(Size::WIDE))?);
    }
    charts(args, &output, &reading.car.title, &decision)?;
    output.file_if_asked(args.page.as_ref(), || {
        Ok(page::decide(&reading, &decision, map.as_ref(), system)?)
    })?;
    output.result(&if output.wants_json() {
        json::decide(&reading, &decision)
    } else {
        text::decide(&reading, &decision, system).printed(&reading)
    })
}

fn charts(
    args: &DecideArgs,
    output: &Output,
    title: &str,
    decision: &Decision,
) -> Result<(), Failure> {
    output.file_if_asked(args.plot.as_ref(), || {
        drawn(figures::losses(title, decision).svg(Size::WIDE))
    })?;
    if let (Some(path), Some(metal)) = (&args.plot_metal, &decision.metal_left) {
        let chart = figures::metal_left(title, metal);
        output.file(path, &drawn(chart.svg(Size::WIDE))?);
    }
    if let Some(path) = &args.plot_aim {
        let grip = decision
            .find_out_first
            .iter()
            .find(|found| found.key == "tyre.grip");
        let chart =
            grip.and_then(|grip| figures::aim_over_input(title, decision, grip.input, "Tyre grip"));
        let chart = chart.ok_or_else(|| {
            Failure::said(
                "the tyre's grip is not in doubt: there is one aim, and nothing to draw",
                "leave --plot-aim out, or say in the sheet how far off the grip may be",
            )
        })?;
        output.file(path, &drawn(chart.svg(Size::WIDE))?);
    }
    Ok(())
}
