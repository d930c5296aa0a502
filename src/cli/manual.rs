//! `flyheft completions` and `flyheft man`: made of the same definitions that the command line is
//! read by, when they are asked for.

use super::CommandLine;
use super::failure::Failure;
use super::output::to_standard_output;
use clap::{Args, Command, CommandFactory};
use clap_complete::Shell;

#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell that shall complete what is typed
    shell: Shell,
}

#[derive(Debug, Args)]
pub(super) struct ManArgs {
    /// The command to describe; without it, the program as a whole
    command: Option<String>,
}

/// Name of the program, as it is typed.
const PROGRAM: &str = "flyheft";

pub(super) fn completions(args: &CompletionsArgs) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(
        args.shell,
        &mut CommandLine::command(),
        PROGRAM,
        &mut script,
    );
    to_standard_output(&String::from_utf8_lossy(&script))
}

pub(super) fn man(args: &ManArgs) -> Result<(), Failure> {
    // Commands know their full names, `flyheft compare`, once the whole is built.
    let mut program = CommandLine::command();
    program.build();
    let described = match &args.command {
        None => program,
        Some(name) => one_of(&program, name)?,
    };
    let mut page = Vec::new();
    clap_mangen::Man::new(described)
        .render(&mut page)
        .map_err(|error| Failure::said(format!("no manual page: {error}"), ""))?;
    to_standard_output(&String::from_utf8_lossy(&page))
}

fn one_of(program: &Command, name: &str) -> Result<Command, Failure> {
    program.find_subcommand(name).cloned().ok_or_else(|| {
        let names: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
        Failure::said(
            format!("there is no command `{name}`"),
            format!("the commands are {}", names.join(", ")),
        )
    })
}
