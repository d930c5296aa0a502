//! How many faults the tests catch, and which they do not.

use crate::hunt::found;
use crate::{Fault, Outcome, Result, Test, read, read_lines};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

pub fn report(folder: &Path) -> Result<()> {
    let faults: Vec<Fault> = read(&folder.join("faults.json"))?;
    let found = found(folder)?;
    let outcomes: BTreeMap<u32, Outcome> = found.iter().map(|one| (one.id, one.outcome)).collect();
    let mut counts = BTreeMap::<Outcome, usize>::new();
    for fault in &faults {
        let Some(&outcome) = outcomes.get(&fault.id) else {
            continue;
        };
        *counts.entry(outcome).or_default() += 1;
        if !matches!(outcome, Outcome::Caught | Outcome::Hangs) {
            let Fault {
                id,
                file,
                line,
                function,
                now,
                instead,
            } = fault;
            println!("{outcome:?} {id} {file}:{line} {function}: {now} -> {instead}");
        }
    }
    let tried = outcomes.len();
    let caught = [Outcome::Caught, Outcome::Hangs];
    let caught: usize = caught
        .iter()
        .filter_map(|outcome| counts.get(outcome))
        .sum();
    println!("{counts:?}");
    println!(
        "{caught} of {tried} tried are caught, of {} in all",
        faults.len()
    );
    Ok(())
}

pub fn unreached(folder: &Path) -> Result<()> {
    let faults: Vec<Fault> = read(&folder.join("faults.json"))?;
    let tests: Vec<Test> = read_lines(&folder.join("tests.jsonl"))?;
    let reached: BTreeSet<u32> = tests.iter().flat_map(|test| test.reaches.clone()).collect();
    let mut by_folder = BTreeMap::<&str, (usize, usize)>::new();
    for fault in &faults {
        let part = fault.file.split('/').nth(1).unwrap_or_default();
        let (all, left) = by_folder.entry(part).or_default();
        *all += 1;
        if !reached.contains(&fault.id) {
            *left += 1;
            let Fault {
                file,
                line,
                function,
                now,
                ..
            } = fault;
            println!("{file}:{line} {function}: {now}");
        }
    }
    for (part, (all, left)) in by_folder {
        println!("{part}: {} of {all} reached", all - left);
    }
    Ok(())
}
