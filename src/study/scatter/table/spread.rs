//! How the launches that got away are spread at one aim: deviation, percentiles, shares.

use super::LaunchTable;
use super::grid::GridLine;
use super::replicated::Replicated;
use super::smoothing::Smoothing;

/// The launches at one aim: how likely each is, and its time.
#[derive(Debug, Clone)]
pub struct Spread<'t> {
    table: &'t LaunchTable,
    /// Time s, point, and probability at that point, by rising time.
    launches: Vec<(f64, usize, f64)>,
    /// The same of the lines without every second launch.
    thinned: Vec<(f64, usize, f64)>,
}

impl LaunchTable {
    /// The launches that got away at an aim, with a standard deviation of the launch speed
    /// (both rad/s).
    pub fn spread(&self, aim_rad_s: f64, sd_rad_s: f64) -> Spread<'_> {
        let smoothing: Smoothing = self.smoothing(aim_rad_s, sd_rad_s);
        let counts: Vec<(usize, f64)> = smoothing.counts().collect();
        let sorted = |lines: &[GridLine]| {
            let mut launches: Vec<(f64, usize, f64)> = lines
                .iter()
                .enumerate()
                .flat_map(|(point, line)| {
                    counts.iter().filter_map(move |(at, weight)| {
                        let probability = weight * line.away.get(*at)?;
                        (probability > 0.0).then_some((*line.time_s.get(*at)?, point, probability))
                    })
                })
                .collect();
            launches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            launches
        };
        Spread {
            table: self,
            launches: sorted(&self.lines),
            thinned: sorted(&self.thinned),
        }
    }
}

/// Launches, and what the points they belong to count for.
struct Counted<'a> {
    launches: &'a [(f64, usize, f64)],
    weights: &'a [f64],
}

impl Counted<'_> {
    /// Time of each launch, s, and what it counts for.
    fn iter(&self) -> impl Iterator<Item = (f64, f64)> {
        self.launches
            .iter()
            .filter_map(|(time_s, point, probability)| {
                Some((*time_s, probability * self.weights.get(*point)?))
            })
    }
}

impl Spread<'_> {
    fn replicated(&self, figure: impl Fn(&Counted) -> f64) -> Replicated {
        let weights = &self.table.weights;
        let of = |launches, weights| figure(&Counted { launches, weights });
        Replicated {
            value: of(&self.launches, &weights.all),
            without: weights
                .without
                .iter()
                .map(|w| of(&self.launches, w))
                .collect(),
            thinned: of(&self.thinned, &weights.all),
        }
    }

    /// Standard deviation of the launches that got away, s.
    pub fn sd_s(&self) -> Replicated {
        let middle = self.launches.get(self.launches.len() / 2);
        let about_s = middle.map_or(0.0, |launch| launch.0);
        self.replicated(|counted| {
            let (mut count, mut sum, mut squares) = (0.0, 0.0, 0.0);
            for (time_s, weight) in counted.iter() {
                let off = time_s - about_s;
                count += weight;
                sum += weight * off;
                squares += weight * off * off;
            }
            (squares / count - (sum / count).powi(2)).max(0.0).sqrt()
        })
    }

    /// Time that a share of the launches that got away stays below, s.
    pub fn percentile_s(&self, share: f64) -> Replicated {
        self.replicated(|counted| {
            let all: f64 = counted.iter().map(|(_, weight)| weight).sum();
            let wanted = share * all;
            let mut below = 0.0;
            let mut before: Option<(f64, f64)> = None;
            for (time_s, weight) in counted.iter() {
                // Half of a launch's own weight lies below its time.
                let here = below + weight / 2.0;
                if here >= wanted {
                    return before.map_or(time_s, |(time_before, here_before)| {
                        let part = (wanted - here_before) / (here - here_before);
                        time_before + part.clamp(0.0, 1.0) * (time_s - time_before)
                    });
                }
                below += weight;
                before = Some((time_s, here));
            }
            before.map_or(f64::NAN, |(time_s, _)| time_s)
        })
    }

    /// Share of the launches that got away in no more than a time, s.
    pub fn share_within(&self, limit_s: f64) -> Replicated {
        self.replicated(|counted| {
            let (mut all, mut within) = (0.0, 0.0);
            for (time_s, weight) in counted.iter() {
                all += weight;
                if time_s <= limit_s {
                    within += weight;
                }
            }
            within / all
        })
    }
}
