//! A dynamometer's printout looked at by itself, before any sheet names it.

use super::diagnostics::Diagnostics;
use super::dyno_columns::Named;
use super::problem::{Place, Refusal};
use super::torque_file;
use super::value::Found;
use crate::car::engine::TorqueCurve;

/// A printout as far as it can be told.
#[derive(Debug, Clone, PartialEq)]
pub struct Printout {
    /// Its columns.
    pub columns: Vec<PrintedColumn>,
    /// The curve that it gives, or all that is wrong with it.
    pub curve: Result<TorqueCurve, Refusal>,
}

/// A column of a printout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedColumn {
    /// As the printout heads it.
    pub name: String,
    /// What it may be read as, by its unit: `speed`, `torque`, `power`.
    pub may_be: Vec<&'static str>,
}

/// Which columns to read, by their names; `None` leaves it to the names themselves.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Picked<'n> {
    /// The column of engine speed.
    pub speed: Option<&'n str>,
    /// The column of torque.
    pub torque: Option<&'n str>,
}

/// Reads a printout; `name` is what it is called in what is said of it.
///
/// ```
/// use flyheft::sheet::printout::{Picked, look};
///
/// let text = "RPM\tTq corr (Nm)\tTq (Nm)\n2000\t150\t146\n4000\t190\t184\n5000\t185\t179\n6000\t170\t165\n";
/// let printout = look("dyno.txt", text, Picked::default());
/// assert!(printout.curve.is_err(), "two columns can be read as torque");
/// let torques = printout.columns.iter().filter(|column| column.may_be.contains(&"torque"));
/// assert_eq!(torques.count(), 2);
///
/// let picked = Picked { torque: Some("Tq (Nm)"), ..Picked::default() };
/// assert_eq!(look("dyno.txt", text, picked).curve.map(|curve| curve.peak_nm()), Ok(184.0));
/// ```
pub fn look(name: &str, text: &str, picked: Picked) -> Printout {
    let diagnostics = Diagnostics::default();
    let file = diagnostics.source(name, text);
    let found = |column: Option<&str>| {
        column.map(|column| Found {
            value: column.to_owned(),
            place: Place::whole(file),
            read: column.to_owned(),
        })
    };
    let named = Named {
        speed: found(picked.speed),
        torque: found(picked.torque),
        power: None,
    };
    let curve = torque_file::read_text(&diagnostics, file, text, &named);
    let outcome = diagnostics.close();
    let columns = torque_file::columns(text).into_iter();
    Printout {
        columns: columns
            .map(|(name, may_be)| PrintedColumn { name, may_be })
            .collect(),
        curve: match curve {
            Some(curve) if outcome.problems.is_empty() => Ok(curve),
            _ => Err(Refusal::new(outcome.sources, outcome.problems)),
        },
    }
}
