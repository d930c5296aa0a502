//! What the size of the swing does to its time.

use crate::car::constants::STANDARD_GRAVITY_M_S2;
use std::f64::consts::{FRAC_PI_2, PI};

/// Twist to either side that a swing test should stay within, rad (10°): it makes the time 0.2 %
/// longer and the inertia 0.4 % larger if not allowed for.
pub const ADVISED_AMPLITUDE_RAD: f64 = 10.0 * PI / 180.0;

/// Twist to either side beyond which no correction is made, rad (45°): the cords slacken or twang
/// and damping is no longer small. Our own choice.
pub const MOST_AMPLITUDE_RAD: f64 = 45.0 * PI / 180.0;

/// Points of the quadrature: the integrand is periodic and smooth, so equal steps converge
/// faster than any power; at 45° this many give round-off.
const POINTS: u32 = 32;

/// All that hangs on the cords.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hung {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Inertia about the vertical through its middle, kg·m².
    pub inertia_kg_m2: f64,
    /// Radius of the cords' circles, m.
    pub radius_m: f64,
    /// Length of the cords, m.
    pub length_m: f64,
    /// Free fall, m/s².
    pub gravity_m_s2: f64,
}

impl Hung {
    /// The same under standard gravity.
    pub fn new(mass_kg: f64, inertia_kg_m2: f64, radius_m: f64, length_m: f64) -> Self {
        Self {
            mass_kg,
            inertia_kg_m2,
            radius_m,
            length_m,
            gravity_m_s2: STANDARD_GRAVITY_M_S2,
        }
    }

    /// Time of one full small swing, s: `T0 = 2π √(I L/(m g r²))`.
    pub fn small_swing_s(&self) -> f64 {
        2.0 * PI
            * (self.inertia_kg_m2 * self.length_m
                / (self.mass_kg * self.gravity_m_s2 * self.radius_m.powi(2)))
            .sqrt()
    }

    /// Time of a swing of amplitude `A`, rad to either side, over that of a small one; not a
    /// number where the cords do not reach.
    ///
    /// With twist `φ`, the cords' vertical reach is `h(φ) = √(L² − 4r² sin²(φ/2))`, and energy
    /// gives `½ (I + m h'²) φ'² = m g (h(φ) − h(A))`. With `sin(φ/2) = sin(A/2) sin θ` the
    /// quarter swing is the integral over `θ` of a smooth periodic function, summed at equal
    /// steps. The vertical motion's energy is in it.
    /// Source: from Lagrange's equation; its series is that of [`Hung::stretch_series`]. Published
    /// treatments: P. F. Hinrichsen, *Analysis of Bi and Trifilar Suspension Oscillations* (2015);
    /// Kane & Tseng, Int. J. Mech. Sci. 9 (1967) 83 (from memory).
    /// Validity: cords vertical and equal, mass centre on the axis, no damping.
    pub fn stretch(&self, amplitude_rad: f64) -> f64 {
        let (r, l) = (self.radius_m, self.length_m);
        let most = (amplitude_rad / 2.0).sin();
        let reach = |half_sine: f64| (l * l - 4.0 * r * r * half_sine * half_sine).sqrt();
        let lowest = reach(most);
        let mean: f64 = (0..POINTS)
            .map(|index| {
                let theta = FRAC_PI_2 * (f64::from(index) + 0.5) / f64::from(POINTS);
                let half_sine = most * theta.sin();
                let cosine_square = 1.0 - half_sine * half_sine;
                let height = reach(half_sine);
                // h' = −r² sin φ / h
                let rise = 2.0 * r * r * half_sine * cosine_square.sqrt() / height;
                let inertia = self.inertia_kg_m2 + self.mass_kg * rise * rise;
                (inertia / self.inertia_kg_m2 * (height + lowest) / (2.0 * l) / cosine_square)
                    .sqrt()
            })
            .sum();
        mean / f64::from(POINTS)
    }

    /// The same by its series, `1 + A² [1/16 − 3r²/(16L²) + m r⁴/(4 I L²)] + O(A⁴)`.
    pub fn stretch_series(&self, amplitude_rad: f64) -> f64 {
        let (r, l) = (self.radius_m, self.length_m);
        1.0 + amplitude_rad.powi(2)
            * (1.0 / 16.0 - 3.0 * r * r / (16.0 * l * l)
                + self.mass_kg * r.powi(4) / (4.0 * self.inertia_kg_m2 * l * l))
    }

    /// Inertia whose swing of an amplitude, rad, takes `period_s`, s:
    /// `m g r² T²/(4π² L)` over the square of its own stretch, found by repetition.
    /// Not a number where the cords do not reach.
    pub(super) fn inertia_for(self, period_s: f64, amplitude_rad: f64) -> f64 {
        /// The stretch hardly depends on the inertia, so each turn gains two digits or more.
        const TURNS: u32 = 40;
        let small = self.mass_kg * self.gravity_m_s2 * self.radius_m.powi(2) * period_s.powi(2)
            / (4.0 * PI.powi(2) * self.length_m);
        if amplitude_rad == 0.0 {
            return small;
        }
        let mut inertia_kg_m2 = small;
        for _ in 0..TURNS {
            let next = small
                / Self {
                    inertia_kg_m2,
                    ..self
                }
                .stretch(amplitude_rad)
                .powi(2);
            if !next.is_finite() || (next - inertia_kg_m2).abs() <= f64::EPSILON * next {
                return next;
            }
            inertia_kg_m2 = next;
        }
        inertia_kg_m2
    }
}

/// The one amplitude that stretches the time as a swing does that dies down from one to another,
/// rad: the root mean square of an exponential decay, `√((A² − B²)/(2 ln(A/B)))`.
pub fn mean_amplitude_rad(first_rad: f64, last_rad: f64) -> f64 {
    /// Amplitudes this near count as equal: the quotient would be round-off.
    const EQUAL: f64 = 1e-6;
    let (a, b) = (first_rad.max(last_rad), first_rad.min(last_rad));
    if b <= 0.0 || a / b - 1.0 < EQUAL {
        return f64::midpoint(a, b);
    }
    ((a * a - b * b) / (2.0 * (a / b).ln())).sqrt()
}
