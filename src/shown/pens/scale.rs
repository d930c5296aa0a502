//! Round ticks: steps of 1, 2, 2.5 or 5 times a power of ten, covering the data.

/// Steps a reader counts in without thinking.
const ROUND_STEPS: [f64; 4] = [1.0, 2.0, 2.5, 5.0];

/// Larger values are treated as missing: no display unit of the trade needs them.
const LARGEST_VALUE: f64 = 1e12;

/// A span below this share of the values is widened: an `f64` could not tell the ticks apart.
const LEAST_RELATIVE_SPAN: f64 = 1e-9;

/// A span below this is widened whatever the values.
const LEAST_SPAN: f64 = 1e-9;

/// Half-width given to a range without extent, as a share of its value.
const LONE_VALUE_SHARE: f64 = 0.05;

/// Rounding error of a quotient that still counts as a whole number of steps.
const WHOLE_STEP_ERROR: f64 = 1e-7;

/// How much a range beyond the data costs against a tick more or less than wished for.
const WASTE_WEIGHT: f64 = 1.6;

/// More decimals than this are noise.
const MOST_DECIMALS: usize = 10;

/// Whether a value can be drawn: finite, and of a size a display unit may have.
pub(crate) fn drawable(value: f64) -> bool {
    value.is_finite() && value.abs() <= LARGEST_VALUE
}

/// A range with round ends and the ticks that divide it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scale {
    /// Low end of the range.
    pub(crate) low: f64,
    /// High end of the range.
    pub(crate) high: f64,
    /// Rising values inside the range.
    pub(crate) ticks: Vec<f64>,
    /// Decimals that write every tick exactly.
    pub(crate) decimals: usize,
}

impl Scale {
    /// A round range over the drawable values among `values`, with `about` ticks or so.
    pub(crate) fn over(values: impl IntoIterator<Item = f64>, about: usize) -> Self {
        let range = values.into_iter().filter(|value| drawable(*value)).fold(
            None,
            |range: Option<(f64, f64)>, value| {
                let (low, high) = range.unwrap_or((value, value));
                Some((low.min(value), high.max(value)))
            },
        );
        let (low, high) = widened(range.unwrap_or((0.0, 1.0)));
        Self::best(low, high, about.max(2))
    }

    fn best(low: f64, high: f64, about: usize) -> Self {
        let wished = f64::from(u32::try_from(about).unwrap_or(u32::MAX));
        let span = high - low;
        let power = (span / wished).log10().floor();
        let mut best: Option<(f64, Self)> = None;
        for decade in [-1.0, 0.0, 1.0, 2.0] {
            for mantissa in ROUND_STEPS {
                let step = mantissa * 10_f64.powf(power + decade);
                let first = (low / step + WHOLE_STEP_ERROR).floor();
                let last = (high / step - WHOLE_STEP_ERROR).ceil();
                let count = last - first + 1.0;
                if !(2.0..=1.5 * wished + 1.0).contains(&count) {
                    continue;
                }
                let waste = (count - 1.0) * step / span - 1.0;
                let cost = (count - wished).abs() / wished + WASTE_WEIGHT * waste;
                if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                    best = Some((cost, Self::counted(first, last, step)));
                }
            }
        }
        best.map_or_else(|| Self::counted(0.0, 1.0, 1.0), |(_, scale)| scale)
    }

    fn counted(first: f64, last: f64, step: f64) -> Self {
        let mut ticks = Vec::new();
        let mut count = first;
        while count <= last {
            ticks.push(count * step);
            count += 1.0;
        }
        Self {
            low: first * step,
            high: last * step,
            ticks,
            decimals: decimals_of(step),
        }
    }

    /// Round ticks, `about` so many, inside a range whose ends stay as they are.
    pub(crate) fn inside(low: f64, high: f64, about: usize) -> Self {
        let rounded = Self::over([low, high], about);
        if !(drawable(low) && drawable(high) && rounded.low < rounded.high && low < high) {
            return rounded;
        }
        let finer = (0..4).map(|more| Self::over([low, high], about + more));
        let within = |mut scale: Self| {
            scale.ticks.retain(|tick| (low..=high).contains(tick));
            (scale.low, scale.high) = (low, high);
            scale
        };
        finer
            .map(within)
            .find(|scale| scale.ticks.len() >= about)
            .unwrap_or_else(|| within(rounded))
    }

    /// Where a value stands between the ends: 0 at the low one, 1 at the high one.
    pub(crate) fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    /// The tick labels, in order.
    pub(crate) fn labels(&self) -> Vec<String> {
        self.ticks
            .iter()
            .map(|tick| super::text::number(*tick, self.decimals))
            .collect()
    }
}

fn widened((low, high): (f64, f64)) -> (f64, f64) {
    let size = low.abs().max(high.abs());
    if high - low >= (size * LEAST_RELATIVE_SPAN).max(LEAST_SPAN) {
        return (low, high);
    }
    let half = if size > 0.0 {
        (size * LONE_VALUE_SHARE).max(LEAST_SPAN)
    } else {
        1.0
    };
    (low - half, high + half)
}

/// Fewest decimals that write a step exactly.
fn decimals_of(step: f64) -> usize {
    let mut scaled = step.abs();
    for decimals in 0..MOST_DECIMALS {
        if (scaled - scaled.round()).abs() < WHOLE_STEP_ERROR * scaled.max(1e-3) {
            return decimals;
        }
        scaled *= 10.0;
    }
    MOST_DECIMALS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_cases::same_every_time;
    use proptest::prelude::*;

    fn mantissa(step: f64) -> f64 {
        step / 10_f64.powf((step * (1.0 + 1e-9)).log10().floor())
    }

    proptest! {
        #![proptest_config(same_every_time(256))]

        #[test]
        fn law_ticks_are_round_even_and_cover_the_data(
            low in -1e6..1e6_f64,
            span in 1e-4..1e6_f64,
            about in 2_usize..12,
        ) {
            let high = low + span;
            let scale = Scale::over([low, high], about);
            let step = scale.ticks[1] - scale.ticks[0];
            // Steps are differences of products: equal to round-off of the ticks' size.
            let error = 1e-6 * step + 1e-9 * low.abs().max(high.abs());
            prop_assert!(scale.low <= low + error && scale.high >= high - error);
            prop_assert!(scale.ticks.len() >= 2 && scale.ticks.len() <= 2 * about + 2);
            for pair in scale.ticks.windows(2) {
                prop_assert!((pair[1] - pair[0] - step).abs() <= error);
            }
            // The rule itself is read off the written labels: round-off hides it in the values.
            if span > 1e-3 * low.abs() {
                let m = mantissa(step);
                prop_assert!(
                    ROUND_STEPS.iter().chain(&[10.0]).any(|round| (m - round).abs() < 1e-3),
                    "step {step}"
                );
            }
        }

        #[test]
        fn law_tick_labels_read_back_as_the_ticks(low in -1e5..1e5_f64, span in 1e-2..1e5_f64) {
            let scale = Scale::over([low, low + span], 6);
            let step = scale.ticks[1] - scale.ticks[0];
            for (label, tick) in scale.labels().iter().zip(&scale.ticks) {
                let read: f64 = label.replace('\u{2212}', "-").parse().unwrap();
                // A label may differ from its tick by round-off alone.
                prop_assert!((read - tick).abs() < 1e-6 * step + 1e-9 * tick.abs(), "{label} {tick}");
            }
        }
    }

    #[test]
    fn law_odd_ranges_still_give_a_scale() {
        for values in [
            vec![],
            vec![f64::NAN],
            vec![f64::INFINITY, f64::NEG_INFINITY],
            vec![0.0],
            vec![5200.0],
            vec![5200.0, 5200.0 + 1e-12],
            vec![-1e12, 1e12],
            vec![1e300, 3.0],
            vec![f64::MIN_POSITIVE],
        ] {
            let scale = Scale::over(values.clone(), 6);
            assert!(scale.ticks.len() >= 2, "{values:?}");
            assert!(scale.low < scale.high, "{values:?}");
            assert!(scale.ticks.iter().all(|tick| tick.is_finite()));
        }
    }

    #[test]
    fn law_launch_speeds_get_the_ticks_a_tachometer_has() {
        let scale = Scale::over([2500.0, 7500.0], 6);
        assert_eq!(
            scale.labels(),
            ["2000", "3000", "4000", "5000", "6000", "7000", "8000"]
        );
    }

    #[test]
    fn law_decimals_write_the_step_and_no_more() {
        assert_eq!(decimals_of(2.5), 1);
        assert_eq!(decimals_of(0.025), 3);
        assert_eq!(decimals_of(500.0), 0);
        assert_eq!(decimals_of(0.1), 1);
    }
}
