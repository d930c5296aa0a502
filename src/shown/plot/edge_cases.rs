//! Charts nobody would wish for: nothing, too much, too long, not a number.

use super::samples::words;
use super::*;

const LONG: &str = "a flywheel whose maker was paid by the letter and never once ran short of them, \
                    nor of commas, from here to the far end of the strip and back";

fn odd_curves() -> Vec<Curve> {
    vec![
        vec![],
        vec![(5000.0, Some(1.9))],
        vec![
            (4000.0, Some(1.9)),
            (5000.0, Some(1.9)),
            (6000.0, Some(1.9)),
        ],
        vec![
            (f64::NAN, Some(1.9)),
            (5000.0, Some(f64::NAN)),
            (1e300, Some(2.0)),
        ],
        vec![(5000.0, None), (5100.0, None)],
    ]
}

fn odd_marks() -> Vec<Mark> {
    let mark = |kind, x: f64, label: &str| Mark {
        kind,
        x,
        y: 1.9,
        label: label.to_owned(),
    };
    vec![
        mark(MarkKind::Quickest, 5000.0, "quickest"),
        mark(MarkKind::Aim, 5000.0, LONG),
        mark(MarkKind::Plain, f64::INFINITY, "nowhere"),
        mark(MarkKind::Plain, 5001.0, ""),
    ]
}

fn odd_lines(name: &str) -> LineChart {
    let series = odd_curves()
        .into_iter()
        .enumerate()
        .map(|(nth, points)| Series {
            window: (nth != 2)
                .then_some((f64::NAN, 5000.0))
                .or(Some((6000.0, 4000.0))),
            marks: if nth == 1 { odd_marks() } else { vec![] },
            companion: points.clone(),
            spots: Spots::Every,
            ..Series::new(name, Look::nth(nth), points)
        });
    LineChart {
        rules: vec![
            Rule::Upright {
                x: 5000.0,
                label: LONG.to_owned(),
            },
            Rule::Upright {
                x: 5000.0,
                label: "again".to_owned(),
            },
            Rule::Level {
                y: 1.9,
                label: LONG.to_owned(),
            },
            Rule::Level {
                y: f64::NAN,
                label: "nowhere".to_owned(),
            },
        ],
        window_name: Some(LONG.to_owned()),
        companion_name: Some(LONG.to_owned()),
        ..LineChart::new(
            words(LONG),
            Axis::new(LONG, "rpm"),
            Axis::new(LONG, "s"),
            series.collect(),
        )
    }
}

fn odd_points(count: usize) -> PointChart {
    let point = |nth: usize| Point {
        name: LONG.to_owned(),
        look: Look::nth(nth),
        x: if nth == 3 { f64::NAN } else { 1.9 },
        y: 0.02,
        standing: Standing::Dominated,
    };
    PointChart {
        points: (0..count).map(point).collect(),
        beaten_name: Some(LONG.to_owned()),
        frontier_name: Some("frontier".to_owned()),
        ..PointChart::default()
    }
}

fn odd_map(values: Vec<Vec<Option<f64>>>) -> CellMap {
    CellMap {
        words: words(LONG),
        z: Axis::new(LONG, "s"),
        columns: vec![1.0, 3.0, 2.0, f64::NAN, 4.0],
        rows: vec![0.1, 0.2],
        values,
        missing_name: LONG.to_owned(),
        contours: Contours::Labelled,
        overlays: vec![Overlay {
            name: LONG.to_owned(),
            points: vec![(0.0, Some(99.0)), (2.0, Some(0.15)), (4.0, None)],
        }],
        ..CellMap::default()
    }
}

fn odd_bars(values: &[f64]) -> BarChart {
    let parts = values.iter().enumerate().map(|(nth, value)| Part {
        name: if nth % 2 == 0 { LONG } else { "short" }.to_owned(),
        look: Look::nth(nth),
        value: *value,
        value_text: format!("{value} kJ"),
    });
    BarChart {
        words: words(LONG),
        bars: vec![
            Bar::default(),
            Bar {
                name: LONG.to_owned(),
                note: LONG.to_owned(),
                parts: parts.collect(),
            },
        ],
    }
}

fn odd_strip(marks: Vec<Mark>, window: Option<(f64, f64)>) -> Strip {
    Strip {
        words: Words::default(),
        axis: Axis::new(LONG, ""),
        look: Look::nth(0),
        window,
        window_name: LONG.to_owned(),
        marks,
    }
}

/// Charts nobody would wish for.
pub(super) fn all(size: Size) -> Vec<(&'static str, String)> {
    let hollow = vec![vec![None; 5]; 2];
    let flat = vec![vec![Some(2.0), Some(f64::NAN)], vec![Some(2.0); 9]];
    [
        ("nothing at all", LineChart::default().svg(size)),
        ("odd lines", odd_lines("odd").svg(size)),
        ("long names", odd_lines(LONG).svg(size)),
        ("no points", odd_points(0).svg(size)),
        ("one point", odd_points(1).svg(size)),
        ("points on a heap", odd_points(12).svg(size)),
        ("no cells", CellMap::default().svg(size)),
        ("empty cells", odd_map(hollow).svg(size)),
        ("flat cells", odd_map(flat).svg(size)),
        ("no bars", BarChart::default().svg(size)),
        (
            "odd bars",
            odd_bars(&[0.0, f64::NAN, -4.0, 2.0, 1e-9]).svg(size),
        ),
        ("empty bars", odd_bars(&[0.0; 3]).svg(size)),
        ("no strip", odd_strip(vec![], None).svg(size)),
        (
            "odd strip",
            odd_strip(odd_marks(), Some((f64::NAN, 1.0))).svg(size),
        ),
        (
            "strip of one",
            odd_strip(vec![], Some((5000.0, 5000.0))).svg(size),
        ),
    ]
    .into_iter()
    .chain(odd_spans(size))
    .map(|(name, svg)| (name, svg.unwrap()))
    .collect()
}

/// Span charts of nothing, of names without end, of kinds and values that are none.
fn odd_spans(size: Size) -> [(&'static str, Result<String, ChartError>); 3] {
    let span = |kind: usize, at: f64, range: Option<(f64, f64)>| Span { kind, at, range };
    let chart = |name: &str, spans: Vec<Span>| SpanChart {
        words: words("odd"),
        axis: Axis::new(LONG, "s"),
        kinds: vec![
            (LONG.to_owned(), Look::nth(0)),
            (String::new(), Look::nth(9)),
        ],
        rows: vec![
            SpanRow {
                name: name.to_owned(),
                note: name.to_owned(),
                spans,
            },
            SpanRow::default(),
        ],
    };
    let odd = vec![
        span(0, f64::NAN, Some((1.0, f64::INFINITY))),
        span(1, 2.0, Some((2.5, 1.5))),
        span(0, 1e300, None),
        span(7, 2.0, None),
    ];
    [
        ("no spans", SpanChart::default().svg(size)),
        ("odd spans", chart("odd", odd).svg(size)),
        (
            "a lone reading",
            chart(LONG, vec![span(0, 2.0, None)]).svg(size),
        ),
    ]
}
