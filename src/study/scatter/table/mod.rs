//! The launch table of a flywheel, from which everything said of it under scatter is an integral.
//!
//! Release and grip are scrambled `points`; at each of them a `line` of launches over all
//! launch speeds, stall edges located. What a driver's launch speed makes of it is then no
//! launch but an integral over the line, at every aim and every steadiness: `smoothing`. So
//! mean, spread, percentiles, shares, pairs and break-evens all come from the same launches, and
//! each has the error that the independent blocks of points tell.
//!
//! The design was chosen by figures: `docs/steadiness.md`.

mod edges;
mod line;
mod points;
mod shares;
mod smoothing;
mod spread;
mod stalls;
mod wins;

pub use points::{Point, Points, Weights};
pub use shares::variance_shares;
use smoothing::Smoothing;
pub use smoothing::{AS_GOOD_S, BAND_S, Lowest, MeanAt};
pub use spread::{Replicated, Spread, half_width};
pub use wins::{Aimed, share_won};

use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::{Attempt, LaunchError};
use crate::study::{Progress, StudyError, on_all_cores};
use edges::{Edges, FittedEdge};
use line::{Line, Run, launch_line};
use smoothing::Curve;

/// Something that takes a launch speed, a release and a grip, and gives a sixty-foot time.
pub trait SixtyFoot: Sync {
    /// Sixty-foot time of an attempt, s; `None` if it did not get away.
    ///
    /// # Errors
    /// When the launch cannot be computed.
    fn sixty_foot_s(&self, attempt: &Attempt) -> Result<Option<f64>, LaunchError>;
}

/// How launches scatter with one flywheel, and what a stall costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Law {
    /// Standard deviation of the launch speed, rad/s.
    pub launch_sd_rad_s: f64,
    /// Release time aimed at, over the sheet's own.
    pub release_stretch: f64,
    /// Standard deviation of the logarithm of the release time.
    pub release_sd: f64,
    /// Standard deviation of the grip, over its mean.
    pub grip_sd: f64,
    /// Draws of launch speed are kept above this, the stall speed, rad/s.
    pub lowest_rad_s: f64,
    /// Draws of launch speed are kept below this, the limiter, rad/s.
    pub highest_rad_s: f64,
    /// What a launch that did not get away counts for in a mean, s.
    pub stall_cost_s: f64,
}

/// Least grip of a draw, over the mean (common practice, no source).
const LEAST_GRIP_FACTOR: f64 = 0.3;

impl Law {
    /// The attempt from a launch speed (rad/s) with chances of release and grip.
    pub fn attempt(&self, launch_speed_rad_s: f64, release: f64, grip: f64) -> Attempt {
        Attempt {
            launch_speed_rad_s: launch_speed_rad_s.clamp(self.lowest_rad_s, self.highest_rad_s),
            release_stretch: self.release_stretch * (self.release_sd * release).exp(),
            grip_factor: (1.0 + self.grip_sd * grip).max(LEAST_GRIP_FACTOR),
        }
    }
}

/// How many launches a table makes and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Step of launch speed to begin with, rad/s.
    pub first_step_rad_s: f64,
    /// No launches are added between two this close, rad/s.
    pub finest_step_rad_s: f64,
    /// A line may bend this much from straight between two launches, s; as much again for every
    /// 0.1 s above its best.
    pub bend_s: f64,
    /// A launch may lie this much from where its neighbours put it, s, where launches are
    /// `first_step_rad_s` apart, and more in proportion where they are nearer; as much again for
    /// every 0.03 s above the line's best.
    pub miss_s: f64,
    /// Stall edges are bisected down to this, rad/s.
    pub edge_rad_s: f64,
}

impl Design {
    /// What a comparison is made with.
    pub const FULL: Self = Self {
        first_step_rad_s: 300.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 12.5 * RAD_S_PER_RPM,
        bend_s: 0.004,
        miss_s: 0.002,
        edge_rad_s: 2.0 * RAD_S_PER_RPM,
    };
    /// What a comparison is made with where neither release nor grip scatters: few lines, all
    /// alike but for where their launch speeds begin, each as fine as it can be had.
    pub const SINGLE: Self = Self {
        first_step_rad_s: 50.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 2.0 * RAD_S_PER_RPM,
        bend_s: 0.000_5,
        miss_s: 0.000_5,
        edge_rad_s: 1.0 * RAD_S_PER_RPM,
    };
    /// What maps are made with.
    pub const COARSE: Self = Self {
        first_step_rad_s: 300.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 50.0 * RAD_S_PER_RPM,
        bend_s: 0.02,
        miss_s: f64::INFINITY,
        edge_rad_s: 10.0 * RAD_S_PER_RPM,
    };

    /// What a comparison is made with under a law.
    pub fn for_law(law: &Law) -> Self {
        if law.release_sd > 0.0 || law.grip_sd > 0.0 {
            Self::FULL
        } else {
            Self::SINGLE
        }
    }
}

/// Points of a grid of launch speeds no further apart than this, rad/s (2.5 rpm): lines are read off
/// there before they are averaged.
const GRID_STEP_RAD_S: f64 = 2.5 * RAD_S_PER_RPM;

/// An even grid of launch speeds.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Grid {
    low_rad_s: f64,
    step_rad_s: f64,
    len: usize,
}

impl Grid {
    fn new(low: f64, high: f64) -> Self {
        let mut steps = 1_u32;
        while (high - low) / f64::from(steps) > GRID_STEP_RAD_S {
            steps += 1;
        }
        Self {
            low_rad_s: low,
            step_rad_s: (high - low) / f64::from(steps),
            len: steps as usize + 1,
        }
    }

    fn speeds(&self) -> impl Iterator<Item = f64> + use<> {
        let (low, step) = (self.low_rad_s, self.step_rad_s);
        (0_u32..)
            .map(move |i| low + step * f64::from(i))
            .take(self.len)
    }
}

/// A line read off at the grid.
#[derive(Debug, Clone, PartialEq)]
struct GridLine {
    /// Share of launch speeds within half a step that get away.
    away: Vec<f64>,
    /// Sixty-foot time of those, s; of the nearest that gets away where none does.
    time_s: Vec<f64>,
}

impl GridLine {
    fn of(runs: &[Run], grid: &Grid) -> Self {
        let half = grid.step_rad_s / 2.0;
        let (away, time_s) = grid
            .speeds()
            .map(|speed| {
                // Beyond what was tried a line goes on as it ends.
                let share = |run: &Run| {
                    let from = run.start_rad_s().max(speed - half);
                    (run.to_rad_s().min(speed + half) - from).max(0.0) / grid.step_rad_s
                };
                let nearest = |run: &Run| {
                    let inside = speed.clamp(run.low_rad_s, run.high_rad_s);
                    ((inside - speed).abs(), run.time_s(inside))
                };
                let away: f64 = runs.iter().map(share).sum();
                let time_s = runs
                    .iter()
                    .map(nearest)
                    .min_by(|a, b| a.0.total_cmp(&b.0))
                    .map_or(0.0, |(_, time_s)| time_s);
                (away.min(1.0), time_s)
            })
            .unzip();
        Self { away, time_s }
    }
}

/// The launches of one flywheel under scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct LaunchTable {
    law: Law,
    grid: Grid,
    points: Points,
    weights: Weights,
    lines: Vec<GridLine>,
    /// The lines without every second launch.
    thinned: Vec<GridLine>,
    /// The mean over release and grip as a curve over launch speed: with all blocks, and without
    /// each.
    curve: Curve,
    without: Vec<Curve>,
    /// The mean with all blocks, of the lines without every second launch.
    thinned_curve: Curve,
    /// The stall edge over release and grip; `None` where there is none.
    edge: Option<FittedEdge>,
    /// Launch speeds of every launch, rad/s, and whether it got away.
    tried: Vec<(f64, bool)>,
}

/// What a table is made of: a car, its scatter, the points.
pub struct Wanted<'a> {
    /// The car with its flywheel.
    pub car: &'a dyn SixtyFoot,
    /// Its scatter.
    pub law: Law,
    /// Points of release and grip, the same for every flywheel.
    pub points: &'a Points,
    /// How many launches, and where.
    pub design: Design,
}

impl LaunchTable {
    /// Makes the tables of several flywheels at once.
    ///
    /// # Errors
    /// When a launch cannot be computed, or somebody stopped it.
    pub fn build_all(wanted: &[Wanted], progress: &dyn Progress) -> Result<Vec<Self>, StudyError> {
        let jobs: Vec<(&Wanted, &Point)> = wanted
            .iter()
            .flat_map(|wanted| wanted.points.all().iter().map(move |point| (wanted, point)))
            .collect();
        let lines = on_all_cores(&jobs, progress, |(wanted, point)| {
            let law = &wanted.law;
            let span = (law.lowest_rad_s, law.highest_rad_s);
            let attempt = law.attempt(span.0, point.release, point.grip);
            Ok(launch_line(
                wanted.car,
                &attempt,
                span,
                point.shift,
                &wanted.design,
            )?)
        })?;
        let mut lines = lines.into_iter();
        Ok(wanted
            .iter()
            .map(|wanted| {
                let own: Vec<Line> = lines.by_ref().take(wanted.points.all().len()).collect();
                Self::of(wanted, &own)
            })
            .collect())
    }

    fn of(wanted: &Wanted, lines: &[Line]) -> Self {
        let law = wanted.law;
        let grid = Grid::new(law.lowest_rad_s, law.highest_rad_s);
        let points = wanted.points.clone();
        let weights = points.weights();
        let read = |runs: &dyn Fn(&Line) -> &[Run]| -> Vec<GridLine> {
            lines
                .iter()
                .map(|line| GridLine::of(runs(line), &grid))
                .collect()
        };
        let (read_off, thinned) = (read(&|line| &line.runs), read(&|line| &line.thinned));
        let edges = Edges::of(lines, &law);
        let fitted = |block| edges.as_ref()?.fitted(&points, block);
        let curve_with = |lines: &[GridLine], weights: &[f64], block: Option<usize>| {
            let beyond =
                fitted(block).map(|edge| edge.away_beyond_launches(&points, weights, &grid));
            Curve::of(lines, weights, beyond.as_deref(), &grid)
        };
        Self {
            curve: curve_with(&read_off, &weights.all, None),
            thinned_curve: curve_with(&thinned, &weights.all, None),
            without: weights
                .without
                .iter()
                .enumerate()
                .map(|(block, weights)| curve_with(&read_off, weights, Some(block)))
                .collect(),
            edge: fitted(None),
            tried: lines.iter().flat_map(|line| line.tried.clone()).collect(),
            law,
            grid,
            points,
            weights,
            lines: read_off,
            thinned,
        }
    }

    /// The scatter it was made for.
    pub fn law(&self) -> &Law {
        &self.law
    }

    /// The points of release and grip.
    pub fn points(&self) -> &Points {
        &self.points
    }

    /// Launches it took.
    pub fn launches(&self) -> usize {
        self.tried.len()
    }
}
