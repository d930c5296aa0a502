//! Stress over the radius of a flywheel.

use crate::car::material::Material;
use crate::metal::disc::{BURST_KILLS, DiscCheck, LAST_WORD, SCREENING};
use crate::shown::plot::{Axis, LineChart, Look, Mark, MarkKind, Rule, Series, Spots, Words};
use crate::study::cutting::Cutting;
use crate::units::{Kind, System};

/// One wheel whose stresses are drawn.
#[derive(Debug, Clone)]
pub struct Stressed<'a> {
    /// Its name.
    pub name: String,
    /// Its metal.
    pub material: &'a Material,
    /// Its check.
    pub check: &'a DiscCheck,
}

impl<'a> Stressed<'a> {
    /// A wheel on the lathe as it is and as cut, as far as they are checked.
    pub fn of(cutting: &'a Cutting) -> Vec<Self> {
        let as_it_is = (cutting.wheel.name().to_owned(), &cutting.disc_before);
        let last = cutting.stages.last();
        let as_cut = last.map(|stage| (cutting.name_when_cut(), &stage.disc));
        std::iter::once(as_it_is)
            .chain(as_cut)
            .filter_map(|(name, disc)| {
                Some(Self {
                    name,
                    material: cutting.part.material(),
                    check: disc.check()?,
                })
            })
            .collect()
    }
}

/// Tangential stress over radius at the limiter, the radial one thinner, yield as a level.
pub fn stress(title: &str, wheels: &[Stressed], system: System) -> LineChart {
    let stress = |pa: f64| system.value(pa, Kind::Stress);
    let length = |m: f64| system.value(m, Kind::Length);
    let series = wheels
        .iter()
        .enumerate()
        .map(|(index, wheel)| series(wheel, index, system))
        .collect();
    let mut rules: Vec<Rule> = Vec::new();
    for wheel in wheels {
        if let Some(yields) = wheel.material.yield_pa {
            let rule = Rule::Level {
                y: stress(yields.get()),
                label: format!(
                    "yield, {}: {}",
                    wheel.material.name,
                    system.show(yields.get(), Kind::Stress)
                ),
            };
            if !rules.contains(&rule) {
                rules.push(rule);
            }
        }
    }
    let told: Vec<String> = wheels
        .iter()
        .filter_map(|wheel| {
            let at = wheel.check.at.first()?;
            Some(format!(
                "{}: greatest tangential stress {} at radius {:.1} {}",
                wheel.name,
                system.show(at.peak_tangential.tangential_pa, Kind::Stress),
                length(at.peak_tangential.radius_m),
                system.unit(Kind::Length).symbol,
            ))
        })
        .collect();
    let words = Words {
        title: "Stress in the spinning flywheel, at the limiter".into(),
        subtitle: Some(title.to_owned()),
        caption: Some(format!("{SCREENING}; {BURST_KILLS}; {LAST_WORD}.")),
        description: format!("Stress over radius. {}.", told.join("; ")),
    };
    LineChart {
        rules,
        companion_name: Some("thin: radial stress".into()),
        ..LineChart::new(
            words,
            Axis::new("Radius", system.unit(Kind::Length).symbol),
            Axis::new("Tangential stress", system.unit(Kind::Stress).symbol).reaching(0.0),
            series,
        )
    }
}

fn series(wheel: &Stressed, index: usize, system: System) -> Series {
    let stress = |pa: f64| system.value(pa, Kind::Stress);
    let length = |m: f64| system.value(m, Kind::Length);
    let curve = |of: fn(&crate::metal::disc::Stress) -> f64| {
        wheel
            .check
            .over_radius
            .iter()
            .map(|point| (length(point.radius_m), Some(stress(of(point)))))
            .collect()
    };
    let holes = wheel.check.at.first().map_or(&[][..], |at| &at.hole_peaks);
    Series {
        spots: Spots::Few,
        companion: curve(|point| point.radial_pa),
        marks: holes
            .iter()
            .map(|peak| Mark {
                kind: MarkKind::Plain,
                x: length(peak.ring.pitch_radius_m.get()),
                y: stress(peak.stress_pa),
                label: String::from("hole's edge"),
            })
            .collect(),
        ..Series::new(
            wheel.name.clone(),
            Look::nth(index),
            curve(|point| point.tangential_pa),
        )
    }
}
