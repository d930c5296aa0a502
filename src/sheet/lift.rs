//! `lift` of `[driver]`.

use super::answer::Answer;
use super::keys::driver::lift;
use super::keys::{Key, WhenAbsent};
use super::table_reader::TableReader;
use super::value::{Amount, COMMON_PRACTICE, Checked, Found, NEVER_LIFTS};
use crate::car::lift::Lift;
use crate::numerics::checked::{NonNegative, Positive, Share};
use crate::units::Kind;

/// The lift of a driver: `Some(None)` for one who never lifts, `None` where what is said is wrong.
#[expect(
    clippy::option_option,
    reason = "the outer one is the reader's own: nothing came of it"
)]
pub(super) fn read(t: &TableReader<'_>) -> Option<Option<Lift>> {
    const FORM: &str =
        "a table in braces: { to = 0.5, at = \"3 m/s\", reaction = \"0.25 s\", over = \"0.10 s\" }";
    let table = t.inner("lift", FORM);
    if table.is_absent() {
        let never = Amount::Word(NEVER_LIFTS.to_owned());
        t.diagnostics
            .default_used(t.full_key("lift"), never, COMMON_PRACTICE);
        return Some(None);
    }
    let table = table.given()?.value;
    let to = declared(table.number::<Share>(lift::TO.name), lift::TO);
    let at = declared(
        table.quantity::<Positive>(lift::AT.name, Kind::Speed),
        lift::AT,
    );
    let reaction = quantity_of_time(&table, lift::REACTION);
    let over = quantity_of_time(&table, lift::OVER);
    table.finish();
    Lift::new(to?.value, at?.value, reaction?.value, over?.value).map(Some)
}

fn quantity_of_time(table: &TableReader<'_>, key: &'static Key) -> Option<Found<NonNegative>> {
    declared(table.quantity(key.name, Kind::Time), key)
}

/// An answer held against what is declared of its key.
fn declared<T: Checked + Copy + Into<f64>>(
    answer: Answer<'_, '_, T>,
    key: &'static Key,
) -> Option<Found<T>> {
    let answer = match key.hard {
        Some(bounds) => answer.within(bounds.low..=bounds.high, ""),
        None => answer,
    };
    match key.when_absent {
        WhenAbsent::Value(si, reason) => answer.or(si, reason),
        _ => answer.given(),
    }
}
