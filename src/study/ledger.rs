//! The ledger: every rotating part, what it weighs, what it keeps the engine or the car from
//! doing, and what a kilogram off a flywheel is worth where.

use crate::car::driveline::equivalent_mass_kg;
use crate::car::inertia::{BuiltUp, Extra, HoleRing, MassProperties, Part, Section};
use crate::car::{Car, Flywheel};
use crate::metal::cut::ShopRules;
use crate::metal::disc::{DiscCheck, DiscDemand, Property, Refusal, check, missing_properties};
use crate::metal::worth::worth;
use std::num::NonZeroU32;

/// Rings a flywheel is cut into to say what a kilogram off its rim and its hub is worth: each a
/// twentieth of the width from bore to rim, thin enough to be "at the rim".
const WORTH_RINGS: u32 = 20;

/// Where a part turns, and so at which speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turns {
    /// With the crank.
    WithCrank,
    /// With the gearbox's input shaft.
    WithInputShaft,
    /// With the propeller shaft, between gearbox and final drive.
    WithPropshaft,
    /// With the driven wheels.
    WithDrivenWheels,
    /// With the undriven wheels.
    WithUndrivenWheels,
}

impl Turns {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::WithCrank => "crank",
            Self::WithInputShaft => "input_shaft",
            Self::WithPropshaft => "propshaft",
            Self::WithDrivenWheels => "driven_wheels",
            Self::WithUndrivenWheels => "undriven_wheels",
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::WithCrank => "with the crank",
            Self::WithInputShaft => "with the input shaft",
            Self::WithPropshaft => "with the propeller shaft",
            Self::WithDrivenWheels => "with the driven wheels",
            Self::WithUndrivenWheels => "with the undriven wheels",
        }
    }
}

/// One rotating part other than a flywheel.
#[derive(Debug, Clone, PartialEq)]
pub struct PartLine {
    /// Its name.
    pub name: String,
    /// How it turns.
    pub turns: Turns,
    /// Mass, kg, where it is told.
    pub mass_kg: Option<f64>,
    /// Inertia about its own axis, kg·m².
    pub inertia_kg_m2: f64,
    /// Car mass it is worth in each gear, kg: [`equivalent_mass_kg`] with the ratio between it and
    /// the wheels, the driveline's efficiency counted for what turns ahead of the gearbox.
    pub equivalent_mass_kg: Vec<f64>,
}

/// What a flywheel is built up of.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// A ring of metal.
    Section(Section),
    /// A ring of holes: its mass and inertia count against the wheel.
    Holes(HoleRing),
    /// Something fastened on.
    Extra(Extra),
}

/// One piece of a flywheel, in the scale of the scales.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceLine {
    /// What it is.
    pub piece: Piece,
    /// What it adds, kg and kg·m²; below zero for holes.
    pub adds: MassProperties,
}

/// What one kilogram off a flywheel is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KilogramOff {
    /// Inertia lost with it, kg·m².
    pub inertia_kg_m2: f64,
    /// Car mass that this inertia is worth in first gear, kg: `η J G²/R²`. The kilogram itself
    /// comes off the car besides.
    pub first_gear_kg: f64,
}

/// What the disc check comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum DiscStanding {
    /// It was made.
    Checked(Box<DiscCheck>),
    /// It was refused.
    Refused {
        /// Why.
        reason: Refusal,
        /// Every property that the material lacks, for the user to give.
        lacks: Vec<Property>,
    },
}

impl DiscStanding {
    /// Checks a flywheel at a demand.
    pub fn of(part: Option<&BuiltUp>, demand: Option<&DiscDemand>) -> Self {
        let (Some(part), Some(demand)) = (part, demand) else {
            return Self::Refused {
                reason: Refusal::NoShape,
                lacks: Vec::new(),
            };
        };
        match check(part, demand) {
            Ok(check) => Self::Checked(Box::new(check)),
            Err(reason) => Self::Refused {
                reason,
                lacks: missing_properties(part.material()),
            },
        }
    }

    /// Why it was refused, if it was.
    pub const fn refusal(&self) -> Option<&Refusal> {
        match self {
            Self::Checked(_) => None,
            Self::Refused { reason, .. } => Some(reason),
        }
    }

    /// The check, if it was made.
    pub fn check(&self) -> Option<&DiscCheck> {
        match self {
            Self::Checked(check) => Some(check),
            Self::Refused { .. } => None,
        }
    }
}

/// One flywheel in the ledger.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelLedger<'c> {
    /// The flywheel.
    pub wheel: &'c Flywheel,
    /// What it is built up of; empty where it is not described by its metal.
    pub pieces: Vec<PieceLine>,
    /// Scales over drawing; 1 where it was not weighed.
    pub weighing_factor: f64,
    /// All that turns with the crank, this flywheel included, kg·m².
    pub crank_side_kg_m2: f64,
    /// Share of that total of each part of the crank side, in the ledger's order.
    pub part_shares: Vec<f64>,
    /// The flywheel's own share of it.
    pub share: f64,
    /// Car mass the crank side is worth in each gear, kg.
    pub crank_side_mass_kg: Vec<f64>,
    /// Car mass the flywheel alone is worth in each gear, kg.
    pub wheel_mass_kg: Vec<f64>,
    /// One kilogram off the outermost metal; `None` where it is not described by its metal.
    pub kilogram_off_rim: Option<KilogramOff>,
    /// One kilogram off the innermost metal.
    pub kilogram_off_hub: Option<KilogramOff>,
    /// The disc check at limiter and over-speed.
    pub disc: DiscStanding,
}

/// Every rotating part of a car.
#[derive(Debug, Clone, PartialEq)]
pub struct Ledger<'c> {
    /// The car.
    pub car: &'c Car,
    /// Overall ratio of each gear, first gear first.
    pub overall_ratios: Vec<f64>,
    /// Every part but the flywheels, from the crank to the wheels.
    pub parts: Vec<PartLine>,
    /// The flywheels asked for.
    pub wheels: Vec<WheelLedger<'c>>,
}

/// Draws up the ledger of a car for some of its flywheels.
pub fn ledger<'c>(car: &'c Car, wheels: &[&'c Flywheel]) -> Ledger<'c> {
    let ratios: Vec<f64> = car.driveline.overall_ratios().collect();
    Ledger {
        parts: parts(car, &ratios),
        wheels: wheels
            .iter()
            .map(|wheel| wheel_ledger(car, wheel, &ratios))
            .collect(),
        overall_ratios: ratios,
        car,
    }
}

/// Car mass that an inertia is worth, kg, turning somewhere in a gear of an overall ratio.
fn worth_kg(inertia_kg_m2: f64, turns: Turns, overall: f64, car: &Car) -> f64 {
    let (ratio, share) = match turns {
        Turns::WithCrank | Turns::WithInputShaft => (overall, car.driveline.efficiency.get()),
        Turns::WithPropshaft => (car.driveline.final_drive.get(), 1.0),
        Turns::WithDrivenWheels | Turns::WithUndrivenWheels => (1.0, 1.0),
    };
    equivalent_mass_kg(inertia_kg_m2, ratio, share, car.tyre.radius_m.get())
}

fn masses_kg(inertia_kg_m2: f64, turns: Turns, ratios: &[f64], car: &Car) -> Vec<f64> {
    let each = ratios.iter();
    each.map(|overall| worth_kg(inertia_kg_m2, turns, *overall, car))
        .collect()
}

fn parts(car: &Car, ratios: &[f64]) -> Vec<PartLine> {
    let line = |name: &str, turns: Turns, mass_kg: Option<f64>, inertia_kg_m2: f64| PartLine {
        name: name.to_owned(),
        turns,
        mass_kg,
        inertia_kg_m2,
        equivalent_mass_kg: masses_kg(inertia_kg_m2, turns, ratios, car),
    };
    let own = |name, turns, inertia_kg_m2| line(name, turns, None, inertia_kg_m2);
    let crank = car.crank_side.iter().map(|part: &Part| {
        let (mass, inertia) = (part.mass_kg(), part.inertia_kg_m2());
        line(&part.name, Turns::WithCrank, mass, inertia)
    });
    let (driveline, body) = (&car.driveline, &car.body);
    let others = [
        own(
            "clutch disc",
            Turns::WithInputShaft,
            car.clutch.disc_inertia_kg_m2.get(),
        ),
        own(
            "input shaft and its gears",
            Turns::WithInputShaft,
            driveline.input_inertia_kg_m2.get(),
        ),
        own(
            "propeller shaft",
            Turns::WithPropshaft,
            driveline.propshaft_inertia_kg_m2.get(),
        ),
        own(
            "driven wheels, the pair",
            Turns::WithDrivenWheels,
            body.driven_wheels_kg_m2.get(),
        ),
        own(
            "undriven wheels, the pair",
            Turns::WithUndrivenWheels,
            body.undriven_wheels_kg_m2.get(),
        ),
    ];
    crank.chain(others).collect()
}

fn wheel_ledger<'c>(car: &'c Car, wheel: &'c Flywheel, ratios: &[f64]) -> WheelLedger<'c> {
    let crank_side_kg_m2 = car.crank_side_inertia_kg_m2(wheel);
    let own_kg_m2 = wheel.part.inertia_kg_m2();
    let part = wheel.part.built_up();
    let kilogram = |off: fn(&crate::metal::worth::Worth) -> f64| {
        let rings = NonZeroU32::new(WORTH_RINGS)?;
        let rules = ShopRules::usual(None)?;
        let inertia_kg_m2 = off(&worth(part?, rings, &rules)?);
        let first = ratios.first()?;
        Some(KilogramOff {
            inertia_kg_m2,
            first_gear_kg: worth_kg(inertia_kg_m2, Turns::WithCrank, *first, car),
        })
    };
    let demand = DiscDemand::at_limiter(car.engine.limiter_rad_s);
    WheelLedger {
        wheel,
        pieces: part.map_or_else(Vec::new, pieces),
        weighing_factor: part.map_or(1.0, BuiltUp::weighing_factor),
        crank_side_kg_m2,
        part_shares: car
            .crank_side
            .iter()
            .map(|part| part.inertia_kg_m2() / crank_side_kg_m2)
            .collect(),
        share: own_kg_m2 / crank_side_kg_m2,
        crank_side_mass_kg: masses_kg(crank_side_kg_m2, Turns::WithCrank, ratios, car),
        wheel_mass_kg: masses_kg(own_kg_m2, Turns::WithCrank, ratios, car),
        kilogram_off_rim: kilogram(|worth| worth.kilogram_at_rim_kg_m2),
        kilogram_off_hub: kilogram(|worth| worth.kilogram_at_hub_kg_m2),
        disc: DiscStanding::of(part, demand.as_ref()),
    }
}

/// What a part is built up of, each piece in the scale of the scales.
pub fn pieces(part: &BuiltUp) -> Vec<PieceLine> {
    let density = part.material().density_kg_m3.get();
    let sections = part.sections().iter().map(|section| PieceLine {
        adds: part.scaled(section.mass_properties(density)),
        piece: Piece::Section(*section),
    });
    let holes = part.holes().iter().map(|ring| PieceLine {
        adds: part.scaled(ring.taken_out(density)) * -1.0,
        piece: Piece::Holes(*ring),
    });
    let extras = part.extras().iter().map(|extra| PieceLine {
        adds: part.scaled(extra.mass_properties()),
        piece: Piece::Extra(extra.clone()),
    });
    sections.chain(holes).chain(extras).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::sample::live_axle_saloon;
    use approx::assert_relative_eq;

    #[test]
    fn law_shares_of_the_crank_side_add_up_to_one() {
        let car = live_axle_saloon();
        let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
        for wheel in ledger(&car, &wheels).wheels {
            let sum: f64 = wheel.part_shares.iter().sum::<f64>() + wheel.share;
            assert_relative_eq!(sum, 1.0, max_relative = 1e-12);
        }
    }

    /// In first gear the crank side is worth `η J G²/R²`; in a gear half as low, a quarter.
    #[test]
    fn law_equivalent_mass_goes_with_the_square_of_the_ratio() {
        let car = live_axle_saloon();
        let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
        let ledger = ledger(&car, &wheels);
        for wheel in &ledger.wheels {
            for (ratio, mass) in ledger.overall_ratios.iter().zip(&wheel.crank_side_mass_kg) {
                let expected = car.driveline.efficiency.get()
                    * wheel.crank_side_kg_m2
                    * (ratio / car.tyre.radius_m.get()).powi(2);
                assert_relative_eq!(*mass, expected, max_relative = 1e-12);
            }
        }
    }

    /// What is worth so many kilograms slows the locked car as much as that mass does: a crank side without the inertia and a car with its mass on top
    /// accelerate alike.
    #[test]
    fn law_equivalent_mass_slows_the_locked_car_as_much() {
        let car = live_axle_saloon();
        let overall = car.driveline.overall_ratios().next().unwrap();
        let (radius, efficiency) = (car.tyre.radius_m.get(), car.driveline.efficiency.get());
        let worth = worth_kg(0.1, Turns::WithCrank, overall, &car);
        let acceleration = |crank_kg_m2: f64, mass_kg: f64| {
            // Rolling without slip, `Fx = m v̇` and `(Jd + η G² Je) ω̇w = η G Te − Fx R`.
            let at_wheel_kg_m2 = 1.7 + efficiency * overall.powi(2) * crank_kg_m2;
            efficiency * overall * 200.0 / radius / (at_wheel_kg_m2 / radius.powi(2) + mass_kg)
        };
        assert_relative_eq!(
            acceleration(0.25, 1000.0),
            acceleration(0.15, 1000.0 + worth),
            max_relative = 1e-12
        );
    }

    /// What turns with the wheels is worth the same in every gear.
    #[test]
    fn law_wheels_are_worth_the_same_in_every_gear() {
        let car = live_axle_saloon();
        let ledger = ledger(&car, &[]);
        let wheels = ledger
            .parts
            .iter()
            .find(|line| line.turns == Turns::WithDrivenWheels)
            .unwrap();
        let first = wheels.equivalent_mass_kg[0];
        assert!(
            wheels
                .equivalent_mass_kg
                .iter()
                .all(|mass| (mass - first).abs() < 1e-12)
        );
    }

    #[test]
    fn law_a_wheel_without_a_drawing_gets_no_disc_check() {
        let car = live_axle_saloon();
        let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
        for wheel in ledger(&car, &wheels).wheels {
            assert!(wheel.disc.check().is_none());
            assert!(wheel.kilogram_off_rim.is_none());
        }
    }
}
