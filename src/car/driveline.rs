//! Gearbox, final drive and what turns with them.

use super::checked::{Efficiency, NonNegative, Positive};
use thiserror::Error;

/// Driveline efficiency where the sheet is silent (common practice, no source).
pub const DEFAULT_EFFICIENCY: f64 = 0.94;
/// Time the clutch is open in a shift, s, where the sheet is silent (common practice, no source).
pub const DEFAULT_SHIFT_TIME_S: f64 = 0.25;
/// Time the clutch takes to come home after a shift, s (common practice, no source).
pub const DEFAULT_SHIFT_ENGAGE_S: f64 = 0.08;
/// Time the throttle takes to open after a shift, s (common practice, no source).
pub const DEFAULT_SHIFT_THROTTLE_S: f64 = 0.05;

/// Gear ratios, first gear first, each below the one before.
#[derive(Debug, Clone, PartialEq)]
pub struct Ratios(Vec<Positive>);

/// Why numbers are no set of gear ratios.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum RatioError {
    /// No gears.
    #[error("there are no gear ratios")]
    Empty,
    /// A gear is not higher than the one before.
    #[error("ratio {} is not below the one before it", index + 1)]
    NotFalling {
        /// Index of the offending ratio.
        index: usize,
    },
}

impl Ratios {
    /// Ratios from first gear up.
    ///
    /// # Errors
    /// When empty or not strictly falling.
    pub fn new(ratios: Vec<Positive>) -> Result<Self, RatioError> {
        if ratios.is_empty() {
            return Err(RatioError::Empty);
        }
        for (index, pair) in ratios.windows(2).enumerate() {
            if let [before, after] = pair
                && after.get() >= before.get()
            {
                return Err(RatioError::NotFalling { index: index + 1 });
            }
        }
        Ok(Self(ratios))
    }

    /// The ratios in order.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = f64> + '_ {
        self.0.iter().map(|ratio| ratio.get())
    }

    /// The first gear's ratio.
    pub fn first(&self) -> f64 {
        self.0.first().map_or(f64::NAN, |ratio| ratio.get())
    }

    /// The same gears with another first.
    ///
    /// # Errors
    /// When the new first is not above the second.
    pub fn with_first(&self, first: Positive) -> Result<Self, RatioError> {
        Self::new(
            std::iter::once(first)
                .chain(self.0.iter().skip(1).copied())
                .collect(),
        )
    }
}

/// What the throttle does while a shift is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShiftStyle {
    /// Foot off while the clutch is open.
    Lift,
    /// Foot kept down.
    Flat,
}

/// How gears are changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// Input-shaft speed that calls the shift, rad/s.
    pub at_rad_s: Positive,
    /// Time with the clutch open, s.
    pub open_s: Positive,
    /// Time the clutch takes to come home, s.
    pub engage_s: Positive,
    /// Time the throttle takes to open again, s.
    pub throttle_s: Positive,
    /// Foot off or kept down.
    pub style: ShiftStyle,
}

/// From the input shaft to the wheels.
#[derive(Debug, Clone, PartialEq)]
pub struct Driveline {
    /// Gear ratios.
    pub ratios: Ratios,
    /// Final-drive ratio.
    pub final_drive: Positive,
    /// Share of the torque that reaches the wheels.
    pub efficiency: Efficiency,
    /// Inertia of the input-shaft train, at input-shaft speed, without the clutch disc, kg·m².
    pub input_inertia_kg_m2: NonNegative,
    /// Inertia of the propeller shaft, kg·m².
    pub propshaft_inertia_kg_m2: NonNegative,
    /// How gears are changed.
    pub shift: Shift,
}

impl Driveline {
    /// Overall ratios, engine to wheels, first gear first.
    pub fn overall_ratios(&self) -> impl ExactSizeIterator<Item = f64> + '_ {
        let final_drive = self.final_drive.get();
        self.ratios.iter().map(move |ratio| ratio * final_drive)
    }
}

/// Mass that a rotating inertia is worth to the car while the clutch is home, kg: `e J G²/R²`,
/// with the ratio `G` between it and the wheels, the share `e` of its torque that reaches them
/// (the driveline's efficiency for what turns at engine or input-shaft speed, 1 for what turns
/// behind the gearbox) and the tyre radius `R` in m.
///
/// The locked car's equation of motion, `(Jd + η G² Je) ω̇w = η G Te − Fx R`, has it so: a
/// driveline that loses torque on its way out also passes on less of what a spinning part takes.
/// Catalogues print `J G²/R²`, which leaves `e` out.
pub fn equivalent_mass_kg(
    inertia_kg_m2: f64,
    ratio: f64,
    share_reaching_wheels: f64,
    tyre_radius_m: f64,
) -> f64 {
    share_reaching_wheels * inertia_kg_m2 * (ratio / tyre_radius_m).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn ratios(list: &[f64]) -> Result<Ratios, RatioError> {
        Ratios::new(list.iter().map(|&r| Positive::new(r).unwrap()).collect())
    }

    #[test]
    fn law_ratios_must_fall() {
        assert_eq!(
            ratios(&[3.0, 3.2]),
            Err(RatioError::NotFalling { index: 1 })
        );
        assert_eq!(ratios(&[]), Err(RatioError::Empty));
        assert!(ratios(&[3.0, 2.0, 1.0]).is_ok());
    }

    /// J N²/r² for J 0.2 kg·m², N 12.5, r 0.32 m is 305.17578 kg (plain mechanics, recomputed);
    /// 0.94 of it 286.86523 kg.
    #[test]
    fn reference_equivalent_mass() {
        for (share, kg) in [(1.0, 305.175_78), (0.94, 286.865_23)] {
            assert_relative_eq!(
                equivalent_mass_kg(0.2, 12.5, share, 0.32),
                kg,
                max_relative = 2e-8
            );
        }
    }
}
