//! Which chart shows what: results turned into the data of a chart.

mod gearing;
mod launch;
mod scatter;
mod stress;
mod window;

pub use gearing::gearing;
pub use launch::engine_speed;
pub use scatter::{frontier, map_over_inertia, map_over_release};
pub use stress::{Stressed, stress};
pub use window::{sixty_foot_over_speed, window};

use crate::car::constants::RAD_S_PER_RPM;

/// What stands at the foot of every chart of a launch.
const CAPTION: &str = "Computed, not measured. Closed strip only; the rule book and the scrutineer have the last word.";

fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s / RAD_S_PER_RPM
}
