//! The copy of the project with all faults in it, each behind a switch.

use crate::branches;
use crate::faults::{self, Site, Sort};
use crate::{Fault, Result, copy_in, project, write};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Stands for one fault being on, in the copy.
const SWITCH: &str = "crate::planted::on(";

/// What the copy asks; the environment says which fault is on, or that it is to be told which are
/// come by.
const PLANTED: &str = r#"
use std::io::Write;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering::Relaxed};

const NOT_ASKED: u32 = u32::MAX;
const SURVEY: u32 = u32::MAX - 1;
const NONE: u32 = u32::MAX - 2;
static WHICH: AtomicU32 = AtomicU32::new(NOT_ASKED);
static SEEN: [AtomicBool; COUNT] = [const { AtomicBool::new(false) }; COUNT];

#[inline(always)]
pub fn on(fault: u32) -> bool {
    match WHICH.load(Relaxed) {
        NOT_ASKED => ask() == fault,
        SURVEY => {
            if !SEEN[fault as usize].load(Relaxed) {
                come_by(fault);
            }
            false
        }
        which => which == fault,
    }
}

#[cold]
fn ask() -> u32 {
    let which = match std::env::var("FLYHEFT_FAULT").as_deref() {
        Ok("survey") => SURVEY,
        Ok(id) => id.parse().unwrap_or(NONE),
        Err(_) => NONE,
    };
    WHICH.store(which, Relaxed);
    which
}

#[cold]
fn come_by(fault: u32) {
    let seen = SEEN[fault as usize].swap(true, Relaxed);
    if let (false, Ok(path)) = (seen, std::env::var("FLYHEFT_REACHED")) {
        if let Ok(mut file) = std::fs::OpenOptions::new().create(true).append(true).open(path) {
            let _ = file.write_all(format!("{fault}\n").as_bytes());
        }
    }
}
"#;

struct Planted {
    path: PathBuf,
    text: String,
    /// Each with the number of its first fault.
    sites: Vec<(u32, Site)>,
}

/// Puts in faults, or what tells of branches.
pub fn plant(folder: &Path, parts: &[String], branches: bool) -> Result<()> {
    let sites_of = if branches {
        branches::branches
    } else {
        faults::sites
    };
    let copy = copy_in(folder);
    copy_project(&copy)?;
    let mut files = Vec::new();
    let mut next = 0;
    for part in parts {
        for path in sources(&copy.join("src").join(part))? {
            let text = std::fs::read_to_string(&path)?;
            let sites = sites_of(&text).map_err(|e| format!("{}: {e}", path.display()))?;
            let mut numbered = Vec::new();
            for site in sites {
                let first = next;
                next += u32::try_from(site.instead.len())?;
                numbered.push((first, site));
            }
            files.push(Planted {
                path,
                text,
                sites: numbered,
            });
        }
    }
    println!("{next} faults in {} files", files.len());
    let count = format!("const COUNT: usize = {next};\n{PLANTED}");
    std::fs::write(copy.join("src/planted.rs"), count)?;
    let mut unfit = BTreeSet::new();
    loop {
        for file in &files {
            std::fs::write(&file.path, with_faults(file, &unfit))?;
        }
        let refused = refused(&copy)?;
        println!("{} more do not build", refused.len());
        if refused.is_empty() {
            break;
        }
        unfit.extend(refused);
    }
    let kept: Vec<Fault> = files
        .iter()
        .flat_map(|file| told(file, &copy, &unfit))
        .collect();
    println!("{} faults that build", kept.len());
    write(&folder.join("faults.json"), &kept)
}

fn copy_project(copy: &Path) -> Result<()> {
    let listed = Command::new("git")
        .args(["-C", &project().display().to_string(), "ls-files", "-z"])
        .output()?;
    for name in String::from_utf8(listed.stdout)?
        .split('\0')
        .filter(|name| !name.is_empty())
    {
        let to = copy.join(name);
        std::fs::create_dir_all(to.parent().unwrap_or(copy))?;
        std::fs::copy(project().join(name), to)?;
    }
    // A fault is no matter of style.
    let manifest = copy.join("Cargo.toml");
    let text = std::fs::read_to_string(&manifest)?;
    let mut within = false;
    let lines = text.lines().filter(|line| {
        if line.starts_with('[') {
            within = line.starts_with("[lints");
        }
        !within
    });
    let kept = lines.collect::<Vec<_>>().join("\n");
    std::fs::write(manifest, kept)?;
    let with = [
        ("src/lib.rs", "#[doc(hidden)]\npub mod planted;"),
        ("src/main.rs", "use flyheft::planted;"),
    ];
    for (name, module) in with {
        let path = copy.join(name);
        let text = std::fs::read_to_string(&path)?;
        // Faults that the compiler sees through are to be found by a test all the same.
        let allowed = "#![allow(warnings, arithmetic_overflow, unconditional_panic)]";
        std::fs::write(&path, format!("{allowed}\n{text}\n{module}\n"))?;
    }
    Ok(())
}

/// The sources of a folder that are no tests.
fn sources(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut all = Vec::new();
    let mut tests = BTreeSet::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                tests.extend(tests_of(&path)?);
                all.push(path);
            }
        }
    }
    all.retain(|path| {
        !path.ends_with("planted.rs") && !path.ancestors().any(|part| tests.contains(part))
    });
    all.sort();
    Ok(all)
}

/// The files and folders of modules for tests that a file names.
fn tests_of(path: &Path) -> Result<Vec<PathBuf>> {
    let beside = path.parent().unwrap_or(path);
    let below = if path.file_name().is_some_and(|name| name == "mod.rs") {
        beside.to_owned()
    } else {
        path.with_extension("")
    };
    let named = faults::test_modules(&std::fs::read_to_string(path)?)?;
    let each = named.into_iter().flat_map(|(name, file)| match file {
        Some(file) => vec![beside.join(file)],
        None => vec![below.join(&name), below.join(format!("{name}.rs"))],
    });
    Ok(each.collect())
}

fn with_faults(file: &Planted, unfit: &BTreeSet<u32>) -> String {
    let whole = 0..file.text.len();
    let mut text = String::new();
    let mut rest = file.sites.as_slice();
    render(&file.text, whole, &mut rest, unfit, &mut text);
    text
}

/// Writes a piece of the file, with the faults inside it; takes them off the list.
fn render(
    text: &str,
    piece: std::ops::Range<usize>,
    rest: &mut &[(u32, Site)],
    unfit: &BTreeSet<u32>,
    to: &mut String,
) {
    let mut at = piece.start;
    while let Some(((first, site), others)) = rest.split_first()
        && site.range.end <= piece.end
    {
        *rest = others;
        to.push_str(&text[at..site.range.start]);
        at = site.range.end;
        let mut inner = String::new();
        render(text, site.range.clone(), rest, unfit, &mut inner);
        let fit = (*first..)
            .zip(&site.instead)
            .filter(|(id, _)| !unfit.contains(id));
        match site.sort {
            Sort::Value => {
                for (id, value) in fit {
                    to.push_str(&format!(" if {SWITCH}{id}) {{ return {value}; }}"));
                }
            }
            Sort::Expression => {
                let fit: Vec<_> = fit.collect();
                let switched = fit
                    .iter()
                    .map(|(id, by)| format!("if {SWITCH}{id}) {{ {by} }} else "));
                let switched: String = switched.collect();
                if fit.is_empty() {
                    to.push_str(&inner);
                } else {
                    to.push_str(&format!("({switched}{{ {inner} }})"));
                }
            }
            Sort::Begun => to.push_str(&format!(" {SWITCH}{first});")),
            Sort::Wrapped => to.push_str(&format!("{{ {SWITCH}{first}); {inner} }}")),
            Sort::Else => to.push_str(&format!(" else {{ {SWITCH}{first}); }}")),
            Sort::Guard => {
                for (id, either) in fit {
                    match either.as_str() {
                        "true" => inner = format!("({SWITCH}{id}) || ({inner}))"),
                        _ => inner = format!("(!{SWITCH}{id}) && ({inner}))"),
                    }
                }
                to.push_str(&inner);
            }
        }
    }
    to.push_str(&text[at..piece.end]);
}

/// The faults that the compiler does not take.
fn refused(copy: &Path) -> Result<BTreeSet<u32>> {
    let built = Command::new("cargo")
        .args(["check", "--tests", "--message-format=json", "--quiet"])
        .current_dir(copy)
        .stderr(Stdio::null())
        .output()?;
    let mut refused = BTreeSet::new();
    let mut texts = BTreeMap::new();
    let mut unexplained = Vec::new();
    for line in String::from_utf8(built.stdout)?.lines() {
        let told: serde_json::Value = serde_json::from_str(line)?;
        let message = &told["message"];
        if message["level"] != "error" {
            continue;
        }
        let spans = message["spans"].as_array().into_iter().flatten();
        let mut found = false;
        for span in spans.filter(|span| span["is_primary"] == true) {
            let name = span["file_name"].as_str().unwrap_or_default();
            let path = copy.join(name);
            let text = texts
                .entry(path.clone())
                .or_insert_with(|| std::fs::read_to_string(path).unwrap_or_default());
            let at = usize::try_from(span["byte_end"].as_u64().unwrap_or(0))?;
            let before = text.get(..at).unwrap_or_default();
            let id = before.rfind(SWITCH).and_then(|start| {
                let digits = &before[start + SWITCH.len()..];
                digits.split(')').next()?.parse::<u32>().ok()
            });
            found |= id.is_some();
            refused.extend(id);
        }
        if !found
            && message["spans"]
                .as_array()
                .is_some_and(|all| !all.is_empty())
        {
            unexplained.push(message["rendered"].as_str().unwrap_or_default().to_owned());
        }
    }
    if refused.is_empty() && !built.status.success() {
        return Err(format!("the copy does not build: {}", unexplained.join("\n")).into());
    }
    Ok(refused)
}

fn told(file: &Planted, copy: &Path, unfit: &BTreeSet<u32>) -> Vec<Fault> {
    let name = file.path.strip_prefix(copy).unwrap_or(&file.path).display();
    let each = file.sites.iter().flat_map(|(first, site)| {
        let fit = (*first..)
            .zip(&site.instead)
            .filter(|(id, _)| !unfit.contains(id));
        fit.map(|(id, instead)| Fault {
            id,
            file: name.to_string(),
            line: site.line,
            function: site.function.clone(),
            now: site.now.clone(),
            instead: instead.split_whitespace().collect::<Vec<_>>().join(" "),
        })
    });
    each.collect()
}
