//! Does the 95 % range hold the truth in 95 of 100 tests?

use super::*;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use statrs::distribution::{ContinuousCDF, Normal};

/// Simulated swing tests.
const TRIALS: u32 = 10_000;

/// The share found in this many trials has a standard deviation of `√(0.95 · 0.05/10 000)`,
/// 0.22 %; three of them.
const TOLERANCE: f64 = 3.0 * 0.0022;

struct Draws {
    random: ChaCha8Rng,
    normal: Normal,
}

impl Draws {
    /// A normal draw about a value.
    fn about(&mut self, value: f64, sd: f64) -> f64 {
        // 53 random bits, never 0 or 1.
        let share = (f64::from_bits(self.random.next_u64() >> 12 | 0x3FF0_0000_0000_0000) - 1.0)
            .clamp(1e-16, 1.0 - 1e-16);
        value + sd * self.normal.inverse_cdf(share)
    }

    fn measured(&mut self, truth: f64, sd: f64) -> Measured {
        Measured::standard(self.about(truth, sd), sd)
    }

    /// Splits of a run, every press late by the same fifth of a second and its own scatter.
    fn splits(&mut self, period_s: f64, reaction_sd_s: f64) -> Timing {
        const DELAY_S: f64 = 0.2;
        const EVERY: u32 = 5;
        const LAST: u32 = 50;
        Timing::Splits {
            splits: (0..=LAST / EVERY)
                .map(|index| Split {
                    swing: index * EVERY,
                    time_s: self
                        .about(period_s * f64::from(index * EVERY) + DELAY_S, reaction_sd_s),
                })
                .collect(),
            reaction_sd_s: None,
        }
    }
}

/// Uncertainties of one kind of workshop.
struct Workshop {
    radius_sd_m: f64,
    length_sd_m: f64,
    mass_sd_kg: f64,
    reaction_sd_s: f64,
    amplitude_rad: f64,
}

/// Share of simulated tests whose 95 % range holds the true inertia.
fn coverage(workshop: &Workshop, trials: u32) -> f64 {
    const RADIUS_M: f64 = 0.120;
    const LENGTH_M: f64 = 1.500;
    const PART_KG: f64 = 6.9;
    const PLATFORM_KG: f64 = 1.1;
    const PART_KG_M2: f64 = 0.085;
    const PLATFORM_KG_M2: f64 = 0.012;
    let mut draws = Draws {
        random: ChaCha8Rng::seed_from_u64(20),
        normal: Normal::standard(),
    };
    let period = |mass: f64, inertia: f64| {
        let hung = Hung::new(mass, inertia, RADIUS_M, LENGTH_M);
        hung.small_swing_s() * hung.stretch(workshop.amplitude_rad)
    };
    let loaded_s = period(PART_KG + PLATFORM_KG, PART_KG_M2 + PLATFORM_KG_M2);
    let empty_s = period(PLATFORM_KG, PLATFORM_KG_M2);
    let amplitude = Amplitude::Told(Measured::exact(workshop.amplitude_rad));
    let held = (0..trials)
        .filter(|_| {
            let test = SwingMeasurement {
                cords: count(3),
                radius_m: draws.measured(RADIUS_M, workshop.radius_sd_m),
                length_m: draws.measured(LENGTH_M, workshop.length_sd_m),
                mass_kg: draws.measured(PART_KG, workshop.mass_sd_kg),
                timing: draws.splits(loaded_s, workshop.reaction_sd_s),
                amplitude,
                platform: Some(PlatformSwing {
                    mass_kg: draws.measured(PLATFORM_KG, workshop.mass_sd_kg),
                    timing: draws.splits(empty_s, workshop.reaction_sd_s),
                    amplitude,
                }),
                gravity_m_s2: Measured::exact(9.806_65),
            };
            let result = test.analyse().unwrap().inertia_kg_m2.result;
            let range = result.interval(ninety_five());
            (range.low..=range.high).contains(&PART_KG_M2)
        })
        .count();
    f64::from(u32::try_from(held).unwrap()) / f64::from(trials)
}

fn assert_covers(workshop: &Workshop, trials: u32, tolerance: f64) {
    let share = coverage(workshop, trials);
    assert!((share - 0.95).abs() < tolerance, "{share}");
}

/// A clumsy stopwatch and good lengths: all of it is timing, known from eleven splits each.
#[test]
fn law_the_range_holds_when_the_stopwatch_is_what_is_poor() {
    assert_covers(
        &Workshop {
            radius_sd_m: 0.0,
            length_sd_m: 0.0,
            mass_sd_kg: 0.0,
            reaction_sd_s: 0.3,
            amplitude_rad: 0.0,
        },
        TRIALS,
        TOLERANCE,
    );
}

/// Everything is poor alike.
#[test]
fn law_the_range_holds_when_everything_is_poor_alike() {
    assert_covers(
        &Workshop {
            radius_sd_m: 0.0003,
            length_sd_m: 0.003,
            mass_sd_kg: 0.03,
            reaction_sd_s: 0.15,
            amplitude_rad: 0.0,
        },
        TRIALS,
        TOLERANCE,
    );
}

/// Large swings, corrected: fewer trials, each takes longer. Tolerance: three binomial standard
/// deviations at 1,000, 2.1 %.
#[test]
fn law_the_range_holds_with_large_swings_corrected() {
    assert_covers(
        &Workshop {
            radius_sd_m: 0.0003,
            length_sd_m: 0.003,
            mass_sd_kg: 0.03,
            reaction_sd_s: 0.15,
            amplitude_rad: 0.25,
        },
        1_000,
        0.021,
    );
}
