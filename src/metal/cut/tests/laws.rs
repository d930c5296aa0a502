//! What a pass takes off.

use super::*;
use crate::car::inertia::MassProperties;
use crate::metal::profile::Profile;
use crate::random_cases::same_every_time;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// A band faced off is a flat ring: `m = ρπt(b²−a²)`, `J = m(a²+b²)/2` (Meriam & Kraige
/// table D/4, from memory). Tolerance: a difference of two numbers a hundred times as large.
#[test]
fn reference_a_faced_band_is_a_flat_ring() {
    let step = apply(&bare(), face(60.0, 100.0, 3.0), &rules()).unwrap();
    let (a, b) = (0.060_f64, 0.100_f64);
    let mass = STEEL_KG_M3 * std::f64::consts::PI * 0.003 * (b * b - a * a);
    let off = step.taken_off();
    assert_relative_eq!(off.mass_kg, mass, max_relative = 1e-11);
    assert_relative_eq!(
        off.inertia_kg_m2,
        mass * f64::midpoint(a * a, b * b),
        max_relative = 1e-11
    );
    assert_relative_eq!(
        step.gyration_m().unwrap(),
        f64::midpoint(a * a, b * b).sqrt(),
        max_relative = 1e-11
    );
    // A gram at 82.46 mm is worth 6.8e-6 kg·m².
    assert_relative_eq!(
        step.inertia_per_gram_kg_m2().unwrap(),
        6.8e-6,
        max_relative = 1e-11
    );
}

/// Six holes of 10.5 mm through 12 mm on PCD 220 take off six times 0.0081567919 kg and
/// 9.8809593e-5 kg·m² (recomputed, and by quadrature).
#[test]
fn reference_a_drilled_ring() {
    let ring = BuiltUp::new(
        NamedMetal::Steel.material().unwrap(),
        vec![section_mm(90.0, 130.0, 12.0, 12.0)],
        vec![],
        vec![],
        None,
    )
    .unwrap();
    let step = apply(&ring, drill(6, 10.5, 110.0, HoleDepth::Through), &rules()).unwrap();
    let off = step.taken_off();
    assert_relative_eq!(off.mass_kg, 6.0 * 0.008_156_791_9, max_relative = 1e-8);
    assert_relative_eq!(off.inertia_kg_m2, 6.0 * 9.880_959_3e-5, max_relative = 1e-8);
    assert_relative_eq!(step.after.mass_kg, 2.555_313_9, max_relative = 1e-7);
}

/// A rim turned down loses a flat ring.
#[test]
fn reference_a_turned_rim_is_a_flat_ring() {
    let step = apply(
        &bare(),
        Pass::TurnRim {
            radius_m: mm(125.0),
        },
        &rules(),
    )
    .unwrap();
    let ring = section_mm(125.0, 130.0, 24.0, 24.0).mass_properties(STEEL_KG_M3);
    assert_relative_eq!(step.taken_off().mass_kg, ring.mass_kg, max_relative = 1e-11);
    assert_relative_eq!(
        step.taken_off().inertia_kg_m2,
        ring.inertia_kg_m2,
        max_relative = 1e-11
    );
}

/// A taper leaves just the thickness asked for, straight from end to end.
#[test]
fn law_a_taper_leaves_what_was_asked_for() {
    let step = apply(&bare(), taper(60.0, 100.0, 12.0, 8.0), &rules()).unwrap();
    let profile = Profile::new(step.part.sections()).unwrap();
    for (radius_mm, thickness_mm) in [(60.0, 12.0), (70.0, 11.0), (99.0, 8.1)] {
        let side = crate::metal::profile::Side::Outside;
        let thickness = profile.thickness_at_m(radius_mm / 1e3, side).unwrap();
        assert_relative_eq!(thickness, thickness_mm / 1e3, max_relative = 1e-12);
    }
}

/// A band across a step takes the same depth off on both sides.
#[test]
fn law_a_band_may_cross_a_step() {
    let step = apply(&bare(), face(90.0, 120.0, 4.0), &rules()).unwrap();
    let ring = section_mm(90.0, 120.0, 4.0, 4.0).mass_properties(STEEL_KG_M3);
    assert_relative_eq!(step.taken_off().mass_kg, ring.mass_kg, max_relative = 1e-11);
    assert_eq!(step.part.sections().len(), 5);
}

/// The scales' factor stays with the wheel: what a cut takes off is scaled by it, and the factor
/// after is the factor before.
#[test]
fn law_the_weighing_factor_stays_with_the_wheel() {
    let drawn = bare().mass_properties().mass_kg;
    let weighed = wheel(vec![], Some(drawn * 1.02));
    let pass = face(60.0, 100.0, 3.0);
    let one = apply(&bare(), pass, &rules()).unwrap();
    let other = apply(&weighed, pass, &rules()).unwrap();
    assert_relative_eq!(
        other.part.weighing_factor(),
        weighed.weighing_factor(),
        max_relative = 1e-14
    );
    assert_relative_eq!(
        other.taken_off().inertia_kg_m2,
        one.taken_off().inertia_kg_m2 * 1.02,
        max_relative = 1e-10
    );
}

/// Two passes in one go are one pass after the other.
#[test]
fn law_passes_follow_one_another() {
    let passes = [
        face(60.0, 100.0, 3.0),
        drill(8, 12.0, 80.0, HoleDepth::Through),
    ];
    let steps = apply_all(&bare(), &passes, &rules()).unwrap();
    assert_eq!(steps[0].after, steps[1].before);
    let first = apply(&bare(), passes[0], &rules()).unwrap();
    let second = apply(&first.part, passes[1], &rules()).unwrap();
    assert_eq!(steps[1].part, second.part);
}

#[test]
fn law_the_refused_pass_is_named_by_its_number() {
    let passes = [face(60.0, 100.0, 3.0), face(60.0, 100.0, 30.0)];
    let refused = apply_all(&bare(), &passes, &rules()).unwrap_err();
    assert_eq!(refused.number, 2);
    assert!(matches!(refused.refusal, CutRefusal::TooThin { .. }));
}

/// Facing across through holes shortens them with the metal: what comes off is the band less
/// the holes' share of it.
#[test]
fn law_holes_that_may_be_faced_get_shorter_with_the_metal() {
    let lenient = ShopRules {
        bolt_circles: BoltCircles::MayBeFaced,
        ..rules()
    };
    let step = apply(&bare(), face(20.0, 50.0, 2.0), &lenient).unwrap();
    let ring = section_mm(20.0, 50.0, 2.0, 2.0).mass_properties(STEEL_KG_M3);
    let holes = HoleRing {
        depth_m: mm(2.0),
        ..crank_holes()
    }
    .taken_out(STEEL_KG_M3);
    assert_relative_eq!(
        step.taken_off().mass_kg,
        ring.mass_kg - holes.mass_kg,
        max_relative = 1e-11
    );
    assert!(
        step.notes
            .iter()
            .any(|note| matches!(note, CutNote::HolesFaced { .. }))
    );
}

#[test]
fn law_a_cut_under_the_ring_gear_is_told() {
    let step = apply(
        &wheel(vec![ring_gear()], None),
        face(120.0, 130.0, 4.0),
        &rules(),
    )
    .unwrap();
    let [CutNote::SeatNarrowed { name, left_m }] = step.notes.as_slice() else {
        panic!("{:?}", step.notes);
    };
    assert_eq!(name, "ring gear");
    assert_relative_eq!(*left_m, 0.020, max_relative = 1e-12);
}

prop_compose! {
    fn any_pass()(
        kind in 0..4u8,
        inner in 10.0..125.0f64,
        width in 0.5..60.0f64,
        depth in 0.01..20.0f64,
        other in 1.0..25.0f64,
        number in 1..20u32,
        through in any::<bool>(),
    ) -> Pass {
        match kind {
            0 => face(inner, inner + width, depth),
            1 => taper(inner, inner + width, depth, other),
            2 => Pass::TurnRim { radius_m: mm(inner + 10.0) },
            _ => drill(number, width / 2.0, inner, if through { HoleDepth::Through } else { HoleDepth::Blind(mm(depth)) }),
        }
    }
}

fn no_more(after: f64, before: f64) -> bool {
    after <= before * (1.0 + 1e-12)
}

proptest! {
    #![proptest_config(same_every_time(256))]

    /// No pass, made or refused, in any order, under any rules, ever adds mass or inertia, and
    /// what is left is always metal. Tolerance: round-off of splitting sections.
    #[test]
    fn law_no_pass_ever_adds_mass_or_inertia(
        passes in prop::collection::vec(any_pass(), 1..8),
        weighed in prop::option::of(6.0..9.0f64),
        lenient in any::<bool>(),
    ) {
        let shop = ShopRules {
            bolt_circles: if lenient { BoltCircles::MayBeFaced } else { BoltCircles::KeepOff },
            ..rules()
        };
        let mut part = wheel(vec![cover_bolts()], weighed);
        for pass in passes {
            let Ok(step) = apply(&part, pass, &shop) else { continue };
            prop_assert!(no_more(step.after.mass_kg, step.before.mass_kg));
            prop_assert!(no_more(step.after.inertia_kg_m2, step.before.inertia_kg_m2));
            prop_assert!(step.after.mass_kg > 0.0 && step.after.inertia_kg_m2 > 0.0);
            part = step.part;
        }
    }

    /// A pass made tells the same of the metal taken off whether its band lies in one section
    /// or in the same section drawn in two.
    #[test]
    fn law_splitting_the_drawing_changes_no_pass(share in 0.1..0.9f64, depth in 0.1..5.0f64) {
        let whole = section_mm(20.0, 130.0, 20.0, 14.0);
        let cut = 20.0 + share * 110.0;
        let t = 20.0 - 6.0 * share;
        let build = |sections: Vec<Section>| BuiltUp::new(NamedMetal::Steel.material().unwrap(), sections, vec![], vec![], None).unwrap();
        let off = |part: &BuiltUp| apply(part, face(50.0, 100.0, depth), &rules()).unwrap().taken_off();
        let MassProperties { mass_kg, inertia_kg_m2 } = off(&build(vec![whole]));
        let other = off(&build(vec![section_mm(20.0, cut, 20.0, t), section_mm(cut, 130.0, t, 14.0)]));
        prop_assert!((mass_kg / other.mass_kg - 1.0).abs() < 1e-10);
        prop_assert!((inertia_kg_m2 / other.inertia_kg_m2 - 1.0).abs() < 1e-10);
    }
}
