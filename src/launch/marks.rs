//! The strip's clock: when each mark is tripped.

use super::mode::Mode;
use super::observer::{DrivenLeg, Observer};
use super::rig::Rig;
use super::state::Instant;
use crate::car::track::Mark;
use crate::integrate::Stop;
use crate::numerics::crossing;

/// A mark as it was passed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkPassed {
    /// Which.
    pub mark: Mark,
    /// When, s from first bite.
    pub since_bite_s: f64,
    /// Car speed there, m/s.
    pub speed_m_s: f64,
}

/// Watches for the start of the clock and for marks. It asks for no memory: a study makes one for
/// each of its launches.
#[derive(Debug, Clone)]
pub struct Clock {
    started_s: Option<f64>,
    last: Mark,
    /// As many of them as were passed, in their order.
    passed: [MarkPassed; Mark::ALL.len()],
    count: usize,
}

impl Clock {
    /// A clock for the marks up to one.
    pub fn new(to: Mark) -> Self {
        Self {
            started_s: None,
            last: to,
            passed: Mark::ALL.map(|mark| MarkPassed {
                mark,
                since_bite_s: 0.0,
                speed_m_s: 0.0,
            }),
            count: 0,
        }
    }

    /// When the clock started, s from first bite.
    pub fn started_s(&self) -> Option<f64> {
        self.started_s
    }

    /// Marks passed so far.
    pub fn passed(&self) -> &[MarkPassed] {
        self.passed.get(..self.count).unwrap_or(&self.passed)
    }

    /// Time of a mark on the clock, s.
    pub fn time_s(&self, mark: Mark) -> Option<f64> {
        let passed = self.passed().iter().find(|passed| passed.mark == mark)?;
        Some(passed.since_bite_s - self.started_s?)
    }

    /// When a mark was passed, s from first bite.
    pub fn since_bite_s(&self, mark: Mark) -> Option<f64> {
        self.passed()
            .iter()
            .find(|passed| passed.mark == mark)
            .map(|passed| passed.since_bite_s)
    }
}

impl Observer for Clock {
    fn leg(&mut self, rig: &Rig, _mode: &Mode, leg: &DrivenLeg) {
        if self.started_s.is_none() {
            self.started_s = time_at_distance_s(leg, rig.staging().clock_start_m());
        }
        while let Some(next) = self.passed.get_mut(self.count)
            && next.mark <= self.last
        {
            let trip_m = rig.staging().trip_m(next.mark);
            let Some(since_bite_s) = time_at_distance_s(leg, trip_m) else {
                return;
            };
            next.since_bite_s = since_bite_s;
            next.speed_m_s = Instant::from_scaled(&leg.at(since_bite_s)).speed_m_s;
            self.count += 1;
        }
    }
}

/// How near a leg's end counts as there, m: round-off of the guard that stopped it.
const AT_THE_END_M: f64 = 1e-9;

/// Time in a leg at which a distance is reached, s from first bite.
fn time_at_distance_s(leg: &DrivenLeg, distance_m: f64) -> Option<f64> {
    let distance_at = |time_s: f64| Instant::from_scaled(&leg.at(time_s)).distance_m;
    // A car on its way does not roll back: the end of the leg is its furthest point.
    let furthest_m = Instant::from_scaled(leg.end()).distance_m;
    if furthest_m < distance_m - AT_THE_END_M {
        return None;
    }
    let passing = leg
        .dense_steps()
        .find(|(_, step)| Instant::from_scaled(step.end()).distance_m >= distance_m);
    if let Some(((from, to), step)) = passing {
        let within = step.dense();
        let short_m = |time_s: f64| {
            let now = within.at_share((time_s - from) / step.length_s());
            Instant::from_scaled(&now).distance_m - distance_m
        };
        if short_m(to) >= 0.0 {
            return Some(crossing(from, to, short_m));
        }
    }
    let at_end = matches!(leg.stop(), Stop::Guard(_))
        && distance_at(leg.end_s()) >= distance_m - AT_THE_END_M;
    at_end.then(|| leg.end_s())
}
