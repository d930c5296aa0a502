//! A flywheel on the lathe: what each pass takes off, and what the disc check says after it.

use super::comparison::Comparison;
use super::decide::passes_weighed::PassesWeighed;
use super::ledger::DiscStanding;
use super::staged::Order;
use crate::car::checked::NonNegative;
use crate::car::clutch::Capacity;
use crate::car::driveline::equivalent_mass_kg;
use crate::car::inertia::{BuiltUp, Description, Part};
use crate::car::machining::{Band, Machining, Pass, ShopRules};
use crate::car::{Car, Flywheel};
use crate::metal::cut::{CutStep, PassRefused, apply_all};
use crate::metal::disc::DiscDemand;
use crate::metal::target::{DiscOutcome, OpenCut, Reached, Target, TargetRefusal, reach};
use crate::metal::worth::{Worth, worth};
use std::num::NonZeroU32;
use thiserror::Error;

/// Rings that a wheel is told of in "where to cut": wide enough for a tool, few enough to read.
const RINGS: u32 = 8;

/// One pass made, and what is left.
#[derive(Debug, Clone, PartialEq)]
pub struct CutStage {
    /// The pass.
    pub step: CutStep,
    /// The disc check of what is left.
    pub disc: DiscStanding,
    /// Car mass in first gear that each unit of mass taken off here is worth, in the same unit:
    /// `η (r G/R)²` with `r` the radius of gyration of what came off. `None` where nothing did.
    pub worth_in_first: Option<f64>,
    /// How far the dimension found for a target may be off, m, 95 %: as far as the wheel's own
    /// inertia may be. `None` where nothing was looked for, or it is exact.
    pub within_m: Option<f64>,
}

/// A flywheel and everything done to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting<'c> {
    /// The flywheel as it is.
    pub wheel: &'c Flywheel,
    /// Its metal.
    pub part: &'c BuiltUp,
    /// What the shop keeps.
    pub rules: ShopRules,
    /// The disc check of the wheel as it is.
    pub disc_before: DiscStanding,
    /// The passes, in order.
    pub stages: Vec<CutStage>,
    /// Where a gram is worth most, in the wheel as it is.
    pub worth: Option<Worth>,
}

/// A cut with one dimension left open, and what it is to reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aimed {
    /// The cut.
    pub open: OpenCut,
    /// The target.
    pub target: Target,
    /// Share to which the inertia of the wheel is known, 95 %: 0 where it is exact.
    pub inertia_known_to: f64,
}

/// Why a flywheel was not cut.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CuttingError {
    /// It is not described by its sections.
    #[error(
        "the flywheel is not described by its sections, so what a cut takes off cannot be told"
    )]
    NoShape,
    /// A pass was refused.
    #[error("{0}")]
    Pass(#[from] PassRefused),
    /// The target was refused.
    #[error("{0}")]
    Target(#[from] TargetRefusal),
}

/// What the shop keeps of this wheel: the sheet's rules, the usual ones where it gives none;
/// where nobody says where the clutch rubs, the friction faces of the clutch do if they are given.
pub fn rules_for(car: &Car, wheel: &Flywheel, clutch_face: Option<Band>) -> Option<ShopRules> {
    let rules = match wheel.machining.shop {
        Some(rules) => rules,
        None => ShopRules::usual(None)?,
    };
    let of_the_clutch = || match &car.clutch.capacity {
        Capacity::Faces(faces) => {
            let (inner, outer) = faces.radii_m();
            Band::new(inner, outer)
        }
        Capacity::Given(_) => None,
    };
    Some(ShopRules {
        clutch_face: clutch_face.or(rules.clutch_face).or_else(of_the_clutch),
        ..rules
    })
}

/// Makes passes on a flywheel, and then the cut that reaches a target, if one is aimed at.
///
/// # Errors
/// When the wheel has no sections, or the shop or the disc check forbids.
pub fn cut<'c>(
    car: &Car,
    wheel: &'c Flywheel,
    passes: &[Pass],
    aimed: Option<Aimed>,
    rules: ShopRules,
) -> Result<Cutting<'c>, CuttingError> {
    let part = wheel.part.built_up().ok_or(CuttingError::NoShape)?;
    let demand = DiscDemand::at_limiter(car.engine.limiter_rad_s);
    let stand = |part: &BuiltUp| DiscStanding::of(Some(part), demand.as_ref());
    let stage = |step: CutStep| CutStage {
        disc: stand(&step.part),
        worth_in_first: step.gyration_m().map(|radius_m| {
            let overall = car.driveline.overall_ratios().next().unwrap_or(f64::NAN);
            let efficiency = car.driveline.efficiency.get();
            equivalent_mass_kg(
                radius_m.powi(2),
                overall,
                efficiency,
                car.tyre.radius_m.get(),
            )
        }),
        within_m: None,
        step,
    };
    let mut stages: Vec<CutStage> = apply_all(part, passes, &rules)?
        .into_iter()
        .map(stage)
        .collect();
    if let Some(aimed) = aimed {
        let from = stages.last().map_or(part, |stage| &stage.step.part);
        let Reached { step, disc } =
            reach(from, aimed.open, aimed.target, &rules, demand.as_ref())?;
        let mut last = stage(step);
        last.within_m = within_m(from, &aimed, &rules);
        if let DiscOutcome::Passed(check) = disc {
            last.disc = DiscStanding::Checked(Box::new(check));
        }
        stages.push(last);
    }
    Ok(Cutting {
        disc_before: stand(part),
        worth: NonZeroU32::new(RINGS).and_then(|rings| worth(part, rings, &rules)),
        wheel,
        part,
        rules,
        stages,
    })
}

/// How far a dimension that reaches an inertia may be off: half of how far apart those lie that
/// reach it from a wheel as much heavier and as much lighter as the one there may be.
fn within_m(from: &BuiltUp, aimed: &Aimed, rules: &ShopRules) -> Option<f64> {
    let (Target::InertiaKgM2(target), share) = (aimed.target, aimed.inertia_known_to) else {
        return None;
    };
    if share <= 0.0 {
        return None;
    }
    let size_m = |scale: f64| {
        let target = Target::InertiaKgM2(NonNegative::new(target.get() / scale)?);
        let reached = reach(from, aimed.open, target, rules, None).ok()?;
        Some(open_size_m(&reached.step.pass))
    };
    let middle_m = size_m(1.0)?;
    let off = |scale: f64| size_m(scale).map(|size_m| (size_m - middle_m).abs());
    off(1.0 - share)
        .into_iter()
        .chain(off(1.0 + share))
        .reduce(f64::max)
}

/// The dimension of a pass that a target finds, m.
fn open_size_m(pass: &Pass) -> f64 {
    match pass {
        Pass::FaceBand { depth_m, .. } => depth_m.get(),
        Pass::Drill { diameter_m, .. } => diameter_m.get(),
        Pass::TurnRim { radius_m } => 2.0 * radius_m.get(),
        Pass::TaperWeb { .. } => f64::NAN,
    }
}

/// The wheel as it is and as it is cut, launched.
#[derive(Debug, Clone, PartialEq)]
pub struct Launched<'c> {
    /// The wheel as it is, then after each pass (a plan) or after the last.
    pub comparison: Comparison<'c>,
    /// In which order the passes of a plan come; `None` where no plan was asked for.
    pub plan: Option<Order>,
    /// What each pass of a plan, or all passes at once, may gain and may lose for good, over what
    /// the sheet does not know.
    pub weighed: Option<PassesWeighed>,
}

impl Cutting<'_> {
    /// The wheel after a number of passes, as one more candidate.
    pub fn wheel_after(&self, passes: usize) -> Option<Flywheel> {
        let stage = self.stages.get(passes.checked_sub(1)?)?;
        let name = if passes == self.stages.len() {
            self.name_when_cut()
        } else {
            format!("{}, after pass {passes}", self.wheel.name())
        };
        Some(Flywheel {
            part: Part {
                name,
                description: Description::BuiltUp(stage.step.part.clone()),
            },
            material: self.wheel.material.clone(),
            machining: Machining::default(),
            swing_check: None,
            cut_from: Some(self.wheel.name().to_owned()),
        })
    }

    /// What the wheel is called once every pass is made.
    pub fn name_when_cut(&self) -> String {
        format!("{}, cut", self.wheel.name())
    }

    /// The metal that is left in the end.
    pub fn left(&self) -> &BuiltUp {
        self.stages
            .last()
            .map_or(self.part, |stage| &stage.step.part)
    }
}
