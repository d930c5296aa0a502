//! From what a sheet says of its doubts to cars drawn from them.

use super::all_sections::read_car;
use super::diagnostics::Diagnostics;
use super::drawn::{Draw, Memory, ValueDoubt};
use super::fitted_draws::Fitted;
use super::problem::FileId;
use super::table_reader::Text;
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use std::path::PathBuf;
use std::sync::Arc;
use toml::de::DeTable;

/// All it takes to read a sheet again.
pub(super) struct Again {
    pub(super) text: String,
    /// Text of the file whose track stands in place of the sheet's, if there is one.
    pub(super) track: Option<String>,
    pub(super) path: PathBuf,
    pub(super) memory: Arc<Memory>,
}

/// A car with its doubts: a drawn one is the sheet read again, with what was drawn in place of
/// what is written, by the same reader with the same ranges.
pub(super) fn car(
    nominal: &Car,
    doubts: &[ValueDoubt],
    fitted: Option<&Fitted>,
    again: Again,
) -> DoubtedCar {
    let Again {
        text,
        track,
        path,
        memory,
    } = again;
    let inputs: Vec<_> = doubts.iter().map(|doubt| doubt.input.clone()).collect();
    let keys: Vec<String> = inputs.iter().map(|input| input.key.clone()).collect();
    let doubted = DoubtedCar::new(nominal.clone(), inputs, move |values| {
        let diagnostics = Diagnostics::drawn(Draw {
            values: keys.iter().cloned().zip(values.iter().copied()).collect(),
            memory: Arc::clone(&memory),
        });
        let (table, _) = DeTable::parse_recoverable(&text);
        let track = track.as_deref().map(|text| Text {
            file: FileId(0),
            text,
        });
        let text = Text {
            file: FileId(0),
            text: &text,
        };
        let car = read_car(&diagnostics, table.get_ref(), text, &path, track)?;
        (diagnostics.problem_count() == 0).then_some(car)
    });
    match fitted.and_then(|fitted| fitted.joint(doubts)) {
        Some(joint) => doubted.with_joint(joint),
        None => doubted,
    }
}
