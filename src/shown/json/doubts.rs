//! Values in doubt, in a document.

use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::sheet::{Reading, ValueDoubt};
use crate::shown::text::si_symbol;
use serde::Serialize;

/// One value in doubt. `low` and `high` hold it in 19 cases of 20 for a normal, always for a
/// range.
#[derive(Debug, Serialize)]
pub(super) struct ValueInDoubt {
    key: String,
    unit: &'static str,
    nominal: f64,
    kind: &'static str,
    sd: f64,
    low: f64,
    high: f64,
    origin: &'static str,
}

/// Every value in doubt, in the sheet's order.
pub(super) fn value_doubts(reading: &Reading) -> Vec<ValueInDoubt> {
    reading.doubts.iter().map(of).collect()
}

fn of(doubt: &ValueDoubt) -> ValueInDoubt {
    let input = &doubt.input;
    let (kind, low, high) = match input.doubt {
        Doubt::Exact => ("exact", input.nominal, input.nominal),
        Doubt::Normal { .. } => (
            "normal",
            input.doubt.quantile(input.nominal, LOW),
            input.doubt.quantile(input.nominal, 1.0 - LOW),
        ),
        Doubt::Between { low, high } => ("between", low, high),
    };
    ValueInDoubt {
        key: input.key.clone(),
        unit: si_symbol(doubt.kind),
        nominal: input.nominal,
        kind,
        sd: input.doubt.deviation(),
        low,
        high,
        origin: origin(input.origin),
    }
}

/// Half of the twentieth that a bet of 19 to 1 leaves out.
const LOW: f64 = 0.025;

/// The identifier of an origin: fixed, for programs.
const fn origin(origin: DoubtOrigin) -> &'static str {
    match origin {
        DoubtOrigin::Stated => "stated",
        DoubtOrigin::Usual => "usual",
        DoubtOrigin::Defaulted => "defaulted",
        DoubtOrigin::Guessed => "guessed",
        DoubtOrigin::Measured => "measured",
        DoubtOrigin::Fitted => "fitted",
    }
}
