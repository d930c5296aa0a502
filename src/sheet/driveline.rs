//! `[gearbox]`.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::{Amount, COMMON_PRACTICE, Found};
use super::warnings::{FINAL_DRIVE, FIRST_GEAR, Warning};
use crate::car::checked::{Efficiency, NonNegative, Positive};
use crate::car::driveline::{
    DEFAULT_EFFICIENCY, DEFAULT_SHIFT_ENGAGE_S, DEFAULT_SHIFT_THROTTLE_S, DEFAULT_SHIFT_TIME_S,
    Driveline, RatioError, Ratios, Shift, ShiftStyle,
};
use crate::car::engine::LIMITER_BAND_RAD_S;
use crate::units::Kind;

/// Reads the section; the limiter tells a shift that will never come.
pub(super) fn read(t: &TableReader<'_>, limiter: Option<&Found<Positive>>) -> Option<Driveline> {
    let ratios = ratios(t);
    let final_drive = t.number::<Positive>("final").needed("4.1");
    let efficiency = t
        .number::<Efficiency>("efficiency")
        .or(DEFAULT_EFFICIENCY, COMMON_PRACTICE);
    let input = t
        .quantity::<NonNegative>("input_inertia", Kind::Inertia)
        .needed("\"0.0010 kg·m²\"");
    let propshaft = t
        .quantity::<NonNegative>("propshaft_inertia", Kind::Inertia)
        .or(0.0, "no propeller shaft counted");
    let shift = shift(t, limiter);
    if let Some(final_drive) = &final_drive {
        FINAL_DRIVE.check(t.diagnostics, t.full_key("final"), final_drive);
    }
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
    const FORM: &str = "a list of bare numbers, first gear first: [3.20, 1.95, 1.38, 1.00]";
    let list = t.list("ratios", FORM).needed("[3.20, 1.95, 1.38, 1.00]")?;
    let mut ratios = Vec::with_capacity(list.value.len());
    for item in &list.value {
        match t.number_in::<Positive>("ratios", item) {
            Ok(ratio) => ratios.push(ratio),
            Err(problem) => t.diagnostics.problem(problem),
        }
    }
    if ratios.len() < list.value.len() {
        return None;
    }
    match Ratios::new(ratios) {
        Ok(ratios) => {
            let place = list.value.first().map(|item| t.place(item.span()));
            FIRST_GEAR.check_value(
                t.diagnostics,
                t.full_key("ratios"),
                ratios.first(),
                place.as_ref(),
            );
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
    let at = t
        .quantity::<Positive>("shift_at", Kind::AngularSpeed)
        .needed("\"6800 rpm\"");
    let open = t
        .quantity::<Positive>("shift_time", Kind::Time)
        .or(DEFAULT_SHIFT_TIME_S, COMMON_PRACTICE);
    let engage = t
        .quantity::<Positive>("shift_engage", Kind::Time)
        .or(DEFAULT_SHIFT_ENGAGE_S, COMMON_PRACTICE);
    let throttle = t
        .quantity::<Positive>("shift_throttle", Kind::Time)
        .or(DEFAULT_SHIFT_THROTTLE_S, COMMON_PRACTICE);
    let flat = t.flag("flat_shift").or_value(
        false,
        Amount::Word("false".to_owned()),
        "foot off for a shift",
    );
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
