//! The swing test in full: inertia from pendulum timings, with its uncertainty and its doubts.
//!
//! A part hung on two or three cords and twisted swings slower the more inertia it has. See
//! [`crate::car::swing`] for the bare equation; here the swings are counted or split, the swing's
//! size is allowed for, every input carries its uncertainty, and the result says which input to
//! measure better first.

mod agreement;
mod amplitude;
mod analysis;
mod timing;
mod usual;

pub use agreement::{
    Agreement, DRAWING_GYRATION_SHARE, DRAWING_MASS_SHARE, DrawingTrust, ThreeWay, ThreeWayVerdict,
    agreement, three_way,
};
pub use amplitude::{ADVISED_AMPLITUDE_RAD, Hung, MOST_AMPLITUDE_RAD, mean_amplitude_rad};
pub use analysis::{
    Amplitude, GRAVITY_HALF_WIDTH_M_S2, PlatformSwing, Quantity, SwingAnalysis, SwingFailure,
    SwingMeasurement, SwingWarning, standard_gravity,
};
pub use timing::{
    LEAST_SPLITS, MISCOUNT_SHARE, PeriodFit, REACTION_SD_S, Split, Timing, TimingError,
};

pub use usual::{
    AMPLITUDE_WITHIN_RAD, Assumed, LENGTH_WITHIN_M, MASS_WITHIN_KG, RADIUS_WITHIN_M, SWINGS,
    measurement,
};

#[cfg(test)]
mod tests;
