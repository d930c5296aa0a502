use super::*;
use crate::car::inertia::{Extra, ExtraPlace};
use crate::car::material::{Failure, Material, NamedMetal};
use crate::metal::profile::section_between;
use crate::random_cases::same_every_time;
use approx::assert_relative_eq;
use proptest::prelude::*;

fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

fn band(inner_m: f64, outer_m: f64) -> Band {
    Band::new(NonNegative::new(inner_m).unwrap(), positive(outer_m)).unwrap()
}

fn rules() -> ShopRules {
    ShopRules::usual(None).unwrap()
}

fn wheel_of(material: Material, weighed_kg: Option<f64>, extras: Vec<Extra>) -> BuiltUp {
    let sections = [
        (0.018, 0.055, 0.014, 0.014),
        (0.055, 0.105, 0.018, 0.014),
        (0.105, 0.130, 0.024, 0.024),
    ]
    .map(|(a, b, ta, tb)| section_between(a, b, ta, tb).unwrap());
    BuiltUp::new(
        material,
        sections.to_vec(),
        vec![],
        extras,
        weighed_kg.map(positive),
    )
    .unwrap()
}

fn wheel(weighed_kg: Option<f64>) -> BuiltUp {
    wheel_of(NamedMetal::Steel.material().unwrap(), weighed_kg, vec![])
}

/// An invented steel of a given yield strength, Pa.
fn steel(yield_pa: f64) -> Material {
    Material {
        name: "steel, invented strengths".into(),
        density_kg_m3: positive(7850.0),
        yield_pa: Some(positive(yield_pa)),
        tensile_pa: Some(positive(yield_pa * 1.5)),
        poisson: Some(0.3),
        modulus_pa: None,
        failure: Failure::Ductile,
    }
}

fn web() -> OpenCut {
    OpenCut::BandDepth {
        band: band(0.060, 0.100),
        face: Face::Engine,
    }
}

fn holes() -> OpenCut {
    OpenCut::HoleDiameter {
        count: NonZeroU32::new(8).unwrap(),
        pitch_radius_m: positive(0.080),
        depth: HoleDepth::Through,
    }
}

fn mass(kg: f64) -> Target {
    Target::MassKg(positive(kg))
}

/// 200 g off a band of 60 to 100 mm radius in steel is 1.2672 mm deep:
/// `m/(ρπ(b²−a²))`. Tolerance: the mass it was found by is forty times as large.
#[test]
fn reference_depth_of_a_band_for_a_target_mass() {
    let part = wheel(None);
    let target = part.mass_properties().mass_kg - 0.2;
    let reached = reach(&part, web(), mass(target), &rules(), None).unwrap();
    let Pass::FaceBand { depth_m, .. } = reached.step.pass else {
        panic!("{:?}", reached.step.pass);
    };
    let expected = 0.2 / (7850.0 * std::f64::consts::PI * (0.01 - 0.0036));
    assert_relative_eq!(depth_m.get(), expected, max_relative = 1e-12);
}

/// Of a weighed wheel the target is by the scales.
#[test]
fn law_a_target_mass_is_by_the_scales() {
    let part = wheel(Some(7.0));
    let reached = reach(&part, web(), mass(6.8), &rules(), None).unwrap();
    assert_relative_eq!(reached.step.after.mass_kg, 6.8, max_relative = 1e-14);
    assert_relative_eq!(reached.step.taken_off().mass_kg, 0.2, max_relative = 1e-12);
}

#[test]
fn law_a_target_beyond_the_rules_says_what_stops_it_and_how_far_it_goes() {
    let part = wheel(None);
    let refusal = reach(&part, web(), mass(3.0), &rules(), None).unwrap_err();
    let TargetRefusal::OutOfReach {
        reason, furthest, ..
    } = refusal
    else {
        panic!("{refusal:?}");
    };
    assert!(matches!(reason, CutRefusal::TooThin { .. }), "{reason:?}");
    let Pass::FaceBand { depth_m, .. } = furthest.pass else {
        panic!("{:?}", furthest.pass);
    };
    // The web is 14.4 mm thick at 100 mm, of which 6 must stay.
    assert_relative_eq!(depth_m.get(), 0.0084, max_relative = 1e-9);

    let refusal = reach(&part, holes(), mass(3.0), &rules(), None).unwrap_err();
    assert!(matches!(refusal, TargetRefusal::OutOfReach { .. }));
}

#[test]
fn law_a_wheel_at_its_target_is_left_alone() {
    let part = wheel(None);
    let now = part.mass_properties().mass_kg;
    for target in [now, now + 1.0] {
        assert!(matches!(
            reach(&part, web(), mass(target), &rules(), None),
            Err(TargetRefusal::NothingToTake { .. })
        ));
    }
}

#[test]
fn law_a_cut_that_cannot_begin_is_refused_at_once() {
    let part = wheel_of(
        NamedMetal::Steel.material().unwrap(),
        None,
        vec![Extra {
            name: "ring gear".into(),
            mass_kg: positive(0.85),
            place: ExtraPlace::Gyration(positive(0.131)),
        }],
    );
    assert!(matches!(
        reach(&part, OpenCut::RimRadius, mass(5.0), &rules(), None),
        Err(TargetRefusal::NoSuchCut(CutRefusal::SeatCutAway { .. }))
    ));
}

/// The disc check has its say: the same cut passes in a strong steel, is forbidden in a weak
/// one, and is left unjudged in one whose strength nobody gave.
#[test]
fn law_the_disc_check_may_forbid_a_cut() {
    let demand = DiscDemand::at_limiter(positive(900.0)).unwrap();
    let outcome = |material: Material| {
        reach(
            &wheel_of(material, None, vec![]),
            holes(),
            mass(6.0),
            &rules(),
            Some(&demand),
        )
    };
    assert!(matches!(
        outcome(steel(800e6)).unwrap().disc,
        DiscOutcome::Passed(_)
    ));
    assert!(matches!(
        outcome(steel(60e6)),
        Err(TargetRefusal::DiscForbids { .. })
    ));
    assert!(matches!(
        outcome(NamedMetal::Steel.material().unwrap()).unwrap().disc,
        DiscOutcome::NotJudged(Refusal::Missing(_))
    ));
}

prop_compose! {
    fn any_cut()(kind in 0..3u8, inner in 0.020..0.090f64, width in 0.005..0.040f64, number in 1..12u32, pitch in 0.065..0.095f64) -> OpenCut {
        match kind {
            0 => OpenCut::BandDepth { band: band(inner, inner + width), face: Face::Engine },
            1 => OpenCut::HoleDiameter {
                count: NonZeroU32::new(number).unwrap(),
                pitch_radius_m: positive(pitch),
                depth: HoleDepth::Through,
            },
            _ => OpenCut::RimRadius,
        }
    }
}

proptest! {
    #![proptest_config(same_every_time(128))]

    /// There and back: the dimension found, cut as a pass, gives the target; and a pass, its mass
    /// and inertia taken as targets, is found again. Tolerance: the dimension comes from a
    /// difference of masses up to 1e5 times as large.
    #[test]
    fn law_pass_and_inverse_are_each_others_mirror(open in any_cut(), share in 0.05..0.95f64) {
        let part = wheel(Some(7.0));
        let target = 7.0 * 0.2;
        let furthest = match reach(&part, open, mass(target), &rules(), None) {
            Ok(reached) => reached.step,
            Err(TargetRefusal::OutOfReach { furthest, .. }) => *furthest,
            Err(_) => return Ok(()),
        };
        let size = |pass: Pass| match pass {
            Pass::FaceBand { depth_m, .. } => depth_m.get(),
            Pass::Drill { diameter_m, .. } => diameter_m.get(),
            Pass::TurnRim { radius_m } => 0.130 - radius_m.get(),
            Pass::TaperWeb { .. } => unreachable!(),
        };
        let asked = share * size(furthest.pass);
        let made = apply(&part, open.pass(&part, asked).unwrap(), &rules()).unwrap();
        for target in [
            mass(made.after.mass_kg),
            Target::InertiaKgM2(NonNegative::new(made.after.inertia_kg_m2).unwrap()),
        ] {
            let found = reach(&part, open, target, &rules(), None).unwrap().step;
            prop_assert!((size(found.pass) / asked - 1.0).abs() < 1e-8, "{open:?} {asked}");
            prop_assert!((target.of(&found.after) / target.value() - 1.0).abs() < 1e-14);
        }
    }
}
