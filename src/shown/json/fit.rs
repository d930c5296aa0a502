//! `flyheft/fit/1`.

use super::decide::VerdictFields;
use super::{Read, document, rpm};
use crate::car::logged_run::Channel;
use crate::car::slip::{Shown, SinceBite};
use crate::sheet::Reading;
use crate::shown::FitWork;
use crate::shown::text::si_symbol;
use crate::study::fit::misfit::Misfit;
use crate::study::fit::{RunFit, Unknown};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    unknowns: Vec<UnknownFields<'a>>,
    correlations: Vec<CorrelationFields<'a>>,
    effective_draws: f64,
    draws: usize,
    trusted: bool,
    settled: bool,
    /// Figures of which the runs' mean lies further off the model's than chance allows.
    misfits: Vec<MisfitFields>,
    runs: Vec<RunFields<'a>>,
    not_told_apart: Vec<[&'a str; 2]>,
    next_run: Option<NextRunFields<'a>>,
    before: VerdictFields<'a>,
    after: VerdictFields<'a>,
    launches_computed: usize,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct UnknownFields<'a> {
    key: &'a str,
    /// SI unit; empty for a bare number.
    unit: &'static str,
    prior: f64,
    prior_sd: f64,
    posterior: f64,
    posterior_sd: f64,
    posterior_ci95: [f64; 2],
    from_slips_share: f64,
    at_its_end: bool,
}

#[derive(Debug, Serialize)]
struct CorrelationFields<'a> {
    a: &'a str,
    b: &'a str,
    r: f64,
}

#[derive(Debug, Serialize)]
struct RunFields<'a> {
    row: usize,
    wheel: Option<&'a str>,
    launch_rpm: f64,
    weight: f64,
    /// Sixty-foot time read less the model's; `null` where the slip has none.
    residual_s: Option<f64>,
    figures: Vec<FigureFields>,
    remark: Option<&'a str>,
}

#[derive(Debug, Serialize)]
struct FigureFields {
    figure: &'static str,
    /// Of a log's reading: when, counted from what is taken for first bite.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_s: Option<f64>,
    read: f64,
    model: f64,
    /// What such runs show on average, chance counted.
    on_average: f64,
    sd: f64,
}

#[derive(Debug, Serialize)]
struct MisfitFields {
    figure: &'static str,
    runs: usize,
    /// Read less what such runs show on average.
    mean: f64,
    standard_error: f64,
}

impl MisfitFields {
    fn of(misfit: &Misfit) -> Self {
        Self {
            figure: misfit.shown.identifier(),
            runs: misfit.runs,
            mean: in_documents(misfit.shown, misfit.mean),
            standard_error: in_documents(misfit.shown, misfit.error),
        }
    }
}

/// A figure or a difference in the unit that documents have: rpm for engine speeds, else SI.
fn in_documents(shown: Shown, si: f64) -> f64 {
    match shown {
        Shown::LowestEngineSpeed => rpm(si),
        Shown::Logged(channel, _) if channel != Channel::Car => rpm(si),
        _ => si,
    }
}

#[derive(Debug, Serialize)]
struct NextRunFields<'a> {
    wheel: Option<&'a str>,
    launch_rpm: f64,
    why: &'static str,
    between: [Option<&'a str>; 2],
    gain_share: f64,
}

/// Why a run is worth making: the only reason there is.
pub(super) const WHY_NEXT: &str = "tells_the_wheels_apart";

impl<'a> UnknownFields<'a> {
    fn of(reading: &Reading, unknown: &'a Unknown) -> Self {
        let kind = reading.kind_of(&unknown.input.key);
        Self {
            key: &unknown.input.key,
            unit: si_symbol(kind),
            prior: unknown.prior,
            prior_sd: unknown.prior_sd,
            posterior: unknown.posterior,
            posterior_sd: unknown.posterior_sd,
            posterior_ci95: [unknown.interval.0, unknown.interval.1],
            from_slips_share: unknown.from_slips_share,
            at_its_end: unknown.at_its_end,
        }
    }
}

fn run<'a>(reading: &'a Reading, run: &'a RunFit) -> RunFields<'a> {
    let figures: Vec<FigureFields> = run
        .slip
        .figures
        .iter()
        .zip(run.predicted.iter().zip(&run.on_average))
        .zip(&run.spread)
        .map(|((figure, (model, on_average)), sd)| {
            let shown = |si: &f64| in_documents(figure.shown, *si);
            FigureFields {
                figure: figure.shown.identifier(),
                at_s: figure.shown.logged_at().map(SinceBite::seconds),
                read: shown(&figure.value),
                model: shown(model),
                on_average: shown(on_average),
                sd: shown(sd),
            }
        })
        .collect();
    RunFields {
        row: run.slip.row,
        wheel: name(reading, run.slip.wheel),
        launch_rpm: rpm(run.launch_speed_rad_s),
        weight: run.weight,
        residual_s: run.sixty_foot_residual_s(),
        figures,
        remark: run.slip.remark.as_deref(),
    }
}

fn name(reading: &Reading, wheel: usize) -> Option<&str> {
    let wheel = reading.car.flywheels.all().get(wheel)?;
    Some(wheel.name())
}

/// What slips said, as a document.
pub fn fit(reading: &Reading, work: &FitWork) -> String {
    let fit = &work.fit;
    let key = |index: usize| {
        fit.unknowns
            .get(index)
            .map(|unknown| unknown.input.key.as_str())
    };
    let pairs = || {
        fit.correlations
            .iter()
            .filter_map(|(a, b, r)| Some((key(*a)?, key(*b)?, *r)))
    };
    document(&Document {
        schema: "flyheft/fit/1",
        title: &reading.car.title,
        unknowns: fit
            .unknowns
            .iter()
            .map(|unknown| UnknownFields::of(reading, unknown))
            .collect(),
        correlations: pairs()
            .map(|(a, b, r)| CorrelationFields { a, b, r })
            .collect(),
        effective_draws: fit.draws.effective(),
        draws: fit.made,
        trusted: fit.trusted(),
        settled: fit.settled,
        misfits: fit.misfits().iter().map(MisfitFields::of).collect(),
        runs: fit.runs.iter().map(|one| run(reading, one)).collect(),
        not_told_apart: fit
            .not_told_apart()
            .filter_map(|(a, b, _)| Some([key(*a)?, key(*b)?]))
            .collect(),
        next_run: work.next.as_ref().map(|next| NextRunFields {
            wheel: name(reading, next.wheel),
            launch_rpm: rpm(next.launch_speed_rad_s),
            why: WHY_NEXT,
            between: [name(reading, next.between.0), name(reading, next.between.1)],
            gain_share: next.gain_share,
        }),
        before: VerdictFields::of(&work.before),
        after: VerdictFields::of(&work.after),
        launches_computed: fit.launches + work.before.launches + work.after.launches,
        read: Read::of(reading),
    })
}
