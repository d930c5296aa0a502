//! Slips against the model, logs over it, and what was not known before and after.

use super::{CAPTION, rpm};
use crate::car::Flywheel;
use crate::car::logged_run::{Channel, LoggedRun};
use crate::car::slip::Shown;
use crate::car::track::Mark as StripMark;
use crate::launch::trace::TracePoint;
use crate::numerics::quantile::normal_errors;
use crate::sheet::{Reading, keys};
use crate::shown::plot::{
    Axis, LineChart, Look, Mark, MarkKind, Rule, Series, Span, SpanChart, SpanRow, Spots, Words,
};
use crate::shown::text::{before_and_after, rpm as rpm_told};
use crate::study::fit::learnt::ODD_BELOW;
use crate::study::fit::{Fit, RunFit, Unknown};
use crate::study::logged_run::{Found, Overlay};
use crate::units::System;

/// Readings of a log further apart than this, s, are not joined by a line.
const GAP_S: f64 = 0.25;
/// A log is drawn from so long before first bite, s.
const BEFORE_BITE_S: f64 = 0.3;
/// It is drawn to so many times the later lock-up, and so long at least, s: the launch itself
/// fills the picture, not the run after it.
const TIMES_LOCK_UP: f64 = 3.0;
const AT_LEAST_S: f64 = 1.0;

fn words(title: &str, subtitle: &str, description: String) -> Words {
    Words {
        title: title.to_owned(),
        subtitle: Some(subtitle.to_owned()),
        caption: Some(CAPTION.to_owned()),
        description,
    }
}

/// Sixty-foot times of the slips, each in the range that the model holds 19 of 20 such runs in.
pub fn slips_over_model(title: &str, reading: &Reading, fit: &Fit) -> SpanChart {
    const MODEL: usize = 0;
    const READ: usize = 1;
    const ODD: usize = 2;
    let row = |run: &RunFit| {
        let shown = run.slip.figures.iter().zip(&run.predicted).zip(&run.spread);
        let ((figure, model), spread) =
            { shown }.find(|((figure, _), _)| figure.shown == Shown::Time(StripMark::Ft60))?;
        let half = normal_errors() * spread;
        let read = if run.weight < ODD_BELOW { ODD } else { READ };
        let wheel = reading.car.flywheels.all().get(run.slip.wheel);
        let remark = run.slip.remark.as_ref();
        Some(SpanRow {
            name: format!(
                "{}. {}, from {} rpm{}",
                run.slip.row,
                wheel.map_or("", Flywheel::name),
                rpm_told(run.launch_speed_rad_s),
                remark.map_or_else(String::new, |remark| format!(", {remark}")),
            ),
            note: format!("{:.3} s, model {model:.3} s", figure.value),
            spans: vec![
                Span {
                    kind: MODEL,
                    at: *model,
                    range: Some((model - half, model + half)),
                },
                Span {
                    kind: read,
                    at: figure.value,
                    range: None,
                },
            ],
        })
    };
    let rows: Vec<SpanRow> = fit.runs.iter().filter_map(row).collect();
    let told: Vec<String> = rows
        .iter()
        .map(|row| format!("{}: {}", row.name, row.note))
        .collect();
    let mut kinds = vec![
        (String::from("the model, 19 of 20 runs"), Look::nth(MODEL)),
        (String::from("read off the slip"), Look::nth(READ)),
    ];
    if fit.odd_runs().next().is_some() {
        kinds.push((String::from("does not go with the others"), Look::nth(ODD)));
    }
    SpanChart {
        words: words(
            "Slips against the model",
            title,
            format!("{}.", told.join("; ")),
        ),
        axis: Axis::new("60 ft time", "s"),
        kinds,
        rows,
    }
}

/// Each unknown before the slips and after them, to the scale of what was not known before.
pub fn unknowns_before_and_after(
    title: &str,
    reading: &Reading,
    fit: &Fit,
    system: System,
) -> SpanChart {
    let errors = normal_errors();
    let row = |unknown: &Unknown| {
        let off = |si: f64| (si - unknown.prior) / unknown.prior_sd;
        let [before, after] = before_and_after(reading, unknown, system);
        SpanRow {
            name: keys::words_for(&unknown.input.key),
            note: format!("{before}, now {after}"),
            spans: vec![
                Span {
                    kind: 0,
                    at: 0.0,
                    range: Some((-errors, errors)),
                },
                Span {
                    kind: 1,
                    at: off(unknown.posterior),
                    range: Some((off(unknown.interval.0), off(unknown.interval.1))),
                },
            ],
        }
    };
    let rows: Vec<SpanRow> = fit.unknowns.iter().map(row).collect();
    let told: Vec<String> = rows
        .iter()
        .map(|row| format!("{}: {}", row.name, row.note))
        .collect();
    SpanChart {
        words: words(
            "What was not known, before and after",
            title,
            format!("{}.", told.join("; ")),
        ),
        axis: Axis::new("Off from the sheet", "standard deviations"),
        kinds: vec![
            (String::from("before the slips"), Look::nth(0)),
            (String::from("after them"), Look::nth(1)),
        ],
        rows,
    }
}

/// A log over the model's run: engine and, thinner, input shaft; lowest speed and lock-up of both.
pub fn log_over_model(
    title: &str,
    log: &LoggedRun,
    overlay: &Overlay,
    points: &[TracePoint],
) -> LineChart {
    let bite_s = overlay.logged.first_bite_s.value;
    let locks = [&overlay.logged, &overlay.model].map(|found| found.lock_at_s);
    let lock_s = locks.iter().flatten().map(|lock| lock.value);
    let end_s = (lock_s.fold(0.0, f64::max) * TIMES_LOCK_UP).max(AT_LEAST_S);
    let logged = |channel| joined(log.readings(channel), bite_s, end_s);
    let modelled = |speed: fn(&TracePoint) -> f64| {
        let points = points.iter();
        points
            .map(|point| (point.time_s, Some(rpm(speed(point)))))
            .collect()
    };
    let series = vec![
        Series {
            companion: logged(Channel::InputShaft),
            spots: Spots::None,
            marks: lowest("log", &overlay.logged),
            ..Series::new("log", Look::nth(0), logged(Channel::Engine))
        },
        Series {
            companion: modelled(|point| point.input_rad_s),
            spots: Spots::None,
            marks: lowest("model", &overlay.model),
            ..Series::new(
                "model",
                Look::nth(1),
                modelled(|point| point.now.engine_rad_s),
            )
        },
    ];
    let bite = Rule::Upright {
        x: 0.0,
        label: String::from("first bite"),
    };
    let locks = [("log", &overlay.logged), ("model", &overlay.model)];
    let locks = locks.into_iter().filter_map(|(of, found)| {
        Some(Rule::Upright {
            x: found.lock_at_s?.value,
            label: format!("lock-up, {of}"),
        })
    });
    LineChart {
        companion_name: Some("input shaft".into()),
        rules: std::iter::once(bite).chain(locks).collect(),
        ..LineChart::new(
            words("The log over the model", title, described(overlay)),
            Axis::new("Time from first bite", "s"),
            Axis::new("Speed", "rpm").reaching(0.0),
            series,
        )
    }
}

/// Readings over time from first bite, broken where the log has a gap.
fn joined(readings: &[(f64, f64)], bite_s: f64, end_s: f64) -> Vec<(f64, Option<f64>)> {
    let mut line = Vec::with_capacity(readings.len());
    let mut before_s = f64::NAN;
    for (time_s, speed) in readings {
        let time_s = time_s - bite_s;
        if !(-BEFORE_BITE_S..=end_s).contains(&time_s) {
            continue;
        }
        if time_s - before_s > GAP_S {
            line.push((before_s, None));
        }
        line.push((time_s, Some(rpm(*speed))));
        before_s = time_s;
    }
    line
}

fn lowest(of: &str, found: &Found) -> Vec<Mark> {
    let mark = found.lowest.map(|lowest| Mark {
        kind: MarkKind::Plain,
        x: lowest.at_s,
        y: rpm(lowest.speed.value),
        label: format!("{of}: lowest {:.0} rpm", rpm(lowest.speed.value)),
    });
    mark.into_iter().collect()
}

fn described(overlay: &Overlay) -> String {
    let of = |name: &str, found: &Found| {
        let lowest = found.lowest.map_or_else(
            || String::from("no lowest speed found"),
            |lowest| format!("lowest {:.0} rpm", rpm(lowest.speed.value)),
        );
        let lock = found.lock_at_s.map_or_else(
            || String::from("no lock-up found"),
            |lock| format!("lock-up {:.2} s after first bite", lock.value),
        );
        format!("{name}: {lowest}, {lock}.")
    };
    format!(
        "Engine speed over time from first bite, as logged and as the model has it. {} {}",
        of("Log", &overlay.logged),
        of("Model", &overlay.model)
    )
}
