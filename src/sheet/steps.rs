//! Tables of (time, share) points: a clutch release, a throttle.

use super::keys::Key;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::Found;
use crate::car::checked::{NonNegative, Share};
use crate::car::schedule::{Schedule, ScheduleError};
use crate::units::Kind;
use toml::Spanned;
use toml::de::DeValue;

/// What makes a schedule of points.
type Make = fn(&[(NonNegative, Share)]) -> Result<Schedule, ScheduleError>;

/// Reads the table under a key, if it is there, and makes a schedule of it.
pub(super) fn read(t: &TableReader<'_>, key: &'static Key, make: Make) -> Option<Found<Schedule>> {
    let list = t.list(key).given()?;
    let count = list.value.len();
    let mut points: Vec<(NonNegative, Share)> = Vec::with_capacity(count);
    for item in &list.value {
        match point(t, key, item) {
            Ok(point) => points.push(point),
            Err(problem) => t.diagnostics.problem(problem),
        }
    }
    if points.len() < count {
        return None;
    }
    match make(&points) {
        Ok(schedule) => Some(list.map(|_| schedule)),
        Err(ScheduleError::Empty) => {
            t.diagnostics.problem(
                Problem::new(list.place, format!("{key} has no points"))
                    .help(format!("{key} takes {}", key.takes())),
            );
            None
        }
        Err(ScheduleError::NotRising { index }) => {
            let place = list
                .value
                .get(index)
                .map_or(list.place, |item| t.place(item.span()));
            t.diagnostics.problem(
                Problem::new(
                    place,
                    format!(
                        "{key}: time {} is not later than the one before it",
                        index + 1
                    ),
                )
                .label("times must rise"),
            );
            None
        }
    }
}

fn point(
    t: &TableReader<'_>,
    key: &'static Key,
    item: &Spanned<DeValue<'_>>,
) -> Result<(NonNegative, Share), Problem> {
    let wrong = || {
        Problem::new(
            t.place(item.span()),
            format!("{key}: {} is no point", t.text.read(item)),
        )
        .label("a time and a share, in square brackets")
        .help(format!("{key} takes {}", key.takes()))
    };
    let DeValue::Array(pair) = item.get_ref() else {
        return Err(wrong());
    };
    let mut pair = pair.iter();
    let (Some(time), Some(share), None) = (pair.next(), pair.next(), pair.next()) else {
        return Err(wrong());
    };
    Ok((
        t.quantity_in(key, Kind::Time, time)?,
        t.number_in(key, share)?,
    ))
}
