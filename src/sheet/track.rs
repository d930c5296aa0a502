//! `[track]`.

use super::keys::track as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::weather;
use crate::car::checked::{NonNegative, Positive, Share};
use crate::car::track::{Staging, Track};

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Track> {
    let weather = weather::read(t);
    let grip = t.measure::<Positive>(key::GRIP).or_default();
    let grip_sd = t.measure::<Share>(key::GRIP_SD).or_default();
    let rollout = t.measure::<Positive>(key::ROLLOUT).or_default();
    let depth = t.measure::<NonNegative>(key::STAGE_DEPTH).or_default();
    let tolerance = t.measure::<Positive>(key::TOLERANCE).or_default();
    let stall_cost = t.measure::<Positive>(key::STALL_COST).or_default();
    let staging = rollout.zip(depth).and_then(|(rollout, depth)| {
        let staging = Staging::new(rollout.value, depth.value);
        if staging.is_err() {
            t.diagnostics.problem(
                Problem::new(
                    depth.place,
                    format!("stage_depth = {} is out of range", depth.read),
                )
                .label(format!("must be below the roll-out, {}", rollout.read))
                .help("how much further in the car stands than at first staging"),
            );
        }
        staging.ok()
    });
    Some(Track {
        weather: weather?,
        grip: grip?.value,
        grip_sd: NonNegative::new(grip_sd?.value.get())?,
        staging: staging?,
        tolerance_s: tolerance?.value,
        stall_cost_s: stall_cost?.value,
    })
}
