//! What lies on the bench: the sheet that is open, what is asked of it, and those who work it out.

use super::guard::Doorkeeper;
use super::jobs::{
    LastTried, LatheJob, OF_THE_SHEET, OF_THE_SLIDERS, SheetJob, SlipsJob, TrialJob, answer_lathe,
    answer_sheet, answer_sliders, answer_slips,
};
use super::news::{News, Standing};
use super::open_sheet::OpenSheet;
use super::rate::Rate;
use super::worker::{Precedence, Worker, lock};
use crate::cli::failure::Failure;
use flyheft::car::machining::Pass;
use flyheft::sheet::printout::{Picked, Printout};
use flyheft::shown::page::bench::Part;
use flyheft::study::trial::Trial;
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::Instant;
use tokio::sync::Notify;

/// Everything that requests share.
pub(super) struct Bench {
    pub(super) keeper: Doorkeeper,
    pub(super) news: Arc<News>,
    pub(super) tried: Arc<Mutex<LastTried>>,
    /// Told when the bench is to end.
    pub(super) end: Arc<Notify>,
    rate: Mutex<Rate>,
    desk: Mutex<Desk>,
    sheets: Worker<SheetJob>,
    sliders: Worker<TrialJob>,
    lathe: Worker<LatheJob>,
    slips: Worker<SlipsJob>,
}

/// What lies there now.
#[derive(Default)]
pub(super) struct Desk {
    /// The sheet; none on the start page.
    pub(super) sheet: Option<OpenSheet>,
    /// Whether every change is saved at once.
    pub(super) autosave: bool,
    /// Where the sliders stand.
    pub(super) trial: Option<Trial>,
    /// What is to be cut, from which flywheel.
    pub(super) cut: Option<(usize, Vec<Pass>)>,
    /// Slips that were pasted.
    pub(super) slips: String,
    /// A dynamometer's printout that was pasted.
    pub(super) printout: Option<Pasted>,
    /// What the last request came to, where that is worth a word.
    pub(super) said: String,
}

/// A dynamometer's printout, and the columns picked from it.
#[derive(Debug, Clone, Default)]
pub(super) struct Pasted {
    pub(super) text: String,
    pub(super) speed: Option<String>,
    pub(super) torque: Option<String>,
    /// Unit of the torque, where the printout says none.
    pub(super) torque_unit: Option<String>,
}

impl Desk {
    /// The sheet that is open.
    pub(super) fn open_sheet(&mut self) -> Result<&mut OpenSheet, Failure> {
        self.sheet
            .as_mut()
            .ok_or_else(|| Failure::said("no sheet is open", "open one first"))
    }
}

impl Pasted {
    pub(super) fn picked(&self) -> Picked<'_> {
        Picked {
            speed: self.speed.as_deref(),
            torque: self.torque.as_deref(),
            torque_unit: self.torque_unit.as_deref(),
        }
    }

    /// The sheet's `torque_columns` for what was picked of a printout; empty where nothing was.
    pub(super) fn columns(printout: &Printout) -> String {
        let quoted = |(key, name): (&str, &String)| {
            format!("{key} = {}", toml_edit::Value::from(name.as_str()))
        };
        let picked = [("speed", &printout.speed), ("torque", &printout.torque)];
        let said: Vec<String> = picked
            .into_iter()
            .filter_map(|(key, name)| Some(quoted((key, name.as_ref()?))))
            .collect();
        if said.is_empty() {
            String::new()
        } else {
            format!("{{ {} }}", said.join(", "))
        }
    }
}

/// Threads that studies run on: one processor is left to the server and the browser, as long as
/// there is more than one.
pub(super) fn threads_for_studies() -> usize {
    std::thread::available_parallelism().map_or(1, |all| all.get().saturating_sub(1).max(1))
}

impl Bench {
    /// A bench with nothing on it.
    ///
    /// # Errors
    /// When the system gives no threads.
    pub(super) fn new(keeper: Doorkeeper) -> std::io::Result<Arc<Self>> {
        let news = Arc::new(News::new());
        let first = Arc::new(Precedence::default());
        let [for_sheets, for_sliders, for_lathe, for_slips] =
            std::array::from_fn(|_| Arc::clone(&news));
        let precedence = Arc::clone(&first);
        let tried: Arc<Mutex<LastTried>> = Arc::default();
        let last = Arc::clone(&tried);
        // Threads of its own: those that others wait on would never get to it.
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads_for_studies())
            .build()
            .map_err(std::io::Error::other)?;
        Ok(Arc::new(Self {
            keeper,
            news,
            tried,
            end: Arc::default(),
            rate: Mutex::new(Rate::new(Instant::now())),
            desk: Mutex::default(),
            sheets: Worker::new("sheet", Some(Arc::clone(&first)), move |job, watch| {
                answer_sheet(&job, watch, &for_sheets)
            })?,
            lathe: Worker::new("lathe", Some(Arc::clone(&first)), move |job, watch| {
                answer_lathe(&job, watch, &for_lathe)
            })?,
            slips: Worker::new("slips", Some(first), move |job, watch| {
                answer_slips(&job, watch, &for_slips)
            })?,
            sliders: Worker::new("sliders", None, move |job, watch| {
                pool.install(|| answer_sliders(&job, watch, &for_sliders, &precedence, &last))
            })?,
        }))
    }

    /// Whether one more request is answered.
    pub(super) fn takes(&self, now: Instant) -> bool {
        lock(&self.rate).takes(now)
    }

    /// The desk, for one request at a time.
    pub(super) fn desk(&self) -> MutexGuard<'_, Desk> {
        lock(&self.desk)
    }

    /// The sheet has changed: what is known of an older one is so no longer.
    pub(super) fn sheet_changed(&self, desk: &Desk) {
        let reading = desk.sheet.as_ref().and_then(OpenSheet::reading);
        let Some(reading) = reading else {
            self.sheets.stop();
            self.sliders.stop();
            self.lathe.stop();
            self.slips.stop();
            for parts in [
                &OF_THE_SHEET[..],
                &OF_THE_SLIDERS,
                &[Part::Lathe, Part::Slips],
            ] {
                self.news.stand(parts, Standing::Stale);
            }
            return;
        };
        self.news.stand(&OF_THE_SHEET, Standing::Computing);
        self.sheets.give(SheetJob { reading });
        self.sliders_moved(desk);
        self.lathe_changed(desk);
        self.slips_changed(desk);
    }

    /// The sliders have moved.
    pub(super) fn sliders_moved(&self, desk: &Desk) {
        let reading = desk.sheet.as_ref().and_then(OpenSheet::reading);
        let Some(reading) = reading else { return };
        let fitted = || {
            let wheels = reading.car.flywheels.all();
            let place = wheels
                .iter()
                .position(|wheel| reading.car.flywheels.is_fitted(wheel));
            Trial::of_wheel(place.unwrap_or_default())
        };
        let trial = desk.trial.unwrap_or_else(fitted);
        // The launch itself is there before a mark that it is awaited could be seen.
        let awaited = match trial.launch_speed_rad_s {
            Some(_) => OF_THE_SLIDERS.split_at(1).1,
            None => &OF_THE_SLIDERS[..],
        };
        self.news.stand(awaited, Standing::Computing);
        self.sliders.give(TrialJob { reading, trial });
    }

    /// What is cut has changed, or the sheet under it.
    pub(super) fn lathe_changed(&self, desk: &Desk) {
        let reading = desk.sheet.as_ref().and_then(OpenSheet::reading);
        let Some(reading) = reading else { return };
        // Nothing asked for yet: a wheel as it is, to draw a cut on.
        let cut = desk.cut.clone().or_else(|| {
            let mut wheels = reading.car.flywheels.all().iter();
            let drawn = wheels.position(|wheel| wheel.part.built_up().is_some())?;
            Some((drawn, vec![]))
        });
        if let Some((wheel, passes)) = cut {
            self.news.stand(&[Part::Lathe], Standing::Computing);
            self.lathe.give(LatheJob {
                reading,
                wheel,
                passes,
            });
        }
    }

    /// The slips have changed, or the sheet under them.
    pub(super) fn slips_changed(&self, desk: &Desk) {
        let Some(sheet) = &desk.sheet else { return };
        let Some(reading) = sheet.reading() else {
            return;
        };
        if desk.slips.is_empty() {
            self.slips.stop();
            self.news.clear(&[Part::Slips]);
            return;
        }
        self.news.stand(&[Part::Slips], Standing::Computing);
        let text = desk.slips.clone();
        let sheet = sheet.path().to_owned();
        self.slips.give(SlipsJob {
            reading,
            sheet,
            text,
        });
    }

    /// What became of all studies, by whom: started, stopped, finished.
    pub(super) fn counts(&self) -> [(&'static str, [usize; 3]); 4] {
        [
            ("sheet", self.sheets.counts()),
            ("sliders", self.sliders.counts()),
            ("lathe", self.lathe.counts()),
            ("slips", self.slips.counts()),
        ]
    }

    /// Whether nothing is being worked out.
    pub(super) fn is_idle(&self) -> bool {
        self.sheets.is_idle()
            && self.sliders.is_idle()
            && self.lathe.is_idle()
            && self.slips.is_idle()
    }
}
