//! `[tyre]`.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::COMMON_PRACTICE;
use super::warnings::{SLIDING_SHARE, TYRE_GRIP, TYRE_RADIUS};
use crate::car::checked::{NonNegative, Positive};
use crate::car::tyre::{
    DEFAULT_DAMPING_TIME_S, DEFAULT_LOAD_SENSITIVITY, DEFAULT_PEAK_SLIP, DEFAULT_RELAXATION_M,
    DEFAULT_SLIDING_SHARE, FrictionShape, Tyre,
};
use crate::units::Kind;

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Tyre> {
    let radius = t
        .quantity::<Positive>("radius", Kind::Length)
        .needed("\"286 mm\"");
    let grip = t.number::<Positive>("grip").needed("1.45");
    let peak_slip = t
        .number::<Positive>("peak_slip")
        .or(DEFAULT_PEAK_SLIP, COMMON_PRACTICE);
    let sliding = t.number::<Positive>("sliding_share").or(
        DEFAULT_SLIDING_SHARE,
        "common practice, no source; the input known worst",
    );
    let relaxation = t
        .quantity::<Positive>("relaxation", Kind::Length)
        .or(DEFAULT_RELAXATION_M, "typical 0.1 to 0.5 m, from memory");
    let damping = t
        .quantity::<NonNegative>("damping_time", Kind::Time)
        .or(DEFAULT_DAMPING_TIME_S, COMMON_PRACTICE);
    let sensitivity = t
        .number::<NonNegative>("load_sensitivity")
        .or(DEFAULT_LOAD_SENSITIVITY, COMMON_PRACTICE);
    if let Some(radius) = &radius {
        TYRE_RADIUS.check(t.diagnostics, t.full_key("radius"), radius);
    }
    if let Some(grip) = &grip {
        TYRE_GRIP.check(t.diagnostics, t.full_key("grip"), grip);
    }
    let shape = peak_slip.zip(sliding).and_then(|(peak_slip, sliding)| {
        match FrictionShape::new(peak_slip.value, sliding.value) {
            Ok(shape) => {
                SLIDING_SHARE.check(t.diagnostics, t.full_key("sliding_share"), &sliding);
                Some(shape)
            }
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
