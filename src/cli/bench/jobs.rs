//! What is computed beside the server, stage by stage, each put on the page as soon as it is known.

use super::news::News;
use super::worker::{Ended, Precedence, Watch, lock};
use crate::cli::failure::Failure;
use crate::cli::fit;
use flyheft::car::machining::Pass;
use flyheft::car::{Car, Flywheel};
use flyheft::sheet::{Reading, slips};
use flyheft::shown::page::bench::{self, Fragment, Part};
use flyheft::shown::page::{CardWork, PageError};
use flyheft::study::card::study_card;
use flyheft::study::compare::study_wheels;
use flyheft::study::cutting::rules_for;
use flyheft::study::decide::{Decision, Question, decide};
use flyheft::study::fit::FitQuestion;
use flyheft::study::plan::Planned;
use flyheft::study::scatter::draws::DEFAULT_SEED;
use flyheft::study::trial::{Trial, TrialCar, Tried};
use flyheft::study::{Comparison, Options, Progress, StudyError, compare_studied};
use flyheft::units::System;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// The answers to a sheet as it stands.
pub(super) const OF_THE_SHEET: [Part; 6] = [
    Part::Verdict,
    Part::Wheels,
    Part::Lines,
    Part::Metal,
    Part::Torque,
    Part::Drawings,
];
/// The answers to the sliders.
pub(super) const OF_THE_SLIDERS: [Part; 3] = [Part::Tried, Part::TriedAround, Part::TriedOnAverage];
/// A finger on its way moves again within this time; what takes longer than a picture waits for it.
const FINGER_RESTS: Duration = Duration::from_millis(60);
/// Launches drawn for a wheel as cut: its average is looked at, not decided by.
const DRAWS_AS_CUT: usize = 512;

/// A sheet to answer.
pub(super) struct SheetJob {
    pub(super) reading: Arc<Reading>,
}

/// A launch to try.
pub(super) struct TrialJob {
    pub(super) reading: Arc<Reading>,
    pub(super) trial: Trial,
}

/// Passes on a flywheel, by its place.
pub(super) struct LatheJob {
    pub(super) reading: Arc<Reading>,
    pub(super) wheel: usize,
    pub(super) passes: Vec<Pass>,
}

/// Time slips, as they were pasted; logs that they name lie beside the sheet.
pub(super) struct SlipsJob {
    pub(super) reading: Arc<Reading>,
    pub(super) sheet: PathBuf,
    pub(super) text: String,
}

/// What is told of the launch under the finger besides its picture.
#[derive(Debug, Default)]
pub(super) struct LastTried {
    /// Launch speed where the sliders leave it open, rad/s.
    pub(super) quickest_rad_s: Option<f64>,
    /// How long the library took for the launch and its picture.
    pub(super) took: Duration,
}

/// Why a stage was the last.
enum Trouble {
    Stopped,
    Said(String),
}

impl From<StudyError> for Trouble {
    fn from(error: StudyError) -> Self {
        match error {
            StudyError::Stopped => Self::Stopped,
            other => Self::Said(Failure::from(other).to_string()),
        }
    }
}

impl From<PageError> for Trouble {
    fn from(error: PageError) -> Self {
        Self::Said(error.to_string())
    }
}

/// How a job ended; what went wrong with it stands in the part that it was for.
fn ended(news: &News, part: Part, done: Result<(), Trouble>) -> Ended {
    match done {
        Ok(()) => Ended::Finished,
        Err(Trouble::Stopped) => Ended::Stopped,
        Err(Trouble::Said(words)) => {
            news.put(bench::not_known(part, words));
            Ended::Finished
        }
    }
}

/// Puts stages on the page, unless something newer has stopped them meanwhile.
fn put(
    news: &News,
    watch: &Watch,
    stages: impl IntoIterator<Item = Fragment>,
) -> Result<(), Trouble> {
    if watch.stopped() {
        return Err(Trouble::Stopped);
    }
    stages.into_iter().for_each(|fragment| news.put(fragment));
    Ok(())
}

/// Answers a sheet: single launches, averages, the verdict, the doubt in full.
pub(super) fn answer_sheet(job: &SheetJob, watch: &Watch, news: &News) -> Ended {
    ended(news, Part::Verdict, sheet_stages(&job.reading, watch, news))
}

fn sheet_stages(reading: &Reading, watch: &Watch, news: &News) -> Result<(), Trouble> {
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    put(news, watch, bench::pictures(reading)?)?;
    let studies = study_wheels(car, &wheels, watch)?;
    put(news, watch, bench::clean(reading, &studies)?)?;
    let comparison = compare_studied(car, studies, &Options::default(), watch)?;
    put(news, watch, bench::averages(&comparison)?)?;
    let decision = decide(
        &reading.doubted,
        Question::in_short(car, DEFAULT_SEED),
        watch,
    )?;
    put(
        news,
        watch,
        verdict(reading, &comparison, decision.as_ref(), watch)?,
    )?;
    if let Some(decision) = decide(&reading.doubted, Question::of(car), watch)? {
        let metal = bench::whole(reading, &decision)?;
        put(news, watch, [metal])?;
    }
    Ok(())
}

fn verdict(
    reading: &Reading,
    comparison: &Comparison,
    decision: Option<&Decision>,
    watch: &Watch,
) -> Result<Vec<Fragment>, Trouble> {
    let start = decision.map(Decision::wheel_to_use);
    let card = study_card(comparison, start, watch)?;
    let work = CardWork {
        reading,
        comparison,
        card: card.as_ref(),
        play: None,
        plans: &[],
        decision,
        system: System::Metric,
    };
    Ok(bench::decided(&work)?)
}

/// Answers the sliders: the launch itself, those from other speeds, the average.
pub(super) fn answer_sliders(
    job: &TrialJob,
    watch: &Watch,
    news: &News,
    precedence: &Arc<Precedence>,
    last: &Mutex<LastTried>,
) -> Ended {
    let taken = precedence.take();
    let done = slider_stages(&job.reading.car, &job.trial, watch, news, last);
    drop(taken);
    ended(news, Part::Tried, done)
}

fn slider_stages(
    car: &Car,
    trial: &Trial,
    watch: &Watch,
    news: &News,
    last: &Mutex<LastTried>,
) -> Result<(), Trouble> {
    let Some(tried_car) = TrialCar::new(car, trial) else {
        return Err(Trouble::Said(
            "There is no such car: move a slider back.".into(),
        ));
    };
    let first = match trial.launch_speed_rad_s {
        Some(speed) => Some(launch(car, trial, &tried_car, speed, (watch, news, last))?),
        None => None,
    };
    if first.is_some() {
        watch.rest(FINGER_RESTS);
    }
    let Some(around) = tried_car.around(watch)? else {
        return Ok(());
    };
    let quickest = around
        .best
        .as_ref()
        .map(|best| best.quickest.launch_speed_rad_s);
    let here = if let Some(tried) = first {
        tried
    } else {
        let speed = quickest.unwrap_or_else(|| middle(car));
        lock(last).quickest_rad_s = Some(speed);
        news.sliders_moved();
        launch(car, trial, &tried_car, speed, (watch, news, last))?
    };
    put(news, watch, [bench::tried_around(&around, &here)?])?;
    let average = tried_car.on_average(around, watch)?;
    put(news, watch, [bench::tried_on_average(&average)?])
}

/// The middle of the launch speeds looked at, rad/s.
fn middle(car: &Car) -> f64 {
    let range = &car.driver.launch_range;
    f64::midpoint(range.low_rad_s(), range.high_rad_s())
}

/// The launch under the finger, put on the page.
fn launch(
    car: &Car,
    trial: &Trial,
    tried_car: &TrialCar,
    speed_rad_s: f64,
    (watch, news, last): (&Watch, &News, &Mutex<LastTried>),
) -> Result<Tried, Trouble> {
    let from = Instant::now();
    let gone = || Trouble::Said("That flywheel is no longer on the sheet.".into());
    let tried = tried_car
        .launch(speed_rad_s)
        .map_err(StudyError::from)?
        .ok_or_else(gone)?;
    let stated = if trial.moves_the_car() {
        let own = TrialCar::new(car, &Trial::of_wheel(trial.wheel)).ok_or_else(gone)?;
        own.launch(speed_rad_s).map_err(StudyError::from)?
    } else {
        None
    };
    let inertia = tried_car.crank_side_kg_m2();
    let drawn = bench::tried_launch(&tried, stated.as_ref(), inertia)?;
    lock(last).took = from.elapsed();
    put(news, watch, [drawn])?;
    Ok(tried)
}

/// Puts a flywheel on the lathe, then launches the car with it.
pub(super) fn answer_lathe(job: &LatheJob, watch: &Watch, news: &News) -> Ended {
    let done = cut(&job.reading, job.wheel, &job.passes, watch, news);
    ended(news, Part::Lathe, done)
}

/// Works out what slips say.
pub(super) fn answer_slips(job: &SlipsJob, watch: &Watch, news: &News) -> Ended {
    let done = told_by_slips(job, watch, news);
    ended(news, Part::Slips, done)
}

fn cut(
    reading: &Reading,
    wheel: usize,
    passes: &[Pass],
    watch: &Watch,
    news: &News,
) -> Result<(), Trouble> {
    let car = &reading.car;
    let gone = || Trouble::Said("That flywheel is no longer on the sheet.".into());
    let wheel = car.flywheels.all().get(wheel).ok_or_else(gone)?;
    let rules = rules_for(car, wheel, None)
        .ok_or_else(|| Trouble::Said("The shop’s usual rules are out of range.".into()))?;
    let planned = match Planned::at_once(car, wheel, passes, None, rules) {
        Ok(planned) => planned,
        Err(error) => {
            let refused = bench::refused_cut(wheel.name(), &error, System::Metric)?;
            return put(news, watch, [refused]);
        }
    };
    let told =
        |launched: Option<&_>| bench::lathe(reading, &planned.cutting, launched, System::Metric);
    put(news, watch, [told(None)?])?;
    if planned.after.is_empty() {
        return Ok(());
    }
    let options = Options {
        draws: DRAWS_AS_CUT,
        ..Options::default()
    };
    let launched = planned.launch(&reading.doubted, &options, watch)?;
    put(news, watch, [told(Some(&launched))?])
}

fn told_by_slips(job: &SlipsJob, watch: &Watch, news: &News) -> Result<(), Trouble> {
    let reading = &job.reading;
    let pasted = job.sheet.with_file_name("slips as pasted");
    let slips = match slips::read_text(&pasted, &job.text, &reading.car) {
        Ok(slips) => slips,
        Err(refusal) => {
            let refused = bench::slips(reading, Err(refusal.to_string()))?;
            return put(news, watch, [refused]);
        }
    };
    let question = FitQuestion::new(Vec::new(), DEFAULT_SEED);
    let work = fit::work(&question, reading, &slips.runs, watch);
    if watch.stopped() {
        return Err(Trouble::Stopped);
    }
    let fragment = match &work {
        Ok(work) => bench::slips(reading, Ok(work))?,
        Err(failure) => bench::slips(reading, Err(failure.to_string()))?,
    };
    put(news, watch, [fragment])
}
