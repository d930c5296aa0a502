//! What a page says was assumed.

use super::key_figure::Both;
use crate::sheet::{Reading, keys};

/// A value that the sheet did not give.
#[derive(Debug)]
pub(super) struct Assumed {
    pub(super) what: String,
    pub(super) key: String,
    pub(super) value: Both,
    pub(super) reason: &'static str,
}

/// Every value that the sheet did not give.
pub(super) fn assumed(reading: &Reading) -> Vec<Assumed> {
    reading
        .defaults
        .iter()
        .map(|default| Assumed {
            what: keys::find(&default.key)
                .map_or(default.key.as_str(), |key| key.words)
                .to_owned(),
            key: default.key.clone(),
            value: Both::each(|system| default.shown(system)),
            reason: default.reason,
        })
        .collect()
}

/// What is worth a second look in the sheet.
pub(super) fn warnings(reading: &Reading) -> Vec<Both> {
    reading
        .warnings
        .iter()
        .map(|placed| Both::each(|system| placed.warning.text(system)))
        .collect()
}
