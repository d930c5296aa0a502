//! What is drawn: a flywheel's half section, and what is cut from it.

use crate::car::inertia::BuiltUp;
use crate::metal::cut::CutStep;
use crate::shown::text::pass_words;
use crate::study::cutting::Cutting;
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};

/// A pass to be drawn, with its words.
#[derive(Debug, Clone)]
pub struct DrawnCut<'a> {
    /// The pass, made.
    pub step: &'a CutStep,
    /// What it is, in one line.
    pub words: String,
}

/// A flywheel's half section, and what is cut from it.
#[derive(Debug, Clone)]
pub struct HalfSection<'a> {
    /// The sheet's title.
    pub title: &'a str,
    /// The wheel's name.
    pub name: &'a str,
    /// Its metal as it is.
    pub part: &'a BuiltUp,
    /// The passes, in order; none for the wheel as it is.
    pub cuts: Vec<DrawnCut<'a>>,
    /// The disc check as it is.
    pub disc: &'a DiscStanding,
    /// The disc check of what is left.
    pub disc_after: Option<&'a DiscStanding>,
}

impl<'a> HalfSection<'a> {
    /// A wheel on the lathe with the passes made on it.
    pub fn of(title: &'a str, cutting: &'a Cutting, system: System) -> Self {
        let cuts = cutting.stages.iter().map(|stage| DrawnCut {
            step: &stage.step,
            words: pass_words(&stage.step.pass, system),
        });
        Self {
            title,
            name: cutting.wheel.name(),
            part: cutting.part,
            cuts: cuts.collect(),
            disc: &cutting.disc_before,
            disc_after: cutting.stages.last().map(|stage| &stage.disc),
        }
    }
}

impl HalfSection<'_> {
    /// The metal that is left in the end.
    pub(super) fn left(&self) -> &BuiltUp {
        self.cuts.last().map_or(self.part, |cut| &cut.step.part)
    }

    /// The wheel in words.
    pub(super) fn described(&self, system: System) -> String {
        let whole = self.part.mass_properties();
        let figures = |mass_kg: f64, inertia: f64| {
            format!(
                "{}, {}",
                system.show(mass_kg, Kind::Mass),
                system.show(inertia, Kind::Inertia)
            )
        };
        let before = figures(whole.mass_kg, whole.inertia_kg_m2);
        let metal = &self.part.material().name;
        match self.cuts.last() {
            None => format!("{metal}; {before}."),
            Some(cut) => format!(
                "{metal}; as it is {before}; as cut {}.",
                figures(cut.step.after.mass_kg, cut.step.after.inertia_kg_m2)
            ),
        }
    }
}
