//! How many requests are answered in a second.

use std::time::{Duration, Instant};

/// Requests answered at once: a page's own, and a slider held down.
const MOST_AT_ONCE: f64 = 240.0;
/// Requests a second after that: more than a slider sends, which waits for each answer.
const PER_SECOND: f64 = 120.0;

/// A bucket that fills up evenly; every request takes one out.
#[derive(Debug)]
pub(super) struct Rate {
    left: f64,
    looked: Instant,
}

impl Rate {
    /// A full bucket.
    pub(super) fn new(now: Instant) -> Self {
        Self {
            left: MOST_AT_ONCE,
            looked: now,
        }
    }

    /// Whether one more is answered.
    pub(super) fn takes(&mut self, now: Instant) -> bool {
        let since: Duration = now.saturating_duration_since(self.looked);
        self.looked = now;
        self.left = (self.left + since.as_secs_f64() * PER_SECOND).min(MOST_AT_ONCE);
        if self.left < 1.0 {
            return false;
        }
        self.left -= 1.0;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_flood_is_answered_at_the_rate_and_no_more() {
        let start = Instant::now();
        let mut rate = Rate::new(start);
        let at_once = (0..1000).filter(|_| rate.takes(start)).count();
        assert_eq!(at_once, 240);
        let later = start + Duration::from_secs(1);
        let after = (0..1000).filter(|_| rate.takes(later)).count();
        assert_eq!(after, 120);
    }
}
