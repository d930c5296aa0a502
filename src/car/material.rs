//! Materials of rotating parts: density for mass, strength for the disc check.

use super::checked::Positive;

/// Whether a metal gives before it breaks. It decides how the disc check reads
/// a stress: see the disc check's own page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Failure {
    /// Yields first: mean tangential stress against tensile strength.
    Ductile,
    /// Breaks without yielding: elastic peak against tensile strength.
    Brittle,
}

/// A metal. Strengths are `None` where nobody gave them: handbook strengths of
/// an unknown casting or plate would be a guess.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name, as shown.
    pub name: String,
    /// Density, kg/m³.
    pub density_kg_m3: Positive,
    /// Yield strength, Pa.
    pub yield_pa: Option<Positive>,
    /// Tensile strength, Pa.
    pub tensile_pa: Option<Positive>,
    /// Poisson's ratio, 0 to 0.5.
    pub poisson: Option<f64>,
    /// Young's modulus, Pa.
    pub modulus_pa: Option<Positive>,
    /// How it fails.
    pub failure: Failure,
}

/// The metals that a sheet may call by name, with the handbook's round density.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NamedMetal {
    /// Carbon or low-alloy steel.
    Steel,
    /// Grey cast iron.
    GreyIron,
    /// Aluminium alloy.
    Aluminium,
}

impl NamedMetal {
    /// Every named metal.
    pub const ALL: [Self; 3] = [Self::Steel, Self::GreyIron, Self::Aluminium];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::GreyIron => "grey iron",
            Self::Aluminium => "aluminium",
        }
    }

    /// Density, kg/m³: handbook round values (from memory); grey iron spreads
    /// by about 4 % between grades.
    pub const fn density_kg_m3(self) -> f64 {
        match self {
            Self::Steel => 7850.0,
            Self::GreyIron => 7200.0,
            Self::Aluminium => 2700.0,
        }
    }

    /// The metal with its density and nothing that depends on grade.
    pub fn material(self) -> Option<Material> {
        Some(Material {
            name: self.name().to_owned(),
            density_kg_m3: Positive::new(self.density_kg_m3())?,
            yield_pa: None,
            tensile_pa: None,
            poisson: None,
            modulus_pa: None,
            failure: match self {
                Self::GreyIron => Failure::Brittle,
                Self::Steel | Self::Aluminium => Failure::Ductile,
            },
        })
    }
}
