//! Where the energy went, to the sixty-foot mark.

use super::forces::Forces;
use super::mode::Mode;
use super::rig::Rig;
use super::state::Instant;

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

/// Nodes and weights of Gauss–Legendre quadrature with five points on (−1, 1): exact to
/// degree 9, so its error is far below that of the dense output it reads
/// (Abramowitz & Stegun, table 25.4, from memory).
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

impl EnergyAccount {
    /// Adds the flows over a step, from the state and the forces at any time in it.
    pub fn take_step(
        &mut self,
        (from, to): (f64, f64),
        mode: &Mode,
        at: &mut impl FnMut(f64) -> (Instant, Forces),
    ) {
        let half = (to - from) / 2.0;
        let middle = f64::midpoint(from, to);
        for (node, weight) in GAUSS {
            let (now, all) = at(middle + half * node);
            let dt = half * weight;
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
