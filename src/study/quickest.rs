//! The quickest launch speed of a sweep, found between its points.

use super::StudyError;
use super::sweep::Sweep;
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::{ACCURACY, Attempt, Rig, SEARCH_ACCURACY, sixty_foot};
use crate::numerics::{Lowest, lowest_between};

/// A launch speed and its sixty-foot time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quickest {
    /// Launch speed, rad/s.
    pub launch_speed_rad_s: f64,
    /// Release time over the sheet's own.
    pub release_stretch: f64,
    /// Sixty-foot time, s.
    pub sixty_foot_s: f64,
}

impl Quickest {
    /// The launch itself.
    pub const fn attempt(&self) -> Attempt {
        Attempt {
            release_stretch: self.release_stretch,
            ..Attempt::from_speed(self.launch_speed_rad_s)
        }
    }
}

/// Dips of the sweep within this of its quickest point are looked into, s: more than a dip can
/// deepen between two points of the sweep in any car looked at.
const WORTH_A_LOOK_S: f64 = 0.01;
/// Launch speed is searched down to this, rad/s (0.1 rpm).
const NEAR_ENOUGH_RAD_S: f64 = 0.1 * RAD_S_PER_RPM;

/// The quickest launch: every dip of the sweep that comes near its quickest point is searched by
/// golden section between its neighbours; the best of all is taken. `None` if nothing finished.
///
/// # Errors
/// When a launch cannot be computed.
pub fn quickest(rig: &Rig, sweep: &Sweep) -> Result<Option<Quickest>, StudyError> {
    let Some((_, best_s)) = sweep.quickest() else {
        return Ok(None);
    };
    let points = sweep.points();
    let mut found: Option<Quickest> = None;
    for (index, point) in points.iter().enumerate() {
        let Some(here_s) = point.sixty_foot_s else {
            continue;
        };
        let neighbour = |at: Option<usize>| at.and_then(|i| points.get(i));
        let before = neighbour(index.checked_sub(1));
        let after = neighbour(index.checked_add(1));
        let not_above = |other: Option<&super::sweep::SweepPoint>| {
            other
                .and_then(|p| p.sixty_foot_s)
                .is_none_or(|there_s| here_s <= there_s)
        };
        if here_s > best_s + WORTH_A_LOOK_S || !not_above(before) || !not_above(after) {
            continue;
        }
        let here = Quickest {
            launch_speed_rad_s: point.launch_speed_rad_s,
            release_stretch: sweep.release_stretch(),
            sixty_foot_s: here_s,
        };
        let low = before.map_or(point.launch_speed_rad_s, |p| p.launch_speed_rad_s);
        let high = after.map_or(point.launch_speed_rad_s, |p| p.launch_speed_rad_s);
        let candidate = search(rig, (low, high), here)?;
        if found.is_none_or(|best| candidate.sixty_foot_s < best.sixty_foot_s) {
            found = Some(candidate);
        }
    }
    // It is found by launches of a study, and shown by itself: driven once more, as such.
    let Some(best) = found else {
        return Ok(None);
    };
    let attempt = Attempt::from_speed(best.launch_speed_rad_s);
    let sixty_foot_s = sixty_foot(rig, &attempt, &ACCURACY)?.unwrap_or(best.sixty_foot_s);
    Ok(Some(Quickest {
        sixty_foot_s,
        ..best
    }))
}

/// Golden-section search between two launch speeds, starting from what is known in between.
fn search(rig: &Rig, bracket: (f64, f64), known: Quickest) -> Result<Quickest, StudyError> {
    let time_at = |speed: f64| -> Result<f64, StudyError> {
        Ok(sixty_foot(
            rig,
            &Quickest {
                launch_speed_rad_s: speed,
                ..known
            }
            .attempt(),
            &SEARCH_ACCURACY,
        )?
        .unwrap_or(f64::INFINITY))
    };
    let from = Lowest {
        at: known.launch_speed_rad_s,
        value: known.sixty_foot_s,
    };
    let lowest = lowest_between(bracket, NEAR_ENOUGH_RAD_S, Some(from), time_at)?;
    Ok(Quickest {
        release_stretch: known.release_stretch,
        launch_speed_rad_s: lowest.at,
        sixty_foot_s: lowest.value,
    })
}
