//! `"unknown"`: a guess, marked as one, for a value that nobody measures.
//!
//! Every rule scales from what the sheet does know. All of them are common practice without a
//! source, which is why each carries a wide doubt. `docs/sheet.md` says them in words.

use crate::car::doubt::Doubt;
use crate::units::{Kind, parse_stated, parse_stated_number};
use toml::de::{DeTable, DeValue};

/// What a guess scales from, as far as the sheet says it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Known {
    car_mass_kg: Option<f64>,
    wheelbase_m: Option<f64>,
    tyre_radius_m: Option<f64>,
    lining_outer_m: Option<f64>,
    gearbox_efficiency: Option<f64>,
}

/// A value for what nobody knows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Guess {
    /// SI.
    pub(super) value: f64,
    pub(super) doubt: Doubt,
    pub(super) reason: &'static str,
}

/// What became of a wish for a guess.
pub(super) enum Rule {
    /// No rule makes one for this key.
    None,
    /// The rule needs this, which the sheet does not say.
    Needs(&'static str),
    /// A guess.
    Guess(Guess),
}

/// Drag area of a car of a tonne, m²; it goes with the square of size, mass with the cube.
const DRAG_AREA_OF_A_TONNE_M2: f64 = 0.65;
/// Height of the centre of gravity over the wheelbase.
const CG_HEIGHT_OVER_WHEELBASE: f64 = 0.20;
/// Inertia of a pair of wheels over the fourth power of the tyre's radius, kg/m²: two wheels of
/// 17 kg with a radius of gyration of 0.8 of the radius at 0.30 m, mass going with the square.
const WHEEL_PAIR_KG_M2: f64 = 240.0;
/// Half-shafts and brakes on the driven pair.
const DRIVEN_OVER_UNDRIVEN: f64 = 1.1;
/// Input-shaft train of a car of a tonne, kg·m².
const INPUT_OF_A_TONNE_KG_M2: f64 = 0.0018;
/// Clutch disc of a car of a tonne, and one of 200 mm, kg·m²; a disc's goes with the fourth power
/// of its diameter.
const DISC_OF_A_TONNE_KG_M2: f64 = 0.0055;
const DISC_OF_200_MM_KG_M2: f64 = 0.0050;
const TONNE_KG: f64 = 1000.0;

/// The guess for a key.
pub(super) fn rule(table: &str, key: &str, known: &Known) -> Rule {
    match (table, key) {
        ("car", "drag_area") => scaled(
            known.car_mass_kg,
            "car.mass",
            |mass| DRAG_AREA_OF_A_TONNE_M2 * (mass / TONNE_KG).powf(2.0 / 3.0),
            0.35,
            "nobody knows: guessed from the car's mass",
        ),
        ("car", "cg_height") => scaled(
            known.wheelbase_m,
            "car.wheelbase",
            |wheelbase| CG_HEIGHT_OVER_WHEELBASE * wheelbase,
            0.15,
            "nobody knows: guessed from the wheelbase",
        ),
        ("car", "driven_wheels_inertia") => wheels(known, DRIVEN_OVER_UNDRIVEN),
        ("car", "undriven_wheels_inertia") => wheels(known, 1.0),
        ("car", "front_roll_share") => between(
            0.45,
            0.75,
            "nobody knows: cars with a live axle are stiffer in front",
        ),
        ("gearbox", "input_inertia") => scaled(
            known.car_mass_kg,
            "car.mass",
            |mass| INPUT_OF_A_TONNE_KG_M2 * mass / TONNE_KG,
            0.60,
            "nobody knows: guessed from the car's mass",
        ),
        ("clutch", "disc_inertia") => match known.lining_outer_m {
            Some(_) => scaled(
                known.lining_outer_m,
                "clutch.outer",
                |outer| DISC_OF_200_MM_KG_M2 * (outer / 0.200).powi(4),
                0.40,
                "nobody knows: guessed from the lining's diameter",
            ),
            None => scaled(
                known.car_mass_kg,
                "car.mass",
                |mass| DISC_OF_A_TONNE_KG_M2 * mass / TONNE_KG,
                0.50,
                "nobody knows: guessed from the car's mass",
            ),
        },
        ("tyre", "sliding_share") => between(
            0.65,
            0.92,
            "nobody knows: tyres leave so much of their grip when they spin",
        ),
        _ => Rule::None,
    }
}

fn wheels(known: &Known, factor: f64) -> Rule {
    scaled(
        known.tyre_radius_m,
        "tyre.radius",
        |radius| factor * WHEEL_PAIR_KG_M2 * radius.powi(4),
        0.40,
        "nobody knows: guessed from the tyre's radius",
    )
}

fn scaled(
    from: Option<f64>,
    key: &'static str,
    of: impl FnOnce(f64) -> f64,
    share: f64,
    reason: &'static str,
) -> Rule {
    match from {
        Some(from) => {
            let value = of(from);
            Rule::Guess(Guess {
                value,
                doubt: Doubt::bet_on(share * value),
                reason,
            })
        }
        None => Rule::Needs(key),
    }
}

fn between(low: f64, high: f64, reason: &'static str) -> Rule {
    Rule::Guess(Guess {
        value: f64::midpoint(low, high),
        doubt: Doubt::Between { low, high },
        reason,
    })
}

/// Whether a value says that it is not known.
pub(super) fn is_said(value: &DeValue<'_>) -> bool {
    value
        .as_str()
        .is_some_and(|text| text.trim().eq_ignore_ascii_case("unknown"))
}

impl Known {
    /// What a sheet says, looked up before it is read; what is wrong there is told when it is.
    pub(super) fn of(sheet: &DeTable<'_>) -> Self {
        let text = |section: &str, key: &str| {
            let DeValue::Table(section) = sheet.get(section)?.get_ref() else {
                return None;
            };
            section.get(key)?.get_ref().as_str()
        };
        let positive = |section, key, kind| {
            let stated = parse_stated(text(section, key)?, kind).ok()?;
            (stated.value > 0.0).then_some(stated.value)
        };
        let around = |key| Some(positive("tyre", key, Kind::Length)? / std::f64::consts::TAU);
        let by_size = || {
            Some(
                super::tyre_size::Size::parse(text("tyre", "size")?)
                    .ok()?
                    .usual_radius_m(),
            )
        };
        Self {
            car_mass_kg: positive("car", "mass", Kind::Mass),
            wheelbase_m: positive("car", "wheelbase", Kind::Length),
            tyre_radius_m: positive("tyre", "radius", Kind::Length)
                .or_else(|| around("circumference"))
                .or_else(by_size),
            lining_outer_m: positive("clutch", "outer", Kind::Length),
            gearbox_efficiency: number(sheet, "gearbox", "efficiency"),
        }
    }
}

/// A bare number, or one in quotes.
fn number(sheet: &DeTable<'_>, section: &str, key: &str) -> Option<f64> {
    let DeValue::Table(section) = sheet.get(section)?.get_ref() else {
        return None;
    };
    match section.get(key)?.get_ref() {
        DeValue::Float(float) => float.as_str().parse().ok(),
        DeValue::Integer(integer) => integer.as_str().parse().ok(),
        DeValue::String(text) => parse_stated_number(text).ok().map(|stated| stated.value),
        _ => None,
    }
}

impl Known {
    /// The gearbox's efficiency, where the sheet states one.
    pub(super) const fn gearbox_efficiency(&self) -> Option<f64> {
        self.gearbox_efficiency
    }

    /// The tyre's radius, m, where the sheet states one in any way.
    pub(super) const fn tyre_radius_m(&self) -> Option<f64> {
        self.tyre_radius_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Guesses lie among what cars of such sizes have: the ranges are those that the sheet calls
    /// usual (common practice, no source).
    #[test]
    fn law_a_guess_for_an_ordinary_car_is_usual() {
        for mass in [600.0, 1000.0, 1600.0] {
            let known = Known {
                car_mass_kg: Some(mass),
                wheelbase_m: Some(2.5),
                tyre_radius_m: Some(0.29),
                lining_outer_m: None,
                gearbox_efficiency: None,
            };
            for (table, key, low, high) in [
                ("car", "drag_area", 0.4, 1.0),
                ("car", "cg_height", 0.4, 0.6),
                ("car", "driven_wheels_inertia", 1.2, 2.5),
                ("car", "undriven_wheels_inertia", 1.0, 2.2),
                ("car", "front_roll_share", 0.5, 0.7),
                ("gearbox", "input_inertia", 0.0009, 0.0035),
                ("clutch", "disc_inertia", 0.002, 0.01),
                ("tyre", "sliding_share", 0.7, 0.85),
            ] {
                let Rule::Guess(guess) = rule(table, key, &known) else {
                    panic!("{table}.{key}")
                };
                assert!(
                    (low..=high).contains(&guess.value),
                    "{key}: {}",
                    guess.value
                );
                assert!(guess.doubt.deviation() > 0.05 * guess.value, "{key}");
            }
        }
        let nothing = Known::default();
        assert!(matches!(
            rule("car", "drag_area", &nothing),
            Rule::Needs("car.mass")
        ));
        assert!(matches!(rule("tyre", "grip", &nothing), Rule::None));
    }
}
