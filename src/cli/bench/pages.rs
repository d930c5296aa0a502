//! What the bench shows for each request that only looks.

use super::acts;
use super::desk::{Bench, Desk};
use super::fields::fields;
use super::news::{Since, Standing};
use super::sheets::{demos, working_folder};
use super::worker::{Running, lock};
use crate::cli::card::worked_out;
use axum::extract::{Path, Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{Html, IntoResponse, Response};
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::sheet::Reading;
use flyheft::sheet::form::form;
use flyheft::shown::page::bench::{
    Keeping, Made, Sliders, Whole, assumed_part, form_part, goodbye_page, page as whole_page,
    problems_part, start_page,
};
use flyheft::shown::page::{PageError, card as card_page};
use flyheft::study::Options;
use flyheft::study::trial::Trial;
use flyheft::units::System;
use futures_util::stream::{Stream, unfold};
use serde::Serialize;
use std::convert::Infallible;
use std::sync::Arc;
use tokio::sync::watch;

/// A page with its policy; a fault of a template is one of the program.
fn shown(made: Result<Made, PageError>) -> Response {
    let Ok(made) = made else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    let mut answer = Html(made.html).into_response();
    if let Ok(policy) = HeaderValue::from_str(&made.policy) {
        answer
            .headers_mut()
            .insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    answer
}

/// The page itself: the start page, or the sheet that is open.
pub(super) async fn page(State(bench): State<Arc<Bench>>) -> Response {
    let desk = bench.desk();
    let said = desk.said.clone();
    let Some(sheet) = &desk.sheet else {
        return shown(start_page(&said, &working_folder(), &demos()));
    };
    let reading = sheet.reading();
    let parts = bench.news.since(0).parts.into_iter();
    let whole = Whole {
        title: &title(&desk),
        text: sheet.text(),
        keeping: keeping(&desk),
        read: match (&reading, sheet.refusal()) {
            (_, Some(refusal)) => Err(refusal),
            (Some(reading), None) => Ok(reading),
            (None, None) => return StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        },
        form: match form_html(&desk) {
            Ok(form) => form,
            Err(_) => return StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        },
        sliders: sliders(&bench, &desk),
        parts: parts
            .map(|(part, kept)| (part, kept.html, kept.standing.id()))
            .collect(),
        slips: &desk.slips,
    };
    shown(whole_page(&whole))
}

/// The form of the open sheet.
fn form_html(desk: &Desk) -> Result<String, PageError> {
    let Some(sheet) = &desk.sheet else {
        return Ok(String::new());
    };
    let read = sheet.read();
    let read = read.as_ref().map(AsRef::as_ref).map_err(AsRef::as_ref);
    form_part(&form(sheet.path(), sheet.text(), read, System::Metric))
}

fn title(desk: &Desk) -> String {
    desk.sheet.as_ref().map_or_else(String::new, |sheet| {
        sheet
            .reading()
            .map_or_else(|| sheet.name(), |reading| reading.car.title.clone())
    })
}

fn keeping(desk: &Desk) -> Keeping {
    desk.sheet
        .as_ref()
        .map_or_else(Keeping::default, |sheet| Keeping {
            name: sheet.name(),
            folder: sheet.folder(),
            unsaved: sheet.is_unsaved(),
            undo: sheet.can_undo(),
            redo: sheet.can_redo(),
            autosave: desk.autosave,
            elsewhere: sheet.is_changed_elsewhere(),
            said: desk.said.clone(),
        })
}

/// A number as the whole one nearest to it, as sliders have them.
fn whole(value: f64) -> u32 {
    // Adding 0.5 and cutting off rounds what is above zero; what is not a number becomes 0.
    format!("{value:.0}").parse().unwrap_or_default()
}

fn sliders(bench: &Bench, desk: &Desk) -> Sliders {
    let reading = desk
        .sheet
        .as_ref()
        .and_then(super::open_sheet::OpenSheet::reading);
    let quickest = lock(&bench.tried).quickest_rad_s;
    reading.map_or_else(Sliders::default, |reading| {
        sliders_of(&reading, desk.trial, quickest)
    })
}

fn sliders_of(reading: &Reading, trial: Option<Trial>, quickest: Option<f64>) -> Sliders {
    /// Sliders of launch speed go by this, rpm.
    const STEP_RPM: f64 = 10.0;
    let car = &reading.car;
    let range = &car.driver.launch_range;
    let wheels = car.flywheels.all();
    let fitted = wheels
        .iter()
        .position(|wheel| car.flywheels.is_fitted(wheel));
    let trial = trial.unwrap_or(Trial::of_wheel(fitted.unwrap_or_default()));
    let low = (range.low_rad_s() / RAD_S_PER_RPM / STEP_RPM).ceil() * STEP_RPM;
    let high = (range.high_rad_s() / RAD_S_PER_RPM / STEP_RPM).floor() * STEP_RPM;
    let speed = trial
        .launch_speed_rad_s
        .or(quickest)
        .map_or(f64::midpoint(low, high), |speed| speed / RAD_S_PER_RPM);
    let sliding = trial
        .sliding_share
        .unwrap_or(car.tyre.shape.sliding_share());
    let sd = trial
        .launch_sd_rad_s
        .unwrap_or(car.driver.unsteadiness.launch_sd_rad_s.get());
    Sliders {
        wheels: wheels.iter().map(|wheel| wheel.name().to_owned()).collect(),
        wheel: trial.wheel,
        range_rpm: (whole(low), whole(high)),
        launch_rpm: whole(speed),
        metal_percent: whole(trial.metal_left * 100.0),
        grip_percent: whole(trial.grip_factor * 100.0),
        sliding_percent: whole(sliding * 100.0),
        sd_rpm: whole(sd / RAD_S_PER_RPM),
    }
}

/// The sheet as it stands, for the page's script.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a button or a switch of the page, and free of the others"
)]
#[derive(Serialize)]
struct SheetNow {
    open: bool,
    title: String,
    name: String,
    unsaved: bool,
    undo: bool,
    redo: bool,
    autosave: bool,
    elsewhere: bool,
    said: String,
    text: String,
    problems: String,
    assumed: String,
    form: String,
    sliders: SlidersNow,
}

#[derive(Serialize)]
struct SlidersNow {
    wheels: Vec<String>,
    wheel: usize,
    range_rpm: (u32, u32),
    launch_rpm: u32,
    metal_percent: u32,
    grip_percent: u32,
    sliding_percent: u32,
    sd_rpm: u32,
}

impl From<Sliders> for SlidersNow {
    fn from(sliders: Sliders) -> Self {
        Self {
            wheels: sliders.wheels,
            wheel: sliders.wheel,
            range_rpm: sliders.range_rpm,
            launch_rpm: sliders.launch_rpm,
            metal_percent: sliders.metal_percent,
            grip_percent: sliders.grip_percent,
            sliding_percent: sliders.sliding_percent,
            sd_rpm: sliders.sd_rpm,
        }
    }
}

/// The sheet as it stands.
pub(super) async fn sheet(State(bench): State<Arc<Bench>>) -> Response {
    let desk = bench.desk();
    let reading = desk
        .sheet
        .as_ref()
        .and_then(super::open_sheet::OpenSheet::reading);
    let refusal = desk
        .sheet
        .as_ref()
        .and_then(super::open_sheet::OpenSheet::refusal);
    let (Ok(problems), Ok(assumed), Ok(form)) = (
        problems_part(refusal),
        assumed_part(reading.as_deref()),
        form_html(&desk),
    ) else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    let (keeping, sliders) = (keeping(&desk), sliders(&bench, &desk));
    json(&SheetNow {
        open: desk.sheet.is_some(),
        title: title(&desk),
        name: keeping.name,
        unsaved: keeping.unsaved,
        undo: keeping.undo,
        redo: keeping.redo,
        autosave: keeping.autosave,
        elsewhere: keeping.elsewhere,
        said: keeping.said,
        text: desk
            .sheet
            .as_ref()
            .map_or_else(String::new, |sheet| sheet.text().to_owned()),
        problems,
        assumed,
        form,
        sliders: sliders.into(),
    })
}

fn json(value: &impl Serialize) -> Response {
    let Ok(text) = serde_json::to_string(value) else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    ([(header::CONTENT_TYPE, "application/json")], text).into_response()
}

/// What is new, as one event.
#[derive(Serialize)]
struct NewsNow<'n> {
    sheet: bool,
    sliders: Option<SlidersNow>,
    parts: Vec<PartNow<'n>>,
}

#[derive(Serialize)]
struct PartNow<'n> {
    id: &'static str,
    standing: &'static str,
    html: &'n str,
    said: &'n str,
}

fn event(bench: &Bench, since: &Since) -> Event {
    let news = NewsNow {
        sheet: since.sheet,
        sliders: since.sliders.then(|| sliders(bench, &bench.desk()).into()),
        parts: since
            .parts
            .iter()
            .map(|(part, kept)| PartNow {
                id: part.id(),
                standing: kept.standing.id(),
                // What only waits for its successor stands on the page already.
                html: match kept.standing {
                    Standing::Fresh => &kept.html,
                    Standing::Computing | Standing::Stale => "",
                },
                said: &kept.said,
            })
            .collect(),
    };
    // Texts in structs: nothing of it can fail to become JSON.
    let text = serde_json::to_string(&news).unwrap_or_default();
    Event::default().event("news").data(text)
}

/// Everything new, from the first on: who falls behind is told the newest of each part alone.
pub(super) async fn events(
    State(bench): State<Arc<Bench>>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let listener = bench.news.listener();
    let start = (Arc::clone(&bench), listener, None);
    Sse::new(unfold(start, next)).keep_alive(KeepAlive::default())
}

type Listening = (Arc<Bench>, watch::Receiver<u64>, Option<u64>);

async fn next(
    (bench, mut listener, seen): Listening,
) -> Option<(Result<Event, Infallible>, Listening)> {
    if seen.is_some() {
        listener.changed().await.ok()?;
    }
    listener.borrow_and_update();
    let since = bench.news.since(seen.unwrap_or(0));
    let seen = Some(since.revision);
    let news = event(&bench, &since);
    Some((Ok(news), (bench, listener, seen)))
}

/// How many studies were begun, stopped and brought to their end, and whether any goes on.
pub(super) async fn status(State(bench): State<Arc<Bench>>) -> Response {
    #[derive(Serialize)]
    struct Study {
        of: &'static str,
        started: usize,
        stopped: usize,
        finished: usize,
    }
    #[derive(Serialize)]
    struct Status {
        idle: bool,
        /// How long the launch under the finger took with its picture, ms.
        tried_ms: f64,
        studies: Vec<Study>,
    }
    let study = |(of, [started, stopped, finished]): (&'static str, [usize; 3])| Study {
        of,
        started,
        stopped,
        finished,
    };
    json(&Status {
        idle: bench.is_idle(),
        tried_ms: lock(&bench.tried).took.as_secs_f64() * 1e3,
        studies: bench.counts().into_iter().map(study).collect(),
    })
}

/// The driver's card of the sheet as it stands, worked out for this.
pub(super) async fn card(State(bench): State<Arc<Bench>>) -> Response {
    let reading = bench
        .desk()
        .sheet
        .as_ref()
        .and_then(super::open_sheet::OpenSheet::reading);
    let Some(reading) = reading else {
        let words = "There is no card yet: the sheet is not right.\n";
        return (StatusCode::CONFLICT, words).into_response();
    };
    let running = Running::new();
    let watch = running.watch();
    let made = tokio::task::spawn_blocking(move || {
        worked_out(
            &reading,
            &Options::default(),
            System::Metric,
            &watch,
            |work| Ok(card_page(work)?),
        )
    });
    let made = made.await;
    drop(running);
    match made {
        Ok(Ok(html)) => card_answer(html),
        Ok(Err(failure)) => (StatusCode::CONFLICT, format!("{failure}\n")).into_response(),
        Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
    }
}

/// The card carries its own policy; what a page cannot say of itself is said here.
fn card_answer(html: String) -> Response {
    let mut answer = Html(html).into_response();
    answer.headers_mut().insert(
        header::CONTENT_SECURITY_POLICY,
        HeaderValue::from_static("frame-ancestors 'none'"),
    );
    answer
}

/// The sheet's text, to be kept somewhere else.
pub(super) async fn copy(State(bench): State<Arc<Bench>>) -> Response {
    let desk = bench.desk();
    let Some(sheet) = &desk.sheet else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let headers = [
        (header::CONTENT_TYPE, "application/toml"),
        (
            header::CONTENT_DISPOSITION,
            "attachment; filename=\"sheet.toml\"",
        ),
    ];
    (headers, sheet.text().to_owned()).into_response()
}

/// Does something, and answers what it came to: to a script in a word, to a plain form by
/// leading back to the page.
pub(super) async fn act(
    State(bench): State<Arc<Bench>>,
    Path(what): Path<String>,
    headers: HeaderMap,
    request: Request,
) -> Response {
    let Some(act) = acts::Act::named(&what) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let fields = match fields(request, act.holds_file()).await {
        Ok(fields) => fields,
        Err(refused) => return refused,
    };
    let did = acts::act(&bench, act, &fields);
    let by_script = headers
        .get(header::ACCEPT)
        .is_some_and(|accept| accept.as_bytes() == b"application/json");
    if by_script {
        return json(&did);
    }
    if act == acts::Act::Stop {
        return shown(goodbye_page());
    }
    // Back to the page: a reload of it does not do the same again.
    (StatusCode::SEE_OTHER, [(header::LOCATION, "../")]).into_response()
}
