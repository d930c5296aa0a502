//! `flyheft cut`: what machining takes off, and how deep to go for a target.

use super::failure::Failure;
use super::launch::drawn;
use super::options::{Common, DrawOptions, as_in_a_sheet, flywheel};
use super::output::Output;
use super::passes::{AskedPass, AskedPasses, band_alone};
use super::progress::TerminalProgress;
use clap::Args;
use flyheft::car::Flywheel;
use flyheft::car::checked::{NonNegative, Positive};
use flyheft::car::doubt::DoubtedCar;
use flyheft::car::machining::{Band, Pass};
use flyheft::metal::target::{OpenCut, Target};
use flyheft::numerics::quantile::normal_errors;
use flyheft::shown::drawing::HalfSection;
use flyheft::shown::figures::Stressed;
use flyheft::shown::plot::Size;
use flyheft::shown::{figures, json, page, text};
use flyheft::study::cutting::{Aimed, Cutting, Launched, rules_for};
use flyheft::study::plan::Planned;
use flyheft::units::{Kind, System, parse};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct CutArgs {
    #[command(flatten)]
    common: Common,
    /// The flywheel; without it, the one that is fitted
    #[arg(long, value_name = "NAME")]
    wheel: Option<String>,
    #[command(flatten)]
    passes: AskedPasses,
    /// Find the cut that leaves this inertia, such as "0.060 kg·m²": with --band, or with "?" in --holes or --rim
    #[arg(long, value_name = "INERTIA", value_parser = target_inertia, conflicts_with = "target_mass", allow_hyphen_values = true)]
    target_inertia: Option<NonNegative>,
    /// Find the cut that leaves this mass, such as "5.2 kg"
    #[arg(long, value_name = "MASS", value_parser = target_mass, allow_hyphen_values = true)]
    target_mass: Option<Positive>,
    /// Where the clutch rubs, such as "150 mm:228 mm": nothing is cut there
    #[arg(long, value_name = "INNER:OUTER", value_parser = band_alone)]
    clutch_face: Option<Band>,
    /// Launch the car with the wheel as it is and as cut
    #[arg(long)]
    launch: bool,
    /// A staged plan: which pass first, what each must show at the strip, how many launches show it
    #[arg(long)]
    plan: bool,
    #[command(flatten)]
    draws: DrawOptions,
    /// Draw the half section with its cuts, for the machinist
    #[arg(long, value_name = "FILE.svg")]
    draw: Option<PathBuf>,
    /// Draw stress over radius, as it is and as cut
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Write it all with its drawings as one page
    #[arg(long, value_name = "FILE.html")]
    page: Option<PathBuf>,
}

fn target_inertia(text: &str) -> Result<NonNegative, String> {
    let value = parse(text, Kind::Inertia)
        .map_err(|error| format!("{error}; {}", error.hint(Kind::Inertia)))?;
    if value > 0.0 {
        as_in_a_sheet("flywheel.inertia", value)?;
    }
    NonNegative::new(value).ok_or_else(|| String::from("an inertia is zero or above"))
}

fn target_mass(text: &str) -> Result<Positive, String> {
    let value =
        parse(text, Kind::Mass).map_err(|error| format!("{error}; {}", error.hint(Kind::Mass)))?;
    Positive::new(as_in_a_sheet("flywheel.mass", value)?)
        .ok_or_else(|| String::from("a mass is above zero"))
}

/// What is to be done, told from what was typed and what the sheet says.
struct Job {
    passes: Vec<Pass>,
    aimed: Option<Aimed>,
}

pub(super) fn run(args: &CutArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[&args.plot, &args.draw, &args.page])?;
    let system = args.common.units.into();
    let reading = output.read(&args.common.sheet, system)?;
    let car = &reading.car;
    let wheel = flywheel(car, args.wheel.as_deref())?;
    let rules = rules_for(car, wheel, args.clutch_face)
        .ok_or_else(|| Failure::said("the shop's usual rules are out of range", ""))?;
    let job = job(args, wheel, &reading.doubted)?;
    let planned = if args.plan {
        Planned::in_stages(car, wheel, &job.passes, job.aimed, rules)
    } else {
        Planned::at_once(car, wheel, &job.passes, job.aimed, rules)
    };
    let planned = planned.map_err(|error| {
        let target = job.aimed.map(|aimed| aimed.target);
        let (wrong, right) = text::cutting_error(&error, target.as_ref(), system);
        Failure::said(format!("\"{}\": {wrong}", wheel.name()), right)
    })?;
    let cutting = &planned.cutting;
    let last = cutting.stages.last().map(|stage| &stage.disc);
    let refusals = std::iter::once(("as it is", &cutting.disc_before))
        .chain(last.map(|disc| ("as cut", disc)))
        .filter_map(|(which, disc)| Some(format!("{which}: {}", disc.refusal()?)));
    let left_out: Vec<String> = refusals.collect();
    output.chart_if_asked(args.plot.as_ref(), &left_out, || {
        stress_chart(&car.title, cutting, system)
    })?;
    output.file_if_asked(args.draw.as_ref(), || drawing(&car.title, cutting, system))?;
    let launched = if args.launch || args.plan {
        Some(launched(args, &reading.doubted, &planned, output.quiet())?)
    } else {
        None
    };
    output.file_if_asked(args.page.as_ref(), || {
        Ok(page::cut(&reading, cutting, launched.as_ref(), system)?)
    })?;
    output.result(&if output.wants_json() {
        json::cut(&reading, cutting, launched.as_ref())
    } else {
        text::cut(&reading, cutting, launched.as_ref(), system).printed(&reading)
    })
}

fn job(args: &CutArgs, wheel: &Flywheel, doubted: &DoubtedCar) -> Result<Job, Failure> {
    let mut passes = Vec::new();
    let mut open: Option<OpenCut> = None;
    for pass in &args.passes.0 {
        match pass {
            AskedPass::Fixed(pass) => passes.push(*pass),
            AskedPass::Open(_) if open.is_some() => {
                return Err(Failure::said(
                    "two dimensions are left open; one target finds one of them",
                    "keep one --band, or one \"?\"",
                ));
            }
            AskedPass::Open(cut) => open = Some(*cut),
        }
    }
    let target = args
        .target_inertia
        .map(Target::InertiaKgM2)
        .or(args.target_mass.map(Target::MassKg));
    let aimed = match (open, target) {
        (Some(open), Some(target)) => Some(Aimed {
            open,
            target,
            inertia_known_to: inertia_known_to(doubted, wheel),
        }),
        (None, None) => None,
        (None, Some(_)) => {
            return Err(Failure::said(
                "a target needs to be told where to cut",
                "say --band \"180 mm:230 mm\" for a depth, --holes \"6:?:165 mm\" for a diameter, or --rim \"?\"",
            ));
        }
        (Some(_), None) => {
            return Err(Failure::said(
                "a dimension is left open and no target says what it is to reach",
                "say --target-inertia \"0.060 kg·m²\" or --target-mass \"5.2 kg\"",
            ));
        }
    };
    if passes.is_empty() && aimed.is_none() {
        passes.clone_from(&wheel.machining.passes);
    }
    Ok(Job { passes, aimed })
}

/// Share to which the inertia of a wheel is known, 95 %; 0 where it is exact.
fn inertia_known_to(doubted: &DoubtedCar, wheel: &Flywheel) -> f64 {
    let key = format!("flywheel.\"{}\".inertia_scale", wheel.name());
    doubted
        .position(&key)
        .and_then(|place| doubted.inputs().get(place))
        .map_or(0.0, |input| normal_errors() * input.doubt.deviation())
}

fn launched<'p>(
    args: &CutArgs,
    doubted: &'p DoubtedCar,
    planned: &'p Planned<'p>,
    quiet: bool,
) -> Result<Launched<'p>, Failure> {
    if planned.after.is_empty() {
        return Err(Failure::said(
            "no pass is asked for, so there is nothing to launch against the wheel as it is",
            "give cut = [ … ] in the sheet, or --face, --rim, --holes, --taper, or a target",
        ));
    }
    let options = args.draws.options();
    Ok(planned.launch(doubted, &options, &TerminalProgress::new(quiet))?)
}

fn drawing(title: &str, cutting: &Cutting, system: System) -> Result<String, Failure> {
    HalfSection::of(title, cutting, system)
        .svg(system)
        .map_or_else(|| Err(overlapping()), drawn)
}

/// Sections that lie over one another have no one shape to draw.
pub(super) fn overlapping() -> Failure {
    Failure::said(
        "the half section cannot be drawn: two sections claim the same metal",
        "`flyheft check` says where; give each ring of metal once",
    )
}

fn stress_chart(title: &str, cutting: &Cutting, system: System) -> Result<Option<String>, Failure> {
    let stressed = Stressed::of(cutting);
    if stressed.is_empty() {
        return Ok(None);
    }
    drawn(figures::stress(title, &stressed, system).svg(Size::WIDE)).map(Some)
}
