//! One line of a table: sixty-foot time over launch speed at one release and grip.
//!
//! Launches on an even grid of launch speeds, whose start is a chance of its own, so that what
//! interpolation misses differs from line to line; every edge between launches that get away and
//! launches that do not is bisected; and wherever the curve bends, launches are added until it
//! bends no more than asked for. Between launches the curve is Akima's (1970, *J. ACM* 17, 589):
//! it follows a smooth minimum and does not swing at a kink.

use super::design::Design;
use super::law::SixtyFoot;
use crate::launch::{Attempt, LaunchError};

/// One launch of a line: launch speed, rad/s, and sixty-foot time, s, if it got away.
type Tried = (f64, Option<f64>);

/// An unbroken run of launch speeds that get away.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    /// Where it begins, rad/s: an edge, or the end of what was tried.
    pub(super) low_rad_s: f64,
    /// Where it ends, rad/s.
    pub(super) high_rad_s: f64,
    speeds_rad_s: Vec<f64>,
    times_s: Vec<f64>,
    slopes_s2: Vec<f64>,
    /// Whether it begins with the lowest launch speed tried, and ends with the highest.
    open: (bool, bool),
}

/// A line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// Runs of launches that got away, by rising launch speed.
    pub(super) runs: Vec<Run>,
    /// The same with every second launch within a run left out: how far the two lie apart says
    /// how far either may be from the truth between launches.
    pub(super) thinned: Vec<Run>,
    /// Launch speed of every launch, rad/s, and whether it got away.
    pub(super) tried: Vec<(f64, bool)>,
}

/// Launches a line from `low` to `high` rad/s, with release and grip of an attempt.
pub(super) fn launch_line(
    car: &dyn SixtyFoot,
    attempt: &Attempt,
    (low, high): (f64, f64),
    shift: f64,
    design: &Design,
) -> Result<Line, LaunchError> {
    let time_at = |launch_speed_rad_s: f64| -> Result<Tried, LaunchError> {
        let time_s = car.sixty_foot_s(&Attempt {
            launch_speed_rad_s,
            ..*attempt
        })?;
        Ok((launch_speed_rad_s, time_s))
    };
    let mut tried = first_grid(low, high, shift, design.first_step_rad_s)
        .map(time_at)
        .collect::<Result<Vec<_>, _>>()?;
    find_edges(&mut tried, design.edge_rad_s, &time_at)?;
    loop {
        let wanted = bends(&tried, design);
        if wanted.is_empty() {
            break;
        }
        for speed in wanted {
            tried.push(time_at(speed)?);
        }
        tried.sort_by(|a, b| a.0.total_cmp(&b.0));
        find_edges(&mut tried, design.edge_rad_s, &time_at)?;
    }
    let runs = runs(&tried);
    Ok(Line {
        thinned: runs.iter().map(Run::thinned).collect(),
        runs,
        tried: tried
            .iter()
            .map(|(speed, time_s)| (*speed, time_s.is_some()))
            .collect(),
    })
}

/// Both ends, and between them an even grid that begins a share of a step above the lower end.
fn first_grid(low: f64, high: f64, shift: f64, step: f64) -> impl Iterator<Item = f64> {
    /// Grid speeds this near an end, as a share of a step, are left out.
    const TOO_NEAR: f64 = 0.1;
    let inner = (0_u32..)
        .map(move |i| low + (shift + f64::from(i)) * step)
        .skip_while(move |speed| *speed < low + TOO_NEAR * step)
        .take_while(move |speed| *speed < high - TOO_NEAR * step);
    std::iter::once(low)
        .chain(inner)
        .chain(std::iter::once(high))
}

/// Bisects between every two neighbours of which one got away and one did not.
fn find_edges(
    tried: &mut Vec<Tried>,
    near_enough: f64,
    time_at: &impl Fn(f64) -> Result<Tried, LaunchError>,
) -> Result<(), LaunchError> {
    let open: Vec<(Tried, Tried)> = tried
        .windows(2)
        .filter_map(|pair| match pair {
            [left, right] if left.1.is_some() != right.1.is_some() => Some((*left, *right)),
            _ => None,
        })
        .collect();
    for (mut left, mut right) in open {
        while right.0 - left.0 > near_enough {
            let middle = time_at(f64::midpoint(left.0, right.0))?;
            tried.push(middle);
            if middle.1.is_some() == left.1.is_some() {
                left = middle;
            } else {
                right = middle;
            }
        }
    }
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    Ok(())
}

/// Launch speeds at which the curve is not followed as well as asked for: half-way between two
/// launches between which it bends too much, and to either side of a launch that the others do
/// not foretell. What one such stretch adds to a mean goes with its width, so a narrow one may
/// miss by more.
fn bends(tried: &[Tried], design: &Design) -> Vec<f64> {
    /// A bend, or a miss, this much above the line's best, s, counts half as much: nobody aims
    /// there.
    const BENT_HALF_AS_MUCH_S: f64 = 0.1;
    const MISSED_HALF_AS_MUCH_S: f64 = 0.03;
    let runs = runs(tried);
    let best_s = runs
        .iter()
        .flat_map(|run| run.times_s.iter().copied())
        .fold(f64::INFINITY, f64::min);
    runs.iter()
        .flat_map(|run| {
            run.speeds_rad_s
                .windows(2)
                .zip(run.times_s.windows(2))
                .filter_map(|(speeds, times)| {
                    let ([from, to], [from_s, to_s]) = (speeds, times) else {
                        return None;
                    };
                    if to - from <= design.finest_step_rad_s {
                        return None;
                    }
                    let middle = f64::midpoint(*from, *to);
                    let straight_s = f64::midpoint(*from_s, *to_s);
                    let less = |half_s: f64| 1.0 + (from_s.min(*to_s) - best_s) / half_s;
                    let bent_s = (run.time_s(middle) - straight_s).abs();
                    let missed_s = run.missed_s(*from).max(run.missed_s(*to));
                    let narrow = design.first_step_rad_s / (to - from);
                    (bent_s > less(BENT_HALF_AS_MUCH_S) * design.bend_s
                        || missed_s > less(MISSED_HALF_AS_MUCH_S) * narrow * design.miss_s)
                        .then_some(middle)
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

/// The unbroken runs of launches that got away; an edge lies half-way between its two launches.
fn runs(tried: &[Tried]) -> Vec<Run> {
    tried
        .chunk_by(|a, b| a.1.is_some() == b.1.is_some())
        .scan(0, |start, chunk| {
            let from = *start;
            *start += chunk.len();
            Some((from, chunk))
        })
        .filter_map(|(from, chunk)| {
            let (speeds, times): (Vec<f64>, Vec<f64>) = chunk
                .iter()
                .filter_map(|(speed, time)| Some((*speed, (*time)?)))
                .unzip();
            let (first, last) = (*speeds.first()?, *speeds.last()?);
            let outside = |index: Option<usize>| index.and_then(|i| tried.get(i));
            Some(Run {
                low_rad_s: outside(from.checked_sub(1))
                    .map_or(first, |before| f64::midpoint(before.0, first)),
                high_rad_s: outside(Some(from + chunk.len()))
                    .map_or(last, |after| f64::midpoint(after.0, last)),
                open: (from == 0, from + chunk.len() == tried.len()),
                slopes_s2: akima_slopes(&speeds, &times),
                speeds_rad_s: speeds,
                times_s: times,
            })
        })
        .collect()
}

impl Run {
    /// A run through some launches, with the ends of another.
    fn through(&self, launches: impl Iterator<Item = (f64, f64)>) -> Self {
        let (speeds, times): (Vec<f64>, Vec<f64>) = launches.unzip();
        Self {
            slopes_s2: akima_slopes(&speeds, &times),
            speeds_rad_s: speeds,
            times_s: times,
            ..*self
        }
    }

    fn launches(&self) -> impl Iterator<Item = (f64, f64)> {
        let times = self.times_s.iter().copied();
        self.speeds_rad_s.iter().copied().zip(times)
    }

    /// The same without every second launch; both ends stay.
    fn thinned(&self) -> Self {
        let last = self.speeds_rad_s.len().saturating_sub(1);
        let kept = self.launches().enumerate();
        let kept = kept.filter(|(index, _)| index % 2 == 0 || *index == last);
        self.through(kept.map(|(_, launch)| launch))
    }

    /// How far the launch at a speed lies from what the launches round it foretell, s; 0 at the
    /// ends.
    fn missed_s(&self, speed: f64) -> f64 {
        /// Launches to either side that a curve between two is made of.
        const ROUND: usize = 3;
        let at = self.speeds_rad_s.partition_point(|s| *s < speed);
        let last = self.speeds_rad_s.len().saturating_sub(1);
        if at == 0 || at >= last {
            return 0.0;
        }
        let near = self.launches().enumerate().skip(at.saturating_sub(ROUND));
        let others = near
            .take_while(|(index, _)| *index <= at + ROUND)
            .filter(|(index, _)| *index != at);
        let foretold = self.through(others.map(|(_, launch)| launch)).time_s(speed);
        self.times_s
            .get(at)
            .map_or(0.0, |own| (own - foretold).abs())
    }

    /// Where it begins; without end if nothing lower was tried.
    pub(super) fn start_rad_s(&self) -> f64 {
        if self.open.0 {
            f64::NEG_INFINITY
        } else {
            self.low_rad_s
        }
    }

    /// Where it ends; without end if nothing higher was tried.
    pub(super) fn to_rad_s(&self) -> f64 {
        if self.open.1 {
            f64::INFINITY
        } else {
            self.high_rad_s
        }
    }

    /// Time at a launch speed of the run, s; beyond its launches the nearest launch's.
    pub(super) fn time_s(&self, speed: f64) -> f64 {
        let after = self.speeds_rad_s.partition_point(|s| *s <= speed);
        let Some(before) = after.checked_sub(1) else {
            return self.times_s.first().copied().unwrap_or(f64::NAN);
        };
        let at = |values: &[f64], index: usize| values.get(index).copied();
        let piece = || {
            Some((
                at(&self.speeds_rad_s, before)?,
                at(&self.speeds_rad_s, after)?,
                at(&self.times_s, before)?,
                at(&self.times_s, after)?,
                at(&self.slopes_s2, before)?,
                at(&self.slopes_s2, after)?,
            ))
        };
        let Some((x0, x1, y0, y1, s0, s1)) = piece() else {
            return self.times_s.last().copied().unwrap_or(f64::NAN);
        };
        let width = x1 - x0;
        let t = (speed - x0) / width;
        let (t2, t3) = (t * t, t * t * t);
        (2.0 * t3 - 3.0 * t2 + 1.0) * y0
            + (t3 - 2.0 * t2 + t) * width * s0
            + (3.0 * t2 - 2.0 * t3) * y1
            + (t3 - t2) * width * s1
    }
}

/// Slopes at every point by Akima's rule; beyond the ends the chords go on as they changed last.
fn akima_slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let chords: Vec<f64> = x
        .windows(2)
        .zip(y.windows(2))
        .filter_map(|(x, y)| match (x, y) {
            ([x0, x1], [y0, y1]) => Some((y1 - y0) / (x1 - x0)),
            _ => None,
        })
        .collect();
    let (Some(&first), Some(&last)) = (chords.first(), chords.last()) else {
        return vec![0.0; x.len()];
    };
    let second = chords.get(1).copied().unwrap_or(first);
    let last_but_one = chords
        .len()
        .checked_sub(2)
        .and_then(|i| chords.get(i).copied())
        .unwrap_or(last);
    let mut padded = vec![3.0 * first - 2.0 * second, 2.0 * first - second];
    padded.extend(&chords);
    padded.extend([2.0 * last - last_but_one, 3.0 * last - 2.0 * last_but_one]);
    padded
        .windows(4)
        .map(|m| match m {
            [m1, m2, m3, m4] => {
                let (left, right) = ((m4 - m3).abs(), (m2 - m1).abs());
                if left + right > 0.0 {
                    (left * m2 + right * m3) / (left + right)
                } else {
                    f64::midpoint(*m2, *m3)
                }
            }
            _ => 0.0,
        })
        .collect()
}
