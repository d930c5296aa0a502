//! A car in closed form: what the table is held against.
//!
//! With `r`, `g` the chances of release and grip, a launch from `n` takes `F(n, g) + d(n) r`, `F`
//! a parabola with a kink whose place goes with the grip; it stalls below `n0 + A r + B g + C g²`.
//! Given launch speed and grip all that is asked is a normal law of `r` cut off at one end. The
//! truths are Simpson sums of that over the two others: no launch table, no point, no grid.

use super::draws::{DEFAULT_DRAWS, Draws};
use super::table::{Design, LaunchTable, Law, SixtyFoot, Wanted};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::launch::{Attempt, LaunchError};
use crate::numerics::quantile::standard_normal;
use crate::study::Unwatched;
use statrs::function::erf::erf;
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// A toy car; launch speeds in rpm, times in s.
#[derive(Debug, Clone, Copy)]
pub(super) struct Toy {
    pub(super) law: Law,
    pub(super) quickest_s: f64,
    pub(super) best_rpm: f64,
    /// Seconds lost 1,000 rpm off the best, by a parabola.
    pub(super) bend_s: f64,
    /// Launch speed above which the tyres break loose, rpm, in the middle and for a standard
    /// deviation of grip; and what 1,000 rpm beyond cost more, s.
    pub(super) kink: (f64, f64, f64),
    /// Seconds a standard deviation of release and of grip.
    pub(super) slopes_s: (f64, f64),
    /// Seconds for release and 1,000 rpm above the best together.
    pub(super) together_s: f64,
    /// Stall edge, rpm: in the middle, for release, for grip and for its square.
    pub(super) edge_rpm: (f64, f64, f64, f64),
}

pub(super) fn law(launch_sd_rpm: f64) -> Law {
    Law {
        launch_sd_rad_s: launch_sd_rpm * RAD_S_PER_RPM,
        release_stretch: 1.0,
        release_sd: 0.15,
        grip_sd: 0.03,
        lowest_rad_s: 500.0 * RAD_S_PER_RPM,
        highest_rad_s: 7500.0 * RAD_S_PER_RPM,
        stall_cost_s: 5.0,
    }
}

impl SixtyFoot for Toy {
    fn sixty_foot_s(&self, attempt: &Attempt) -> Result<Option<f64>, LaunchError> {
        let release = attempt.release_stretch.ln() / self.law.release_sd;
        let grip = (attempt.grip_factor - 1.0) / self.law.grip_sd;
        let rpm = attempt.launch_speed_rad_s / RAD_S_PER_RPM;
        if rpm < self.edge_at_rpm(release, grip) {
            return Ok(None);
        }
        Ok(Some(self.time_s(rpm, release, grip)))
    }
}

fn below(z: f64) -> f64 {
    0.5 * (1.0 + erf(z * FRAC_1_SQRT_2))
}

fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// Chances and Simpson weights of a standard normal number.
fn normal_axis(panels: u32) -> Vec<(f64, f64)> {
    let step = 14.0 / f64::from(panels);
    (0..=panels)
        .map(|i| {
            let z = -7.0 + step * f64::from(i);
            let weight = match i {
                i if i == 0 || i == panels => 1.0,
                odd if odd % 2 == 1 => 4.0,
                _ => 2.0,
            };
            (z, weight * density(z) * step / 3.0)
        })
        .collect()
}

/// A standard normal number below an end: its probability, and the mean and mean square times it.
fn cut_off(end: f64) -> [f64; 3] {
    let (below, at) = (below(end), density(end));
    [
        below,
        -at,
        below - if end.is_finite() { end * at } else { 0.0 },
    ]
}

impl Toy {
    fn edge_at_rpm(&self, release: f64, grip: f64) -> f64 {
        let (middle, of_release, of_grip, of_square) = self.edge_rpm;
        middle + of_release * release + of_grip * grip + of_square * grip * grip
    }

    /// The release below which a launch gets away.
    fn release_end(&self, rpm: f64, grip: f64) -> f64 {
        (rpm - self.edge_at_rpm(0.0, grip)) / self.edge_rpm.1
    }

    /// Time with the release as usual, s, and seconds a standard deviation of it.
    fn of_speed_and_grip_s(&self, rpm: f64, grip: f64) -> (f64, f64) {
        let off = (rpm - self.best_rpm) / 1000.0;
        let (at, of_grip, slope) = self.kink;
        let beyond = ((rpm - at - of_grip * grip) / 1000.0).max(0.0);
        (
            self.quickest_s + self.bend_s * off * off + slope * beyond + self.slopes_s.1 * grip,
            self.slopes_s.0 + self.together_s * off,
        )
    }

    fn time_s(&self, rpm: f64, release: f64, grip: f64) -> f64 {
        let (usual_s, of_release_s) = self.of_speed_and_grip_s(rpm, grip);
        usual_s + of_release_s * release
    }

    fn rpm(&self, aim_rpm: f64, sd_rpm: f64, chance: f64) -> f64 {
        (aim_rpm + sd_rpm * chance).clamp(
            self.law.lowest_rad_s / RAD_S_PER_RPM,
            self.law.highest_rad_s / RAD_S_PER_RPM,
        )
    }

    /// The sum of a function of launch speed (rpm) and grip over both.
    fn over(&self, aim_rpm: f64, sd_rpm: f64, value: impl FnMut(f64, f64) -> f64) -> f64 {
        self.over_finely(aim_rpm, sd_rpm, 160, value)
    }

    /// The same in so many panels of launch speed.
    fn over_finely(
        &self,
        aim_rpm: f64,
        sd_rpm: f64,
        panels: u32,
        mut value: impl FnMut(f64, f64) -> f64,
    ) -> f64 {
        let grips = normal_axis(80);
        normal_axis(panels)
            .iter()
            .map(|(s, speed_weight)| {
                let rpm = self.rpm(aim_rpm, sd_rpm, *s);
                let over_grip: f64 = grips
                    .iter()
                    .map(|(g, grip_weight)| grip_weight * value(rpm, *g))
                    .sum();
                speed_weight * over_grip
            })
            .sum()
    }

    /// Share that gets away, and mean and mean square of those about the quickest, at an aim.
    fn moments(&self, aim_rpm: f64, sd_rpm: f64) -> (f64, f64, f64) {
        let away = 1.0 - self.stalled(aim_rpm, sd_rpm);
        let mean = self.over(aim_rpm, sd_rpm, |rpm, g| {
            let (f, d) = self.of_speed_and_grip_s(rpm, g);
            let [share, mean, _] = cut_off(self.release_end(rpm, g));
            (f - self.quickest_s) * share + d * mean
        });
        let square = self.over(aim_rpm, sd_rpm, |rpm, g| {
            let (f, d) = self.of_speed_and_grip_s(rpm, g);
            let [share, mean, square] = cut_off(self.release_end(rpm, g));
            let f = f - self.quickest_s;
            f * f * share + 2.0 * f * d * mean + d * d * square
        });
        (away, mean / away, square / away)
    }

    pub(super) fn stalled(&self, aim_rpm: f64, sd_rpm: f64) -> f64 {
        self.over(aim_rpm, sd_rpm, |rpm, g| below(-self.release_end(rpm, g)))
    }

    pub(super) fn away_s(&self, aim_rpm: f64, sd_rpm: f64) -> f64 {
        self.quickest_s + self.moments(aim_rpm, sd_rpm).1
    }

    pub(super) fn sd_s(&self, aim_rpm: f64, sd_rpm: f64) -> f64 {
        let (_, mean, square) = self.moments(aim_rpm, sd_rpm);
        (square - mean * mean).sqrt()
    }

    pub(super) fn mean_s(&self, aim_rpm: f64, sd_rpm: f64) -> f64 {
        let sum = self.over(aim_rpm, sd_rpm, |rpm, g| {
            let (f, d) = self.of_speed_and_grip_s(rpm, g);
            let [share, mean, _] = cut_off(self.release_end(rpm, g));
            (f - self.law.stall_cost_s) * share + d * mean
        });
        sum + self.law.stall_cost_s
    }

    /// Share of those that got away in up to a time.
    pub(super) fn share_within(&self, aim_rpm: f64, sd_rpm: f64, limit_s: f64) -> f64 {
        // Where the curve is steep the release smooths a step of launch speed but little.
        let within = self.over_finely(aim_rpm, sd_rpm, 1600, |rpm, g| {
            let (f, d) = self.of_speed_and_grip_s(rpm, g);
            below(((limit_s - f) / d).min(self.release_end(rpm, g)))
        });
        within / (1.0 - self.stalled(aim_rpm, sd_rpm))
    }

    pub(super) fn percentile_s(&self, aim_rpm: f64, sd_rpm: f64, share: f64) -> f64 {
        let (mut low, mut high) = (self.quickest_s - 0.5, self.quickest_s + 1.5);
        while high - low > 1e-7 {
            let middle = f64::midpoint(low, high);
            if self.share_within(aim_rpm, sd_rpm, middle) < share {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// Share of paired launches won against another with the same slope of release, by the mean
    /// over 2,000 equally likely launch speeds: the winner changes at a step.
    pub(super) fn won(&self, aims_rpm: (f64, f64), sds_rpm: (f64, f64), other: &Self) -> f64 {
        const SPEEDS: u32 = 2000;
        let grips = normal_axis(80);
        let sum: f64 = (0..SPEEDS)
            .map(|i| {
                let s = standard_normal((f64::from(i) + 0.5) / f64::from(SPEEDS));
                let own = self.rpm(aims_rpm.0, sds_rpm.0, s);
                let others = other.rpm(aims_rpm.1, sds_rpm.1, s);
                grips
                    .iter()
                    .map(|(g, weight)| {
                        let ends = (self.release_end(own, *g), other.release_end(others, *g));
                        let alone = (below(ends.0) - below(ends.1)).max(0.0);
                        let quicker = self.of_speed_and_grip_s(own, *g).0
                            < other.of_speed_and_grip_s(others, *g).0;
                        let both = if quicker {
                            below(ends.0.min(ends.1))
                        } else {
                            0.0
                        };
                        weight * (alone + both)
                    })
                    .sum::<f64>()
            })
            .sum();
        sum / f64::from(SPEEDS)
    }

    /// Lowest mean over aims, and where, by golden section from a coarse grid.
    pub(super) fn lowest(&self, sd_rpm: f64) -> (f64, f64) {
        let at = |aim: f64| self.mean_s(aim, sd_rpm);
        let grid = || (0..=12).map(|i| 4000.0 + 150.0 * f64::from(i));
        let best = grid().min_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap();
        let known = None;
        let found =
            crate::numerics::lowest_between((best - 150.0, best + 150.0), 0.5, known, |aim| {
                Ok::<_, std::convert::Infallible>(at(aim))
            });
        let Ok(found) = found;
        (found.at, found.value)
    }

    /// First-order and total shares of launch speed, release and grip, by the definitions: the
    /// conditional means in closed form, their variances by Simpson's rule in one or two chances.
    pub(super) fn shares(&self, aim_rpm: f64, sd_rpm: f64) -> ([f64; 3], [f64; 3]) {
        // A fine grid of all three, weights normal: exact where nothing stalls, and good to the
        // step of the grid at an edge.
        const REACH: f64 = 5.0;
        const STEPS: u32 = 60;
        let axis: Vec<(f64, f64)> = (0..=STEPS)
            .map(|i| REACH * (2.0 * f64::from(i) / f64::from(STEPS) - 1.0))
            .map(|z| (z, density(z)))
            .collect();
        let n = axis.len();
        // Weight and weighted mean by (s, r), (s, g), (r, g), s, r, g.
        let mut two = [const { Vec::new() }; 3];
        let mut one = [const { Vec::new() }; 3];
        for list in &mut two {
            *list = vec![(0.0, 0.0); n * n];
        }
        for list in &mut one {
            *list = vec![(0.0, 0.0); n];
        }
        let (mut all, mut sum, mut square) = (0.0, 0.0, 0.0);
        let step_rpm = sd_rpm * 2.0 * REACH / f64::from(STEPS);
        for (i, (s, ws)) in axis.iter().enumerate() {
            let rpm = self.rpm(aim_rpm, sd_rpm, *s);
            for (j, (r, wr)) in axis.iter().enumerate() {
                for (k, (g, wg)) in axis.iter().enumerate() {
                    let above = rpm - self.edge_at_rpm(*r, *g);
                    let away = (above / step_rpm + 0.5).clamp(0.0, 1.0);
                    let weight = ws * wr * wg * away;
                    let time = self.time_s(rpm, *r, *g);
                    for (list, at) in two.iter_mut().zip([i * n + j, i * n + k, j * n + k]) {
                        list[at].0 += weight;
                        list[at].1 += weight * time;
                    }
                    for (list, at) in one.iter_mut().zip([i, j, k]) {
                        list[at].0 += weight;
                        list[at].1 += weight * time;
                    }
                    all += weight;
                    sum += weight * time;
                    square += weight * time * time;
                }
            }
        }
        let mean = sum / all;
        let variance = square / all - mean * mean;
        let of_means = |list: &[(f64, f64)]| -> f64 {
            list.iter()
                .filter(|(weight, _)| *weight > 0.0)
                .map(|(weight, time)| weight * (time / weight - mean).powi(2))
                .sum::<f64>()
                / all
        };
        let first = [0, 1, 2].map(|input| of_means(&one[input]) / variance);
        // The others of launch speed are release and grip, of release speed and grip, …
        let total = [2, 1, 0].map(|pair| 1.0 - of_means(&two[pair]) / variance);
        (first, total)
    }

    pub(super) fn table(&self, seed: u32) -> LaunchTable {
        self.table_with(seed, DEFAULT_DRAWS)
    }

    pub(super) fn table_with(&self, seed: u32, draws: usize) -> LaunchTable {
        let draws = Draws::new(draws, seed);
        let points = draws.points(&self.law);
        let wanted = [Wanted {
            car: self,
            law: self.law,
            points: &points,
            design: Design::FULL,
        }];
        LaunchTable::build_all(&wanted, &Unwatched)
            .unwrap()
            .remove(0)
    }
}

pub(super) fn range() -> SpeedRange {
    SpeedRange::new(2000.0 * RAD_S_PER_RPM, 7000.0 * RAD_S_PER_RPM).unwrap()
}
