//! Steps, tapers and what is fastened on.

use super::*;
use crate::metal::disc::Stress;
use crate::metal::profile::{Side, half_plane_area_m2};
use crate::random_cases::same_every_time;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// Solves four linear equations by elimination with the largest pivot.
fn solve_four(mut rows: [[f64; 5]; 4]) -> [f64; 4] {
    for column in 0..4 {
        let pivot = (column..4)
            .max_by(|i, j| rows[*i][column].abs().total_cmp(&rows[*j][column].abs()))
            .unwrap();
        rows.swap(column, pivot);
        for row in 0..4 {
            if row != column {
                let factor = rows[row][column] / rows[column][column];
                let pivot_row = rows[column];
                for (entry, pivot) in rows[row].iter_mut().zip(pivot_row) {
                    *entry -= factor * pivot;
                }
            }
        }
    }
    std::array::from_fn(|row| rows[row][4] / rows[row][row])
}

/// A stepped disc by hand. In each flat region
/// `E u = (1−ν) A r + (1+ν) B/r − (1−ν²) q r³/8`, `σr = A − B/r² − (3+ν) q r²/8`,
/// `σθ = A + B/r² − (1+3ν) q r²/8`, `q = ρω²`. Four conditions: bore free, `E u` and `t σr`
/// continuous at the step, rim free. Lengths in units of the rim radius and stresses in `q b²`,
/// so that the elimination is well scaled.
#[test]
fn reference_a_stepped_disc_solved_by_hand() {
    let nu: f64 = 0.30;
    let (a, c, b) = (36.0 / 260.0, 110.0 / 260.0, 1.0);
    let (t1, t2) = (14.0, 20.0);
    let radial = |r: f64| [1.0, -1.0 / (r * r), -(3.0 + nu) * r * r / 8.0];
    let stretch = |r: f64| {
        [
            (1.0 - nu) * r,
            (1.0 + nu) / r,
            -(1.0 - nu * nu) * r.powi(3) / 8.0,
        ]
    };
    let (ra, rc, rb, wc) = (radial(a), radial(c), radial(b), stretch(c));
    let [a1, b1, a2, b2] = solve_four([
        [ra[0], ra[1], 0.0, 0.0, -ra[2]],
        [wc[0], wc[1], -wc[0], -wc[1], 0.0],
        [
            t1 * rc[0],
            t1 * rc[1],
            -t2 * rc[0],
            -t2 * rc[1],
            (t2 - t1) * rc[2],
        ],
        [0.0, 0.0, rb[0], rb[1], -rb[2]],
    ]);
    let unit = STEEL_KG_M3 * SPEED_RAD_S.powi(2) * RIM_M * RIM_M;
    let disc = steel_field(&[
        section_mm(18.0, 55.0, 14.0, 14.0),
        section_mm(55.0, 130.0, 20.0, 20.0),
    ]);
    for share in [0.0, 0.3, 0.7, 1.0] {
        for (from, to, side, ka, kb) in
            [(a, c, Side::Outside, a1, b1), (c, b, Side::Inside, a2, b2)]
        {
            // Ends of a region are seen from within it.
            let side = match share {
                0.0 => Side::Outside,
                1.0 => Side::Inside,
                _ => side,
            };
            let r = from + share * (to - from);
            let radius_m = match share {
                0.0 => from * RIM_M,
                1.0 => to * RIM_M,
                _ => r * RIM_M,
            };
            let stress = disc.stress_at(radius_m, side, SPEED_RAD_S).unwrap();
            let hoop = ka + kb / (r * r) - (1.0 + 3.0 * nu) * r * r / 8.0;
            let across = ka - kb / (r * r) - (3.0 + nu) * r * r / 8.0;
            assert!((stress.tangential_pa / unit - hoop).abs() < 1e-12, "{r}");
            assert!((stress.radial_pa / unit - across).abs() < 1e-12, "{r}");
        }
    }
}

/// Thickness of the disc of uniform strength over that at its centre,
/// `exp(−ρω²r²/(2σ))`.
fn uniform_strength_profile(radius_m: f64, stress_pa: f64) -> f64 {
    let load = STEEL_KG_M3 * SPEED_RAD_S.powi(2);
    (-load * radius_m * radius_m / (2.0 * stress_pa)).exp()
}

/// Profile of the uniform-strength disc in steel at 9000 rpm, at 130 and 65 mm (recomputed).
#[test]
fn reference_profile_of_the_disc_of_uniform_strength() {
    for (stress_mpa, rim, middle) in [
        (200.0, 0.744_826_49, 0.928_995_86),
        (150.0, 0.675_160_17, 0.906_466_38),
        (100.0, 0.554_766_50, 0.863_033_31),
    ] {
        let at = |radius_m| uniform_strength_profile(radius_m, stress_mpa * 1e6);
        assert_relative_eq!(at(0.130), rim, max_relative = PRINTED_DIGITS);
        assert_relative_eq!(at(0.065), middle, max_relative = PRINTED_DIGITS);
    }
}

/// The uniform-strength (de Laval) disc `h = h0 exp(−ρω²r²/(2σ))`, its profile made of
/// linear tapers, its rim pulled with `σ`: every stress tends to `σ`. Source: A. Stodola,
/// *Steam and Gas Turbines* (from memory).
fn uniform_strength_error(tapers: u32) -> f64 {
    const SIGMA_PA: f64 = 150e6;
    const CENTRE_MM: f64 = 30.0;
    let thickness_mm = |r_mm: f64| CENTRE_MM * uniform_strength_profile(r_mm / 1e3, SIGMA_PA);
    let sections: Vec<Section> = (0..tapers)
        .map(|index| {
            let edge = |index: u32| 130.0 * f64::from(index) / f64::from(tapers);
            let (inner, outer) = (edge(index), edge(index + 1));
            section_mm(inner, outer, thickness_mm(inner), thickness_mm(outer))
        })
        .collect();
    let pull = RIM_M * thickness_mm(130.0) / 1e3 * SIGMA_PA;
    let gear = LineLoad {
        radius_m: RIM_M,
        mass_kg: pull * std::f64::consts::TAU / (SPEED_RAD_S.powi(2) * RIM_M),
    };
    field(&sections, STEEL_KG_M3, STEEL_POISSON, &[gear])
        .over_radius(SPEED_RAD_S, 4)
        .iter()
        .flat_map(|stress| [stress.radial_pa, stress.tangential_pa])
        .map(|stress| (stress / SIGMA_PA - 1.0).abs())
        .fold(0.0, f64::max)
}

/// Halving the tapers quarters the error, and 64 of them are within 0.002 %.
#[test]
fn reference_tapers_converge_to_the_disc_of_uniform_strength() {
    let errors: Vec<f64> = [4, 8, 16, 32, 64]
        .into_iter()
        .map(uniform_strength_error)
        .collect();
    for pair in errors.windows(2) {
        let gain = pair[0] / pair[1];
        assert!((3.5..4.5).contains(&gain), "{errors:?}");
    }
    assert!(errors[4] < 2e-5, "{errors:?}");
}

/// `w` and `F` carried over a taper by the classical Runge-Kutta method.
fn stepped_over(taper: [f64; 4], start: [f64; 2], load: f64) -> [f64; 2] {
    const STEPS: u32 = 4000;
    let [from, to, t_from, t_to] = taper;
    let nu = STEEL_POISSON;
    let slope = |r: f64, [w, f]: [f64; 2]| {
        let t = t_from + (t_to - t_from) * (r - from) / (to - from);
        [
            ((1.0 - nu * nu) * f / t - nu * w) / r,
            (t * w + nu * f) / r - load * t * r * r,
        ]
    };
    let step = (to - from) / f64::from(STEPS);
    let moved = |y: [f64; 2], k: [f64; 2], by: f64| [y[0] + by * k[0], y[1] + by * k[1]];
    (0..STEPS).fold(start, |y, index| {
        let r = from + step * f64::from(index);
        let k1 = slope(r, y);
        let k2 = slope(r + step / 2.0, moved(y, k1, step / 2.0));
        let k3 = slope(r + step / 2.0, moved(y, k2, step / 2.0));
        let k4 = slope(r + step, moved(y, k3, step));
        std::array::from_fn(|i| y[i] + step / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]))
    })
}

/// A tapered web with a heavy rim, the differential equations stepped in small steps by
/// another method. Tolerance: that method's error, below 1e-11 at 4000 steps.
#[test]
fn reference_a_tapered_disc_integrated_step_by_step() {
    // Radii in units of 100 mm, thicknesses of 10 mm, so that states are near one.
    let shoot = |start: [f64; 2], load: f64| {
        let web = stepped_over([0.25, 0.9, 2.0, 0.8], start, load);
        stepped_over([0.9, 1.3, 2.6, 2.2], web, load)
    };
    let loaded = shoot([0.0, 0.0], 1.0);
    let free = shoot([1.0, 0.0], 0.0);
    let bore_stretch = -loaded[1] / free[1];
    let rim_stretch = loaded[0] + bore_stretch * free[0];
    let disc = steel_field(&[
        section_mm(25.0, 90.0, 20.0, 8.0),
        section_mm(90.0, 130.0, 26.0, 22.0),
    ]);
    let unit = STEEL_KG_M3 * SPEED_RAD_S.powi(2) * 0.1 * 0.1;
    let bore = disc.stress_at(0.025, Side::Outside, SPEED_RAD_S).unwrap();
    let rim = disc.stress_at(0.13, Side::Inside, SPEED_RAD_S).unwrap();
    for (ours, stepped) in [
        (bore.tangential_pa, bore_stretch / 0.25 * unit),
        (rim.tangential_pa, rim_stretch / 1.3 * unit),
    ] {
        assert_relative_eq!(ours, stepped, max_relative = 1e-10);
    }
}

/// A solid cone, which starts from the regular series of a taper, is what a stack of flat rings
/// tends to: twice the rings, a quarter of the error.
#[test]
fn law_a_solid_cone_is_the_limit_of_many_flat_rings() {
    let cone = steel_field(&[section_mm(0.0, 130.0, 30.0, 10.0)]);
    let error = |rings: u32| {
        let edge = |index: u32| 130.0 * f64::from(index) / f64::from(rings);
        let stack: Vec<Section> = (0..rings)
            .map(|index| {
                let middle = f64::midpoint(edge(index), edge(index + 1));
                let t = 30.0 - 20.0 * middle / 130.0;
                section_mm(edge(index), edge(index + 1), t, t)
            })
            .collect();
        let hoop = |disc: &StressField| {
            disc.stress_at(RIM_M, Side::Inside, SPEED_RAD_S)
                .unwrap()
                .tangential_pa
        };
        (hoop(&steel_field(&stack)) / hoop(&cone) - 1.0).abs()
    };
    let (coarse, fine) = (error(40), error(80));
    assert!((3.5..4.5).contains(&(coarse / fine)), "{coarse} {fine}");
    assert!(fine < 1e-4, "{fine}");
}

/// A load between bore and rim lowers the radial pull by just its own share, and leaves the
/// displacement whole: the tangential stress jumps by ν times the radial.
#[test]
fn law_a_load_inside_the_metal_makes_a_jump_of_its_own_size() {
    let bolts = LineLoad {
        radius_m: 0.114,
        mass_kg: 0.108,
    };
    let disc = field(
        &[section_mm(20.0, 130.0, 20.0, 12.0)],
        STEEL_KG_M3,
        STEEL_POISSON,
        &[bolts],
    );
    let [inside, outside] =
        [Side::Inside, Side::Outside].map(|side| disc.stress_at(0.114, side, SPEED_RAD_S).unwrap());
    let thickness = section_mm(20.0, 130.0, 20.0, 12.0).thickness_at_m(0.114);
    let pull = 0.108 * SPEED_RAD_S.powi(2) / (std::f64::consts::TAU * thickness);
    let jump = inside.radial_pa - outside.radial_pa;
    assert_relative_eq!(jump, pull, max_relative = 1e-10);
    assert_relative_eq!(
        inside.tangential_pa - outside.tangential_pa,
        STEEL_POISSON * pull,
        max_relative = 1e-10
    );
}

/// Mean of the elastic hoop stress over the metal, by Boole's rule over the chart's points.
fn mean_by_quadrature(sections: &[Section], disc: &StressField) -> f64 {
    const PER_STRETCH: u32 = 64;
    let points = disc.over_radius(SPEED_RAD_S, PER_STRETCH);
    let pull: f64 = points
        .chunks(PER_STRETCH as usize + 1)
        .map(|stretch| {
            let thickness = |stress: &Stress| {
                let (low, high) = (stretch[0].radius_m, stretch[stretch.len() - 1].radius_m);
                let middle = f64::midpoint(low, high);
                let section = sections
                    .iter()
                    .find(|s| s.inner_radius_m() <= middle && middle <= s.outer_radius_m())
                    .unwrap();
                section.thickness_at_m(stress.radius_m)
            };
            stretch
                .windows(5)
                .step_by(4)
                .map(|five| {
                    let width = five[4].radius_m - five[0].radius_m;
                    let weights = [7.0, 32.0, 12.0, 32.0, 7.0];
                    let sum: f64 = five
                        .iter()
                        .zip(weights)
                        .map(|(s, weight)| weight * thickness(s) * s.tangential_pa)
                        .sum();
                    width / 90.0 * sum
                })
                .sum::<f64>()
        })
        .sum();
    pull / sections.iter().map(half_plane_area_m2).sum::<f64>()
}

prop_compose! {
    fn any_wheel()(
        bore in 0.0..30.0f64,
        widths in prop::collection::vec((5.0..40.0f64, 2.0..40.0f64, 2.0..40.0f64), 1..5),
    ) -> Vec<Section> {
        let mut inner = bore;
        widths
            .into_iter()
            .map(|(width, ti, to)| {
                let section = section_mm(inner, inner + width, ti, to);
                inner += width;
                section
            })
            .collect()
    }
}

proptest! {
    #![proptest_config(same_every_time(64))]

    /// The mean elastic hoop stress is the average that equilibrium alone demands, whatever the
    /// shape, Poisson's ratio and what is fastened on. Tolerance: Boole's rule on 64
    /// intervals a stretch.
    #[test]
    fn law_the_mean_hoop_stress_is_what_equilibrium_demands(
        sections in any_wheel(), poisson in 0.2..0.45f64, gear_kg in 0.0..2.0f64, at in 0.0..1.2f64,
    ) {
        let rim = sections.last().unwrap().outer_radius_m();
        let gear = LineLoad { radius_m: rim * at, mass_kg: gear_kg };
        let disc = field(&sections, STEEL_KG_M3, poisson, &[gear]);
        let mean = disc.mean_tangential_pa(SPEED_RAD_S);
        let quadrature = mean_by_quadrature(&sections, &disc);
        prop_assert!((quadrature / mean - 1.0).abs() < 1e-11, "{quadrature} {mean}");
    }

    /// Cutting a section in two where nothing changes changes no stress. Tolerance: round-off of
    /// the series, relative to the greatest stress.
    #[test]
    fn law_splitting_a_section_changes_no_stress(sections in any_wheel(), share in 0.1..0.9f64) {
        let whole = steel_field(&sections);
        let first = sections[0];
        let cut = first.inner_radius_m()
            + share * (first.outer_radius_m() - first.inner_radius_m());
        let mut pieces = vec![
            section_between(first.inner_radius_m(), cut, first.thickness_inner_m(), first.thickness_at_m(cut)).unwrap(),
            section_between(cut, first.outer_radius_m(), first.thickness_at_m(cut), first.thickness_outer_m()).unwrap(),
        ];
        pieces.extend_from_slice(&sections[1..]);
        let split = steel_field(&pieces);
        let peak = whole.peak(1.0, |s| s.tangential_pa).unwrap().tangential_pa;
        for stress in whole.over_radius(1.0, 3) {
            let r = stress.radius_m;
            let side = if r < sections[0].outer_radius_m() { Side::Outside } else { Side::Inside };
            let (Some(one), Some(other)) = (whole.stress_at(r, side, 1.0), split.stress_at(r, side, 1.0)) else { continue };
            prop_assert!((one.radial_pa - other.radial_pa).abs() < 1e-10 * peak);
            prop_assert!((one.tangential_pa - other.tangential_pa).abs() < 1e-10 * peak);
        }
    }

    /// Bore and rim are free, and stress grows with the square of speed.
    #[test]
    fn law_edges_are_free_and_stress_goes_with_speed_squared(sections in any_wheel(), factor in 0.1..3.0f64) {
        let disc = steel_field(&sections);
        let peak = disc.peak(1.0, Stress::larger_pa).unwrap().larger_pa();
        let points = disc.over_radius(1.0, 2);
        let (bore, rim) = (points[0], points[points.len() - 1]);
        prop_assert!(rim.radial_pa.abs() < 1e-10 * peak);
        prop_assert!(bore.radius_m == 0.0 || bore.radial_pa.abs() < 1e-10 * peak);
        let faster = disc.peak(factor, Stress::larger_pa).unwrap().larger_pa();
        prop_assert!((faster / (peak * factor * factor) - 1.0).abs() < 1e-12);
    }

    /// No sample of the field is above the peak that was found.
    #[test]
    fn law_the_peak_is_the_peak(sections in any_wheel()) {
        let disc = steel_field(&sections);
        let peak = disc.peak(1.0, |s| s.tangential_pa).unwrap().tangential_pa;
        let sampled = disc
            .over_radius(1.0, 200)
            .iter()
            .map(|s| s.tangential_pa)
            .fold(f64::MIN, f64::max);
        prop_assert!(sampled <= peak * (1.0 + 1e-12));
    }
}
