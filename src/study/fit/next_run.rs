//! The run that would help the decision most.

use super::chance::spreads_over;
use super::learnt::Fit;
use super::model::{CHANCES, FOR_READINGS, predicted};
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::launch::Rig;
use crate::study::decide::own_aim::own_aim;
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::{Progress, StudyError, on_all_cores};
use nalgebra::{DMatrix, DVector};

/// Launch speeds tried about a flywheel's aim, rpm.
const OFFSETS_RPM: [f64; 5] = [-800.0, -400.0, 0.0, 400.0, 800.0];
/// Draws that the gain is judged by.
const DRAWS: usize = 48;

/// Fewer draws than this that get there say nothing of a run.
const FEWEST: usize = 12;

/// A run worth making.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextRun {
    /// Place of its flywheel.
    pub wheel: usize,
    /// Launch speed, rad/s.
    pub launch_speed_rad_s: f64,
    /// The two flywheels between which it helps to decide.
    pub between: (usize, usize),
    /// Share of the variance of their difference that this one run takes away.
    pub gain_share: f64,
}

/// Of runs with each flywheel from speeds about its aim, the one whose slip (60 ft and, where it
/// is logged, the lowest engine speed) leaves least doubt about the difference of two flywheels;
/// `None` where there is nothing to decide or nothing to gain. Normal theory: of a difference `D`
/// and figures `y`, both linear in the unknowns, a reading takes away
/// `cov(D, y) (cov(y) + S)⁻¹ cov(y, D)` of the variance, `S` the figures' own spread.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn next_run(
    fit: &Fit,
    between: (usize, usize),
    progress: &dyn Progress,
) -> Result<Option<NextRun>, StudyError> {
    let cars = drawn_cars(fit);
    let mut aims = Vec::new();
    for wheel in fit.car.flywheels.all() {
        let rig = ScatteredRig::new(Rig::new(&fit.car, wheel));
        let aim = own_aim(&rig, &fit.car.driver.launch_range)?;
        aims.push(aim.map(|aim| aim.aim_rad_s));
    }
    let (Some(Some(one)), Some(Some(other))) = (aims.get(between.0), aims.get(between.1)) else {
        return Ok(None);
    };
    let difference: Vec<Option<f64>> = cars
        .iter()
        .map(|car| {
            let time = |wheel, speed| sixty_foot_s(car, wheel, speed);
            Some(time(between.0, *one)? - time(between.1, *other)?)
        })
        .collect();
    let range = &fit.car.driver.launch_range;
    let candidates: Vec<(usize, f64)> = aims
        .iter()
        .enumerate()
        .filter_map(|(wheel, aim)| Some((wheel, (*aim)?)))
        .flat_map(|(wheel, aim)| OFFSETS_RPM.map(|rpm| (wheel, aim + rpm * RAD_S_PER_RPM)))
        .filter(|(_, speed)| range.contains(*speed))
        .collect();
    let gains = on_all_cores(&candidates, progress, |(wheel, speed)| {
        Ok(gain_share(&cars, &difference, (*wheel, *speed)))
    })?;
    Ok(candidates
        .iter()
        .zip(gains)
        .filter_map(|((wheel, speed), gain)| {
            Some(NextRun {
                wheel: *wheel,
                launch_speed_rad_s: *speed,
                between,
                gain_share: gain?,
            })
        })
        .max_by(|a, b| a.gain_share.total_cmp(&b.gain_share)))
}

/// Cars of equal weight drawn from the fit: at equal steps of the weight.
fn drawn_cars(fit: &Fit) -> Vec<Car> {
    let unknowns = fit.unknowns.iter();
    let places: Vec<usize> = unknowns.map(|unknown| unknown.position).collect();
    fit.draws
        .equally_weighted(DRAWS)
        .filter_map(|draw| fit.doubted.with_values_at(&places, draw))
        .collect()
}

fn slip(wheel: usize, launch_speed_rad_s: f64, shown: &[Shown]) -> Slip {
    Slip {
        row: 0,
        wheel,
        meeting: None,
        launch_speed_rad_s: Some(launch_speed_rad_s),
        figures: shown
            .iter()
            .map(|shown| SlipFigure {
                shown: *shown,
                value: 0.0,
                step: 0.0,
            })
            .collect(),
        log: None,
        remark: None,
    }
}

fn sixty_foot_s(car: &Car, wheel: usize, speed: f64) -> Option<f64> {
    let slip = slip(wheel, speed, &[Shown::Time(Mark::Ft60)]);
    predicted(car, &slip, speed, &[0.0; CHANCES], &FOR_READINGS)?
        .first()
        .copied()
}

fn gain_share(
    cars: &[Car],
    difference: &[Option<f64>],
    (wheel, speed): (usize, f64),
) -> Option<f64> {
    let slip = slip(
        wheel,
        speed,
        &[Shown::Time(Mark::Ft60), Shown::LowestEngineSpeed],
    );
    let spreads = spreads_over(cars, &[(&slip, speed)]).ok()?;
    let own = spreads.first()?.covariance();
    let rows: Vec<(f64, DVector<f64>)> = cars
        .iter()
        .zip(difference)
        .filter_map(|(car, difference)| {
            let shown = predicted(car, &slip, speed, &[0.0; CHANCES], &FOR_READINGS)?;
            Some(((*difference)?, DVector::from_vec(shown)))
        })
        .collect();
    if rows.len() < FEWEST {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "some tens of draws")]
    let count = rows.len() as f64;
    let mean_difference = rows.iter().map(|(d, _)| d).sum::<f64>() / count;
    let mean_shown = rows
        .iter()
        .fold(DVector::zeros(own.nrows()), |sum, (_, y)| sum + y)
        / count;
    let mut shared = DVector::zeros(own.nrows());
    let mut shown: DMatrix<f64> = DMatrix::zeros(own.nrows(), own.nrows());
    let mut variance = 0.0;
    for (d, y) in &rows {
        let (d, y) = (d - mean_difference, y - &mean_shown);
        variance += d * d / count;
        shown += &y * y.transpose() / count;
        shared += y * (d / count);
    }
    let taken = shared.dot(&(shown + own).cholesky()?.solve(&shared));
    (variance > 0.0).then(|| (taken / variance).clamp(0.0, 1.0))
}
