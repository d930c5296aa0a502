//! Whether sections and holes fit together: all of it doubts, none of it an error.

use super::doubts::{DEPTH_SLACK, Doubt};
use super::notes::Notes;
use super::value::Found;
use crate::car::inertia::{HoleRing, Section};

/// Radii closer than this are one, m: a drawing's last digit.
const SAME_RADIUS_M: f64 = 1e-6;

/// Notes overlaps and gaps between sections, and holes that are not within the metal.
pub(super) fn check(
    notes: &Notes,
    part: &str,
    sections: &[Found<Section>],
    holes: &[Found<HoleRing>],
) {
    check_neighbours(notes, part, sections);
    for ring in holes {
        check_ring(notes, part, sections, ring);
    }
}

fn check_neighbours(notes: &Notes, part: &str, sections: &[Found<Section>]) {
    let mut in_order: Vec<&Found<Section>> = sections.iter().collect();
    in_order.sort_by(|a, b| {
        a.value
            .inner_radius_m()
            .total_cmp(&b.value.inner_radius_m())
    });
    let mut reached_m: Option<f64> = None;
    for section in in_order {
        let (from_m, to_m) = (
            section.value.inner_radius_m(),
            section.value.outer_radius_m(),
        );
        let part = part.to_owned();
        if let Some(reached) = reached_m {
            if from_m < reached - SAME_RADIUS_M {
                let to_m = to_m.min(reached);
                notes.doubt(
                    Doubt::SectionsOverlap { part, from_m, to_m },
                    Some(&section.place),
                );
            } else if from_m > reached + SAME_RADIUS_M {
                let gap = Doubt::SectionsApart {
                    part,
                    from_m: reached,
                    to_m: from_m,
                };
                notes.doubt(gap, Some(&section.place));
            }
        }
        reached_m = Some(reached_m.map_or(to_m, |reached| reached.max(to_m)));
    }
}

fn check_ring(notes: &Notes, part: &str, sections: &[Found<Section>], ring: &Found<HoleRing>) {
    let hole = ring.value;
    let (pitch, reach) = (hole.pitch_radius_m.get(), hole.diameter_m.get() / 2.0);
    let (from_m, to_m) = ((pitch - reach).max(0.0), pitch + reach);
    let bore = sections
        .iter()
        .map(|s| s.value.inner_radius_m())
        .fold(f64::INFINITY, f64::min);
    let rim = sections
        .iter()
        .map(|s| s.value.outer_radius_m())
        .fold(0.0, f64::max);
    // A hole on the centre line is a bore of its own: it begins at radius 0.
    if from_m < bore - SAME_RADIUS_M || to_m > rim + SAME_RADIUS_M {
        let part = part.to_owned();
        notes.doubt(
            Doubt::HoleOutsideMetal { part, from_m, to_m },
            Some(&ring.place),
        );
    }
    let thickness_m = thickest_m(sections, from_m, to_m);
    let depth_m = hole.depth_m.get();
    if thickness_m > 0.0 && depth_m > thickness_m * (1.0 + DEPTH_SLACK) {
        let doubt = Doubt::HoleTooDeep {
            part: part.to_owned(),
            depth_m,
            thickness_m,
        };
        notes.doubt(doubt, Some(&ring.place));
    }
}

/// Thickest metal between two radii: thickness is linear in pieces, so it is thickest at an end
/// or where a section begins or ends.
fn thickest_m(sections: &[Found<Section>], from_m: f64, to_m: f64) -> f64 {
    let edges = sections
        .iter()
        .flat_map(|s| [s.value.inner_radius_m(), s.value.outer_radius_m()])
        .filter(|edge| (from_m..=to_m).contains(edge));
    let metal_at = |radius_m: f64, near: f64| -> f64 {
        let inside = radius_m + near * SAME_RADIUS_M;
        sections
            .iter()
            .filter(|s| (s.value.inner_radius_m()..=s.value.outer_radius_m()).contains(&inside))
            .map(|s| s.value.thickness_at_m(inside))
            .sum()
    };
    edges
        .chain([from_m, to_m])
        .flat_map(|radius| [metal_at(radius, -1.0), metal_at(radius, 1.0)])
        .fold(0.0, f64::max)
}
