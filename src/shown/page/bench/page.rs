//! The page itself: its frame, its style, its script, and the policy that lets just these two act.

use super::part::Part;
use super::sheet_parts::{assumed_part, problems_part};
use crate::metal::disc::CAUTIONS;
use crate::sheet::{Reading, Refusal};
use crate::shown::page::dark;
use crate::shown::page::error::PageError;
use crate::shown::page::shell::{STYLE, source};
use crate::shown::text::LAUNCH_CAUTION;
use askama::Template;

/// The style of the bench, beside that of every page.
const BENCH_STYLE: &str = include_str!("../templates/bench/bench.css");

/// The script, a module a file, each after those that it takes from.
const MODULES: [&str; 7] = [
    include_str!("../templates/bench/link.js"),
    include_str!("../templates/bench/parts.js"),
    include_str!("../templates/bench/sheet.js"),
    include_str!("../templates/bench/sliders.js"),
    include_str!("../templates/bench/files.js"),
    include_str!("../templates/bench/lathe.js"),
    include_str!("../templates/bench/main.js"),
];

/// A page, and the policy to send with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The page.
    pub html: String,
    /// The content-security policy that lets its own style and script act, and nothing else.
    pub policy: String,
}

/// How the sheet is kept.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a button or a switch of the page, and free of the others"
)]
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keeping {
    /// Name of its file.
    pub name: String,
    /// Folder of its file.
    pub folder: String,
    /// Whether there are changes that the file does not have.
    pub unsaved: bool,
    /// Whether a change can be taken back.
    pub undo: bool,
    /// Whether a change that was taken back can be made again.
    pub redo: bool,
    /// Whether every change is saved at once.
    pub autosave: bool,
    /// Whether the file was changed by somebody else since it was read.
    pub elsewhere: bool,
    /// What the last request came to.
    pub said: String,
}

/// Where the sliders stand, and how far they go.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sliders {
    /// Names of the flywheels.
    pub wheels: Vec<String>,
    /// The one tried, by its place.
    pub wheel: usize,
    /// Least and greatest launch speed, rpm.
    pub range_rpm: (u32, u32),
    /// Launch speed, rpm.
    pub launch_rpm: u32,
    /// Metal left, per cent of the flywheel's inertia.
    pub metal_percent: u32,
    /// Grip, per cent of the sheet's.
    pub grip_percent: u32,
    /// Sliding share, per cent.
    pub sliding_percent: u32,
    /// Standard deviation of the launch speed, rpm.
    pub sd_rpm: u32,
}

/// Everything that the page shows when it is opened.
#[derive(Debug)]
pub struct Whole<'w> {
    /// The car.
    pub title: &'w str,
    /// The sheet.
    pub text: &'w str,
    /// How it is kept.
    pub keeping: Keeping,
    /// What was read of it, or what is wrong with it.
    pub read: Result<&'w Reading, &'w Refusal>,
    /// Its form.
    pub form: String,
    /// The sliders.
    pub sliders: Sliders,
    /// The answers there are: place, HTML, how they stand to the sheet.
    pub parts: Vec<(Part, String, &'static str)>,
    /// Slips that were pasted.
    pub slips: &'w str,
}

#[derive(Template)]
#[template(path = "bench/page.html", config = "src/shown/page/askama.toml")]
struct Page<'w> {
    frame: Frame<'w>,
    whole: &'w Whole<'w>,
    problems: String,
    assumed: String,
    launch_caution: &'static str,
    metal_cautions: &'static [&'static str],
}

#[derive(Template)]
#[template(path = "bench/start.html", config = "src/shown/page/askama.toml")]
struct Start<'w> {
    frame: Frame<'w>,
    said: &'w str,
    folder: &'w str,
    demos: &'w [(String, String)],
}

#[derive(Template)]
#[template(path = "bench/goodbye.html", config = "src/shown/page/askama.toml")]
struct Goodbye<'w> {
    frame: Frame<'w>,
}

/// What every page of the bench carries.
struct Frame<'w> {
    title: &'w str,
    style: &'w str,
    script: &'w str,
    version: &'static str,
}

impl Page<'_> {
    /// A part as it stands: HTML, and how it stands to the sheet.
    fn part(&self, id: &str) -> (&str, &'static str) {
        let parts = &self.whole.parts;
        let found = parts.iter().find(|(part, ..)| part.id() == id);
        found.map_or(("", "fresh"), |(_, html, standing)| (html, standing))
    }
}

fn style() -> String {
    format!("{STYLE}{BENCH_STYLE}{}", dark::rules())
}

/// The modules as one, so that one hash names all of it: what a file takes from those before it
/// is in scope already.
fn script() -> String {
    let own = |line: &&str| !line.starts_with("import ");
    let mut joined = String::from("\"use strict\";\n");
    for line in MODULES.iter().flat_map(|module| module.lines()).filter(own) {
        joined.push_str(line.strip_prefix("export ").unwrap_or(line));
        joined.push('\n');
    }
    joined
}

fn made(style: &str, script: &str, html: String) -> Made {
    Made {
        html,
        policy: format!(
            "default-src 'none'; style-src '{}'; script-src '{}'; connect-src 'self'; \
             base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
            source(style),
            source(script)
        ),
    }
}

/// The page of an open sheet.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn page(whole: &Whole) -> Result<Made, PageError> {
    let (style, script) = (style(), script());
    let page = Page {
        frame: Frame {
            title: whole.title,
            style: &style,
            script: &script,
            version: env!("CARGO_PKG_VERSION"),
        },
        problems: problems_part(whole.read.err())?,
        assumed: assumed_part(whole.read.ok())?,
        whole,
        launch_caution: LAUNCH_CAUTION,
        metal_cautions: &CAUTIONS,
    };
    let html = page.render()?;
    Ok(made(&style, &script, html))
}

/// The page before a sheet is open: `folder` is where new ones go, `demos` are names and titles.
///
/// # Errors
/// See [`PageError`]; nothing causes any of them.
pub fn start_page(said: &str, folder: &str, demos: &[(String, String)]) -> Result<Made, PageError> {
    let (style, script) = (style(), script());
    let start = Start {
        frame: Frame {
            title: "flyheft bench",
            style: &style,
            script: &script,
            version: env!("CARGO_PKG_VERSION"),
        },
        said,
        folder,
        demos,
    };
    let html = start.render()?;
    Ok(made(&style, &script, html))
}

/// The page after the bench has ended.
///
/// # Errors
/// See [`PageError`]; nothing causes any of them.
pub fn goodbye_page() -> Result<Made, PageError> {
    let style = style();
    let goodbye = Goodbye {
        frame: Frame {
            title: "The bench is closed",
            style: &style,
            script: "",
            version: env!("CARGO_PKG_VERSION"),
        },
    };
    let html = goodbye.render()?;
    Ok(made(&style, "", html))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Joined into one script, nothing of a module may be left that only a module has, and no
    /// two of them may name the same thing.
    #[test]
    fn law_the_modules_join_into_one_script() {
        let script = script();
        assert!(
            !script
                .lines()
                .any(|line| line.starts_with("import ") || line.starts_with("export "))
        );
        let mut names: Vec<&str> = script
            .lines()
            .filter_map(|line| {
                line.strip_prefix("const ")
                    .or_else(|| line.strip_prefix("let "))
            })
            .filter_map(|rest| rest.split([' ', '=']).next())
            .collect();
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert!(all > 10);
        assert_eq!(names.len(), all);
    }

    /// A module takes only from those that stand before it.
    #[test]
    fn law_modules_stand_after_what_they_take_from() {
        for (place, module) in MODULES.iter().enumerate() {
            for line in module.lines().filter(|line| line.starts_with("import ")) {
                assert!(line.ends_with(".js\";"), "{line}");
                let names = line.split(['{', '}']).nth(1).unwrap();
                for name in names
                    .split(',')
                    .map(str::trim)
                    .filter(|name| !name.is_empty())
                {
                    let exported = |module: &&str| {
                        ["const", "function", "let"]
                            .iter()
                            .any(|kind| module.contains(&format!("export {kind} {name}")))
                    };
                    assert!(MODULES[..place].iter().any(exported), "{name}");
                }
            }
        }
    }

    #[test]
    fn law_a_title_is_shown_and_not_run() {
        let made = start_page("<script>alert(1)</script>", ".", &[]).unwrap();
        assert!(!made.html.contains("<script>alert"));
        assert!(!made.policy.contains("unsafe"));
    }
}
