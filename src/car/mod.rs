//! The car: what the build sheet says, checked, in SI units.
//!
//! Everything here is a value that cannot be wrong in itself: a speed range has its ends in
//! order, gear ratios fall, a torque curve has its points in order. Whoever builds one of
//! these has done the checking; nobody after needs to.
//!
//! ```
//! use flyheft::car::engine::TorqueCurve;
//! use flyheft::car::driver::SpeedRange;
//!
//! let curve = TorqueCurve::new(vec![(100.0, 120.0), (400.0, 180.0), (500.0, 170.0), (700.0, 150.0)])?;
//! assert_eq!(curve.peak_nm(), 180.0);
//!
//! let falls = TorqueCurve::new(vec![(100.0, 120.0), (90.0, 180.0), (500.0, 170.0), (700.0, 150.0)]);
//! assert!(falls.unwrap_err().to_string().contains("point 2"));
//! assert!(SpeedRange::new(700.0, 400.0).is_none());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod body;
pub mod clutch;
pub mod constants;
pub mod doubt;
pub mod driveline;
pub mod driver;
pub mod engine;
pub mod inertia;
pub mod lift;
pub mod logged_run;
pub mod machining;
pub mod material;
pub mod meeting;
pub mod practice;
pub mod reciprocating;
#[cfg(test)]
pub(crate) mod sample;
pub mod schedule;
#[cfg(test)]
mod scipy_tests;
pub mod season;
pub mod slip;
pub mod swing;
pub mod track;
pub mod tyre;
pub mod weather;

pub use crate::numerics::checked;

use inertia::Part;
use machining::Machining;
use material::Material;
use swing::SwingTest;
use thiserror::Error;

/// One flywheel that could be fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Flywheel {
    /// Its name and inertia.
    pub part: Part,
    /// What it is made of, where the sheet says so.
    pub material: Option<Material>,
    /// What is to be done to it, where the sheet says so.
    pub machining: Machining,
    /// A swing test that checks its drawing, where there is one.
    pub swing_check: Option<SwingTest>,
    /// Name of the flywheel that this one is machined out of, where it is cut from another of
    /// the set; a wheel that is bought has none.
    pub cut_from: Option<String>,
}

impl Flywheel {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.part.name
    }
}

/// The flywheels to compare; exactly one of them is in the car now.
#[derive(Debug, Clone, PartialEq)]
pub struct Flywheels {
    all: Vec<Flywheel>,
    fitted: usize,
}

/// Why flywheels make no set to compare.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum FlywheelsError {
    /// None is marked as fitted.
    #[error("no flywheel is marked as the one fitted now")]
    NoneFitted,
    /// Two or more are marked as fitted.
    #[error("{0} flywheels are marked as the one fitted now")]
    ManyFitted(usize),
    /// Two have one name.
    #[error("two flywheels are called \"{0}\"")]
    SameName(String),
}

impl Flywheels {
    /// A set from flywheels, each with the word whether it is fitted now.
    ///
    /// # Errors
    /// When not exactly one is fitted, or two have one name.
    pub fn new(candidates: Vec<(Flywheel, bool)>) -> Result<Self, FlywheelsError> {
        let mut fitted = candidates
            .iter()
            .enumerate()
            .filter_map(|(index, (_, is))| is.then_some(index));
        let (first, others) = (fitted.next(), fitted.count());
        let fitted = match (first, others) {
            (None, _) => return Err(FlywheelsError::NoneFitted),
            (Some(index), 0) => index,
            (Some(_), others) => return Err(FlywheelsError::ManyFitted(others + 1)),
        };
        let all: Vec<Flywheel> = candidates.into_iter().map(|(wheel, _)| wheel).collect();
        for (index, wheel) in all.iter().enumerate() {
            if all
                .iter()
                .skip(index + 1)
                .any(|other| other.name() == wheel.name())
            {
                return Err(FlywheelsError::SameName(wheel.name().to_owned()));
            }
        }
        Ok(Self { all, fitted })
    }

    /// All of them, in the sheet's order.
    pub fn all(&self) -> &[Flywheel] {
        &self.all
    }

    /// The one in the car now.
    pub fn fitted(&self) -> Option<&Flywheel> {
        self.all.get(self.fitted)
    }

    /// The one with this name.
    pub fn named(&self, name: &str) -> Option<&Flywheel> {
        self.all.iter().find(|wheel| wheel.name() == name)
    }

    /// What a wheel can become by machining: itself, and whatever is cut from it, directly or in
    /// turn, in the sheet's order. Metal comes off, never on.
    pub fn reachable_from<'a>(&'a self, wheel: &'a Flywheel) -> impl Iterator<Item = &'a Flywheel> {
        self.all
            .iter()
            .filter(move |other| self.is_cut_from(other, wheel))
    }

    /// Whether a wheel is another one, or is cut from it, directly or in turn.
    fn is_cut_from(&self, wheel: &Flywheel, blank: &Flywheel) -> bool {
        let mut at = Some(wheel);
        // A chain is no longer than the set.
        for _ in 0..self.all.len() {
            match at {
                Some(one) if one.name() == blank.name() => return true,
                Some(one) => at = one.cut_from.as_deref().and_then(|name| self.named(name)),
                None => return false,
            }
        }
        false
    }

    /// Whether this is the one in the car now.
    pub fn is_fitted(&self, wheel: &Flywheel) -> bool {
        self.fitted()
            .is_some_and(|fitted| fitted.name() == wheel.name())
    }
}

/// A car with everything a launch needs, and the flywheels to choose from.
#[derive(Debug, Clone, PartialEq)]
pub struct Car {
    /// The sheet's title.
    pub title: String,
    /// The engine.
    pub engine: engine::Engine,
    /// All that turns with the crank, bar the flywheel.
    pub crank_side: Vec<Part>,
    /// The flywheels.
    pub flywheels: Flywheels,
    /// The clutch.
    pub clutch: clutch::Clutch,
    /// Gearbox and final drive.
    pub driveline: driveline::Driveline,
    /// The car itself.
    pub body: body::Body,
    /// The driven tyres.
    pub tyre: tyre::Tyre,
    /// The driver.
    pub driver: driver::Driver,
    /// The track on the day.
    pub track: track::Track,
    /// Meetings whose slips there are.
    pub meetings: Vec<meeting::Meeting>,
    /// What the builder decides for.
    pub season: season::Season,
}

impl Car {
    /// Inertia of all that turns with the crank while the clutch slips, bar the flywheel, kg·m².
    pub fn crank_without_flywheel_kg_m2(&self) -> f64 {
        self.crank_side.iter().map(Part::inertia_kg_m2).sum()
    }

    /// Crank-side inertia with a flywheel, kg·m².
    pub fn crank_side_inertia_kg_m2(&self, wheel: &Flywheel) -> f64 {
        self.crank_without_flywheel_kg_m2() + wheel.part.inertia_kg_m2()
    }
}
