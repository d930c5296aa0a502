//! A line through figures that scatter to one side more than to the other.

use super::evidence::weight;
use nalgebra::{DMatrix, DVector};

/// Turns of line and weights: each changes the line by a fraction of what the one before did.
const TURNS: usize = 6;
/// Share of the data that a guess counts for in slopes: small beside what 64 cars leave open of one.
const GUESSED_SHARE: f64 = 0.01;

/// Where the figures of a usual run lie, and how far all scatter about it.
pub(super) struct UsualLine {
    /// Intercept and slopes (columns) of each figure (rows).
    pub(super) lines: DMatrix<f64>,
    /// Covariance of the figures about it.
    pub(super) covariance: DMatrix<f64>,
    /// Mean of the figures off it.
    pub(super) average: DVector<f64>,
    /// Variance of each figure off it, times the say that leaves its run.
    pub(super) pull_variance: DVector<f64>,
}

impl UsualLine {
    /// The line through `values`, a column each, over the same columns of `regressors`; `None` of
    /// too few. It is the line for which slips are right on average when each is given the say
    /// that its distance leaves it ([`weight`]): chance makes a run far later than usual more
    /// often than far earlier, slips so late have little say, and held against the mean all
    /// others would then seem early. The readings' own covariance counts in that say as it does in
    /// a slip's.
    pub(super) fn through(
        regressors: &DMatrix<f64>,
        values: &DMatrix<f64>,
        readings: &DMatrix<f64>,
    ) -> Option<Self> {
        let mut weights = vec![1.0; values.ncols()];
        for _ in 0..TURNS {
            let lines = line_through(regressors, values, &weights)?;
            let about = values - &lines * regressors;
            let covariance = covariance_of(&about, regressors.nrows())?;
            let factor = (covariance + readings).cholesky()?;
            for (weight_of, off) in weights.iter_mut().zip(about.column_iter()) {
                let squared = factor.l().solve_lower_triangular(&off)?.norm_squared();
                *weight_of = weight(squared, values.nrows());
            }
        }
        let lines = line_through(regressors, values, &weights)?;
        let about = values - &lines * regressors;
        Some(Self {
            covariance: covariance_of(&about, regressors.nrows())?,
            average: about.column_mean(),
            pull_variance: pull_variance(&about, &weights),
            lines,
        })
    }
}

/// Variance of each figure off the line times its run's say.
fn pull_variance(about: &DMatrix<f64>, weights: &[f64]) -> DVector<f64> {
    let mut pulls = about.clone();
    for (mut pull, weight) in pulls.column_iter_mut().zip(weights) {
        pull *= *weight;
    }
    pulls.column_variance()
}

/// Weighted least squares of each row of `values` on the `regressors`, of which the first is 1. A
/// hundredth of the data is a guess that there are no slopes, without which scores that a few cars
/// hardly tell apart would run away (ridge regression).
fn line_through(
    regressors: &DMatrix<f64>,
    values: &DMatrix<f64>,
    weights: &[f64],
) -> Option<DMatrix<f64>> {
    let mut weighted = regressors.transpose();
    for (mut row, weight) in weighted.row_iter_mut().zip(weights) {
        row *= *weight;
    }
    let mut square = regressors * &weighted;
    for slope in 1..square.nrows() {
        if let Some(data) = square.get_mut((slope, slope)) {
            // The least there is, where all cars have the same score and no slope is to be had.
            *data += GUESSED_SHARE * *data + f64::MIN_POSITIVE;
        }
    }
    let solved = square.cholesky()?.solve(&(values * weighted).transpose());
    Some(solved.transpose())
}

/// Covariance of columns about zero after so many regressors, made wider by what those took and by
/// what the inverse of one from few runs is too large by (Hartlap, Simon & Schneider, *Astronomy &
/// Astrophysics* 464 (2007) 399, eq. 17, from memory). `None` of too few.
pub(super) fn covariance_of(about: &DMatrix<f64>, regressors: usize) -> Option<DMatrix<f64>> {
    #[expect(clippy::cast_precision_loss, reason = "some tens of launches")]
    let left = about.ncols() as f64 - (about.nrows() + regressors) as f64 - 1.0;
    (left > 0.0).then(|| about * about.transpose() / left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::summary::standard_deviation;

    const RUNS: usize = 400;

    /// Regressors 1 and one even over −1 to 1.
    fn regressors() -> DMatrix<f64> {
        DMatrix::from_fn(2, RUNS, |row, run| if row == 0 { 1.0 } else { even(run) })
    }

    #[expect(clippy::cast_precision_loss, reason = "some hundreds of runs")]
    fn even(run: usize) -> f64 {
        2.0 * (run as f64 + 0.5) / RUNS as f64 - 1.0
    }

    /// One figure `2 + 3x` and what is added to it, the same on both halves of `x`.
    fn figures(added: impl Fn(usize) -> f64) -> DMatrix<f64> {
        DMatrix::from_fn(1, RUNS, |_, run| 2.0 + 3.0 * even(run) + added(run % 20))
    }

    /// Readings without error.
    fn exact() -> DMatrix<f64> {
        DMatrix::zeros(1, 1)
    }

    /// Scatter as far to one side as to the other leaves the line where it is, but for the guess
    /// of a hundredth that there is no slope, which takes 0.03 of 3 and with what it leaves
    /// unexplained widens the scatter by a hundredth or two.
    #[test]
    fn law_even_scatter_leaves_the_line() {
        let even_scatter = |run| if run % 2 == 0 { 0.1 } else { -0.1 };
        let line =
            UsualLine::through(&regressors(), &figures(even_scatter), &exact()).expect("a line");
        assert!((line.lines[(0, 0)] - 2.0).abs() < 1e-3);
        assert!((line.lines[(0, 1)] - 3.0).abs() < 0.05);
        assert!((line.covariance[(0, 0)].sqrt() - 0.1).abs() < 0.005);
    }

    /// One run in twenty late by 1: the mean is late by 0.05, the usual run by far less, and
    /// about its line the runs, each with the say its distance leaves it, cancel.
    #[test]
    fn law_late_runs_hardly_move_the_usual_one() {
        let late = |run| if run == 0 { 1.0 } else { 0.0 };
        let values = figures(late);
        let line = UsualLine::through(&regressors(), &values, &exact()).expect("a line");
        let usual = line.lines[(0, 0)] - 2.0;
        assert!((0.0..0.02).contains(&usual), "{usual}");
        assert!((line.average[0] + usual - 0.05).abs() < 1e-9);
        let about = values - &line.lines * regressors();
        let say = |off: &f64| off * weight(off * off / line.covariance[(0, 0)], 1);
        let left: f64 = about.iter().map(say).sum();
        let without_say: f64 = about.iter().map(|off| off.abs()).sum();
        assert!(left.abs() < 1e-2 * without_say, "{left} of {without_say}");
        // The say is that of the turn before, which moves it by less than a hundredth.
        let pulls: Vec<f64> = about.iter().map(say).collect();
        let spread = standard_deviation(&pulls);
        assert!(
            (line.pull_variance[0].sqrt() / spread - 1.0).abs() < 0.02,
            "{spread}"
        );
    }

    /// Four figures of one number, −1, −1, 1 and 1, about a mean: 4 / (4 − 1 − 1 − 1) (by hand).
    #[test]
    fn law_few_runs_widen_a_covariance() {
        let about = DMatrix::from_row_slice(1, 4, &[-1.0, -1.0, 1.0, 1.0]);
        let covariance = covariance_of(&about, 1).expect("enough");
        assert!((covariance[(0, 0)] - 4.0).abs() < 1e-12);
        assert_eq!(covariance_of(&about, 2), None);
    }
}
