//! Who wins over two inputs: every flywheel at its own aim on a grid of both, the others as the
//! sheet has them.

use super::evaluate::{evaluate, rig_of};
use super::losses::as_float;
use super::study::Decision;
use crate::car::doubt::{Doubt, DoubtedCar, DoubtedInput};
use crate::study::{Progress, StudyError, on_all_cores};

/// Grid points along each input.
const ALONG: usize = 7;
/// The grid runs between these shares of each input's probability.
const ENDS: (f64, f64) = (0.005, 0.995);

/// What counts for every flywheel over two inputs.
#[derive(Debug, Clone, PartialEq)]
pub struct WhoWins {
    /// The input along the level axis, by its place among the doubted ones.
    pub level: usize,
    /// The input along the upright axis.
    pub upright: usize,
    /// Values of the level input, rising, SI.
    pub level_values: Vec<f64>,
    /// Values of the upright input, rising, SI.
    pub upright_values: Vec<f64>,
    /// A list for each upright value, in it one for each level value: what counts for every
    /// flywheel, s; empty where the sheet's ranges refuse the pair.
    pub counted_s: Vec<Vec<Vec<f64>>>,
}

impl WhoWins {
    /// The best flywheel of a cell, by its place.
    pub fn best(cell: &[f64]) -> Option<usize> {
        let best = cell.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1))?;
        Some(best.0)
    }

    /// What a flywheel loses in a cell against the best, s.
    pub fn loss_s(cell: &[f64], wheel: usize) -> Option<f64> {
        let least = cell.iter().copied().fold(f64::INFINITY, f64::min);
        Some(cell.get(wheel)? - least)
    }
}

/// Works out the grid over the two inputs that matter most; `None` with fewer than two in doubt.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn who_wins(
    doubted: &DoubtedCar,
    decision: &Decision,
    progress: &dyn Progress,
) -> Result<Option<WhoWins>, StudyError> {
    let [first, second, ..] = decision.find_out_first.as_slice() else {
        return Ok(None);
    };
    let (level, upright) = (first.input, second.input);
    let inputs = doubted.inputs();
    let (Some(along), Some(up)) = (inputs.get(level), inputs.get(upright)) else {
        return Ok(None);
    };
    let (level_values, upright_values) = (grid(along), grid(up));
    let nominal: Vec<f64> = inputs.iter().map(|input| input.nominal).collect();
    let jobs: Vec<Vec<f64>> = upright_values
        .iter()
        .flat_map(|up| level_values.iter().map(move |along| (*up, *along)))
        .map(|(up, along)| {
            let mut values = nominal.clone();
            for (place, value) in [(level, along), (upright, up)] {
                if let Some(slot) = values.get_mut(place) {
                    *slot = value;
                }
            }
            values
        })
        .collect();
    let cells = on_all_cores(&jobs, progress, |values| {
        let Some(car) = doubted.with_values(values) else {
            return Ok(Vec::new());
        };
        (0..decision.wheels.len())
            .filter_map(|wheel| rig_of(&car, wheel))
            .map(|rig| Ok(evaluate(&rig, decision.question.season.counts, None)?.counted_s))
            .collect::<Result<Vec<f64>, StudyError>>()
    })?;
    Ok(Some(WhoWins {
        level,
        upright,
        counted_s: cells
            .chunks(level_values.len())
            .map(<[_]>::to_vec)
            .collect(),
        level_values,
        upright_values,
    }))
}

/// Evenly spaced values over nearly all of an input's doubt.
fn grid(input: &DoubtedInput) -> Vec<f64> {
    let at = |share| input.doubt.quantile(input.nominal, share);
    let (low, high) = (at(ENDS.0), at(ENDS.1));
    (0..ALONG)
        .map(|point| low + (high - low) * as_float(point) / as_float(ALONG - 1))
        .collect()
}

/// A closed line round 95 % of two inputs' doubt: an ellipse where both are normal, else the box
/// of each one's middle 97.5 %.
pub fn outline(level: &DoubtedInput, upright: &DoubtedInput) -> Vec<(f64, f64)> {
    /// Radius, in standard deviations, that holds 95 % of two normal numbers: `√(−2 ln 0.05)`.
    const RADIUS: f64 = 2.447_746_830_680_816;
    /// Corners of the line that stands for the ellipse.
    const CORNERS: usize = 48;
    if let (Doubt::Normal { deviation: a }, Doubt::Normal { deviation: b }) =
        (level.doubt, upright.doubt)
    {
        return (0..=CORNERS)
            .map(|corner| std::f64::consts::TAU * as_float(corner) / as_float(CORNERS))
            .map(|angle| {
                (
                    level.nominal + RADIUS * a * angle.cos(),
                    upright.nominal + RADIUS * b * angle.sin(),
                )
            })
            .collect();
    }
    let ends = |input: &DoubtedInput| {
        let at = |share| input.doubt.quantile(input.nominal, share);
        (at(0.0125), at(0.9875))
    };
    let ((left, right), (low, high)) = (ends(level), ends(upright));
    vec![
        (left, low),
        (right, low),
        (right, high),
        (left, high),
        (left, low),
    ]
}
