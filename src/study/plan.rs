//! A flywheel's cutting plan: its passes in order, the wheel after each, all of them launched.

use super::comparison::{Options, compare_wheels};
use super::cutting::{Aimed, Cutting, CuttingError, Launched, cut};
use super::decide::passes_weighed::weigh_passes;
use super::staged::{Order, ordered};
use super::{Progress, StudyError};
use crate::car::doubt::DoubtedCar;
use crate::car::machining::{Pass, ShopRules};
use crate::car::{Car, Flywheel};

/// A wheel with its passes made, and the wheels that come of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned<'c> {
    /// The wheel on the lathe.
    pub cutting: Cutting<'c>,
    /// In which order the passes come; `None` where no staged plan was asked for.
    pub order: Option<Order>,
    /// The wheels to launch besides the one as it is: after every pass of a plan, else after the
    /// last.
    pub after: Vec<Flywheel>,
}

impl<'c> Planned<'c> {
    /// Passes made one after another as a staged plan, that which does most first. A cut to a
    /// target comes last and stays there.
    ///
    /// # Errors
    /// When the wheel has no sections, or the shop or the disc check forbids.
    pub fn in_stages(
        car: &Car,
        wheel: &'c Flywheel,
        passes: &[Pass],
        aimed: Option<Aimed>,
        rules: ShopRules,
    ) -> Result<Self, CuttingError> {
        let (passes, order) = match wheel.part.built_up() {
            Some(part) if aimed.is_none() => ordered(part, passes, &rules),
            _ => (passes.to_vec(), Order::AsGiven),
        };
        let cutting = cut(car, wheel, &passes, aimed, rules)?;
        Ok(Self {
            after: wheels_after(&cutting, 1),
            order: Some(order),
            cutting,
        })
    }

    /// Passes made all at once.
    ///
    /// # Errors
    /// As [`Planned::in_stages`].
    pub fn at_once(
        car: &Car,
        wheel: &'c Flywheel,
        passes: &[Pass],
        aimed: Option<Aimed>,
        rules: ShopRules,
    ) -> Result<Self, CuttingError> {
        let cutting = cut(car, wheel, passes, aimed, rules)?;
        Ok(Self {
            after: wheels_after(&cutting, cutting.stages.len().max(1)),
            order: None,
            cutting,
        })
    }

    /// Launches the wheel as it is and the ones that come of it, under the driver's scatter, and
    /// weighs the passes over what the sheet does not know.
    ///
    /// # Errors
    /// When a launch cannot be computed, or somebody stopped it.
    pub fn launch<'p>(
        &'p self,
        doubted: &'p DoubtedCar,
        options: &Options,
        progress: &dyn Progress,
    ) -> Result<Launched<'p>, StudyError> {
        let car = doubted.nominal();
        let as_it_is = self.cutting.wheel;
        let wheels = std::iter::once(as_it_is).chain(&self.after);
        let taken_off: Vec<f64> = self
            .after
            .iter()
            .map(|after| as_it_is.part.inertia_kg_m2() - after.part.inertia_kg_m2())
            .collect();
        Ok(Launched {
            comparison: compare_wheels(car, wheels, options, progress)?,
            plan: self.order,
            weighed: weigh_passes(doubted, as_it_is.name(), &taken_off, options.seed, progress)?,
        })
    }
}

fn wheels_after(cutting: &Cutting, first: usize) -> Vec<Flywheel> {
    (first..=cutting.stages.len())
        .filter_map(|passes| cutting.wheel_after(passes))
        .collect()
}
