//! Invented data for the tests and for looking at.

use super::*;

pub(super) fn words(title: &str) -> Words {
    Words {
        title: title.to_owned(),
        subtitle: Some("Rear-drive car of 870 kg, first gear 3.20 × 4.10".to_owned()),
        caption: Some(
            "Invented data. A flywheel that bursts kills: keep to its rated speed and to the rule \
             book of your class."
                .to_owned(),
        ),
        description: "Sixty-foot time against launch speed for three flywheels.".to_owned(),
    }
}

const WHEELS: [(&str, f64, f64, f64); 3] = [
    ("as supplied, 8.3 kg", 4700.0, 1.942, 900.0),
    ("turned down, 6.9 kg", 5200.0, 1.918, 700.0),
    ("aluminium, 4.2 kg", 6050.0, 1.905, 480.0),
];

/// A made-up window curve: a flat bottom, a steep side where the engine bogs.
fn sixty_foot(rpm: f64, best: f64, least: f64, width: f64) -> Option<f64> {
    let off = (rpm - best) / width;
    let time = least + 0.02 * off * off * if off < 0.0 { 1.8 } else { 0.7 };
    (off > -2.4).then_some(time)
}

pub(super) fn window_chart() -> LineChart {
    let series = WHEELS.iter().enumerate().map(|(nth, wheel)| {
        let (name, best, least, width) = *wheel;
        let points = (25..=75)
            .map(|hundreds| {
                let rpm = 100.0 * f64::from(hundreds);
                (rpm, sixty_foot(rpm, best, least, width))
            })
            .collect();
        let aim = best + 180.0;
        Series {
            window: Some((best - 0.7 * width, best + 1.1 * width)),
            marks: vec![
                Mark {
                    kind: MarkKind::Quickest,
                    x: best,
                    y: least,
                    label: format!("{least:.3} s"),
                },
                Mark {
                    kind: MarkKind::Aim,
                    x: aim,
                    y: sixty_foot(aim, best, least, width).unwrap_or(least),
                    label: format!("aim {aim:.0}"),
                },
            ],
            ..Series::new(name, Look::nth(nth), points)
        }
    });
    LineChart {
        window_name: Some("Launch window: within 0.02 s of the quickest".to_owned()),
        ..LineChart::new(
            words("Sixty-foot time against launch speed"),
            Axis::new("Launch speed", "rpm"),
            Axis::new("60 ft time", "s"),
            series.collect(),
        )
    }
}

pub(super) fn trace_chart() -> LineChart {
    let series = WHEELS.iter().enumerate().map(|(nth, wheel)| {
        let depth = 1900.0 - 420.0 * f64::from(u32::try_from(nth).unwrap());
        let engine = |t: f64| {
            let droop = depth * (t / 0.42) * (1.0 - t / 0.42).exp();
            5200.0 - droop + 1500.0 * (t - 0.9).max(0.0)
        };
        let shaft = |t: f64| engine(t).min(5200.0 * (t / 0.95).powf(0.9));
        let times: Vec<f64> = (0..=400).map(|step| f64::from(step) * 0.005).collect();
        Series {
            companion: times.iter().map(|&t| (t, Some(shaft(t)))).collect(),
            ..Series::new(
                wheel.0,
                Look::nth(nth),
                times.iter().map(|&t| (t, Some(engine(t)))).collect(),
            )
        }
    });
    LineChart {
        companion_name: Some("thin: speed of the gearbox input".to_owned()),
        rules: vec![
            Rule::Level {
                y: 7600.0,
                label: "shift at 7600 rpm".to_owned(),
            },
            Rule::Upright {
                x: 0.95,
                label: "clutch locked".to_owned(),
            },
        ],
        ..LineChart::new(
            words("Engine speed through the launch"),
            Axis::new("Time from first bite", "s"),
            Axis::new("Engine speed", "rpm").reaching(0.0),
            series.collect(),
        )
    }
}

pub(super) fn point_chart() -> PointChart {
    let points = [
        ("as supplied, 8.3 kg", 1.958, 0.021, Standing::Unbeaten),
        ("turned down, 6.9 kg", 1.944, 0.026, Standing::Unbeaten),
        ("drilled, 7.4 kg", 1.953, 0.029, Standing::Dominated),
        ("light steel, 5.6 kg", 1.936, 0.037, Standing::Unbeaten),
        ("aluminium, 4.2 kg", 1.939, 0.058, Standing::Dominated),
        ("aluminium, 3.6 kg", 1.951, 0.081, Standing::Dominated),
    ];
    PointChart {
        words: Words {
            description: "Mean and spread of the sixty-foot time of six flywheels.".to_owned(),
            ..words("Quick against steady")
        },
        x: Axis::new("Mean 60 ft time at the aim", "s"),
        y: Axis::new("Spread (SD) of the 60 ft time", "s"),
        points: points
            .into_iter()
            .enumerate()
            .map(|(nth, (name, x, y, standing))| Point {
                name: name.to_owned(),
                look: Look::nth(nth),
                x,
                y,
                standing,
            })
            .collect(),
        frontier_name: Some("none is both quicker and steadier".to_owned()),
        beaten_name: Some("hollow: another is quicker and steadier".to_owned()),
    }
}

pub(super) fn cell_map() -> CellMap {
    let columns: Vec<f64> = (0..41).map(|nth| 2500.0 + 125.0 * f64::from(nth)).collect();
    let rows: Vec<f64> = (0..25).map(|nth| 0.06 + 0.005 * f64::from(nth)).collect();
    let best = |inertia: f64| 3900.0 + 3400.0 * (0.18 - inertia) / 0.12;
    let time = |rpm: f64, inertia: f64| {
        let off = (rpm - best(inertia)) / (300.0 + 5000.0 * inertia);
        let bent = if off < 0.0 { 1.6 } else { 0.8 };
        (off > -2.2).then(|| 1.90 + 0.5 * (inertia - 0.09).abs() + 0.05 * off * off * bent)
    };
    CellMap {
        words: Words {
            description: "Sixty-foot time over launch speed and inertia.".to_owned(),
            ..words("Launch speed and inertia together")
        },
        x: Axis::new("Launch speed", "rpm"),
        y: Axis::new("Crank-side inertia", "kg·m²"),
        z: Axis::new("60 ft time", "s"),
        values: rows
            .iter()
            .map(|&row| columns.iter().map(|&column| time(column, row)).collect())
            .collect(),
        missing_name: "stalled".to_owned(),
        marks: Vec::new(),
        shade: Shade::LowIsDark,
        contours: Contours::Labelled,
        overlays: vec![Overlay {
            name: "aim".to_owned(),
            points: rows
                .iter()
                .map(|&row| (best(row) + 150.0, Some(row)))
                .collect(),
        }],
        columns,
        rows,
    }
}

pub(super) fn bar_chart() -> BarChart {
    let names = [
        "car",
        "wheels and driveline",
        "clutch",
        "tyre",
        "driveline loss",
        "rolling",
        "drag",
    ];
    let bars = [
        (
            "as supplied, 8.3 kg",
            [100.6, 8.9, 34.1, 21.7, 6.1, 2.3, 0.7],
        ),
        (
            "turned down, 6.9 kg",
            [102.0, 9.1, 30.5, 24.2, 6.2, 2.3, 0.7],
        ),
        ("aluminium, 4.2 kg", [103.1, 9.2, 26.8, 27.9, 6.3, 2.3, 0.7]),
    ];
    BarChart {
        words: Words {
            description: "Where the energy of a launch goes, for three flywheels.".to_owned(),
            ..words("Where the energy went, to sixty feet")
        },
        bars: bars
            .into_iter()
            .map(|(name, values)| Bar {
                name: name.to_owned(),
                note: format!("{:.1} kJ in all", values.iter().sum::<f64>()),
                parts: names
                    .into_iter()
                    .zip(values)
                    .enumerate()
                    .map(|(nth, (part, value))| Part {
                        name: part.to_owned(),
                        look: Look::nth(nth),
                        value,
                        value_text: format!("{value:.1} kJ"),
                    })
                    .collect(),
            })
            .collect(),
    }
}

pub(super) fn strip() -> Strip {
    Strip {
        words: Words {
            title: "Launch speed".to_owned(),
            subtitle: Some("turned down, 6.9 kg".to_owned()),
            caption: Some("Invented data.".to_owned()),
            description: "Aim for 5380 rpm; anything from 4710 to 5970 costs little.".to_owned(),
        },
        axis: Axis::new("Launch speed", "rpm")
            .reaching(2500.0)
            .reaching(7500.0),
        look: Look::nth(1),
        window: Some((4710.0, 5970.0)),
        window_name: "window: 4710 to 5970 rpm".to_owned(),
        marks: vec![
            Mark {
                kind: MarkKind::Quickest,
                x: 5200.0,
                y: 0.0,
                label: "quickest 5200 rpm".to_owned(),
            },
            Mark {
                kind: MarkKind::Aim,
                x: 5380.0,
                y: 0.0,
                label: "aim 5380 rpm".to_owned(),
            },
        ],
    }
}

pub(super) fn span_chart() -> SpanChart {
    let row = |name: &str, model: f64, read: f64, kind: usize| SpanRow {
        name: name.to_owned(),
        note: format!("{read:.3} s, model {model:.3} s"),
        spans: vec![
            Span {
                kind: 0,
                at: model,
                range: Some((model - 0.031, model + 0.031)),
            },
            Span {
                kind,
                at: read,
                range: None,
            },
        ],
    };
    SpanChart {
        words: words("Slips against the model"),
        axis: Axis::new("60 ft time", "s"),
        kinds: vec![
            ("the model, 19 of 20 runs".to_owned(), Look::nth(0)),
            ("read off the slip".to_owned(), Look::nth(1)),
            ("does not go with the others".to_owned(), Look::nth(2)),
        ],
        rows: vec![
            row("1. as supplied, from 4700 rpm", 1.942, 1.951, 1),
            row("2. turned down, from 5200 rpm, clean", 1.918, 1.897, 1),
            row(
                "3. turned down, from 5150 rpm, missed a shift",
                1.919,
                2.240,
                2,
            ),
        ],
    }
}

/// A line chart of twelve series, some of them edge_cases.
pub(super) fn crowd() -> LineChart {
    let series = (0..12_u32).map(|nth| {
        let lift = f64::from(nth % 5) * 0.004;
        let points = (0..=60)
            .map(|step| {
                let rpm = 2500.0 + 80.0 * f64::from(step);
                let off = (rpm - 4200.0 - 150.0 * f64::from(nth)) / 1500.0;
                let stalled = step < nth || (30..33).contains(&step) && nth == 3;
                (rpm, (!stalled).then_some(1.9 + lift + 0.03 * off * off))
            })
            .collect();
        let name = format!("wheel {}", nth + 1);
        Series::new(name, Look::nth(usize::try_from(nth).unwrap()), points)
    });
    LineChart::new(
        words("Twelve flywheels at once"),
        Axis::new("Launch speed", "rpm"),
        Axis::new("60 ft time", "s"),
        series.collect(),
    )
}

/// Every sample in a size, the odd ones included, with its name.
pub(crate) fn all(size: Size) -> Vec<(&'static str, String)> {
    [
        ("window", window_chart().svg(size)),
        ("trace", trace_chart().svg(size)),
        ("points", point_chart().svg(size)),
        ("cells", cell_map().svg(size)),
        ("bars", bar_chart().svg(size)),
        ("strip", strip().svg(size)),
        ("spans", span_chart().svg(size)),
        ("crowd", crowd().svg(size)),
    ]
    .into_iter()
    .map(|(name, svg)| (name, svg.unwrap()))
    .chain(edge_cases::all(size))
    .collect()
}
