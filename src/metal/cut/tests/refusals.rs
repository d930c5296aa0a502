//! What a shop would not cut, and that the place is named.

use super::*;

fn refused(part: &BuiltUp, pass: Pass, rules: &ShopRules) -> CutRefusal {
    apply(part, pass, rules).unwrap_err()
}

#[test]
fn law_a_cut_outside_the_metal_is_refused() {
    let refusal = refused(&bare(), face(120.0, 140.0, 2.0), &rules());
    assert_eq!(
        refusal,
        CutRefusal::OutsideMetal {
            from_m: 0.130,
            to_m: 0.140
        }
    );
    for pass in [
        face(10.0, 25.0, 2.0),
        taper(100.0, 131.0, 8.0, 8.0),
        drill(6, 5.0, 140.0, HoleDepth::Through),
        Pass::TurnRim { radius_m: mm(15.0) },
    ] {
        assert!(matches!(
            refused(&bare(), pass, &rules()),
            CutRefusal::OutsideMetal { .. }
        ));
    }
}

#[test]
fn law_a_cut_deeper_than_the_metal_is_refused_where_it_is_thinnest() {
    let refusal = refused(&bare(), face(60.0, 100.0, 9.0), &rules());
    let CutRefusal::TooThin {
        place,
        radius_m,
        left_m,
        least_m,
    } = refusal
    else {
        panic!("{refusal:?}");
    };
    assert_eq!(place, Place::Web);
    assert!((radius_m - 0.100).abs() < 1e-12);
    assert!((left_m - 0.0054).abs() < 1e-12);
    assert!((least_m - LEAST_WEB_M).abs() < 1e-15);
    // Right through and out on the other side.
    assert!(matches!(
        refused(&bare(), face(60.0, 100.0, 40.0), &rules()),
        CutRefusal::TooThin { left_m, .. } if left_m < 0.0
    ));
}

/// What must be left is the shop's to say.
#[test]
fn law_the_least_thickness_can_be_changed() {
    let thin = ShopRules {
        least_web_m: mm(3.0),
        ..rules()
    };
    assert!(apply(&bare(), face(60.0, 100.0, 9.0), &thin).is_ok());
}

#[test]
fn law_a_taper_never_adds_metal() {
    let refusal = refused(&bare(), taper(60.0, 100.0, 19.0, 10.0), &rules());
    assert!(
        matches!(refusal, CutRefusal::AddsMetal { radius_m, .. } if (radius_m - 0.06).abs() < 1e-12)
    );
    // Straight between two good ends, but higher than the step in between.
    let refusal = refused(&bare(), taper(60.0, 120.0, 17.0, 17.0), &rules());
    assert!(matches!(refusal, CutRefusal::AddsMetal { .. }));
}

#[test]
fn law_the_clutch_face_is_never_cut() {
    let shop = rules_with_face(67.5, 100.0);
    let front = |inner, outer| Pass::FaceBand {
        band: band(inner, outer),
        depth_m: mm(1.0),
        face: Face::Clutch,
    };
    assert_eq!(
        refused(&bare(), front(90.0, 104.0), &shop),
        CutRefusal::IntoClutchFace {
            inner_m: 0.0675,
            outer_m: 0.100
        }
    );
    assert!(apply(&bare(), front(101.0, 104.0), &shop).is_ok());
    assert_eq!(
        refused(&bare(), front(90.0, 104.0), &rules()),
        CutRefusal::ClutchFaceNotTold
    );
    assert!(matches!(
        refused(&bare(), drill(6, 8.0, 80.0, HoleDepth::Through), &shop),
        CutRefusal::IntoClutchFace { .. }
    ));
    assert!(matches!(
        refused(&bare(), Pass::TurnRim { radius_m: mm(99.0) }, &shop),
        CutRefusal::IntoClutchFace { .. }
    ));
}

/// From behind, more metal must stay under the clutch face than in a web.
#[test]
fn law_more_must_stay_under_the_clutch_face() {
    let shop = rules_with_face(67.5, 100.0);
    assert!(apply(&bare(), face(60.0, 100.0, 6.0), &rules()).is_ok());
    assert!(matches!(
        refused(&bare(), face(60.0, 100.0, 6.0), &shop),
        CutRefusal::TooThin {
            place: Place::UnderClutchFace,
            ..
        }
    ));
    assert!(matches!(
        refused(
            &bare(),
            drill(6, 8.0, 80.0, HoleDepth::Blind(mm(8.0))),
            &shop
        ),
        CutRefusal::TooThin {
            place: Place::UnderClutchFace,
            ..
        }
    ));
}

#[test]
fn law_bolt_circles_are_kept_off() {
    assert!(matches!(
        refused(&bare(), face(30.0, 50.0, 2.0), &rules()),
        CutRefusal::ThroughHoles { pitch_radius_m } if (pitch_radius_m - 0.032).abs() < 1e-12
    ));
    let bolted = wheel(vec![cover_bolts()], None);
    assert!(matches!(
        refused(&bolted, face(106.0, 125.0, 2.0), &rules()),
        CutRefusal::ThroughBolts { name, .. } if name == "cover bolts"
    ));
    for pitch in [30.0, 40.0] {
        assert!(matches!(
            refused(&bare(), drill(6, 6.0, pitch, HoleDepth::Through), &rules()),
            CutRefusal::ThroughHoles { .. } | CutRefusal::HolesAtEdge { .. }
        ));
    }
    assert!(matches!(
        refused(&bolted, drill(12, 8.0, 116.0, HoleDepth::Through), &rules()),
        CutRefusal::ThroughBolts { .. }
    ));
}

/// A band that ends within a hole leaves half a hole, whatever the rules.
#[test]
fn law_half_a_hole_is_refused() {
    let lenient = ShopRules {
        bolt_circles: BoltCircles::MayBeFaced,
        ..rules()
    };
    assert!(matches!(
        refused(&bare(), face(32.0, 50.0, 2.0), &lenient),
        CutRefusal::ThroughHoles { .. }
    ));
}

#[test]
fn law_holes_that_overlap_are_refused() {
    let refusal = refused(&bare(), drill(30, 18.0, 80.0, HoleDepth::Through), &rules());
    assert!(matches!(
        refusal,
        CutRefusal::HolesTooClose { land_m, .. } if land_m < 0.0
    ));
    // A second ring on the same circle: the drawing does not tell at what angle it sits.
    let first = apply(&bare(), drill(4, 8.0, 80.0, HoleDepth::Through), &rules()).unwrap();
    assert!(matches!(
        refused(
            &first.part,
            drill(4, 8.0, 82.0, HoleDepth::Through),
            &rules()
        ),
        CutRefusal::ThroughHoles { .. }
    ));
}

#[test]
fn law_holes_stay_off_edges_and_steps() {
    assert!(matches!(
        refused(
            &bare(),
            drill(8, 8.0, 123.0, HoleDepth::Through),
            &rules()
        ),
        CutRefusal::HolesAtEdge { edge_m, .. } if (edge_m - 0.130).abs() < 1e-12
    ));
    assert!(matches!(
        refused(
            &bare(),
            drill(8, 8.0, 104.0, HoleDepth::Through),
            &rules()
        ),
        CutRefusal::HolesAcrossStep { step_m } if (step_m - 0.105).abs() < 1e-12
    ));
}

/// A joint of two sections where the thickness does not jump is no step.
#[test]
fn law_a_joint_is_no_step() {
    let first = apply(&bare(), taper(60.0, 80.0, 14.0, 12.0), &rules()).unwrap();
    let both = apply(&first.part, taper(80.0, 100.0, 12.0, 10.0), &rules()).unwrap();
    assert!(
        apply(
            &both.part,
            drill(8, 8.0, 80.0, HoleDepth::Through),
            &rules()
        )
        .is_ok()
    );
}

#[test]
fn law_the_ring_gear_keeps_its_seat() {
    let geared = wheel(vec![ring_gear()], None);
    let refusal = refused(
        &geared,
        Pass::TurnRim {
            radius_m: mm(128.0),
        },
        &rules(),
    );
    assert_eq!(
        refusal,
        CutRefusal::SeatCutAway {
            name: "ring gear".into(),
            radius_m: 0.131,
            rim_m: 0.128
        }
    );
    assert!(matches!(
        refused(
            &bare(),
            Pass::TurnRim {
                radius_m: mm(130.0)
            },
            &rules()
        ),
        CutRefusal::NothingToTurn { .. }
    ));
}

#[test]
fn law_a_drawing_that_overlaps_is_not_cut() {
    let doubled = BuiltUp::new(
        NamedMetal::Steel.material().unwrap(),
        vec![
            section_mm(20.0, 60.0, 14.0, 14.0),
            section_mm(50.0, 130.0, 14.0, 14.0),
        ],
        vec![],
        vec![],
        None,
    )
    .unwrap();
    assert!(matches!(
        refused(&doubled, face(70.0, 100.0, 2.0), &rules()),
        CutRefusal::Overlap(_)
    ));
}

/// Every refusal says what is wrong in words that a machinist knows.
#[test]
fn law_every_refusal_has_words() {
    let refusal = refused(&bare(), face(60.0, 100.0, 9.0), &rules());
    assert_eq!(
        refusal.to_string(),
        "too little metal would be left in the web"
    );
}
