//! What the model says a slip should show.

use crate::car::Car;
use crate::car::constants::{FOOT_M, RAD_S_PER_RPM};
use crate::car::logged_run::Channel;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::integrate::Accuracy;
use crate::launch::trace::TracePoint;
use crate::launch::{Launch, Outcome, Rig, SCATTER_ACCURACY, SEARCH_ACCURACY, run_and_look};
use crate::study::scatter::scattered_rig::ScatteredRig;

/// Length of a speed trap, m: 66 ft up to the mark (published geometry of drag strips).
const TRAP_M: f64 = 66.0 * FOOT_M;
/// Standard error of a strip's times, s (common practice, no source).
pub const TIMING_ERROR_S: f64 = 0.001;
/// Standard error of a trap speed as a share of it (common practice, no source).
pub const TRAP_ERROR_SHARE: f64 = 0.002;
/// Standard error of an engine speed as read: ± 50 rpm, a bet of 19 to 1, is two of these
/// (common practice, no source).
pub const SPEED_READ_ERROR_RAD_S: f64 = 25.0 * RAD_S_PER_RPM;
/// Standard error of a lock-up time read off a log, s (common practice, no source).
pub const LOCK_ERROR_S: f64 = 0.015;
/// Standard error of a reading of a logged car speed, m/s (common practice, no source).
pub const CAR_READ_ERROR_M_S: f64 = 0.15;
/// Standard error of a reading of the driven wheels' speed, rad/s: the same at the tread of a
/// wheel of 0.3 m.
pub const WHEEL_READ_ERROR_RAD_S: f64 = 0.5;
/// Standard deviation of first bite as found in a log, s: the logger has a clock of its own, and
/// the rise of the driven side is read some hundredths late or early (common practice, no source).
pub const LOG_CLOCK_ERROR_S: f64 = 0.02;

/// How finely launches are integrated that are held against readings: at worst a tenth of what a
/// strip's clock is off by, to 60 ft (`docs/numerics.md`).
pub const FOR_READINGS: Accuracy = SCATTER_ACCURACY;
/// How finely launches are integrated whose differences over small steps are slopes.
pub const FOR_SLOPES: Accuracy = SEARCH_ACCURACY;

/// What differs from run to run, each in its own standard deviations.
pub const CHANCES: usize = 4;

/// Chances of one run in standard deviations: release, grip, launch speed as read, and the clock
/// of its log against first bite.
pub type RunChances = [f64; CHANCES];

/// The launch that the model makes of a slip, and what was to be seen of it whenever its log was
/// read; `None` where it does not get as far as the slip.
fn launch_of(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    chances: &RunChances,
    accuracy: &Accuracy,
) -> Option<(Launch, Vec<Option<TracePoint>>)> {
    let car = car.at_meeting(slip.meeting);
    let wheel = car.flywheels.all().get(slip.wheel)?;
    let rig = ScatteredRig::new(Rig::new(&car, wheel));
    let [release, grip, speed, clock] = *chances;
    let speed_sd_rad_s = match slip.launch_speed_rad_s {
        Some(_) => SPEED_READ_ERROR_RAD_S,
        None => rig.law.launch_sd_rad_s,
    };
    let speed_rad_s = launch_speed_rad_s + speed * speed_sd_rad_s;
    let attempt = rig.law.attempt(speed_rad_s, release, grip);
    let to = slip
        .figures
        .iter()
        .map(|figure| figure.shown.mark())
        .max()?;
    let read = slip
        .figures
        .iter()
        .filter_map(|figure| figure.shown.logged_at());
    let times_s = read.map(|at| at.seconds() + clock * LOG_CLOCK_ERROR_S);
    run_and_look(&rig.rig, &attempt, to, accuracy, times_s).ok()
}

/// What the slip should show with these chances, a number a figure, SI; `None` where the model's
/// run does not show it.
pub fn predicted(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    chances: &RunChances,
    accuracy: &Accuracy,
) -> Option<Vec<f64>> {
    let (launch, seen) = launch_of(car, slip, launch_speed_rad_s, chances, accuracy)?;
    let mut seen = seen.into_iter();
    slip.figures
        .iter()
        .map(|figure| match figure.shown {
            Shown::Logged(channel, _) => Some(seen.next()??.reading(channel)),
            other => reported(&launch, other),
        })
        .collect()
}

/// A clutch that slips all the way to the mark locks no sooner than there: a car that comes close
/// to locking is not to be told from one that just does. `None` of a run that ends otherwise.
fn not_before_s(launch: &Launch) -> Option<f64> {
    let finished = launch.ending.outcome == Outcome::Finished;
    finished.then_some(launch.ending.time_s)
}

/// What a launch reports of a figure; `None` of what it does not, and of a log's readings.
fn reported(launch: &Launch, what: Shown) -> Option<f64> {
    match what {
        Shown::Time(mark) => launch.time_s(mark),
        Shown::TrapSpeed(mark) => trap_speed_m_s(launch, mark),
        Shown::LowestEngineSpeed => Some(launch.slowest_rad_s),
        Shown::LockUp => launch.lock_at_s.or_else(|| not_before_s(launch)),
        Shown::Logged(..) => None,
    }
}

/// Mean speed through the trap before a mark, m/s: `v − a L/(2v)`, with the acceleration from the
/// mark before, `a = (v² − u²)/(2d)`. For constant power this is within 0.03 % of the exact mean.
fn trap_speed_m_s(launch: &Launch, mark: Mark) -> Option<f64> {
    let speed = |mark: Mark| {
        let passed = launch.marks.iter().find(|passed| passed.mark == mark)?;
        Some(passed.speed_m_s)
    };
    let before = mark.up_to().filter(|other| *other < mark).last()?;
    let (u, v) = (speed(before)?, speed(mark)?);
    let length_m = mark.distance_m() - before.distance_m();
    let acceleration = (v * v - u * u) / (2.0 * length_m);
    Some(v - acceleration * TRAP_M / (2.0 * v))
}

/// Standard error of a figure as the slip shows it, SI: the timing's own and what was rounded
/// away (a step's width over √12, JCGM 100, 4.3.7).
pub fn reading_error(figure: &SlipFigure) -> f64 {
    let own = match figure.shown {
        Shown::Time(_) => TIMING_ERROR_S,
        Shown::TrapSpeed(_) => TRAP_ERROR_SHARE * figure.value,
        Shown::LowestEngineSpeed | Shown::Logged(Channel::Engine | Channel::InputShaft, _) => {
            SPEED_READ_ERROR_RAD_S
        }
        Shown::LockUp => LOCK_ERROR_S,
        Shown::Logged(Channel::DrivenWheels, _) => WHEEL_READ_ERROR_RAD_S,
        Shown::Logged(Channel::Car, _) => CAR_READ_ERROR_M_S,
    };
    own.hypot(figure.step / 12_f64.sqrt())
}
