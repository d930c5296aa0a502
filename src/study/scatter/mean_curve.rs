//! Mean sixty-foot time over the launch speed aimed at, without a launch for every draw.
//!
//! Release and grip do not depend on the launch speed, so the mean over them is one curve
//! `L(n)` over the launch speed that came about. It is built from launches on a grid of launch
//! speeds, at the nodes of Gauss–Hermite quadrature in release and grip, straight between grid
//! speeds, with every stall cliff bisected. The mean at an aim is then that curve smoothed by
//! the normal distribution of the launch speed, which for a curve of straight pieces has a
//! closed form: for every aim and every standard deviation at once.
//!
//! It serves to find aims and break-evens. What is reported at an aim comes from real launches,
//! and the difference between the two is the curve's error, reported beside it.

use super::super::{Progress, StudyError, on_all_cores};
use super::draws::Chance;
use super::scattered_rig::ScatteredRig;
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::Attempt;
use statrs::function::erf::erf;
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Step of launch speed in the curve, rad/s (50 rpm).
const STEP_RAD_S: f64 = 50.0 * RAD_S_PER_RPM;
/// Stall cliffs are bisected down to this, rad/s (2 rpm).
const CLIFF_RAD_S: f64 = 2.0 * RAD_S_PER_RPM;
/// Gauss–Hermite nodes and weights for a standard normal variable, three points
/// (Abramowitz & Stegun, table 25.10, rescaled; exact to degree 5).
const RELEASE_NODES: [(f64, f64); 3] = [
    (-1.732_050_807_568_877_2, 1.0 / 6.0),
    (0.0, 2.0 / 3.0),
    (1.732_050_807_568_877_2, 1.0 / 6.0),
];
/// The same with five points (exact to degree 9): `±√(5±√10)`.
const GRIP_NODES: [(f64, f64); 5] = [
    (-2.856_970_013_872_805_7, 0.011_257_411_327_720_69),
    (-1.355_626_179_974_266_, 0.222_075_922_005_612_64),
    (0.0, 8.0 / 15.0),
    (1.355_626_179_974_266_, 0.222_075_922_005_612_64),
    (2.856_970_013_872_805_7, 0.011_257_411_327_720_69),
];

/// Launches at one node of release and grip: times at rising launch speeds.
struct Line {
    weight: f64,
    /// (launch speed rad/s, time s), stalls at their cost; two close speeds at a cliff.
    points: Vec<(f64, f64)>,
}

/// Mean sixty-foot time over the launch speed that came about, and of its square.
#[derive(Debug, Clone, PartialEq)]
pub struct MeanCurve {
    /// Rising launch speeds, rad/s, with the mean over release and grip, s, and of the square, s².
    points: Vec<CurvePoint>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct CurvePoint {
    speed_rad_s: f64,
    mean_s: f64,
    square_s2: f64,
}

/// Mean and standard deviation of sixty-foot time at one aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanAndSpread {
    /// Mean, s.
    pub mean_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
}

impl MeanCurve {
    /// Builds the curves of several rigs at once.
    ///
    /// # Errors
    /// When a launch cannot be computed, or somebody stopped it.
    pub fn build_all(
        rigs: &[ScatteredRig],
        progress: &dyn Progress,
    ) -> Result<Vec<Self>, StudyError> {
        let jobs: Vec<(&ScatteredRig, Chance, f64)> = rigs
            .iter()
            .flat_map(|rig| nodes(rig).map(move |(chance, weight)| (rig, chance, weight)))
            .collect();
        let lines = on_all_cores(&jobs, progress, |(rig, chance, weight)| {
            line(rig, chance, *weight, progress)
        })?;
        let mut lines = lines.into_iter();
        Ok(rigs
            .iter()
            .map(|rig| {
                let own: Vec<Line> = lines.by_ref().take(nodes(rig).count()).collect();
                Self::from_lines(&own)
            })
            .collect())
    }

    /// The weighted mean of the lines, at every launch speed that any of them has.
    fn from_lines(lines: &[Line]) -> Self {
        let mut speeds: Vec<f64> = lines
            .iter()
            .flat_map(|line| line.points.iter().map(|point| point.0))
            .collect();
        speeds.sort_by(f64::total_cmp);
        speeds.dedup();
        let points = speeds
            .into_iter()
            .map(|speed_rad_s| {
                let (mut mean_s, mut square_s2) = (0.0, 0.0);
                for line in lines {
                    let time_s = line.at(speed_rad_s);
                    mean_s += line.weight * time_s;
                    square_s2 += line.weight * time_s * time_s;
                }
                CurvePoint {
                    speed_rad_s,
                    mean_s,
                    square_s2,
                }
            })
            .collect();
        Self { points }
    }

    /// The points that draws about an aim can come near; beyond lies less than 1e-18 of them.
    fn within_reach(&self, aim_rad_s: f64, sd_rad_s: f64) -> &[CurvePoint] {
        /// Standard deviations to either side.
        const REACH: f64 = 9.0;
        let (low, high) = (aim_rad_s - REACH * sd_rad_s, aim_rad_s + REACH * sd_rad_s);
        let from = self
            .points
            .partition_point(|point| point.speed_rad_s < low)
            .saturating_sub(1);
        let to = self
            .points
            .partition_point(|point| point.speed_rad_s <= high)
            .saturating_add(1)
            .min(self.points.len());
        self.points.get(from..to).unwrap_or(&self.points)
    }

    /// Mean and standard deviation at an aim with a standard deviation of the launch speed
    /// (both rad/s): the curve smoothed by a normal distribution, draws beyond the ends counted
    /// at the ends.
    ///
    /// Over a straight piece `A + B n` from `a` to `b` the integral is
    /// `(A + B n0)(Φb − Φa) − B σ (φb − φa)`.
    pub fn at(&self, aim_rad_s: f64, sd_rad_s: f64) -> MeanAndSpread {
        let sd = sd_rad_s.max(f64::MIN_POSITIVE);
        let normal_at = |speed: f64| {
            let z = (speed - aim_rad_s) / sd;
            (
                0.5 * (1.0 + erf(z * FRAC_1_SQRT_2)),
                (-0.5 * z * z).exp() / (2.0 * PI).sqrt(),
            )
        };
        let points = self.within_reach(aim_rad_s, sd);
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return MeanAndSpread {
                mean_s: f64::NAN,
                sd_s: f64::NAN,
            };
        };
        let mut left = normal_at(first.speed_rad_s);
        let mut mean = first.mean_s * left.0;
        let mut square = first.square_s2 * left.0;
        for pair in points.windows(2) {
            let [from, to] = pair else { continue };
            let right = normal_at(to.speed_rad_s);
            let (between, falls) = (right.0 - left.0, right.1 - left.1);
            if between > 0.0 || falls != 0.0 {
                let width = to.speed_rad_s - from.speed_rad_s;
                let piece = |at_from: f64, at_to: f64| {
                    let slope = (at_to - at_from) / width;
                    (at_from + slope * (aim_rad_s - from.speed_rad_s)) * between
                        - slope * sd * falls
                };
                mean += piece(from.mean_s, to.mean_s);
                square += piece(from.square_s2, to.square_s2);
            }
            left = right;
        }
        mean += last.mean_s * (1.0 - left.0);
        square += last.square_s2 * (1.0 - left.0);
        MeanAndSpread {
            mean_s: mean,
            sd_s: (square - mean * mean).max(0.0).sqrt(),
        }
    }
}

impl Line {
    /// Time at a launch speed, straight between points.
    fn at(&self, speed_rad_s: f64) -> f64 {
        let after = self.points.partition_point(|point| point.0 < speed_rad_s);
        match (
            after.checked_sub(1).and_then(|i| self.points.get(i)),
            self.points.get(after),
        ) {
            (Some(&(x0, y0)), Some(&(x1, y1))) => y0 + (y1 - y0) * (speed_rad_s - x0) / (x1 - x0),
            (None, Some(&(_, y))) | (Some(&(_, y)), None) => y,
            (None, None) => f64::NAN,
        }
    }
}

/// The quadrature nodes of a rig's release and grip; one where there is no spread.
fn nodes(rig: &ScatteredRig) -> impl Iterator<Item = (Chance, f64)> + use<> {
    const CERTAIN: [(f64, f64); 1] = [(0.0, 1.0)];
    let releases: &[(f64, f64)] = if rig.release_sd > 0.0 {
        &RELEASE_NODES
    } else {
        &CERTAIN
    };
    let grips: &[(f64, f64)] = if rig.grip_sd > 0.0 {
        &GRIP_NODES
    } else {
        &CERTAIN
    };
    releases.iter().flat_map(move |&(release, release_weight)| {
        grips.iter().map(move |&(grip, grip_weight)| {
            let chance = Chance {
                speed: 0.0,
                release,
                grip,
            };
            (chance, release_weight * grip_weight)
        })
    })
}

/// Launches over all launch speeds at one node, stall cliffs bisected.
fn line(
    rig: &ScatteredRig,
    chance: &Chance,
    weight: f64,
    progress: &dyn Progress,
) -> Result<Line, StudyError> {
    let time_at = |speed: f64| -> Result<Option<f64>, StudyError> {
        if progress.stopped() {
            return Err(StudyError::Stopped);
        }
        let attempt = Attempt {
            launch_speed_rad_s: speed,
            ..rig.attempt(speed, chance)
        };
        Ok(rig.try_once(&attempt)?)
    };
    let (low, high) = (rig.lowest_rad_s(), rig.highest_rad_s());
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut before: Option<(f64, Option<f64>)> = None;
    for speed in super::super::sweep::evenly(low, high, STEP_RAD_S) {
        let here = time_at(speed)?;
        if let Some((speed_before, time_before)) = before
            && time_before.is_some() != here.is_some()
        {
            cliff(
                (speed_before, time_before),
                (speed, here),
                &time_at,
                |speed, time| {
                    points.push((speed, time.unwrap_or(rig.stall_cost_s())));
                },
            )?;
        }
        points.push((speed, here.unwrap_or(rig.stall_cost_s())));
        before = Some((speed, here));
    }
    Ok(Line { weight, points })
}

/// Narrows the edge between a launch that gets there and one that does not; hands on both sides.
fn cliff(
    mut left: (f64, Option<f64>),
    mut right: (f64, Option<f64>),
    time_at: &impl Fn(f64) -> Result<Option<f64>, StudyError>,
    mut hand_on: impl FnMut(f64, Option<f64>),
) -> Result<(), StudyError> {
    let started = (left.0, right.0);
    while right.0 - left.0 > CLIFF_RAD_S {
        let middle = f64::midpoint(left.0, right.0);
        let time = time_at(middle)?;
        if time.is_some() == left.1.is_some() {
            left = (middle, time);
        } else {
            right = (middle, time);
        }
    }
    if left.0 > started.0 {
        hand_on(left.0, left.1);
    }
    if right.0 < started.1 {
        hand_on(right.0, right.1);
    }
    Ok(())
}

#[cfg(test)]
#[path = "mean_curve_tests.rs"]
mod tests;
