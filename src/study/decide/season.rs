//! A season on a wheel that can only lose metal: start, look at the slips, go on with the best
//! that can still be reached.

use super::information::Learnt;
use super::losses::Losses;
use super::reach::Reach;
use crate::car::season::Season;
use crate::numerics::Interval;

/// What starting with one wheel loses over a season, a launch.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonLoss {
    /// On average over the sheets, s a launch.
    pub loss_s: f64,
    /// Its 95 % interval: the draws' error and the regression's.
    pub interval_s: Interval,
    /// The part of the interval's half-width that the regression is to blame for, s.
    pub regression_error_s: f64,
    /// In each sheet, s a launch.
    pub per_sheet_s: Vec<f64>,
    /// What the meeting's slips are worth to the rest of the season, s a launch of it.
    pub slips_worth_s: f64,
    /// The wheels that may be driven after the meeting.
    pub reachable: Vec<usize>,
}

/// What starting with a wheel loses against knowing the best wheel of each sheet from the start:
/// `[M E loss(w) + S E loss(best reachable, given the slips)]/(M + S)`.
pub fn season_loss(
    losses: &Losses,
    reach: &Reach,
    season: Season,
    start: usize,
    learnt: &Learnt,
) -> SeasonLoss {
    let reachable = reach.from(start);
    let after = learnt.worth(losses, &reachable);
    let unlearnt = losses.best_on_average(&reachable).unwrap_or(start);
    let (meeting, rest) = (
        f64::from(season.meeting.get()),
        f64::from(season.launches.get()),
    );
    let launches = meeting + rest;
    let per_sheet_s: Vec<f64> = losses
        .of(start)
        .iter()
        .zip(losses.of(unlearnt))
        .zip(&after.per_sheet_s)
        .map(|((first, later), worth)| (meeting * first + rest * (later - worth)) / launches)
        .collect();
    let (loss_s, interval) = losses.mean_with_interval(&per_sheet_s);
    let regression_error_s = after.regression_error_s * rest / launches;
    SeasonLoss {
        loss_s,
        interval_s: Interval {
            low: (interval.low - regression_error_s).max(0.0),
            high: interval.high + regression_error_s,
        },
        regression_error_s,
        per_sheet_s,
        slips_worth_s: after.value_s,
        reachable,
    }
}
