//! Maps: mean sixty-foot time over the launch speed aimed at and one thing more.

use super::scatter::draws::{DEFAULT_SEED, Draws};
use super::scatter::scattered_rig::ScatteredRig;
use super::scatter::study::tables;
use super::scatter::table::Design;
use super::sweep::speeds;
use super::{Progress, StudyError};
use crate::car::Car;
use crate::car::Flywheel;
use crate::car::checked::Positive;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::launch::Rig;

/// Step of the launch speed in a map, rad/s (100 rpm).
const MAP_STEP_RAD_S: f64 = 100.0 * RAD_S_PER_RPM;
/// Rows of a map.
const ROWS: u32 = 14;
/// Draws of a map: 16 points of release and grip, the colours need no more.
const MAP_DRAWS: usize = 512;
/// A map of inertia reaches this far below the lightest flywheel, and above the heaviest, as a
/// share of their inertia.
const BEYOND: f64 = 0.15;
/// A map of release time reaches from this share of the sheet's own…
const QUICKEST_RELEASE: f64 = 0.4;
/// … to this.
const SLOWEST_RELEASE: f64 = 2.2;

/// Mean sixty-foot time over aims (columns) and something else (rows).
#[derive(Debug, Clone, PartialEq)]
pub struct MeanMap {
    /// Launch speeds aimed at, rad/s, rising.
    pub aims_rad_s: Vec<f64>,
    /// What the rows stand for, rising: kg·m² or s.
    pub rows: Vec<f64>,
    /// Mean sixty-foot time, s, a list for each row.
    pub means_s: Vec<Vec<f64>>,
    /// The aim with the lowest mean of each row, rad/s.
    pub best_aims_rad_s: Vec<f64>,
}

/// Over crank-side inertia (kg·m²), from below the lightest flywheel to above the heaviest.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn over_inertia(car: &Car, progress: &dyn Progress) -> Result<MeanMap, StudyError> {
    let without = car.crank_without_flywheel_kg_m2();
    let wheels = car.flywheels.all();
    let inertias = || wheels.iter().map(|wheel| wheel.part.inertia_kg_m2());
    let lightest = inertias().fold(f64::INFINITY, f64::min) * (1.0 - BEYOND);
    let heaviest = inertias().fold(0.0, f64::max) * (1.0 + BEYOND);
    let Some(wheel) = car.flywheels.fitted() else {
        return Ok(MeanMap::empty());
    };
    let rows: Vec<f64> = evenly_spaced(without + lightest, without + heaviest).collect();
    let rigs: Vec<ScatteredRig> = rows
        .iter()
        .map(|inertia| ScatteredRig::new(Rig::new(car, wheel).with_crank_side(*inertia)))
        .collect();
    MeanMap::build(rows, &rigs, &car.driver.launch_range, progress)
}

/// Over the clutch's release time (s), for one flywheel.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn over_release(
    car: &Car,
    wheel: &Flywheel,
    progress: &dyn Progress,
) -> Result<MeanMap, StudyError> {
    let own_s = car.clutch.release.last_corner_s();
    let stretches: Vec<Positive> = evenly_spaced(QUICKEST_RELEASE, SLOWEST_RELEASE)
        .filter_map(Positive::new)
        .collect();
    let cars: Vec<Car> = stretches
        .iter()
        .map(|stretch| {
            let mut changed = car.clone();
            changed.clutch.release = car.clutch.release.stretched(stretch.get());
            changed
        })
        .collect();
    let rigs: Vec<ScatteredRig> = cars
        .iter()
        .map(|car| ScatteredRig::new(Rig::new(car, wheel)))
        .collect();
    let rows = stretches
        .iter()
        .map(|stretch| own_s * stretch.get())
        .collect();
    MeanMap::build(rows, &rigs, &car.driver.launch_range, progress)
}

impl MeanMap {
    const fn empty() -> Self {
        Self {
            aims_rad_s: Vec::new(),
            rows: Vec::new(),
            means_s: Vec::new(),
            best_aims_rad_s: Vec::new(),
        }
    }

    fn build(
        rows: Vec<f64>,
        rigs: &[ScatteredRig],
        range: &SpeedRange,
        progress: &dyn Progress,
    ) -> Result<Self, StudyError> {
        let Some(first) = rigs.first() else {
            return Ok(Self::empty());
        };
        let points = Draws::new(MAP_DRAWS, DEFAULT_SEED).points(&first.law);
        let tables = tables(rigs, &points, Design::COARSE, progress)?;
        let aims_rad_s = speeds(range, MAP_STEP_RAD_S);
        let (means_s, best_aims_rad_s) = tables
            .iter()
            .map(|table| {
                let sd = table.law().launch_sd_rad_s;
                let means: Vec<f64> = aims_rad_s
                    .iter()
                    .map(|aim| table.at(*aim, sd).mean_s)
                    .collect();
                (means, table.lowest(range, sd).aim_rad_s)
            })
            .unzip();
        Ok(Self {
            aims_rad_s,
            rows,
            means_s,
            best_aims_rad_s,
        })
    }
}

fn evenly_spaced(low: f64, high: f64) -> impl Iterator<Item = f64> {
    (0..ROWS).map(move |row| low + (high - low) * f64::from(row) / f64::from(ROWS - 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::sample::live_axle_saloon;
    use crate::study::Unwatched;

    /// The row at a flywheel's own inertia says what that flywheel's own mean curve says, and the
    /// line of best aims runs through the lowest cells.
    #[test]
    fn law_a_map_of_inertia_goes_through_the_cars_own_flywheels() {
        let mut car = live_axle_saloon();
        car.driver.launch_range = SpeedRange::new(300.0, 400.0).unwrap();
        let map = over_inertia(&car, &Unwatched).unwrap();
        assert_eq!(map.means_s.len(), map.rows.len());
        for ((means, best), _) in map.means_s.iter().zip(&map.best_aims_rad_s).zip(&map.rows) {
            let lowest = means.iter().copied().fold(f64::INFINITY, f64::min);
            let at = means
                .iter()
                .position(|mean| (mean - lowest).abs() < 1e-12)
                .unwrap();
            assert!((map.aims_rad_s[at] - best).abs() <= MAP_STEP_RAD_S * 1.01);
        }
    }
}
