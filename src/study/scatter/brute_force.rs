//! What a flywheel does at one aim by very many launches: what tables of real cars are held
//! against, where no closed form is known.
//!
//! A lattice over the three chances. At each release and grip launches run a tenth of a standard
//! deviation of launch speed apart, every edge between launches that get away and launches that
//! do not is bisected to 0.05 rpm, and the normal law of the launch speed is integrated exactly over what
//! is straight between two launches. Over release and grip the sum is a trapezoidal one, which
//! of a smooth function of a normal number is as good as exact at a quarter of a deviation.
//! No point, no weight, no curve and no fit of the launch table has a part in it.

use super::table::{Law, SixtyFoot};
use crate::car::constants::RAD_S_PER_RPM;
use rayon::prelude::*;
use statrs::function::erf::erf;
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Chances of release and grip: from −5.25 to 5.25, a quarter apart.
const OTHERS: (f64, u32) = (5.25, 42);
/// Release and grip further out than this together, 4 in 100,000, are asked for stalls alone.
const TIMED: f64 = 4.5;
/// Chances of launch speed: from −5.5 to 5.5, a tenth apart.
const SPEEDS: (f64, u32) = (5.5, 110);
/// Pieces that a stretch is cut into to rank its times.
const PIECES: u32 = 8;
/// Edges are bisected to this, rad/s.
const EDGE_RAD_S: f64 = 0.05 * RAD_S_PER_RPM;

fn below(z: f64) -> f64 {
    0.5 * (1.0 + erf(z * FRAC_1_SQRT_2))
}

fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

fn axis((reach, steps): (f64, u32)) -> Vec<f64> {
    let at = |i: u32| reach * (2.0 * f64::from(i) / f64::from(steps) - 1.0);
    (0..=steps).map(at).collect()
}

/// A stretch between two launch speeds tried: how likely a launch there is that gets away, and
/// the mean and mean square of its time, each times that, s and s².
#[derive(Debug, Clone, Copy, Default)]
struct Cell {
    away: f64,
    time_s: f64,
    square_s2: f64,
    /// Chances of launch speed at both ends, and times there, s.
    ends: [(f64, f64); 2],
}

impl Cell {
    /// A straight stretch between two chances of launch speed, with times at both.
    fn straight((from, to): (f64, f64), (from_s, to_s): (f64, f64)) -> Self {
        let slope = (to_s - from_s) / (to - from);
        let at_none = from_s - slope * from;
        let share = below(to) - below(from);
        let first = density(from) - density(to);
        let second = share - (to * density(to) - from * density(from));
        Self {
            away: share,
            time_s: at_none * share + slope * first,
            square_s2: at_none * at_none * share
                + 2.0 * at_none * slope * first
                + slope * slope * second,
            ends: [(from, from_s), (to, to_s)],
        }
    }

    fn mean_s(&self) -> f64 {
        self.time_s / self.away
    }

    /// Share of the stretch in which the own time, straight between its ends, lies below another's.
    fn share_below(&self, other: &Self) -> f64 {
        if self.away <= 0.0 || other.away <= 0.0 {
            return f64::from(u8::from(self.away > 0.0));
        }
        let less = |end: usize| self.ends[end].1 - other.ends[end].1;
        match (less(0), less(1)) {
            (from, to) if from < 0.0 && to < 0.0 => 1.0,
            (from, to) if from >= 0.0 && to >= 0.0 => 0.0,
            (from, to) if from < 0.0 => from / (from - to),
            (from, to) => to / (to - from),
        }
    }

    fn add(&mut self, other: &Self, weight: f64) {
        self.away += weight * other.away;
        self.time_s += weight * other.time_s;
        self.square_s2 += weight * other.square_s2;
    }
}

/// One release and grip: its probability, and the stretches of launch speed.
struct Column {
    probability: f64,
    /// Places along release and grip; `None` where only stalls were asked for.
    at: Option<(usize, usize)>,
    cells: Vec<Cell>,
}

/// All that happens at one aim.
pub(super) struct BruteForce {
    columns: Vec<Column>,
}

/// The figures of one flywheel at one aim.
#[derive(Debug, Clone, Copy)]
pub(super) struct Figures {
    pub(super) stalled: f64,
    pub(super) away_s: f64,
    pub(super) mean_s: f64,
    pub(super) sd_s: f64,
    pub(super) p10_s: f64,
    pub(super) p90_s: f64,
    pub(super) within: f64,
    /// First-order and total shares of launch speed, release and grip.
    pub(super) shares: [[f64; 3]; 2],
}

impl BruteForce {
    /// Launches a car at one aim, rad/s.
    pub(super) fn new(car: &dyn SixtyFoot, law: &Law, aim_rad_s: f64) -> Self {
        let others = axis(OTHERS);
        let step = 2.0 * OTHERS.0 / f64::from(OTHERS.1);
        let jobs: Vec<(usize, usize)> = (0..others.len())
            .flat_map(|release| (0..others.len()).map(move |grip| (release, grip)))
            .collect();
        let columns = jobs
            .par_iter()
            .map(|&(r, g)| {
                let (release, grip) = (others[r], others[g]);
                let timed = release.hypot(grip) <= TIMED;
                Column {
                    probability: step * density(release) * step * density(grip),
                    at: timed.then_some((r, g)),
                    cells: column(car, law, aim_rad_s, (release, grip), timed),
                }
            })
            .collect();
        Self { columns }
    }

    fn timed(&self) -> impl Iterator<Item = (&Column, (usize, usize))> {
        self.columns
            .iter()
            .filter_map(|column| Some((column, column.at?)))
    }

    /// Every figure; launches in up to `within_s` are within tolerance.
    pub(super) fn figures(&self, law: &Law, within_s: f64) -> Figures {
        let mut all = Cell::default();
        let mut whole = 0.0;
        for (column, _) in self.timed() {
            for cell in &column.cells {
                all.add(cell, column.probability);
            }
        }
        let mut got_away = 0.0;
        for column in &self.columns {
            whole += column.probability;
            got_away += column.probability * column.cells.iter().map(|c| c.away).sum::<f64>();
        }
        let inside = 2.0 * below(SPEEDS.0) - 1.0;
        let stalled = 1.0 - got_away / whole / inside;
        let away_s = all.mean_s();
        let variance = all.square_s2 / all.away - away_s * away_s;
        let mut times: Vec<(f64, f64)> = self
            .timed()
            .flat_map(|(column, _)| {
                let with = column.probability;
                column
                    .cells
                    .iter()
                    .filter(|c| c.away > 0.0)
                    .flat_map(move |cell| {
                        let [from, to] = cell.ends;
                        let at = move |share: f64| from.0 + share * (to.0 - from.0);
                        (0..PIECES).map(move |piece| {
                            let share = |off: f64| (f64::from(piece) + off) / f64::from(PIECES);
                            let weight = below(at(share(1.0))) - below(at(share(0.0)));
                            (from.1 + share(0.5) * (to.1 - from.1), with * weight)
                        })
                    })
            })
            .collect();
        times.sort_by(|a, b| a.0.total_cmp(&b.0));
        let share_below = |limit_s: f64| -> f64 {
            let within = times.iter().take_while(|(time_s, _)| *time_s <= limit_s);
            within.map(|(_, weight)| weight).sum::<f64>() / all.away
        };
        let percentile = |share: f64| -> f64 {
            let mut passed = 0.0;
            let found = times.iter().find(|(_, weight)| {
                passed += weight;
                passed >= share * all.away
            });
            found.unwrap().0
        };
        Figures {
            stalled,
            away_s,
            mean_s: (1.0 - stalled) * away_s + stalled * law.stall_cost_s,
            sd_s: variance.sqrt(),
            p10_s: percentile(0.1),
            p90_s: percentile(0.9),
            within: share_below(within_s),
            shares: self.shares(&all, variance),
        }
    }

    fn shares(&self, all: &Cell, variance: f64) -> [[f64; 3]; 2] {
        let mean_s = all.mean_s();
        let of_means = |group_of: &dyn Fn(usize, usize, usize) -> usize| -> f64 {
            let along = OTHERS.1 as usize + 1;
            let mut groups = vec![Cell::default(); along * along * (SPEEDS.1 as usize)];
            for (column, (r, g)) in self.timed() {
                for (s, cell) in column.cells.iter().enumerate() {
                    groups[group_of(s, r, g)].add(cell, column.probability);
                }
            }
            let kept = groups.iter().filter(|group| group.away > 0.0);
            kept.map(|group| group.away * (group.mean_s() - mean_s).powi(2))
                .sum::<f64>()
                / all.away
        };
        let along = OTHERS.1 as usize + 1;
        let first = [
            of_means(&|s, _, _| s),
            of_means(&|_, r, _| r),
            of_means(&|_, _, g| g),
        ];
        let others = [
            of_means(&|_, r, g| r * along + g),
            of_means(&|s, _, g| s * along + g),
            of_means(&|s, r, _| s * along + r),
        ];
        [
            first.map(|part| part / variance),
            others.map(|part| 1.0 - part / variance),
        ]
    }

    /// Share of launches that it wins against another under the same chances.
    pub(super) fn won(&self, other: &Self) -> f64 {
        let chances: Vec<f64> = axis(SPEEDS)
            .windows(2)
            .map(|z| below(z[1]) - below(z[0]))
            .collect();
        let (mut won, mut all) = (0.0, 0.0);
        for ((own, _), (others, _)) in self.timed().zip(other.timed()) {
            for ((own_cell, other_cell), chance) in
                own.cells.iter().zip(&others.cells).zip(&chances)
            {
                all += own.probability * chance;
                let alone = (own_cell.away - other_cell.away).max(0.0);
                let quicker = own_cell.share_below(other_cell);
                let both = quicker * own_cell.away.min(other_cell.away);
                won += own.probability * (alone + both);
            }
        }
        won / all
    }
}

/// The stretches of launch speed at one release and grip.
fn column(
    car: &dyn SixtyFoot,
    law: &Law,
    aim_rad_s: f64,
    (release, grip): (f64, f64),
    timed: bool,
) -> Vec<Cell> {
    let sd = law.launch_sd_rad_s;
    let launch = |chance: f64| {
        car.sixty_foot_s(&law.attempt(aim_rad_s + sd * chance, release, grip))
            .unwrap()
    };
    // Where only stalls are asked for, half a deviation apart.
    let apart = if timed { 1 } else { 5 };
    let chances: Vec<f64> = axis(SPEEDS).into_iter().step_by(apart).collect();
    let times: Vec<Option<f64>> = chances.iter().map(|chance| launch(*chance)).collect();
    // How much a chord lies above the curve on average: a twelfth of the second difference.
    let second = |at: usize| {
        let time_s = |at: usize| times.get(at).copied().flatten();
        Some(time_s(at.checked_sub(1)?)? - 2.0 * time_s(at)? + time_s(at + 1)?)
    };
    let above_s = |at: usize| {
        second(at)
            .zip(second(at + 1))
            .map_or(0.0, |(a, b)| (a + b) / 24.0)
    };
    chances
        .windows(2)
        .zip(times.windows(2))
        .enumerate()
        .map(|(at, (chance, time_s))| match (time_s[0], time_s[1]) {
            (Some(from_s), Some(to_s)) => {
                let lower = above_s(at);
                Cell::straight((chance[0], chance[1]), (from_s - lower, to_s - lower))
            }
            (None, None) => Cell::default(),
            (None, Some(to_s)) => {
                let (edge, edge_s) = bisected((chance[1], to_s), chance[0], sd, &launch);
                Cell::straight((edge, chance[1]), (edge_s, to_s))
            }
            (Some(from_s), None) => {
                let (edge, edge_s) = bisected((chance[0], from_s), chance[1], sd, &launch);
                Cell::straight((chance[0], edge), (from_s, edge_s))
            }
        })
        .collect()
}

/// The edge between a chance that gets away in a known time and one that does not, and the time
/// there.
fn bisected(
    (mut away, mut away_s): (f64, f64),
    mut stalls: f64,
    sd_rad_s: f64,
    launch: &impl Fn(f64) -> Option<f64>,
) -> (f64, f64) {
    while (away - stalls).abs() * sd_rad_s > EDGE_RAD_S {
        let middle = f64::midpoint(away, stalls);
        match launch(middle) {
            Some(time_s) => (away, away_s) = (middle, time_s),
            None => stalls = middle,
        }
    }
    (f64::midpoint(away, stalls), away_s)
}
