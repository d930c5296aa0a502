use super::*;
use crate::car::material::NamedMetal;
use crate::random_cases::same_every_time;
use approx::assert_relative_eq;
use proptest::prelude::*;

const STEEL_KG_M3: f64 = 7850.0;
/// The reference figures carry eight digits.
const EIGHT_DIGITS: f64 = 1e-7;

fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

fn section_mm(inner_d: f64, outer_d: f64, ti: f64, to: f64) -> Section {
    Section::new(
        NonNegative::new(inner_d / 2e3).unwrap(),
        positive(outer_d / 2e3),
        NonNegative::new(ti / 1e3).unwrap(),
        NonNegative::new(to / 1e3).unwrap(),
    )
    .unwrap()
}

/// Disc D300 t20 and annulus OD260 ID40 t25 in steel: closed forms of any mechanics
/// text (Meriam & Kraige table D/4, from memory), figures recomputed.
#[test]
fn reference_disc_and_annulus() {
    let disc = section_mm(0.0, 300.0, 20.0, 20.0).mass_properties(STEEL_KG_M3);
    assert_relative_eq!(disc.mass_kg, 11.097_676, max_relative = EIGHT_DIGITS);
    assert_relative_eq!(
        disc.inertia_kg_m2,
        0.124_848_86,
        max_relative = EIGHT_DIGITS
    );
    let annulus = section_mm(40.0, 260.0, 25.0, 25.0).mass_properties(STEEL_KG_M3);
    assert_relative_eq!(annulus.mass_kg, 10.172_870, max_relative = EIGHT_DIGITS);
    assert_relative_eq!(
        annulus.inertia_kg_m2,
        0.087_995_323,
        max_relative = EIGHT_DIGITS
    );
}

/// Ring OD260 ID180 t12 with six holes d10.5 on PCD 220 (recomputed, and by quadrature).
#[test]
fn reference_ring_with_holes() {
    let ring = section_mm(180.0, 260.0, 12.0, 12.0);
    let holes = HoleRing {
        count: NonZeroU32::new(6).unwrap(),
        diameter_m: positive(0.0105),
        depth_m: positive(0.012),
        pitch_radius_m: NonNegative::new(0.110).unwrap(),
    };
    let left = ring.mass_properties(STEEL_KG_M3) + holes.taken_out(STEEL_KG_M3) * -1.0;
    assert_relative_eq!(left.mass_kg, 2.555_313_9, max_relative = EIGHT_DIGITS);
    assert_relative_eq!(
        left.inertia_kg_m2,
        0.031_960_326,
        max_relative = EIGHT_DIGITS
    );
}

/// A frustum R60 r30 h50 is a flat core and a taper to nothing:
/// J = 0.3 m (R⁵−r⁵)/(R³−r³), m = πρh(R²+Rr+r²)/3 (recomputed).
#[test]
fn reference_frustum_as_core_and_taper() {
    let core = section_mm(0.0, 60.0, 50.0, 50.0).mass_properties(STEEL_KG_M3);
    let taper = section_mm(60.0, 120.0, 50.0, 0.0).mass_properties(STEEL_KG_M3);
    let whole = core + taper;
    assert_relative_eq!(whole.mass_kg, 2.589_457_7, max_relative = EIGHT_DIGITS);
    assert_relative_eq!(
        whole.inertia_kg_m2,
        0.003_096_251_6,
        max_relative = EIGHT_DIGITS
    );
}

#[test]
fn law_weighing_scales_mass_and_inertia_alike() {
    let build = |weighed| {
        BuiltUp::new(
            NamedMetal::Steel.material().unwrap(),
            vec![section_mm(40.0, 260.0, 25.0, 20.0)],
            vec![],
            vec![Extra {
                name: "ring gear".into(),
                mass_kg: positive(0.85),
                place: ExtraPlace::Gyration(positive(0.131)),
            }],
            weighed,
        )
        .unwrap()
    };
    let drawn = build(None).mass_properties();
    let weighed = build(Some(positive(drawn.mass_kg * 1.02))).mass_properties();
    assert_relative_eq!(
        weighed.inertia_kg_m2,
        drawn.inertia_kg_m2 * 1.02,
        max_relative = 1e-12
    );
}

#[test]
fn law_holes_beyond_the_metal_are_refused() {
    let result = BuiltUp::new(
        NamedMetal::Steel.material().unwrap(),
        vec![section_mm(40.0, 60.0, 5.0, 5.0)],
        vec![HoleRing {
            count: NonZeroU32::new(50).unwrap(),
            diameter_m: positive(0.01),
            depth_m: positive(0.005),
            pitch_radius_m: NonNegative::new(0.025).unwrap(),
        }],
        vec![],
        None,
    );
    assert!(matches!(result, Err(PartError::MoreHoleThanMetal { .. })));
}

prop_compose! {
    fn any_section()(inner in 0.0..200.0f64, width in 0.5..150.0f64, ti in 0.0..40.0f64, to in 0.1..40.0f64) -> Section {
        section_mm(inner, inner + width, ti, to)
    }
}

proptest! {
    #![proptest_config(same_every_time(256))]

    /// Cutting a section in two at any radius changes neither mass nor inertia.
    /// Tolerance: round-off of a handful of products.
    #[test]
    fn law_splitting_a_section_changes_nothing(section in any_section(), share in 0.05..0.95f64) {
        let (a, b) = (section.inner_radius_m(), section.outer_radius_m());
        let cut = a + share * (b - a);
        let t = section.thickness_at_m(cut);
        let inner = section_mm(a * 2e3, cut * 2e3, section.thickness_inner_m() * 1e3, t * 1e3);
        let outer = section_mm(cut * 2e3, b * 2e3, t * 1e3, section.thickness_outer_m() * 1e3);
        let whole = section.mass_properties(STEEL_KG_M3);
        let parts = inner.mass_properties(STEEL_KG_M3) + outer.mass_properties(STEEL_KG_M3);
        prop_assert!((whole.mass_kg - parts.mass_kg).abs() <= 1e-11 * whole.mass_kg);
        prop_assert!((whole.inertia_kg_m2 - parts.inertia_kg_m2).abs() <= 1e-11 * whole.inertia_kg_m2);
    }

    /// More metal anywhere never means less mass or less inertia.
    #[test]
    fn law_more_metal_never_means_less_inertia(section in any_section(), more in 0.0..10.0f64) {
        let thicker = section_mm(
            section.inner_radius_m() * 2e3,
            section.outer_radius_m() * 2e3,
            section.thickness_inner_m() * 1e3 + more,
            section.thickness_outer_m() * 1e3 + more,
        );
        let (was, is) = (section.mass_properties(STEEL_KG_M3), thicker.mass_properties(STEEL_KG_M3));
        prop_assert!(was.mass_kg > 0.0 && was.inertia_kg_m2 > 0.0);
        prop_assert!(is.mass_kg >= was.mass_kg * (1.0 - 1e-12));
        prop_assert!(is.inertia_kg_m2 >= was.inertia_kg_m2 * (1.0 - 1e-12));
    }
}
