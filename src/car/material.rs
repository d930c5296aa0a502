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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, parse};

    /// Densities of handbooks, kg/m³: carbon steel 7830 to 7870 (ASM, from memory); grey iron from
    /// 7150 (from memory) to 7500 (a materials site's generic figure, seen), 7200 for ASTM A48
    /// grade 20 (seen) and 0.26 lb/in³ (from memory); wrought and cast aluminium 2680 (A356) to
    /// 2810 (7075), from memory.
    #[test]
    fn reference_densities_lie_among_the_handbooks() {
        for (metal, low, high) in [
            (NamedMetal::Steel, 7830.0, 7870.0),
            (NamedMetal::GreyIron, 7150.0, 7500.0),
            (NamedMetal::Aluminium, 2680.0, 2810.0),
        ] {
            let density = metal.density_kg_m3();
            assert!((low..=high).contains(&density), "{}", metal.name());
        }
        let iron = parse("0.26 lb/in³", Kind::Density).unwrap();
        // The inch figure has two digits; the two round values differ by under a thousandth.
        assert!((iron / NamedMetal::GreyIron.density_kg_m3() - 1.0).abs() < 1e-3);
    }

    /// ASTM A48 names grey iron by its least tensile strength in ksi: class 20, 30 and 40 are
    /// 138, 207 and 276 MPa (from memory; the last two are the strengths the burst table uses).
    /// Tolerance: the metric figures are rounded to a whole MPa.
    #[test]
    fn reference_strength_classes_of_grey_iron() {
        for (class, mpa) in [("20 ksi", 138.0), ("30 ksi", 207.0), ("40 ksi", 276.0)] {
            let strength = parse(class, Kind::Stress).unwrap();
            assert!((strength / 1e6 - mpa).abs() < 0.5, "{class}");
        }
    }

    /// A named metal has no strength: those of an unknown casting or plate would be a guess.
    #[test]
    fn law_a_named_metal_promises_no_strength() {
        for metal in NamedMetal::ALL {
            let material = metal.material().unwrap();
            assert!(material.yield_pa.is_none() && material.tensile_pa.is_none());
        }
    }
}
