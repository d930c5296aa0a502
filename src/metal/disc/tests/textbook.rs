//! Flat discs, for which every strength of materials text has closed forms.

use super::*;
use crate::metal::disc::{Stress, thin_rim_stress_pa};
use crate::metal::profile::Side;
use approx::assert_relative_eq;

const MPA: f64 = 1e6;
const IRON_KG_M3: f64 = 7150.0;
const IRON_POISSON: f64 = 0.26;

fn flat(bore_mm: f64) -> [Section; 1] {
    [section_mm(bore_mm, 130.0, 20.0, 20.0)]
}

fn at(field: &StressField, radius_m: f64, side: Side) -> Stress {
    field.stress_at(radius_m, side, SPEED_RAD_S).unwrap()
}

fn peak_radial(field: &StressField) -> Stress {
    field.peak(SPEED_RAD_S, |s| s.radial_pa).unwrap()
}

/// A published figure in MPa and the metal it is for.
struct Figures {
    density: f64,
    poisson: f64,
    solid_centre: f64,
    solid_rim: f64,
    bore: f64,
    rim: f64,
    radial: f64,
    mean_bored: f64,
    mean_solid: f64,
    thin_rim: f64,
}

fn assert_figures(figures: &Figures) {
    let solid = field(&flat(0.0), figures.density, figures.poisson, &[]);
    let bored = field(&flat(20.0), figures.density, figures.poisson, &[]);
    let centre = at(&solid, 0.0, Side::Outside);
    let pairs = [
        (centre.radial_pa, figures.solid_centre),
        (centre.tangential_pa, figures.solid_centre),
        (
            at(&solid, RIM_M, Side::Inside).tangential_pa,
            figures.solid_rim,
        ),
        (
            at(&bored, BORE_M, Side::Outside).tangential_pa,
            figures.bore,
        ),
        (at(&bored, RIM_M, Side::Inside).tangential_pa, figures.rim),
        (peak_radial(&bored).radial_pa, figures.radial),
        (bored.mean_tangential_pa(SPEED_RAD_S), figures.mean_bored),
        (solid.mean_tangential_pa(SPEED_RAD_S), figures.mean_solid),
        (
            thin_rim_stress_pa(figures.density, SPEED_RAD_S * RIM_M),
            figures.thin_rim,
        ),
    ];
    for (ours, published) in pairs {
        // Printed to a millionth of a megapascal.
        assert_relative_eq!(ours, published * MPA, epsilon = 0.6);
    }
    // The peak is flat: its place is known to the root of its height's round-off.
    assert_relative_eq!(
        peak_radial(&bored).radius_m,
        (BORE_M * RIM_M).sqrt(),
        max_relative = 1e-6
    );
}

/// Timoshenko & Goodier, *Theory of Elasticity*, rotating disks (from memory); Shigley 9th ed.
/// eq. (3-55) (seen); figures recomputed.
#[test]
fn reference_solid_and_bored_steel_disc() {
    assert_figures(&Figures {
        density: STEEL_KG_M3,
        poisson: STEEL_POISSON,
        solid_centre: 48.609_658,
        solid_rim: 20.622_279,
        bore: 97.707_418,
        rim: 22.923_328,
        radial: 34.803_365,
        mean_bored: 46.253_408,
        mean_solid: 39.280_532,
        thin_rim: 117.841_596,
    });
}

/// The same, grey iron.
#[test]
fn reference_solid_and_bored_iron_disc() {
    assert_figures(&Figures {
        density: IRON_KG_M3,
        poisson: IRON_POISSON,
        solid_centre: 43.738_372,
        solid_rim: 19.856_684,
        bore: 87.946_725,
        rim: 21.927_140,
        radial: 31.315_639,
        mean_bored: 42.128_900,
        mean_solid: 35.777_809,
        thin_rim: 107.333_428,
    });
}

/// The closed forms at every radius, not at the peaks alone. Tolerance: round-off of forty
/// terms, relative to the greatest stress.
#[test]
fn reference_a_flat_disc_follows_its_closed_form_at_every_radius() {
    let (a, b, nu) = (BORE_M, RIM_M, STEEL_POISSON);
    let load = STEEL_KG_M3 * SPEED_RAD_S.powi(2);
    let bored = steel_field(&flat(20.0));
    let solid = steel_field(&flat(0.0));
    for stress in bored.over_radius(SPEED_RAD_S, 7) {
        let r = stress.radius_m;
        let k = (3.0 + nu) / 8.0 * load;
        let radial = k * (a * a + b * b - a * a * b * b / (r * r) - r * r);
        let hoop =
            k * (a * a + b * b + a * a * b * b / (r * r) - (1.0 + 3.0 * nu) / (3.0 + nu) * r * r);
        assert!((stress.radial_pa - radial).abs() < 1e-12 * 97.7 * MPA);
        assert!((stress.tangential_pa - hoop).abs() < 1e-12 * 97.7 * MPA);
    }
    for stress in solid.over_radius(SPEED_RAD_S, 7) {
        let r = stress.radius_m;
        let radial = (3.0 + nu) / 8.0 * load * (b * b - r * r);
        let hoop = load / 8.0 * ((3.0 + nu) * b * b - (1.0 + 3.0 * nu) * r * r);
        assert!((stress.radial_pa - radial).abs() < 1e-12 * 97.7 * MPA);
        assert!((stress.tangential_pa - hoop).abs() < 1e-12 * 97.7 * MPA);
    }
}

/// A pin hole through the middle doubles the stress there, which is also what Kirsch's
/// formula says of a small hole in an even field. Tolerance: (bore/rim)² is 6e-11.
#[test]
fn reference_a_pin_hole_doubles_the_stress_at_the_centre() {
    let solid = steel_field(&flat(0.0));
    let pinned = steel_field(&flat(0.001));
    let centre = at(&solid, 0.0, Side::Outside);
    let bore = at(&pinned, 1e-6, Side::Outside).tangential_pa;
    assert_relative_eq!(bore, 2.0 * centre.tangential_pa, max_relative = 1e-9);
    assert_relative_eq!(centre.at_hole_edge_pa(), bore, max_relative = 1e-9);
}

/// A pull at the rim adds Lamé's thick-ring stresses: at the bore `2 p b²/(b² − a²)`
/// (any strength of materials text).
#[test]
fn reference_a_ring_gear_adds_the_stress_of_a_pulled_ring() {
    let gear = LineLoad {
        radius_m: 0.131,
        mass_kg: 0.85,
    };
    let bare = steel_field(&flat(20.0));
    let geared = field(&flat(20.0), STEEL_KG_M3, STEEL_POISSON, &[gear]);
    let pull = 0.85 * 0.131 * SPEED_RAD_S.powi(2) / (std::f64::consts::TAU * RIM_M * 0.020);
    let (a2, b2) = (BORE_M * BORE_M, RIM_M * RIM_M);
    let more = at(&geared, BORE_M, Side::Outside).tangential_pa
        - at(&bare, BORE_M, Side::Outside).tangential_pa;
    assert_relative_eq!(more, 2.0 * pull * b2 / (b2 - a2), max_relative = 1e-11);
    assert_relative_eq!(
        at(&geared, RIM_M, Side::Inside).radial_pa,
        pull,
        max_relative = 1e-11
    );
}

/// What sits in the bore presses it outward: Lamé again, `p (b² + a²)/(b² − a²)`.
#[test]
fn reference_a_bearing_in_the_bore_presses_it_outward() {
    let bearing = LineLoad {
        radius_m: 0.015,
        mass_kg: 0.05,
    };
    let bare = steel_field(&flat(20.0));
    let loaded = field(&flat(20.0), STEEL_KG_M3, STEEL_POISSON, &[bearing]);
    let press = 0.05 * 0.015 * SPEED_RAD_S.powi(2) / (std::f64::consts::TAU * BORE_M * 0.020);
    let (a2, b2) = (BORE_M * BORE_M, RIM_M * RIM_M);
    let more = at(&loaded, BORE_M, Side::Outside).tangential_pa
        - at(&bare, BORE_M, Side::Outside).tangential_pa;
    assert_relative_eq!(more, press * (b2 + a2) / (b2 - a2), max_relative = 1e-9);
}
