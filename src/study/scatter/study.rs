//! Every flywheel of a car under one driver's scatter, and each held against each.

use super::super::compare::WheelStudy;
use super::super::{Progress, StudyError};
use super::aim::{Aim, LowestMean, launch_draws, lowest_mean, summarise};
use super::break_even::BestMeans;
use super::draws::Draws;
use super::frontier::{QuickAndSteady, frontier};
use super::mean_curve::MeanCurve;
use super::pairs::{Pair, Side, all_pairs};
use super::quarter::{Quarter, difference, quarters};
use super::scattered_rig::ScatteredRig;
use super::sensitivity::{Sensitivity, sensitivity_of_all};
use crate::car::Car;
use crate::numerics::Interval;

/// One flywheel under scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelScatter<'c> {
    /// Its index among the flywheels studied.
    pub index: usize,
    /// The car with it, and the scatter.
    pub rig: ScatteredRig<'c>,
    /// Mean sixty-foot time over the aim.
    pub curve: MeanCurve,
    /// What it does at its aim.
    pub aim: Aim,
    /// Quick and steady at its aim.
    pub quick_and_steady: QuickAndSteady,
    /// What its scatter comes from.
    pub sensitivity: Sensitivity,
    /// What it does down to 1,320 ft.
    pub quarter: Quarter,
}

/// Several flywheels under the same draws. A flywheel that never gets to 60 ft takes no part.
#[derive(Debug, Clone, PartialEq)]
pub struct ScatterStudy<'c> {
    /// The draws.
    pub draws: Draws,
    /// The flywheels that take part.
    pub wheels: Vec<WheelScatter<'c>>,
    /// Every pair of them; its indices are those of the flywheels studied.
    pub pairs: Vec<Pair>,
}

impl<'c> ScatterStudy<'c> {
    /// The scatter of a flywheel by its index among those studied.
    pub fn wheel(&self, index: usize) -> Option<&WheelScatter<'c>> {
        self.wheels.iter().find(|wheel| wheel.index == index)
    }

    /// Mean difference of a pair over 1,320 ft, the lighter less the heavier, s, with its
    /// 95 % interval.
    pub fn quarter_difference(&self, pair: &Pair) -> Option<(f64, Interval)> {
        let (lighter, heavier) = (self.wheel(pair.lighter)?, self.wheel(pair.heavier)?);
        Some(difference(&lighter.quarter, &heavier.quarter, &self.draws))
    }
}

/// A flywheel that takes part, and where its mean is lowest.
struct Entrant<'c> {
    index: usize,
    rig: ScatteredRig<'c>,
    curve: MeanCurve,
    lowest: LowestMean,
    /// Sixty-foot time that counts as within tolerance, s.
    within_s: f64,
}

/// Finds every flywheel's aim, launches every draw there, and holds each against each.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn study_scatter<'c>(
    car: &'c Car,
    studies: &[WheelStudy<'c>],
    draws: Draws,
    progress: &dyn Progress,
) -> Result<ScatterStudy<'c>, StudyError> {
    let entrants = entrants(car, studies, progress)?;
    let aimed: Vec<(&ScatteredRig, f64)> = entrants
        .iter()
        .map(|entrant| (&entrant.rig, entrant.lowest.aim_rad_s))
        .collect();
    let launched = launch_draws(&aimed, &draws, progress)?;
    let sensitivity = sensitivity_of_all(&aimed, draws.seed(), progress)?;
    let aims: Vec<Aim> = entrants
        .iter()
        .zip(&launched)
        .map(|(e, times)| summarise(&e.rig, &e.lowest, times, &draws, e.within_s))
        .collect();
    let driven: Vec<(&ScatteredRig, &Aim)> = entrants.iter().map(|e| &e.rig).zip(&aims).collect();
    let quarters = quarters(&driven, &draws, progress)?;
    let (pairs, front) = hold_against(car, &entrants, &aims, &draws);
    let wheels = entrants
        .into_iter()
        .zip(aims)
        .zip(front)
        .zip(sensitivity)
        .zip(quarters)
        .map(
            |((((entrant, aim), quick_and_steady), sensitivity), quarter)| WheelScatter {
                index: entrant.index,
                rig: entrant.rig,
                curve: entrant.curve,
                aim,
                quick_and_steady,
                sensitivity,
                quarter,
            },
        )
        .collect();
    Ok(ScatterStudy {
        draws,
        wheels,
        pairs,
    })
}

/// The flywheels that get to 60 ft at all, with their mean curves.
fn entrants<'c>(
    car: &'c Car,
    studies: &[WheelStudy<'c>],
    progress: &dyn Progress,
) -> Result<Vec<Entrant<'c>>, StudyError> {
    let able: Vec<(usize, &WheelStudy<'c>, f64)> = studies
        .iter()
        .enumerate()
        .filter_map(|(index, study)| {
            let quickest_s = study.best.as_ref()?.quickest.sixty_foot_s;
            Some((index, study, quickest_s + car.track.tolerance_s.get()))
        })
        .collect();
    let rigs: Vec<ScatteredRig> = able
        .iter()
        .map(|(_, study, _)| ScatteredRig::new(study.rig.clone()))
        .collect();
    let curves = MeanCurve::build_all(&rigs, progress)?;
    Ok(able
        .into_iter()
        .zip(rigs.into_iter().zip(curves))
        .map(|((index, _, within_s), (rig, curve))| Entrant {
            index,
            lowest: lowest_mean(&curve, &car.driver.launch_range, rig.launch_sd_rad_s),
            rig,
            curve,
            within_s,
        })
        .collect())
}

/// Every pair, and who is beaten on both counts.
fn hold_against(
    car: &Car,
    entrants: &[Entrant],
    aims: &[Aim],
    draws: &Draws,
) -> (Vec<Pair>, Vec<QuickAndSteady>) {
    let means: Vec<BestMeans> = entrants
        .iter()
        .zip(aims)
        .map(|(e, aim)| {
            BestMeans::new(
                &e.curve,
                car.driver.launch_range,
                e.rig.launch_sd_factor,
                aim.curve_error_s,
            )
        })
        .collect();
    let sides: Vec<Side> = entrants
        .iter()
        .zip(aims)
        .zip(&means)
        .map(|((e, aim), means)| Side {
            index: e.index,
            crank_side_kg_m2: e.rig.rig.crank_side_kg_m2,
            aim,
            means,
        })
        .collect();
    let pairs = all_pairs(&sides, draws);
    let front = frontier(&sides, &pairs, draws);
    (pairs, front)
}
