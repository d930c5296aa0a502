//! Stress beside the half section, on the same radius axis.

use super::paper::{TEXT_PX, words};
use crate::metal::disc::{DiscCheck, Stress};
use crate::shown::pens::{Anchor, Colour, Drawn, Line, Look, Pen, Px, Scale, text};
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
const MOST_TICKS: usize = 4;

/// Space between two labels of the stress axis, px.
const LABEL_GAP_PX: f64 = 6.0;

/// Dashes of the radial stress and of the yield stress, in line widths.
const RADIAL: &[f64] = &[2.0, 1.6];
const YIELD: &[f64] = &[5.0, 2.5];

impl Panel {
    /// Stress at the limiter as it is (thin) and as cut (thick); tangential solid, radial dashed.
    pub(super) fn draw(
        &self,
        pen: &Pen<'_>,
        before: Option<&DiscCheck>,
        after: Option<&DiscCheck>,
        yield_pa: Option<f64>,
    ) -> Drawn {
        let checks: Vec<&DiscCheck> = before.into_iter().chain(after).collect();
        let greatest = checks
            .iter()
            .flat_map(|check| &check.over_radius)
            .map(Stress::larger_pa)
            .chain(yield_pa)
            .fold(0.0, f64::max);
        if greatest <= 0.0 {
            return Ok(());
        }
        let scale = self.scale(self.system.value(greatest, Kind::Stress) * 1.04);
        self.frame(pen, &scale)?;
        let x = |pa: f64| self.x(&scale, self.system.value(pa, Kind::Stress));
        if let Some(yields) = yield_pa {
            self.draw_yield(pen, x(yields))?;
        }
        let last = checks.len().saturating_sub(1);
        for (index, check) in checks.iter().enumerate() {
            let (colour, width_px) = if index == last {
                (Look::nth(0).line(), 1.8)
            } else {
                (Colour::AXIS, 1.0)
            };
            let curve = |of: fn(&Stress) -> f64, dash| {
                let at = |point: &Stress| {
                    let y = self.axis_px - point.radius_m * self.px_per_m;
                    Px::new(x(of(point).max(0.0)), y)
                };
                let points: Vec<Px> = check.over_radius.iter().map(at).collect();
                let line = Line {
                    colour,
                    width_px,
                    dash,
                };
                pen.line(&points, line)
            };
            curve(|s| s.tangential_pa, &[])?;
            curve(|s| s.radial_pa, RADIAL)?;
        }
        Ok(())
    }

    /// From nothing to the most, with as many ticks as have room for their labels.
    fn scale(&self, most: f64) -> Scale {
        let fits = |scale: &Scale| {
            let widths = scale.labels().into_iter();
            let widest = widths
                .map(|label| text::width(&label, TEXT_PX))
                .fold(0.0, f64::max);
            scale.ticks.windows(2).all(|pair| match pair {
                [one, two] => self.x(scale, *two) - self.x(scale, *one) >= widest + LABEL_GAP_PX,
                _ => true,
            })
        };
        (2..=MOST_TICKS)
            .rev()
            .map(|about| Scale::inside(0.0, most, about))
            .find(fits)
            .unwrap_or_else(|| Scale::inside(0.0, most, 2))
    }

    fn x(&self, scale: &Scale, shown: f64) -> f64 {
        self.left_px + shown / scale.high * (self.right_px - self.left_px)
    }

    fn draw_yield(&self, pen: &Pen<'_>, x: f64) -> Drawn {
        let line = Line {
            colour: Look::nth(1).line(),
            width_px: 1.2,
            dash: YIELD,
        };
        let (top, foot) = (Px::new(x, self.top_px), Px::new(x, self.axis_px));
        pen.line(&[top, foot], line)?;
        // On the side that has the room.
        let (anchor, aside) = if x - self.left_px > (self.right_px - self.left_px) / 2.0 {
            (Anchor::End, -3.0)
        } else {
            (Anchor::Start, 3.0)
        };
        let face = words(Look::nth(1).text(), anchor);
        pen.text(foot.shifted(aside, -5.0), "yield", face)
    }

    fn frame(&self, pen: &Pen<'_>, scale: &Scale) -> Drawn {
        let quiet = |anchor| words(Colour::QUIET, anchor);
        for (tick, label) in scale.ticks.iter().zip(scale.labels()) {
            let foot = Px::new(self.x(scale, *tick), self.axis_px);
            let grid = Line::solid(Colour::GRID, 0.8);
            pen.line(&[Px::new(foot.x, self.top_px), foot], grid)?;
            pen.text(foot.shifted(0.0, 13.0), &label, quiet(Anchor::Middle))?;
        }
        let corner = Px::new(self.left_px, self.axis_px);
        let end = Px::new(self.right_px, self.axis_px);
        pen.line(&[corner, end], Line::solid(Colour::AXIS, 1.0))?;
        let unit = self.system.unit(Kind::Stress).symbol;
        let said = [
            format!("stress at limiter, {unit}"),
            String::from("solid: tangential"),
            String::from("dashed: radial"),
        ];
        for (line, down) in said.iter().zip([28.0, 43.0, 58.0]) {
            pen.text(corner.shifted(0.0, down), line, quiet(Anchor::Start))?;
        }
        Ok(())
    }
}
