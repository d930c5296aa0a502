//! The page's charts, each drawn for a phone and for a wide screen.

use super::PageError;
use crate::car::constants::RAD_S_PER_RPM;
use crate::shown::chart::{Axis, ChartError, LineChart, Look, Series, Size, Spots, Words};
use crate::shown::charts;
use crate::study::card::{CardStudy, Off};
use crate::study::compare::WheelStudy;
use crate::study::scatter::study::ScatterStudy;

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
    pub(super) fn of(
        draw: impl Fn(Size) -> Result<String, ChartError>,
    ) -> Result<Self, PageError> {
        Ok(Self {
            phone: draw(Size::new(PHONE.0, PHONE.1))?,
            wide: draw(Size::new(WIDE.0, WIDE.1))?,
        })
    }
}

/// Sixty-foot time over launch speed. The page has the car's name and the caution at its ends.
pub(super) fn sixty_foot(
    studies: &[WheelStudy],
    scatter: &ScatterStudy,
) -> Result<Drawn, PageError> {
    let mut chart = charts::sixty_foot_over_speed("", studies, Some(scatter));
    chart.words.subtitle = None;
    chart.words.caption = None;
    Drawn::of(|size| chart.svg(size))
}

/// Engine speed over time for a launch too low, one right and one too high.
pub(super) fn three_launches(card: &CardStudy, told: &[String]) -> Result<Drawn, PageError> {
    let rpm = |speed_rad_s: f64| speed_rad_s / RAD_S_PER_RPM;
    let series = card
        .shown
        .iter()
        .map(|shown| {
            // The look of the launch on the aim is the first in every chart of one car.
            let look = match shown.off {
                Off::On => Look::nth(0),
                Off::Low => Look::nth(1),
                Off::High => Look::nth(2),
            };
            let over_time = |speed: &dyn Fn(usize) -> f64| {
                shown
                    .points
                    .iter()
                    .enumerate()
                    .map(|(index, point)| (point.time_s, Some(rpm(speed(index)))))
                    .collect()
            };
            let input = |index: usize| {
                shown.points.get(index).map_or(f64::NAN, |point| point.input_rad_s)
            };
            let engine = |index: usize| {
                shown
                    .points
                    .get(index)
                    .map_or(f64::NAN, |point| point.now.engine_rad_s)
            };
            Series {
                companion: over_time(&input),
                spots: Spots::Few,
                ..Series::new(
                    format!(
                        "{}, {:.0} rpm",
                        shown.off.words(),
                        rpm(shown.launch.launch_speed_rad_s)
                    ),
                    look,
                    over_time(&engine),
                )
            }
        })
        .collect();
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
            series,
        )
    };
    Drawn::of(|size| chart.svg(size))
}
