//! What the driver's page tells beyond the comparison: the flywheel to use, three launches to
//! look at, and what a typical miss costs.

use super::comparison::{Comparison, Contender};
use super::findings::{Findings, SaferSide, safer_side};
use super::round_aim::{RoundAim, round_aim};
use super::scatter::draws::Chance;
use super::{Progress, StudyError, on_all_cores};
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Attempt, Launch, run, trace};

/// The launches shown as too low and too high lie this many standard deviations of the driver's
/// launch speed off the aim: about one launch in forty is further off on either side.
pub const FAR_OFF_SD: f64 = 2.0;
/// A typical miss: one standard deviation; about one launch in six is further off on either side.
const TYPICAL_MISS_SD: f64 = 1.0;
/// Points of a trace, s: finer than any chart shows.
const TRACE_EVERY_S: f64 = 0.01;

/// Where a shown launch lies from the aim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Off {
    /// Too low.
    Low,
    /// On the aim.
    On,
    /// Too high.
    High,
}

impl Off {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Low => "too_low",
            Self::On => "aim",
            Self::High => "too_high",
        }
    }
}

impl Off {
    /// From low to high.
    pub const ALL: [Self; 3] = [Self::Low, Self::On, Self::High];

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Low => "too low",
            Self::On => "right",
            Self::High => "too high",
        }
    }

    const fn sds(self) -> f64 {
        match self {
            Self::Low => -FAR_OFF_SD,
            Self::On => 0.0,
            Self::High => FAR_OFF_SD,
        }
    }
}

/// One launch to look at.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Where it lies from the aim.
    pub off: Off,
    /// All of it, to 60 ft.
    pub launch: Launch,
    /// The same over time.
    pub points: Vec<TracePoint>,
}

/// What a driver or a day may miss by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Miss {
    /// Launch speed below the aim.
    SpeedLow,
    /// Launch speed above the aim.
    SpeedHigh,
    /// Clutch let out more quickly than usual.
    ReleaseQuick,
    /// Clutch let out more slowly than usual.
    ReleaseSlow,
    /// Less grip than expected.
    GripLow,
    /// More grip than expected.
    GripHigh,
}

impl Miss {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::SpeedLow => "launch_speed_low",
            Self::SpeedHigh => "launch_speed_high",
            Self::ReleaseQuick => "release_quick",
            Self::ReleaseSlow => "release_slow",
            Self::GripLow => "grip_low",
            Self::GripHigh => "grip_high",
        }
    }
}

impl Miss {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::SpeedLow,
        Self::SpeedHigh,
        Self::ReleaseQuick,
        Self::ReleaseSlow,
        Self::GripLow,
        Self::GripHigh,
    ];

    const fn chance(self) -> Chance {
        let (mut speed, mut release, mut grip) = (0.0, 0.0, 0.0);
        match self {
            Self::SpeedLow => speed = -TYPICAL_MISS_SD,
            Self::SpeedHigh => speed = TYPICAL_MISS_SD,
            Self::ReleaseQuick => release = -TYPICAL_MISS_SD,
            Self::ReleaseSlow => release = TYPICAL_MISS_SD,
            Self::GripLow => grip = -TYPICAL_MISS_SD,
            Self::GripHigh => grip = TYPICAL_MISS_SD,
        }
        Chance {
            speed,
            release,
            grip,
        }
    }
}

/// A typical miss and its price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MissCost {
    /// Which.
    pub miss: Miss,
    /// The attempt that came of it.
    pub attempt: Attempt,
    /// Sixty-foot time less that of the launch on the aim, s; `None` if it did not get there.
    pub cost_s: Option<f64>,
}

/// What the page shows of the flywheel to use.
#[derive(Debug, Clone, PartialEq)]
pub struct CardStudy<'s, 'c> {
    /// The flywheel to use.
    pub wheel: Contender<'s, 'c>,
    /// Which way to err with it.
    pub safer_side: SaferSide,
    /// What the comparison comes to.
    pub findings: Findings<'s, 'c>,
    /// A launch too low, one on the aim, one too high.
    pub shown: Vec<Shown>,
    /// What a typical miss costs.
    pub misses: Vec<MissCost>,
    /// What lies round its aim.
    pub round: RoundAim,
}

/// Studies what the page shows of a flywheel, by its name; without one, or where it never gets
/// to 60 ft, of the one that is quickest there. `None` if none gets the car to 60 ft.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn study_card<'s, 'c>(
    comparison: &'s Comparison<'c>,
    wheel: Option<&str>,
    progress: &dyn Progress,
) -> Result<Option<CardStudy<'s, 'c>>, StudyError> {
    let Some(findings) = comparison.findings() else {
        return Ok(None);
    };
    let named = |name: &str| comparison.contenders().find(|one| one.name() == name);
    let wheel = wheel.and_then(named).unwrap_or(findings.quick.wheel);
    let (rig, scattered) = (&wheel.study.rig, &wheel.scatter.rig);
    let aim = wheel.scatter.aim.launch_speed_rad_s;
    let shown = on_all_cores(&Off::ALL, progress, |off| {
        let chance = Chance {
            speed: off.sds(),
            release: 0.0,
            grip: 0.0,
        };
        let attempt = scattered.attempt(aim, &chance);
        Ok(Shown {
            off: *off,
            launch: run(rig, &attempt, Mark::Ft60)?,
            points: trace(rig, &attempt, Mark::Ft60, TRACE_EVERY_S)?,
        })
    })?;
    let on_aim_s = shown
        .iter()
        .find(|shown| shown.off == Off::On)
        .and_then(|shown| shown.launch.sixty_foot_s());
    let misses = on_all_cores(&Miss::ALL, progress, |miss| {
        let attempt = scattered.attempt(aim, &miss.chance());
        let time_s = run(rig, &attempt, Mark::Ft60)?.sixty_foot_s();
        Ok(MissCost {
            miss: *miss,
            attempt,
            cost_s: time_s
                .zip(on_aim_s)
                .map(|(missed_s, on_aim_s)| missed_s - on_aim_s),
        })
    })?;
    Ok(Some(CardStudy {
        round: round_aim(comparison, &wheel, progress)?,
        safer_side: safer_side(wheel.scatter),
        wheel,
        findings,
        shown,
        misses,
    }))
}
