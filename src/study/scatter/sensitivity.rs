//! Which of launch speed, release and grip is to sensitivity for the scatter of sixty-foot time.

use super::super::{Progress, StudyError, on_all_cores};
use super::draws::Chance;
use super::scattered_rig::ScatteredRig;
use super::variance_shares::{Design, INPUTS, InputShare};
use crate::numerics::quantile::standard_normal;

/// Base points in each block of the design: 16 blocks of 16 with five launches each.
const BLOCK_LEN: usize = 16;

/// What a launch's scatter comes from, in the order of the shares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The driver misses the launch speed.
    LaunchSpeed,
    /// The driver lets the clutch out faster or slower.
    Release,
    /// The track's grip is not the same twice.
    Grip,
}

impl Cause {
    /// All of them, in the order of the shares.
    pub const ALL: [Self; INPUTS] = [Self::LaunchSpeed, Self::Release, Self::Grip];

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::LaunchSpeed => "launch speed",
            Self::Release => "clutch release",
            Self::Grip => "the track's grip",
        }
    }
}

/// The shares of every cause, for one flywheel at its aim.
pub type Sensitivity = [InputShare; INPUTS];

/// The shares for several rigs, each at an aim in rad/s, from launches of their own.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn sensitivity_of_all(
    aimed: &[(&ScatteredRig, f64)],
    seed: u32,
    progress: &dyn Progress,
) -> Result<Vec<Sensitivity>, StudyError> {
    let design = Design::new(BLOCK_LEN, seed);
    let chances: Vec<Chance> = design.rows().iter().map(chance).collect();
    let jobs: Vec<_> = aimed
        .iter()
        .flat_map(|(rig, aim)| chances.iter().map(move |chance| (*rig, *aim, chance)))
        .collect();
    let times_s = on_all_cores(&jobs, progress, |(rig, aim, chance)| {
        Ok(rig
            .try_once(&rig.attempt(*aim, chance))?
            .unwrap_or(rig.stall_cost_s()))
    })?;
    Ok(times_s
        .chunks(chances.len())
        .map(|times_s| design.shares(times_s))
        .collect())
}

/// The chance at a point of the unit cube.
fn chance(point: &[f64; INPUTS]) -> Chance {
    let [speed, release, grip] = point.map(standard_normal);
    Chance {
        speed,
        release,
        grip,
    }
}
