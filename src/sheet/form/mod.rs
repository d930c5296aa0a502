//! A sheet as a form: its text changed value by value, and its keys as fields to fill in.
//!
//! [`SheetText`] is a sheet that is being edited. A value is given as a builder writes it on
//! paper; whether it needs quotes is decided by what is declared of its key. Only the bytes of
//! that value change.
//!
//! ```
//! use flyheft::sheet::form::SheetText;
//!
//! let mut sheet = SheetText::new("[tyre]   # the driven pair\ngrip = 1.45   # guessed\n");
//! sheet.set(&"tyre.grip".parse()?, "1.38 ± 0.05")?;
//! sheet.set(&"car.wheelbase".parse()?, "94 1/2 in")?;
//! assert_eq!(
//!     sheet.text(),
//!     "[tyre]   # the driven pair\ngrip = \"1.38 ± 0.05\"   # guessed\n\n[car]\nwheelbase = \"94 1/2 in\"\n"
//! );
//! while sheet.undo() {}
//! assert_eq!(sheet.text(), "[tyre]   # the driven pair\ngrip = 1.45   # guessed\n");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod attach;
mod choices;
mod document;
mod edit;
mod edit_error;
mod entries;
mod fields;
mod history;
mod model;
mod path;
mod sheet_text;
mod written;

pub use edit_error::EditError;
pub use fields::form;
pub use model::{Choice, Default, Entry, Field, Said, Section, SheetForm, State, Way, Weight};
pub use path::{KeyPath, NoPath, Step};
pub use sheet_text::{NoText, SheetText};
pub use written::{join_doubt, split_doubt, to_paper, to_sheet};

#[cfg(test)]
mod tests;
