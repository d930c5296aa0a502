//! The demo meeting: slips made by the second implementation of the model, from a truth that the
//! sheet does not have (`tests/reference/demo_meeting.py`), and what a fit makes of them.
#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is wrong"
)]

use flyheft::car::slip::Slip;
use flyheft::car::track::Mark;
use flyheft::sheet::{Reading, read, slips};
use flyheft::study::Unwatched;
use flyheft::study::fit::logs::with_log;
use flyheft::study::fit::{Fit, FitQuestion, fit};
use std::path::{Path, PathBuf};

/// What the slips were made with: key, value, SI.
const TRUTH: [(&str, f64); 3] = [
    ("tyre.grip", 1.26),
    ("tyre.sliding_share", 0.76),
    ("clutch.release_time", 0.28),
];
/// The run with the missed shift.
const MISSED: usize = 7;

fn demo(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    folder.join(name)
}

fn meeting() -> (Reading, Vec<Slip>) {
    let reading = read(&demo("bogger.toml")).expect("a demo sheet");
    let slips = slips::read(&demo("bogger-slips.csv"), &reading.car).expect("its slips");
    let runs = slips.runs.iter();
    let runs = runs.map(|slip| with_log(&reading.car, slip).expect("a launch"));
    let runs = runs.collect();
    (reading, runs)
}

fn fitted(reading: &Reading, runs: &[Slip], unknowns: &[&str]) -> Fit {
    let question = FitQuestion::new(unknowns.iter().map(|key| (*key).to_owned()).collect(), 1);
    fit(&reading.doubted, runs, &question, &Unwatched).expect("a fit")
}

/// The truth lies within what the fit leaves open, the missed shift alone has next to no say.
fn holds_the_truth(fit: &Fit) {
    for (key, truth) in TRUTH {
        let unknown = fit.unknowns.iter().find(|unknown| unknown.input.key == key);
        let (low, high) = unknown.expect("an unknown").interval;
        assert!((low..=high).contains(&truth), "{key}: {low} to {high}");
    }
    let odd: Vec<usize> = fit.odd_runs().map(|run| run.slip.row).collect();
    assert_eq!(odd, [MISSED]);
    assert!(fit.trusted(), "{} of {}", fit.draws.effective(), fit.made);
}

#[test]
fn law_the_demo_meeting_is_twelve_slips_and_two_logs() {
    let (_, runs) = meeting();
    let logged: Vec<usize> = (runs.iter().filter(|slip| slip.log.is_some()))
        .map(|slip| slip.row)
        .collect();
    assert_eq!((runs.len(), logged.as_slice()), (12, &[2, 9][..]));
    // Engine and input shaft were logged, and are read three times while the clutch bites.
    for row in logged {
        let figures = runs[row - 1].figures.iter();
        let read = figures.filter(|figure| figure.shown.logged_at().is_some());
        assert!(read.count() == 6, "{row}");
    }
}

/// Half of the runs, to 330 ft.
#[test]
fn reference_a_fit_finds_what_the_slips_were_made_of() {
    let (reading, runs) = meeting();
    let runs: Vec<Slip> = (runs.into_iter())
        .filter(|slip| [1, 4, MISSED, 9, 10, 12].contains(&slip.row))
        .map(|mut slip| {
            slip.figures
                .retain(|figure| figure.shown.mark() <= Mark::Ft330);
            slip
        })
        .collect();
    holds_the_truth(&fitted(&reading, &runs, &TRUTH.map(|(key, _)| key)));
}

/// All of it, with all that is usually unknown: `docs/first-meeting.md` tells it.
#[test]
#[ignore = "a minute or two"]
fn reference_a_fit_finds_it_among_all_that_is_usually_unknown() {
    let (reading, runs) = meeting();
    holds_the_truth(&fitted(&reading, &runs, &[]));
}

/// Thirty slips, three of them logged, and seven unknowns: at most 60,000 launches.
#[test]
#[ignore = "takes a minute; run on request"]
fn law_the_largest_meeting_takes_no_more_than_sixty_thousand_launches() {
    let (reading, runs) = meeting();
    let thirty: Vec<Slip> = (runs.iter().cycle().take(30).enumerate())
        .map(|(index, slip)| Slip {
            row: index + 1,
            ..slip.clone()
        })
        .collect();
    let unknowns = [
        "tyre.grip",
        "tyre.sliding_share",
        "tyre.peak_slip",
        "clutch.capacity",
        "clutch.release_time",
        "gearbox.efficiency",
        "car.drag_area",
    ];
    let fit = fitted(&reading, &thirty, &unknowns);
    println!("{} launches", fit.launches);
    assert!(fit.launches <= 60_000, "{}", fit.launches);
}
