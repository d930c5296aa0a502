//! One step of a stepper, and the states within it.

use super::State;

/// The last coefficient of the dense output over the step's length, of the rates of the stages
/// 1, 3, 4, 5, 6, 7 (Hairer, Nørsett & Wanner I, sec. II.6, as in their program `DOPRI5`).
const LAST: [f64; 6] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// One step of a leg: its ends, and what its dense output is made of. That is worked out when
/// somebody looks into the step, which is seldom in a study.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step<const N: usize> {
    /// Start, s from the leg's start.
    pub(super) from_s: f64,
    /// Length, s.
    pub(super) length_s: f64,
    pub(super) start: State<N>,
    pub(super) end: State<N>,
    pub(super) within: Within<N>,
}

/// What is known of a step between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Within<const N: usize> {
    /// Rates of the stages 1, 3, 4, 5, 6 and 7.
    Stages([State<N>; 6]),
    /// Rates at both ends, and the state in the middle.
    Middle([State<N>; 2], State<N>),
}

/// The states within a step: the polynomial of degree 4 that goes with the Dormand–Prince pair
/// (Hairer, Nørsett & Wanner, *Solving Ordinary Differential Equations I*, sec. II.6), in the form
/// of their program: with `θ` the share of the step,
/// `y = r0 + θ (r1 + (1−θ) (r2 + θ (r3 + (1−θ) r4)))`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dense<const N: usize> {
    from_s: f64,
    length_s: f64,
    /// `r0` to `r4`.
    coefficients: [State<N>; 5],
}

impl<const N: usize> Step<N> {
    /// Its end, s from the leg's start.
    #[inline]
    pub(super) fn end_s(&self) -> f64 {
        self.from_s + self.length_s
    }

    /// State at its end.
    pub fn end(&self) -> &State<N> {
        &self.end
    }

    /// Length, s.
    pub fn length_s(&self) -> f64 {
        self.length_s
    }

    /// The states within it.
    pub fn dense(&self) -> Dense<N> {
        let h = self.length_s;
        let (rates, end_rates) = match &self.within {
            Within::Stages([rates, .., end_rates]) | Within::Middle([rates, end_rates], _) => {
                (rates, end_rates)
            }
        };
        let rise = self.end - self.start;
        let bend = rates * h - rise;
        let twist = rise - end_rates * h - bend;
        let last = match &self.within {
            Within::Stages(rates) => {
                let mut sum = State::from([0.0; N]);
                for (rates, weight) in rates.iter().zip(LAST) {
                    sum += rates * weight;
                }
                sum * h
            }
            // At half the step the last coefficient counts a sixteenth.
            Within::Middle(_, middle) => {
                let cubic = self.start + (rise + (bend + twist * 0.5) * 0.5) * 0.5;
                (middle - cubic) * 16.0
            }
        };
        Dense {
            from_s: self.from_s,
            length_s: h,
            coefficients: [self.start, rise, bend, twist, last],
        }
    }
}

impl<const N: usize> Dense<N> {
    /// State at a time, s from the leg's start, within the step.
    #[inline]
    pub(super) fn at(&self, since_start_s: f64) -> State<N> {
        self.at_share((since_start_s - self.from_s) / self.length_s)
    }

    /// State at a share of the step, 0 at its start and 1 at its end.
    #[inline]
    pub fn at_share(&self, share: f64) -> State<N> {
        let rest = 1.0 - share;
        let [start, rise, bend, twist, last] = &self.coefficients;
        start + (rise + (bend + (twist + last * rest) * share) * rest) * share
    }
}
