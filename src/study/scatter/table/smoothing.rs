//! From a table to the mean at an aim: an integral over the normal launch speed.

// What is read off a table are methods of it.
use super::LaunchTable;
use super::grid::{Grid, GridLine};
use super::replicated::Replicated;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::numerics::Interval;
use crate::numerics::crossing;
use crate::numerics::{Lowest as Least, lowest_between};
use statrs::function::erf::erf;
use std::convert::Infallible;
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Aims are refined down to this, rad/s (1 rpm): nobody holds an engine steadier.
const NEAR_ENOUGH_RAD_S: f64 = RAD_S_PER_RPM;
/// Aims are tried every so many speeds of the grid before the best is refined (25 rpm) …
const AIM_STRIDE: usize = 10;
/// … or this share of a standard deviation, if that is more: over less the mean hardly bends.
const AIM_STRIDE_SHARE: f64 = 0.25;
/// Aims whose mean lies within this of the lowest are as good, s: a millisecond, the last
/// figure of a time slip.
pub const AS_GOOD_S: f64 = 0.001;
/// The band that a driver is given loses no more than this, s: a hundredth of a second.
pub const BAND_S: f64 = 0.01;
/// Standard deviations beyond which launch speed is not followed: 3e-12 of it lies there.
const REACH: f64 = 7.0;

/// How much each speed of a grid counts for at an aim: the normal law of the launch speed, draws
/// beyond the ends counted at the ends, for what is straight between two speeds of the grid.
///
/// With `G(x) = (x − n0) Φ((x − n0)/σ) + σ φ((x − n0)/σ)`, the mean of what lies below `x`, a speed
/// counts for the second difference of `G` over one step.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Smoothing {
    /// Index of the grid speed at or below the aim.
    centre: usize,
    /// Speeds followed below it.
    half: usize,
    weights: Vec<f64>,
    /// Last index of the grid.
    last: usize,
}

/// A number of steps as an index.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "steps of a grid of launch speeds: not below zero, some thousands at most"
)]
pub(super) fn whole(steps: f64) -> usize {
    steps.max(0.0) as usize
}

/// A count of steps as a float (exact below 2^53).
#[expect(clippy::cast_precision_loss, reason = "some thousands at most")]
pub(super) fn steps(count: usize) -> f64 {
    count as f64
}

impl Smoothing {
    fn new(grid: &Grid, aim_rad_s: f64, sd_rad_s: f64) -> Self {
        let sd = sd_rad_s.max(f64::MIN_POSITIVE);
        let step = grid.step_rad_s;
        let last = grid.len.saturating_sub(1);
        let centre = whole((aim_rad_s - grid.low_rad_s) / step).min(last);
        let off = aim_rad_s - grid.low_rad_s - step * steps(centre);
        let half = whole(REACH * sd / step) + 2;
        let below = |index: usize| {
            // Two more than the speeds followed: one to either side.
            let from_aim = step * (steps(index) - steps(half) - 1.0) - off;
            let z = from_aim / sd;
            let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
            from_aim * 0.5 * (1.0 + erf(z * FRAC_1_SQRT_2)) + sd * density
        };
        let sums: Vec<f64> = (0..2 * half + 4).map(below).collect();
        let weights = sums
            .windows(3)
            .map(|g| match g {
                [before, here, after] => (after - 2.0 * here + before) / step,
                _ => 0.0,
            })
            .collect();
        Self {
            centre,
            half,
            weights,
            last,
        }
    }

    /// The same at an aim so many speeds of the grid from its lower end.
    fn at_index(&self, centre: usize) -> Self {
        Self {
            centre,
            ..self.clone()
        }
    }

    /// Indices of the grid with what they count for.
    pub(super) fn counts(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.weights.iter().enumerate().map(|(index, weight)| {
            let at = (self.centre + index).saturating_sub(self.half);
            (at.min(self.last), *weight)
        })
    }

    /// The weighted sum of values at the grid.
    pub(super) fn of(&self, values: &[f64]) -> f64 {
        let below = self
            .half
            .saturating_sub(self.centre)
            .min(self.weights.len());
        let (under, rest) = self.weights.split_at(below);
        let first = (self.centre + below).saturating_sub(self.half);
        let inside = values.get(first..).unwrap_or(&[]);
        let (within, over) = rest.split_at(inside.len().min(rest.len()));
        let at_end = |weights: &[f64], value: Option<&f64>| {
            weights.iter().sum::<f64>() * value.copied().unwrap_or(0.0)
        };
        let between: f64 = within.iter().zip(inside).map(|(w, v)| w * v).sum();
        at_end(under, values.first()) + between + at_end(over, values.last())
    }
}

/// The mean over release and grip, over the launch speed that came about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Curve {
    /// Share that gets away, by the launches alone.
    launched_away: Vec<f64>,
    /// Share that gets away, with what the stall edge says between the launches.
    away: Vec<f64>,
    /// Time times the share that gets away, s.
    time_s: Vec<f64>,
    /// Its square times that share, s².
    square_s2: Vec<f64>,
}

impl Curve {
    /// From lines and what each counts for; `beyond` is added to the share that gets away.
    pub(super) fn of(
        lines: &[GridLine],
        weights: &[f64],
        beyond: Option<&[f64]>,
        grid: &Grid,
    ) -> Self {
        let mut away = vec![0.0; grid.len];
        let mut time_s = vec![0.0; grid.len];
        let mut square_s2 = vec![0.0; grid.len];
        for (line, weight) in lines.iter().zip(weights) {
            let sums = away.iter_mut().zip(&mut time_s).zip(&mut square_s2);
            let own = line.away.iter().zip(&line.time_s);
            for (((away, time_s), square_s2), (line_away, line_s)) in sums.zip(own) {
                let counts = weight * line_away;
                *away += counts;
                *time_s += counts * line_s;
                *square_s2 += counts * line_s * line_s;
            }
        }
        let launched_away = away.clone();
        for (away, beyond) in away.iter_mut().zip(beyond.unwrap_or(&[])) {
            *away += beyond;
        }
        for away in &mut away {
            *away = away.clamp(0.0, 1.0);
        }
        Self {
            launched_away,
            away,
            time_s,
            square_s2,
        }
    }

    fn sd_s(&self, smoothing: &Smoothing) -> f64 {
        let away = smoothing.of(&self.launched_away);
        let mean_s = smoothing.of(&self.time_s) / away;
        (smoothing.of(&self.square_s2) / away - mean_s * mean_s)
            .max(0.0)
            .sqrt()
    }

    fn at(&self, smoothing: &Smoothing, stall_cost_s: f64) -> MeanAt {
        let away = smoothing.of(&self.launched_away);
        let stalled = (1.0 - smoothing.of(&self.away)).clamp(0.0, 1.0);
        if away <= 0.0 || stalled >= 1.0 {
            return MeanAt {
                mean_s: stall_cost_s,
                away_s: f64::NAN,
                stalled: 1.0,
            };
        }
        let away_s = smoothing.of(&self.time_s) / away;
        MeanAt {
            mean_s: (1.0 - stalled) * away_s + stalled * stall_cost_s,
            away_s,
            stalled,
        }
    }
}

/// Means at one aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanAt {
    /// Mean sixty-foot time, s: `(1 − stalled) · away_s + stalled · stall_cost`.
    pub mean_s: f64,
    /// Mean of the launches that got away, s.
    pub away_s: f64,
    /// Share that stalls or does not finish.
    pub stalled: f64,
}

/// Where the mean is lowest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lowest {
    /// Launch speed aimed at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time there, s.
    pub mean_s: f64,
}

impl LaunchTable {
    pub(super) fn smoothing(&self, aim_rad_s: f64, sd_rad_s: f64) -> Smoothing {
        Smoothing::new(&self.grid, aim_rad_s, sd_rad_s)
    }

    /// Means at an aim with a standard deviation of the launch speed (both rad/s).
    pub fn at(&self, aim_rad_s: f64, sd_rad_s: f64) -> MeanAt {
        let smoothing = self.smoothing(aim_rad_s, sd_rad_s);
        self.curve.at(&smoothing, self.law.stall_cost_s)
    }

    /// Means at an aim, with all points and without each block of them.
    fn replicated(
        &self,
        (aim_rad_s, sd_rad_s): (f64, f64),
        figure: impl Fn(&MeanAt) -> f64,
    ) -> Replicated {
        let smoothing = self.smoothing(aim_rad_s, sd_rad_s);
        let at = |curve: &Curve| figure(&curve.at(&smoothing, self.law.stall_cost_s));
        Replicated {
            value: at(&self.curve),
            without: self.without.iter().map(at).collect(),
            thinned: at(&self.thinned_curve),
        }
    }

    /// Mean sixty-foot time at an aim, s, stalls at their cost.
    pub fn mean(&self, aim_rad_s: f64, sd_rad_s: f64) -> Replicated {
        self.replicated((aim_rad_s, sd_rad_s), |at| at.mean_s)
    }

    /// Mean of the launches that got away at an aim, s.
    pub fn away(&self, aim_rad_s: f64, sd_rad_s: f64) -> Replicated {
        self.replicated((aim_rad_s, sd_rad_s), |at| at.away_s)
    }

    /// Share that stalls or does not finish at an aim.
    pub(super) fn stall_share(&self, aim_rad_s: f64, sd_rad_s: f64) -> Replicated {
        self.replicated((aim_rad_s, sd_rad_s), |at| at.stalled)
    }

    /// Standard deviation of the launches that got away at an aim, s.
    pub fn sd_at_s(&self, aim_rad_s: f64, sd_rad_s: f64) -> f64 {
        let smoothing = self.smoothing(aim_rad_s, sd_rad_s);
        self.curve.sd_s(&smoothing)
    }

    /// Means at all aims tried in a range, and where the least lies: (rad/s, s), rising.
    fn tried(&self, range: &SpeedRange, sd_rad_s: f64) -> Vec<(f64, f64)> {
        let smoothing = Smoothing::new(&self.grid, self.grid.low_rad_s, sd_rad_s);
        let stride = AIM_STRIDE.max(whole(AIM_STRIDE_SHARE * sd_rad_s / self.grid.step_rad_s));
        self.grid
            .speeds()
            .enumerate()
            .step_by(stride)
            .filter(|(_, speed)| range.contains(*speed))
            .map(|(index, speed)| {
                let there = smoothing.at_index(index);
                (speed, self.curve.at(&there, self.law.stall_cost_s).mean_s)
            })
            .chain(
                [range.low_rad_s(), range.high_rad_s()]
                    .map(|end| (end, self.at(end, sd_rad_s).mean_s)),
            )
            .collect()
    }

    /// The lowest mean over a range of aims. Every aim on an even grid is tried, so a second hump
    /// is not missed; the best is refined by golden section between its neighbours.
    pub fn lowest(&self, range: &SpeedRange, sd_rad_s: f64) -> Lowest {
        let mut tried = self.tried(range, sd_rad_s);
        tried.sort_by(|a, b| a.0.total_cmp(&b.0));
        let best = tried
            .iter()
            .copied()
            .enumerate()
            .min_by(|a, b| a.1.1.total_cmp(&b.1.1));
        let Some((index, (at, value))) = best else {
            return Lowest {
                aim_rad_s: range.low_rad_s(),
                mean_s: f64::NAN,
            };
        };
        let neighbour = |i: Option<usize>| i.and_then(|i| tried.get(i)).map_or(at, |p| p.0);
        let bracket = (neighbour(index.checked_sub(1)), neighbour(Some(index + 1)));
        let known = Some(Least { at, value });
        let Ok(found) = lowest_between(bracket, NEAR_ENOUGH_RAD_S, known, |aim| {
            Ok::<_, Infallible>(self.at(aim, sd_rad_s).mean_s)
        });
        Lowest {
            aim_rad_s: found.at,
            mean_s: found.value,
        }
    }

    /// The unbroken band of aims round the best in which the mean loses no more than `lost_s`.
    pub fn band(
        &self,
        range: &SpeedRange,
        sd_rad_s: f64,
        lowest: &Lowest,
        lost_s: f64,
    ) -> Interval {
        let limit_s = lowest.mean_s + lost_s;
        let mut tried = self.tried(range, sd_rad_s);
        tried.push((lowest.aim_rad_s, lowest.mean_s));
        tried.sort_by(|a, b| a.0.total_cmp(&b.0));
        let edge = |outward: &mut dyn Iterator<Item = &(f64, f64)>| -> f64 {
            let mut inside = lowest.aim_rad_s;
            for (aim, mean_s) in outward {
                if *mean_s > limit_s {
                    return crossing(inside.min(*aim), inside.max(*aim), |aim| {
                        self.at(aim, sd_rad_s).mean_s - limit_s
                    });
                }
                inside = *aim;
            }
            inside
        };
        Interval {
            low: edge(&mut tried.iter().rev().filter(|p| p.0 < lowest.aim_rad_s)),
            high: edge(&mut tried.iter().filter(|p| p.0 > lowest.aim_rad_s)),
        }
    }
}
