//! The launches to play with, packed for the page's script.

use super::shell::within_script;
use super::words::named;
use super::work::CardWork;
use crate::car::constants::RAD_S_PER_RPM;
use crate::study::play::{
    NARROWEST_RPM, NOT_REACHED, Play, PlayWheel, SAMPLES, STEEP_S, TIME_STEP_S, TraceNode,
};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;

/// Speeds of a trace are kept in so many steps up to [`TOP_SHARE`] of the limiter.
const SPEED_STEPS: f64 = 255.0;
/// Highest speed a trace keeps, over the limiter.
const TOP_SHARE: f64 = 1.15;
/// Times of a trace are kept in whole milliseconds.
const MS_PER_S: f64 = 1000.0;

/// What the script reads.
#[derive(Debug, Serialize)]
struct Data<'a> {
    range_rpm: (u16, u16),
    grips: &'a [f64],
    releases: &'a [f64],
    release_s: f64,
    time_step_s: f64,
    not_reached: u16,
    narrowest_rpm: u16,
    steep_s: f64,
    samples: (usize, usize),
    top_rpm: f64,
    start: usize,
    wheels: Vec<WheelData<'a>>,
}

#[derive(Debug, Serialize)]
struct WheelData<'a> {
    name: &'a str,
    aim_rpm: f64,
    best_rpm: f64,
    best_s: f64,
    window_rpm: [f64; 2],
    lines: String,
    trace_speeds: &'a [u16],
    trace_grips: &'a [f64],
    trace_releases: &'a [f64],
    traces: String,
}

/// The sliders' section.
#[derive(Debug)]
pub(super) struct PlayPart {
    /// JSON, fit to stand inside a script element.
    pub(super) data: String,
    /// Largest difference found between grid and launch, whole milliseconds, rounded up.
    pub(super) error_ms: String,
    /// Launches it was found with.
    pub(super) checks: usize,
    /// Flywheels that there was no room for.
    pub(super) left_out: String,
}

impl PlayPart {
    /// The section for launches computed beforehand, starting with a flywheel of the sheet.
    pub(super) fn of(work: &CardWork, play: &Play, pick: usize) -> Result<Self, serde_json::Error> {
        let top_rpm = work.reading.car.engine.limiter_rad_s.get() / RAD_S_PER_RPM * TOP_SHARE;
        let wheels: Vec<WheelData> = play
            .wheels
            .iter()
            .filter_map(|wheel| packed(work, wheel, top_rpm))
            .collect();
        let data = Data {
            range_rpm: play.range_rpm,
            grips: &play.grips,
            releases: &play.releases,
            release_s: work.reading.car.clutch.release.last_corner_s(),
            time_step_s: TIME_STEP_S,
            not_reached: NOT_REACHED,
            narrowest_rpm: NARROWEST_RPM,
            steep_s: STEEP_S,
            samples: SAMPLES,
            top_rpm,
            start: play
                .wheels
                .iter()
                .position(|w| w.index == pick)
                .unwrap_or(0),
            wheels,
        };
        let worst_s = play
            .wheels
            .iter()
            .map(|w| w.check.worst_s)
            .fold(0.0, f64::max);
        Ok(Self {
            data: within_script(&serde_json::to_string(&data)?),
            error_ms: format!("{:.0}", (worst_s * MS_PER_S).ceil()),
            checks: play.wheels.iter().map(|w| w.check.launches).sum(),
            left_out: named(
                work.comparison
                    .contenders()
                    .filter(|wheel| play.wheels.iter().all(|w| w.index != wheel.index()))
                    .map(|wheel| wheel.name()),
            ),
        })
    }
}

fn packed<'w>(work: &CardWork<'w>, wheel: &'w PlayWheel, top_rpm: f64) -> Option<WheelData<'w>> {
    let own = work.comparison.contender(wheel.index)?;
    let (best, aim) = (own.best, &own.scatter.aim);
    let rpm = |speed_rad_s: f64| speed_rad_s / RAD_S_PER_RPM;
    Some(WheelData {
        name: own.name(),
        aim_rpm: rpm(aim.launch_speed_rad_s),
        best_rpm: rpm(best.quickest.launch_speed_rad_s),
        best_s: best.quickest.sixty_foot_s,
        window_rpm: [
            rpm(best.window.low.speed_rad_s()),
            rpm(best.window.high.speed_rad_s()),
        ],
        lines: lines(wheel),
        trace_speeds: &wheel.traces.speeds_rpm,
        trace_grips: &wheel.traces.grips,
        trace_releases: &wheel.traces.releases,
        traces: traces(&wheel.traces.nodes, top_rpm),
    })
}

/// Every line as its number of knots, their launch speeds and their times; low byte first.
fn lines(wheel: &PlayWheel) -> String {
    let mut bytes = Vec::new();
    for line in &wheel.lines {
        let count = u16::try_from(line.len()).unwrap_or(u16::MAX);
        let speeds = line.iter().map(|knot| knot.rpm);
        let times = line.iter().map(|knot| knot.time);
        for word in std::iter::once(count).chain(speeds).chain(times) {
            bytes.extend(word.to_le_bytes());
        }
    }
    STANDARD.encode(bytes)
}

/// Every launch as lock-up and end in ms and lowest engine speed in rpm, low byte first, and the samples' speeds in steps:
/// engine throughout, then input shaft to lock-up.
fn traces(nodes: &[TraceNode], top_rpm: f64) -> String {
    let mut bytes = Vec::new();
    for node in nodes {
        for time_s in [node.lock_s, node.end_s] {
            bytes.extend(whole(time_s * MS_PER_S).to_le_bytes());
        }
        bytes.extend(whole(node.lowest_rpm).to_le_bytes());
        let step = |rpm: f64| u8::try_from(whole(rpm / top_rpm * SPEED_STEPS)).unwrap_or(u8::MAX);
        let speeds = node.engine_rpm.iter().chain(&node.input_rpm);
        bytes.extend(speeds.map(|rpm| step(*rpm)));
    }
    STANDARD.encode(bytes)
}

/// The nearest whole number from 0 to 65,535.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what a u16 holds"
)]
fn whole(value: f64) -> u16 {
    value.round().clamp(0.0, f64::from(u16::MAX)) as u16
}
