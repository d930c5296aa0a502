//! Why a disc check is refused: what is not told is not guessed.

use crate::car::inertia::BuiltUp;
use crate::car::material::{Failure, Material};
use crate::metal::profile::{Overlap, Profile};
use std::ops::RangeInclusive;
use thiserror::Error;

/// A section's edge thinner than this, m, counts as no metal: no lathe leaves it.
pub const LEAST_THICKNESS_M: f64 = 1e-6;

/// Densities taken for a metal's, kg/m³: magnesium alloys are about 1,740, osmium 22,590
/// (handbook, from memory). Outside, a unit has slipped.
pub const DENSITY_RANGE_KG_M3: RangeInclusive<f64> = 1500.0..=23_000.0;

/// Strengths taken for a metal's, Pa: soft lead yields near 10 MPa, the hardest drawn wire
/// breaks near 4 GPa (handbook, from memory). Outside, a unit has slipped.
pub const STRENGTH_RANGE_PA: RangeInclusive<f64> = 5e6..=5e9;

/// A property that the check needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    /// Density.
    Density,
    /// Poisson's ratio.
    Poisson,
    /// Yield strength.
    Yield,
    /// Tensile strength.
    Tensile,
}

impl Property {
    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Density => "density",
            Self::Poisson => "poisson",
            Self::Yield => "yield",
            Self::Tensile => "tensile",
        }
    }
}

/// Why no disc check was made. Radii in m, properties in SI.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum Refusal {
    /// The part is not described by its sections.
    #[error("the wheel is not described by its sections, so there is no shape to check")]
    NoShape,
    /// A strength or Poisson's ratio is not given.
    #[error("the material has no {}: it depends on the grade, so it is not guessed", .0.name())]
    Missing(Property),
    /// A property that no metal has.
    #[error("no metal has a {} of {value}", property.name())]
    OutOfRange {
        /// Which property.
        property: Property,
        /// What was read, SI.
        value: f64,
    },
    /// Yield strength above tensile strength.
    #[error("the yield strength is above the tensile strength")]
    YieldAboveTensile {
        /// Yield strength read, Pa.
        yield_pa: f64,
        /// Tensile strength read, Pa.
        tensile_pa: f64,
    },
    /// Two sections lie over one another.
    #[error("{0}")]
    Overlap(#[from] Overlap),
    /// There is no metal between two sections.
    #[error("there is no metal between two sections, so nothing holds the outer one")]
    Gap {
        /// Where the gap begins, m.
        from_m: f64,
        /// Where it ends, m.
        to_m: f64,
    },
    /// A taper runs out to nothing.
    #[error("the metal tapers to nothing")]
    NoThickness {
        /// Where, m.
        radius_m: f64,
    },
    /// A ring of holes is where no metal is.
    #[error("a ring of holes lies where there is no metal")]
    HolesOutsideMetal {
        /// Radius of its pitch circle, m.
        pitch_radius_m: f64,
    },
    /// A plane through one hole of each ring finds no metal left.
    #[error("the holes leave no metal in a plane through them")]
    HolesLeaveNothing,
    /// The numbers are so extreme that no finite stress comes out.
    #[error("the numbers given are too extreme for an answer")]
    NoFiniteAnswer,
}

impl Refusal {
    /// Short fixed name for programs.
    pub const fn id(&self) -> &'static str {
        match self {
            Self::NoShape => "no_shape",
            Self::Missing(_) => "strength_missing",
            Self::OutOfRange { .. } => "strength_out_of_range",
            Self::YieldAboveTensile { .. } => "yield_above_tensile",
            Self::Overlap(_) => "sections_overlap",
            Self::Gap { .. } => "gap_between_sections",
            Self::NoThickness { .. } => "no_thickness",
            Self::HolesOutsideMetal { .. } => "holes_outside_metal",
            Self::HolesLeaveNothing => "holes_leave_nothing",
            Self::NoFiniteAnswer => "no_finite_answer",
        }
    }
}

/// The strengths a check needs, SI, in range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strengths {
    pub(super) density_kg_m3: f64,
    pub(super) poisson: f64,
    /// `None` for a brittle metal, which breaks before it yields.
    pub(super) yield_pa: Option<f64>,
    pub(super) tensile_pa: f64,
}

impl Strengths {
    /// The properties of a material that the check stands on.
    pub(super) fn of(material: &Material) -> Result<Self, Refusal> {
        let density = within(
            Property::Density,
            material.density_kg_m3.get(),
            &DENSITY_RANGE_KG_M3,
        )?;
        let poisson = material
            .poisson
            .ok_or(Refusal::Missing(Property::Poisson))?;
        let poisson = poisson_in_range(poisson)?;
        let tensile = material
            .tensile_pa
            .ok_or(Refusal::Missing(Property::Tensile))?;
        let tensile = within(Property::Tensile, tensile.get(), &STRENGTH_RANGE_PA)?;
        let yielding = match material.failure {
            Failure::Brittle => None,
            Failure::Ductile => {
                let strength = material.yield_pa.ok_or(Refusal::Missing(Property::Yield))?;
                Some(within(Property::Yield, strength.get(), &STRENGTH_RANGE_PA)?)
            }
        };
        match yielding {
            Some(yield_pa) if yield_pa > tensile => Err(Refusal::YieldAboveTensile {
                yield_pa,
                tensile_pa: tensile,
            }),
            yield_pa => Ok(Self {
                density_kg_m3: density,
                poisson,
                yield_pa,
                tensile_pa: tensile,
            }),
        }
    }
}

/// Every property that a material lacks for a check, in the order a sheet names them.
pub fn missing_properties(material: &Material) -> Vec<Property> {
    let ductile = material.failure == Failure::Ductile;
    [
        (Property::Yield, ductile && material.yield_pa.is_none()),
        (Property::Tensile, material.tensile_pa.is_none()),
        (Property::Poisson, material.poisson.is_none()),
    ]
    .into_iter()
    .filter_map(|(property, lacks)| lacks.then_some(property))
    .collect()
}

fn within(property: Property, value: f64, range: &RangeInclusive<f64>) -> Result<f64, Refusal> {
    if range.contains(&value) {
        Ok(value)
    } else {
        Err(Refusal::OutOfRange { property, value })
    }
}

/// Poisson's ratio strictly between 0 and ½: metals lie between 0.2 and 0.45, and at ½ the
/// metal would not change volume at all.
fn poisson_in_range(poisson: f64) -> Result<f64, Refusal> {
    if poisson > 0.0 && poisson < 0.5 {
        Ok(poisson)
    } else {
        Err(Refusal::OutOfRange {
            property: Property::Poisson,
            value: poisson,
        })
    }
}

/// Refuses a shape or ratio for which the equations have no answer.
pub(super) fn refuse_unsolvable(profile: &Profile, poisson: f64) -> Result<(), Refusal> {
    poisson_in_range(poisson)?;
    if let Some(gap) = profile.gap() {
        return Err(Refusal::Gap {
            from_m: gap.from_m,
            to_m: gap.to_m,
        });
    }
    match profile.thinnest_within(0.0, f64::INFINITY) {
        Some(place) if place.thickness_m >= LEAST_THICKNESS_M => Ok(()),
        Some(place) => Err(Refusal::NoThickness {
            radius_m: place.radius_m,
        }),
        None => Err(Refusal::NoShape),
    }
}

/// Refuses rings of holes that are not in the metal.
pub(super) fn refuse_holes_outside(part: &BuiltUp, profile: &Profile) -> Result<(), Refusal> {
    let outside = part
        .holes()
        .iter()
        .map(|ring| ring.pitch_radius_m.get())
        .find(|pitch| *pitch < profile.bore_radius_m() || *pitch > profile.rim_radius_m());
    outside.map_or(Ok(()), |pitch_radius_m| {
        Err(Refusal::HolesOutsideMetal { pitch_radius_m })
    })
}
