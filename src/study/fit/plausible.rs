//! Slips that no car of this sheet can have run.

use crate::car::Car;
use crate::car::constants::STANDARD_GRAVITY_M_S2;
use crate::car::slip::{Shown, Slip};
use crate::car::track::Mark;
use thiserror::Error;

/// Grip that a sheet may be wrong by, as a factor on what it says: far beyond its usual doubt.
const GRIP_ALLOWED: f64 = 1.5;
/// Share of the speed at a mark below which no car's mean speed over the stretch before it lies:
/// from a standing start with constant power two thirds, over later stretches far more
/// (constant power, `x ∝ t^1.5`).
const LEAST_MEAN_SHARE: f64 = 0.6;

/// Why a slip is none of this car's.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum Implausible {
    /// Quicker to 60 ft than the tyres could push it.
    #[error(
        "row {row}: {read_s:.3} s to 60 ft is quicker than {least_s:.3} s, what this car would need with one and a half times its grip on all its weight"
    )]
    TooQuick {
        /// Row.
        row: usize,
        /// Sixty-foot time read, s.
        read_s: f64,
        /// The bound, s.
        least_s: f64,
    },
    /// Times that do not rise along the strip.
    #[error("row {row}: the time at {feet} ft is not later than the one before it")]
    NotRising {
        /// Row.
        row: usize,
        /// Mark, ft.
        feet: u32,
    },
    /// A stretch driven faster than the car ever went, or so slowly that the time holds more
    /// than the run.
    #[error(
        "row {row}: {mean_m_s:.1} m/s on average up to {feet} ft does not go with {speed_m_s:.1} m/s there: {hint}"
    )]
    SpeedDisagrees {
        /// Row.
        row: usize,
        /// Mark, ft.
        feet: u32,
        /// Mean speed over the stretch, m/s.
        mean_m_s: f64,
        /// Speed at its end, m/s.
        speed_m_s: f64,
        /// What is probably wrong.
        hint: &'static str,
    },
}

/// Looks whether a slip can be this car's at all.
///
/// # Errors
/// With what is physically impossible about it.
pub fn check(car: &Car, slip: &Slip) -> Result<(), Implausible> {
    if let Some(read_s) = slip.figure(Shown::Time(Mark::Ft60)) {
        let least_s = least_sixty_foot_s(&car.at_meeting(slip.meeting));
        if read_s < least_s {
            return Err(Implausible::TooQuick {
                row: slip.row,
                read_s,
                least_s,
            });
        }
    }
    let mut before: Option<(Mark, f64)> = None;
    for mark in Mark::ALL {
        let Some(time_s) = slip.figure(Shown::Time(mark)) else {
            continue;
        };
        if let Some((_, before_s)) = before
            && time_s <= before_s
        {
            return Err(Implausible::NotRising {
                row: slip.row,
                feet: mark.feet(),
            });
        }
        if let Some(speed_m_s) = slip.figure(Shown::TrapSpeed(mark)) {
            stretch(slip.row, (before, (mark, time_s)), speed_m_s)?;
        }
        before = Some((mark, time_s));
    }
    Ok(())
}

/// Time for 60 ft at the acceleration that one and a half times the grip gives with the whole
/// weight on the driven tyres, the roll-out off the clock, s.
fn least_sixty_foot_s(car: &Car) -> f64 {
    let acceleration =
        GRIP_ALLOWED * car.tyre.grip.get() * car.track.grip.get() * STANDARD_GRAVITY_M_S2;
    let time_s = |distance_m: f64| (2.0 * distance_m / acceleration).sqrt();
    let staging = &car.track.staging;
    time_s(staging.trip_m(Mark::Ft60)) - time_s(staging.clock_start_m())
}

fn stretch(
    row: usize,
    (before, (mark, time_s)): (Option<(Mark, f64)>, (Mark, f64)),
    speed_m_s: f64,
) -> Result<(), Implausible> {
    let (from_m, from_s) = before.map_or((0.0, 0.0), |(mark, time_s)| (mark.distance_m(), time_s));
    let mean_m_s = (mark.distance_m() - from_m) / (time_s - from_s);
    let wrong = |hint| {
        Err(Implausible::SpeedDisagrees {
            row,
            feet: mark.feet(),
            mean_m_s,
            speed_m_s,
            hint,
        })
    };
    if mean_m_s > speed_m_s {
        return wrong("look at the speed's unit, and whether all times count from the same start");
    }
    if mean_m_s < LEAST_MEAN_SHARE * speed_m_s {
        return wrong(
            "if the reaction time is in this time, take it off: all times count from the moment the car leaves the stage beam",
        );
    }
    Ok(())
}
