//! What the slips of a meeting would show in one sheet.
//!
//! The driver aims where the sheet as stated puts the aim; the launch speed of each run is read
//! to `SPEED_READ_RAD_S`, times to `TIMING_S`. A few launches about that aim say how the
//! sixty-foot time answers to launch speed, release and grip; from those, what a straight line
//! through the meeting's runs tells: where it lies and how steep it is, each with the error that
//! so many runs leave. One whole run gives time and speed further down the strip. A meeting of
//! more runs has the same chance, less blurred: so more runs never tell less.

use super::losses::as_float;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::track::Mark;
use crate::launch::{Attempt, SCATTER_ACCURACY, run_with};
use crate::study::StudyError;
use crate::study::scatter::draws::Chance;
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::scatter::table::SixtyFoot;

/// Error of a time on a slip, one standard deviation, s: its last figure.
const TIMING_S: f64 = 0.001;
/// Error of a launch speed as read, one standard deviation, rad/s: ± 50 rpm, 19 to 1 (common
/// practice, no source).
const SPEED_READ_RAD_S: f64 = 25.5 * RAD_S_PER_RPM;
/// Error of a trap speed, one standard deviation, as a share of it (common practice, no source).
const TRAP_SHARE: f64 = 0.001;
/// Numbers of chance that one sheet's slips need.
pub const CHANCES: usize = 4;
/// Launches that [`Response::of`] makes to 60 ft.
pub const LAUNCHES: usize = 7;
/// How far from the aim launches are made to see how time answers, standard deviations: the rule
/// of degree 3 for three independent normal numbers, `±√3` along each.
const OFF: f64 = 1.732_050_807_568_877_2;

/// How launches at one aim answer in one sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Response {
    /// Mean sixty-foot time of those that got away, s.
    mean_s: f64,
    /// Change over one standard deviation of launch speed, s.
    by_speed_s: f64,
    /// Spread that release and grip leave at one launch speed, s.
    rest_sd_s: f64,
    /// Standard deviation of the launch speed, rad/s.
    launch_sd_rad_s: f64,
    /// Share of the launches made that did not get there.
    share_stalled: f64,
    /// Time from 60 ft to 660 ft, s, and speed there, m/s.
    further: Option<(f64, f64)>,
}

impl Response {
    /// Launches about an aim in rad/s; `None` where none of them gets to 60 ft.
    ///
    /// # Errors
    /// When a launch cannot be computed.
    pub fn of(rig: &ScatteredRig, aim_rad_s: f64) -> Result<Option<Self>, StudyError> {
        let launch = |speed: f64, release: f64, grip: f64| {
            let chance = Chance {
                speed,
                release,
                grip,
            };
            rig.sixty_foot_s(&rig.attempt(aim_rad_s, &chance))
        };
        let middle = launch(0.0, 0.0, 0.0)?;
        let sides = [
            (launch(-OFF, 0.0, 0.0)?, launch(OFF, 0.0, 0.0)?),
            (launch(0.0, -OFF, 0.0)?, launch(0.0, OFF, 0.0)?),
            (launch(0.0, 0.0, -OFF)?, launch(0.0, 0.0, OFF)?),
        ];
        let all: Vec<Option<f64>> = sides.iter().flat_map(|side| [side.0, side.1]).collect();
        let away: Vec<f64> = all.iter().copied().flatten().collect();
        if away.is_empty() {
            return Ok(None);
        }
        let slope = |side: &(Option<f64>, Option<f64>)| match (side.0, side.1, middle) {
            (Some(low), Some(high), _) => (high - low) / (2.0 * OFF),
            (Some(low), None, Some(middle)) => (middle - low) / OFF,
            (None, Some(high), Some(middle)) => (high - middle) / OFF,
            _ => 0.0,
        };
        let [by_speed, by_release, by_grip] = &sides;
        Ok(Some(Self {
            mean_s: away.iter().sum::<f64>() / as_float(away.len()),
            by_speed_s: slope(by_speed),
            rest_sd_s: slope(by_release).hypot(slope(by_grip)),
            launch_sd_rad_s: rig.law.launch_sd_rad_s,
            share_stalled: 1.0 - as_float(away.len()) / as_float(all.len()),
            further: further(rig, aim_rad_s)?,
        }))
    }

    /// What so many runs show: where a line through them lies at the aim (s), how steep it is
    /// (s over one standard deviation of launch speed), stalls, time and speed further down.
    pub fn shown(&self, runs: u32, chances: &[f64; CHANCES]) -> Vec<f64> {
        let runs_f = f64::from(runs.max(1));
        let read = self.by_speed_s * SPEED_READ_RAD_S / self.launch_sd_rad_s.max(SPEED_READ_RAD_S);
        let each_s = self.rest_sd_s.hypot(read).hypot(TIMING_S);
        let [at_aim, steep, time, speed] = chances;
        // The slope of a line through n runs has the error of one over √(n − 1) of them.
        let slope_error_s = each_s / (runs_f - 1.0).max(0.5).sqrt();
        let (further_s, trap_m_s) = self.further.unwrap_or((0.0, 0.0));
        vec![
            self.mean_s + each_s / runs_f.sqrt() * at_aim,
            self.by_speed_s + slope_error_s * steep,
            self.share_stalled,
            further_s + TIMING_S * 2_f64.sqrt() / runs_f.sqrt() * time,
            trap_m_s * (1.0 + TRAP_SHARE / runs_f.sqrt() * speed),
        ]
    }
}

/// Time from 60 ft to 660 ft and the speed there, of a run from the aim.
fn further(rig: &ScatteredRig, aim_rad_s: f64) -> Result<Option<(f64, f64)>, StudyError> {
    let attempt = Attempt::from_speed(aim_rad_s);
    let launch = run_with(&rig.rig, &attempt, Mark::Ft660, &SCATTER_ACCURACY)?;
    let speed = launch
        .marks
        .iter()
        .find(|passed| passed.mark == Mark::Ft660);
    Ok(launch
        .time_s(Mark::Ft60)
        .zip(launch.time_s(Mark::Ft660))
        .zip(speed)
        .map(|((sixty, eighth), passed)| (eighth - sixty, passed.speed_m_s)))
}
