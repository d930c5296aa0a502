//! The equations of motion: from a state to what pushes and what follows.

use super::mode::{Clutch, Mode};
use super::rig::{Gear, Rig};
use super::state::Instant;

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
    let tyre = tyre_force(rig, mode.grip_factor, now);
    let drag_n = rig.drag_kg_m * now.speed_m_s * now.speed_m_s;
    let rolling_n = rig.rolling_n * (now.speed_m_s * PER_FULL_ROLLING_SPEED).clamp(-1.0, 1.0);
    let acceleration = (tyre.force_n - drag_n - rolling_n) * rig.per.moving_mass_kg;
    let engine_nm = engine_torque(rig, mode, time_s, now.engine_rad_s);
    let kinetic_nm =
        mode.engagement.at(time_s) * rig.clutch_capacity_nm * rig.heating().share_left(now.heat_j);
    let shafts = shafts(rig, mode, engine_nm, kinetic_nm, tyre.force_n);
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
            transfer_n: (rig.transfer_kg * acceleration - now.transfer_n) * rig.per.pitch_time_s,
            heat_j: heating_w,
        },
    }
}

/// `Te = λ (ψ Tfull − (1−ψ) Tm) − (1−λ) Tclosed`.
fn engine_torque(rig: &Rig, mode: &Mode, time_s: f64, speed_rad_s: f64) -> f64 {
    let opened = mode.throttle.at(time_s);
    let pressed = mode.foot.at(time_s);
    let full = rig
        .engine()
        .in_band_nm(mode.band, speed_rad_s, rig.weather_factor);
    let under_foot_nm = pressed * full - (1.0 - pressed) * rig.engine().motoring_nm.get();
    opened * under_foot_nm - (1.0 - opened) * mode.closed_throttle_nm
}

struct Shafts {
    clutch_nm: f64,
    passed_on: f64,
    engine_rad_s2: f64,
    wheel_rad_s2: f64,
}

/// Clutch torque and both shafts' accelerations, by clutch mode.
fn shafts(rig: &Rig, mode: &Mode, engine_nm: f64, kinetic_nm: f64, tyre_n: f64) -> Shafts {
    let crank = rig.crank_side_kg_m2;
    let Gear {
        overall,
        downstream_kg_m2,
        per_downstream_kg_m2,
    } = mode.gear;
    let at_wheel_nm = tyre_n * rig.tyre().radius_m.get();
    match mode.clutch {
        Clutch::Slipping(direction) => {
            let clutch_nm = direction.sign() * kinetic_nm;
            let passed_on = passed_on(rig.efficiency, clutch_nm);
            Shafts {
                clutch_nm,
                passed_on,
                engine_rad_s2: (engine_nm - clutch_nm) * rig.per.crank_side_kg_m2,
                wheel_rad_s2: (passed_on * overall * clutch_nm - at_wheel_nm)
                    * per_downstream_kg_m2,
            }
        }
        Clutch::Locked => {
            // The sign of the locked clutch torque does not depend on the efficiency.
            let sign = engine_nm * downstream_kg_m2 + crank * overall * at_wheel_nm;
            let passed_on = passed_on(rig.efficiency, sign);
            let wheel_rad_s2 = (passed_on * overall * engine_nm - at_wheel_nm)
                / (downstream_kg_m2 + passed_on * overall * overall * crank);
            let engine_rad_s2 = overall * wheel_rad_s2;
            Shafts {
                clutch_nm: engine_nm - crank * engine_rad_s2,
                passed_on,
                engine_rad_s2,
                wheel_rad_s2,
            }
        }
        Clutch::Open => Shafts {
            clutch_nm: 0.0,
            passed_on: rig.efficiency,
            engine_rad_s2: engine_nm * rig.per.crank_side_kg_m2,
            wheel_rad_s2: -at_wheel_nm * per_downstream_kg_m2,
        },
    }
}

/// η towards the wheels, 1/η coming back.
fn passed_on(efficiency: f64, clutch_nm: f64) -> f64 {
    if clutch_nm >= 0.0 {
        efficiency
    } else {
        1.0 / efficiency
    }
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
