//! `reciprocating`: pistons and rods of an engine, as one part of the crank side.

use super::keys::part::{self, reciprocating as key};
use super::table_reader::TableReader;
use crate::car::checked::{NonNegative, Positive};
use crate::car::inertia::Description;
use crate::car::reciprocating::Reciprocating;

/// Reads the table in braces.
pub(super) fn read(t: &TableReader<'_>) -> Option<Description> {
    let table = t.inner(part::RECIPROCATING);
    let r = table.given()?.value;
    let stroke = r.measure::<Positive>(key::STROKE).needed();
    let cylinders = r.count(key::CYLINDERS).needed();
    let small_end = r.measure::<NonNegative>(key::ROD_SMALL_END).needed();
    let piston = r.measure::<Positive>(key::PISTON).needed();
    let big_end = r.measure::<Positive>(key::ROD_BIG_END).needed();
    r.finish();
    let parts = Reciprocating {
        stroke_m: stroke?.value,
        cylinders: cylinders?.value,
        rod_small_end_kg: small_end?.value,
        piston_kg: piston?.value,
        rod_big_end_kg: big_end?.value,
    };
    Positive::new(parts.inertia_kg_m2()).map(Description::Given)
}
