//! The launch table of a flywheel, from which everything said of it under scatter is an integral.
//!
//! Release and grip are scrambled `points`; at each of them a `line` of launches over all
//! launch speeds, stall edges located. What a driver's launch speed makes of it is then no
//! launch but an integral over the line, at every aim and every steadiness: `smoothing`. So
//! mean, spread, percentiles, shares, pairs and break-evens all come from the same launches, and
//! each has the error that the independent blocks of points tell.
//!
//! The design was chosen by figures: `docs/steadiness.md`.

mod design;
mod edges;
mod grid;
mod law;
mod line;
mod points;
mod replicated;
mod shares;
mod smoothing;
mod spread;
mod stalls;
mod wins;

pub use design::Design;
pub use law::{Law, SixtyFoot};
pub use points::{Point, Points, Weights};
pub use replicated::{Replicated, half_width};
pub use shares::variance_shares;
pub use smoothing::{AS_GOOD_S, BAND_S, Lowest, MeanAt};
pub use spread::Spread;
pub use wins::{Aimed, share_won};

use crate::study::{Progress, StudyError, on_all_cores};
use edges::{Edges, FittedEdge};
use grid::{Grid, GridLine};
use line::{Line, Run, launch_line};
use smoothing::Curve;

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
