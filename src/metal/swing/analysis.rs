//! From what was measured to inertia and radius of gyration with their uncertainties.

use super::amplitude::{ADVISED_AMPLITUDE_RAD, Hung, MOST_AMPLITUDE_RAD};
use super::timing::{PeriodFit, Timing, TimingError};
use crate::car::constants::STANDARD_GRAVITY_M_S2;
use crate::numerics::uncertainty::{Budget, Measured, UncertaintyError, propagate};
use std::num::NonZeroU32;
use thiserror::Error;

/// Half the range of free fall between places, m/s²: 9.780 at the equator to 9.832 at the poles
/// at sea level (handbook, from memory).
pub const GRAVITY_HALF_WIDTH_M_S2: f64 = 0.026;

/// Free fall where nobody gave the place's own: standard gravity, anywhere within
/// [`GRAVITY_HALF_WIDTH_M_S2`].
pub fn standard_gravity() -> Measured {
    Measured::within(STANDARD_GRAVITY_M_S2, GRAVITY_HALF_WIDTH_M_S2)
}

/// The twist to either side during a timing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amplitude {
    /// Not told: taken as small, with a word of doubt.
    NotTold,
    /// Told, rad: see [`super::mean_amplitude_rad`] for one that dies down.
    Told(Measured),
}

/// A swing test as measured. Units SI.
#[derive(Debug, Clone, PartialEq)]
pub struct SwingMeasurement {
    /// Number of cords, 2 or 3; it does not enter the arithmetic.
    pub cords: NonZeroU32,
    /// Radius of the circle the cords hang on, above and below, m.
    pub radius_m: Measured,
    /// Length of the cords: vertical distance between their fixings, m.
    pub length_m: Measured,
    /// Mass of the part alone, kg.
    pub mass_kg: Measured,
    /// Timing of part and platform together, or of the part if there is no platform.
    pub timing: Timing,
    /// Twist during that timing.
    pub amplitude: Amplitude,
    /// The empty platform.
    pub platform: Option<PlatformSwing>,
    /// Free fall, m/s².
    pub gravity_m_s2: Measured,
}

/// The empty platform, measured the same way.
#[derive(Debug, Clone, PartialEq)]
pub struct PlatformSwing {
    /// Its mass, kg.
    pub mass_kg: Measured,
    /// Its timing.
    pub timing: Timing,
    /// Twist during that timing.
    pub amplitude: Amplitude,
}

/// An input of the swing test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Radius of the cords' circle.
    CordRadius,
    /// Length of the cords.
    CordLength,
    /// Mass of the part.
    PartMass,
    /// Time of one swing with the part.
    Period,
    /// Twist during it.
    Amplitude,
    /// Mass of the platform.
    PlatformMass,
    /// Time of one swing of the empty platform.
    PlatformPeriod,
    /// Twist during it.
    PlatformAmplitude,
    /// Free fall.
    Gravity,
}

impl Quantity {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::CordRadius,
        Self::CordLength,
        Self::PartMass,
        Self::Period,
        Self::Amplitude,
        Self::PlatformMass,
        Self::PlatformPeriod,
        Self::PlatformAmplitude,
        Self::Gravity,
    ];

    /// What programs know it by.
    pub const fn id(self) -> &'static str {
        match self {
            Self::CordRadius => "cord_radius",
            Self::CordLength => "cord_length",
            Self::PartMass => "part_mass",
            Self::Period => "period",
            Self::Amplitude => "amplitude",
            Self::PlatformMass => "platform_mass",
            Self::PlatformPeriod => "platform_period",
            Self::PlatformAmplitude => "platform_amplitude",
            Self::Gravity => "gravity",
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::CordRadius => "radius of the cords' circle",
            Self::CordLength => "length of the cords",
            Self::PartMass => "mass of the part",
            Self::Period => "time of a swing",
            Self::Amplitude => "size of the swing",
            Self::PlatformMass => "mass of the platform",
            Self::PlatformPeriod => "time of a swing of the empty platform",
            Self::PlatformAmplitude => "size of the empty platform's swing",
            Self::Gravity => "local gravity",
        }
    }
}

/// Something about a swing test that deserves a second look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SwingWarning {
    /// The size of the swing was not told; at 10° the inertia would be 0.4 % too large.
    AmplitudeNotTold,
    /// The swing is larger than advised, rad.
    LargeAmplitude(f64),
    /// A split looks like more or fewer swings than were counted, at this swing number.
    Miscounted {
        /// The swing number.
        swing: u32,
    },
    /// The splits scatter more than the presses were said to.
    ScatterAboveReaction {
        /// Scatter of the splits, standard deviation in s.
        scatter_s: f64,
        /// Scatter of a press as told, s.
        told_s: f64,
    },
    /// The platform alone has more inertia than the part.
    HeavyPlatform {
        /// Its share of all that hung.
        share: f64,
    },
}

impl SwingWarning {
    /// Short fixed name for programs.
    pub const fn id(&self) -> &'static str {
        match self {
            Self::AmplitudeNotTold => "amplitude_not_told",
            Self::LargeAmplitude(_) => "large_amplitude",
            Self::Miscounted { .. } => "miscounted",
            Self::ScatterAboveReaction { .. } => "scatter_above_reaction",
            Self::HeavyPlatform { .. } => "heavy_platform",
        }
    }
}

/// Why a swing test gives no inertia.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum SwingFailure {
    /// A timing is unusable.
    #[error("{0}")]
    Timing(#[from] TimingError),
    /// A length, mass, time or gravity is not above zero.
    #[error("the {} must be above zero", .0.words())]
    NotPositive(Quantity),
    /// The twist is below zero or larger than the correction holds for.
    #[error("the {} is {value} rad, outside 0 to 45 degrees", quantity.words())]
    AmplitudeOutOfRange {
        /// Which twist.
        quantity: Quantity,
        /// As told, rad.
        value: f64,
    },
    /// The platform has as much inertia as platform and part together.
    #[error("the empty platform comes out with as much inertia as platform and part together")]
    NoInertiaLeft {
        /// What would be left for the part, kg·m².
        inertia_kg_m2: f64,
    },
    /// The inputs are too uncertain or extreme for a number.
    #[error("{0}")]
    Uncertainty(#[from] UncertaintyError),
}

/// The result of a swing test.
#[derive(Debug, Clone, PartialEq)]
pub struct SwingAnalysis {
    /// Inertia of the part, kg·m², with what each input adds to its uncertainty.
    pub inertia_kg_m2: Budget<Quantity>,
    /// Radius of gyration of the part, m, likewise. Without a platform it does not depend on the
    /// scales.
    pub gyration_m: Budget<Quantity>,
    /// Timing with the part.
    pub period: PeriodFit,
    /// Timing of the empty platform.
    pub platform_period: Option<PeriodFit>,
    /// Time of the swings with the part over that of small swings, from the twist told.
    pub stretch: f64,
    /// What deserves a second look.
    pub warnings: Vec<SwingWarning>,
}

impl SwingMeasurement {
    /// Works the test out.
    ///
    /// Equation: `J = I(M, T1, A1) − I(m0, T0, A0)`, `I = M g R² T²/(4π² L)` over the square of
    /// the swing's stretch for its size ([`Hung::stretch`]). Uncertainty by the law of
    /// propagation, the inputs taken not to err together.
    ///
    /// # Errors
    /// When an input is out of range or nothing is left for the part.
    pub fn analyse(&self) -> Result<SwingAnalysis, SwingFailure> {
        let period = self.timing.period()?;
        let platform_period = self
            .platform
            .as_ref()
            .map(|platform| platform.timing.period())
            .transpose()?;
        let inputs = self.inputs(&period, platform_period.as_ref());
        refuse_out_of_range(&inputs)?;
        let values: Vec<f64> = inputs.iter().map(|(_, input)| input.value).collect();
        let parts = Parts::of(&values);
        let inertia = parts.part_kg_m2();
        // Written so that what is no number is refused too.
        if inertia.is_nan() || inertia <= 0.0 {
            return Err(SwingFailure::NoInertiaLeft {
                inertia_kg_m2: inertia,
            });
        }
        Ok(SwingAnalysis {
            inertia_kg_m2: propagate(&inputs, &[], |x| Parts::of(x).part_kg_m2())?,
            gyration_m: propagate(&inputs, &[], |x| Parts::of(x).gyration_m())?,
            stretch: parts.stretch(),
            warnings: self.warnings(&period, platform_period.as_ref(), &parts),
            period,
            platform_period,
        })
    }

    /// All inputs in the order that [`Parts::of`] reads; those of a platform that is not there
    /// are exact zeros.
    fn inputs(
        &self,
        period: &PeriodFit,
        platform_period: Option<&PeriodFit>,
    ) -> [(Quantity, Measured); 9] {
        let nothing = Measured::exact(0.0);
        let twist = |amplitude: Amplitude| match amplitude {
            Amplitude::NotTold => nothing,
            Amplitude::Told(measured) => measured,
        };
        let platform = self.platform.as_ref();
        [
            (Quantity::CordRadius, self.radius_m),
            (Quantity::CordLength, self.length_m),
            (Quantity::PartMass, self.mass_kg),
            (Quantity::Period, period.period_s),
            (Quantity::Amplitude, twist(self.amplitude)),
            (
                Quantity::PlatformMass,
                platform.map_or(nothing, |platform| platform.mass_kg),
            ),
            (
                Quantity::PlatformPeriod,
                platform_period.map_or(nothing, |fit| fit.period_s),
            ),
            (
                Quantity::PlatformAmplitude,
                platform.map_or(nothing, |platform| twist(platform.amplitude)),
            ),
            (Quantity::Gravity, self.gravity_m_s2),
        ]
    }

    fn warnings(
        &self,
        period: &PeriodFit,
        platform_period: Option<&PeriodFit>,
        parts: &Parts,
    ) -> Vec<SwingWarning> {
        let platform = self.platform.as_ref();
        let runs = std::iter::once((self.amplitude, &self.timing, period)).chain(
            platform
                .zip(platform_period)
                .map(|(platform, fit)| (platform.amplitude, &platform.timing, fit)),
        );
        let mut warnings = Vec::new();
        for (amplitude, timing, fit) in runs {
            match amplitude {
                Amplitude::NotTold => warnings.push(SwingWarning::AmplitudeNotTold),
                Amplitude::Told(twist) if twist.value > ADVISED_AMPLITUDE_RAD => {
                    warnings.push(SwingWarning::LargeAmplitude(twist.value));
                }
                Amplitude::Told(_) => {}
            }
            warnings.extend(
                fit.miscounted_at
                    .iter()
                    .map(|swing| SwingWarning::Miscounted { swing: *swing }),
            );
            warnings.extend(scatter_doubt(timing, fit));
        }
        let share = parts.platform_kg_m2() / parts.total_kg_m2();
        if share > 0.5 {
            warnings.push(SwingWarning::HeavyPlatform { share });
        }
        warnings
    }
}

/// A scatter of the splits over this many times the one told is a warning: with ten splits it
/// comes by chance once in ten thousand.
const SCATTER_DOUBT_RATIO: f64 = 2.0;

fn scatter_doubt(timing: &Timing, fit: &PeriodFit) -> Option<SwingWarning> {
    let Timing::Splits {
        reaction_sd_s: Some(told),
        ..
    } = timing
    else {
        return None;
    };
    let (scatter_s, told_s) = (fit.residual_sd_s?, told.get());
    (scatter_s > SCATTER_DOUBT_RATIO * told_s)
        .then_some(SwingWarning::ScatterAboveReaction { scatter_s, told_s })
}

/// Refuses inputs that no swing test can have. A platform's zeros stand for no platform.
fn refuse_out_of_range(inputs: &[(Quantity, Measured)]) -> Result<(), SwingFailure> {
    for (quantity, input) in inputs {
        let value = input.value;
        match quantity {
            Quantity::Amplitude | Quantity::PlatformAmplitude => {
                if !(0.0..=MOST_AMPLITUDE_RAD).contains(&value) {
                    return Err(SwingFailure::AmplitudeOutOfRange {
                        quantity: *quantity,
                        value,
                    });
                }
            }
            Quantity::PlatformMass | Quantity::PlatformPeriod if value == 0.0 => {}
            _ if value.is_finite() && value > 0.0 => {}
            _ => return Err(SwingFailure::NotPositive(*quantity)),
        }
    }
    Ok(())
}

/// What hung, from the inputs' plain numbers.
struct Parts {
    loaded: Hung,
    empty: Hung,
    part_mass_kg: f64,
    amplitude_rad: f64,
}

impl Parts {
    /// Reads the inputs in the order of [`SwingMeasurement::inputs`]; a list of another length
    /// gives no number.
    fn of(values: &[f64]) -> Self {
        let &[
            radius_m,
            length_m,
            mass_kg,
            period_s,
            amplitude_rad,
            platform_kg,
            platform_period_s,
            platform_amplitude_rad,
            gravity_m_s2,
        ] = values
        else {
            let nothing = Hung::new(f64::NAN, f64::NAN, f64::NAN, f64::NAN);
            return Self {
                loaded: nothing,
                empty: nothing,
                part_mass_kg: f64::NAN,
                amplitude_rad: f64::NAN,
            };
        };
        let hung = |mass_kg: f64, period_s: f64, amplitude_rad: f64| {
            let bare = Hung {
                mass_kg,
                inertia_kg_m2: 0.0,
                radius_m,
                length_m,
                gravity_m_s2,
            };
            let inertia_kg_m2 = if mass_kg == 0.0 {
                0.0
            } else {
                bare.inertia_for(period_s, amplitude_rad)
            };
            Hung {
                inertia_kg_m2,
                ..bare
            }
        };
        Self {
            loaded: hung(mass_kg + platform_kg, period_s, amplitude_rad),
            empty: hung(platform_kg, platform_period_s, platform_amplitude_rad),
            part_mass_kg: mass_kg,
            amplitude_rad,
        }
    }

    fn total_kg_m2(&self) -> f64 {
        self.loaded.inertia_kg_m2
    }

    fn platform_kg_m2(&self) -> f64 {
        self.empty.inertia_kg_m2
    }

    fn part_kg_m2(&self) -> f64 {
        self.total_kg_m2() - self.platform_kg_m2()
    }

    fn gyration_m(&self) -> f64 {
        (self.part_kg_m2() / self.part_mass_kg).sqrt()
    }

    fn stretch(&self) -> f64 {
        self.loaded.stretch(self.amplitude_rad)
    }
}
