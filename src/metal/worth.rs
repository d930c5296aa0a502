//! Where a gram is worth most: inertia and mass of a part over its radius.

use crate::car::inertia::{BuiltUp, MassProperties, Section};
use crate::metal::cut::{ShopRules, inertia_of_a_gram_kg_m2};
use crate::metal::profile::{clipped, section_between};
use std::num::NonZeroU32;

/// A gram that carries less than this share of what the part's average gram carries is nearly
/// free weight: taking it off changes the car's weight and hardly the engine's inertia. Our own
/// choice: at half the radius of gyration.
pub const NEARLY_FREE_SHARE: f64 = 0.25;

/// What a gram of a band is worth against the part's average gram.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GramWorth {
    /// Below [`NEARLY_FREE_SHARE`] of the average.
    NearlyFree,
    /// Up to the average.
    BelowAverage,
    /// Above it.
    AboveAverage,
}

impl GramWorth {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::NearlyFree => "nearly_free",
            Self::BelowAverage => "below_average",
            Self::AboveAverage => "above_average",
        }
    }
}

/// A ring of the part between two radii: holes and extras left aside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Inner radius, m.
    pub inner_radius_m: f64,
    /// Outer radius, m.
    pub outer_radius_m: f64,
    /// Its metal.
    pub metal: MassProperties,
    /// Metal above the least thickness the shop's rules leave. Bolt circles are not looked at.
    pub spare: MassProperties,
    /// Inertia of one gram of it, kg·m²/g.
    pub inertia_per_gram_kg_m2: f64,
    /// Its share of the mass of all sections.
    pub share_of_mass: f64,
    /// Its share of the inertia of all sections.
    pub share_of_inertia: f64,
    /// What its gram is worth.
    pub worth: GramWorth,
}

/// A part's metal over its radius.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// Rings of equal width from bore to rim; those without metal are left out.
    pub rings: Vec<Ring>,
    /// Radius of gyration of the whole part, m: where its average gram sits.
    pub gyration_m: f64,
    /// Inertia lost with one kilogram off the outermost ring, kg·m².
    pub kilogram_at_rim_kg_m2: f64,
    /// Inertia lost with one kilogram off the innermost ring, kg·m².
    pub kilogram_at_hub_kg_m2: f64,
}

impl Worth {
    /// The rings, the one whose gram is worth most first.
    pub fn ranked(&self) -> Vec<Ring> {
        let mut rings = self.rings.clone();
        rings.sort_by(|one, other| {
            other
                .inertia_per_gram_kg_m2
                .total_cmp(&one.inertia_per_gram_kg_m2)
        });
        rings
    }
}

/// Cuts a part into rings of equal width and says what each is worth; `None` where it has no
/// metal to cut up.
pub fn worth(part: &BuiltUp, rings: NonZeroU32, rules: &ShopRules) -> Option<Worth> {
    let sections = part.sections();
    let bore = edge(sections.iter().map(Section::inner_radius_m), f64::min)?;
    let rim = edge(sections.iter().map(Section::outer_radius_m), f64::max)?;
    let whole = part.mass_properties();
    let gyration_m = (whole.inertia_kg_m2 / whole.mass_kg).sqrt();
    // What the scales said of the whole is said of each ring alike.
    let density = part.material().density_kg_m3.get() * part.weighing_factor();
    let all: MassProperties = sections.iter().map(|s| s.mass_properties(density)).sum();
    let width = (rim - bore) / f64::from(rings.get());
    let rings: Vec<Ring> = (0..rings.get())
        .filter_map(|index| {
            let inner = bore + width * f64::from(index);
            let outer = if index + 1 == rings.get() {
                rim
            } else {
                bore + width * f64::from(index + 1)
            };
            let pieces: Vec<Section> = sections
                .iter()
                .filter_map(|section| clipped(section, inner, outer))
                .collect();
            let metal: MassProperties = pieces.iter().map(|p| p.mass_properties(density)).sum();
            if metal.mass_kg <= 0.0 {
                return None;
            }
            let spare = pieces
                .iter()
                .filter_map(|piece| above(piece, rules))
                .map(|piece| piece.mass_properties(density))
                .sum();
            let gyration = (metal.inertia_kg_m2 / metal.mass_kg).sqrt();
            Some(Ring {
                inner_radius_m: inner,
                outer_radius_m: outer,
                metal,
                spare,
                inertia_per_gram_kg_m2: inertia_of_a_gram_kg_m2(gyration),
                share_of_mass: metal.mass_kg / all.mass_kg,
                share_of_inertia: metal.inertia_kg_m2 / all.inertia_kg_m2,
                worth: judged((gyration / gyration_m).powi(2)),
            })
        })
        .collect();
    let of_a_kilogram = |ring: &Ring| ring.metal.inertia_kg_m2 / ring.metal.mass_kg;
    Some(Worth {
        kilogram_at_rim_kg_m2: rings.last().map(of_a_kilogram)?,
        kilogram_at_hub_kg_m2: rings.first().map(of_a_kilogram)?,
        gyration_m,
        rings,
    })
}

fn edge(radii: impl Iterator<Item = f64>, pick: fn(f64, f64) -> f64) -> Option<f64> {
    radii.reduce(pick)
}

fn judged(share_of_average: f64) -> GramWorth {
    if share_of_average < NEARLY_FREE_SHARE {
        GramWorth::NearlyFree
    } else if share_of_average <= 1.0 {
        GramWorth::BelowAverage
    } else {
        GramWorth::AboveAverage
    }
}

/// What of a section lies above the least thickness. A section that meets it halfway is cut
/// where it does.
fn above(section: &Section, rules: &ShopRules) -> Option<Section> {
    let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
    let least = rules.least_thickness_m(a, b);
    let (over_a, over_b) = (
        section.thickness_inner_m() - least,
        section.thickness_outer_m() - least,
    );
    if over_a <= 0.0 && over_b <= 0.0 {
        return None;
    }
    let meets = a + (b - a) * over_a / (over_a - over_b);
    match (over_a > 0.0, over_b > 0.0) {
        (true, true) => section_between(a, b, over_a, over_b),
        (true, false) => section_between(a, meets, over_a, 0.0),
        (false, _) => section_between(meets, b, 0.0, over_b),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::checked::{NonNegative, Positive};
    use crate::car::material::NamedMetal;
    use crate::metal::cut::Band;
    use approx::assert_relative_eq;

    fn wheel(weighed_kg: Option<f64>) -> BuiltUp {
        let sections = [(0.018, 0.055, 0.014, 0.014), (0.055, 0.130, 0.004, 0.020)]
            .map(|(a, b, ta, tb)| section_between(a, b, ta, tb).unwrap());
        BuiltUp::new(
            NamedMetal::Steel.material().unwrap(),
            sections.to_vec(),
            vec![],
            vec![],
            weighed_kg.and_then(Positive::new),
        )
        .unwrap()
    }

    fn rules(clutch_face: Option<Band>) -> ShopRules {
        ShopRules::usual(clutch_face).unwrap()
    }

    fn ten(part: &BuiltUp) -> Worth {
        worth(part, NonZeroU32::new(10).unwrap(), &rules(None)).unwrap()
    }

    #[test]
    fn law_rings_add_up_to_the_whole() {
        for part in [wheel(None), wheel(Some(5.0))] {
            let rings = ten(&part).rings;
            let sum: MassProperties = rings.iter().map(|ring| ring.metal).sum();
            let whole = part.mass_properties();
            assert_relative_eq!(sum.mass_kg, whole.mass_kg, max_relative = 1e-12);
            assert_relative_eq!(sum.inertia_kg_m2, whole.inertia_kg_m2, max_relative = 1e-12);
            let share: f64 = rings.iter().map(|ring| ring.share_of_inertia).sum();
            assert_relative_eq!(share, 1.0, max_relative = 1e-12);
        }
    }

    #[test]
    fn law_a_gram_is_worth_more_the_further_out_it_is() {
        let worth = ten(&wheel(None));
        let mut ranked = worth.ranked();
        ranked.reverse();
        assert_eq!(ranked, worth.rings);
        assert!(worth.kilogram_at_rim_kg_m2 > 10.0 * worth.kilogram_at_hub_kg_m2);
        assert_eq!(worth.rings[0].worth, GramWorth::NearlyFree);
        assert_eq!(worth.rings[9].worth, GramWorth::AboveAverage);
    }

    /// A kilogram off the rim of a 260 mm wheel is worth at most 0.13² = 0.0169 kg·m².
    #[test]
    fn law_a_kilogram_at_the_rim_is_bounded_by_the_rim() {
        let worth = ten(&wheel(None));
        assert!(worth.kilogram_at_rim_kg_m2 < 0.0169);
        assert!(worth.kilogram_at_rim_kg_m2 > 0.0169 * 0.9);
    }

    /// The web grows from 4 to 20 mm; at 6 mm least, nothing can be spared where it is thinner,
    /// and what can is the wedge above: 14 mm at the rim, none at 64.375 mm.
    #[test]
    fn law_spare_metal_is_what_lies_above_the_least_thickness() {
        let spare: MassProperties = ten(&wheel(None)).rings.iter().map(|r| r.spare).sum();
        let hub = section_between(0.018, 0.055, 0.008, 0.008).unwrap();
        let wedge = section_between(0.064_375, 0.130, 0.0, 0.014).unwrap();
        let expected = hub.mass_properties(7850.0) + wedge.mass_properties(7850.0);
        assert_relative_eq!(spare.mass_kg, expected.mass_kg, max_relative = 1e-12);
    }

    #[test]
    fn law_less_can_be_spared_under_the_clutch_face() {
        let face = Band::new(
            NonNegative::new(0.07).unwrap(),
            Positive::new(0.11).unwrap(),
        );
        let part = wheel(None);
        let kg = |face| {
            let worth = worth(&part, NonZeroU32::new(10).unwrap(), &rules(face)).unwrap();
            worth.rings.iter().map(|r| r.spare.mass_kg).sum::<f64>()
        };
        assert!(kg(face) < kg(None));
    }
}
