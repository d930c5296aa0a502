//! The sections of a part in order of radius, as a disc check and a lathe need them.

use crate::car::inertia::Section;
use thiserror::Error;

/// Two edges nearer than this are one edge, m: above the round-off of unit conversions (an
/// inch and a millimetre figure for the same edge), below anything a drawing can mean.
pub const TOUCHING_M: f64 = 1e-7;

/// Which side of a radius: it matters at a step, where thickness jumps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Just inside, towards the axis.
    Inside,
    /// Just outside, towards the rim.
    Outside,
}

/// Sections sorted by radius, none over another. Gaps between them are allowed here; who
/// cannot use them asks [`Profile::gap`].
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    sections: Vec<Section>,
}

/// Two sections lie over one another in radius, so the thickness there is not told.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("two sections overlap in radius, so how thick the part is there cannot be told")]
pub struct Overlap {
    /// Where the overlap begins, radius in m.
    pub from_m: f64,
    /// Where it ends, radius in m.
    pub to_m: f64,
}

/// A stretch of radius without metal between two sections.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Where it begins, radius in m.
    pub from_m: f64,
    /// Where it ends, radius in m.
    pub to_m: f64,
}

impl Profile {
    /// The sections in order of radius.
    ///
    /// # Errors
    /// When two of them overlap in radius by more than [`TOUCHING_M`].
    pub fn new(sections: &[Section]) -> Result<Self, Overlap> {
        let mut sections = sections.to_vec();
        sections.sort_by(|one, other| one.inner_radius_m().total_cmp(&other.inner_radius_m()));
        let overlap = pairs(&sections)
            .find(|(one, next)| next.inner_radius_m() < one.outer_radius_m() - TOUCHING_M);
        match overlap {
            Some((one, next)) => Err(Overlap {
                from_m: next.inner_radius_m(),
                to_m: one.outer_radius_m().min(next.outer_radius_m()),
            }),
            None => Ok(Self { sections }),
        }
    }

    /// The sections, from the bore outward.
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// Radius of the bore, m; zero for a part solid to the axis.
    pub fn bore_radius_m(&self) -> f64 {
        self.sections.first().map_or(0.0, Section::inner_radius_m)
    }

    /// Radius of the rim of the metal, m.
    pub fn rim_radius_m(&self) -> f64 {
        self.sections.last().map_or(0.0, Section::outer_radius_m)
    }

    /// The innermost stretch of radius without metal between bore and rim.
    pub fn gap(&self) -> Option<Gap> {
        self.gap_within(self.bore_radius_m(), self.rim_radius_m())
    }

    /// The innermost stretch of radius without metal between two radii, m, which may lie
    /// outside the part.
    pub fn gap_within(&self, from_m: f64, to_m: f64) -> Option<Gap> {
        let mut reached = from_m;
        for section in &self.sections {
            if section.outer_radius_m() <= reached {
                continue;
            }
            if section.inner_radius_m() > reached + TOUCHING_M {
                break;
            }
            reached = section.outer_radius_m();
        }
        (reached < to_m - TOUCHING_M).then(|| Gap {
            from_m: reached,
            to_m: self
                .sections
                .iter()
                .map(Section::inner_radius_m)
                .find(|inner| *inner > reached)
                .map_or(to_m, |inner| inner.min(to_m)),
        })
    }

    /// The section that holds a radius, m, seen from one side of it.
    pub fn section_at(&self, radius_m: f64, side: Side) -> Option<&Section> {
        self.sections.iter().find(|section| {
            let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
            match side {
                Side::Inside => a < radius_m && radius_m <= b,
                Side::Outside => a <= radius_m && radius_m < b,
            }
        })
    }

    /// Thickness at a radius, m, seen from one side of it; `None` where there is no metal.
    pub fn thickness_at_m(&self, radius_m: f64, side: Side) -> Option<f64> {
        self.section_at(radius_m, side)
            .map(|section| section.thickness_at_m(radius_m))
    }

    /// The least thickness between two radii, m, and the radius it is found at. Thickness is
    /// linear within a section, so only ends of sections and of the range can hold it.
    pub fn thinnest_within(&self, from_m: f64, to_m: f64) -> Option<Thinnest> {
        self.sections
            .iter()
            .filter_map(|section| clipped(section, from_m, to_m))
            .flat_map(|piece| {
                [
                    (piece.inner_radius_m(), piece.thickness_inner_m()),
                    (piece.outer_radius_m(), piece.thickness_outer_m()),
                ]
            })
            .map(|(radius_m, thickness_m)| Thinnest {
                radius_m,
                thickness_m,
            })
            .min_by(|one, other| one.thickness_m.total_cmp(&other.thickness_m))
    }
}

/// The thinnest place of a stretch of radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinnest {
    /// Where, radius in m.
    pub radius_m: f64,
    /// How thick there, m.
    pub thickness_m: f64,
}

/// Neighbours, each with the next.
fn pairs(sections: &[Section]) -> impl Iterator<Item = (&Section, &Section)> {
    sections.iter().zip(sections.iter().skip(1))
}

/// The part of a section between two radii, m; `None` where less than [`TOUCHING_M`] of it
/// lies between them or nothing of it has any thickness.
pub fn clipped(section: &Section, from_m: f64, to_m: f64) -> Option<Section> {
    let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
    let inner = if from_m > a + TOUCHING_M { from_m } else { a };
    let outer = if to_m < b - TOUCHING_M { to_m } else { b };
    if outer - inner < TOUCHING_M.min(b - a) {
        return None;
    }
    section_between(
        inner,
        outer,
        section.thickness_at_m(inner),
        section.thickness_at_m(outer),
    )
}

/// A section from plain numbers, m; `None` where they make none.
pub(super) fn section_between(
    inner_m: f64,
    outer_m: f64,
    thickness_inner_m: f64,
    thickness_outer_m: f64,
) -> Option<Section> {
    use crate::car::checked::{NonNegative, Positive};
    Section::new(
        NonNegative::new(inner_m)?,
        Positive::new(outer_m)?,
        NonNegative::new(thickness_inner_m)?,
        NonNegative::new(thickness_outer_m)?,
    )
    .ok()
}

/// `∫ t dr` of a section, m²: the area a half-plane through the axis cuts.
pub(super) fn half_plane_area_m2(section: &Section) -> f64 {
    let width = section.outer_radius_m() - section.inner_radius_m();
    width * f64::midpoint(section.thickness_inner_m(), section.thickness_outer_m())
}

/// `∫ t r² dr` of a section, m⁴, `t` linear in `r`; written about the middle radius, so
/// that a thin ring far out loses no figures.
pub(super) fn second_moment_m4(section: &Section) -> f64 {
    let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
    let (c, w) = (f64::midpoint(a, b), (b - a) / 2.0);
    let mean = f64::midpoint(section.thickness_inner_m(), section.thickness_outer_m());
    let slope = (section.thickness_outer_m() - section.thickness_inner_m()) / (b - a);
    2.0 * (mean * (c * c * w + w.powi(3) / 3.0) + slope * 2.0 * c * w.powi(3) / 3.0)
}
