//! Observers for tests: what a launch costs, and whether it keeps its own rules on the way.

use flyheft::integrate::Stop;
use flyheft::launch::forces::forces;
use flyheft::launch::machine::Guard;
use flyheft::launch::marks::Clock;
use flyheft::launch::mode::{Clutch, Mode};
use flyheft::launch::observer::{DrivenLeg, Observer};
use flyheft::launch::rig::Rig;
use flyheft::launch::state::Instant;

/// A clock that also counts legs, steps and evaluations.
#[derive(Debug, Clone)]
pub struct Meter {
    pub clock: Clock,
    pub legs: u32,
    pub steps: u32,
    pub evaluations: u32,
}

impl Meter {
    pub fn new(clock: Clock) -> Self {
        Self {
            clock,
            legs: 0,
            steps: 0,
            evaluations: 0,
        }
    }
}

impl Observer for Meter {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        self.clock.leg(rig, mode, leg);
        self.legs += 1;
        self.evaluations += leg.evaluations();
        self.steps += u32::try_from(leg.steps().count()).unwrap_or(u32::MAX);
    }
}

/// Looks at so many places in every step.
const PLACES: u32 = 5;

fn looks((from, to): (f64, f64)) -> impl Iterator<Item = f64> {
    (0..=PLACES).map(move |place| from + (to - from) * f64::from(place) / f64::from(PLACES))
}

/// Worst breach of each rule met so far; zero or less where a rule was kept.
#[derive(Debug, Clone, Copy, Default)]
pub struct Rules {
    /// Locked clutch torque beyond what the clutch holds, over that.
    pub locked_beyond_hold: f64,
    /// Slip against the direction of the slipping mode, rad/s.
    pub slip_against_mode_rad_s: f64,
    /// Difference of the two speeds in a locked clutch, rad/s.
    pub locked_apart_rad_s: f64,
    /// Car rolling backwards, m/s.
    pub backwards_m_s: f64,
    /// Numbers that are not finite.
    pub not_finite: u32,
    /// How often a locked clutch broke away.
    pub break_aways: u32,
}

impl Observer for Rules {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        self.break_aways += u32::from(leg.stop() == Stop::Guard(Guard::BreaksAway));
        for time_s in leg.steps().flat_map(looks) {
            let now = Instant::from_scaled(&leg.at(time_s));
            let all = forces(rig, mode, time_s, &now);
            let apart = now.engine_rad_s - mode.gear.overall * now.wheel_rad_s;
            let worse = |worst: &mut f64, by: f64| *worst = worst.max(by);
            match mode.clutch {
                Clutch::Locked => {
                    worse(&mut self.locked_apart_rad_s, apart.abs());
                    worse(
                        &mut self.locked_beyond_hold,
                        all.clutch_nm.abs() / all.clutch_holds_nm - 1.0,
                    );
                }
                Clutch::Slipping(direction) => {
                    worse(&mut self.slip_against_mode_rad_s, -direction.sign() * apart);
                }
                Clutch::Open => {}
            }
            worse(&mut self.backwards_m_s, -now.speed_m_s);
            self.not_finite += u32::from(!all.rates.speed_m_s.is_finite());
        }
    }
}

/// Engine speed up to a time: the lowest at the places looked at, and the last.
#[derive(Debug, Clone, Copy)]
pub struct EngineUntil {
    until_s: f64,
    pub lowest_rad_s: f64,
    pub last_rad_s: f64,
}

impl EngineUntil {
    pub fn new(until_s: f64, launch_speed_rad_s: f64) -> Self {
        Self {
            until_s,
            lowest_rad_s: launch_speed_rad_s,
            last_rad_s: launch_speed_rad_s,
        }
    }
}

impl Observer for EngineUntil {
    fn leg(&mut self, _rig: &Rig, _mode: &Mode, leg: &DrivenLeg) {
        let until_s = self.until_s;
        let times = leg.steps().flat_map(looks).filter(|t| *t < until_s);
        for time_s in times.chain((leg.start_s() <= until_s).then_some(until_s)) {
            if time_s <= leg.end_s() {
                let now = Instant::from_scaled(&leg.at(time_s));
                self.lowest_rad_s = self.lowest_rad_s.min(now.engine_rad_s);
                self.last_rad_s = now.engine_rad_s;
            }
        }
    }
}
