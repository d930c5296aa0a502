//! `flyheft/compare/1`.

use super::decide::VerdictFields;
use super::launch::LaunchFields;
use super::{Read, document, rpm};
use crate::car::track::Mark;
use crate::numerics::{Estimate, Interval};
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::comparison::{Compared, Comparison, HeldAgainst};
use crate::study::decide::Decision;
use crate::study::findings::Beaten;
use crate::study::scatter::aim::Aim;
use crate::study::scatter::break_even::BreakEven;
use crate::study::scatter::sensitivity::Cause;
use crate::study::scatter::study::WheelScatter;
use crate::study::scatter::variance_shares::InputShare;
use crate::study::window::{Edge, Window};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheels: Vec<WheelFields<'a>>,
    pairs: Vec<PairFields<'a>>,
    verdict: Option<VerdictFields<'a>>,
    draws: usize,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct WheelFields<'a> {
    name: &'a str,
    fitted: bool,
    mass_kg: Option<f64>,
    inertia_kg_m2: f64,
    crank_side_inertia_kg_m2: f64,
    quickest: Option<QuickestFields>,
    window_rpm: Option<[f64; 2]>,
    window_open_below: Option<bool>,
    window_open_above: Option<bool>,
    launch: Option<LaunchFields<'a>>,
    aim: Option<AimFields<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct QuickestFields {
    launch_rpm: f64,
    release_time_s: f64,
    sixty_foot_s: f64,
}

#[derive(Debug, Serialize)]
struct AimFields<'a> {
    launch_rpm: f64,
    release_time_s: f64,
    as_good_rpm: [f64; 2],
    band_rpm: [f64; 2],
    mean_s: f64,
    mean_ci95_s: [f64; 2],
    mean_away_s: f64,
    mean_away_ci95_s: [f64; 2],
    sd_s: f64,
    sd_ci95_s: [f64; 2],
    p10_s: f64,
    p10_ci95_s: [f64; 2],
    p90_s: f64,
    p90_ci95_s: [f64; 2],
    share_within_tolerance: f64,
    share_within_tolerance_ci95: [f64; 2],
    share_stalled: f64,
    share_stalled_ci95: [f64; 2],
    launch_sd_rpm: f64,
    beaten_on_both_by: Option<&'a str>,
    beaten_beyond_error: Option<bool>,
    variance_shares: Vec<ShareFields>,
    quarter_mile_mean_s: f64,
    quarter_mile_mean_ci95_s: [f64; 2],
    quarter_mile_sd_s: f64,
    quarter_mile_runs: usize,
    launches: usize,
}

/// Both ends of an interval.
const fn both(interval: &Interval) -> [f64; 2] {
    [interval.low, interval.high]
}

#[derive(Debug, Serialize)]
struct ShareFields {
    cause: &'static str,
    first_order: f64,
    first_order_ci95: [f64; 2],
    total: f64,
    total_ci95: [f64; 2],
}

impl ShareFields {
    fn of(cause: Cause, share: &InputShare) -> Self {
        let ends = |estimate: &Estimate| both(&estimate.interval);
        Self {
            cause: cause.id(),
            first_order: share.first.value,
            first_order_ci95: ends(&share.first),
            total: share.total.value,
            total_ci95: ends(&share.total),
        }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct PairFields<'a> {
    lighter: &'a str,
    heavier: &'a str,
    lighter_wins_share: f64,
    lighter_wins_share_ci95: [f64; 2],
    mean_difference_s: f64,
    mean_difference_ci95_s: [f64; 2],
    verdict: &'static str,
    break_even_sd_rpm: Option<f64>,
    break_even_ci95_rpm: Option<[f64; 2]>,
    quicker_below_break_even: Option<&'static str>,
    quicker_throughout: Option<&'static str>,
    quarter_mile_mean_difference_s: f64,
    quarter_mile_mean_difference_ci95_s: [f64; 2],
}

/// Both edges of a window in rpm.
pub(super) fn window_rpm(window: &Window) -> [f64; 2] {
    [
        rpm(window.low.speed_rad_s()),
        rpm(window.high.speed_rad_s()),
    ]
}

/// The quickest launch of a study, if any finished.
pub(super) fn quickest_of(study: &WheelStudy) -> Option<QuickestFields> {
    study.best.as_ref().map(|best| QuickestFields {
        launch_rpm: rpm(best.quickest.launch_speed_rad_s),
        release_time_s: study.rig.car.clutch.release.last_corner_s()
            * best.quickest.release_stretch,
        sixty_foot_s: best.quickest.sixty_foot_s,
    })
}

const fn at_range_end(edge: Edge) -> bool {
    matches!(edge, Edge::RangeEnd(_))
}

impl<'a> WheelFields<'a> {
    fn of(comparison: &Comparison, wheel: &'a Compared, beaten: Option<&Beaten<'_, 'a>>) -> Self {
        let study = &wheel.study;
        let best = study.best.as_ref();
        Self {
            name: wheel.name(),
            fitted: comparison.is_fitted(study),
            mass_kg: study.wheel.part.mass_kg(),
            inertia_kg_m2: study.wheel.part.inertia_kg_m2(),
            crank_side_inertia_kg_m2: study.rig.crank_side_kg_m2,
            quickest: quickest_of(study),
            window_rpm: best.map(|best| window_rpm(&best.window)),
            window_open_below: best.map(|best| at_range_end(best.window.low)),
            window_open_above: best.map(|best| at_range_end(best.window.high)),
            launch: best.map(|best| LaunchFields::of(&best.launch, Mark::Ft1320)),
            aim: wheel
                .scatter
                .as_ref()
                .map(|scatter| AimFields::of(scatter, beaten)),
        }
    }
}

impl<'a> AimFields<'a> {
    fn of(scatter: &WheelScatter, beaten: Option<&Beaten<'_, 'a>>) -> Self {
        let aim: &Aim = &scatter.aim;
        Self {
            launch_rpm: rpm(aim.launch_speed_rad_s),
            release_time_s: scatter.rig.release_time_s(),
            as_good_rpm: both(&aim.as_good_rad_s).map(rpm),
            band_rpm: both(&aim.band_rad_s).map(rpm),
            mean_s: aim.mean_s,
            mean_ci95_s: both(&aim.mean_interval_s),
            mean_away_s: aim.mean_away_s,
            mean_away_ci95_s: both(&aim.intervals.mean_away_s),
            sd_s: aim.sd_s,
            sd_ci95_s: both(&aim.intervals.sd_s),
            p10_s: aim.p10_s,
            p10_ci95_s: both(&aim.intervals.p10_s),
            p90_s: aim.p90_s,
            p90_ci95_s: both(&aim.intervals.p90_s),
            share_within_tolerance: aim.share_within_tolerance,
            share_within_tolerance_ci95: both(&aim.intervals.share_within_tolerance),
            share_stalled: aim.share_stalled,
            share_stalled_ci95: both(&aim.share_stalled_interval),
            launch_sd_rpm: rpm(aim.launch_sd_rad_s),
            beaten_on_both_by: beaten.map(|beaten| beaten.by.name()),
            beaten_beyond_error: beaten.map(|beaten| beaten.sure),
            variance_shares: Cause::ALL
                .into_iter()
                .zip(scatter.sensitivity.iter().flatten())
                .map(|(cause, share)| ShareFields::of(cause, share))
                .collect(),
            quarter_mile_mean_s: scatter.quarter.mean_s,
            quarter_mile_mean_ci95_s: both(&scatter.quarter.mean_interval_s),
            quarter_mile_sd_s: scatter.quarter.sd_s,
            quarter_mile_runs: scatter.quarter.runs,
            launches: scatter.table.launches(),
        }
    }
}

impl<'a> PairFields<'a> {
    pub(super) fn of(held: &HeldAgainst<'_, 'a>) -> Self {
        let pair = held.pair;
        let interval = &pair.mean_difference_interval_s;
        let (at, within, below, throughout) = match pair.break_even {
            BreakEven::At {
                sd_rad_s,
                interval_rad_s,
                below,
            } => (
                Some(rpm(sd_rad_s)),
                Some([rpm(interval_rad_s.low), rpm(interval_rad_s.high)]),
                Some(below.word()),
                None,
            ),
            BreakEven::Never(winner) => (None, None, None, Some(winner.word())),
        };
        Self {
            lighter: held.lighter.name(),
            heavier: held.heavier.name(),
            lighter_wins_share: pair.lighter_wins_share,
            lighter_wins_share_ci95: both(&pair.lighter_wins_interval),
            mean_difference_s: pair.mean_difference_s,
            mean_difference_ci95_s: [interval.low, interval.high],
            verdict: pair.verdict().id(),
            break_even_sd_rpm: at,
            break_even_ci95_rpm: within,
            quicker_below_break_even: below,
            quicker_throughout: throughout,
            quarter_mile_mean_difference_s: held.over_1320_s,
            quarter_mile_mean_difference_ci95_s: [
                held.over_1320_interval_s.low,
                held.over_1320_interval_s.high,
            ],
        }
    }
}

/// The document of flywheels side by side.
pub fn compare(reading: &Reading, comparison: &Comparison, decision: Option<&Decision>) -> String {
    let findings = comparison.findings();
    let beaten = |index: usize| {
        let all = findings.iter().flat_map(|findings| &findings.beaten);
        all.into_iter().find(|beaten| beaten.wheel.index() == index)
    };
    document(&Document {
        schema: "flyheft/compare/1",
        title: &reading.car.title,
        flywheels: comparison
            .wheels()
            .iter()
            .enumerate()
            .map(|(index, wheel)| WheelFields::of(comparison, wheel, beaten(index)))
            .collect(),
        pairs: comparison
            .pairs()
            .map(|held| PairFields::of(&held))
            .collect(),
        verdict: decision.map(VerdictFields::of),
        draws: comparison.draws.count(),
        read: Read::of(reading),
    })
}
