//! What lies round an aim: how far off is fine, what more costs, and where the aim goes on another
//! track and with a steadier driver. All of it averages over the driver's scatter.

use super::comparison::{Comparison, Contender};
use super::scatter::scattered_rig::ScatteredRig;
use super::scatter::study::tables;
use super::scatter::table::{BAND_S, Design, LaunchTable};
use super::sweep::speeds;
use super::{Progress, StudyError};
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::launch::Rig;
use crate::numerics::Interval;
use crate::numerics::checked::Positive;

/// Grip of a green and of a sticky track over today's: a track that one meeting finds and the
/// next does not (common practice, no source).
pub const TRACKS: [f64; 2] = [0.92, 1.08];
/// Steadiness looked at: the launch speed's deviation over the driver's own.
const STEADINESS: [f64; 9] = [0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0];
/// Step between aims of the curve that is drawn, rad/s (25 rpm).
const STEP_RAD_S: f64 = 25.0 * RAD_S_PER_RPM;

/// Where a flywheel's average is lowest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AimAt {
    /// Launch speed to aim at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time there, s; stalled launches at their cost.
    pub mean_s: f64,
    /// Aims round it that lose no more than [`BAND_S`] on average, rad/s.
    pub band_rad_s: Interval,
}

impl AimAt {
    fn of(table: &LaunchTable, range: &SpeedRange, sd_rad_s: f64) -> Self {
        let lowest = table.lowest(range, sd_rad_s);
        Self {
            aim_rad_s: lowest.aim_rad_s,
            mean_s: lowest.mean_s,
            band_rad_s: table.band(range, sd_rad_s, &lowest, BAND_S),
        }
    }
}

/// What aiming off costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffAim {
    /// How far off, rad/s; below zero for too low.
    pub off_rad_s: f64,
    /// Mean sixty-foot time more than on the aim, s.
    pub costs_s: f64,
}

/// The aim on a track with other grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherTrack {
    /// Its grip over that of the sheet.
    pub grip_factor: f64,
    /// Where to aim there.
    pub aim: AimAt,
}

/// Every flywheel's aim for a driver of other steadiness.
#[derive(Debug, Clone, PartialEq)]
pub struct Steadiness {
    /// The deviation of the launch speed over the driver's own.
    pub factor: f64,
    /// The flywheels by their places among those compared, quickest on average first.
    pub wheels: Vec<(usize, AimAt)>,
}

/// What lies round the aim of one flywheel.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundAim {
    /// The aim on the sheet's track, with this driver.
    pub here: AimAt,
    /// Mean sixty-foot time over the aim: pairs of rad/s and s, rising.
    pub means: Vec<(f64, f64)>,
    /// What two and one deviations of the launch speed too low and too high cost, from low to high.
    pub off: Vec<OffAim>,
    /// Tracks from green to sticky, the sheet's own among them.
    pub tracks: Vec<OtherTrack>,
    /// Drivers from one who never misses to one twice as unsteady.
    pub steadiness: Vec<Steadiness>,
}

/// Looks round the aim of a flywheel.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn round_aim(
    comparison: &Comparison,
    wheel: &Contender,
    progress: &dyn Progress,
) -> Result<RoundAim, StudyError> {
    let range = &comparison.car.driver.launch_range;
    let (table, sd) = (&wheel.scatter.table, wheel.scatter.aim.launch_sd_rad_s);
    let mean_s = |aim: f64| table.at(aim, sd).mean_s;
    let here = AimAt::of(table, range, sd);
    let off = [-2.0, -1.0, 1.0, 2.0].map(|sds: f64| OffAim {
        off_rad_s: sds * sd,
        costs_s: mean_s(here.aim_rad_s + sds * sd) - here.mean_s,
    });
    let aims = speeds(range, STEP_RAD_S).into_iter();
    Ok(RoundAim {
        here,
        means: aims.map(|aim| (aim, mean_s(aim))).collect(),
        off: off.to_vec(),
        tracks: tracks(comparison.car, wheel, here, progress)?,
        steadiness: STEADINESS
            .map(|factor| steadiness(comparison, factor))
            .to_vec(),
    })
}

/// The aim on a green and on a sticky track, the sheet's own between them.
fn tracks(
    car: &Car,
    wheel: &Contender,
    here: AimAt,
    progress: &dyn Progress,
) -> Result<Vec<OtherTrack>, StudyError> {
    let cars: Vec<(f64, Car)> = TRACKS
        .iter()
        .filter_map(|factor| {
            let mut car = car.clone();
            car.track.grip = Positive::new(car.track.grip.get() * factor)?;
            Some((*factor, car))
        })
        .collect();
    let rigs: Vec<ScatteredRig> = cars
        .iter()
        .map(|(_, car)| ScatteredRig::new(Rig::new(car, wheel.study.wheel)))
        .collect();
    let own = &wheel.scatter.table;
    let design = Design::for_law(own.law());
    let tables = tables(&rigs, own.points(), design, progress)?;
    let sd = wheel.scatter.aim.launch_sd_rad_s;
    let other = |(grip_factor, table): (f64, &LaunchTable)| OtherTrack {
        grip_factor,
        aim: AimAt::of(table, &car.driver.launch_range, sd),
    };
    let factors = cars.iter().map(|(factor, _)| *factor);
    let mut tracks: Vec<OtherTrack> = factors.zip(&tables).map(other).collect();
    tracks.push(OtherTrack {
        grip_factor: 1.0,
        aim: here,
    });
    tracks.sort_by(|one, other| one.grip_factor.total_cmp(&other.grip_factor));
    Ok(tracks)
}

fn steadiness(comparison: &Comparison, factor: f64) -> Steadiness {
    let range = &comparison.car.driver.launch_range;
    let mut wheels: Vec<(usize, AimAt)> = comparison
        .contenders()
        .map(|wheel| {
            let sd = factor * wheel.scatter.aim.launch_sd_rad_s;
            (wheel.index(), AimAt::of(&wheel.scatter.table, range, sd))
        })
        .collect();
    wheels.sort_by(|one, other| one.1.mean_s.total_cmp(&other.1.mean_s));
    Steadiness { factor, wheels }
}
