//! Every flywheel of a car under one driver's scatter, and each held against each.

use super::super::compare::WheelStudy;
use super::super::{Progress, StudyError};
use super::aim::{Aim, LowestMean, launch_draws, lowest_mean, summarise};
use super::break_even::BestMeans;
use super::chances::ScatteredRig;
use super::draws::Draws;
use super::frontier::{QuickAndSteady, frontier};
use super::mean_curve::MeanCurve;
use super::pairs::{Pair, Side, all_pairs};
use crate::car::Car;

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
    let (indices, within_s): (Vec<usize>, Vec<f64>) = studies
        .iter()
        .enumerate()
        .filter_map(|(index, study)| Some((index, study.best.as_ref()?.quickest.sixty_foot_s)))
        .map(|(index, quickest_s)| (index, quickest_s + car.track.tolerance_s.get()))
        .unzip();
    let rigs: Vec<ScatteredRig> = indices
        .iter()
        .filter_map(|index| studies.get(*index))
        .map(|study| ScatteredRig::new(study.rig.clone()))
        .collect();
    let curves = MeanCurve::build_all(&rigs, progress)?;
    let range = car.driver.launch_range;
    let lowest: Vec<LowestMean> = rigs
        .iter()
        .zip(&curves)
        .map(|(rig, curve)| lowest_mean(curve, &range, rig.launch_sd_rad_s))
        .collect();
    let aimed: Vec<(&ScatteredRig, f64)> = rigs
        .iter()
        .zip(&lowest)
        .map(|(rig, lowest)| (rig, lowest.aim_rad_s))
        .collect();
    let launched = launch_draws(&aimed, &draws, progress)?;
    let aims: Vec<Aim> = rigs
        .iter()
        .zip(&lowest)
        .zip(launched.iter().zip(&within_s))
        .map(|((rig, lowest), (times, within_s))| summarise(rig, lowest, times, &draws, *within_s))
        .collect();
    let means: Vec<BestMeans> = rigs
        .iter()
        .zip(&curves)
        .zip(&aims)
        .map(|((rig, curve), aim)| {
            BestMeans::new(curve, range, rig.launch_sd_factor, aim.curve_error_s)
        })
        .collect();
    let sides: Vec<Side> = indices
        .iter()
        .zip(&rigs)
        .zip(aims.iter().zip(&means))
        .map(|((index, rig), (aim, means))| Side {
            index: *index,
            crank_side_kg_m2: rig.rig.crank_side_kg_m2,
            aim,
            means,
        })
        .collect();
    let pairs = all_pairs(&sides, &draws);
    let front = frontier(&sides, &pairs, &draws);
    drop(means);
    Ok(ScatterStudy {
        draws,
        wheels: indices
            .into_iter()
            .zip(rigs.into_iter().zip(curves))
            .zip(aims.into_iter().zip(front))
            .map(
                |((index, (rig, curve)), (aim, quick_and_steady))| WheelScatter {
                    index,
                    rig,
                    curve,
                    aim,
                    quick_and_steady,
                },
            )
            .collect(),
        pairs,
    })
}
