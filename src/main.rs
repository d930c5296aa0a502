//! The `flyheft` command: reads what is asked, does it, and says how it went.

mod cli;

fn main() -> std::process::ExitCode {
    cli::main()
}
