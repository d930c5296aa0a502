//! The command line: one file a command, and what they share.

mod card;
mod check;
mod compare;
mod cut;
mod desk;
mod failure;
mod gearing;
mod inertia;
mod launch;
mod new;
mod options;
mod passes;
mod practice;
mod progress;
mod swing;
mod window;

use clap::{Parser, Subcommand};
use failure::Failure;
use std::process::ExitCode;

/// Compare flywheel weights for a drag car before one is machined.
///
/// Reads a build sheet, computes launches, and says which flywheel launches how and from which
/// engine speed. Results go to standard output, everything else to standard error.
/// Exit status: 0 done, 1 the input or the run failed, 2 wrong usage.
#[derive(Debug, Parser)]
#[command(name = "flyheft", version, max_term_width = 96)]
struct Asked {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Write a starter sheet with its torque file, commented, ready to run
    New(new::Asked),
    /// Read a sheet and say what was understood, each default used, each doubt
    Check(check::Asked),
    /// Every rotating part: mass, inertia, what it is worth to the car, the disc check
    Inertia(inertia::Asked),
    /// What a machining pass takes off, and how deep to go for a target
    Cut(cut::Asked),
    /// One launch of one flywheel
    Launch(launch::Asked),
    /// The flywheels side by side: the main job
    Compare(compare::Asked),
    /// Inertia from pendulum timings, with its uncertainty
    Swing(swing::Asked),
    /// Launch speed swept for one flywheel
    Window(window::Asked),
    /// The same car with other first gears or final drives
    Gearing(gearing::Asked),
    /// A driver's practice launches: spread, drift, confidence
    Practice(practice::Asked),
    /// The driver's page: one HTML file that explains the answer, for a phone or for paper
    Card(card::Asked),
}

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ending {
    Done = 0,
    Failed = 1,
}

/// Does what the command line asks.
pub(crate) fn main() -> ExitCode {
    let asked = Asked::parse();
    let ending = match run(asked.command) {
        Ok(()) => Ending::Done,
        Err(failure) => {
            failure.show();
            Ending::Failed
        }
    };
    ExitCode::from(ending as u8)
}

fn run(command: Command) -> Result<(), Failure> {
    match command {
        Command::New(asked) => new::run(&asked),
        Command::Check(asked) => check::run(&asked),
        Command::Inertia(asked) => inertia::run(&asked),
        Command::Cut(asked) => cut::run(&asked),
        Command::Launch(asked) => launch::run(&asked),
        Command::Compare(asked) => compare::run(&asked),
        Command::Swing(asked) => swing::run(&asked),
        Command::Window(asked) => window::run(&asked),
        Command::Gearing(asked) => gearing::run(&asked),
        Command::Practice(asked) => practice::run(&asked),
        Command::Card(asked) => card::run(&asked),
    }
}
