//! Turning the rim down.

use super::apply::{Work, into, reach_of, seat_m};
use super::refusal::CutRefusal;
use crate::car::inertia::Section;
use crate::metal::profile::section_between;

impl Work<'_> {
    /// Sections with the rim turned down to a radius, m.
    pub(super) fn turned(&self, radius_m: f64) -> Result<Vec<Section>, CutRefusal> {
        let rim_m = self.profile.rim_radius_m();
        if radius_m >= rim_m {
            return Err(CutRefusal::NothingToTurn {
                rim_m,
                asked_m: radius_m,
            });
        }
        if radius_m <= self.profile.bore_radius_m() {
            return Err(CutRefusal::OutsideMetal {
                from_m: radius_m,
                to_m: self.profile.bore_radius_m(),
            });
        }
        if let Some(face) = self.rules.clutch_face
            && radius_m < face.outer_radius_m()
        {
            return Err(into(face));
        }
        if let Some(extra) = self
            .part
            .extras()
            .iter()
            .find(|extra| seat_m(extra) >= radius_m)
        {
            return Err(CutRefusal::SeatCutAway {
                name: extra.name.clone(),
                radius_m: seat_m(extra),
                rim_m: radius_m,
            });
        }
        for ring in self.part.holes() {
            let (_, outer) = reach_of(ring);
            self.refuse_edge(radius_m, radius_m - outer)?;
        }
        Ok(self
            .profile
            .sections()
            .iter()
            .filter_map(|section| {
                if section.outer_radius_m() <= radius_m {
                    Some(*section)
                } else {
                    section_between(
                        section.inner_radius_m(),
                        radius_m,
                        section.thickness_inner_m(),
                        section.thickness_at_m(radius_m),
                    )
                }
            })
            .collect())
    }

    /// Refuses less metal, m, between a hole and an edge at a radius, m, than must be left.
    pub(super) fn refuse_edge(&self, edge_m: f64, land_m: f64) -> Result<(), CutRefusal> {
        let least_m = self.rules.least_land_m.get();
        if land_m < least_m {
            return Err(CutRefusal::HolesAtEdge {
                edge_m,
                land_m,
                least_m,
            });
        }
        Ok(())
    }
}
