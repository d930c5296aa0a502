//! A driver's practice launches: how far off, how steady, whether it drifts, how sure all that is.

use crate::car::practice::{Practice, PracticeLaunch};
use crate::car::{Car, Flywheel};
use crate::numerics::Interval;
use crate::numerics::quantile::{standard_normal, student_errors};
use crate::numerics::summary::{
    count, deviation_interval, mean, mean_interval, percentile, standard_deviation,
};

/// Fewest launches from which a spread means anything.
pub const FEWEST_LAUNCHES: usize = 3;
/// Modified z-score beyond which a launch is named as an outlier
/// (Iglewicz & Hoaglin, *How to Detect and Handle Outliers*, 1993, from memory).
const OUTLIER_SCORE: f64 = 3.5;
/// More launches than anybody makes; the search for how many would be needed ends there.
const MOST_LAUNCHES: u32 = 100_000;

/// What practice launches say of a driver.
#[derive(Debug, Clone, PartialEq)]
pub struct PracticeStudy {
    /// Launch speeds, rad/s, in the order they were made.
    pub launches: Vec<f64>,
    /// Their mean, rad/s.
    pub mean_rad_s: f64,
    /// 95 % interval of that mean, rad/s.
    pub mean_interval_rad_s: Interval,
    /// Their standard deviation, rad/s.
    pub sd_rad_s: f64,
    /// 95 % interval of that (chi-square).
    pub sd_interval_rad_s: Interval,
    /// Change from the first launch to the last along a straight line, rad/s, with its interval;
    /// `None` where the launches have no length in time.
    pub drift_rad_s: Option<Drift>,
    /// Indices of launches far from the rest; they are named and kept.
    pub outliers: Vec<usize>,
    /// The flywheels they were made with, each once, in order of the first launch with it; `None`
    /// for launches of which that was not written down.
    pub flywheels: Vec<Option<String>>,
    /// How many more launches would halve the interval of the standard deviation.
    pub more_to_halve: u32,
}

/// Drift over a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Change from first to last launch, rad/s.
    pub change_rad_s: f64,
    /// Its 95 % interval.
    pub interval_rad_s: Interval,
}

impl Drift {
    /// Whether it is more than chance.
    pub fn shows(&self) -> bool {
        !self.interval_rad_s.contains(0.0)
    }
}

/// The practice launches of a car's sheet, made with the fitted flywheel; `None` if the sheet has
/// none, or too few.
pub fn driver_practice(car: &Car) -> Option<PracticeStudy> {
    let practice = car.driver.practice.as_ref()?;
    study(practice, car.flywheels.fitted().map(Flywheel::name))
}

/// Studies practice launches, those with one flywheel alone if it is named; `None` if there are
/// fewer than [`FEWEST_LAUNCHES`].
pub fn study(practice: &Practice, flywheel: Option<&str>) -> Option<PracticeStudy> {
    let mut chosen: Vec<&PracticeLaunch> = match flywheel {
        Some(name) => practice.with_flywheel(name).collect(),
        None => practice.launches.iter().collect(),
    };
    if chosen.len() < FEWEST_LAUNCHES {
        return None;
    }
    if chosen.iter().all(|launch| launch.order.is_some()) {
        chosen.sort_by(|a, b| a.order.unwrap_or(0.0).total_cmp(&b.order.unwrap_or(0.0)));
    }
    let mut flywheels: Vec<Option<String>> = Vec::new();
    for launch in &chosen {
        if !flywheels.contains(&launch.flywheel) {
            flywheels.push(launch.flywheel.clone());
        }
    }
    let launches: Vec<f64> = chosen.iter().map(|launch| launch.speed_rad_s).collect();
    let sd_rad_s = standard_deviation(&launches);
    let size = count(&launches);
    Some(PracticeStudy {
        mean_rad_s: mean(&launches),
        mean_interval_rad_s: mean_interval(&launches),
        sd_rad_s,
        sd_interval_rad_s: deviation_interval(sd_rad_s, size),
        drift_rad_s: drift(&chosen, &launches),
        outliers: outliers(&launches),
        more_to_halve: more_to_halve(size),
        flywheels,
        launches,
    })
}

/// A straight line through speed over order (or over the running number), from first to last.
fn drift(chosen: &[&PracticeLaunch], speeds: &[f64]) -> Option<Drift> {
    let times: Vec<f64> = chosen
        .iter()
        .zip(0_u32..)
        .map(|(launch, number)| launch.order.unwrap_or(f64::from(number)))
        .collect();
    let (first, last) = (times.first()?, times.last()?);
    let (middle, level) = (mean(&times), mean(speeds));
    let apart: f64 = times.iter().map(|time| (time - middle).powi(2)).sum();
    if apart <= 0.0 {
        return None;
    }
    let together: f64 = times
        .iter()
        .zip(speeds)
        .map(|(time, speed)| (time - middle) * (speed - level))
        .sum();
    let slope = together / apart;
    let left: f64 = times
        .iter()
        .zip(speeds)
        .map(|(time, speed)| (speed - level - slope * (time - middle)).powi(2))
        .sum();
    let freedom = count(speeds) - 2.0;
    let error = (left / freedom / apart).sqrt();
    let span = last - first;
    let half = student_errors(freedom) * error * span;
    Some(Drift {
        change_rad_s: slope * span,
        interval_rad_s: Interval::about(slope * span, half),
    })
}

fn outliers(speeds: &[f64]) -> Vec<usize> {
    let median = percentile(speeds, 0.5);
    let distances: Vec<f64> = speeds.iter().map(|speed| (speed - median).abs()).collect();
    let usual = percentile(&distances, 0.5);
    // Half of all normal values lie within this many standard deviations.
    let median_deviation_of_normal = standard_normal(0.75);
    distances
        .iter()
        .enumerate()
        .filter(|(_, distance)| {
            usual > 0.0 && median_deviation_of_normal * **distance / usual > OUTLIER_SCORE
        })
        .map(|(index, _)| index)
        .collect()
}

/// Launches to add so that the interval of the standard deviation, at the same deviation, is at
/// most half as wide.
fn more_to_halve(size: f64) -> u32 {
    let width = |size: f64| {
        let interval = deviation_interval(1.0, size);
        interval.high - interval.low
    };
    let wanted = width(size) / 2.0;
    (1..MOST_LAUNCHES)
        .find(|more| width(size + f64::from(*more)) <= wanted)
        .unwrap_or(MOST_LAUNCHES)
}

#[cfg(test)]
#[path = "practice_tests.rs"]
mod tests;
