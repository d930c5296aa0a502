//! A simulated driver holding an engine speed: why a light wheel is harder to hold steady.

use super::chances::launch_sd_factor;
use super::summary::standard_deviation;
use approx::assert_relative_eq;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use statrs::distribution::{ContinuousCDF, Normal};

/// A driver who closes the loop at `crossover_rad_s` with a delay, against a torque that wanders
/// with a standard deviation and a rate (Ornstein–Uhlenbeck).
struct Operator {
    crossover_rad_s: f64,
    delay_s: f64,
    torque_sd_nm: f64,
    torque_rate_per_s: f64,
}

const OPERATOR: Operator = Operator {
    crossover_rad_s: 3.0,
    delay_s: 0.2,
    torque_sd_nm: 10.0,
    torque_rate_per_s: 2.0,
};

impl Operator {
    /// Standard deviation of the speed, rad/s, in closed form: `(σT/J) √F2`, from
    /// `ω/Td = 1/(J (s + ωc e^(−τs)))` (McRuer & Krendel's crossover model; the integral recomputed
    /// independently; F2(3, 0.25, 2) = 0.11422816 and F2(3, 0, 2) = 1/15 are held below).
    fn speed_sd(&self, inertia_kg_m2: f64) -> f64 {
        self.torque_sd_nm / inertia_kg_m2 * self.spread().sqrt()
    }

    fn spread(&self) -> f64 {
        let (a, tau, lambda) = (self.crossover_rad_s, self.delay_s, self.torque_rate_per_s);
        let decayed = a * (-lambda * tau).exp();
        let (sine, cosine) = (a * tau).sin_cos();
        (lambda / a * (1.0 + sine) / cosine + (decayed - lambda) / (decayed + lambda))
            / (a * a + lambda * lambda)
    }

    /// The same by driving the engine for a while: exact steps of the torque, small steps of the
    /// speed, a line of past speeds for the delay.
    fn simulated_speed_sd(&self, inertia_kg_m2: f64, seconds: f64) -> f64 {
        const STEP_S: f64 = 0.002;
        let mut random = ChaCha8Rng::seed_from_u64(20);
        let normal = Normal::standard();
        let keeps = (-self.torque_rate_per_s * STEP_S).exp();
        let fresh = self.torque_sd_nm * (1.0 - keeps * keeps).sqrt();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some hundred steps"
        )]
        let mut past = vec![0.0; (self.delay_s / STEP_S).round() as usize];
        let (mut torque, mut speed, mut slot) = (0.0, 0.0, 0);
        let mut speeds = Vec::new();
        let mut time_s = 0.0;
        while time_s < seconds {
            let uniform = (f64::from(random.next_u32()) + 0.5) / 4_294_967_296.0;
            torque = keeps * torque + fresh * normal.inverse_cdf(uniform);
            let seen = std::mem::replace(&mut past[slot], speed);
            slot = (slot + 1) % past.len();
            speed += STEP_S * (torque / inertia_kg_m2 - self.crossover_rad_s * seen);
            speeds.push(speed);
            time_s += STEP_S;
        }
        standard_deviation(&speeds)
    }
}

#[test]
fn reference_closed_form_of_the_operators_spread() {
    let spread = |delay_s| {
        Operator {
            delay_s,
            ..OPERATOR
        }
        .spread()
    };
    assert_relative_eq!(spread(0.25), 0.114_228_16, max_relative = 1e-7);
    assert_relative_eq!(spread(0.0), 1.0 / 15.0, max_relative = 1e-12);
}

/// 298.068, 198.712, 149.034, 99.356 rpm at 0.10, 0.15, 0.20, 0.30 kg·m² (recomputed), and a
/// simulation within 3 %: 4,000 s hold some 5,000 independent swings, 1 % in a deviation, and the
/// steps are finite.
#[test]
fn law_the_speed_scatters_as_one_over_the_inertia() {
    for (inertia, rpm) in [
        (0.10, 298.068),
        (0.15, 198.712),
        (0.20, 149.034),
        (0.30, 99.356),
    ] {
        let sd = OPERATOR.speed_sd(inertia);
        assert_relative_eq!(sd * 30.0 / std::f64::consts::PI, rpm, max_relative = 1e-5);
        assert_relative_eq!(
            OPERATOR.simulated_speed_sd(inertia, 4000.0),
            sd,
            max_relative = 0.03
        );
        let ruled = OPERATOR.speed_sd(0.15) * launch_sd_factor(0.15, inertia, 1.0);
        assert_relative_eq!(ruled, sd, max_relative = 1e-12);
    }
}

#[test]
fn law_on_a_limiter_the_wheel_does_not_matter() {
    assert_relative_eq!(launch_sd_factor(0.2, 0.1, 0.0), 1.0);
}
