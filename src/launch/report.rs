//! What one launch reports.

use super::account::EnergyAccount;
use super::attempt::Attempt;
use super::drive::{ACCURACY, Ending, LaunchError, Outcome, drive};
use super::marks::{Clock, MarkPassed};
use super::record::Recorder;
use super::rig::Rig;
use super::trace::{Moments, Trace, TracePoint};
use crate::car::engine::{BOG_SHARE, LIMITER_BAND_RAD_S};
use crate::car::track::Mark;
use crate::integrate::Accuracy;

/// One launch, in SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Launch {
    /// Name of the flywheel.
    pub wheel_name: String,
    /// Crank-side inertia, kg·m².
    pub crank_side_kg_m2: f64,
    /// Engine speed held before first bite, rad/s.
    pub launch_speed_rad_s: f64,
    /// How it ended.
    pub ending: Ending,
    /// When the clock started, s from first bite.
    pub clock_started_s: Option<f64>,
    /// Marks passed.
    pub marks: Vec<MarkPassed>,
    /// Lowest engine speed before 60 ft or the first shift, rad/s.
    pub slowest_rad_s: f64,
    /// When that was, s from first bite.
    pub slowest_at_s: f64,
    /// First lock-up, s from first bite.
    pub lock_at_s: Option<f64>,
    /// Heat in the clutch to first lock-up or 60 ft, J.
    pub clutch_heat_j: f64,
    /// What that heat does to the plate, K, if its mass is known.
    pub plate_rise_k: Option<f64>,
    /// Clutch heat to 60 ft or the run's end, whatever locks and slips in between, J: what a
    /// driver's clutch feels.
    pub clutch_heat_to_sixty_foot_j: f64,
    /// What that heat does to the plate, K, if its mass is known.
    pub plate_rise_to_sixty_foot_k: Option<f64>,
    /// How often the driver's foot began to lift before 60 ft or the run's end.
    pub lifts: u32,
    /// Time before 60 ft or the run's end in which the foot was not fully down, s.
    pub lifted_time_s: f64,
    /// Time with the tyres beyond their peak before 60 ft, s.
    pub spin_time_s: f64,
    /// Distance covered in that time, m.
    pub spin_distance_m: f64,
    /// Highest acceleration before 60 ft, m/s².
    pub peak_acceleration_m_s2: f64,
    /// Highest torque on the input shaft before 60 ft, N·m.
    pub peak_input_torque_nm: f64,
    /// Whether the front wheels left the ground in the whole run.
    pub front_wheels_lifted: bool,
    /// Whether the engine fell out of the useful part of its curve.
    pub bogged: bool,
    /// Whether the engine came within the limiter's band in the whole run.
    pub touched_limiter: bool,
    /// Energy account to 60 ft.
    pub energy: EnergyAccount,
}

impl Launch {
    /// Time of a mark on the clock, s.
    pub fn time_s(&self, mark: Mark) -> Option<f64> {
        let passed = self.marks.iter().find(|passed| passed.mark == mark)?;
        Some(passed.since_bite_s - self.clock_started_s?)
    }

    /// Sixty-foot time, s.
    pub fn sixty_foot_s(&self) -> Option<f64> {
        self.time_s(Mark::Ft60)
    }

    /// How far the engine fell from the launch speed, rad/s.
    pub fn droop_rad_s(&self) -> f64 {
        self.launch_speed_rad_s - self.slowest_rad_s
    }
}

/// Runs one launch to a mark and reports all of it.
///
/// # Errors
/// As [`drive`].
pub fn run(rig: &Rig, attempt: &Attempt, to: Mark) -> Result<Launch, LaunchError> {
    run_with(rig, attempt, to, &ACCURACY)
}

/// As [`run`], with the accuracy given: for convergence studies.
///
/// # Errors
/// As [`drive`].
pub fn run_with(
    rig: &Rig,
    attempt: &Attempt,
    to: Mark,
    accuracy: &Accuracy,
) -> Result<Launch, LaunchError> {
    let mut recorder = Recorder::new(attempt.launch_speed_rad_s, to);
    let ending = drive(rig, attempt, to, accuracy, &mut recorder)?;
    Ok(report(rig, ending, &recorder))
}

/// As [`run_with`], with what was to be seen at these times, s from first bite; `None` of times
/// that the launch did not come to.
///
/// # Errors
/// As [`drive`].
pub fn run_and_look(
    rig: &Rig,
    attempt: &Attempt,
    to: Mark,
    accuracy: &Accuracy,
    times_s: impl IntoIterator<Item = f64>,
) -> Result<(Launch, Vec<Option<TracePoint>>), LaunchError> {
    let recorder = Recorder::new(attempt.launch_speed_rad_s, to);
    let mut watch = (recorder, Moments::at(times_s));
    let ending = drive(rig, attempt, to, accuracy, &mut watch)?;
    let (recorder, moments) = watch;
    let points = moments.into_points().collect();
    Ok((report(rig, ending, &recorder), points))
}

/// Sixty-foot time of one launch, s, and nothing else; `None` if it did not get there.
///
/// # Errors
/// As [`drive`].
pub fn sixty_foot(
    rig: &Rig,
    attempt: &Attempt,
    accuracy: &Accuracy,
) -> Result<Option<f64>, LaunchError> {
    let mut clock = Clock::new(Mark::Ft60);
    drive(rig, attempt, Mark::Ft60, accuracy, &mut clock)?;
    Ok(clock.time_s(Mark::Ft60))
}

/// A launch over time, with a point at least every so many seconds.
///
/// # Errors
/// As [`drive`].
pub fn trace(
    rig: &Rig,
    attempt: &Attempt,
    to: Mark,
    every_s: f64,
) -> Result<Vec<TracePoint>, LaunchError> {
    let mut trace = Trace::every(every_s);
    drive(rig, attempt, to, &ACCURACY, &mut trace)?;
    Ok(trace.into_points())
}

fn report(rig: &Rig, ending: Ending, seen: &Recorder) -> Launch {
    let engine = rig.engine();
    let slowest_rad_s = -seen.slowest.value;
    let heat_j = seen.heat_j();
    let rise_k = |heat_j: f64| Some(rig.heating().plate()?.rise_k(heat_j));
    Launch {
        wheel_name: rig.wheel_name.to_owned(),
        crank_side_kg_m2: rig.crank_side_kg_m2,
        launch_speed_rad_s: seen.launch_speed_rad_s,
        ending,
        clock_started_s: seen.clock.started_s(),
        marks: seen.clock.passed().to_vec(),
        slowest_rad_s,
        slowest_at_s: seen.slowest.time_s,
        lock_at_s: seen.first_lock_s,
        clutch_heat_j: heat_j,
        plate_rise_k: rise_k(heat_j),
        clutch_heat_to_sixty_foot_j: seen.energy.clutch_j,
        plate_rise_to_sixty_foot_k: rise_k(seen.energy.clutch_j),
        lifts: seen.lifts,
        lifted_time_s: seen.lifted_time_s,
        spin_time_s: seen.spin_time_s,
        spin_distance_m: seen.spin_distance_m,
        peak_acceleration_m_s2: seen.acceleration.value,
        peak_input_torque_nm: seen.input_torque.value,
        front_wheels_lifted: rig
            .front_axle_lift_n()
            .is_some_and(|lift| seen.transfer.value >= lift),
        bogged: slowest_rad_s < engine.curve.lowest_speed_making_rad_s(BOG_SHARE),
        touched_limiter: seen.fastest.value > engine.limiter_rad_s.get() - LIMITER_BAND_RAD_S,
        energy: seen.energy,
    }
}

impl Ending {
    /// Whether the last mark asked for was reached.
    pub fn finished(&self) -> bool {
        self.outcome == Outcome::Finished
    }
}
