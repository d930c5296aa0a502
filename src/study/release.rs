//! Release practised too: where the driver may choose how long to let the clutch out, each
//! flywheel is driven with the release that suits it.

use crate::car::Car;

/// Releases tried over the range before the best is refined, evenly spaced in their logarithm: a
/// range of 0.15 to 0.80 s in steps of a third.
const TRIED: u32 = 7;

/// Stretches of the sheet's release to try; the sheet's own alone where no range is given.
pub fn stretches(car: &Car) -> Vec<f64> {
    let own_s = car.clutch.release.last_corner_s();
    let Some(range) = car.driver.release_range.filter(|_| own_s > 0.0) else {
        return vec![1.0];
    };
    let (low, high) = (
        (range.quickest_s() / own_s).ln(),
        (range.slowest_s() / own_s).ln(),
    );
    (0..TRIED)
        .map(|i| (low + (high - low) * f64::from(i) / f64::from(TRIED - 1)).exp())
        .collect()
}

/// The stretch with the lowest time of several tried, (stretch, s) by rising stretch, evenly
/// spaced in their logarithm: the foot of the parabola through the best and its neighbours, the
/// end of the range where the best lies there. `None` where no time is a number.
pub fn best_stretch(tried: &[(f64, f64)]) -> Option<f64> {
    let (index, best) = tried
        .iter()
        .enumerate()
        .filter(|(_, (_, time_s))| time_s.is_finite())
        .min_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    let neighbour = |at: Option<usize>| at.and_then(|at| tried.get(at)).copied();
    let sides = neighbour(index.checked_sub(1)).zip(neighbour(index.checked_add(1)));
    let Some((before, after)) = sides.filter(|(b, a)| b.1.is_finite() && a.1.is_finite()) else {
        return Some(best.0);
    };
    let (left, right) = (before.1 - best.1, after.1 - best.1);
    let off = if left + right > 0.0 {
        (left - right) / (left + right) / 2.0
    } else {
        0.0
    };
    let step = (after.0 / best.0).ln();
    Some(best.0 * (step * off).exp())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::driver::ReleaseRange;
    use crate::car::sample::live_axle_saloon;
    use approx::assert_relative_eq;

    /// A parabola in the logarithm has its foot found exactly; a slope its end.
    #[test]
    fn reference_the_foot_of_a_parabola() {
        let tried = |foot: f64| -> Vec<(f64, f64)> {
            (0..7)
                .map(|i| 0.5 * 1.3_f64.powi(i))
                .map(|s| (s, 2.0 + (s / foot).ln().powi(2)))
                .collect()
        };
        assert_relative_eq!(
            best_stretch(&tried(1.1)).unwrap(),
            1.1,
            max_relative = 1e-12
        );
        assert_relative_eq!(
            best_stretch(&tried(0.1)).unwrap(),
            0.5,
            max_relative = 1e-12
        );
        assert!(best_stretch(&[(1.0, f64::INFINITY)]).is_none());
    }

    #[test]
    fn law_without_a_range_the_sheets_own_release_is_the_only_one() {
        let mut car = live_axle_saloon();
        assert_eq!(stretches(&car), vec![1.0]);
        car.driver.release_range = ReleaseRange::new(0.15, 0.8);
        let own_s = car.clutch.release.last_corner_s();
        let tried = stretches(&car);
        assert_relative_eq!(tried[0] * own_s, 0.15, max_relative = 1e-12);
        assert_relative_eq!(tried[tried.len() - 1] * own_s, 0.8, max_relative = 1e-12);
    }
}
