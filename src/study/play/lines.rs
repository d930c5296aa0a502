//! One line of sixty-foot times over launch speed, its knots where the curve bends.

use super::{Said, attempt};
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::{Rig, SCATTER_ACCURACY, sixty_foot};
use crate::study::StudyError;

/// Step in which a line's times are kept, s.
pub const TIME_STEP_S: f64 = 0.0001;
/// The time of a launch that did not get to 60 ft, or took longer than a line can keep.
pub const NOT_REACHED: u16 = u16::MAX;
/// Widest step between the launches that a line begins with, rpm: where nothing is known of it,
/// and where a line beside it has been looked at.
const FIRST_STEP_RPM: u16 = 50;
const BESIDE_STEP_RPM: u16 = 150;
/// Knots of the line beside that lie nearer than this to the last are left out, rpm: they stand on
/// a cliff, and the cliff has moved.
const LEAST_STEP_RPM: u16 = 20;
/// A piece is halved until its middle lies this near the straight line, s.
const STRAIGHT_S: f64 = 0.0005;
/// Knots that can be left out within this are, s.
const IDLE_S: f64 = 0.0005;
/// Pieces are halved down to this, rpm.
pub const NARROWEST_RPM: u16 = 4;
/// A narrowest piece that is steeper than this is a cliff, s.
pub const STEEP_S: f64 = 0.003;

/// One knot of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Knot {
    /// Launch speed, rpm.
    pub rpm: u16,
    /// Sixty-foot time in steps of [`TIME_STEP_S`], or [`NOT_REACHED`].
    pub time: u16,
}

impl Knot {
    fn time_s(self) -> Option<f64> {
        (self.time != NOT_REACHED).then(|| f64::from(self.time) * TIME_STEP_S)
    }
}

/// Whole rpm inside a range in rad/s.
pub(super) fn whole_rpm(low_rad_s: f64, high_rad_s: f64) -> (u16, u16) {
    /// Round-off of the way from rpm to rad/s and back.
    const ROUND_OFF_RPM: f64 = 1e-6;
    let low = (low_rad_s / RAD_S_PER_RPM - ROUND_OFF_RPM).ceil();
    let high = (high_rad_s / RAD_S_PER_RPM + ROUND_OFF_RPM).floor();
    (to_u16(low), to_u16(high))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what a u16 holds"
)]
pub(super) fn to_u16(value: f64) -> u16 {
    value.round().clamp(0.0, f64::from(u16::MAX)) as u16
}

/// What a line says of a launch speed.
pub(super) fn at(line: &[Knot], speed_rpm: f64) -> Option<Said> {
    let above = line
        .iter()
        .position(|knot| f64::from(knot.rpm) >= speed_rpm)
        .unwrap_or(line.len().saturating_sub(1));
    let high = line.get(above)?;
    let low = line.get(above.saturating_sub(1))?;
    let (low_rpm, high_rpm) = (f64::from(low.rpm), f64::from(high.rpm));
    if low.rpm == high.rpm || speed_rpm >= high_rpm {
        return Some(high.time_s().map_or(Said::MayStall, Said::Time));
    }
    let share = ((speed_rpm - low_rpm) / (high_rpm - low_rpm)).max(0.0);
    let (Some(low_s), Some(high_s)) = (low.time_s(), high.time_s()) else {
        return Some(Said::MayStall);
    };
    let on_a_cliff = high.rpm - low.rpm <= NARROWEST_RPM && (high_s - low_s).abs() > STEEP_S;
    Some(if on_a_cliff {
        Said::Between(low_s.min(high_s), low_s.max(high_s))
    } else {
        Said::Time(low_s * (1.0 - share) + high_s * share)
    })
}

/// Time straight between two knots, s.
fn straight(low: Knot, high: Knot, rpm: u16) -> Option<f64> {
    let span = f64::from(high.rpm) - f64::from(low.rpm);
    let share = (f64::from(rpm) - f64::from(low.rpm)) / span;
    Some(low.time_s()? * (1.0 - share) + high.time_s()? * share)
}

/// The lines of one release over rising grips, from the middle outward: each begins with the knots
/// of the one before, for where a curve bends moves little from one grip to the next.
pub(super) fn lines(
    rig: &Rig,
    grips: &[f64],
    release: f64,
    range: (u16, u16),
) -> Result<Vec<Vec<Knot>>, StudyError> {
    let (below, above) = grips.split_at(grips.len() / 2);
    let mut upward: Vec<Vec<Knot>> = Vec::new();
    for grip in above {
        let beside = upward.last().map(Vec::as_slice);
        let next = line(rig, *grip, release, &first_speeds(range, beside))?;
        upward.push(next);
    }
    let mut all: Vec<Vec<Knot>> = Vec::new();
    for grip in below.iter().rev() {
        let beside = all.last().or(upward.first()).map(Vec::as_slice);
        let next = line(rig, *grip, release, &first_speeds(range, beside))?;
        all.push(next);
    }
    all.reverse();
    all.extend(upward);
    Ok(all)
}

/// Launch speeds that a line begins with, rising, both ends of the range among them.
fn first_speeds((low, high): (u16, u16), beside: Option<&[Knot]>) -> Vec<u16> {
    let widest = if beside.is_some() {
        BESIDE_STEP_RPM
    } else {
        FIRST_STEP_RPM
    };
    let knots = beside.unwrap_or_default().iter().map(|knot| knot.rpm);
    let mut speeds = vec![low];
    let mut from = low;
    for to in knots.chain([high]) {
        let gap = to.saturating_sub(from);
        if gap == 0 || (gap < LEAST_STEP_RPM && to < high) {
            continue;
        }
        let parts = u32::from(gap.div_ceil(widest));
        let inner = (1..parts).map(|part| u32::from(from) + u32::from(gap) * part / parts);
        speeds.extend(inner.filter_map(|rpm| u16::try_from(rpm).ok()));
        speeds.push(to);
        from = to;
    }
    speeds
}

/// The line at one grip and release that begins with launches from these speeds.
fn line(rig: &Rig, grip: f64, release: f64, first: &[u16]) -> Result<Vec<Knot>, StudyError> {
    let launch = |rpm: u16| -> Result<Knot, StudyError> {
        let attempt = attempt(f64::from(rpm), grip, release);
        let time_s = sixty_foot(rig, &attempt, &SCATTER_ACCURACY)?;
        let time = time_s.map_or(NOT_REACHED, |time_s| to_u16(time_s / TIME_STEP_S));
        Ok(Knot { rpm, time })
    };
    let mut line: Vec<Knot> = Vec::new();
    for rpm in first {
        let right = launch(*rpm)?;
        if let Some(left) = line.last().copied() {
            halve(left, right, &launch, &mut line)?;
        }
        line.push(right);
    }
    Ok(without_idle(&line))
}

/// Puts the knots that a piece needs between its ends into the line.
fn halve(
    left: Knot,
    right: Knot,
    launch: &impl Fn(u16) -> Result<Knot, StudyError>,
    line: &mut Vec<Knot>,
) -> Result<(), StudyError> {
    if right.rpm.saturating_sub(left.rpm) <= NARROWEST_RPM {
        return Ok(());
    }
    let middle = launch(left.rpm.midpoint(right.rpm))?;
    let bends = match (left.time_s(), middle.time_s(), right.time_s()) {
        (Some(_), Some(middle_s), Some(_)) => straight(left, right, middle.rpm)
            .is_none_or(|straight_s| (middle_s - straight_s).abs() > STRAIGHT_S),
        (None, None, None) => false,
        _ => true,
    };
    if bends {
        halve(left, middle, launch, line)?;
        line.push(middle);
        halve(middle, right, launch, line)
    } else {
        line.push(middle);
        Ok(())
    }
}

/// The line without the knots that a straight piece passes near enough.
fn without_idle(line: &[Knot]) -> Vec<Knot> {
    let mut kept: Vec<Knot> = line.first().copied().into_iter().collect();
    let mut start = 0;
    let mut end = 1;
    while let (Some(first), Some(last)) = (line.get(start), line.get(end)) {
        let between = line.get(start + 1..end).unwrap_or_default();
        let passes =
            between.iter().all(
                |knot| match (knot.time_s(), straight(*first, *last, knot.rpm)) {
                    (Some(there_s), Some(straight_s)) => (there_s - straight_s).abs() <= IDLE_S,
                    (None, None) => first.time == NOT_REACHED && last.time == NOT_REACHED,
                    _ => false,
                },
            );
        if passes {
            end += 1;
        } else {
            start = end - 1;
            kept.extend(line.get(start).copied());
        }
    }
    kept.extend(line.last().copied().filter(|_| line.len() > 1));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_line_begins_with_the_knots_beside_it_and_leaves_no_wide_gap() {
        let knot = |rpm| Knot { rpm, time: 20_000 };
        let beside: Vec<Knot> = [2000, 2400, 2404, 2408, 3000].map(knot).to_vec();
        let speeds = first_speeds((2000, 3000), Some(&beside));
        assert!(speeds.contains(&2400) && !speeds.contains(&2404));
        assert_eq!((speeds[0], speeds[speeds.len() - 1]), (2000, 3000));
        let steps = speeds.windows(2).map(|pair| pair[1] - pair[0]);
        assert!(
            steps
                .into_iter()
                .all(|step| (1..=BESIDE_STEP_RPM).contains(&step))
        );
        let fresh = first_speeds((2000, 3000), None);
        assert_eq!(fresh.len(), 21);
        assert_eq!(first_speeds((2000, 2000), None), [2000]);
    }
}
