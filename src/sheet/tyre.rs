//! `[tyre]`.

use super::keys::{Key, tyre as key};
use super::problem::Problem;
use super::table_reader::TableReader;
use super::tyre_size::Size;
use super::value::Found;
use super::warnings::Warning;
use crate::car::checked::{NonNegative, Positive, Share};
use crate::car::tyre::{FrictionShape, Tyre};
use std::f64::consts::TAU;

/// The ways to give the radius.
const RADIUS_KEYS: [&Key; 3] = [key::RADIUS, key::CIRCUMFERENCE, key::SIZE];

/// Rolling radius: given, or from the way of one turn, or from the size on the sidewall.
fn radius(t: &TableReader<'_>) -> Option<Found<Positive>> {
    let there = RADIUS_KEYS.map(|key| t.has(key));
    let mut given = RADIUS_KEYS
        .into_iter()
        .zip(there)
        .filter_map(|(key, there)| there.then_some(key));
    let (first, second) = (given.next(), given.next());
    if let (Some(first), Some(second)) = (first, second) {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(second),
                format!("the tyre's radius is given twice over: by {first} and by {second}"),
            )
            .label("a second way")
            .also(t.key_place(first), "the first")
            .help("keep one of radius, circumference and size"),
        );
        return None;
    }
    if t.has(key::DEFLECTION) && first != Some(key::SIZE) {
        let warning = Warning::NotUsed {
            key: t.full_key(key::DEFLECTION),
            why: "it goes with size alone",
        };
        t.diagnostics
            .warning(warning, Some(&t.key_place(key::DEFLECTION)));
    }
    if first == Some(key::SIZE) {
        return by_size(t);
    }
    if first == Some(key::CIRCUMFERENCE) {
        let around = t.measure::<Positive>(key::CIRCUMFERENCE).given()?;
        let radius = Positive::new(around.value.get() / TAU)?;
        return Some(around.map(|_| radius));
    }
    t.measure::<Positive>(key::RADIUS).needed()
}

fn by_size(t: &TableReader<'_>) -> Option<Found<Positive>> {
    let deflection = t.measure::<Share>(key::DEFLECTION).or_default();
    let text = t.words(key::SIZE).given()?;
    match Size::parse(&text.value) {
        Ok(size) => {
            let radius = size.loaded_radius_m(deflection?.value.get());
            let radius = Positive::new(radius)?;
            Some(text.map(|_| radius))
        }
        Err(form) => {
            let title = format!("size = {} is no tyre size", text.read);
            t.diagnostics
                .problem(Problem::new(text.place, title).help(form));
            None
        }
    }
}

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Tyre> {
    let radius = radius(t);
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
