//! A launch over time, for charts and files.

use super::forces::forces;
use super::mode::Mode;
use super::observer::{DrivenLeg, Observer};
use super::rig::Rig;
use super::state::Instant;

/// One instant of a launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TracePoint {
    /// Time from first bite, s.
    pub time_s: f64,
    /// The state.
    pub now: Instant,
    /// Input-shaft speed, rad/s.
    pub input_rad_s: f64,
    /// Clutch torque, N·m.
    pub clutch_nm: f64,
    /// Engine torque, N·m.
    pub engine_nm: f64,
    /// Transient slip of the driven tyres.
    pub slip: f64,
    /// Acceleration, m/s².
    pub acceleration_m_s2: f64,
}

/// Takes down a launch at even times, and at both ends of every leg, so that corners stay sharp.
#[derive(Debug, Clone)]
pub struct Trace {
    every_s: f64,
    points: Vec<TracePoint>,
}

impl Trace {
    /// A trace with a point every so many seconds.
    pub fn every(every_s: f64) -> Self {
        Self {
            every_s,
            points: Vec::new(),
        }
    }

    /// The points taken down, times never falling.
    pub fn into_points(self) -> Vec<TracePoint> {
        self.points
    }

    fn take(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg, time_s: f64) {
        let now = Instant::from_scaled(&leg.at(time_s));
        let all = forces(rig, mode, time_s, &now);
        self.points.push(TracePoint {
            time_s,
            now,
            input_rad_s: mode.gear.overall * now.wheel_rad_s,
            clutch_nm: all.clutch_nm,
            engine_nm: all.engine_nm,
            slip: all.slip,
            acceleration_m_s2: all.rates.speed_m_s,
        });
    }
}

impl Observer for Trace {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        if leg.end_s() <= leg.start_s() {
            return;
        }
        self.take(rig, mode, leg, leg.start_s());
        let mut tick = (leg.start_s() / self.every_s).floor() + 1.0;
        while tick * self.every_s < leg.end_s() {
            self.take(rig, mode, leg, tick * self.every_s);
            tick += 1.0;
        }
        self.take(rig, mode, leg, leg.end_s());
    }
}
