//! The lowest value of a function between two abscissae.

/// The golden section's smaller part.
const GOLDEN: f64 = 0.381_966_011_250_105_1;

/// A place and the function's value there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lowest {
    /// The abscissa.
    pub at: f64,
    /// The value.
    pub value: f64,
}

/// Golden-section search (Kiefer 1953, from memory) between `low` and `high`, until they are
/// `near_enough`: the lowest value met, `known` included. Right for a function with one dip in
/// between; of several it finds one.
///
/// # Errors
/// The first error of the function.
pub fn lowest_between<E>(
    (mut low, mut high): (f64, f64),
    near_enough: f64,
    known: Option<Lowest>,
    mut function: impl FnMut(f64) -> Result<f64, E>,
) -> Result<Lowest, E> {
    let mut try_at = |at: f64| function(at).map(|value| Lowest { at, value });
    let mut left = try_at(low + GOLDEN * (high - low))?;
    let mut right = try_at(high - GOLDEN * (high - low))?;
    let mut best = known.unwrap_or(left);
    loop {
        for tried in [left, right] {
            if tried.value < best.value {
                best = tried;
            }
        }
        if high - low < near_enough {
            return Ok(best);
        }
        if left.value <= right.value {
            high = right.at;
            right = left;
            left = try_at(low + GOLDEN * (high - low))?;
        } else {
            low = left.at;
            left = right;
            right = try_at(high - GOLDEN * (high - low))?;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    /// A kink at 0.3: the search ends within what it was asked for.
    #[test]
    fn reference_foot_of_a_kink() {
        let found = lowest_between((0.0, 1.0), 1e-6, None, |x: f64| {
            Ok::<_, Infallible>((x - 0.3).abs())
        });
        assert!((found.unwrap().at - 0.3).abs() < 1e-6);
    }

    #[test]
    fn law_what_is_known_is_kept_where_nothing_lower_is_met() {
        let known = Lowest {
            at: 9.0,
            value: -1.0,
        };
        let found = lowest_between((0.0, 1.0), 0.1, Some(known), |_| Ok::<_, Infallible>(0.0));
        assert_eq!(found.unwrap(), known);
    }
}
