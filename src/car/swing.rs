//! Inertia from a pendulum: a part hung on cords and timed.

use super::checked::{NonNegative, Positive};
use super::constants::STANDARD_GRAVITY_M_S2;
use std::f64::consts::PI;
use std::num::NonZeroU32;
use thiserror::Error;

/// A two- or three-cord swing test, empty platform measured the same way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SwingTest {
    /// Number of cords, 2 or more; it does not enter the arithmetic.
    pub cords: NonZeroU32,
    /// Radius of the circle the cords hang on, m.
    pub radius_m: Positive,
    /// Length of the cords, m (vertical distance between their fixings).
    pub length_m: Positive,
    /// Mass of the part alone, kg.
    pub mass_kg: Positive,
    /// Time of one full swing with the part, s.
    pub period_s: Positive,
    /// The empty platform, if there was one.
    pub platform: Option<Platform>,
    /// How well it was measured, as far as that is told.
    pub precision: Precision,
}

/// How well a swing test was measured; `None` where it is not told.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Precision {
    /// The cord circle's radius lies within ± this, m.
    pub radius_within_m: Option<Positive>,
    /// The cords' length lies within ± this, m.
    pub length_within_m: Option<Positive>,
    /// Each mass lies within ± this, kg.
    pub mass_within_kg: Option<Positive>,
    /// Swings counted between two presses of the stopwatch.
    pub swings: Option<NonZeroU32>,
    /// Scatter of one press, standard deviation, s.
    pub reaction_sd_s: Option<Positive>,
    /// Twist to either side, rad.
    pub amplitude_rad: Option<NonNegative>,
}

/// The empty platform of a swing test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Platform {
    /// Its mass, kg.
    pub mass_kg: Positive,
    /// Time of one full swing of it alone, s.
    pub period_s: Positive,
}

/// Inertia of all that hangs, kg·m²: `J = M g R² T² / (4π² L)`, small swings,
/// cords vertical and equal, centre of mass on the axis.
/// Source: standard bifilar/trifilar theory, as in any text on the theory of
/// machines (form checked against worked examples in the tests).
pub fn hung_inertia_kg_m2(mass_kg: f64, radius_m: f64, length_m: f64, period_s: f64) -> f64 {
    mass_kg * STANDARD_GRAVITY_M_S2 * radius_m.powi(2) * period_s.powi(2)
        / (4.0 * PI.powi(2) * length_m)
}

impl SwingTest {
    /// A test whose part comes out with an inertia above zero.
    ///
    /// # Errors
    /// When the platform alone has as much inertia as platform and part together.
    pub fn checked(self) -> Result<Self, SwingError> {
        let part = self.inertia_kg_m2();
        if part > 0.0 {
            Ok(self)
        } else {
            Err(SwingError {
                inertia_kg_m2: part,
            })
        }
    }

    /// Inertia of the part alone, kg·m².
    pub fn inertia_kg_m2(&self) -> f64 {
        let (r, l) = (self.radius_m.get(), self.length_m.get());
        let platform_mass = self.platform.map_or(0.0, |p| p.mass_kg.get());
        let platform_inertia = self.platform.map_or(0.0, |p| {
            hung_inertia_kg_m2(p.mass_kg.get(), r, l, p.period_s.get())
        });
        hung_inertia_kg_m2(
            self.mass_kg.get() + platform_mass,
            r,
            l,
            self.period_s.get(),
        ) - platform_inertia
    }
}

/// The swing test leaves no inertia for the part.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("the empty platform comes out with as much inertia as platform and part together")]
pub struct SwingError {
    /// What would be left for the part, kg·m² (not positive).
    pub inertia_kg_m2: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn positive(value: f64) -> Positive {
        Positive::new(value).unwrap()
    }

    /// Khurmi & Gupta, *Theory of Machines*, ch. 4, a trifilar wheel (example number
    /// not checked): cords 2.5 m on 0.25 m radius, 50 swings in 170 s give k = 268 mm.
    /// The book takes g = 9.81, so its k is brought to our g. Tolerance: the exact
    /// figure has eight digits.
    #[test]
    fn reference_trifilar_wheel_of_a_textbook() {
        const BOOK_GRAVITY: f64 = 9.81;
        let inertia = hung_inertia_kg_m2(1.0, 0.25, 2.5, 170.0 / 50.0);
        let k = (inertia * BOOK_GRAVITY / STANDARD_GRAVITY_M_S2).sqrt();
        assert_relative_eq!(k, 0.267_980_72, max_relative = 1e-7);
    }

    /// A bifilar rod of a textbook-type question: 1.5 kg, L 1.25 m, half-span 0.12 m,
    /// 20 swings in 40 s, g 9.81: I = 0.017175643 kg·m² (recomputed; printed 0.017).
    #[test]
    fn reference_bifilar_rod_of_a_textbook() {
        let inertia = hung_inertia_kg_m2(1.5, 0.12, 1.25, 2.0) * 9.81 / STANDARD_GRAVITY_M_S2;
        assert_relative_eq!(inertia, 0.017_175_643, max_relative = 1e-7);
    }

    #[test]
    fn law_a_loaded_platform_may_swing_faster_than_the_empty_one() {
        let test = SwingTest {
            cords: NonZeroU32::new(3).unwrap(),
            radius_m: positive(0.12),
            length_m: positive(1.5),
            mass_kg: positive(6.9),
            period_s: positive(1.234),
            platform: Some(Platform {
                mass_kg: positive(1.1),
                period_s: positive(1.61),
            }),
            precision: Precision::default(),
        };
        assert!(test.checked().unwrap().inertia_kg_m2() > 0.0);
    }

    #[test]
    fn law_a_platform_with_more_inertia_than_the_whole_is_refused() {
        let test = SwingTest {
            cords: NonZeroU32::new(2).unwrap(),
            radius_m: positive(0.12),
            length_m: positive(1.5),
            mass_kg: positive(0.1),
            period_s: positive(1.0),
            platform: Some(Platform {
                mass_kg: positive(5.0),
                period_s: positive(2.0),
            }),
            precision: Precision::default(),
        };
        assert!(test.checked().is_err());
    }
}
