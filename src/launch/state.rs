//! The seven numbers that move in a launch.

use crate::integrate::State;

/// How many.
pub const STATES: usize = 7;

/// The state as the integrator holds it: every number in a scale of its own, so that one
/// absolute tolerance suits all.
pub type Scaled = State<STATES>;

/// Size that each number typically has in a launch, in the order of [`Instant`]'s fields:
/// rad/s, rad/s, m/s, m, m, N, J. Powers of two, so that scaling and back rounds nothing:
/// speeds made equal stay equal, and a guard on their difference is exactly zero.
const SCALE: [f64; STATES] = [128.0, 16.0, 1.0, 1.0, 0.007_812_5, 1024.0, 8192.0];

/// The state at one time, in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Instant {
    /// Engine speed ωe, rad/s.
    pub engine_rad_s: f64,
    /// Driven-wheel speed ωw, rad/s.
    pub wheel_rad_s: f64,
    /// Car speed v, m/s.
    pub speed_m_s: f64,
    /// Distance rolled x, m.
    pub distance_m: f64,
    /// Tread deflection u, m.
    pub deflection_m: f64,
    /// Weight transferred ΔN, N.
    pub transfer_n: f64,
    /// Heat put into the clutch Q, J.
    pub heat_j: f64,
}

impl Instant {
    /// The state from the integrator's numbers.
    #[inline]
    pub fn from_scaled(scaled: &Scaled) -> Self {
        let y: &[f64; STATES] = scaled.as_ref();
        let [e, w, v, x, u, n, q] = SCALE;
        Self {
            engine_rad_s: y[0] * e,
            wheel_rad_s: y[1] * w,
            speed_m_s: y[2] * v,
            distance_m: y[3] * x,
            deflection_m: y[4] * u,
            transfer_n: y[5] * n,
            heat_j: y[6] * q,
        }
    }

    /// The integrator's numbers from the state (or from its rates: the scales are the same).
    #[inline]
    pub fn to_scaled(self) -> Scaled {
        let [e, w, v, x, u, n, q] = SCALE;
        Scaled::from([
            self.engine_rad_s / e,
            self.wheel_rad_s / w,
            self.speed_m_s / v,
            self.distance_m / x,
            self.deflection_m / u,
            self.transfer_n / n,
            self.heat_j / q,
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_cases::same_every_time;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(same_every_time(256))]

        #[test]
        fn law_scaling_and_back_changes_nothing(y in prop::array::uniform7(-1e6..1e6f64)) {
            let scaled = Scaled::from(y);
            prop_assert_eq!(Instant::from_scaled(&scaled).to_scaled(), scaled);
        }
    }
}
