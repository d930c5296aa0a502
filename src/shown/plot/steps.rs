//! Steps of colour with round limits, and their legend.

use super::axis::Axis;
use super::page::Fonts;
use crate::shown::pens::{Anchor, CAP_HEIGHT_EM, Colour, Drawn, Pen, Px, Rect, Scale, face, text};

/// Steps of colour aimed for.
const STEPS_AIMED_FOR: usize = 6;

/// Widest and lowest box of the legend.
const BOX_PX: (f64, f64) = (64.0, 14.0);

/// Which end of the values is dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shade {
    /// High values are dark.
    #[default]
    HighIsDark,
    /// Low values are dark: for times, the quick ones.
    LowIsDark,
}

/// Steps of colour with round limits.
pub(super) struct Classes {
    scale: Scale,
    shade: Shade,
}

impl Classes {
    pub(super) fn of(values: impl Iterator<Item = f64>, shade: Shade) -> Self {
        let values: Vec<f64> = values.collect();
        let scale = (2..=STEPS_AIMED_FOR)
            .rev()
            .map(|steps| Scale::over(values.iter().copied(), steps + 1))
            .find(|scale| scale.ticks.len() <= Colour::STEPS.len() + 1)
            .unwrap_or_else(|| Scale::over(values.iter().copied(), 2));
        Self { scale, shade }
    }

    fn count(&self) -> usize {
        self.scale.ticks.len().saturating_sub(1)
    }

    fn limits(&self) -> &[f64] {
        &self.scale.ticks
    }

    /// The limits between two steps, with their numbers.
    pub(super) fn inner_limits(&self) -> Vec<(f64, String)> {
        let inner = self.limits().iter().skip(1);
        inner
            .take(self.count().saturating_sub(1))
            .map(|limit| (*limit, text::number(*limit, self.scale.decimals)))
            .collect()
    }

    /// The step a value falls in; one on a limit falls in the step above.
    pub(super) fn step_of(&self, value: f64) -> usize {
        let passed = self
            .limits()
            .iter()
            .filter(|limit| **limit <= value)
            .count();
        passed.clamp(1, self.count().max(1)) - 1
    }

    /// The colour of a step: the scale's ends where there are several, evenly between.
    pub(super) fn colour(&self, step: usize) -> Colour {
        let last = self.count().max(2) - 1;
        let step = match self.shade {
            Shade::HighIsDark => step,
            Shade::LowIsDark => last.saturating_sub(step),
        };
        let darkest = Colour::STEPS.len() - 1;
        let index = (step * darkest + last / 2) / last;
        Colour::STEPS
            .get(index.min(darkest))
            .copied()
            .unwrap_or(Colour::WASH)
    }
}

/// The legend of the steps: a row of boxes with the limits under their borders.
pub(super) struct Legend<'m> {
    title: String,
    classes: &'m Classes,
    width: f64,
    box_width: f64,
    inset: f64,
    size: f64,
}

impl<'m> Legend<'m> {
    pub(super) fn new(axis: &Axis, classes: &'m Classes, width: f64, fonts: Fonts) -> Self {
        let size = fonts.small;
        let widest = classes
            .scale
            .labels()
            .iter()
            .map(|label| text::width(label, size))
            .fold(0.0, f64::max);
        let boxes = f64::from(u32::try_from(classes.count().max(1)).unwrap_or(1));
        Self {
            title: axis.title(),
            classes,
            width,
            box_width: ((width - widest) / boxes).min(BOX_PX.0.max(widest + 10.0)),
            inset: widest / 2.0,
            size,
        }
    }

    /// Width from the left edge to the end of the last limit.
    pub(super) fn width(&self) -> f64 {
        let boxes = f64::from(u32::try_from(self.classes.count()).unwrap_or(u32::MAX));
        let row = boxes * self.box_width + 2.0 * self.inset;
        row.max(text::width(&self.title, self.size)).min(self.width)
    }

    /// Height of the middle of the boxes.
    pub(super) fn middle(&self) -> f64 {
        self.size * 1.5 + BOX_PX.1 / 2.0
    }

    pub(super) fn height(&self) -> f64 {
        self.size * 1.5 + BOX_PX.1 + self.size * 1.5 + 8.0
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, at: Px) -> Drawn {
        let title = at.shifted(0.0, self.size * CAP_HEIGHT_EM + 2.0);
        let ink = face(self.size, Colour::INK, Anchor::Start);
        pen.text_within(title, &self.title, self.width, ink)?;
        let top = at.y + self.size * 1.5;
        let mut left = at.x + self.inset;
        for step in 0..self.classes.count() {
            let rect = Rect::new(left, top, left + self.box_width, top + BOX_PX.1);
            pen.fill(&rect, self.classes.colour(step))?;
            pen.outline(&rect, Colour::AXIS)?;
            left = rect.right;
        }
        let mut left = at.x + self.inset;
        for label in self.classes.scale.labels() {
            let baseline = top + BOX_PX.1 + 4.0 + self.size * CAP_HEIGHT_EM;
            let quiet = face(self.size, Colour::QUIET, Anchor::Middle);
            pen.text(Px::new(left, baseline), &label, quiet)?;
            left += self.box_width;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_steps_are_few_round_and_each_of_its_own_colour() {
        for (low, high) in [(1.87, 2.31), (0.0, 1.0), (5.0, 5.0), (-3.0, 1200.0)] {
            let classes = Classes::of([low, high].into_iter(), Shade::LowIsDark);
            assert!((1..=Colour::STEPS.len()).contains(&classes.count()));
            let mut colours: Vec<Colour> = (0..classes.count())
                .map(|step| classes.colour(step))
                .collect();
            assert!(
                colours
                    .windows(2)
                    .all(|pair| pair[0].luminance() < pair[1].luminance())
            );
            colours.dedup();
            assert_eq!(colours.len(), classes.count());
            for value in [low, high] {
                let step = classes.step_of(value);
                let (from, to) = (classes.limits()[step], classes.limits()[step + 1]);
                assert!((from..=to).contains(&value), "{value} in {from} to {to}");
            }
        }
    }
}
