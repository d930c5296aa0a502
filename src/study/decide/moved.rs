//! Which inputs move the choice between two flywheels most, each by itself: what could change a
//! mind, where too few sheets are drawn to say what knowing an input is worth.
//!
//! Every input in turn is put to the ends of what it may be, all others as stated (one factor at
//! a time; Saltelli et al., *Global Sensitivity Analysis*, 2008, ch. 1, from memory). A few
//! launches from the aims of the sheet as stated find the inputs that may matter; those few are
//! then looked at with each flywheel at its own aim. Luck has no part in it; what two inputs do
//! together and neither alone it cannot see.

use super::evaluate::{Evaluated, rig_of};
use super::own_aim::{Launcher, own_aim};
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::study::{Progress, StudyError, on_all_cores};

/// Launch speeds looked at about an aim, in standard deviations, and what each counts for: the
/// rule of three points for a normal number (Gauss–Hermite, DLMF 3.5(v)).
const LOOKS: [(f64, f64); 3] = [
    (-1.732_050_807_568_877_2, 1.0 / 6.0),
    (0.0, 2.0 / 3.0),
    (1.732_050_807_568_877_2, 1.0 / 6.0),
];
/// Ends of what an input may be: 19 cases of 20 lie between them.
const ENDS: [f64; 2] = [0.025, 0.975];
/// Inputs that are looked at a second time.
const LOOKED_AT_AGAIN: usize = 4;

/// How far an input by itself moves the choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// Its key.
    pub key: String,
    /// By how much the other flywheel gains on the one to use or loses against it, at one end of
    /// what the input may be over the sheet as stated, s.
    pub by_s: f64,
}

/// The one to use, and the one it is held against, by their places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Between {
    /// The one to use.
    pub used: usize,
    /// The other.
    pub other: usize,
}

/// What the inputs that may matter most move, furthest first, and the launches that this took;
/// `stated` is every flywheel in the sheet as stated.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn moved(
    doubted: &DoubtedCar,
    stated: &[Evaluated],
    between: Between,
    progress: &dyn Progress,
) -> Result<(Vec<Moved>, usize), StudyError> {
    let Between { used, other } = between;
    let own = |wheel: usize| stated.get(wheel)?.own;
    let (Some(own_used), Some(own_other)) = (own(used), own(other)) else {
        return Ok((Vec::new(), 0));
    };
    let ends = ends(doubted);
    let roughly = |car: &Car| {
        let time = |wheel, aim| rough_mean_s(car, wheel, aim);
        Ok((
            time(other, own_other.aim_rad_s)? - time(used, own_used.aim_rad_s)?,
            2 * LOOKS.len(),
        ))
    };
    let (here_s, mut launches) = roughly(doubted.nominal())?;
    let cars: Vec<&End> = ends.iter().collect();
    let (mut all, more) = by_key(&cars, here_s, progress, roughly)?;
    launches += more;
    all.truncate(LOOKED_AT_AGAIN);
    let again: Vec<&End> = ends
        .iter()
        .filter(|end| all.iter().any(|moved| moved.key == end.key))
        .collect();
    let finely = |car: &Car| {
        let (one_s, one) = own_mean_s(car, other)?;
        let (two_s, two) = own_mean_s(car, used)?;
        Ok((one_s - two_s, one + two))
    };
    let (all, more) = by_key(&again, own_other.mean_s - own_used.mean_s, progress, finely)?;
    Ok((all, launches + more))
}

/// A car with one input at an end of what it may be.
struct End<'d> {
    key: &'d str,
    car: Car,
}

fn ends(doubted: &DoubtedCar) -> Vec<End<'_>> {
    let nominal: Vec<f64> = doubted.inputs().iter().map(|input| input.nominal).collect();
    let mut ends = Vec::new();
    for (place, input) in doubted.inputs().iter().enumerate() {
        for share in ENDS {
            let mut values = nominal.clone();
            if let Some(value) = values.get_mut(place) {
                *value = input.doubt.quantile(input.nominal, share);
            }
            ends.extend(doubted.with_values(&values).map(|car| End {
                key: &input.key,
                car,
            }));
        }
    }
    ends
}

/// What each key moves of how far the other lies behind, furthest first, and the launches.
fn by_key(
    ends: &[&End<'_>],
    here_s: f64,
    progress: &dyn Progress,
    behind_s: impl Fn(&Car) -> Result<(f64, usize), StudyError> + Sync,
) -> Result<(Vec<Moved>, usize), StudyError> {
    let there = on_all_cores(ends, progress, |end| behind_s(&end.car))?;
    let mut all: Vec<Moved> = Vec::new();
    for (end, (there_s, _)) in ends.iter().zip(&there) {
        let by_s = (here_s - there_s).abs();
        match all.last_mut() {
            Some(last) if last.key == end.key => last.by_s = last.by_s.max(by_s),
            _ => all.push(Moved {
                key: end.key.to_owned(),
                by_s,
            }),
        }
    }
    all.sort_by(|a, b| b.by_s.total_cmp(&a.by_s));
    Ok((all, there.iter().map(|(_, launches)| launches).sum()))
}

/// Mean sixty-foot time from three launches about an aim, s.
fn rough_mean_s(car: &Car, wheel: usize, aim_rad_s: f64) -> Result<f64, StudyError> {
    let cost_s = car.track.stall_cost_s.get();
    let Some(rig) = rig_of(car, wheel) else {
        return Ok(cost_s);
    };
    let (low, high) = rig.limits_rad_s();
    let mut mean_s = 0.0;
    for (deviations, weight) in LOOKS {
        let speed = aim_rad_s + deviations * rig.launch_sd_rad_s();
        let time_s = Launcher::sixty_foot_s(&rig, speed.clamp(low, high), 0.0, 0.0)?;
        mean_s += weight * time_s.unwrap_or(cost_s);
    }
    Ok(mean_s)
}

/// Mean sixty-foot time at a flywheel's own aim, s, and the launches that it took.
fn own_mean_s(car: &Car, wheel: usize) -> Result<(f64, usize), StudyError> {
    let own = match rig_of(car, wheel) {
        Some(rig) => own_aim(&rig, &rig.rig.car.driver.launch_range)?,
        None => None,
    };
    Ok(own.map_or((car.track.stall_cost_s.get(), 0), |own| {
        (own.mean_s, own.launches)
    }))
}
