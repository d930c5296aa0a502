//! Stress beside the half section, on the same radius axis.

use super::pencil::{Hold, Pencil, Stroke};
use crate::metal::disc::{DiscCheck, Stress};
use crate::shown::plot::Colour;
use crate::units::{Kind, System};

/// Where the panel lies, and how radius runs on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Panel {
    pub(super) left_px: f64,
    pub(super) right_px: f64,
    pub(super) top_px: f64,
    pub(super) axis_px: f64,
    pub(super) px_per_m: f64,
    pub(super) system: System,
}

/// Ticks of the stress axis at most.
const MOST_TICKS: f64 = 4.0;

impl Panel {
    fn y(&self, radius_m: f64) -> f64 {
        self.axis_px - radius_m * self.px_per_m
    }

    /// Stress at the limiter as it is (thin) and as cut (thick); tangential solid, radial dashed.
    pub(super) fn draw(
        &self,
        pencil: &mut Pencil,
        before: Option<&DiscCheck>,
        after: Option<&DiscCheck>,
        yield_pa: Option<f64>,
    ) {
        let checks: Vec<&DiscCheck> = before.into_iter().chain(after).collect();
        let greatest = checks
            .iter()
            .flat_map(|check| &check.over_radius)
            .map(Stress::larger_pa)
            .chain(yield_pa)
            .fold(0.0, f64::max);
        if greatest <= 0.0 {
            return;
        }
        let shown_most = self.system.value(greatest, Kind::Stress) * 1.04;
        let x = |pa: f64| {
            let share = self.system.value(pa, Kind::Stress) / shown_most;
            self.left_px + share * (self.right_px - self.left_px)
        };
        self.frame(pencil, shown_most);
        if let Some(yields) = yield_pa {
            let stroke = Stroke {
                dash: "6 3",
                ..Stroke::solid(colour(1), 1.2)
            };
            pencil.line((x(yields), self.top_px), (x(yields), self.axis_px), stroke);
            pencil.words(
                (x(yields) - 3.0, self.axis_px - 5.0),
                Hold::End,
                text(1),
                "yield",
            );
        }
        let last = checks.len().saturating_sub(1);
        for (index, check) in checks.iter().enumerate() {
            let (line, width_px) = if index == last {
                (colour(0), 1.8)
            } else {
                (Colour::AXIS, 1.0)
            };
            let curve = |of: fn(&Stress) -> f64| -> Vec<(f64, f64)> {
                check
                    .over_radius
                    .iter()
                    .map(|point| (x(of(point).max(0.0)), self.y(point.radius_m)))
                    .collect()
            };
            pencil.polyline(&curve(|s| s.tangential_pa), Stroke::solid(line, width_px));
            let dashed = Stroke {
                dash: "3 2.5",
                ..Stroke::solid(line, width_px)
            };
            pencil.polyline(&curve(|s| s.radial_pa), dashed);
        }
    }

    fn frame(&self, pencil: &mut Pencil, shown_most: f64) {
        let unit = self.system.unit(Kind::Stress).symbol;
        pencil.line(
            (self.left_px, self.axis_px),
            (self.right_px, self.axis_px),
            Stroke::solid(Colour::AXIS, 1.0),
        );
        let step = step_of(shown_most);
        let mut tick = 0.0;
        while tick <= shown_most {
            let x = self.left_px + tick / shown_most * (self.right_px - self.left_px);
            pencil.line(
                (x, self.top_px),
                (x, self.axis_px),
                Stroke::solid(Colour::GRID, 0.8),
            );
            pencil.words(
                (x, self.axis_px + 13.0),
                Hold::Middle,
                Colour::QUIET,
                &format!("{tick:.0}"),
            );
            tick += step;
        }
        pencil.words(
            (self.left_px, self.axis_px + 27.0),
            Hold::Start,
            Colour::QUIET,
            &format!("stress at limiter, {unit}"),
        );
        pencil.words(
            (self.left_px, self.axis_px + 41.0),
            Hold::Start,
            Colour::QUIET,
            "solid: tangential",
        );
        pencil.words(
            (self.left_px, self.axis_px + 55.0),
            Hold::Start,
            Colour::QUIET,
            "dashed: radial",
        );
    }
}

/// A step of 1, 2 or 5 times a power of ten that gives few ticks.
fn step_of(most: f64) -> f64 {
    let mut step = 1.0;
    for times in [2.0, 2.5, 2.0].into_iter().cycle().take(12) {
        if most / step <= MOST_TICKS {
            break;
        }
        step *= times;
    }
    step
}

fn colour(index: usize) -> Colour {
    crate::shown::plot::Look::nth(index).line()
}

fn text(index: usize) -> Colour {
    crate::shown::plot::Look::nth(index).text()
}
