//! How much metal to leave: mean and spread over crank-side inertia, each at its own aim, with
//! the band that the doubt leaves.

use super::drawn::DrawnSheets;
use super::evaluate::{Evaluated, evaluate};
use super::losses::as_float;
use crate::car::Car;
use crate::car::season::Counts;
use crate::launch::Rig;
use crate::numerics::Interval;
use crate::numerics::summary::{mean, percentile};
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::{Progress, StudyError, on_all_cores};

/// Inertias on the curve.
const POINTS: usize = 9;
/// Sheets that the curve is worked out in: the first of each block, so many in all.
const SHEETS: usize = 32;
/// Where no candidate is lighter than the fitted wheel, the curve runs to this share of its
/// inertia: about what a lathe and a drill can take from a plain steel wheel (common practice,
/// no source).
const LIGHTEST_SHARE: f64 = 0.5;
/// Means within this of the best are as good, s: no wheel between is better by what a season's
/// slips would show of it.
pub const FLAT_S: f64 = 0.005;

/// One inertia.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MetalPoint {
    /// Crank-side inertia, kg·m².
    pub crank_side_kg_m2: f64,
    /// Mean over the sheets of the mean time, s.
    pub mean_s: f64,
    /// Tenth percentile over the sheets, s.
    pub mean_p10_s: f64,
    /// Ninetieth percentile, s.
    pub mean_p90_s: f64,
    /// Spread of launches about their mean, on average over the sheets, s.
    pub sd_s: f64,
    /// Share of launches that stall, on average over the sheets.
    pub share_stalled: f64,
}

/// The curve.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalLeft {
    /// From the fitted wheel's inertia to the lightest.
    pub points: Vec<MetalPoint>,
    /// The inertias about the best within which no wheel is better by [`FLAT_S`], kg·m².
    pub flat_kg_m2: Interval,
    /// Launches that this took.
    pub launches: usize,
}

/// Works the curve out; `None` where no flywheel is fitted.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn metal_left(
    nominal: &Car,
    drawn: &DrawnSheets,
    counts: Counts,
    progress: &dyn Progress,
) -> Result<Option<MetalLeft>, StudyError> {
    let Some((heaviest, lightest)) = ends(nominal) else {
        return Ok(None);
    };
    let counts = match counts {
        Counts::QuickToQuarterMile => Counts::QuickToQuarterMile,
        Counts::QuickToSixtyFeet | Counts::Steady => Counts::QuickToSixtyFeet,
    };
    let cars: Vec<&Car> = some_of(drawn);
    let inertias: Vec<f64> = (0..POINTS)
        .map(|point| as_float(point) / as_float(POINTS - 1))
        .map(|share| heaviest + share * (lightest - heaviest))
        .collect();
    let jobs: Vec<(f64, &Car)> = inertias
        .iter()
        .flat_map(|inertia| cars.iter().map(move |car| (*inertia, *car)))
        .collect();
    let done = on_all_cores(&jobs, progress, |(inertia, car)| {
        let Some(wheel) = car.flywheels.fitted() else {
            return Ok(None);
        };
        let rig = ScatteredRig::new(Rig::new(car, wheel).with_crank_side(*inertia));
        evaluate(&rig, counts, None).map(Some)
    })?;
    let points: Vec<MetalPoint> = inertias
        .iter()
        .zip(done.chunks(cars.len()))
        .map(|(inertia, done)| {
            point(
                *inertia,
                &done.iter().flatten().copied().collect::<Vec<_>>(),
            )
        })
        .collect();
    Ok(Some(MetalLeft {
        flat_kg_m2: flat(&points),
        points,
        launches: done.iter().flatten().map(|done| done.launches).sum(),
    }))
}

/// The fitted wheel's crank-side inertia, and the lightest worth looking at, kg·m².
fn ends(car: &Car) -> Option<(f64, f64)> {
    let fitted = car.flywheels.fitted()?;
    let heaviest = car.crank_side_inertia_kg_m2(fitted);
    let lightest = car
        .flywheels
        .all()
        .iter()
        .map(|wheel| car.crank_side_inertia_kg_m2(wheel))
        .fold(heaviest, f64::min);
    let cut_down =
        car.crank_without_flywheel_kg_m2() + LIGHTEST_SHARE * fitted.part.inertia_kg_m2();
    Some((
        heaviest,
        if lightest < heaviest {
            lightest
        } else {
            cut_down
        },
    ))
}

/// Some of the sheets: as many from each block.
fn some_of(drawn: &DrawnSheets) -> Vec<&Car> {
    let blocks = drawn.sheets.chunks(drawn.block_len);
    let from_each = (SHEETS / blocks.len().max(1)).max(1);
    blocks
        .flat_map(|block| block.iter().take(from_each).map(|sheet| &sheet.car))
        .collect()
}

fn point(crank_side_kg_m2: f64, done: &[Evaluated]) -> MetalPoint {
    let means: Vec<f64> = done.iter().map(|done| done.counted_s).collect();
    let over = |pick: fn(&super::own_aim::OwnAim) -> f64, without: f64| {
        mean(
            &done
                .iter()
                .map(|done| done.own.as_ref().map_or(without, pick))
                .collect::<Vec<_>>(),
        )
    };
    MetalPoint {
        crank_side_kg_m2,
        mean_s: mean(&means),
        mean_p10_s: percentile(&means, 0.1),
        mean_p90_s: percentile(&means, 0.9),
        sd_s: over(|own| own.sd_s, 0.0),
        share_stalled: over(|own| own.share_stalled, 1.0),
    }
}

/// The inertias about the best whose mean, straight between points, is as good as the best's.
fn flat(points: &[MetalPoint]) -> Interval {
    let best = points
        .iter()
        .enumerate()
        .min_by(|a, b| a.1.mean_s.total_cmp(&b.1.mean_s));
    let Some((place, best)) = best else {
        return Interval {
            low: f64::NAN,
            high: f64::NAN,
        };
    };
    let limit_s = best.mean_s + FLAT_S;
    let (before, after) = points.split_at(place);
    let one = edge(before.iter().rev(), best, limit_s);
    let other = edge(after.iter().skip(1), best, limit_s);
    Interval {
        low: one.min(other),
        high: one.max(other),
    }
}

/// Where a walk over points first passes a limit, or its end.
fn edge<'p>(walk: impl Iterator<Item = &'p MetalPoint>, from: &MetalPoint, limit_s: f64) -> f64 {
    let mut last = *from;
    for here in walk {
        if here.mean_s > limit_s {
            let share = (limit_s - last.mean_s) / (here.mean_s - last.mean_s);
            return last.crank_side_kg_m2 + share * (here.crank_side_kg_m2 - last.crank_side_kg_m2);
        }
        last = *here;
    }
    last.crank_side_kg_m2
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// A parabola `2 + 20 (J − 0.10)²` at points 0.01 apart: straight between the points at 0.01
    /// (0.002 s up) and 0.02 (0.008 s up) from its lowest it passes 0.005 s half way, at 0.015.
    #[test]
    fn reference_flat_range_of_a_parabola() {
        let points: Vec<MetalPoint> = (0..9)
            .map(|i| {
                let inertia = 0.14 - 0.01 * f64::from(i);
                MetalPoint {
                    crank_side_kg_m2: inertia,
                    mean_s: 2.0 + 20.0 * (inertia - 0.10_f64).powi(2),
                    mean_p10_s: 0.0,
                    mean_p90_s: 0.0,
                    sd_s: 0.0,
                    share_stalled: 0.0,
                }
            })
            .collect();
        let flat = flat(&points);
        assert_relative_eq!(flat.low, 0.085, max_relative = 1e-9);
        assert_relative_eq!(flat.high, 0.115, max_relative = 1e-9);
    }
}
