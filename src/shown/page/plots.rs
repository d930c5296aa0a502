//! The driver's page's charts.

use super::drawn::Drawn;
use super::energy::EnergyRow;
use super::error::PageError;
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::trace::TracePoint;
use crate::shown::figures;
use crate::shown::plot::{
    Axis, Bar, BarChart, Curve, LineChart, Look, Mark, MarkKind, Part, Series, Spots, Words,
};
use crate::shown::text::about_rpm;
use crate::shown::text::percent;
use crate::study::card::{CardStudy, Off, Shown};
use crate::study::comparison::{Comparison, Contender};
use crate::study::round_aim::RoundAim;
use crate::study::scatter::table::BAND_S;

/// Sixty-foot time over launch speed. The page has the car's name and the caution at its ends.
pub(super) fn sixty_foot(comparison: &Comparison) -> Result<Drawn, PageError> {
    let mut chart = figures::sixty_foot_over_speed("", comparison);
    chart.words.subtitle = None;
    chart.words.caption = None;
    Drawn::of(|size| chart.svg(size))
}

fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s / RAD_S_PER_RPM
}

/// Engine speed over time for a launch too low, one right and one too high.
pub(super) fn three_launches(card: &CardStudy, told: &[String]) -> Result<Drawn, PageError> {
    let chart = LineChart {
        companion_name: Some("thin: gearbox input".into()),
        ..LineChart::new(
            Words {
                title: "Engine speed, first bite to 60 ft".into(),
                description: told.join(" "),
                ..Words::default()
            },
            Axis::new("Time from first bite", "s").reaching(0.0),
            Axis::new("Engine speed", "rpm").reaching(0.0),
            card.shown.iter().map(one_launch).collect(),
        )
    };
    Drawn::of(|size| chart.svg(size))
}

fn one_launch(shown: &Shown) -> Series {
    let look = match shown.off {
        Off::On => Look::nth(0),
        Off::Low => Look::nth(1),
        Off::High => Look::nth(2),
    };
    let over_time = |speed_rad_s: fn(&TracePoint) -> f64| -> Curve {
        shown
            .points
            .iter()
            .map(|point| (point.time_s, Some(rpm(speed_rad_s(point)))))
            .collect()
    };
    let name = format!(
        "{}, {:.0} rpm",
        shown.off.words(),
        rpm(shown.launch.launch_speed_rad_s)
    );
    Series {
        companion: over_time(|point| point.input_rad_s),
        ..Series::new(name, look, over_time(|point| point.now.engine_rad_s))
    }
}

/// The average over the aim, the best aim and the band round it marked: the one picture of what
/// to do.
pub(super) fn round_the_aim(
    pick: &Contender,
    round: &RoundAim,
    told: &str,
) -> Result<Drawn, PageError> {
    /// Averages this much slower are off the picture, s: what matters lies near the aim.
    const WORTH_DRAWING_S: f64 = 0.08;
    let here = &round.here;
    let worth = |mean_s: f64| (mean_s <= here.mean_s + WORTH_DRAWING_S).then_some(mean_s);
    let means = round
        .means
        .iter()
        .map(|(aim, mean_s)| (rpm(*aim), worth(*mean_s)));
    let series = Series {
        spots: Spots::None,
        window: Some((rpm(here.band_rad_s.low), rpm(here.band_rad_s.high))),
        marks: vec![Mark {
            kind: MarkKind::Aim,
            x: rpm(here.aim_rad_s),
            y: here.mean_s,
            label: format!("aim {}", about_rpm(here.aim_rad_s)),
        }],
        ..Series::new("", Look::nth(pick.index()), means.collect())
    };
    let chart = LineChart {
        window_name: Some(format!("good: loses no more than {BAND_S} s")),
        ..LineChart::new(
            Words {
                title: "60 ft on average over the launch speed aimed at".into(),
                description: told.to_owned(),
                ..Words::default()
            },
            Axis::new("Launch speed aimed at", "rpm"),
            Axis::new("60 ft on average (down: quicker)", "s"),
            vec![series],
        )
    };
    Drawn::of(|size| chart.svg(size))
}

/// Average against spread, one point a flywheel. The page has the car's name and the cautions at
/// its ends.
pub(super) fn quick_and_steady(comparison: &Comparison) -> Result<Drawn, PageError> {
    let mut chart = figures::frontier("", comparison);
    chart.words.subtitle = None;
    chart.words.caption = None;
    Drawn::of(|size| chart.svg(size))
}

/// Where the energy went in each of the launches shown; `rows` as the table has them.
pub(super) fn energy(card: &CardStudy, rows: &[EnergyRow]) -> Result<Drawn, PageError> {
    let bars = card
        .shown
        .iter()
        .enumerate()
        .filter(|(_, shown)| shown.launch.sixty_foot_s().is_some())
        .map(|(launch, shown)| Bar {
            name: format!(
                "{}, {:.0} rpm",
                shown.off.words(),
                rpm(shown.launch.launch_speed_rad_s)
            ),
            note: String::new(),
            parts: rows
                .iter()
                .enumerate()
                .filter_map(|(nth, row)| {
                    let value = *row.shares.get(launch)?;
                    Some(Part {
                        name: row.short.to_owned(),
                        look: Look::nth(nth),
                        value,
                        value_text: percent(value),
                    })
                })
                .collect(),
        })
        .collect();
    let chart = BarChart {
        words: Words {
            title: "Shares of the energy, first bite to 60 ft".into(),
            description: "The same numbers stand in the table.".into(),
            ..Words::default()
        },
        bars,
    };
    Drawn::of(|size| chart.svg(size))
}
