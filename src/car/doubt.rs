//! How well the values of a car are known, and cars drawn from that.
//!
//! A value of the sheet is a number and a doubt. What depends on it (the inertia of a drawn
//! flywheel, the torque of a clutch given by its clamp load) is worked out anew for each drawn
//! set of values, by the one function that worked it out for the sheet itself; so a doubt goes
//! as far as the value does, and two parts that share a cause share its draw.

use super::Car;
use crate::numerics::quantile::{normal_errors, standard_normal};
use std::fmt;
use std::sync::Arc;

/// What is known of a value besides the value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// Nothing is in doubt.
    Exact,
    /// Normal about the value stated.
    Normal {
        /// Standard deviation, in the value's SI unit.
        deviation: f64,
    },
    /// Anything between two ends, as likely at one place as at another.
    Between {
        /// Lower end, in the value's SI unit.
        low: f64,
        /// Upper end, in the value's SI unit.
        high: f64,
    },
}

impl Doubt {
    /// A doubt that one would bet on 19 to 1: the value lies within `half_width` to either side.
    pub fn bet_on(half_width: f64) -> Self {
        Self::Normal {
            deviation: half_width.abs() / normal_errors(),
        }
    }

    /// The value at a share of the probability, 0 to 1 exclusive, about a nominal value.
    pub fn quantile(&self, nominal: f64, share: f64) -> f64 {
        match *self {
            Self::Exact => nominal,
            Self::Normal { deviation } => nominal + deviation * standard_normal(share),
            Self::Between { low, high } => low + share * (high - low),
        }
    }

    /// Standard deviation, in the value's SI unit.
    pub fn deviation(&self) -> f64 {
        match *self {
            Self::Exact => 0.0,
            Self::Normal { deviation } => deviation,
            Self::Between { low, high } => (high - low) / 12_f64.sqrt(),
        }
    }

    /// Whether anything is in doubt.
    pub fn is_any(&self) -> bool {
        self.deviation() > 0.0
    }
}

/// Where a doubt comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DoubtOrigin {
    /// The sheet says it beside the value.
    Stated,
    /// The sheet gives a value and no doubt: the usual doubt of such a value.
    Usual,
    /// The sheet gives no value: a default with its doubt.
    Defaulted,
    /// The sheet says that nobody knows: a guess with a wide doubt.
    Guessed,
    /// A measurement's own budget (a swing test, a practice log).
    Measured,
    /// What a fit to time slips left open; such inputs are drawn together.
    Fitted,
}

/// One doubted input of a car.
#[derive(Debug, Clone, PartialEq)]
pub struct DoubtedInput {
    /// Its key: `tyre.grip`; for what several values share, the shared cause: `engine.torque_scale`.
    pub key: String,
    /// The value as the sheet has it, SI.
    pub nominal: f64,
    /// What is known of it.
    pub doubt: Doubt,
    /// Where that comes from.
    pub origin: DoubtOrigin,
}

/// Makes a car of one value for each doubted input; `None` where the sheet's ranges refuse them.
type Rebuild = dyn Fn(&[f64]) -> Option<Car> + Send + Sync;

/// Weighted sets of values for several inputs at once: what a fit learnt of them goes together.
#[derive(Debug, Clone, PartialEq)]
pub struct JointDraws {
    positions: Vec<usize>,
    /// Share of the weight up to and with each set, rising to 1.
    cumulative: Vec<f64>,
    sets: Vec<Vec<f64>>,
}

impl JointDraws {
    /// Sets of values for the inputs at these places, each set with its weight; `None` where
    /// there is no set, a set has another number of values than there are places, or a weight is
    /// not finite, below zero, or all are zero.
    pub fn new(positions: Vec<usize>, weighted: Vec<(f64, Vec<f64>)>) -> Option<Self> {
        let good = |(weight, set): &(f64, Vec<f64>)| {
            weight.is_finite() && *weight >= 0.0 && set.len() == positions.len()
        };
        let total: f64 = weighted.iter().map(|(weight, _)| weight).sum();
        if positions.is_empty() || total <= 0.0 || !total.is_finite() || !weighted.iter().all(good)
        {
            return None;
        }
        let mut reached = 0.0;
        let (cumulative, sets) = weighted
            .into_iter()
            .filter(|(weight, _)| *weight > 0.0)
            .map(|(weight, set)| {
                reached += weight;
                (reached / total, set)
            })
            .unzip();
        Some(Self {
            positions,
            cumulative,
            sets,
        })
    }

    /// The places of the inputs that are drawn together.
    pub fn positions(&self) -> &[usize] {
        &self.positions
    }

    /// The set at a share of the weight, 0 to 1.
    fn at(&self, share: f64) -> Option<&[f64]> {
        let at = self.cumulative.partition_point(|reached| *reached < share);
        let last = self.sets.len().checked_sub(1)?;
        self.sets.get(at.min(last)).map(Vec::as_slice)
    }
}

/// A car with what is not known of it.
#[derive(Clone)]
pub struct DoubtedCar {
    nominal: Car,
    inputs: Vec<DoubtedInput>,
    joint: Option<JointDraws>,
    rebuild: Arc<Rebuild>,
}

impl DoubtedCar {
    /// A car, its doubted inputs, and how a car is made of one value for each of them.
    pub fn new(
        nominal: Car,
        inputs: Vec<DoubtedInput>,
        rebuild: impl Fn(&[f64]) -> Option<Car> + Send + Sync + 'static,
    ) -> Self {
        Self {
            nominal,
            inputs,
            joint: None,
            rebuild: Arc::new(rebuild),
        }
    }

    /// The same with some inputs drawn together rather than each by its own doubt.
    #[must_use]
    pub fn with_joint(self, joint: JointDraws) -> Self {
        Self {
            joint: Some(joint),
            ..self
        }
    }

    /// The inputs that are drawn together, if any are.
    pub fn joint(&self) -> Option<&JointDraws> {
        self.joint.as_ref()
    }

    /// The car with every value as stated.
    pub fn nominal(&self) -> &Car {
        &self.nominal
    }

    /// What is in doubt, in the sheet's order. Inputs without doubt are not among them.
    pub fn inputs(&self) -> &[DoubtedInput] {
        &self.inputs
    }

    /// The place of an input among [`inputs`](Self::inputs), by its key.
    pub fn position(&self, key: &str) -> Option<usize> {
        self.inputs.iter().position(|input| input.key == key)
    }

    /// The car with these values, one for each input, SI; `None` where a value lies outside what
    /// a sheet may say.
    pub fn with_values(&self, values: &[f64]) -> Option<Car> {
        if values.len() == self.inputs.len() {
            (self.rebuild)(values)
        } else {
            None
        }
    }

    /// The car with these values of some inputs, by their places, SI, and all others as stated.
    pub fn with_values_at(&self, places: &[usize], values: &[f64]) -> Option<Car> {
        let mut all: Vec<f64> = self.inputs.iter().map(|input| input.nominal).collect();
        for (place, value) in places.iter().zip(values) {
            *all.get_mut(*place)? = *value;
        }
        self.with_values(&all)
    }

    /// The car drawn at these shares of the probability, 0 to 1 exclusive, one for each input.
    pub fn at_shares(&self, shares: &[f64]) -> Option<Car> {
        self.with_values(&self.values_at(shares))
    }

    /// The values at these shares of the probability, one for each input, SI. Of inputs that are
    /// drawn together the first one's share picks the set, and the others' are not looked at.
    pub fn values_at(&self, shares: &[f64]) -> Vec<f64> {
        let mut values: Vec<f64> = self
            .inputs
            .iter()
            .zip(shares)
            .map(|(input, share)| input.doubt.quantile(input.nominal, *share))
            .collect();
        let set = self.joint.as_ref().and_then(|joint| {
            let share = shares.get(*joint.positions.first()?)?;
            Some((joint, joint.at(*share)?))
        });
        if let Some((joint, set)) = set {
            for (position, drawn) in joint.positions.iter().zip(set) {
                if let Some(value) = values.get_mut(*position) {
                    *value = *drawn;
                }
            }
        }
        values
    }
}

/// Two are alike where their cars and their inputs are.
impl PartialEq for DoubtedCar {
    fn eq(&self, other: &Self) -> bool {
        self.nominal == other.nominal && self.inputs == other.inputs && self.joint == other.joint
    }
}

impl fmt::Debug for DoubtedCar {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter
            .debug_struct("DoubtedCar")
            .field("nominal", &self.nominal)
            .field("inputs", &self.inputs)
            .field("joint", &self.joint)
            .finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// A bet of 19 to 1 holds 95 % of a normal: z(0.975) = 1.959964 (normal table).
    #[test]
    fn reference_a_bet_of_19_to_1_leaves_2_5_percent_on_either_side() {
        let doubt = Doubt::bet_on(0.2);
        assert_relative_eq!(doubt.quantile(1.5, 0.975), 1.7, max_relative = 1e-9);
        assert_relative_eq!(doubt.quantile(1.5, 0.025), 1.3, max_relative = 1e-9);
    }

    /// Two sets weighing 1 and 3: a quarter of the shares give the first (arithmetic).
    #[test]
    fn law_joint_draws_come_as_often_as_they_weigh_and_stay_together() {
        let input = |key: &str| DoubtedInput {
            key: key.into(),
            nominal: 0.0,
            doubt: Doubt::bet_on(1.0),
            origin: DoubtOrigin::Fitted,
        };
        let car = crate::car::sample::live_axle_saloon();
        let joint = JointDraws::new(
            vec![0, 2],
            vec![(1.0, vec![1.0, 2.0]), (3.0, vec![3.0, 4.0])],
        )
        .unwrap();
        let doubted = DoubtedCar::new(car, vec![input("a"), input("b"), input("c")], |_| None)
            .with_joint(joint);
        let draws: Vec<Vec<f64>> = (0..100_u32)
            .map(|i| doubted.values_at(&[(f64::from(i) + 0.5) / 100.0, 0.5, 0.9]))
            .collect();
        let firsts = draws
            .iter()
            .filter(|set| (set[0] - 1.0).abs() < f64::EPSILON)
            .count();
        assert_eq!(firsts, 25);
        assert!(
            draws
                .iter()
                .all(|set| (set[2] - set[0] - 1.0).abs() < f64::EPSILON
                    && set[1].abs() < f64::EPSILON)
        );
        assert!(JointDraws::new(vec![0], vec![(0.0, vec![1.0])]).is_none());
        assert!(JointDraws::new(vec![0], vec![(1.0, vec![])]).is_none());
    }

    /// Standard deviation of a rectangular distribution: half-width over √3 (JCGM 100, 4.3.7).
    #[test]
    fn reference_rectangular_deviation() {
        let doubt = Doubt::Between {
            low: 0.7,
            high: 0.9,
        };
        assert_relative_eq!(doubt.deviation(), 0.1 / 3_f64.sqrt(), max_relative = 1e-12);
    }
}
