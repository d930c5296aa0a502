use super::*;
use crate::random_cases::same_every_time;
use crate::shown::picture_laws::{SIZES, attribute, text_boxes};
use proptest::prelude::*;
use std::collections::{BTreeMap, HashSet};

#[test]
fn law_a_chart_has_the_width_asked_for() {
    for size in SIZES {
        for (_, svg) in samples::all(size) {
            let document = roxmltree::Document::parse(&svg).unwrap();
            let width = attribute(&document.root_element(), "width");
            assert!((width - f64::from(size.width_px)).abs() < f64::EPSILON);
        }
    }
}

#[test]
fn law_words_with_markup_stay_words() {
    let mut chart = samples::window_chart();
    chart.words.title = "<script>alert('x')</script> & \"more\"".to_owned();
    chart.words.description = "</desc><script/>".to_owned();
    chart.series[0].name = "</text><a href='x'>".to_owned();
    for size in SIZES {
        let svg = chart.svg(size).unwrap();
        assert!(!svg.contains("<script") && !svg.contains("<a "));
        let document = roxmltree::Document::parse(&svg).unwrap();
        let title = document.descendants().find(|n| n.has_tag_name("title"));
        assert_eq!(title.unwrap().text(), Some(chart.words.title.as_str()));
    }
}

#[test]
fn law_every_name_and_mark_is_told_at_every_size() {
    let chart = samples::window_chart();
    for size in SIZES {
        let svg = chart.svg(size).unwrap();
        let texts: Vec<String> = text_boxes(&svg).into_iter().map(|(text, _)| text).collect();
        for series in &chart.series {
            assert!(texts.contains(&series.name), "{}", series.name);
            for mark in &series.marks {
                assert!(texts.contains(&mark.label), "{} at {size:?}", mark.label);
            }
        }
    }
}

/// Stroked paths by colour and dash.
fn strokes(svg: &str) -> BTreeMap<(String, String), usize> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let mut counts = BTreeMap::new();
    for node in document.descendants().filter(|n| n.has_tag_name("path")) {
        if let Some(colour) = node.attribute("stroke")
            && node.attribute("fill").is_none()
        {
            let dash = node.attribute("stroke-dasharray").unwrap_or("solid");
            *counts
                .entry((colour.to_owned(), dash.to_owned()))
                .or_default() += 1;
        }
    }
    counts
}

#[test]
fn law_twelve_series_are_told_apart_by_dash_alone() {
    let svg = samples::crowd().svg(Size::WIDE).unwrap();
    let lines: HashSet<String> = Colour::LINES.iter().map(ToString::to_string).collect();
    let dashes: HashSet<String> = strokes(&svg)
        .into_keys()
        .filter(|(colour, _)| lines.contains(colour))
        .map(|(_, dash)| dash)
        .collect();
    assert_eq!(dashes.len(), Look::COUNT);
}

#[test]
fn law_a_missing_value_leaves_a_gap() {
    let curve = |missing: Option<usize>| -> Curve {
        (0..9)
            .map(|nth| {
                let value = f64::from(u32::try_from(nth).unwrap());
                (value, (Some(nth) != missing).then_some(value))
            })
            .collect()
    };
    let pieces = |missing| {
        let series = Series {
            spots: Spots::None,
            ..Series::new("", Look::nth(0), curve(missing))
        };
        let axis = || Axis::new("", "");
        let chart = LineChart::new(samples::words("gap"), axis(), axis(), vec![series]);
        let key = (Look::nth(0).line().to_string(), "solid".to_owned());
        strokes(&chart.svg(Size::WIDE).unwrap())[&key]
    };
    assert_eq!((pieces(None), pieces(Some(4))), (1, 2));
}

#[test]
fn law_a_beaten_point_is_hollow() {
    let mut chart = samples::point_chart();
    chart.points.truncate(1);
    let paper = format!(
        "fill=\"{}\" stroke=\"{}\"",
        Colour::PAPER,
        Look::nth(0).line()
    );
    let solid = format!(
        "fill=\"{}\" stroke=\"{}\"",
        Look::nth(0).line(),
        Colour::PAPER
    );
    let svg = chart.svg(Size::WIDE).unwrap();
    assert!(svg.contains(&solid) && !svg.contains(&paper));
    chart.points[0].standing = Standing::Dominated;
    let svg = chart.svg(Size::WIDE).unwrap();
    assert!(svg.contains(&paper) && !svg.contains(&solid));
}

#[test]
fn law_bars_are_as_long_as_their_parts() {
    let part = |value: f64, nth: usize| Part {
        name: format!("part {nth}"),
        look: Look::nth(nth),
        value,
        value_text: format!("{value}"),
    };
    let chart = BarChart {
        words: samples::words("lengths"),
        bars: vec![Bar {
            parts: vec![part(30.0, 0), part(10.0, 2), part(-5.0, 3)],
            ..Bar::default()
        }],
    };
    let svg = chart.svg(Size::WIDE).unwrap();
    let width = |look: Look| -> f64 {
        let lead = format!("fill=\"{}\"", look.tint());
        let line = svg.lines().find(|line| line.contains(&lead)).unwrap();
        let after = line.split('l').nth(1).unwrap();
        after.split(' ').next().unwrap().parse().unwrap()
    };
    // Rounded to a hundredth of a pixel.
    assert!((width(Look::nth(0)) / width(Look::nth(2)) - 3.0).abs() < 1e-3);
    assert!(!svg.contains(&Look::nth(3).tint().to_string()));
    assert!(svg.contains("part 3"));
}

proptest! {
    #![proptest_config(same_every_time(48))]

    #[test]
    fn law_no_data_break_a_line_chart(
        curves in proptest::collection::vec(
            proptest::collection::vec((any::<f64>(), proptest::option::of(any::<f64>())), 0..12),
            0..14,
        ),
        window in proptest::option::of((any::<f64>(), any::<f64>())),
        name in "\\PC{0,60}",
        width in 0_u32..1200,
    ) {
        let series = curves.into_iter().enumerate().map(|(nth, points)| Series {
            window,
            marks: points
                .iter()
                .take(2)
                .map(|(x, y)| Mark {
                    kind: MarkKind::Aim,
                    x: *x,
                    y: y.unwrap_or(f64::NAN),
                    label: name.clone(),
                })
                .collect(),
            companion: points.clone(),
            ..Series::new(name.clone(), Look::nth(nth), points)
        });
        let chart = LineChart {
            rules: vec![
                Rule::Upright { x: 1.0, label: name.clone() },
                Rule::Level { y: f64::NAN, label: name.clone() },
            ],
            window_name: Some(name.clone()),
            companion_name: Some(name.clone()),
            ..LineChart::new(
                samples::words(&name),
                Axis::new(name.clone(), "rpm"),
                Axis::new(name.clone(), "s"),
                series.collect(),
            )
        };
        let svg = chart.svg(Size::new(width, width / 2)).unwrap();
        prop_assert!(roxmltree::Document::parse(&svg).is_ok());
    }
}
