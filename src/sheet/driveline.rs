//! `[gearbox]`.

use super::keys::gearbox as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::Found;
use super::warnings::Warning;
use crate::car::checked::{Efficiency, NonNegative, Positive};
use crate::car::driveline::{Driveline, RatioError, Ratios, Shift, ShiftStyle};
use crate::car::engine::LIMITER_BAND_RAD_S;

/// Reads the section; the limiter tells a shift that will never come.
pub(super) fn read(t: &TableReader<'_>, limiter: Option<&Found<Positive>>) -> Option<Driveline> {
    let ratios = ratios(t);
    let final_drive = t.measure::<Positive>(key::FINAL).needed();
    let efficiency = t.measure::<Efficiency>(key::EFFICIENCY).or_default();
    let input = t.measure::<NonNegative>(key::INPUT_INERTIA).needed();
    let propshaft = t
        .measure::<NonNegative>(key::PROPSHAFT_INERTIA)
        .or_default();
    let shift = shift(t, limiter);
    Some(Driveline {
        ratios: ratios?,
        final_drive: final_drive?.value,
        efficiency: efficiency?.value,
        input_inertia_kg_m2: input?.value,
        propshaft_inertia_kg_m2: propshaft?.value,
        shift: shift?,
    })
}

fn ratios(t: &TableReader<'_>) -> Option<Ratios> {
    let list = t.list(key::RATIOS).needed()?;
    let mut ratios = Vec::with_capacity(list.value.len());
    for item in &list.value {
        match t.number_in::<Positive>(key::RATIOS, item) {
            Ok(ratio) => ratios.push(ratio),
            Err(problem) => t.diagnostics.problem(problem),
        }
    }
    if ratios.len() < list.value.len() {
        return None;
    }
    match Ratios::new(ratios) {
        Ok(ratios) => {
            if let Some(first) = list.value.first() {
                t.check_usual(key::RATIOS, ratios.first(), &t.place(first.span()));
            }
            Some(ratios)
        }
        Err(RatioError::Empty) => {
            t.diagnostics.problem(
                Problem::new(list.place, "ratios is empty").label("at least first gear is needed"),
            );
            None
        }
        Err(RatioError::NotFalling { index }) => {
            let at = |index: usize| list.value.get(index);
            let read = |index| at(index).map(|item| t.text.read(item)).unwrap_or_default();
            let place = at(index).map_or(list.place.clone(), |item| t.place(item.span()));
            t.diagnostics.problem(
                Problem::new(
                    place,
                    format!(
                        "ratios do not fall: {} after {}",
                        read(index),
                        read(index - 1)
                    ),
                )
                .label("must be below the gear before it")
                .help(
                    "first gear comes first, and each gear is a smaller number than the one before",
                ),
            );
            None
        }
    }
}

fn shift(t: &TableReader<'_>, limiter: Option<&Found<Positive>>) -> Option<Shift> {
    let at = t.measure::<Positive>(key::SHIFT_AT).needed();
    let open = t.measure::<Positive>(key::SHIFT_TIME).or_default();
    let engage = t.measure::<Positive>(key::SHIFT_ENGAGE).or_default();
    let throttle = t.measure::<Positive>(key::SHIFT_THROTTLE).or_default();
    let flat = t.flag(key::FLAT_SHIFT).or_word(false);
    if let (Some(at), Some(limiter)) = (&at, limiter)
        && at.value.get() > limiter.value.get() - LIMITER_BAND_RAD_S
    {
        let warning = Warning::ShiftOnLimiter {
            shift_rad_s: at.value.get(),
            limiter_rad_s: limiter.value.get(),
        };
        t.diagnostics.warning(warning, Some(&at.place));
    }
    Some(Shift {
        at_rad_s: at?.value,
        open_s: open?.value,
        engage_s: engage?.value,
        throttle_s: throttle?.value,
        style: if flat?.value {
            ShiftStyle::Flat
        } else {
            ShiftStyle::Lift
        },
    })
}
