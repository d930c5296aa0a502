//! The disc check in tables and sentences, and the cautions that go with it.

use super::report::Block;
use super::table::Figures;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::material::Failure;
use crate::metal::disc::{DiscCheck, Property, Refusal, SpeedCheck, SpeedPoint, Verdict};
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};

/// What a verdict is called.
pub(in crate::shown) const fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Below => "below all limits",
        Verdict::YieldsAtHoles => "YIELDS AT HOLES",
        Verdict::Yields => "YIELDS",
        Verdict::Bursts => "BURSTS",
    }
}

/// What a speed is called.
pub(in crate::shown) const fn point_words(point: SpeedPoint) -> &'static str {
    match point {
        SpeedPoint::Limiter => "at the limiter",
        SpeedPoint::OverSpeed => "at over-speed",
    }
}

/// Why a check was refused, with the place and what would be right.
pub(in crate::shown) fn refusal_words(
    reason: &Refusal,
    lacks: &[Property],
    system: System,
) -> String {
    let diameter = |radius_m: f64| system.show(2.0 * radius_m, Kind::Length);
    match reason {
        Refusal::Missing(_) => format!(
            "its material has no {}. Strengths depend on the grade, so none is guessed. Give the metal as a \
             table, from its certificate: material = {{ density = …, {} }}",
            listed(lacks),
            lacks
                .iter()
                .copied()
                .map(example)
                .collect::<Vec<_>>()
                .join(", ")
        ),
        Refusal::NoShape => String::from(
            "it is not described by its sections, so there is no shape to check. Measure it with a vernier and \
             give sections and material",
        ),
        Refusal::OutOfRange { property, value } => {
            let read = match property {
                Property::Density => system.brief(*value, Kind::Density),
                Property::Poisson => format!("{value}"),
                Property::Yield | Property::Tensile => system.show(*value, Kind::Stress),
            };
            format!("no metal has a {} of {read}", property.name())
        }
        Refusal::Overlap(overlap) => format!(
            "{reason} (between diameters {} and {})",
            diameter(overlap.from_m),
            diameter(overlap.to_m)
        ),
        Refusal::Gap { from_m, to_m } => format!(
            "{reason} (between diameters {} and {})",
            diameter(*from_m),
            diameter(*to_m)
        ),
        Refusal::NoThickness { radius_m } => {
            format!("{reason} (at diameter {})", diameter(*radius_m))
        }
        Refusal::HolesOutsideMetal { pitch_radius_m } => {
            format!("{reason} (circle {})", diameter(*pitch_radius_m))
        }
        Refusal::YieldAboveTensile { .. }
        | Refusal::HolesLeaveNothing
        | Refusal::NoFiniteAnswer => reason.to_string(),
    }
}

fn listed(lacks: &[Property]) -> String {
    let names: Vec<&str> = lacks.iter().map(|property| property.name()).collect();
    match names.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} and no {last}", others.join(", no ")),
        None => String::from("strengths"),
    }
}

fn example(property: Property) -> String {
    match property {
        Property::Poisson => String::from("poisson = 0.3"),
        other => format!("{} = \"… MPa\"", other.name()),
    }
}

/// The disc check of one flywheel: figures, or why there are none.
pub(super) fn disc(name: &str, standing: &DiscStanding, system: System) -> Vec<Block> {
    match standing {
        DiscStanding::Checked(check) => vec![
            Block::Table(table(name, check, system)),
            Block::Said(speeds(check)),
        ],
        DiscStanding::Refused { reason, lacks } => vec![Block::Said(format!(
            "No disc check of \"{name}\": {}.",
            refusal_words(reason, lacks, system)
        ))],
    }
}

fn table(name: &str, check: &DiscCheck, system: System) -> Figures {
    let heads: Vec<&str> = check.at.iter().map(|at| point_words(at.point)).collect();
    let mut table = Figures::new(&format!("Disc check: {name}"), &heads);
    let stress = |pa: f64| system.show(pa, Kind::Stress);
    let diameter = |radius_m: f64| system.show(2.0 * radius_m, Kind::Length);
    let mut row = |label: &str, figure: &dyn Fn(&SpeedCheck) -> Option<String>| {
        let figures: Vec<Option<String>> = check.at.iter().map(figure).collect();
        if figures.iter().any(Option::is_some) {
            table.row(label, figures.into_iter().map(Option::unwrap_or_default));
        }
    };
    row("Speed", &|at| {
        Some(system.show(at.speed_rad_s, Kind::AngularSpeed))
    });
    row("Speed of the rim", &|at| {
        Some(system.show(at.tip_speed_m_s, Kind::Speed))
    });
    row("Greatest tangential stress", &|at| {
        Some(stress(at.peak_tangential.tangential_pa))
    });
    row("  at diameter", &|at| {
        Some(diameter(at.peak_tangential.radius_m))
    });
    row("Greatest radial stress", &|at| {
        Some(stress(at.peak_radial.radial_pa))
    });
    row("  at diameter", &|at| {
        Some(diameter(at.peak_radial.radius_m))
    });
    row("Greatest stress at the edge of a hole", &|at| {
        at.peak_at_holes_pa().map(stress)
    });
    row("Mean tangential stress, holes out", &|at| {
        Some(stress(at.mean_tangential_net_pa))
    });
    row("Greatest stress, of yield", &|at| {
        at.peak_over_yield.map(share)
    });
    row("Stress that bursts, of tensile strength", &|at| {
        Some(share(at.burst_stress_over_tensile))
    });
    row("Rim speed over the old limit of cast iron", &|at| {
        at.rim_speed_over_cast_iron_limit
            .map(|times| format!("{times:.1} times"))
    });
    row("Verdict", &|at| Some(verdict_words(at.verdict).to_owned()));
    table
}

/// A share of a limit: whole per cent, never rounded down to a limit it is above.
fn share(of_limit: f64) -> String {
    format!("{:.0} %", (of_limit * 100.0).ceil())
}

/// Burst speed as well as such a check knows it: beyond twice the over-speed nobody turns the wheel
/// and nothing is known of it.
fn burst_words(check: &DiscCheck) -> String {
    /// Times the over-speed beyond which no figure is told.
    const TOLD_UP_TO: f64 = 2.0;
    let over = check.at.iter().map(|at| at.speed_rad_s).fold(0.0, f64::max);
    if check.burst_speed_rad_s >= TOLD_UP_TO * over {
        String::from("not below twice the over-speed")
    } else {
        format!("at about {}", two_digits(check.burst_speed_rad_s))
    }
}

/// A speed in rpm in its first two digits, rounded down: a wheel is never told to bear more than
/// was worked out.
fn two_digits(speed_rad_s: f64) -> String {
    let rpm = speed_rad_s / RAD_S_PER_RPM;
    let unit = 10_f64.powf(rpm.max(1.0).log10().floor() - 1.0);
    format!("{:.0} rpm", (rpm / unit).floor() * unit)
}

fn speeds(check: &DiscCheck) -> String {
    let burst = burst_words(check);
    let rpm = two_digits;
    match (check.failure, check.yield_speed_rad_s) {
        (Failure::Ductile, Some(yields)) => format!(
            "By this measure the first metal yields at {}, and the wheel is taken to burst {burst}.",
            rpm(yields)
        ),
        _ => format!(
            "Brittle metal breaks before it yields: by this measure the wheel is taken to burst {burst}."
        ),
    }
}
