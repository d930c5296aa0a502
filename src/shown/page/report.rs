//! A page for the bench: the same tables and sentences as on the terminal, with charts.

use super::assumed::{Assumed, assumed, warnings};
use super::drawn::Drawn;
use super::error::PageError;
use super::key_figure::Both;
use super::shell::Shell;
use crate::sheet::Reading;
use crate::shown::text::{Block, Figures, Report, Role, Row, Section};
use crate::units::System;
use askama::Template;

/// A picture with what heads it.
pub(super) struct Picture {
    pub(super) heading: &'static str,
    /// What is to be known before looking at it.
    pub(super) words: String,
    pub(super) drawn: Drawn,
    /// Whether it has a scale of its own, rather than filling the page's width.
    pub(super) is_drawing: bool,
}

/// The template's data.
#[derive(Template)]
#[template(path = "report.html", config = "src/shown/page/askama.toml")]
struct ReportPage {
    shell: Shell,
    kind: &'static str,
    subject: String,
    answers: Vec<PageSection>,
    pictures: Vec<Picture>,
    details: Vec<PageSection>,
    metal_cautions: &'static [&'static str],
    launch_caution: &'static str,
    assumed: Vec<Assumed>,
    warnings: Vec<Both>,
}

/// A section in both systems of units.
pub(super) struct PageSection {
    pub(super) heading: &'static str,
    pub(super) blocks: Vec<PageBlock>,
}

/// One thing told, in both systems of units.
pub(super) enum PageBlock {
    Said(Both),
    Stop(Both),
    Table(PageTable),
}

/// A table in both systems: rows in groups, each group with a heading or without.
pub(super) struct PageTable {
    pub(super) first: Both,
    pub(super) heads: Vec<Both>,
    pub(super) groups: Vec<Group>,
}

#[derive(Default)]
pub(super) struct Group {
    pub(super) heading: String,
    pub(super) rows: Vec<PageRow>,
}

pub(super) struct PageRow {
    pub(super) label: Both,
    /// Whether it is set under the row before.
    pub(super) under: bool,
    pub(super) cells: Vec<Both>,
}

/// A page of a report; `report` tells it in a system of units.
pub(super) fn report_page(
    reading: &Reading,
    kind: &'static str,
    report: impl Fn(System) -> Report,
    pictures: Vec<Picture>,
    system: System,
) -> Result<String, PageError> {
    let metric = report(System::Metric);
    let imperial = report(System::Imperial);
    let (answers, details) = sections(metric.sections, imperial.sections);
    let page = ReportPage {
        shell: Shell::new(&metric.title, "", system),
        kind,
        subject: metric.subject,
        answers,
        pictures,
        details,
        metal_cautions: metric.metal_cautions,
        launch_caution: metric.launch_caution,
        assumed: assumed(reading),
        warnings: warnings(reading),
    };
    Ok(page.render()?)
}

/// Answers and details; a section without a heading goes on with the one before it.
pub(super) fn sections(
    metric: Vec<Section>,
    imperial: Vec<Section>,
) -> (Vec<PageSection>, Vec<PageSection>) {
    let (mut answers, mut details): (Vec<PageSection>, Vec<PageSection>) = Default::default();
    for (metric, imperial) in metric.into_iter().zip(imperial) {
        let kept = match metric.role {
            Role::Answer => &mut answers,
            Role::Detail => &mut details,
        };
        let blocks = metric.blocks.into_iter().zip(imperial.blocks);
        let blocks = blocks.filter_map(|(metric, imperial)| block(metric, imperial));
        match kept.last_mut() {
            Some(before) if metric.heading.is_empty() || before.heading == metric.heading => {
                before.blocks.extend(blocks);
            }
            _ => kept.push(PageSection {
                heading: metric.heading,
                blocks: blocks.collect(),
            }),
        }
    }
    answers.retain(|section| !section.blocks.is_empty());
    details.retain(|section| !section.blocks.is_empty());
    (answers, details)
}

/// The same block in both systems; blocks of two kinds do not come of one result.
fn block(metric: Block, imperial: Block) -> Option<PageBlock> {
    match (metric, imperial) {
        (Block::Said(metric), Block::Said(imperial)) => {
            Some(PageBlock::Said(Both { metric, imperial }))
        }
        (Block::Stop(metric), Block::Stop(imperial)) => {
            Some(PageBlock::Stop(Both { metric, imperial }))
        }
        (Block::Table(metric), Block::Table(imperial)) => {
            let [metric, imperial] = [metric, imperial].map(Figures::without_picture_of_letters);
            Some(PageBlock::Table(table(metric, imperial)))
        }
        _ => None,
    }
}

fn table(metric: Figures, imperial: Figures) -> PageTable {
    let mut groups = vec![Group::default()];
    for pair in metric.rows.into_iter().zip(imperial.rows) {
        match pair {
            (Row::Heading(heading), _) => groups.push(Group {
                heading,
                rows: Vec::new(),
            }),
            (Row::Figures(label, figures), Row::Figures(imperial_label, imperial_figures)) => {
                let row = PageRow {
                    under: label.starts_with(' '),
                    label: Both {
                        metric: label.trim().to_owned(),
                        imperial: imperial_label.trim().to_owned(),
                    },
                    cells: both(figures, imperial_figures),
                };
                if let Some(group) = groups.last_mut() {
                    group.rows.push(row);
                }
            }
            (Row::Figures(..), Row::Heading(_)) => {}
        }
    }
    groups.retain(|group| !group.rows.is_empty());
    PageTable {
        first: Both {
            metric: metric.first,
            imperial: imperial.first,
        },
        heads: both(metric.heads, imperial.heads),
        groups,
    }
}

fn both(metric: Vec<String>, imperial: Vec<String>) -> Vec<Both> {
    metric
        .into_iter()
        .zip(imperial)
        .map(|(metric, imperial)| Both { metric, imperial })
        .collect()
}

impl PageTable {
    /// Columns, that of the labels included.
    pub(super) fn columns(&self) -> usize {
        self.heads.len() + 1
    }
}
