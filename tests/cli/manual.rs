//! Completions, manual pages and `docs/commands.md`: all of them say what the command line says.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fmt::Write;

/// The page on the commands, kept up by the test below.
const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/commands.md");
const HEAD: &str = "# Commands

What `flyheft --help` and `flyheft COMMAND --help` print. This page is made of them: \
`FLYHEFT_WRITE_DOCS=1 cargo test --test cli manual` writes it anew.

Completions for a shell: `flyheft completions bash` (also `zsh`, `fish`, `elvish`, `powershell`) \
prints the script that the shell reads, for example into \
`~/.local/share/bash-completion/completions/flyheft`. A manual page: `flyheft man > flyheft.1`, or \
`flyheft man compare` for one command.
";

fn printed(words: &[&str]) -> String {
    let output = cargo_bin_cmd!("flyheft")
        .args(words)
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{words:?}");
    String::from_utf8(output.stdout).expect("text")
}

/// Names of the commands, as the help lists them.
fn commands() -> Vec<String> {
    let help = printed(&["--help"]);
    let listed = help
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty());
    // A line that goes on from the one above is set in further.
    let begun = listed.filter_map(|line| {
        line.strip_prefix("  ")
            .filter(|rest| !rest.starts_with(' '))
    });
    let names = begun.filter_map(|line| line.split_whitespace().next());
    let names: Vec<String> = names.map(str::to_owned).collect();
    assert!(names.iter().any(|name| name == "compare"));
    names
}

/// Without the bench the program has a command less, and the page is not its.
#[cfg(feature = "bench")]
#[test]
fn docs_the_page_on_commands_is_what_help_prints() {
    let mut page = HEAD.to_owned();
    let own_words = commands();
    let own_words = own_words.iter().filter(|name| *name != "help");
    let helps = std::iter::once(Vec::new()).chain(own_words.map(|name| vec![name.as_str()]));
    for words in helps {
        let title = [&["flyheft"], words.as_slice()].concat().join(" ");
        let help = printed(&[words.as_slice(), &["--help"]].concat());
        write!(page, "\n## {title}\n\n```text\n{}\n```\n", help.trim_end()).expect("room");
    }
    if std::env::var_os("FLYHEFT_WRITE_DOCS").is_some() {
        std::fs::write(PAGE, &page).expect("docs can be written");
    }
    let there = std::fs::read_to_string(PAGE).unwrap_or_default();
    assert!(
        there == page,
        "docs/commands.md is not what --help prints; FLYHEFT_WRITE_DOCS=1 cargo test --test cli manual writes it anew"
    );
}

#[test]
fn cli_completions_know_every_command_in_every_shell() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = printed(&["completions", shell]);
        for command in commands() {
            assert!(script.contains(&command), "{shell} does not know {command}");
        }
    }
}

#[test]
fn cli_every_command_has_a_manual_page() {
    let whole = printed(&["man"]);
    assert!(whole.contains(".TH flyheft 1"));
    for command in commands() {
        assert!(whole.contains(&command), "{command} is not in the manual");
        let page = printed(&["man", &command]);
        assert!(page.contains(".SH SYNOPSIS"), "{command}");
    }
    let output = cargo_bin_cmd!("flyheft")
        .args(["man", "nothing"])
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("the commands are "));
}
