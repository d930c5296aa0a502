//! `[track]`.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::COMMON_PRACTICE;
use super::warnings::TRACK_GRIP;
use super::weather;
use crate::car::checked::{NonNegative, Positive, Share};
use crate::car::track::{
    DEFAULT_GRIP_SD, DEFAULT_ROLLOUT_M, DEFAULT_STALL_COST_S, DEFAULT_TOLERANCE_S, Staging, Track,
};
use crate::units::Kind;

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Track> {
    let weather = weather::read(t);
    let grip = t
        .number::<Positive>("grip")
        .or(1.0, "grip is the tyre's own");
    let grip_sd = t
        .number::<Share>("grip_sd")
        .or(DEFAULT_GRIP_SD, COMMON_PRACTICE);
    let rollout = t
        .quantity::<Positive>("rollout", Kind::Distance)
        .or(DEFAULT_ROLLOUT_M, COMMON_PRACTICE);
    let depth = t
        .quantity::<NonNegative>("stage_depth", Kind::Distance)
        .or(0.0, "staged shallow");
    let tolerance = t
        .quantity::<Positive>("tolerance", Kind::Time)
        .or(DEFAULT_TOLERANCE_S, COMMON_PRACTICE);
    let stall_cost = t
        .quantity::<Positive>("stall_cost", Kind::Time)
        .or(DEFAULT_STALL_COST_S, COMMON_PRACTICE);
    if let Some(grip) = &grip {
        TRACK_GRIP.check(t.diagnostics, t.full_key("grip"), grip);
    }
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
