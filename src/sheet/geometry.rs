//! Whether sections and holes fit together: all of it warnings, none of it an error.

use super::diagnostics::Diagnostics;
use super::problem::Place;
use super::value::Found;
use super::warnings::{DEPTH_SLACK, PartWarning, Warning};
use crate::car::inertia::{HoleRing, Section};

/// Radii closer than this are one, m: a drawing's last digit.
const SAME_RADIUS_M: f64 = 1e-6;

/// Notes overlaps and gaps between sections, and holes that are not within the metal.
pub(super) fn check(
    diagnostics: &Diagnostics,
    part: &str,
    sections: &[Found<Section>],
    holes: &[Found<HoleRing>],
) {
    let warning = |warning: PartWarning, place: &Place| {
        let part = part.to_owned();
        diagnostics.warning(Warning::Part { part, warning }, Some(place));
    };
    check_neighbours(sections, &warning);
    for ring in holes {
        check_ring(sections, ring, &warning);
    }
}

fn check_neighbours(sections: &[Found<Section>], warning: &dyn Fn(PartWarning, &Place)) {
    let mut in_order: Vec<(f64, f64, &Place)> = sections
        .iter()
        .map(|s| (s.value.inner_radius_m(), s.value.outer_radius_m(), &s.place))
        .collect();
    in_order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut reached_m = in_order.first().map_or(0.0, |first| first.0);
    for (from_m, to_m, place) in in_order {
        if from_m < reached_m - SAME_RADIUS_M {
            let to_m = to_m.min(reached_m);
            warning(PartWarning::SectionsOverlap { from_m, to_m }, place);
        } else if from_m > reached_m + SAME_RADIUS_M {
            let (from_m, to_m) = (reached_m, from_m);
            warning(PartWarning::SectionsApart { from_m, to_m }, place);
        }
        reached_m = reached_m.max(to_m);
    }
}

fn check_ring(
    sections: &[Found<Section>],
    ring: &Found<HoleRing>,
    warning: &dyn Fn(PartWarning, &Place),
) {
    let (pitch, reach) = (
        ring.value.pitch_radius_m.get(),
        ring.value.diameter_m.get() / 2.0,
    );
    let (from_m, to_m) = ((pitch - reach).max(0.0), pitch + reach);
    let inner = sections.iter().map(|s| s.value.inner_radius_m());
    let outer = sections.iter().map(|s| s.value.outer_radius_m());
    let (bore_m, rim_m) = (
        inner.fold(f64::INFINITY, f64::min),
        outer.fold(0.0, f64::max),
    );
    if from_m < bore_m - SAME_RADIUS_M || to_m > rim_m + SAME_RADIUS_M {
        warning(PartWarning::HoleOutsideMetal { from_m, to_m }, &ring.place);
    }
    let thickness_m = thickest_m(sections, from_m, to_m);
    let depth_m = ring.value.depth_m.get();
    if thickness_m > 0.0 && depth_m > thickness_m * (1.0 + DEPTH_SLACK) {
        let too_deep = PartWarning::HoleTooDeep {
            depth_m,
            thickness_m,
        };
        warning(too_deep, &ring.place);
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
