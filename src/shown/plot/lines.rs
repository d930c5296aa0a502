//! Line charts: series over a common axis, with windows, marks and reference lines.

use super::axis::Axis;
use super::key::{Entry, Key, Row, Sample};
use super::labels::Labels;
use super::mark::placed_marks;
use super::page::{Form, Page, Size, Words};
use super::panel::{Fit, Grid, Panel, Plan, least_height};
use super::rule::{self, Rule};
use super::series::{
    END_LABEL_EM, LEADER_PX, Series, draw_end_labels, draw_spots, end_name, has_values, runs,
    sampled, series_line,
};
use super::windows::Lanes;
use crate::shown::pens::{ChartError, Colour, Drawn, Line, Pen, Px, Rect, Room, text};

/// Width of a companion line.
const COMPANION_PX: f64 = 1.1;

/// Labels stand beside the lines as long as they take no more than this share of the width.
const LABEL_SHARE: f64 = 0.27;

/// Labels of marks stay in the plot as long as each has this much of the width.
const WIDTH_PER_LABEL_PX: f64 = 110.0;

/// No label of a mark takes more than this share of the plot.
const MARK_LABEL_SHARE: f64 = 0.6;

/// Where series are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Names {
    AtEnds,
    InKey,
}

/// Where marked points are labelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum MarkLabels {
    InPlot,
    InKey,
}

/// Series over a common axis.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LineChart {
    /// The words about it.
    pub words: Words,
    /// The level axis.
    pub x: Axis,
    /// The upright axis.
    pub y: Axis,
    /// The lines, drawn in this order.
    pub series: Vec<Series>,
    /// Reference lines.
    pub rules: Vec<Rule>,
    /// What the thin companion lines show.
    pub companion_name: Option<String>,
    /// What the brackets at the foot show.
    pub window_name: Option<String>,
}

impl LineChart {
    /// A chart of series without reference lines.
    pub fn new(words: Words, x: Axis, y: Axis, series: Vec<Series>) -> Self {
        Self {
            words,
            x,
            y,
            series,
            ..Self::default()
        }
    }

    /// The chart as SVG.
    ///
    /// Series are named at their right ends where that has room, in a key above the plot
    /// otherwise. A label that finds no free ground within the plot is left out.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let lanes = Lanes::new(&self.series, self.window_name.as_deref(), page.fonts.small);
        let marks = self.mark_labels(&page);
        let column = match marks {
            MarkLabels::InPlot => self.label_column(&page, lanes.height()),
            MarkLabels::InKey => None,
        };
        let names = if column.is_some() {
            Names::AtEnds
        } else {
            Names::InKey
        };
        let entries = self.entries(names, marks);
        let key = Key::new(&entries, page.body_width(), page.fonts);
        let least = key.height() + least_height(lanes.height());
        page.draw(page.body_height().max(least), |pen, body| {
            key.draw(pen, Px::new(body.left, body.top))?;
            let plan = Plan {
                page: &page,
                x: (&self.x, self.values_of_x()),
                y: (&self.y, self.values_of_y()),
                outer: Rect::new(body.left, body.top + key.height(), body.right, body.bottom),
                right: column.map_or(0.0, |width| width + LEADER_PX),
                floor: lanes.height(),
                grid: Grid::Lines,
                fit: Fit::Round,
            };
            let panel = Panel::new(pen, &plan)?;
            lanes.draw(pen, &panel)?;
            if !self.series.iter().any(has_values) {
                return panel.draw_emptiness(pen, page.fonts.body);
            }
            self.draw_plot(pen, &panel, &page, marks)?;
            if column.is_some() {
                draw_end_labels(pen, &panel, &self.series, &page)?;
            }
            Ok(())
        })
    }

    /// Width of the column of end labels; `None` where a key serves better.
    fn label_column(&self, page: &Page<'_>, floor: f64) -> Option<f64> {
        let named = self.series.iter().any(|series| !series.name.is_empty());
        if page.form == Form::Phone || !named {
            return None;
        }
        let widest = self
            .series
            .iter()
            .map(|series| text::width(&end_name(series), page.fonts.body))
            .fold(0.0, f64::max);
        let lines = f64::from(u32::try_from(self.series.len()).unwrap_or(u32::MAX));
        let height = lines * page.fonts.body * END_LABEL_EM;
        let free = page.body_height() - (least_height(floor) - least_height(0.0)) - 90.0;
        (widest <= LABEL_SHARE * page.body_width() && height <= free).then_some(widest)
    }

    fn entries(&self, names: Names, marks: MarkLabels) -> Vec<Entry> {
        let mut entries = Vec::new();
        for series in &self.series {
            if names == Names::InKey && !series.name.is_empty() {
                let name = end_name(series);
                entries.push(Entry {
                    row: if marks == MarkLabels::InKey {
                        Row::New
                    } else {
                        Row::Same
                    },
                    ..Entry::new(Sample::Series(series.look), name)
                });
            }
            let labelled = series.marks.iter().filter(|mark| !mark.label.is_empty());
            if marks == MarkLabels::InKey {
                entries.extend(labelled.map(|mark| {
                    Entry::new(Sample::Mark(mark.kind, series.look), mark.label.as_str())
                }));
            }
        }
        entries.extend(self.companion_name.iter().map(|name| Entry {
            row: Row::New,
            ..Entry::new(
                Sample::Line(Line::solid(Colour::INK, COMPANION_PX)),
                name.as_str(),
            )
        }));
        entries
    }

    /// More than a few labels would bury the lines of a narrow plot.
    fn mark_labels(&self, page: &Page<'_>) -> MarkLabels {
        let marks = self.series.iter().flat_map(|series| &series.marks);
        let labelled = marks.filter(|mark| !mark.label.is_empty()).count();
        let labelled = f64::from(u32::try_from(labelled).unwrap_or(u32::MAX));
        if labelled * WIDTH_PER_LABEL_PX > page.body_width() {
            MarkLabels::InKey
        } else {
            MarkLabels::InPlot
        }
    }

    fn values_of_x(&self) -> Vec<f64> {
        let of_series = self.series.iter().flat_map(|series| {
            let curves = series.points.iter().chain(&series.companion);
            let drawn = curves.filter_map(|(x, y)| y.map(|_| *x));
            let window = series.window.iter().flat_map(|(low, high)| [*low, *high]);
            let marks = series.marks.iter().map(|mark| mark.x);
            drawn.chain(window).chain(marks)
        });
        let rules = self.rules.iter().filter_map(|rule| match rule {
            Rule::Upright { x, .. } => Some(*x),
            Rule::Level { .. } => None,
        });
        of_series.chain(rules).collect()
    }

    fn values_of_y(&self) -> Vec<f64> {
        let of_series = self.series.iter().flat_map(|series| {
            let curves = series.points.iter().chain(&series.companion);
            let marks = series.marks.iter().map(|mark| mark.y);
            curves.filter_map(|(_, y)| *y).chain(marks)
        });
        let rules = self.rules.iter().filter_map(|rule| match rule {
            Rule::Level { y, .. } => Some(*y),
            Rule::Upright { .. } => None,
        });
        of_series.chain(rules).collect()
    }

    fn draw_plot(
        &self,
        pen: &Pen<'_>,
        panel: &Panel<'_>,
        page: &Page<'_>,
        marks: MarkLabels,
    ) -> Drawn {
        let ground = Rect::new(
            panel.plot.left,
            panel.plot.top,
            panel.plot.right,
            panel.base,
        );
        let mut room = Room::new(ground);
        for rule in &self.rules {
            let line = rule::rule_line(panel, rule);
            pen.line(&line, rule::RULE)?;
            room.avoid(sampled(&line));
        }
        for series in &self.series {
            let companion = Line {
                colour: series.look.line(),
                width_px: COMPANION_PX,
                dash: series.look.dash(),
            };
            for run in runs(panel, &series.companion) {
                pen.line(&run, companion)?;
            }
        }
        for series in &self.series {
            let runs = runs(panel, &series.points);
            for run in &runs {
                pen.line(run, series_line(series.look))?;
                room.avoid(sampled(run));
            }
            draw_spots(pen, panel, series, &runs)?;
        }
        let size = page.fonts.small;
        let mut labels = Labels::default();
        let marked = self
            .series
            .iter()
            .flat_map(|series| series.marks.iter().map(|mark| (series.look, mark)));
        let placed = placed_marks(panel, marked, &mut room);
        for rule in &self.rules {
            rule::place_rule_label(panel, rule, &mut room, &mut labels, size);
        }
        if marks == MarkLabels::InPlot {
            let widest = panel.plot.width() * MARK_LABEL_SHARE;
            for mark in &placed {
                mark.place_label(&mut room, &mut labels, size, widest);
            }
        }
        labels.draw(pen)?;
        placed.iter().try_for_each(|mark| mark.draw(pen))
    }
}
