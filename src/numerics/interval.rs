//! An interval with both ends.

/// An interval, ends included, in whatever unit its ends are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// So far to either side of a centre.
    pub fn about(centre: f64, half_width: f64) -> Self {
        Self {
            low: centre - half_width,
            high: centre + half_width,
        }
    }

    /// Whether a value lies within, ends included.
    pub fn contains(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Half the distance of its ends.
    pub fn half_width(&self) -> f64 {
        (self.high - self.low) / 2.0
    }
}

/// An estimate with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Its 95 % interval.
    pub interval: Interval,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn law_an_interval_holds_its_ends_and_nothing_beyond() {
        let interval = Interval::about(5.0, 1.5);
        assert_relative_eq!(interval.half_width(), 1.5);
        let held = [3.4, 3.5, 5.0, 6.5, 6.6].map(|value| interval.contains(value));
        assert_eq!(held, [false, true, true, true, false]);
    }
}
