//! What an axis shows.

/// An axis: what it shows, its unit, and values it must reach.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Axis {
    /// What is shown, without its unit.
    pub label: String,
    /// Unit symbol; empty for a bare number.
    pub unit: String,
    /// Values the axis reaches whatever the data, such as 0.
    pub reaches: Vec<f64>,
}

impl Axis {
    /// An axis that fits its data.
    pub fn new(label: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            unit: unit.into(),
            reaches: Vec::new(),
        }
    }

    /// The same axis, made to reach a value as well.
    #[must_use]
    pub fn reaching(mut self, value: f64) -> Self {
        self.reaches.push(value);
        self
    }

    pub(super) fn title(&self) -> String {
        match (self.label.as_str(), self.unit.as_str()) {
            (label, "") => label.to_owned(),
            ("", unit) => unit.to_owned(),
            (label, unit) => format!("{label} ({unit})"),
        }
    }
}
