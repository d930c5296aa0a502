//! Inertia of what goes up and down: pistons and rods.

use super::checked::{NonNegative, Positive};
use std::num::NonZeroU32;

/// Pistons and rods of an engine; masses of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reciprocating {
    /// Stroke, m.
    pub stroke_m: Positive,
    /// How many cylinders.
    pub cylinders: NonZeroU32,
    /// Rod's mass at its small end, kg: the scales under that end, the rod level.
    pub rod_small_end_kg: NonNegative,
    /// Piston with rings and pin, kg.
    pub piston_kg: Positive,
    /// Rod's mass at its big end with the bearing, kg.
    pub rod_big_end_kg: Positive,
}

impl Reciprocating {
    /// Mean inertia about the crank axis, kg·m²: `cylinders · r² · (m_rotating + ½ m_reciprocating)`,
    /// `r` half the stroke.
    ///
    /// What turns with the crank pin counts in full. A piston's speed is `r ω sin φ` (rod long
    /// against the throw), the mean of its square over a turn half of the pin's: so it counts by
    /// half. It is a mean: the inertia swings about it twice a turn, which a launch of many turns
    /// does not feel. Source: the usual treatment of an engine's equivalent inertia, as in
    /// texts on torsional vibration (from memory); the half is derived in the tests.
    pub fn inertia_kg_m2(&self) -> f64 {
        let throw_m = self.stroke_m.get() / 2.0;
        let reciprocating_kg = self.piston_kg.get() + self.rod_small_end_kg.get();
        let each_kg = self.rod_big_end_kg.get() + reciprocating_kg / 2.0;
        f64::from(self.cylinders.get()) * throw_m.powi(2) * each_kg
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::TAU;

    /// The piston's kinetic energy over a turn, summed step by step (midpoint rule, exact for a
    /// sine to round-off), against the mean inertia of a massless rod's ends.
    #[test]
    fn reference_a_piston_counts_by_half() {
        let positive = |value| Positive::new(value).unwrap();
        let parts = Reciprocating {
            stroke_m: positive(0.086),
            cylinders: NonZeroU32::new(5).unwrap(),
            rod_small_end_kg: NonNegative::new(0.17).unwrap(),
            piston_kg: positive(0.43),
            rod_big_end_kg: positive(0.40),
        };
        let steps = 360_u32;
        let speed = |i: u32| 0.043 * (TAU * (f64::from(i) + 0.5) / f64::from(steps)).sin();
        let mean_square: f64 = (0..steps).map(|i| speed(i).powi(2)).sum::<f64>() / f64::from(steps);
        let by_energy = 5.0 * ((0.17 + 0.43) * mean_square + 0.40 * 0.043_f64.powi(2));
        assert_relative_eq!(parts.inertia_kg_m2(), by_energy, max_relative = 1e-12);
    }
}
