//! The program itself, run as a user runs it: exit code, standard output and standard error.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

#[cfg(feature = "bench")]
mod bench;
mod builders;
mod commands;
mod documents;
#[cfg(unix)]
mod faults;
mod files;
mod fit;
mod manual;
mod refusals;
mod straight_six;
mod trace;
mod workshop;
