//! The modes of the launch and what ends each of them.

use super::forces::forces;
use super::rig::{Gear, Rig};
use super::state::{Instant, STATES, Scaled};
use crate::car::engine::Band;
use crate::car::schedule::Ramp;
use crate::integrate::Motion;

/// Which way a clutch slips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Engine faster than input shaft: the clutch drives the car.
    EngineFaster,
    /// Input shaft faster than engine: the clutch drives the engine.
    InputFaster,
}

impl Direction {
    /// +1 or −1.
    #[inline]
    pub const fn sign(self) -> f64 {
        match self {
            Self::EngineFaster => 1.0,
            Self::InputFaster => -1.0,
        }
    }

    /// The direction of a slip speed or of a torque; zero counts as positive.
    pub fn of(value: f64) -> Self {
        if value >= 0.0 {
            Self::EngineFaster
        } else {
            Self::InputFaster
        }
    }
}

/// What the clutch does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clutch {
    /// Slips: carries its kinetic torque.
    Slipping(Direction),
    /// Holds: engine and input shaft turn as one.
    Locked,
    /// Pedal down in a shift: carries nothing.
    Open,
}

/// Whether reaching the shift speed ends a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShiftCall {
    /// No gear is left, the clutch is not home yet, or a shift is being made.
    NotListened,
    /// It does, at this input-shaft speed, rad/s.
    At(f64),
}

/// A mode: everything that stays the same within a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mode {
    /// Gear engaged (while open in a shift: the old one).
    pub gear: Gear,
    /// What the clutch does.
    pub clutch: Clutch,
    /// Engagement e over time.
    pub engagement: Ramp,
    /// Throttle λ over time.
    pub throttle: Ramp,
    /// Torque it takes to turn the engine over where the throttle is not open, N·m: nothing
    /// before the first shift (the engine is held steady), the motoring torque after.
    pub closed_throttle_nm: f64,
    /// Peak friction over the tyre's own.
    pub grip_factor: f64,
    /// Range of engine speed whose torque rule applies.
    pub band: Band,
    /// Whether the shift speed is listened to.
    pub shift: ShiftCall,
    /// Distance at which the run ends, m.
    pub finish_m: f64,
}

/// The guards, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guard {
    /// A slipping clutch's speeds meet.
    SpeedsMeet,
    /// A locked clutch's torque exceeds what it holds.
    BreaksAway,
    /// The input shaft reaches the shift speed.
    ShiftSpeed,
    /// The engine falls to its stall speed.
    Stalls,
    /// The last mark asked for.
    Finish,
    /// The engine leaves its band of speeds: no step may cross the bend in its torque, or its
    /// error estimate would be worth nothing.
    BandEdge,
}

/// How many guards there are.
pub const GUARDS: usize = 6;

impl Guard {
    /// The guards in the order of their values.
    pub const ALL: [Self; GUARDS] = [
        Self::SpeedsMeet,
        Self::BreaksAway,
        Self::ShiftSpeed,
        Self::Stalls,
        Self::Finish,
        Self::BandEdge,
    ];
}

/// Value of a guard that does not apply.
const QUIET: f64 = 1.0;

/// A rig in a mode: what the integrator moves.
pub struct Machine<'r, 'car> {
    /// The rig.
    pub rig: &'r Rig<'car>,
    /// The mode.
    pub mode: Mode,
}

impl Machine<'_, '_> {
    /// Positive while the engine stays in its band.
    fn within_band(&self, speed_rad_s: f64) -> f64 {
        let [first, limiter_from, limiter] = self.rig.engine().band_edges_rad_s();
        let between = |low: f64, high: f64| (speed_rad_s - low).min(high - speed_rad_s);
        match self.mode.band {
            Band::BelowCurve => first - speed_rad_s,
            Band::OnCurve => between(first, limiter_from),
            Band::Limited => between(limiter_from, limiter),
            Band::Cut => speed_rad_s - limiter,
        }
    }
}

impl Motion<STATES, GUARDS> for Machine<'_, '_> {
    fn rates(&self, time_s: f64, state: &Scaled, rates: &mut Scaled) {
        let now = Instant::from_scaled(state);
        *rates = forces(self.rig, &self.mode, time_s, &now).rates.to_scaled();
    }

    fn guards(&self, time_s: f64, state: &Scaled) -> [f64; GUARDS] {
        let now = Instant::from_scaled(state);
        let input_rad_s = self.mode.gear.overall * now.wheel_rad_s;
        let speeds_meet = match self.mode.clutch {
            Clutch::Slipping(direction) => direction.sign() * (now.engine_rad_s - input_rad_s),
            Clutch::Locked | Clutch::Open => QUIET,
        };
        let breaks_away = match self.mode.clutch {
            Clutch::Locked => {
                let all = forces(self.rig, &self.mode, time_s, &now);
                all.clutch_holds_nm - all.clutch_nm.abs()
            }
            Clutch::Slipping(_) | Clutch::Open => QUIET,
        };
        let shift_speed = match self.mode.shift {
            ShiftCall::At(speed_rad_s) => speed_rad_s - input_rad_s,
            ShiftCall::NotListened => QUIET,
        };
        let stalls = now.engine_rad_s - self.rig.engine().stall_rad_s.get();
        [
            speeds_meet,
            breaks_away,
            shift_speed,
            stalls,
            self.mode.finish_m - now.distance_m,
            self.within_band(now.engine_rad_s),
        ]
    }
}
