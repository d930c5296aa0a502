//! What a person sees: every way a result is shown.

pub mod chart;
