//! The command line: one file a command, and what they share.

#[cfg(feature = "bench")]
mod bench;
mod card;
mod check;
mod compare;
mod cut;
mod decide;
mod failure;
mod fit;
mod gearing;
mod inertia;
mod launch;
mod manual;
mod new;
mod options;
mod output;
mod passes;
mod place;
mod practice;
mod progress;
mod standard_error;
mod swing;
mod window;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser, Subcommand};
use failure::Failure;
use flyheft::units::unshowable;
#[cfg(feature = "bench")]
use std::io::IsTerminal;
use std::process::ExitCode;

/// Compare flywheel weights for a drag car before one is machined.
///
/// Reads a build sheet, computes launches, and says which flywheel launches how and from which
/// engine speed. Results go to standard output, everything else to standard error.
/// Exit status: 0 done, 1 the input or the run failed, 2 wrong usage.
#[derive(Debug, Parser)]
#[command(name = "flyheft", version, max_term_width = 96)]
struct CommandLine {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// The sheet and its answers as a page in the browser, served to this machine alone
    #[cfg(feature = "bench")]
    Bench(bench::BenchArgs),
    /// Write a starter sheet with its torque file, commented, ready to run
    New(new::NewArgs),
    /// Read a sheet and say what was understood, each default used, each warning
    Check(check::CheckArgs),
    /// Every rotating part: mass, inertia, what it is worth to the car, the disc check
    Inertia(inertia::InertiaArgs),
    /// What a machining pass takes off, and how deep to go for a target
    Cut(cut::CutArgs),
    /// One launch of one flywheel
    Launch(launch::LaunchArgs),
    /// The flywheels side by side: the main job
    Compare(compare::CompareArgs),
    /// Which flywheel to start with, given what the sheet does not know and that metal never goes back
    Decide(decide::DecideArgs),
    /// Inertia from pendulum timings, with its uncertainty
    Swing(swing::SwingArgs),
    /// What the time slips and logs say of the unknowns; writes a sheet with them beside the old one
    Fit(fit::FitArgs),
    /// Launch speed swept for one flywheel
    Window(window::WindowArgs),
    /// The same car with other first gears or final drives
    Gearing(gearing::GearingArgs),
    /// A driver's practice launches: spread, drift, confidence
    Practice(practice::PracticeArgs),
    /// The driver's page: one HTML file that explains the answer, for a phone or for paper
    Card(card::CardArgs),
    /// What a shell needs to complete commands and options
    Completions(manual::CompletionsArgs),
    /// The manual page of the program or of one command
    Man(manual::ManArgs),
}

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ending {
    Done = 0,
    Failed = 1,
}

/// Does what the command line asks.
pub(crate) fn main() -> ExitCode {
    let ending = match run(asked()) {
        Ok(()) => Ending::Done,
        Err(failure) => {
            failure.show();
            Ending::Failed
        }
    };
    ExitCode::from(ending as u8)
}

/// What the command line asks for. Without a word on it: short help on a terminal; the bench where
/// there is none, as after a double click.
fn asked() -> Command {
    #[cfg(feature = "bench")]
    if std::env::args_os().len() <= 1 && is_clicked() {
        return Command::Bench(bench::BenchArgs::default());
    }
    refuse_unshowable();
    CommandLine::parse().command
}

/// Refuses a command line with a word that a screen would show as another: every word may come
/// back in a message, and a file of such a name would be written under a name that nobody can read.
fn refuse_unshowable() {
    for (place, word) in std::env::args_os().enumerate().skip(1) {
        if let Some(sign) = unshowable(&word.to_string_lossy()) {
            let wrong = format!(
                "word {place} of the command line holds {sign}: type it anew, or give the file another name"
            );
            CommandLine::command()
                .error(ErrorKind::InvalidValue, wrong)
                .exit();
        }
    }
}

/// Whether the program was started without any terminal, on a machine that shows windows.
#[cfg(feature = "bench")]
fn is_clicked() -> bool {
    let terminal = std::io::stdin().is_terminal()
        || std::io::stdout().is_terminal()
        || std::io::stderr().is_terminal();
    let shows_windows = cfg!(any(windows, target_os = "macos"))
        || ["DISPLAY", "WAYLAND_DISPLAY"]
            .iter()
            .any(|name| std::env::var_os(name).is_some_and(|at| !at.is_empty()));
    !terminal && shows_windows
}

fn run(command: Command) -> Result<(), Failure> {
    match command {
        #[cfg(feature = "bench")]
        Command::Bench(args) => bench::run(&args),
        Command::New(args) => new::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Inertia(args) => inertia::run(&args),
        Command::Cut(args) => cut::run(&args),
        Command::Launch(args) => launch::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::Decide(args) => decide::run(&args),
        Command::Swing(args) => swing::run(&args),
        Command::Fit(args) => fit::run(&args),
        Command::Window(args) => window::run(&args),
        Command::Gearing(args) => gearing::run(&args),
        Command::Practice(args) => practice::run(&args),
        Command::Card(args) => card::run(&args),
        Command::Completions(args) => manual::completions(&args),
        Command::Man(args) => manual::man(&args),
    }
}
