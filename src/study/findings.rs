//! What a comparison comes to. All that is decided is decided here, once; terminal, page and
//! document only word it.

use super::comparison::{Comparison, Contender, HeldAgainst};
use super::practice::{PracticeStudy, driver_practice};
use super::scatter::break_even::BreakEven;
use super::scatter::frontier::Dominated;
use super::scatter::pairs::Verdict;
use super::scatter::sensitivity::Cause;
use super::scatter::study::WheelScatter;
use super::scatter::variance_shares::InputShare;
use crate::numerics::Interval;

/// Half a millisecond: times nearer to each other than this look alike on a time slip.
const SHOWS_S: f64 = 0.0005;

/// Whether a difference of two times (s) is one that a time slip shows.
pub fn shows_on_a_slip(difference_s: f64) -> bool {
    difference_s.abs() >= SHOWS_S
}

/// What a comparison comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings<'s, 'c> {
    /// The quickest to 60 ft on average: the flywheel to use where quick wins.
    pub quick: Choice<'s, 'c>,
    /// The quickest to 1,320 ft on average.
    pub quick_over_1320: Choice<'s, 'c>,
    /// The one that spreads least to 60 ft.
    pub steady: Contender<'s, 'c>,
    /// The one that spreads least to 1,320 ft.
    pub steady_over_1320: Contender<'s, 'c>,
    /// Those beaten on both counts, in the order of the sheet.
    pub beaten: Vec<Beaten<'s, 'c>>,
    /// What the spread of the quickest to 60 ft comes from; `None` if it does not spread.
    pub matters_most: Option<MattersMost>,
    /// Which way to err with the quickest to 60 ft.
    pub safer_side: SaferSide,
}

/// A flywheel chosen by its mean time, and how sure that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice<'s, 'c> {
    /// The one with the lowest mean.
    pub wheel: Contender<'s, 'c>,
    /// Those whose mean differs from it by less than the error of the difference.
    pub undecided_against: Vec<HeldAgainst<'s, 'c>>,
    /// The one whose mean to 60 ft is nearest to its own; `None` if there is no other.
    pub nearest: Option<HeldAgainst<'s, 'c>>,
}

impl<'s, 'c> Choice<'s, 'c> {
    /// The flywheels that it is not decided against.
    pub fn rivals(&self) -> impl Iterator<Item = Contender<'s, 'c>> + '_ {
        self.undecided_against
            .iter()
            .filter_map(|held| held.other(&self.wheel))
    }
}

/// A flywheel that is both slower on average and less steady than another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beaten<'s, 'c> {
    /// The flywheel.
    pub wheel: Contender<'s, 'c>,
    /// The one that beats it.
    pub by: Contender<'s, 'c>,
    /// Whether beyond the errors of both differences.
    pub sure: bool,
}

/// What a spread comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct MattersMost {
    /// Every cause with its shares, the greatest first.
    pub causes: Vec<(Cause, InputShare)>,
    /// The greatest cause.
    pub first: Cause,
    /// The next.
    pub second: Cause,
    /// Whether the greatest is greater than the next beyond both intervals.
    pub decided: bool,
}

/// What it costs to aim too low or too high by one standard deviation of the launch speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaferSide {
    /// Mean time lost by aiming too low, s.
    pub too_low_s: f64,
    /// Mean time lost by aiming too high, s.
    pub too_high_s: f64,
    /// Which way to err.
    pub side: Side,
}

/// Which way to err.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Rather too low.
    Low,
    /// Rather too high.
    High,
    /// No difference that a time slip shows.
    Either,
}

/// What the driver's practice launches say, and which answers they leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct PracticeFinding<'s, 'c> {
    /// The practice launches.
    pub study: PracticeStudy,
    /// Pairs whose break-even lies where the driver's own scatter may lie.
    pub may_turn: Vec<HeldAgainst<'s, 'c>>,
}

impl<'c> Comparison<'c> {
    /// What it comes to; `None` if no flywheel gets the car to 60 ft.
    pub fn findings(&self) -> Option<Findings<'_, 'c>> {
        let quick = self.least(|scatter| scatter.aim.mean_s)?;
        Some(Findings {
            quick: self.choice(quick, |held| held.pair.verdict() == Verdict::Undecided),
            quick_over_1320: self.choice(self.least(|scatter| scatter.quarter.mean_s)?, |held| {
                held.over_1320_interval_s.contains(0.0)
            }),
            steady: self.least(|scatter| scatter.aim.sd_s)?,
            steady_over_1320: self.least(|scatter| scatter.quarter.sd_s)?,
            beaten: self.beaten(),
            matters_most: matters_most(quick.scatter),
            safer_side: safer_side(quick.scatter),
        })
    }

    /// The contender with the least of something.
    fn least(&self, figure: fn(&WheelScatter) -> f64) -> Option<Contender<'_, 'c>> {
        self.contenders()
            .min_by(|a, b| figure(a.scatter).total_cmp(&figure(b.scatter)))
    }

    fn choice<'s>(
        &'s self,
        wheel: Contender<'s, 'c>,
        undecided: impl Fn(&HeldAgainst) -> bool,
    ) -> Choice<'s, 'c> {
        let own = || self.pairs().filter(|held| held.other(&wheel).is_some());
        let apart_s = |held: &HeldAgainst| held.pair.mean_difference_s.abs();
        Choice {
            wheel,
            undecided_against: own().filter(undecided).collect(),
            nearest: own().min_by(|a, b| apart_s(a).total_cmp(&apart_s(b))),
        }
    }

    fn beaten(&self) -> Vec<Beaten<'_, 'c>> {
        self.contenders()
            .filter_map(|wheel| {
                let (by, sure) = match wheel.scatter.quick_and_steady.dominated {
                    Dominated::No => return None,
                    Dominated::By(other) => (other, true),
                    Dominated::PerhapsBy(other) => (other, false),
                };
                let by = self.contender(by)?;
                Some(Beaten { wheel, by, sure })
            })
            .collect()
    }

    /// How many flywheels are quicker to 60 ft on average than this one; all of them if it never
    /// gets there.
    pub fn quicker_than(&self, index: usize) -> usize {
        let own_s = self
            .contender(index)
            .map_or(f64::INFINITY, |own| own.scatter.aim.mean_s);
        self.contenders()
            .filter(|other| other.scatter.aim.mean_s < own_s)
            .count()
    }

    /// What the driver's practice launches say; `None` if the sheet has none, or too few.
    pub fn practice(&self) -> Option<PracticeFinding<'_, 'c>> {
        let study = driver_practice(self.car)?;
        let may_turn = self
            .pairs()
            .filter(|held| match held.pair.break_even {
                BreakEven::At { sd_rad_s, .. } => study.sd_interval_rad_s.contains(sd_rad_s),
                BreakEven::Never(_) => false,
            })
            .collect();
        Some(PracticeFinding { study, may_turn })
    }
}

fn matters_most(scatter: &WheelScatter) -> Option<MattersMost> {
    let mut causes: Vec<(Cause, InputShare)> =
        Cause::ALL.into_iter().zip(scatter.sensitivity?).collect();
    causes.sort_by(|a, b| b.1.total.value.total_cmp(&a.1.total.value));
    let [(first, most), (second, more), ..] = causes.as_slice() else {
        return None;
    };
    Some(MattersMost {
        first: *first,
        second: *second,
        decided: !overlap(&most.total.interval, &more.total.interval),
        causes,
    })
}

fn overlap(one: &Interval, other: &Interval) -> bool {
    one.low <= other.high && other.low <= one.high
}

/// Which way to err with a flywheel: what one standard deviation of launch speed costs on average
/// below its aim, and above it.
pub fn safer_side(scatter: &WheelScatter) -> SaferSide {
    let (aim, sd) = (scatter.aim.launch_speed_rad_s, scatter.aim.launch_sd_rad_s);
    let mean_s = |off: f64| scatter.table.at(aim + off, sd).mean_s;
    let on_aim_s = mean_s(0.0);
    let (too_low_s, too_high_s) = (mean_s(-sd) - on_aim_s, mean_s(sd) - on_aim_s);
    let side = if !shows_on_a_slip(too_low_s - too_high_s) {
        Side::Either
    } else if too_low_s > too_high_s {
        Side::High
    } else {
        Side::Low
    };
    SaferSide {
        too_low_s,
        too_high_s,
        side,
    }
}
