//! How likely a stall is, with an interval that also covers what no launch has shown.

use super::LaunchTable;
use super::replicated::half_width;
use crate::numerics::quantile::CONFIDENCE;
use crate::numerics::{Estimate, Interval};

/// Launches this many standard deviations round an aim say something of stalls there.
const REACH: f64 = 3.0;
/// A chance below this is none: fewer than one stall in a thousand million launches.
const NONE: f64 = 1e-9;

impl LaunchTable {
    /// Share of launches that stall or do not finish at an aim, with its interval.
    ///
    /// The interval is that of the logarithm: a rare chance is known to a factor. Where no launch
    /// of the table within `REACH` standard deviations stalled, it reaches up to the chance at
    /// which as many would all have got away once in twenty (`1 − 0.05^(1/n)`, "the rule of
    /// three").
    pub fn stalled(&self, aim_rad_s: f64, sd_rad_s: f64) -> Estimate {
        let share = self.stall_share(aim_rad_s, sd_rad_s);
        let value = share.value;
        let without: Vec<f64> = share.without.iter().map(|p| p.max(NONE).ln()).collect();
        let factor = half_width(&without).exp();
        let mut interval = if value > NONE {
            Interval {
                low: value / factor,
                high: (value * factor).min(1.0),
            }
        } else {
            Interval {
                low: 0.0,
                high: 0.0,
            }
        };
        let within = REACH * sd_rad_s;
        let near = || {
            self.tried
                .iter()
                .filter(|(speed, _)| (speed - aim_rad_s).abs() <= within)
        };
        if near().all(|(_, away)| *away) {
            let all = f64::from(u32::try_from(near().count()).unwrap_or(u32::MAX)).max(1.0);
            interval.low = 0.0;
            interval.high = interval.high.max(1.0 - (1.0 - CONFIDENCE).powf(1.0 / all));
        }
        Estimate { value, interval }
    }
}
