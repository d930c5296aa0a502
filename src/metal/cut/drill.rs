//! Drilling a ring of holes.

use super::HoleDepth;
use super::apply::{ROUND_OFF, Work, bolt_circles, into, reach_of};
use super::refusal::CutRefusal;
use crate::car::checked::Positive;
use crate::car::inertia::HoleRing;
use crate::metal::profile::{Side, TOUCHING_M};
use std::f64::consts::PI;
use std::num::NonZeroU32;

/// A jump in thickness smaller than this, m, is no step: the joint of two tapers shows one of
/// this size over [`TOUCHING_M`] to either side.
const LEAST_STEP_M: f64 = 1e-6;

impl Work<'_> {
    /// The ring of holes that a drilling pass makes.
    pub(super) fn drilled(
        &self,
        count: NonZeroU32,
        diameter_m: Positive,
        pitch_radius_m: Positive,
        depth: HoleDepth,
    ) -> Result<HoleRing, CutRefusal> {
        let (pitch, radius) = (pitch_radius_m.get(), diameter_m.get() / 2.0);
        let (low, high) = (pitch - radius, pitch + radius);
        let (bore_m, rim_m) = (self.profile.bore_radius_m(), self.profile.rim_radius_m());
        if pitch <= bore_m || pitch >= rim_m {
            return Err(CutRefusal::OutsideMetal {
                from_m: low,
                to_m: high,
            });
        }
        if bore_m > 0.0 {
            self.refuse_edge(bore_m, low - bore_m)?;
        }
        self.refuse_edge(rim_m, rim_m - high)?;
        self.refuse_crowding(count, pitch, radius)?;
        if let Some(step_m) = self.step_between(low, high) {
            return Err(CutRefusal::HolesAcrossStep { step_m });
        }
        Ok(HoleRing {
            count,
            diameter_m,
            depth_m: self.hole_depth(pitch, radius, depth)?,
            pitch_radius_m: pitch_radius_m.as_non_negative(),
        })
    }

    /// An edge between two radii, m, where the thickness jumps or the metal ends.
    fn step_between(&self, low_m: f64, high_m: f64) -> Option<f64> {
        self.profile
            .sections()
            .iter()
            .flat_map(|section| [section.inner_radius_m(), section.outer_radius_m()])
            .filter(|edge| low_m < *edge && *edge < high_m)
            .find(|edge| {
                let sides = [edge - TOUCHING_M, edge + TOUCHING_M]
                    .map(|radius| self.profile.thickness_at_m(radius, Side::Outside));
                match sides {
                    [Some(one), Some(other)] => (one - other).abs() > LEAST_STEP_M,
                    _ => true,
                }
            })
    }

    /// Depth of metal that a hole takes out: of a through hole, the thickness at its middle.
    fn hole_depth(
        &self,
        pitch_m: f64,
        radius_m: f64,
        depth: HoleDepth,
    ) -> Result<Positive, CutRefusal> {
        let (low, high) = (pitch_m - radius_m, pitch_m + radius_m);
        let outside = CutRefusal::OutsideMetal {
            from_m: low,
            to_m: high,
        };
        let HoleDepth::Blind(depth_m) = depth else {
            if let Some(face) = self.rules.clutch_face
                && face.meets(low, high)
            {
                return Err(into(face));
            }
            return self
                .profile
                .thickness_at_m(pitch_m, Side::Outside)
                .and_then(Positive::new)
                .ok_or(outside);
        };
        let (least_m, place) = self.rules.least_thickness(low, high);
        let thinnest = self.profile.thinnest_within(low, high).ok_or(outside)?;
        let left_m = thinnest.thickness_m - depth_m.get();
        if left_m < least_m * (1.0 - ROUND_OFF) {
            return Err(CutRefusal::TooThin {
                place,
                radius_m: thinnest.radius_m,
                left_m,
                least_m,
            });
        }
        Ok(depth_m)
    }

    /// Refuses new holes too near one another, the part's holes or its bolts. The drawing does
    /// not tell at what angle anything sits, so circles that share a radius are too near.
    fn refuse_crowding(
        &self,
        count: NonZeroU32,
        pitch_m: f64,
        radius_m: f64,
    ) -> Result<(), CutRefusal> {
        let least_m = self.rules.least_land_m.get();
        if count.get() > 1 {
            let chord = 2.0 * pitch_m * (PI / f64::from(count.get())).sin();
            let land_m = chord - 2.0 * radius_m;
            if land_m < least_m {
                return Err(CutRefusal::HolesTooClose { land_m, least_m });
            }
        }
        let (low, high) = (pitch_m - radius_m - least_m, pitch_m + radius_m + least_m);
        let near = self.part.holes().iter().find(|ring| {
            let (inner, outer) = reach_of(ring);
            inner < high && outer > low
        });
        if let Some(ring) = near {
            return Err(CutRefusal::ThroughHoles {
                pitch_radius_m: ring.pitch_radius_m.get(),
            });
        }
        let bolts = bolt_circles(self.part).find(|(_, pitch)| low < *pitch && *pitch < high);
        bolts.map_or(Ok(()), |(name, pitch_radius_m)| {
            Err(CutRefusal::ThroughBolts {
                name,
                pitch_radius_m,
            })
        })
    }
}
