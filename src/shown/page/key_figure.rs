//! Figures as a page shows them: in both systems of units, and with where a document of
//! `compare --json` has the same number.

use crate::units::{Kind, System};

/// A text in both systems of units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Both {
    pub(super) metric: String,
    pub(super) imperial: String,
}

impl Both {
    /// The same in both.
    pub(super) fn same(text: impl Into<String>) -> Self {
        let text = text.into();
        Self {
            metric: text.clone(),
            imperial: text,
        }
    }

    /// A value in SI, number and unit.
    pub(super) fn show(si: f64, kind: Kind) -> Self {
        Self::each(|system| system.show(si, kind))
    }

    /// A text for each system.
    pub(super) fn each(text: impl Fn(System) -> String) -> Self {
        Self {
            metric: text(System::Metric),
            imperial: text(System::Imperial),
        }
    }

    /// Whether the system makes no difference.
    pub(super) fn alike(&self) -> bool {
        self.metric == self.imperial
    }
}

/// One figure with its label.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Figure {
    pub(super) label: &'static str,
    pub(super) value: Both,
    /// Where the number stands in a document of `compare --json`; empty if nowhere.
    pub(super) path: String,
    /// The upper end in rpm and where it stands, if the figure is a range of launch speeds.
    pub(super) upper: Option<(String, String)>,
}

impl Figure {
    /// A figure that no document has.
    pub(super) fn new(label: &'static str, value: Both) -> Self {
        Self {
            label,
            value,
            path: String::new(),
            upper: None,
        }
    }

    /// The same figure, with where a document has its number.
    pub(super) fn at(mut self, path: String) -> Self {
        self.path = path;
        self
    }

    /// The same figure as the lower end of a range of launch speeds.
    pub(super) fn to(mut self, upper: String, path: String) -> Self {
        self.upper = Some((upper, path));
        self
    }
}

/// A name with its figures.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ticket {
    pub(super) name: String,
    pub(super) note: String,
    pub(super) figures: Vec<Figure>,
}
