//! Which chart shows what: results turned into the data of a chart.

mod decide;
mod fit;
mod gearing;
mod launch;
mod scatter;
mod stress;
mod torque;
mod window;

pub use decide::{aim_over_input, losses, metal_left, numbers, who_wins};
pub use fit::{log_over_model, slips_over_model, unknowns_before_and_after};
pub use gearing::gearing;
pub use launch::engine_speed;
pub use scatter::{aim_over_release, frontier, map_over_inertia, map_over_release};
pub use stress::{Stressed, stress};
pub use torque::torque;
pub use window::{clean_launches_over_speed, sixty_foot_over_speed, window};

use crate::car::constants::RAD_S_PER_RPM;

/// What stands at the foot of every chart of a launch.
const CAPTION: &str = "Computed, not measured. Closed strip only; the rule book and the scrutineer have the last word.";

/// Means slower than the best by more than this, s, are not drawn: a few stalls among the draws
/// make seconds of it, and a scale that holds them shows nothing else. Fifteen times the usual
/// tolerance of a launch window.
const WORTH_DRAWING_S: f64 = 0.3;

fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s / RAD_S_PER_RPM
}
