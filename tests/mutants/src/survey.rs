//! Which test reaches which fault, and how long it takes.

use crate::{Result, Test, copy_in, read_lines};
use std::collections::BTreeMap;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// How a run of one test ended.
pub enum Ending {
    Passed,
    Failed,
    DidNotEnd,
}

/// How often a test that runs is looked at.
const LOOKED_AT: Duration = Duration::from_millis(2);

/// Goes on where it was stopped. Tests that take longer are left out: a fault that only they would
/// find counts as missed.
pub fn survey(folder: &Path, longest: Duration, only: &str) -> Result<()> {
    let copy = copy_in(folder);
    let path = folder.join("tests.jsonl");
    let before: Vec<Test> = read_lines(&path)?;
    let mut tests = tests(&copy)?;
    tests.retain(|(program, name)| {
        let same = |test: &Test| test.program == *program && test.name == *name;
        name.starts_with(only) && !before.iter().any(same)
    });
    println!(
        "{} tests surveyed before, {} left",
        before.len(),
        tests.len()
    );
    let file = OpenOptions::new().create(true).append(true).open(path)?;
    let (left, file) = (Mutex::new(tests), Mutex::new(file));
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some((program, name)) = next(&left) {
                    let told = one(&copy, program, name, longest)
                        .and_then(|test| Ok(serde_json::to_string(&test)?));
                    match (told, file.lock()) {
                        (Ok(line), Ok(mut file)) => drop(writeln!(file, "{line}")),
                        (Err(error), _) => println!("{error}"),
                        _ => {}
                    }
                }
            });
        }
    });
    Ok(())
}

fn next<T>(left: &Mutex<Vec<T>>) -> Option<T> {
    left.lock().ok()?.pop()
}

fn one(copy: &Path, program: PathBuf, name: String, longest: Duration) -> Result<Test> {
    let reached = tempfile::NamedTempFile::new()?;
    let began = Instant::now();
    let path = reached.path().display().to_string();
    let switches = [("FLYHEFT_FAULT", "survey"), ("FLYHEFT_REACHED", &path)];
    let ending = run(copy, &program, &name, &switches, longest)?;
    let Ending::Passed = ending else {
        return Err(format!("left out, it fails or takes too long without a fault: {name}").into());
    };
    let mut reaches: Vec<u32> = std::fs::read_to_string(reached.path())?
        .lines()
        .map(str::parse)
        .collect::<std::result::Result<_, _>>()?;
    reaches.sort_unstable();
    reaches.dedup();
    Ok(Test {
        program,
        name,
        seconds: began.elapsed().as_secs_f64(),
        reaches,
    })
}

/// Every test of every program of the copy, which is built for it.
fn tests(copy: &Path) -> Result<Vec<(PathBuf, String)>> {
    let built = Command::new("cargo")
        .args(["test", "--no-run", "--message-format=json", "--quiet"])
        .current_dir(copy)
        .stderr(Stdio::inherit())
        .output()?;
    let mut programs = BTreeMap::new();
    for line in String::from_utf8(built.stdout)?.lines() {
        let told: serde_json::Value = serde_json::from_str(line)?;
        if let Some(path) = told["executable"].as_str()
            && told["profile"]["test"] == true
        {
            programs.insert(path.to_owned(), ());
        }
    }
    let mut tests = Vec::new();
    for path in programs.into_keys() {
        let list = Command::new(&path)
            .args(["--list", "--format", "terse"])
            .current_dir(copy)
            .output()?;
        let ignored = Command::new(&path)
            .args(["--list", "--format", "terse", "--ignored"])
            .current_dir(copy)
            .output()?;
        let ignored = String::from_utf8(ignored.stdout)?;
        for line in String::from_utf8(list.stdout)?.lines() {
            if let Some(name) = line.strip_suffix(": test")
                && !ignored.lines().any(|other| other == line)
            {
                tests.push((PathBuf::from(&path), name.to_owned()));
            }
        }
    }
    Ok(tests)
}

/// Runs one test by itself, on one core, with switches set.
pub fn run(
    copy: &Path,
    program: &Path,
    name: &str,
    switches: &[(&str, &str)],
    most: Duration,
) -> Result<Ending> {
    let mut child = Command::new(program)
        .args([name, "--exact"])
        .current_dir(copy)
        .env("CARGO_MANIFEST_DIR", copy)
        .env("INSTA_WORKSPACE_ROOT", copy)
        .env("INSTA_UPDATE", "no")
        .env("RAYON_NUM_THREADS", "1")
        .envs(switches.iter().copied())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()?;
    let began = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(if status.success() {
                Ending::Passed
            } else {
                Ending::Failed
            });
        }
        if began.elapsed() > most {
            child.kill()?;
            child.wait()?;
            return Ok(Ending::DidNotEnd);
        }
        std::thread::sleep(LOOKED_AT);
    }
}
