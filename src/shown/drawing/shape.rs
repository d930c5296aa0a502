//! The half section as areas: the metal that stays, and what each pass takes.

use crate::car::inertia::{BuiltUp, HoleRing, Section};
use crate::car::machining::{Face, HoleDepth, Pass};
use crate::metal::cut::CutStep;
use crate::metal::profile::{Profile, Side, TOUCHING_M};

/// A slice between two radii, its two faces straight: positions along the axis, m, growing
/// towards the clutch, the wheel's clutch side at zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Slice {
    pub(super) inner_m: f64,
    pub(super) outer_m: f64,
    /// Engine side at the inner and at the outer radius.
    pub(super) back_m: (f64, f64),
    /// Clutch side at the inner and at the outer radius.
    pub(super) front_m: (f64, f64),
}

impl Slice {
    /// Corners as (position along the axis, radius), round the slice.
    pub(super) const fn corners(&self) -> [(f64, f64); 4] {
        [
            (self.back_m.0, self.inner_m),
            (self.back_m.1, self.outer_m),
            (self.front_m.1, self.outer_m),
            (self.front_m.0, self.inner_m),
        ]
    }
}

/// What one pass takes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Taken {
    pub(super) slices: Vec<Slice>,
    /// Holes it drills.
    pub(super) holes: Option<HoleRing>,
}

/// The whole half section.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shape {
    pub(super) stays: Vec<Slice>,
    pub(super) taken: Vec<Taken>,
    /// Radius of the rim as it is, m.
    pub(super) rim_m: f64,
    /// Greatest thickness as it is, m.
    pub(super) thickest_m: f64,
}

/// Every edge in radius of a part through its passes, in order, m.
fn edges(part: &BuiltUp, steps: &[&CutStep]) -> Vec<f64> {
    let of = |sections: &[Section]| -> Vec<f64> {
        sections
            .iter()
            .flat_map(|section| [section.inner_radius_m(), section.outer_radius_m()])
            .collect()
    };
    let mut all = of(part.sections());
    for step in steps {
        all.extend(of(step.part.sections()));
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|next, one| *next - *one < TOUCHING_M);
    all
}

/// Thickness at both ends of a slice, m; nothing where there is no metal.
fn ends(profile: &Profile, inner_m: f64, outer_m: f64) -> Option<(f64, f64)> {
    let middle = f64::midpoint(inner_m, outer_m);
    let section = profile.section_at(middle, Side::Inside)?;
    Some((
        section.thickness_at_m(inner_m),
        section.thickness_at_m(outer_m),
    ))
}

impl Shape {
    /// The shape of a part through its passes; `None` where its sections overlap.
    pub(super) fn of(part: &BuiltUp, steps: &[&CutStep]) -> Option<Self> {
        let before = Profile::new(part.sections()).ok()?;
        let after: Vec<Profile> = steps
            .iter()
            .map(|step| Profile::new(step.part.sections()).ok())
            .collect::<Option<_>>()?;
        let mut shape = Self {
            stays: Vec::new(),
            taken: steps
                .iter()
                .map(|step| Taken {
                    slices: Vec::new(),
                    holes: drilled(step),
                })
                .collect(),
            rim_m: before.rim_radius_m(),
            thickest_m: part
                .sections()
                .iter()
                .flat_map(|section| [section.thickness_inner_m(), section.thickness_outer_m()])
                .fold(0.0, f64::max),
        };
        for pair in edges(part, steps).windows(2) {
            let &[inner_m, outer_m] = pair else { continue };
            let Some(thickness) = ends(&before, inner_m, outer_m) else {
                continue;
            };
            let whole = Slice {
                inner_m,
                outer_m,
                back_m: (-thickness.0, -thickness.1),
                front_m: (0.0, 0.0),
            };
            let left = shape.cut_down(whole, steps, &after);
            shape.stays.extend(left);
        }
        Some(shape)
    }

    /// Takes off a slice what each pass takes of it; what is left.
    fn cut_down(&mut self, whole: Slice, steps: &[&CutStep], after: &[Profile]) -> Option<Slice> {
        let mut left = whole;
        for ((step, profile), taken) in steps.iter().zip(after).zip(&mut self.taken) {
            let Some(thickness) = ends(profile, left.inner_m, left.outer_m) else {
                taken.slices.push(left);
                return None;
            };
            let now = (
                left.front_m.0 - left.back_m.0,
                left.front_m.1 - left.back_m.1,
            );
            let off = (now.0 - thickness.0, now.1 - thickness.1);
            if off.0.max(off.1) < TOUCHING_M {
                continue;
            }
            if from_clutch_side(&step.pass) {
                let front_m = (left.front_m.0 - off.0, left.front_m.1 - off.1);
                taken.slices.push(Slice {
                    back_m: front_m,
                    ..left
                });
                left.front_m = front_m;
            } else {
                let back_m = (left.back_m.0 + off.0, left.back_m.1 + off.1);
                taken.slices.push(Slice {
                    front_m: back_m,
                    ..left
                });
                left.back_m = back_m;
            }
        }
        Some(left)
    }

    /// The furthest that metal, cut or not, reaches to the engine side at a radius, m.
    pub(super) fn back_at_m(&self, radius_m: f64) -> f64 {
        self.stays
            .iter()
            .chain(self.taken.iter().flat_map(|taken| &taken.slices))
            .flat_map(|slice| {
                [
                    (slice.inner_m, slice.back_m.0),
                    (slice.outer_m, slice.back_m.1),
                ]
            })
            .filter(|(edge, _)| (edge - radius_m).abs() < TOUCHING_M)
            .map(|(_, back)| back)
            .fold(0.0, f64::min)
    }

    /// Engine and clutch side of the metal that stays at a radius, m.
    pub(super) fn sides_at_m(&self, radius_m: f64) -> Option<(f64, f64)> {
        let slice = self
            .stays
            .iter()
            .find(|slice| slice.inner_m <= radius_m && radius_m <= slice.outer_m)?;
        let share = (radius_m - slice.inner_m) / (slice.outer_m - slice.inner_m);
        let between = |ends: (f64, f64)| ends.0 + (ends.1 - ends.0) * share;
        Some((between(slice.back_m), between(slice.front_m)))
    }
}

const fn from_clutch_side(pass: &Pass) -> bool {
    matches!(
        pass,
        Pass::FaceBand {
            face: Face::Clutch,
            ..
        } | Pass::TaperWeb {
            face: Face::Clutch,
            ..
        }
    )
}

/// The ring of holes a step drilled.
fn drilled(step: &CutStep) -> Option<HoleRing> {
    match step.pass {
        Pass::Drill {
            depth: HoleDepth::Through | HoleDepth::Blind(_),
            ..
        } => step.part.holes().last().copied(),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::checked::{NonNegative, Positive};
    use crate::car::machining::{Band, ShopRules};
    use crate::car::material::NamedMetal;
    use crate::metal::cut::apply;
    use std::f64::consts::PI;

    fn disc() -> BuiltUp {
        let section = Section::new(
            NonNegative::new(0.02).unwrap(),
            Positive::new(0.13).unwrap(),
            NonNegative::new(0.018).unwrap(),
            NonNegative::new(0.018).unwrap(),
        )
        .unwrap();
        BuiltUp::new(
            NamedMetal::Steel.material().unwrap(),
            vec![section],
            vec![],
            vec![],
            None,
        )
        .unwrap()
    }

    /// Volume of a slice turned round the axis, flat here: `π t (b² − a²)`.
    fn volume_m3(slice: &Slice) -> f64 {
        PI * (slice.front_m.0 - slice.back_m.0) * (slice.outer_m.powi(2) - slice.inner_m.powi(2))
    }

    /// What is hatched weighs what comes off, and what stays weighs what is left.
    #[test]
    fn law_areas_drawn_weigh_what_is_computed() {
        let part = disc();
        let rules = ShopRules::usual(None).unwrap();
        let band = Band::new(
            NonNegative::new(0.08).unwrap(),
            Positive::new(0.11).unwrap(),
        )
        .unwrap();
        let face = Pass::FaceBand {
            band,
            depth_m: Positive::new(0.005).unwrap(),
            face: Face::Engine,
        };
        let one = apply(&part, face, &rules).unwrap();
        let rim = Pass::TurnRim {
            radius_m: Positive::new(0.127).unwrap(),
        };
        let two = apply(&one.part, rim, &rules).unwrap();
        let shape = Shape::of(&part, &[&one, &two]).unwrap();
        for (taken, step) in shape.taken.iter().zip([&one, &two]) {
            let kg: f64 = 7850.0 * taken.slices.iter().map(volume_m3).sum::<f64>();
            assert!((kg - step.taken_off().mass_kg).abs() < 1e-9);
        }
        let left: f64 = 7850.0 * shape.stays.iter().map(volume_m3).sum::<f64>();
        assert!((left - two.after.mass_kg).abs() < 1e-9);
    }
}
