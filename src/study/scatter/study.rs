//! Every flywheel of a car under one driver's scatter, and each held against each.

use super::super::compare::WheelStudy;
use super::super::{Progress, StudyError};
use super::aim::{Aim, summarise};
use super::break_even::BestMeans;
use super::draws::Draws;
use super::frontier::{QuickAndSteady, frontier};
use super::pairs::{Pair, Side, all_pairs};
use super::quarter::{Driven, Quarter, difference, quarters};
use super::scattered_rig::ScatteredRig;
use super::sensitivity::Sensitivity;
use super::table::{Aimed, Design, LaunchTable, Lowest, Points, Wanted, variance_shares};
use crate::car::Car;
use crate::numerics::Interval;
use crate::study::release::{best_stretch, stretches};
use rayon::prelude::*;

/// One flywheel under scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelScatter<'c> {
    /// Its index among the flywheels studied.
    pub index: usize,
    /// The car with it, and the scatter.
    pub rig: ScatteredRig<'c>,
    /// Its launches, from which all the rest is read off.
    pub table: LaunchTable,
    /// What it does at its aim.
    pub aim: Aim,
    /// Quick and steady at its aim.
    pub quick_and_steady: QuickAndSteady,
    /// What its scatter comes from; `None` where nothing scatters.
    pub sensitivity: Option<Sensitivity>,
    /// What it does down to 1,320 ft.
    pub quarter: Quarter,
    /// The best aim at every release tried, by rising release time; empty where the sheet gives
    /// one release alone.
    pub ridge: Vec<RidgePoint>,
}

/// The best aim at one release.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RidgePoint {
    /// Release time, s.
    pub release_time_s: f64,
    /// The launch speed with the lowest mean, rad/s.
    pub aim_rad_s: f64,
    /// The mean there, s.
    pub mean_s: f64,
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

impl WheelScatter<'_> {
    /// Whether its release was searched for, and is no longer the sheet's own.
    pub fn release_practised(&self) -> bool {
        self.rig.rig.car.driver.release_range.is_some()
    }
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
        Some(difference(&lighter.quarter, &heavier.quarter))
    }

    /// Launches to 60 ft that it took, of all flywheels.
    pub fn launches(&self) -> usize {
        self.wheels.iter().map(|wheel| wheel.table.launches()).sum()
    }
}

/// A flywheel that takes part, and where its mean is lowest.
struct Entrant<'c> {
    index: usize,
    rig: ScatteredRig<'c>,
    ridge: Vec<RidgePoint>,
    table: LaunchTable,
    lowest: Lowest,
    /// Sixty-foot time that counts as within tolerance, s.
    within_s: f64,
}

impl Entrant<'_> {
    fn aimed(&self) -> Aimed<'_> {
        Aimed {
            table: &self.table,
            aim_rad_s: self.lowest.aim_rad_s,
            sd_rad_s: self.rig.law.launch_sd_rad_s,
        }
    }
}

/// Makes every flywheel's table, finds its aim, and holds each against each.
///
/// # Errors
/// When a launch cannot be computed, somebody stopped it, or a stall is said to cost less than
/// the quickest launch takes.
pub fn study_scatter<'c>(
    car: &'c Car,
    studies: &[WheelStudy<'c>],
    draws: Draws,
    progress: &dyn Progress,
) -> Result<ScatterStudy<'c>, StudyError> {
    check_stall_cost(car, studies)?;
    let entrants = entrants(car, studies, draws, progress)?;
    let aims: Vec<Aim> = entrants
        .par_iter()
        .map(|e| summarise(&e.table, &car.driver.launch_range, &e.lowest, e.within_s))
        .collect();
    let driven: Vec<Driven> = entrants
        .iter()
        .map(|entrant| Driven {
            rig: &entrant.rig,
            aimed: entrant.aimed(),
        })
        .collect();
    let quarters = quarters(&driven, &draws, progress)?;
    let pairs = hold_against(car, &entrants);
    let numbered: Vec<(usize, &Aim)> = entrants.iter().map(|e| e.index).zip(&aims).collect();
    let front = frontier(&numbered, &pairs);
    let shares: Vec<Option<Sensitivity>> = entrants
        .iter()
        .map(|entrant| variance_shares(&entrant.aimed()))
        .collect();
    let wheels = entrants
        .into_iter()
        .zip(aims)
        .zip(front)
        .zip(shares)
        .zip(quarters)
        .map(
            |((((entrant, aim), quick_and_steady), sensitivity), quarter)| WheelScatter {
                index: entrant.index,
                rig: entrant.rig,
                table: entrant.table,
                aim,
                quick_and_steady,
                sensitivity,
                quarter,
                ridge: entrant.ridge,
            },
        )
        .collect();
    Ok(ScatterStudy {
        draws,
        wheels,
        pairs,
    })
}

/// A stall that costs less than a launch takes would make stalling the thing to do.
fn check_stall_cost(car: &Car, studies: &[WheelStudy]) -> Result<(), StudyError> {
    let stall_cost_s = car.track.stall_cost_s.get();
    let quickest_s = studies
        .iter()
        .filter_map(|study| Some(study.best.as_ref()?.quickest.sixty_foot_s))
        .fold(f64::INFINITY, f64::min);
    if quickest_s.is_finite() && stall_cost_s < quickest_s {
        return Err(StudyError::StallTooCheap {
            stall_cost_s,
            quickest_s,
        });
    }
    Ok(())
}

/// The tables of several rigs, at the same points.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn tables(
    rigs: &[ScatteredRig],
    points: &Points,
    design: Design,
    progress: &dyn Progress,
) -> Result<Vec<LaunchTable>, StudyError> {
    let wanted: Vec<Wanted> = rigs
        .iter()
        .map(|rig| Wanted {
            car: rig,
            law: rig.law,
            points,
            design,
        })
        .collect();
    LaunchTable::build_all(&wanted, progress)
}

/// Points of the tables by which a release is chosen, in draws.
const RELEASE_DRAWS: usize = 256;

/// Every rig with the release that has the lowest mean at its own aim, by coarse tables at the
/// same points, and what they say of every release tried; as it is where the sheet gives one
/// release alone.
fn practised<'c>(
    car: &Car,
    rigs: Vec<ScatteredRig<'c>>,
    draws: Draws,
    progress: &dyn Progress,
) -> Result<Vec<(ScatteredRig<'c>, Vec<RidgePoint>)>, StudyError> {
    let stretches = stretches(car);
    let (Some(first), true) = (rigs.first(), stretches.len() > 1) else {
        return Ok(rigs.into_iter().map(|rig| (rig, Vec::new())).collect());
    };
    let points = Draws::new(RELEASE_DRAWS, draws.seed()).points(&first.law);
    let tried: Vec<ScatteredRig> = rigs
        .iter()
        .flat_map(|rig| stretches.iter().map(|stretch| rig.with_release(*stretch)))
        .collect();
    let tables = tables(&tried, &points, Design::COARSE, progress)?;
    Ok(rigs
        .iter()
        .zip(tables.chunks(stretches.len()))
        .map(|(rig, tables)| {
            let ridge: Vec<(f64, RidgePoint)> = tables
                .iter()
                .map(|table| {
                    let sd = table.law().launch_sd_rad_s;
                    let lowest = table.lowest(&car.driver.launch_range, sd);
                    let stretch = table.law().release_stretch;
                    let point = RidgePoint {
                        release_time_s: rig.with_release(stretch).release_time_s(),
                        aim_rad_s: lowest.aim_rad_s,
                        mean_s: lowest.mean_s,
                    };
                    (stretch, point)
                })
                .collect();
            let means: Vec<(f64, f64)> = ridge
                .iter()
                .map(|(stretch, point)| (*stretch, point.mean_s))
                .collect();
            let own = rig.with_release(best_stretch(&means).unwrap_or(1.0));
            (own, ridge.into_iter().map(|(_, point)| point).collect())
        })
        .collect())
}

/// The flywheels that get to 60 ft at all, with their tables.
fn entrants<'c>(
    car: &'c Car,
    studies: &[WheelStudy<'c>],
    draws: Draws,
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
    let Some(first) = rigs.first().cloned() else {
        return Ok(Vec::new());
    };
    let points = draws.points(&first.law);
    let (rigs, ridges): (Vec<_>, Vec<_>) =
        practised(car, rigs, draws, progress)?.into_iter().unzip();
    let tables = tables(&rigs, &points, Design::for_law(&first.law), progress)?;
    Ok(able
        .into_iter()
        .zip(rigs.into_iter().zip(tables))
        .zip(ridges)
        .map(|(((index, _, within_s), (rig, table)), ridge)| Entrant {
            index,
            ridge,
            lowest: table.lowest(&car.driver.launch_range, rig.law.launch_sd_rad_s),
            rig,
            table,
            within_s,
        })
        .collect())
}

/// Every pair.
fn hold_against(car: &Car, entrants: &[Entrant]) -> Vec<Pair> {
    let means: Vec<BestMeans> = entrants
        .iter()
        .map(|e| BestMeans::new(&e.table, car.driver.launch_range, e.rig.launch_sd_factor))
        .collect();
    let sides: Vec<Side> = entrants
        .iter()
        .zip(&means)
        .map(|(e, means)| Side {
            index: e.index,
            crank_side_kg_m2: e.rig.rig.crank_side_kg_m2,
            aimed: e.aimed(),
            means,
        })
        .collect();
    all_pairs(&sides)
}
