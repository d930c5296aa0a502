//! `flyheft/decide/1`.

use super::{Read, document, rpm};
use crate::numerics::Interval;
use crate::sheet::Reading;
use crate::study::decide::metal_left::MetalPoint;
use crate::study::decide::{Decision, WheelDecision};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    sheets_drawn: usize,
    sheets_refused: usize,
    seed: u32,
    counts: &'static str,
    meeting: u32,
    launches: u32,
    #[serde(flatten)]
    verdict: VerdictFields<'a>,
    flywheels: Vec<WheelFields<'a>>,
    everything_worth_s: f64,
    find_out_first: Vec<FindingFields<'a>>,
    metal_left: Vec<MetalFields>,
    flat_range_kg_m2: Option<[f64; 2]>,
    evaluation_error_s: f64,
    launches_computed: usize,
    #[serde(flatten)]
    read: Read,
}

/// The verdict in short: what `compare` carries of it too.
#[derive(Debug, Serialize)]
pub(super) struct VerdictFields<'a> {
    start_with: &'a str,
    sure: bool,
    leave_metal_on: bool,
    shown_by_slips_s: f64,
    gain_over_fitted_s: f64,
    runner_up: Option<&'a str>,
    runner_up_behind_s: Option<f64>,
    runner_up_behind_ci95_s: Option<[f64; 2]>,
}

#[derive(Debug, Serialize)]
struct WheelFields<'a> {
    name: &'a str,
    cut_from: Option<&'a str>,
    reachable: Vec<&'a str>,
    bought: bool,
    chance_quickest: f64,
    chance_quickest_ci95: [f64; 2],
    loss_mean_s: f64,
    loss_mean_ci95_s: [f64; 2],
    loss_p95_s: f64,
    loss_p95_ci95_s: [f64; 2],
    loss_worst_s: f64,
    mean_s: f64,
    mean_p10_s: f64,
    mean_p90_s: f64,
    aim_rpm: Option<f64>,
    aim_p10_rpm: Option<f64>,
    aim_p90_rpm: Option<f64>,
    season_loss_s: f64,
    season_loss_ci95_s: [f64; 2],
    slips_worth_s: f64,
}

#[derive(Debug, Serialize)]
struct FindingFields<'a> {
    key: &'a str,
    worth_s: f64,
    worth_ci95_s: [f64; 2],
}

#[derive(Debug, Serialize)]
struct MetalFields {
    crank_side_inertia_kg_m2: f64,
    mean_s: f64,
    mean_p10_s: f64,
    mean_p90_s: f64,
    sd_s: f64,
    share_stalled: f64,
}

fn name(decision: &Decision, wheel: usize) -> &str {
    decision.wheels.get(wheel).map_or("", |wheel| &wheel.name)
}

impl<'a> VerdictFields<'a> {
    pub(super) fn of(decision: &'a Decision) -> Self {
        let verdict = &decision.verdict;
        let next = verdict.runner_up.as_ref();
        Self {
            start_with: name(decision, verdict.start_with),
            sure: verdict.sure,
            leave_metal_on: verdict.leave_metal_on,
            shown_by_slips_s: verdict.shown_by_slips_s,
            gain_over_fitted_s: verdict.gain_over_fitted_s,
            runner_up: next.map(|next| name(decision, next.wheel)),
            runner_up_behind_s: next.map(|next| next.behind_s),
            runner_up_behind_ci95_s: next
                .map(|next| [next.behind_interval_s.low, next.behind_interval_s.high]),
        }
    }
}

impl<'a> WheelFields<'a> {
    fn of(decision: &'a Decision, wheel: &'a WheelDecision) -> Self {
        let season = &wheel.season;
        Self {
            name: &wheel.name,
            cut_from: wheel.cut_from.map(|from| name(decision, from)),
            reachable: season
                .reachable
                .iter()
                .map(|reachable| name(decision, *reachable))
                .collect(),
            bought: wheel.cut_from.is_none(),
            chance_quickest: wheel.chance_best,
            chance_quickest_ci95: ends(&wheel.chance_best_interval),
            loss_mean_s: wheel.loss_mean_s,
            loss_mean_ci95_s: ends(&wheel.loss_mean_interval_s),
            loss_p95_s: wheel.loss_p95_s,
            loss_p95_ci95_s: ends(&wheel.loss_p95_interval_s),
            loss_worst_s: wheel.loss_worst_s,
            mean_s: wheel.counted_mean_s(),
            mean_p10_s: wheel.counted_at_s(0.1),
            mean_p90_s: wheel.counted_at_s(0.9),
            aim_rpm: wheel.nominal.map(|own| rpm(own.aim_rad_s)),
            aim_p10_rpm: wheel.aim_at_rad_s(0.1).map(rpm),
            aim_p90_rpm: wheel.aim_at_rad_s(0.9).map(rpm),
            season_loss_s: season.loss_s,
            season_loss_ci95_s: ends(&season.interval_s),
            slips_worth_s: season.slips_worth_s,
        }
    }
}

fn ends(interval: &Interval) -> [f64; 2] {
    [interval.low, interval.high]
}

impl MetalFields {
    fn of(point: &MetalPoint) -> Self {
        Self {
            crank_side_inertia_kg_m2: point.crank_side_kg_m2,
            mean_s: point.mean_s,
            mean_p10_s: point.mean_p10_s,
            mean_p90_s: point.mean_p90_s,
            sd_s: point.sd_s,
            share_stalled: point.share_stalled,
        }
    }
}

/// The document of which flywheel to start with.
pub fn decide(reading: &Reading, decision: &Decision) -> String {
    let metal = decision.metal_left.as_ref();
    document(&Document {
        schema: "flyheft/decide/1",
        title: &reading.car.title,
        sheets_drawn: decision.drawn.sheets.len(),
        sheets_refused: decision.drawn.refused,
        seed: decision.question.seed,
        counts: decision.question.season.counts.name(),
        meeting: decision.question.season.meeting.get(),
        launches: decision.question.season.launches.get(),
        verdict: VerdictFields::of(decision),
        flywheels: decision
            .wheels
            .iter()
            .map(|wheel| WheelFields::of(decision, wheel))
            .collect(),
        everything_worth_s: decision.everything_worth_s,
        find_out_first: decision
            .find_out_first
            .iter()
            .map(|finding| FindingFields {
                key: &finding.key,
                worth_s: finding.worth.value_s,
                worth_ci95_s: [finding.worth.interval_s.low, finding.worth.interval_s.high],
            })
            .collect(),
        metal_left: metal.map_or_else(Vec::new, |metal| {
            metal.points.iter().map(MetalFields::of).collect()
        }),
        flat_range_kg_m2: metal.map(|metal| [metal.flat_kg_m2.low, metal.flat_kg_m2.high]),
        evaluation_error_s: decision.evaluation_error_s,
        launches_computed: decision.launches,
        read: Read::of(reading),
    })
}
