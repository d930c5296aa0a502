//! Mass and inertia of rotating parts.
//!
//! A part's inertia about the crank axis comes from one [`Description`]:
//! given, from mass and radius of gyration, added up from its metal, or swung.

use super::checked::{NonNegative, Positive};
use super::material::Material;
use super::swing::SwingTest;
use std::f64::consts::PI;
use std::num::NonZeroU32;
use thiserror::Error;

/// Difference between scales and drawing above which the two is warned of.
/// Common practice, no source.
pub const WEIGHED_DOUBT_SHARE: f64 = 0.03;

/// Mass and inertia about the crank axis.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MassProperties {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Moment of inertia about the crank axis, kg·m².
    pub inertia_kg_m2: f64,
}

impl std::ops::Add for MassProperties {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            mass_kg: self.mass_kg + other.mass_kg,
            inertia_kg_m2: self.inertia_kg_m2 + other.inertia_kg_m2,
        }
    }
}

impl std::ops::Mul<f64> for MassProperties {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self {
            mass_kg: self.mass_kg * factor,
            inertia_kg_m2: self.inertia_kg_m2 * factor,
        }
    }
}

impl std::iter::Sum for MassProperties {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), std::ops::Add::add)
    }
}

/// An annular section, its thickness linear in radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    inner_radius_m: NonNegative,
    outer_radius_m: Positive,
    thickness_inner_m: NonNegative,
    thickness_outer_m: NonNegative,
}

impl Section {
    /// A section from `inner` to `outer` radius, m, with the thickness at each, m.
    ///
    /// # Errors
    /// When the outer radius is not beyond the inner, or there is no metal at all.
    pub fn new(
        inner_radius_m: NonNegative,
        outer_radius_m: Positive,
        thickness_inner_m: NonNegative,
        thickness_outer_m: NonNegative,
    ) -> Result<Self, PartError> {
        if outer_radius_m.get() <= inner_radius_m.get() {
            return Err(PartError::SectionInsideOut {
                inner_m: inner_radius_m.get(),
                outer_m: outer_radius_m.get(),
            });
        }
        if thickness_inner_m.get() + thickness_outer_m.get() <= 0.0 {
            return Err(PartError::SectionWithoutMetal);
        }
        Ok(Self {
            inner_radius_m,
            outer_radius_m,
            thickness_inner_m,
            thickness_outer_m,
        })
    }

    /// Inner radius, m.
    pub fn inner_radius_m(&self) -> f64 {
        self.inner_radius_m.get()
    }

    /// Outer radius, m.
    pub fn outer_radius_m(&self) -> f64 {
        self.outer_radius_m.get()
    }

    /// Thickness at the inner radius, m.
    pub fn thickness_inner_m(&self) -> f64 {
        self.thickness_inner_m.get()
    }

    /// Thickness at the outer radius, m.
    pub fn thickness_outer_m(&self) -> f64 {
        self.thickness_outer_m.get()
    }

    /// Thickness at a radius within the section, m.
    pub fn thickness_at_m(&self, radius_m: f64) -> f64 {
        let (a, b) = (self.inner_radius_m(), self.outer_radius_m());
        let (ta, tb) = (self.thickness_inner_m(), self.thickness_outer_m());
        ta + (tb - ta) * (radius_m - a) / (b - a)
    }

    /// Mass and inertia of the section, with the density in kg/m³:
    /// `m = 2πρ∫ t r dr` and `J = 2πρ∫ t r³ dr` from `a` to `b`, `t` linear.
    ///
    /// Written about the middle radius `c` with half-width `w`, so that a thin
    /// ring far from the axis loses no figures to cancellation.
    /// Source: Meriam & Kraige, *Dynamics*, table D/4, for the flat case (from memory).
    pub fn mass_properties(&self, density_kg_m3: f64) -> MassProperties {
        let (a, b) = (self.inner_radius_m(), self.outer_radius_m());
        let (c, w) = (f64::midpoint(a, b), (b - a) / 2.0);
        let mean_m = f64::midpoint(self.thickness_inner_m(), self.thickness_outer_m());
        let slope = (self.thickness_outer_m() - self.thickness_inner_m()) / (b - a);
        let w3 = w.powi(3);
        let first_moment = 2.0 * (mean_m * c * w + slope * w3 / 3.0);
        let third_moment =
            2.0 * (mean_m * (c.powi(3) * w + c * w3) + slope * (c * c * w3 + w.powi(5) / 5.0));
        MassProperties {
            mass_kg: 2.0 * PI * density_kg_m3 * first_moment,
            inertia_kg_m2: 2.0 * PI * density_kg_m3 * third_moment,
        }
    }
}

/// A ring of equal round holes, axes parallel to the crank's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleRing {
    /// How many holes.
    pub count: NonZeroU32,
    /// Hole diameter, m.
    pub diameter_m: Positive,
    /// Depth of metal that each hole takes out, m.
    pub depth_m: Positive,
    /// Radius of the pitch circle, m.
    pub pitch_radius_m: NonNegative,
}

impl HoleRing {
    /// Mass and inertia of the metal that the holes take out (positive numbers),
    /// with the density in kg/m³: `m = count ρ π d²/4 q`, `J = m (p² + d²/8)`
    /// (a cylinder about a parallel axis; Huygens–Steiner).
    pub fn taken_out(&self, density_kg_m3: f64) -> MassProperties {
        let d = self.diameter_m.get();
        let p = self.pitch_radius_m.get();
        let mass_kg =
            f64::from(self.count.get()) * density_kg_m3 * PI * d * d / 4.0 * self.depth_m.get();
        MassProperties {
            mass_kg,
            inertia_kg_m2: mass_kg * (p * p + d * d / 8.0),
        }
    }
}

/// Something fastened to a part: a ring gear, bolts, dowels.
#[derive(Debug, Clone, PartialEq)]
pub struct Extra {
    /// What it is, in the user's words.
    pub name: String,
    /// Its mass, kg: of the whole, or of each of `count` points.
    pub mass_kg: Positive,
    /// Where that mass sits.
    pub place: ExtraPlace,
}

/// Where the mass of an [`Extra`] sits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ExtraPlace {
    /// All of it at this radius of gyration, m.
    Gyration(Positive),
    /// `count` points on a pitch circle of this radius, m.
    Points {
        /// How many.
        count: NonZeroU32,
        /// Radius of the pitch circle, m.
        pitch_radius_m: NonNegative,
    },
}

impl Extra {
    /// Mass and inertia of the extra.
    pub fn mass_properties(&self) -> MassProperties {
        let (mass_kg, radius_m) = match self.place {
            ExtraPlace::Gyration(radius) => (self.mass_kg.get(), radius.get()),
            ExtraPlace::Points {
                count,
                pitch_radius_m,
            } => (
                f64::from(count.get()) * self.mass_kg.get(),
                pitch_radius_m.get(),
            ),
        };
        MassProperties {
            mass_kg,
            inertia_kg_m2: mass_kg * radius_m * radius_m,
        }
    }
}

/// A part added up from its metal.
#[derive(Debug, Clone, PartialEq)]
pub struct BuiltUp {
    material: Material,
    sections: Vec<Section>,
    holes: Vec<HoleRing>,
    extras: Vec<Extra>,
    weighed_kg: Option<Positive>,
    inertia_scale: f64,
}

impl BuiltUp {
    /// A part of one material from sections, less holes, plus extras; scaled to
    /// what the scales say if it was weighed.
    ///
    /// # Errors
    /// When there is no section, or the holes take out more than there is.
    pub fn new(
        material: Material,
        sections: Vec<Section>,
        holes: Vec<HoleRing>,
        extras: Vec<Extra>,
        weighed_kg: Option<Positive>,
    ) -> Result<Self, PartError> {
        if sections.is_empty() {
            return Err(PartError::NoSections);
        }
        let part = Self {
            material,
            sections,
            holes,
            extras,
            weighed_kg,
            inertia_scale: 1.0,
        };
        let metal = part.metal();
        if metal.mass_kg <= 0.0 || metal.inertia_kg_m2 <= 0.0 {
            return Err(PartError::MoreHoleThanMetal {
                mass_kg: metal.mass_kg,
            });
        }
        Ok(part)
    }

    fn metal(&self) -> MassProperties {
        let density = self.material.density_kg_m3.get();
        let solid: MassProperties = self
            .sections
            .iter()
            .map(|section| section.mass_properties(density))
            .sum();
        let out: MassProperties = self.holes.iter().map(|ring| ring.taken_out(density)).sum();
        solid + out * -1.0
    }

    /// Mass and inertia as the drawing gives them, before any weighing.
    pub fn computed(&self) -> MassProperties {
        self.metal()
            + self
                .extras
                .iter()
                .map(Extra::mass_properties)
                .sum::<MassProperties>()
    }

    /// What the scales say over what the drawing says; 1 if never weighed.
    pub fn weighing_factor(&self) -> f64 {
        self.weighed_kg
            .map_or(1.0, |weighed| weighed.get() / self.computed().mass_kg)
    }

    /// Mass and inertia, scaled by the weighing factor, the inertia by its own factor too.
    pub fn mass_properties(&self) -> MassProperties {
        self.scaled(self.computed())
    }

    /// What a piece of the drawing comes to in the whole part: its mass and inertia by the
    /// weighing factor, its inertia by the part's own factor too.
    pub fn scaled(&self, drawn: MassProperties) -> MassProperties {
        let weighed = drawn * self.weighing_factor();
        MassProperties {
            inertia_kg_m2: weighed.inertia_kg_m2 * self.inertia_scale,
            ..weighed
        }
    }

    /// The same part with its inertia times a factor: what is known of it beyond the drawing.
    #[must_use]
    pub fn with_inertia_scale(self, factor: Positive) -> Self {
        Self {
            inertia_scale: factor.get(),
            ..self
        }
    }

    /// The factor on the inertia that the drawing gives; 1 where nothing is known beyond it.
    pub fn inertia_scale(&self) -> f64 {
        self.inertia_scale
    }

    /// Material of the sections.
    pub fn material(&self) -> &Material {
        &self.material
    }

    /// The sections.
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// The hole rings.
    pub fn holes(&self) -> &[HoleRing] {
        &self.holes
    }

    /// What is fastened on.
    pub fn extras(&self) -> &[Extra] {
        &self.extras
    }

    /// What the scales said, kg.
    pub fn weighed_kg(&self) -> Option<Positive> {
        self.weighed_kg
    }
}

/// How a part's inertia is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Description {
    /// The inertia is given, kg·m²; the mass is not known.
    Given(Positive),
    /// Mass, kg, at a radius of gyration, m: `J = m k²`.
    Gyration {
        /// Mass, kg.
        mass_kg: Positive,
        /// Radius of gyration, m.
        radius_m: Positive,
    },
    /// Added up from its metal.
    BuiltUp(BuiltUp),
    /// Timed on a pendulum.
    Swing(SwingTest),
}

/// One rotating part.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The part's name, in the user's words.
    pub name: String,
    /// How its inertia is known.
    pub description: Description,
}

impl Part {
    /// Mass, kg, where the description tells it.
    pub fn mass_kg(&self) -> Option<f64> {
        match &self.description {
            Description::Given(_) => None,
            Description::Gyration { mass_kg, .. } => Some(mass_kg.get()),
            Description::BuiltUp(part) => Some(part.mass_properties().mass_kg),
            Description::Swing(test) => Some(test.mass_kg.get()),
        }
    }

    /// Moment of inertia about the crank axis, kg·m².
    pub fn inertia_kg_m2(&self) -> f64 {
        match &self.description {
            Description::Given(inertia) => inertia.get(),
            Description::Gyration { mass_kg, radius_m } => mass_kg.get() * radius_m.get().powi(2),
            Description::BuiltUp(part) => part.mass_properties().inertia_kg_m2,
            Description::Swing(test) => test.inertia_kg_m2(),
        }
    }

    /// Radius of gyration, m, where mass is known.
    pub fn gyration_m(&self) -> Option<f64> {
        self.mass_kg()
            .map(|mass| (self.inertia_kg_m2() / mass).sqrt())
    }

    /// The metal of the part, if it is described by it.
    pub fn built_up(&self) -> Option<&BuiltUp> {
        match &self.description {
            Description::BuiltUp(part) => Some(part),
            _ => None,
        }
    }
}

/// What can be wrong with a part's description.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PartError {
    /// The outer edge is not outside the inner edge.
    #[error("the section's outer edge is not outside its inner edge")]
    SectionInsideOut {
        /// Inner radius read, m.
        inner_m: f64,
        /// Outer radius read, m.
        outer_m: f64,
    },
    /// Both thicknesses are zero.
    #[error("the section has no thickness at either edge")]
    SectionWithoutMetal,
    /// No sections at all.
    #[error("there is no section: a part built up from metal needs at least one")]
    NoSections,
    /// The holes take out more than the sections hold.
    #[error("the holes take out more metal than the sections hold")]
    MoreHoleThanMetal {
        /// What would be left, kg (not positive).
        mass_kg: f64,
    },
}

#[cfg(test)]
#[path = "inertia_tests.rs"]
mod tests;
