//! `lift` of `[driver]`.

use super::keys::driver::{self as key, lift};
use super::table_reader::TableReader;
use super::value::{Amount, NEVER_LIFTS};
use crate::car::lift::Lift;
use crate::numerics::checked::{NonNegative, Positive, Share};

/// The lift of a driver: `Some(None)` for one who never lifts, `None` where what is said is wrong.
#[expect(
    clippy::option_option,
    reason = "the outer one is the reader's own: nothing came of it"
)]
pub(super) fn read(t: &TableReader<'_>) -> Option<Option<Lift>> {
    let table = t.inner(key::LIFT);
    if table.is_absent() {
        let never = Amount::Word(NEVER_LIFTS.to_owned());
        t.diagnostics
            .default_used(t.full_key(key::LIFT), never, key::LIFT.reason());
        return Some(None);
    }
    let table = table.given()?.value;
    let to = table.measure::<Share>(lift::TO).or_default();
    let at = table.measure::<Positive>(lift::AT).or_default();
    let reaction = table.measure::<NonNegative>(lift::REACTION).or_default();
    let over = table.measure::<NonNegative>(lift::OVER).or_default();
    table.finish();
    Lift::new(to?.value, at?.value, reaction?.value, over?.value).map(Some)
}
