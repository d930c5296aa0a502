//! What a pass on the lathe may gain, and what it may lose for good.
//!
//! A pass is a decision like that for a wheel: the sheet is not sure, and the metal does not go
//! back on. So the wheel before and after it is driven in sheets drawn from the doubt, each at its
//! own aim in each, and the difference of the two is told sheet by sheet. What comes off is in
//! the scale of the wheel: a drawing that is a per cent wrong is so before and after.

use super::drawn::DrawnSheets;
use super::evaluate::evaluate;
use super::losses::as_float;
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::car::season::Counts;
use crate::launch::Rig;
use crate::numerics::Interval;
use crate::numerics::summary::{mean, mean_interval, percentile};
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::{Progress, StudyError, on_all_cores};

/// Sheets drawn: four in each block. A mean change is then known to about a tenth of what the
/// doubt makes of it.
const SHEETS: usize = 64;
/// The share of sheets beyond which a loss or a gain is the worst or best 1 in 20.
const WORST: f64 = 0.95;

/// One pass under the doubt: the wheel after it against the wheel before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PassWeighed {
    /// Change of what counts, on average over the sheets, s: below 0 where the pass gains.
    pub change_mean_s: f64,
    /// Its 95 % interval, by the draws of the sheets.
    pub change_interval_s: Interval,
    /// What it gains on average, s, a sheet in which it loses counting as 0.
    pub gained_mean_s: f64,
    /// Gain in the best 1 in 20 of the sheets, s.
    pub gained_p95_s: f64,
    /// What it loses on average and for good, s, a sheet in which it gains counting as 0.
    pub lost_mean_s: f64,
    /// Loss in the worst 1 in 20 of the sheets, s.
    pub lost_p95_s: f64,
    /// Share of the sheets in which it loses.
    pub share_lost: f64,
}

/// All passes under the doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct PassesWeighed {
    /// Sheets drawn.
    pub sheets: usize,
    /// Each pass against the wheel before it.
    pub passes: Vec<PassWeighed>,
    /// The wheel in the end against the wheel as it is.
    pub together: Option<PassWeighed>,
}

/// Weighs passes on a flywheel (by its name) that take off so much inertia in all, kg·m², after
/// each. `None` where the car has no such wheel.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn weigh_passes(
    doubted: &DoubtedCar,
    wheel: &str,
    taken_off_kg_m2: &[f64],
    seed: u32,
    progress: &dyn Progress,
) -> Result<Option<PassesWeighed>, StudyError> {
    let nominal = doubted.nominal();
    let Some(stated_kg_m2) = inertia_of(nominal, wheel) else {
        return Ok(None);
    };
    let drawn = DrawnSheets::new(doubted, SHEETS, seed);
    let off = || std::iter::once(0.0).chain(taken_off_kg_m2.iter().copied());
    let jobs: Vec<(f64, &Car)> = off()
        .flat_map(|off| drawn.sheets.iter().map(move |sheet| (off, &sheet.car)))
        .collect();
    let counts = nominal.season.counts;
    let done = on_all_cores(&jobs, progress, |(off, car)| {
        counted_s(car, wheel, off / stated_kg_m2, counts)
    })?;
    let by_wheel: Vec<&[Option<f64>]> = done.chunks(drawn.sheets.len().max(1)).collect();
    let weigh =
        |before: &&[Option<f64>], after: &&[Option<f64>]| weighed(before, after, drawn.block_len);
    Ok(Some(PassesWeighed {
        sheets: drawn.sheets.len(),
        passes: by_wheel
            .windows(2)
            .filter_map(|pair| match pair {
                [before, after] => weigh(before, after),
                _ => None,
            })
            .collect(),
        together: by_wheel
            .first()
            .zip(by_wheel.last())
            .and_then(|(before, after)| weigh(before, after)),
    }))
}

fn inertia_of(car: &Car, wheel: &str) -> Option<f64> {
    Some(car.flywheels.named(wheel)?.part.inertia_kg_m2())
}

/// What counts for a wheel with a share of its inertia taken off, s; `None` where the car has no
/// such wheel.
fn counted_s(
    car: &Car,
    wheel: &str,
    share_off: f64,
    counts: Counts,
) -> Result<Option<f64>, StudyError> {
    let Some(wheel) = car.flywheels.named(wheel) else {
        return Ok(None);
    };
    let left = car.crank_side_inertia_kg_m2(wheel) - share_off * wheel.part.inertia_kg_m2();
    let rig = ScatteredRig::new(Rig::new(car, wheel).with_crank_side(left));
    Ok(Some(evaluate(&rig, counts, None)?.counted_s))
}

/// One wheel against another, sheet by sheet.
fn weighed(before: &[Option<f64>], after: &[Option<f64>], block_len: usize) -> Option<PassWeighed> {
    let changes: Vec<f64> = before
        .iter()
        .zip(after)
        .map(|(before, after)| Some((*after)? - (*before)?))
        .collect::<Option<_>>()?;
    let side = |sign: f64| -> Vec<f64> { changes.iter().map(|c| (sign * c).max(0.0)).collect() };
    let (gained, lost) = (side(-1.0), side(1.0));
    let blocks: Vec<f64> = changes.chunks(block_len.max(1)).map(mean).collect();
    let slower = changes.iter().filter(|change| **change > 0.0).count();
    Some(PassWeighed {
        change_mean_s: mean(&changes),
        change_interval_s: mean_interval(&blocks),
        gained_mean_s: mean(&gained),
        gained_p95_s: percentile(&gained, WORST),
        lost_mean_s: mean(&lost),
        lost_p95_s: percentile(&lost, WORST),
        share_lost: as_float(slower) / as_float(changes.len().max(1)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::sample::live_axle_saloon;
    use crate::study::Unwatched;
    use approx::assert_relative_eq;

    /// Changes of −2, −1, 1 and 4 ms, by hand: gained 3/4 and lost 5/4 on average, half of the
    /// sheets lose, and the mean change is what is lost less what is gained.
    #[test]
    fn reference_gains_and_losses_by_hand() {
        let before = [2.000; 4].map(Some);
        let after = [1.998, 1.999, 2.001, 2.004].map(Some);
        let told = weighed(&before, &after, 2).unwrap();
        assert_relative_eq!(told.change_mean_s, 0.0005, epsilon = 1e-12);
        assert_relative_eq!(told.gained_mean_s, 0.000_75, epsilon = 1e-12);
        assert_relative_eq!(told.lost_mean_s, 0.001_25, epsilon = 1e-12);
        assert_relative_eq!(told.share_lost, 0.5, epsilon = 1e-12);
        assert!(told.gained_p95_s > 0.001 && told.lost_p95_s > 0.001);
    }

    /// With nothing in doubt there is one sheet; a pass that takes nothing off changes nothing,
    /// and two passes come to what they come to together.
    #[test]
    fn law_passes_add_up() {
        let car = live_axle_saloon();
        let name = car.flywheels.fitted().unwrap().name().to_owned();
        let inertia = inertia_of(&car, &name).unwrap();
        let certain = DoubtedCar::new(car, Vec::new(), |_| None);
        let off = [0.0, 0.1 * inertia, 0.2 * inertia];
        let told = weigh_passes(&certain, &name, &off, 1, &Unwatched)
            .unwrap()
            .unwrap();
        assert_eq!(told.sheets, 1);
        assert!(told.passes[0].change_mean_s.abs() < 1e-12);
        let sum: f64 = told.passes.iter().map(|pass| pass.change_mean_s).sum();
        assert_relative_eq!(sum, told.together.unwrap().change_mean_s, epsilon = 1e-12);
        let none = weigh_passes(&certain, "no such wheel", &off, 1, &Unwatched).unwrap();
        assert!(none.is_none());
    }
}
