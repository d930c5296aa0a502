//! The equations of motion: from a state to what pushes and what follows.

use super::mode::{Clutch, Mode};
use super::rig::{Gear, Rig};
use super::state::Instant;
use crate::car::clutch::share_left;
use crate::car::engine::BandTorque;
use crate::car::schedule::Ramp;

/// One over the speed at which rolling resistance has its full size, 0.1 m/s: a car at rest is
/// not pushed.
const PER_FULL_ROLLING_SPEED: f64 = 10.0;

/// All that acts at one instant, SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Forces {
    /// Engine torque Te, N·m.
    pub engine_nm: f64,
    /// Clutch torque Tc, N·m; positive drives the car.
    pub clutch_nm: f64,
    /// Most torque Ts the clutch holds without slipping, N·m.
    pub clutch_holds_nm: f64,
    /// What the clutch torque is multiplied by on its way to the wheels: η or 1/η.
    pub passed_on: f64,
    /// Tyre force Fx on the car, N.
    pub tyre_n: f64,
    /// Slip speed vs of the tread, m/s.
    pub slip_m_s: f64,
    /// Transient slip κ.
    pub slip: f64,
    /// Air drag, N.
    pub drag_n: f64,
    /// Rolling resistance, N.
    pub rolling_n: f64,
    /// Rates of change of the state, per s.
    pub rates: Instant,
}

/// Forces on a rig in a mode at a time, s, and a state.
pub fn forces(rig: &Rig, mode: &Mode, time_s: f64, now: &Instant) -> Forces {
    LegForces::new(rig, mode).at(time_s, now)
}

/// The equations of a rig in one mode, with all that stays the same in a leg worked out.
#[derive(Debug)]
pub struct LegForces<'r, 'car> {
    rig: &'r Rig<'car>,
    mode: Mode,
    torque: BandTorque<'r>,
    /// Clutch capacity times engagement over time, cold, N·m.
    capacity_nm: Ramp,
    /// Share of the clutch's capacity that a joule takes, 1/J.
    fade_per_j: f64,
    passed_on: PassedOn,
}

/// What depends on which way torque goes through the driveline.
#[derive(Debug, Clone, Copy)]
struct PassedOn {
    towards_wheels: Way,
    towards_engine: Way,
}

/// One of the ways.
#[derive(Debug, Clone, Copy)]
struct Way {
    /// What the clutch torque is multiplied by on its way to the wheels: η or 1/η.
    share: f64,
    /// The same times the overall ratio.
    to_wheel: f64,
    /// One over the inertia at the wheels with the crank side locked on, 1/(kg·m²).
    per_locked_kg_m2: f64,
}

impl PassedOn {
    fn new(rig: &Rig, gear: &Gear) -> Self {
        let way = |share: f64| Way {
            share,
            to_wheel: share * gear.overall,
            per_locked_kg_m2: 1.0
                / (gear.downstream_kg_m2
                    + share * gear.overall * gear.overall * rig.crank_side_kg_m2),
        };
        Self {
            towards_wheels: way(rig.efficiency),
            towards_engine: way(1.0 / rig.efficiency),
        }
    }

    /// The way of a clutch torque, N·m, or of anything of its sign.
    #[inline]
    fn way(&self, clutch_nm: f64) -> &Way {
        if clutch_nm >= 0.0 {
            &self.towards_wheels
        } else {
            &self.towards_engine
        }
    }
}

impl<'r, 'car> LegForces<'r, 'car> {
    /// The equations of a rig in a mode.
    pub fn new(rig: &'r Rig<'car>, mode: &Mode) -> Self {
        let engagement = mode.engagement;
        Self {
            rig,
            mode: *mode,
            torque: BandTorque::new(rig.engine(), mode.band, rig.weather_factor),
            capacity_nm: Ramp {
                start_s: engagement.start_s,
                at_start: engagement.at_start * rig.clutch_capacity_nm,
                rate_per_s: engagement.rate_per_s * rig.clutch_capacity_nm,
            },
            fade_per_j: rig.heating().fade_per_j(),
            passed_on: PassedOn::new(rig, &mode.gear),
        }
    }

    /// All that acts at a time, s, and a state.
    #[expect(
        clippy::inline_always,
        reason = "who asks for rates alone shall not pay for the rest"
    )]
    #[inline(always)]
    pub fn at(&self, time_s: f64, now: &Instant) -> Forces {
        let (rig, mode) = (self.rig, &self.mode);
        let tyre = tyre_force(rig, mode.grip_factor, now);
        let drag_n = rig.drag_kg_m * now.speed_m_s * now.speed_m_s;
        let rolling_n = rig.rolling_n * (now.speed_m_s * PER_FULL_ROLLING_SPEED).clamp(-1.0, 1.0);
        let acceleration = (tyre.force_n - drag_n - rolling_n) * rig.per.moving_mass_kg;
        let engine_nm = self.engine_torque(time_s, now.engine_rad_s);
        let left = share_left(self.fade_per_j, now.heat_j);
        let kinetic_nm = self.capacity_nm.at(time_s) * left;
        let shafts = self.shafts(engine_nm, kinetic_nm, tyre.force_n);
        let heating_w = match mode.clutch {
            Clutch::Slipping(_) => {
                shafts.clutch_nm * (now.engine_rad_s - mode.gear.overall * now.wheel_rad_s)
            }
            Clutch::Locked | Clutch::Open => 0.0,
        };
        Forces {
            engine_nm,
            clutch_nm: shafts.clutch_nm,
            clutch_holds_nm: rig.static_ratio * kinetic_nm,
            passed_on: shafts.passed_on,
            tyre_n: tyre.force_n,
            slip_m_s: tyre.slip_m_s,
            slip: tyre.slip,
            drag_n,
            rolling_n,
            rates: Instant {
                engine_rad_s: shafts.engine_rad_s2,
                wheel_rad_s: shafts.wheel_rad_s2,
                speed_m_s: acceleration,
                distance_m: now.speed_m_s,
                deflection_m: tyre.deflection_m_s,
                transfer_n: (rig.transfer_kg * acceleration - now.transfer_n)
                    * rig.per.pitch_time_s,
                heat_j: heating_w,
            },
        }
    }

    /// `Te = λ (ψ Tfull − (1−ψ) Tm) − (1−λ) Tclosed`.
    #[inline]
    fn engine_torque(&self, time_s: f64, speed_rad_s: f64) -> f64 {
        let opened = self.mode.throttle.at(time_s);
        let pressed = self.mode.foot.at(time_s);
        let motoring_nm = self.rig.engine().motoring_nm.get();
        let full_nm = self.torque.at_nm(speed_rad_s);
        let under_foot_nm = pressed * full_nm - (1.0 - pressed) * motoring_nm;
        opened * under_foot_nm - (1.0 - opened) * self.mode.closed_throttle_nm
    }

    /// Clutch torque and both shafts' accelerations, by clutch mode.
    #[inline]
    fn shafts(&self, engine_nm: f64, kinetic_nm: f64, tyre_n: f64) -> Shafts {
        let (rig, gear) = (self.rig, &self.mode.gear);
        let at_wheel_nm = tyre_n * rig.tyre().radius_m.get();
        match self.mode.clutch {
            Clutch::Slipping(direction) => {
                let clutch_nm = direction.sign() * kinetic_nm;
                let way = self.passed_on.way(clutch_nm);
                Shafts {
                    clutch_nm,
                    passed_on: way.share,
                    engine_rad_s2: (engine_nm - clutch_nm) * rig.per.crank_side_kg_m2,
                    wheel_rad_s2: (way.to_wheel * clutch_nm - at_wheel_nm)
                        * gear.per_downstream_kg_m2,
                }
            }
            Clutch::Locked => {
                let crank = rig.crank_side_kg_m2;
                // The sign of the locked clutch torque does not depend on the efficiency.
                let sign = engine_nm * gear.downstream_kg_m2 + crank * gear.overall * at_wheel_nm;
                let way = self.passed_on.way(sign);
                let wheel_rad_s2 = (way.to_wheel * engine_nm - at_wheel_nm) * way.per_locked_kg_m2;
                let engine_rad_s2 = gear.overall * wheel_rad_s2;
                Shafts {
                    clutch_nm: engine_nm - crank * engine_rad_s2,
                    passed_on: way.share,
                    engine_rad_s2,
                    wheel_rad_s2,
                }
            }
            Clutch::Open => Shafts {
                clutch_nm: 0.0,
                passed_on: rig.efficiency,
                engine_rad_s2: engine_nm * rig.per.crank_side_kg_m2,
                wheel_rad_s2: -at_wheel_nm * gear.per_downstream_kg_m2,
            },
        }
    }
}

struct Shafts {
    clutch_nm: f64,
    passed_on: f64,
    engine_rad_s2: f64,
    wheel_rad_s2: f64,
}

struct TyreForce {
    force_n: f64,
    slip_m_s: f64,
    slip: f64,
    deflection_m_s: f64,
}

/// Tyre force from tread deflection and its rate, friction shape, load and axle.
///
/// `u' = vs − max(|v|, |R ωw|) u/σ`, `κ = (u + τt u')/σ`, `Fx = μp mf(κ) Nd`; a live axle with an
/// open differential loses what the torque reaction takes off one tyre
/// (Gillespie, *Fundamentals of Vehicle Dynamics*, ch. 2, traction-limited acceleration).
#[expect(
    clippy::inline_always,
    reason = "half of what an evaluation costs; handing its four numbers over costs a tenth more"
)]
#[inline(always)]
fn tyre_force(rig: &Rig, grip_factor: f64, now: &Instant) -> TyreForce {
    let tyre = rig.tyre();
    let tread_m_s = tyre.radius_m.get() * now.wheel_rad_s;
    let slip_m_s = tread_m_s - now.speed_m_s;
    let carried_off = now.speed_m_s.abs().max(tread_m_s.abs()) * rig.per.relaxation_m;
    let deflection_m_s = slip_m_s - carried_off * now.deflection_m;
    let slip =
        (now.deflection_m + tyre.damping_time_s.get() * deflection_m_s) * rig.per.relaxation_m;
    let load_n = (rig.static_driven_n + rig.transfer_sign * now.transfer_n)
        .clamp(rig.least_driven_n, rig.weight_n);
    let friction =
        tyre.peak_grip(load_n * rig.per.static_driven_n) * grip_factor * tyre.shape.at(slip);
    TyreForce {
        force_n: friction * load_n / (1.0 + friction.abs() * rig.torque_reaction),
        slip_m_s,
        slip,
        deflection_m_s,
    }
}
