//! The page's charts, each drawn for a phone and for a wide screen.

use super::PageError;
use super::energy::EnergyRow;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::launch::trace::TracePoint;
use crate::shown::figures;
use crate::shown::plot::{
    Axis, Bar, BarChart, ChartError, Curve, LineChart, Look, Mark, MarkKind, Part, PointChart,
    Series, Size, Strip, Words,
};
use crate::shown::text::percent;
use crate::study::card::{CardStudy, Off, Shown};
use crate::study::comparison::{Comparison, Contender};

/// One chart in the two widths that a page shows.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub(super) phone: String,
    pub(super) wide: String,
}

/// Width and height on a phone held upright, px.
const PHONE: (u32, u32) = (336, 360);
/// Width and height on a wide screen, px.
const WIDE: (u32, u32) = (720, 430);

impl Drawn {
    pub(super) fn of(draw: impl Fn(Size) -> Result<String, ChartError>) -> Result<Self, PageError> {
        Ok(Self {
            phone: draw(Size::new(PHONE.0, PHONE.1))?,
            wide: draw(Size::new(WIDE.0, WIDE.1))?,
        })
    }

    /// A drawing that has its own size.
    pub(super) fn fixed(svg: String) -> Self {
        Self {
            phone: String::new(),
            wide: svg,
        }
    }

    pub(super) fn is_fixed(&self) -> bool {
        self.phone.is_empty()
    }
}

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

/// The launch speeds as one scale: window, best single launch and aim.
pub(super) fn strip(pick: &Contender, range: &SpeedRange, told: &str) -> Result<Drawn, PageError> {
    let aim = rpm(pick.scatter.aim.launch_speed_rad_s);
    let best = rpm(pick.best.quickest.launch_speed_rad_s);
    let (low, high) = (
        rpm(pick.best.window.low.speed_rad_s()),
        rpm(pick.best.window.high.speed_rad_s()),
    );
    let mark = |kind, x, label| Mark {
        kind,
        x,
        y: 0.0,
        label,
    };
    let chart = Strip {
        words: Words {
            title: format!("Launch speed with “{}”", pick.name()),
            description: told.to_owned(),
            ..Words::default()
        },
        axis: Axis::new("Launch speed", "rpm")
            .reaching(rpm(range.low_rad_s()))
            .reaching(rpm(range.high_rad_s())),
        look: Look::nth(pick.index()),
        window: Some((low, high)),
        window_name: format!("window: {low:.0} to {high:.0} rpm"),
        marks: vec![
            mark(
                MarkKind::Quickest,
                best,
                format!("best single launch {best:.0} rpm"),
            ),
            mark(MarkKind::Aim, aim, format!("aim {aim:.0} rpm")),
        ],
    };
    Drawn::of(|size| chart.svg(size))
}

/// Average against spread, one point a flywheel.
pub(super) fn quick_and_steady(
    comparison: &Comparison,
    told: &[String],
) -> Result<Drawn, PageError> {
    let chart = PointChart {
        words: Words {
            title: "Left is quicker, down is steadier".into(),
            description: told.join(" "),
            ..Words::default()
        },
        x: Axis::new("60 ft on average", "s"),
        y: Axis::new("Spread (one standard deviation)", "s"),
        points: figures::quick_and_steady(comparison),
        frontier_name: Some("none is both quicker and steadier".into()),
        beaten_name: Some("hollow: another is both quicker and steadier".into()),
    };
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
