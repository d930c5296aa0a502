//! `[tyre]`.

use super::keys::tyre as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use crate::car::checked::{NonNegative, Positive};
use crate::car::tyre::{FrictionShape, Tyre};

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Tyre> {
    let radius = t.measure::<Positive>(key::RADIUS).needed();
    let grip = t.measure::<Positive>(key::GRIP).needed();
    let peak_slip = t.measure::<Positive>(key::PEAK_SLIP).or_default();
    let sliding = t.measure::<Positive>(key::SLIDING_SHARE).or_default();
    let relaxation = t.measure::<Positive>(key::RELAXATION).or_default();
    let damping = t.measure::<NonNegative>(key::DAMPING_TIME).or_default();
    let sensitivity = t.measure::<NonNegative>(key::LOAD_SENSITIVITY).or_default();
    let shape = peak_slip.zip(sliding).and_then(|(peak_slip, sliding)| {
        match FrictionShape::new(peak_slip.value, sliding.value) {
            Ok(shape) => Some(shape),
            Err(error) => {
                t.diagnostics.problem(
                    Problem::new(
                        sliding.place,
                        format!("sliding_share = {} is out of range", sliding.read),
                    )
                    .label(format!(
                        "must be at least {:.3} and below 1 with peak_slip = {}",
                        error.lowest, peak_slip.read
                    ))
                    .help("the share of peak grip left when the wheel spins under a standing car; 0.6 to 0.95 is usual"),
                );
                None
            }
        }
    });
    Some(Tyre {
        radius_m: radius?.value,
        grip: grip?.value,
        shape: shape?,
        relaxation_m: relaxation?.value,
        damping_time_s: damping?.value,
        load_sensitivity: sensitivity?.value,
    })
}
