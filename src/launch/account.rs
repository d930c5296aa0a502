//! Where the energy went, to the sixty-foot mark.

use super::extremes::PLACES;
use super::forces::Forces;
use super::mode::Mode;
use super::rig::Rig;
use super::state::Instant;

/// State and forces at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Time, s.
    pub time_s: f64,
    /// The state.
    pub now: Instant,
    /// All that acts.
    pub all: Forces,
}

/// The energy account, J. What the engine did and what the crank side gave up went into
/// everything else; the two sides agree to a millionth of the largest term.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EnergyAccount {
    /// Work of the engine's net torque.
    pub engine_j: f64,
    /// Kinetic energy that the crank side gave up (negative where it took some in).
    pub crank_side_given_up_j: f64,
    /// Kinetic energy of the car, `m v²/2`.
    pub car_j: f64,
    /// Kinetic energy of wheels and driveline, `Ju v²/(2R²) + Jd ωw²/2`.
    pub wheels_and_driveline_j: f64,
    /// Heat in the clutch.
    pub clutch_j: f64,
    /// Heat of the slipping tyres.
    pub tyre_j: f64,
    /// Lost in the driveline, gear changes included.
    pub driveline_loss_j: f64,
    /// Work against the air.
    pub drag_j: f64,
    /// Work against rolling resistance.
    pub rolling_j: f64,
}

impl EnergyAccount {
    /// What does not add up, J: zero but for the integrator's error.
    pub fn gap_j(&self) -> f64 {
        self.engine_j + self.crank_side_given_up_j
            - (self.car_j
                + self.wheels_and_driveline_j
                + self.clutch_j
                + self.tyre_j
                + self.driveline_loss_j
                + self.drag_j
                + self.rolling_j)
    }

    /// The largest term, J.
    pub fn largest_j(&self) -> f64 {
        [
            self.engine_j,
            self.crank_side_given_up_j,
            self.car_j,
            self.wheels_and_driveline_j,
            self.clutch_j,
            self.tyre_j,
            self.driveline_loss_j,
            self.drag_j,
            self.rolling_j,
        ]
        .into_iter()
        .fold(0.0, |largest, term| f64::max(largest, term.abs()))
    }
}

/// Weights of Simpson's rule over a step, at both ends and the middle. Its error goes with the
/// fifth power of the step, as that of the steps themselves does; what it comes to stands in the
/// account's gap. The ends are known already, from the steps before and after.
const SIMPSON: [f64; PLACES] = [1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0];

impl EnergyAccount {
    /// Adds the flows over a step of this length, s, from the states and forces at its ends and
    /// its middle.
    pub fn take_step(&mut self, length_s: f64, mode: &Mode, looks: &[Look; PLACES]) {
        for (Look { now, all, .. }, weight) in looks.iter().zip(SIMPSON) {
            let dt = length_s * weight;
            let input_w = all.clutch_nm * mode.gear.overall * now.wheel_rad_s;
            self.engine_j += all.engine_nm * now.engine_rad_s * dt;
            self.tyre_j += all.tyre_n * all.slip_m_s * dt;
            self.driveline_loss_j += (1.0 - all.passed_on) * input_w * dt;
            self.drag_j += all.drag_n * now.speed_m_s * dt;
            self.rolling_j += all.rolling_n * now.speed_m_s * dt;
        }
    }

    /// Sets what follows from the states at the start and at the end alone.
    pub fn close(&mut self, rig: &Rig, mode: &Mode, launch_speed_rad_s: f64, end: &Instant) {
        let mass = rig.car.body.mass_kg.get();
        self.crank_side_given_up_j =
            0.5 * rig.crank_side_kg_m2 * (launch_speed_rad_s.powi(2) - end.engine_rad_s.powi(2));
        self.car_j = 0.5 * mass * end.speed_m_s.powi(2);
        self.wheels_and_driveline_j = 0.5 * (rig.moving_mass_kg - mass) * end.speed_m_s.powi(2)
            + 0.5 * mode.gear.downstream_kg_m2 * end.wheel_rad_s.powi(2);
        self.clutch_j = end.heat_j;
    }
}
