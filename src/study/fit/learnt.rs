//! What a fit to time slips asks, finds and says.

use super::plausible::Implausible;
use crate::car::Car;
use crate::car::doubt::{DoubtedCar, DoubtedInput};
use crate::car::slip::{Shown, Slip};
use crate::car::track::Mark;
use crate::numerics::importance::WeightedDraws;
use crate::numerics::least_squares::LeastSquaresError;
use crate::study::StudyError;
use thiserror::Error;

/// Effective draws below this share of those made: the fit is not to be trusted.
pub const LEAST_EFFECTIVE_SHARE: f64 = 0.1;

/// What is asked of a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct FitQuestion {
    /// Keys of the unknowns; empty: the usual ones that the sheet leaves in doubt.
    pub unknowns: Vec<String>,
    /// Seed of the draws.
    pub seed: u32,
    /// Launches that the draws may take: the more, the finer what is told of an unknown.
    pub launches_for_draws: usize,
}

impl FitQuestion {
    /// Launches for the draws where nobody asks for others: some seconds of work, and means
    /// good to less than a tenth of a standard deviation.
    pub const LAUNCHES_FOR_DRAWS: usize = 14_000;

    /// What is asked where nothing is said but the unknowns and the seed.
    pub fn new(unknowns: Vec<String>, seed: u32) -> Self {
        Self {
            unknowns,
            seed,
            launches_for_draws: Self::LAUNCHES_FOR_DRAWS,
        }
    }
}

/// Why there is no fit.
#[derive(Debug, Error)]
pub enum FitError {
    /// A launch could not be computed, or somebody stopped it.
    #[error(transparent)]
    Study(#[from] StudyError),
    /// A slip that no car of this sheet can have run.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// A key that the sheet does not leave in doubt.
    #[error("\"{0}\" is no value that the sheet leaves in doubt")]
    NotInDoubt(String),
    /// Nothing in doubt at all.
    #[error("the sheet leaves nothing in doubt that slips could say anything of")]
    NothingInDoubt,
    /// There are no slips.
    #[error("there are no slips")]
    NoSlips,
    /// The model's run with the sheet's own values does not show what a slip shows.
    #[error("row {row}: the model's run does not get as far as this slip, whatever was tried")]
    OutOfReach {
        /// Row.
        row: usize,
    },
    /// The search found no values.
    #[error("no values fit: {0}")]
    Search(#[from] LeastSquaresError),
    /// No draw about the best values was possible.
    #[error("no draw about the best values is possible")]
    NoDraws,
}

/// One unknown before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Unknown {
    /// What was in doubt, and how.
    pub input: DoubtedInput,
    /// Its place among the car's doubted inputs.
    pub position: usize,
    /// Mean before, SI.
    pub prior: f64,
    /// Standard deviation before, SI.
    pub prior_sd: f64,
    /// Mean after, SI.
    pub posterior: f64,
    /// Standard deviation after, SI.
    pub posterior_sd: f64,
    /// 95 % interval after, SI.
    pub interval: (f64, f64),
    /// How much of what is now known comes from the slips: 0 none, 1 all.
    pub from_slips_share: f64,
    /// Whether the best value lies at the end of what the sheet thought possible.
    pub at_its_end: bool,
}

/// One run after the fit.
#[derive(Debug, Clone, PartialEq)]
pub struct RunFit {
    /// The slip.
    pub slip: Slip,
    /// Launch speed that was taken for it, rad/s.
    pub launch_speed_rad_s: f64,
    /// Its say: 1 in full, towards 0 the odder it is.
    pub weight: f64,
    /// What the model shows in place of each figure with the best values, SI.
    pub predicted: Vec<f64>,
    /// What such runs show on average, chance counted, SI.
    pub on_average: Vec<f64>,
    /// What such a run usually shows, chance counted, SI.
    pub usual: Vec<f64>,
    /// Its say, more than 1 for a run closer to the usual one than most.
    pub pull: f64,
    /// Variance of a figure off the usual one times the say that leaves the run, SI.
    pub pull_variance: Vec<f64>,
    /// Standard deviation of each figure, readings and chance together, SI.
    pub spread: Vec<f64>,
}

impl RunFit {
    /// Sixty-foot time read less the model's, s, if the slip has one.
    pub fn sixty_foot_residual_s(&self) -> Option<f64> {
        self.slip
            .figures
            .iter()
            .zip(&self.predicted)
            .find(|(figure, _)| figure.shown == Shown::Time(Mark::Ft60))
            .map(|(figure, predicted)| figure.value - predicted)
    }
}

/// What slips said.
#[derive(Debug, Clone)]
pub struct Fit {
    /// The unknowns.
    pub unknowns: Vec<Unknown>,
    /// Correlation of each pair of them, by their places.
    pub correlations: Vec<(usize, usize, f64)>,
    /// The runs.
    pub runs: Vec<RunFit>,
    /// Weighted draws of the unknowns, SI.
    pub draws: WeightedDraws,
    /// Draws that were made.
    pub made: usize,
    /// Whether the search came to rest.
    pub settled: bool,
    /// The car with the unknowns drawn together as the slips left them.
    pub doubted: DoubtedCar,
    /// The car at the mean of the draws.
    pub car: Car,
    /// Launches that this took, besides those that look for an aim where no launch speed was read.
    pub launches: usize,
}

impl Fit {
    /// Whether enough draws carry weight.
    pub fn trusted(&self) -> bool {
        #[expect(clippy::cast_precision_loss, reason = "thousands of draws")]
        let made = self.made as f64;
        self.draws.effective() >= LEAST_EFFECTIVE_SHARE * made
    }

    /// Runs whose say is small: a missed shift, another car.
    pub fn odd_runs(&self) -> impl Iterator<Item = &RunFit> {
        self.runs.iter().filter(|run| run.weight < ODD_BELOW)
    }

    /// Pairs of unknowns that the slips hardly tell apart.
    pub fn not_told_apart(&self) -> impl Iterator<Item = &(usize, usize, f64)> {
        self.correlations
            .iter()
            .filter(|(_, _, r)| r.abs() >= TOGETHER_FROM)
    }
}

/// A run with less say than this is odd.
pub const ODD_BELOW: f64 = 0.3;
/// Two unknowns correlated this strongly are hardly told apart.
pub const TOGETHER_FROM: f64 = 0.9;
