//! The program itself, run as a user runs it: exit code, standard output and standard error.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

#[cfg(feature = "bench")]
mod bench;
mod builders;
mod commands;
mod documents;
mod files;
mod fit;
mod manual;
mod refusals;
mod trace;
mod workshop;
