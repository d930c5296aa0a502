//! The launch window: how far off the quickest launch speed is still fine.

use super::StudyError;
use super::quickest::Quickest;
use super::sweep::{Sweep, SweepPoint};
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::{Attempt, Rig, SEARCH_ACCURACY, sixty_foot};

/// Window edges are bisected down to this, rad/s (0.1 rpm).
const NEAR_ENOUGH_RAD_S: f64 = 0.1 * RAD_S_PER_RPM;

/// One edge of a window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// Beyond this launch speed, rad/s, more than the tolerance is lost.
    Crossing(f64),
    /// Still fine at the end of the range looked at, rad/s.
    RangeEnd(f64),
}

impl Edge {
    /// The launch speed of the edge, rad/s.
    pub fn speed_rad_s(&self) -> f64 {
        match *self {
            Self::Crossing(speed) | Self::RangeEnd(speed) => speed,
        }
    }
}

/// The widest unbroken range of launch speed that holds the quickest and loses no more than
/// the tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Lower edge.
    pub low: Edge,
    /// Upper edge.
    pub high: Edge,
}

impl Window {
    /// Its width, rad/s.
    pub fn width_rad_s(&self) -> f64 {
        self.high.speed_rad_s() - self.low.speed_rad_s()
    }

    /// Whether a launch speed lies within.
    pub fn contains(&self, speed_rad_s: f64) -> bool {
        (self.low.speed_rad_s()..=self.high.speed_rad_s()).contains(&speed_rad_s)
    }
}

/// The window around the quickest launch.
///
/// # Errors
/// When a launch cannot be computed.
pub fn window(
    rig: &Rig,
    sweep: &Sweep,
    quickest: &Quickest,
    tolerance_s: f64,
) -> Result<Window, StudyError> {
    let limit_s = quickest.sixty_foot_s + tolerance_s;
    let at = quickest.launch_speed_rad_s;
    let below = sweep
        .points()
        .iter()
        .rev()
        .filter(|point| point.launch_speed_rad_s < at);
    let above = sweep
        .points()
        .iter()
        .filter(|point| point.launch_speed_rad_s > at);
    Ok(Window {
        low: edge(rig, quickest, below, limit_s)?,
        high: edge(rig, quickest, above, limit_s)?,
    })
}

/// Walks outward until a point is slower than the limit, then bisects.
fn edge<'p>(
    rig: &Rig,
    quickest: &Quickest,
    outward: impl Iterator<Item = &'p SweepPoint>,
    limit_s: f64,
) -> Result<Edge, StudyError> {
    let mut inside = quickest.launch_speed_rad_s;
    for point in outward {
        if point.sixty_foot_s.is_none_or(|time_s| time_s > limit_s) {
            return bisect(rig, quickest, (inside, point.launch_speed_rad_s), limit_s);
        }
        inside = point.launch_speed_rad_s;
    }
    Ok(Edge::RangeEnd(inside))
}

fn bisect(
    rig: &Rig,
    quickest: &Quickest,
    (mut inside, mut outside): (f64, f64),
    limit_s: f64,
) -> Result<Edge, StudyError> {
    while (outside - inside).abs() > NEAR_ENOUGH_RAD_S {
        let middle = f64::midpoint(inside, outside);
        let attempt = Attempt {
            launch_speed_rad_s: middle,
            ..quickest.attempt()
        };
        let time_s = sixty_foot(rig, &attempt, &SEARCH_ACCURACY)?;
        if time_s.is_some_and(|time_s| time_s <= limit_s) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    Ok(Edge::Crossing(f64::midpoint(inside, outside)))
}
