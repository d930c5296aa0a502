//! `flyheft inertia`: the ledger.

use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, flywheel};
use super::output::Output;
use clap::Args;
use flyheft::car::Flywheel;
use flyheft::shown::drawing::HalfSection;
use flyheft::shown::figures::Stressed;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, text};
use flyheft::study::ledger::{Ledger, ledger};
use flyheft::units::System;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct InertiaArgs {
    #[command(flatten)]
    common: Common,
    /// One flywheel; without it, all of them
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    /// Draw the half section of the flywheel (with --wheel, or the one that is fitted)
    #[arg(long, value_name = "FILE.svg")]
    draw: Option<PathBuf>,
    /// Draw stress over radius for each flywheel that can be checked
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
}

pub(super) fn run(args: &InertiaArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[&args.plot, &args.draw])?;
    let system = args.common.units.into();
    let reading = output.read(&args.common.sheet, system)?;
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = match &args.wheel {
        Some(name) => vec![flywheel(car, Some(name))?],
        None => car.flywheels.all().iter().collect(),
    };
    let ledger = ledger(car, &wheels);
    let left_out = ledger.wheels.iter().filter_map(|wheel| {
        let refusal = wheel.disc.refusal()?;
        Some(format!("\"{}\": {refusal}", wheel.wheel.name()))
    });
    let left_out: Vec<String> = left_out.collect();
    output.chart_if_asked(args.plot.as_ref(), &left_out, || {
        stress_chart(&ledger, system)
    })?;
    output.file_if_asked(args.draw.as_ref(), || {
        drawing(&ledger, args.wheel.as_deref(), system)
    })?;
    output.result(&if output.wants_json() {
        json::inertia(&reading, &ledger)
    } else {
        text::inertia(&reading, &ledger, system).printed(&reading)
    })
}

fn drawing(ledger: &Ledger, args: Option<&str>, system: System) -> Result<String, Failure> {
    let chosen = flywheel(ledger.car, args)?;
    let drawn = ledger
        .wheels
        .iter()
        .filter(|wheel| wheel.wheel.name() == chosen.name())
        .find_map(|wheel| Some((wheel, wheel.wheel.part.built_up()?)));
    let Some((wheel, part)) = drawn else {
        return Err(Failure::said(
            format!(
                "\"{}\" is not described by its sections, so there is no shape to draw",
                chosen.name()
            ),
            "name another with --wheel, or measure it and give sections",
        ));
    };
    let half = HalfSection {
        title: &ledger.car.title,
        name: wheel.wheel.name(),
        part,
        cuts: Vec::new(),
        disc: &wheel.disc,
        disc_after: None,
    };
    half.svg(system)
        .map_or_else(|| Err(super::cut::overlapping()), super::launch::drawn)
}

fn stress_chart(ledger: &Ledger, system: System) -> Result<Option<String>, Failure> {
    let stressed: Vec<Stressed> = ledger
        .wheels
        .iter()
        .filter_map(|wheel| {
            Some(Stressed {
                name: wheel.wheel.name().to_owned(),
                material: wheel.wheel.part.built_up()?.material(),
                check: wheel.disc.check()?,
            })
        })
        .collect();
    if stressed.is_empty() {
        return Ok(None);
    }
    drawn(figures::stress(&ledger.car.title, &stressed, system).svg(Size::WIDE)).map(Some)
}
