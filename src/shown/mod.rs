//! What a person sees: tables and sentences, JSON, files, charts.
//!
//! Everything here turns results into text; nothing here computes one, and nothing prints.

pub mod drawing;
pub mod figures;
pub mod json;
pub mod page;
mod pens;
pub mod plot;
pub mod table_file;
pub mod text;

#[cfg(test)]
mod picture_laws;
