//! How many launches a table makes, and where.

use super::law::Law;
use crate::car::constants::RAD_S_PER_RPM;

/// How many launches a table makes and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Step of launch speed to begin with, rad/s.
    pub first_step_rad_s: f64,
    /// No launches are added between two this close, rad/s.
    pub finest_step_rad_s: f64,
    /// A line may bend this much from straight between two launches, s; as much again for every
    /// 0.1 s above its best.
    pub bend_s: f64,
    /// A launch may lie this much from where its neighbours put it, s, where launches are
    /// `first_step_rad_s` apart, and more in proportion where they are nearer; as much again for
    /// every 0.03 s above the line's best.
    pub miss_s: f64,
    /// Stall edges are bisected down to this, rad/s.
    pub edge_rad_s: f64,
}

impl Design {
    /// What a comparison is made with.
    pub const FULL: Self = Self {
        first_step_rad_s: 300.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 12.5 * RAD_S_PER_RPM,
        bend_s: 0.004,
        miss_s: 0.002,
        edge_rad_s: 2.0 * RAD_S_PER_RPM,
    };
    /// What a comparison is made with where neither release nor grip scatters: few lines, all
    /// alike but for where their launch speeds begin, each as fine as it can be had.
    pub const SINGLE: Self = Self {
        first_step_rad_s: 50.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 2.0 * RAD_S_PER_RPM,
        bend_s: 0.000_5,
        miss_s: 0.000_5,
        edge_rad_s: 1.0 * RAD_S_PER_RPM,
    };
    /// What maps are made with.
    pub const COARSE: Self = Self {
        first_step_rad_s: 300.0 * RAD_S_PER_RPM,
        finest_step_rad_s: 50.0 * RAD_S_PER_RPM,
        bend_s: 0.02,
        miss_s: f64::INFINITY,
        edge_rad_s: 10.0 * RAD_S_PER_RPM,
    };

    /// What a comparison is made with under a law.
    pub fn for_law(law: &Law) -> Self {
        if law.release_sd > 0.0 || law.grip_sd > 0.0 {
            Self::FULL
        } else {
            Self::SINGLE
        }
    }
}
