//! The `flyheft` command: reads what is asked, does it, and says how it went.

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        reason = "a test stops at the first thing that is not there"
    )
)]

mod cli;

fn main() -> std::process::ExitCode {
    cli::main()
}
