//! What the integrator moves, and the guards that end a mode.

use super::foot::Hears;
use super::forces::{Forces, LegForces};
use super::mode::{Clutch, Mode, ShiftCall};
use super::rig::Rig;
use super::state::{Instant, STATES, Scaled};
use crate::car::engine::Band;
use crate::integrate::Motion;

/// The guards.
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
    /// The tread's slip speed reaches what the driver listens for.
    Heard,
    /// The last mark asked for.
    Finish,
    /// The engine leaves its band of speeds: no step may cross the bend in its torque, or its
    /// error estimate would be worth nothing.
    BandEdge,
}

/// How many guards there are.
pub const GUARDS: usize = 7;

/// Value of a guard that does not apply.
const QUIET: f64 = 1.0;

/// A rig in a mode: what the integrator moves.
pub struct Machine<'r, 'car> {
    /// The rig.
    pub rig: &'r Rig<'car>,
    /// The mode.
    pub mode: Mode,
    forces: LegForces<'r, 'car>,
    /// Speeds between which the engine stays in its band, rad/s.
    band_rad_s: [f64; 2],
}

impl<'r, 'car> Machine<'r, 'car> {
    /// A rig in a mode.
    pub fn new(rig: &'r Rig<'car>, mode: Mode) -> Self {
        let [first, limiter_from, limiter] = rig.engine().band_edges_rad_s();
        Self {
            rig,
            mode,
            forces: LegForces::new(rig, &mode),
            band_rad_s: match mode.band {
                Band::BelowCurve => [f64::NEG_INFINITY, first],
                Band::OnCurve => [first, limiter_from],
                Band::Limited => [limiter_from, limiter],
                Band::Cut => [limiter, f64::INFINITY],
            },
        }
    }

    /// Positive while the engine stays in its band; where that has no end on either side, a
    /// large number.
    fn within_band(&self, speed_rad_s: f64) -> f64 {
        let [low, high] = self.band_rad_s;
        (speed_rad_s - low).min(high - speed_rad_s)
    }

    /// All guards, given that of the locked clutch.
    fn all_guards(&self, now: &Instant, breaks_away: f64) -> [f64; GUARDS] {
        let input_rad_s = self.mode.gear.overall * now.wheel_rad_s;
        let speeds_meet = match self.mode.clutch {
            Clutch::Slipping(direction) => direction.sign() * (now.engine_rad_s - input_rad_s),
            Clutch::Locked | Clutch::Open => QUIET,
        };
        let shift_speed = match self.mode.shift {
            ShiftCall::At(speed_rad_s) => speed_rad_s - input_rad_s,
            ShiftCall::NotListened => QUIET,
        };
        let heard = match self.mode.hears {
            Hears::Nothing => QUIET,
            Hears::RiseTo(slip_m_s) => slip_m_s - self.rig.slip_m_s(now),
            Hears::FallTo(slip_m_s) => self.rig.slip_m_s(now) - slip_m_s,
        };
        let stalls = now.engine_rad_s - self.rig.engine().stall_rad_s.get();
        [
            speeds_meet,
            breaks_away,
            shift_speed,
            stalls,
            heard,
            self.mode.finish_m - now.distance_m,
            self.within_band(now.engine_rad_s),
        ]
    }
}

impl Motion<STATES, GUARDS> for Machine<'_, '_> {
    type Guard = Guard;
    const GUARDS: [Guard; GUARDS] = [
        Guard::SpeedsMeet,
        Guard::BreaksAway,
        Guard::ShiftSpeed,
        Guard::Stalls,
        Guard::Heard,
        Guard::Finish,
        Guard::BandEdge,
    ];

    fn rates(&self, time_s: f64, state: &Scaled, rates: &mut Scaled) {
        let now = Instant::from_scaled(state);
        *rates = self.forces.at(time_s, &now).rates.to_scaled();
    }

    fn guards(&self, time_s: f64, state: &Scaled) -> [f64; GUARDS] {
        let now = Instant::from_scaled(state);
        let margin_nm = match self.mode.clutch {
            Clutch::Locked => holding_margin_nm(&self.forces.at(time_s, &now)),
            Clutch::Slipping(_) | Clutch::Open => QUIET,
        };
        self.all_guards(&now, margin_nm)
    }

    fn rates_and_guards(&self, time_s: f64, state: &Scaled, rates: &mut Scaled) -> [f64; GUARDS] {
        let now = Instant::from_scaled(state);
        let all = self.forces.at(time_s, &now);
        *rates = all.rates.to_scaled();
        let margin_nm = match self.mode.clutch {
            Clutch::Locked => holding_margin_nm(&all),
            Clutch::Slipping(_) | Clutch::Open => QUIET,
        };
        self.all_guards(&now, margin_nm)
    }

    fn guard(&self, index: usize, time_s: f64, state: &Scaled) -> f64 {
        let guards = if Self::GUARDS.get(index) == Some(&Guard::BreaksAway) {
            self.guards(time_s, state)
        } else {
            self.all_guards(&Instant::from_scaled(state), QUIET)
        };
        guards.get(index).copied().unwrap_or(QUIET)
    }
}

/// What a locked clutch holds more than it carries, N·m.
fn holding_margin_nm(all: &Forces) -> f64 {
    all.clutch_holds_nm - all.clutch_nm.abs()
}
