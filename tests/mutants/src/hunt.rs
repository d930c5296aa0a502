//! Fault by fault: the tests that reach it, until one fails.

use crate::survey::{Ending, run};
use crate::{Fault, Found, Outcome, Result, Test, copy_in, read, read_lines};
use std::collections::BTreeSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::Write;
use std::path::Path;
use std::sync::Mutex;
use std::time::Duration;

/// A test with a fault may take so many times as long as without before it is said to hang.
const SLOWER: f64 = 8.0;
/// And this besides, s: the machine is busy.
const AND: f64 = 10.0;

pub fn hunt(folder: &Path, budget: f64, most: Option<usize>) -> Result<()> {
    let tests: Vec<Test> = read_lines(&folder.join("tests.jsonl"))?;
    let done: BTreeSet<u32> = found(folder)?.iter().map(|one| one.id).collect();
    let mut faults: Vec<Fault> = read(&folder.join("faults.json"))?;
    // A random order, the same at every run: however far it comes, it is a fair sample.
    faults.sort_by_key(|fault| {
        let mut hash = DefaultHasher::new();
        (fault.id, &fault.file).hash(&mut hash);
        hash.finish()
    });
    faults.retain(|fault| !done.contains(&fault.id));
    faults.truncate(most.unwrap_or(usize::MAX));
    faults.reverse();
    let left = Mutex::new(faults);
    let file = std::fs::OpenOptions::new()
        .create(true)
        .append(true)
        .open(folder.join("found.jsonl"))?;
    let file = Mutex::new(file);
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                let next = || left.lock().ok()?.pop();
                while let Some(fault) = next() {
                    let told = one(&copy_in(folder), &fault, &tests, budget)
                        .and_then(|found| Ok(serde_json::to_string(&found)?));
                    match (told, file.lock()) {
                        (Ok(line), Ok(mut file)) => drop(writeln!(file, "{line}")),
                        (Err(error), _) => println!("fault {}: {error}", fault.id),
                        _ => {}
                    }
                }
            });
        }
    });
    Ok(())
}

fn one(copy: &Path, fault: &Fault, tests: &[Test], budget: f64) -> Result<Found> {
    let mut reaching: Vec<&Test> = tests
        .iter()
        .filter(|test| test.reaches.binary_search(&fault.id).is_ok())
        .collect();
    // Its own tests first, then the quick ones.
    let module = fault
        .file
        .trim_start_matches("src/")
        .trim_end_matches(".rs");
    let module = module.trim_end_matches("/mod").replace('/', "::");
    reaching.sort_by(|a, b| {
        let key = |test: &Test| !test.name.starts_with(&module);
        key(a).cmp(&key(b)).then(a.seconds.total_cmp(&b.seconds))
    });
    let found = |outcome, by: Option<&Test>| {
        let by = by.map(|test| test.name.clone());
        Ok(Found {
            id: fault.id,
            outcome,
            by,
        })
    };
    if reaching.is_empty() {
        return found(Outcome::NotReached, None);
    }
    let mut spent = 0.0;
    for test in reaching {
        if spent > 0.0 && spent + test.seconds > budget {
            return found(Outcome::OutOfTime, None);
        }
        spent += test.seconds;
        let most = Duration::from_secs_f64(SLOWER * test.seconds + AND);
        let id = fault.id.to_string();
        match run(
            copy,
            &test.program,
            &test.name,
            &[("FLYHEFT_FAULT", &id)],
            most,
        )? {
            Ending::Passed => {}
            Ending::Failed => return found(Outcome::Caught, Some(test)),
            Ending::DidNotEnd => return found(Outcome::Hangs, Some(test)),
        }
    }
    found(Outcome::Missed, None)
}

/// What was found so far.
pub fn found(folder: &Path) -> Result<Vec<Found>> {
    read_lines(&folder.join("found.jsonl"))
}
