//! What a person sees: tables and sentences, JSON, files, charts.
//!
//! Everything here turns results into text; nothing here computes one, and nothing prints.

pub mod chart;
pub mod charts;
pub mod drawing;
pub mod json;
pub mod page;
pub mod table_file;
pub mod text;
