//! A launch over time, for charts and files.

use super::forces::forces;
use super::mode::Mode;
use super::observer::{DrivenLeg, Observer};
use super::rig::Rig;
use super::state::Instant;
use crate::car::logged_run::Channel;

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

impl TracePoint {
    /// What a logger would read, SI.
    pub fn reading(&self, channel: Channel) -> f64 {
        match channel {
            Channel::Engine => self.now.engine_rad_s,
            Channel::InputShaft => self.input_rad_s,
            Channel::DrivenWheels => self.now.wheel_rad_s,
            Channel::Car => self.now.speed_m_s,
        }
    }

    fn of(rig: &Rig, mode: &Mode, leg: &DrivenLeg, time_s: f64) -> Self {
        let now = Instant::from_scaled(&leg.at(time_s));
        let all = forces(rig, mode, time_s, &now);
        Self {
            time_s,
            now,
            input_rad_s: mode.gear.overall * now.wheel_rad_s,
            clutch_nm: all.clutch_nm,
            engine_nm: all.engine_nm,
            slip: all.slip,
            acceleration_m_s2: all.rates.speed_m_s,
        }
    }
}

/// Takes down a launch at times that are asked for.
#[derive(Debug, Clone)]
pub struct Moments {
    /// When, s from first bite, and what was seen then.
    asked: Vec<(f64, Option<TracePoint>)>,
}

impl Moments {
    /// Moments at these times, s from first bite; before it all stands as at first bite.
    pub fn at(times_s: impl IntoIterator<Item = f64>) -> Self {
        let asked = times_s.into_iter().map(|time_s| (time_s.max(0.0), None));
        Self {
            asked: asked.collect(),
        }
    }

    /// What was seen, in the order asked for; `None` of times that the launch did not come to.
    pub fn into_points(self) -> impl Iterator<Item = Option<TracePoint>> {
        self.asked.into_iter().map(|(_, seen)| seen)
    }
}

impl Observer for Moments {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        for (time_s, seen) in &mut self.asked {
            if (leg.start_s()..=leg.end_s()).contains(time_s) {
                *seen = Some(TracePoint::of(rig, mode, leg, *time_s));
            }
        }
    }
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
        self.points.push(TracePoint::of(rig, mode, leg, time_s));
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
