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
