//! Facing and tapering a band.

use super::apply::{ROUND_OFF, Work, bolt_circles, into, reach_of};
use super::refusal::CutRefusal;
use super::{Band, BoltCircles, Face};
use crate::car::checked::Positive;
use crate::car::inertia::{HoleRing, PartError, Section};
use crate::metal::profile::{Side, TOUCHING_M, clipped, section_between};

impl Work<'_> {
    /// Sections and holes with a band of new thickness, a function of radius and present
    /// thickness, m, that must be linear in radius where the present thickness is.
    pub(super) fn reshaped(
        &self,
        band: Band,
        face: Face,
        thickness: impl Fn(f64, f64) -> f64,
    ) -> Result<(Vec<Section>, Vec<HoleRing>), CutRefusal> {
        let (from, to) = (band.inner_radius_m(), band.outer_radius_m());
        if let Some(gap) = self.profile.gap_within(from, to) {
            return Err(CutRefusal::OutsideMetal {
                from_m: gap.from_m,
                to_m: gap.to_m,
            });
        }
        self.refuse_clutch_face(band, face)?;
        self.refuse_bolts(band)?;
        let mut sections = Vec::with_capacity(self.profile.sections().len() + 2);
        for section in self.profile.sections() {
            let Some(within) = clipped(section, from, to) else {
                sections.push(*section);
                continue;
            };
            sections.extend(clipped_outside(
                section,
                within.inner_radius_m(),
                Side::Inside,
            ));
            sections.push(self.thinned(&within, &thickness)?);
            sections.extend(clipped_outside(
                section,
                within.outer_radius_m(),
                Side::Outside,
            ));
        }
        let holes = self
            .part
            .holes()
            .iter()
            .map(|ring| self.faced_hole(*ring, band, &thickness))
            .collect::<Result<_, _>>()?;
        Ok((sections, holes))
    }

    /// One section with its new thickness.
    fn thinned(
        &self,
        section: &Section,
        thickness: &impl Fn(f64, f64) -> f64,
    ) -> Result<Section, CutRefusal> {
        let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
        let (least_m, place) = self.rules.least_thickness(a, b);
        let ends = [
            (a, section.thickness_inner_m()),
            (b, section.thickness_outer_m()),
        ];
        for (radius_m, present_m) in ends {
            let left_m = thickness(radius_m, present_m);
            if left_m > present_m * (1.0 + ROUND_OFF) {
                return Err(CutRefusal::AddsMetal {
                    radius_m,
                    present_m,
                    asked_m: left_m,
                });
            }
            if left_m < least_m * (1.0 - ROUND_OFF) {
                return Err(CutRefusal::TooThin {
                    place,
                    radius_m,
                    left_m,
                    least_m,
                });
            }
        }
        let [inner, outer] = ends.map(|(radius, present)| thickness(radius, present).min(present));
        section_between(a, b, inner, outer).ok_or(CutRefusal::Part(PartError::SectionWithoutMetal))
    }

    /// Refuses a cut on the clutch side that touches the clutch face, or could.
    fn refuse_clutch_face(&self, band: Band, face: Face) -> Result<(), CutRefusal> {
        match (face, self.rules.clutch_face) {
            (Face::Engine, _) => Ok(()),
            (Face::Clutch, None) => Err(CutRefusal::ClutchFaceNotTold),
            (Face::Clutch, Some(rubbed)) => {
                if rubbed.meets(band.inner_radius_m(), band.outer_radius_m()) {
                    Err(into(rubbed))
                } else {
                    Ok(())
                }
            }
        }
    }

    /// Refuses a band across bolts or holes, where they are to be kept off.
    fn refuse_bolts(&self, band: Band) -> Result<(), CutRefusal> {
        let faced = self.rules.bolt_circles == BoltCircles::MayBeFaced;
        let met = self.part.holes().iter().find(|ring| {
            let (low, high) = reach_of(ring);
            // A band that cuts into a hole from the side leaves half a hole.
            let whole = band.inner_radius_m() <= low && high <= band.outer_radius_m();
            band.meets(low, high) && !(faced && whole)
        });
        if let Some(ring) = met {
            return Err(CutRefusal::ThroughHoles {
                pitch_radius_m: ring.pitch_radius_m.get(),
            });
        }
        if faced {
            return Ok(());
        }
        let bolts = bolt_circles(self.part)
            .find(|(_, pitch)| band.meets(pitch - TOUCHING_M, pitch + TOUCHING_M));
        bolts.map_or(Ok(()), |(name, pitch_radius_m)| {
            Err(CutRefusal::ThroughBolts {
                name,
                pitch_radius_m,
            })
        })
    }

    /// A ring of holes after a band across it was faced.
    fn faced_hole(
        &self,
        ring: HoleRing,
        band: Band,
        thickness: &impl Fn(f64, f64) -> f64,
    ) -> Result<HoleRing, CutRefusal> {
        let pitch = ring.pitch_radius_m.get();
        if !band.meets(pitch, pitch) {
            return Ok(ring);
        }
        let present = self.profile.thickness_at_m(pitch, Side::Outside);
        let Some(present) = present else {
            return Ok(ring);
        };
        let left = thickness(pitch, present);
        let through = ring.depth_m.get() >= present - TOUCHING_M;
        let depth_m = if through {
            ring.depth_m.get() - (present - left)
        } else {
            ring.depth_m.get()
        };
        match Positive::new(depth_m) {
            Some(depth_m) if through || depth_m.get() < left => Ok(HoleRing { depth_m, ..ring }),
            _ => Err(CutRefusal::ThroughHoles {
                pitch_radius_m: pitch,
            }),
        }
    }
}

/// What of a section lies inside or outside a radius, m.
fn clipped_outside(section: &Section, radius_m: f64, side: Side) -> Option<Section> {
    match side {
        Side::Inside => (section.inner_radius_m() < radius_m)
            .then(|| clipped(section, section.inner_radius_m(), radius_m))
            .flatten(),
        Side::Outside => (radius_m < section.outer_radius_m())
            .then(|| clipped(section, radius_m, section.outer_radius_m()))
            .flatten(),
    }
}
