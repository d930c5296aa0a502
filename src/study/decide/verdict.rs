//! Which flywheel to start with, and how sure that is.

use super::losses::{Losses, as_float};
use super::moved::Between;
use super::season::SeasonLoss;
use crate::car::season::{Counts, Season};
use crate::numerics::Interval;
use crate::numerics::quantile::normal_errors;
use crate::numerics::summary::mean;

/// A season that another start would have made quicker by no more than this a launch is none to
/// regret, s: the last figure of a slip.
pub const NOTHING_TO_REGRET_S: f64 = 0.001;
/// Share of the sheets in which there must be nothing to regret for a start to be sure.
pub const SURE_SHARE: f64 = 0.95;

/// What to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The flywheel to start with: the least loss over the season.
    pub start_with: usize,
    /// Whether draws' error and doubt both allow to say so.
    pub sure: bool,
    /// The next best to start with.
    pub runner_up: Option<RunnerUp>,
    /// The fitted flywheel.
    pub fitted: Option<usize>,
    /// Whether no flywheel gains over the fitted one what a season's slips could show.
    pub leave_metal_on: bool,
    /// Least difference that a season's slips could show, s.
    pub shown_by_slips_s: f64,
    /// The most that any flywheel gains on average over the fitted one, s; 0 where none does.
    pub gain_over_fitted_s: f64,
}

impl Verdict {
    /// Place of the flywheel to use for now: the fitted one where the metal is to be left on, else
    /// the one to start with.
    pub fn place_to_use(&self) -> usize {
        let fitted = self.fitted.filter(|_| self.leave_metal_on);
        fitted.unwrap_or(self.start_with)
    }

    /// The one to use, and the one that would be taken in its place; `None` where there is one.
    pub fn choice(&self) -> Option<Between> {
        let used = self.place_to_use();
        let next = self.runner_up.as_ref().map(|next| next.wheel);
        let mut others = [Some(self.start_with), next].into_iter().flatten();
        let other = others.find(|wheel| *wheel != used)?;
        Some(Between { used, other })
    }
}

/// The next best start, against the best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunnerUp {
    /// Which.
    pub wheel: usize,
    /// What it loses more, s a launch of the season.
    pub behind_s: f64,
    /// With its 95 % interval.
    pub behind_interval_s: Interval,
    /// Share of the sheets in which it would have been the better start by more than
    /// [`NOTHING_TO_REGRET_S`].
    pub regret_share: f64,
    /// Sheets that would part the two, as far as the luck of the draws is what keeps them
    /// together; `None` where what the means and the regression may be wrong by does that.
    pub sheets_to_part: Option<f64>,
}

/// What the verdict is made of.
#[derive(Debug, Clone, Copy)]
pub struct Grounds<'g> {
    /// Losses of every flywheel in every sheet.
    pub losses: &'g Losses,
    /// What starting with each loses over the season.
    pub seasons: &'g [SeasonLoss],
    /// The fitted flywheel.
    pub fitted: Option<usize>,
    /// Spread of the fitted flywheel's launches, s.
    pub fitted_sd_s: f64,
    /// Error of a difference between two means in one sheet, s.
    pub evaluation_error_s: f64,
    /// The season, and what counts in it.
    pub season: Season,
}

/// Reaches the verdict; `None` where there is no flywheel.
pub fn verdict(grounds: &Grounds) -> Option<Verdict> {
    let seasons = grounds.seasons;
    let (start_with, _) = seasons
        .iter()
        .enumerate()
        .min_by(|a, b| a.1.loss_s.total_cmp(&b.1.loss_s))?;
    let others: Vec<RunnerUp> = (0..seasons.len())
        .filter(|wheel| *wheel != start_with)
        .filter_map(|wheel| against(grounds, start_with, wheel))
        .collect();
    let sure = others
        .iter()
        .all(|other| other.behind_interval_s.low > 0.0 && other.regret_share <= 1.0 - SURE_SHARE);
    let gain_over_fitted_s = gain_over_fitted(grounds);
    let shown_by_slips_s = shown_by_slips(grounds);
    Some(Verdict {
        start_with,
        sure,
        runner_up: others
            .into_iter()
            .min_by(|a, b| a.behind_s.total_cmp(&b.behind_s)),
        leave_metal_on: grounds.fitted.is_some() && gain_over_fitted_s < shown_by_slips_s,
        fitted: grounds.fitted,
        shown_by_slips_s,
        gain_over_fitted_s,
    })
}

/// One start against the best, sheet by sheet.
fn against(grounds: &Grounds, best: usize, wheel: usize) -> Option<RunnerUp> {
    let (best, other) = (grounds.seasons.get(best)?, grounds.seasons.get(wheel)?);
    let behind: Vec<f64> = other
        .per_sheet_s
        .iter()
        .zip(&best.per_sheet_s)
        .map(|(other, best)| other - best)
        .collect();
    let (behind_s, interval) = grounds.losses.mean_with_interval(&behind);
    let regretted = behind
        .iter()
        .filter(|behind| **behind < -NOTHING_TO_REGRET_S);
    let more_s = best.regression_error_s + other.regression_error_s + grounds.evaluation_error_s;
    Some(RunnerUp {
        wheel,
        behind_s,
        behind_interval_s: Interval {
            low: interval.low - more_s,
            high: interval.high + more_s,
        },
        regret_share: as_float(regretted.count()) / as_float(behind.len().max(1)),
        sheets_to_part: sheets_to_part(behind.len(), interval.half_width(), behind_s - more_s),
    })
}

/// Sheets whose luck is no more than the room left for it, from what so many had: the error of a mean
/// falls as the root of their number.
fn sheets_to_part(sheets: usize, luck_s: f64, room_s: f64) -> Option<f64> {
    (room_s > 0.0).then(|| as_float(sheets) * (luck_s / room_s).powi(2))
}

fn gain_over_fitted(grounds: &Grounds) -> f64 {
    let Some(fitted) = grounds.fitted else {
        return 0.0;
    };
    let fitted_s = mean(grounds.losses.of(fitted));
    (0..grounds.losses.choices())
        .map(|wheel| fitted_s - grounds.losses.mean(wheel))
        .fold(0.0, f64::max)
}

/// The difference between two wheels' means (or spreads) that as many launches with each as the
/// rest of the season has would show in 19 cases of 20: `1.96 √2 σ/√S`; of spreads, whose own
/// error is `σ/√(2S)`, that over √2.
fn shown_by_slips(grounds: &Grounds) -> f64 {
    let launches = f64::from(grounds.season.launches.get());
    let of_means = normal_errors() * 2_f64.sqrt() * grounds.fitted_sd_s / launches.sqrt();
    match grounds.season.counts {
        Counts::QuickToSixtyFeet | Counts::QuickToQuarterMile => of_means,
        Counts::Steady => of_means / 2_f64.sqrt(),
    }
}
