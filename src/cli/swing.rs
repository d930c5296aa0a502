//! `flyheft swing`: inertia from pendulum timings, with its uncertainty.

use super::failure::Failure;
use super::options::{Common, as_in_a_sheet};
use super::output::Output;
use clap::Args;
use flyheft::car::checked::Positive;
use flyheft::metal::swing::{
    AMPLITUDE_WITHIN_RAD, Amplitude, Assumed, MOST_AMPLITUDE_RAD, Split, Timing,
};
use flyheft::numerics::uncertainty::Measured;
use flyheft::sheet::{part_file, splits};
use flyheft::shown::{json, text};
use flyheft::study::swinging::{Swung, SwungResult, swung, swung_part, worked_out};
use flyheft::units::{Kind, parse};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(super) struct SwingArgs {
    #[command(flatten)]
    common: Common,
    /// One swung part by its name; without it, all of them
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// Splits of the stopwatch with the part hung up, in place of the sheet's period: CSV with a column time_s, and swings if not every swing was taken
    #[arg(long, value_name = "FILE.csv")]
    splits: Option<PathBuf>,
    /// How much one press of the stopwatch scatters, such as "0.1 s"
    #[arg(long, value_name = "TIME", value_parser = time)]
    reaction: Option<Positive>,
    /// How far it swung to either side, degrees
    #[arg(long, value_name = "DEGREES", value_parser = degrees)]
    amplitude: Option<f64>,
    /// Free fall at your place, such as "9.81 m/s²", taken as exact
    #[arg(long, value_name = "GRAVITY", value_parser = gravity)]
    gravity: Option<Positive>,
}

fn quantity(text: &str, kind: Kind) -> Result<Positive, String> {
    let value = parse(text, kind).map_err(|error| format!("{error}; {}", error.hint(kind)))?;
    Positive::new(value).ok_or_else(|| format!("{} above zero is needed", kind.with_article()))
}

fn time(text: &str) -> Result<Positive, String> {
    let time = quantity(text, Kind::Time)?;
    as_in_a_sheet("flywheel.swing.reaction", time.get()).map(|_| time)
}

/// Least and most free fall on the ground anywhere, m/s²: 9.76 on high mountains by the equator,
/// 9.83 at the poles (handbook, from memory), with a margin on either side.
const FREE_FALL_M_S2: std::ops::RangeInclusive<f64> = 9.70..=9.90;

fn gravity(text: &str) -> Result<Positive, String> {
    let gravity = quantity(text, Kind::Acceleration)?;
    if FREE_FALL_M_S2.contains(&gravity.get()) {
        return Ok(gravity);
    }
    Err(format!(
        "free fall on the ground is {:.2} to {:.2} m/s² everywhere",
        FREE_FALL_M_S2.start(),
        FREE_FALL_M_S2.end()
    ))
}

/// A twist in rad from degrees, with or without their sign.
fn degrees(text: &str) -> Result<f64, String> {
    let most = MOST_AMPLITUDE_RAD.to_degrees();
    text.trim()
        .trim_end_matches('°')
        .trim_end()
        .parse::<f64>()
        .ok()
        .filter(|degrees| (0.0..=most).contains(degrees))
        .map(f64::to_radians)
        .ok_or_else(|| format!("a number of degrees from 0 to {most:.0}, such as 8"))
}

pub(super) fn run(args: &SwingArgs) -> Result<(), Failure> {
    let output = Output::open(&args.common.output, &[])?;
    output.spare(args.splits.as_slice())?;
    let system = args.common.units.into();
    let path = &args.common.sheet;
    if part_file::is_part_file(path) {
        let reading = part_file::read(path)?;
        output.spare(std::slice::from_ref(path))?;
        output.tell(&reading.warnings, system);
        let results = results(args, swung_part(&reading.part, reading.swing_check))?;
        return output.result(&if output.wants_json() {
            json::swing_of_part(&reading, &results)
        } else {
            text::swing(&reading.part.name, &results, system)
        });
    }
    let reading = output.read(path, system)?;
    let results = results(args, swung(&reading.car))?;
    output.result(&if output.wants_json() {
        json::swing(&reading, &results)
    } else {
        text::swing(&reading.car.title, &results, system)
    })
}

/// The tests asked for, with what was typed put in, worked out.
fn results<'c>(args: &SwingArgs, all: Vec<Swung<'c>>) -> Result<Vec<SwungResult<'c>>, Failure> {
    let mut chosen = chosen(args, all)?;
    if let Some(path) = &args.splits {
        let rows = splits::read(path)?;
        let splits: Vec<Split> = rows
            .into_iter()
            .map(|row| Split {
                swing: row.swing,
                time_s: row.time_s,
            })
            .collect();
        time_by_splits(args, &mut chosen, &splits)?;
    }
    for swung in &mut chosen {
        apply(args, swung);
    }
    chosen
        .into_iter()
        .map(|swung| {
            let name = swung.part.name.clone();
            worked_out(swung).map_err(|failure| {
                Failure::said(
                    format!("the swing test of \"{name}\" gives no inertia: {failure}"),
                    "one swing is there and back; look at swings counted, masses and the cords' circle",
                )
            })
        })
        .collect()
}

fn chosen<'c>(args: &SwingArgs, all: Vec<Swung<'c>>) -> Result<Vec<Swung<'c>>, Failure> {
    if all.is_empty() {
        return Err(Failure::said(
            "the sheet has no swing test",
            "give a part swing = { cords = 3, radius = …, length = …, mass = …, period = … }, or a flywheel of sections swing_check = { … }",
        ));
    }
    let Some(name) = &args.part else {
        return Ok(all);
    };
    let names: Vec<String> = all
        .iter()
        .map(|swung| format!("\"{}\"", swung.part.name))
        .collect();
    let chosen: Vec<Swung> = all
        .into_iter()
        .filter(|swung| swung.part.name == *name)
        .collect();
    if chosen.is_empty() {
        return Err(Failure::said(
            format!("the sheet has no swing test of \"{name}\""),
            format!("it has one of {}", names.join(", ")),
        ));
    }
    Ok(chosen)
}

fn time_by_splits(args: &SwingArgs, chosen: &mut [Swung], splits: &[Split]) -> Result<(), Failure> {
    let [only] = chosen else {
        return Err(Failure::said(
            "splits belong to one swing test, and there are several",
            "name the part with --part",
        ));
    };
    only.measurement.timing = Timing::Splits {
        splits: splits.to_vec(),
        reaction_sd_s: args.reaction,
    };
    // The empty platform's timing still leans on what the sheet says.
    if only.measurement.platform.is_none() {
        only.assumed
            .retain(|assumed| !matches!(assumed, Assumed::Swings | Assumed::Reaction));
    }
    Ok(())
}

fn apply(args: &SwingArgs, swung: &mut Swung) {
    let measurement = &mut swung.measurement;
    let platform = measurement.platform.as_mut();
    if let Some(reaction) = args.reaction {
        let timings = std::iter::once(&mut measurement.timing)
            .chain(platform.map(|platform| &mut platform.timing));
        for timing in timings {
            if let Timing::Counted { reaction_sd_s, .. } = timing {
                *reaction_sd_s = reaction;
            }
        }
        swung
            .assumed
            .retain(|assumed| *assumed != Assumed::Reaction);
    }
    if let Some(rad) = args.amplitude {
        let told = Amplitude::Told(Measured::within(rad, AMPLITUDE_WITHIN_RAD));
        measurement.amplitude = told;
        if let Some(platform) = &mut measurement.platform {
            platform.amplitude = told;
        }
    }
    if let Some(gravity) = args.gravity {
        measurement.gravity_m_s2 = Measured::exact(gravity.get());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_free_fall_is_that_of_the_ground_we_stand_on() {
        for place in ["9.78 m/s²", "9.832 m/s²", "32.17 ft/s²"] {
            assert!(gravity(place).is_ok(), "{place}");
        }
        for other in ["98.1 m/s²", "9.81 ft/s²", "1.62 m/s²", "0 m/s²", "9.81"] {
            assert!(gravity(other).is_err(), "{other}");
        }
    }
}
