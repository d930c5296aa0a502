//! Doubts, refusals and the three-way check.

use super::*;
use crate::car::inertia::MassProperties;

fn analysed(change: impl Fn(&mut SwingMeasurement)) -> SwingAnalysis {
    let mut test = measurement();
    change(&mut test);
    test.analyse().unwrap()
}

fn failed(change: impl Fn(&mut SwingMeasurement)) -> SwingFailure {
    let mut test = measurement();
    change(&mut test);
    test.analyse().unwrap_err()
}

#[test]
fn law_a_careful_test_has_no_doubts() {
    assert_eq!(analysed(|_| ()).warnings, []);
}

#[test]
fn law_what_deserves_a_second_look_is_said() {
    let untold = analysed(|test| test.amplitude = Amplitude::NotTold);
    assert!(untold.warnings.contains(&SwingWarning::AmplitudeNotTold));
    let large = analysed(|test| test.amplitude = Amplitude::Told(Measured::exact(0.3)));
    assert!(large.warnings.contains(&SwingWarning::LargeAmplitude(0.3)));
    let heavy = analysed(|test| {
        test.platform.as_mut().unwrap().mass_kg = Measured::standard(6.0, 0.01);
    });
    assert!(matches!(
        heavy.warnings.as_slice(),
        [SwingWarning::HeavyPlatform { share }] if *share > 0.5
    ));
}

/// One swing too few counted between two splits is found where it happened.
#[test]
fn law_a_miscount_is_found() {
    let times = |swing: u32| 2.468 * f64::from(if swing > 20 { swing + 1 } else { swing });
    let readings: Vec<(u32, f64)> = (0..=8).map(|i| (5 * i, times(5 * i))).collect();
    let result = analysed(|test| test.timing = splits(&readings));
    assert!(
        result
            .warnings
            .contains(&SwingWarning::Miscounted { swing: 25 })
    );
    assert_eq!(result.period.miscounted_at, [25]);
}

/// A press that was said to scatter less than the splits do is not believed: the uncertainty is
/// the splits' own. One that was said to scatter more is.
#[test]
fn law_the_larger_scatter_counts() {
    let readings = [(0, 0.0), (5, 12.6), (10, 24.5), (15, 37.2), (20, 49.3)];
    let told = |reaction: f64| {
        let Timing::Splits { splits, .. } = splits(&readings) else {
            panic!("not splits");
        };
        Timing::Splits {
            splits,
            reaction_sd_s: Some(positive(reaction)),
        }
    };
    let small = analysed(|test| test.timing = told(0.01));
    let own = analysed(|test| test.timing = splits(&readings));
    let large = analysed(|test| test.timing = told(1.0));
    assert_eq!(small.period.period_s, own.period.period_s);
    assert!(large.period.period_s.uncertainty > own.period.period_s.uncertainty);
    assert!(
        small
            .warnings
            .iter()
            .any(|warning| matches!(warning, SwingWarning::ScatterAboveReaction { .. }))
    );
}

#[test]
fn law_what_cannot_be_is_refused() {
    assert_eq!(
        failed(|test| test.radius_m = Measured::exact(0.0)),
        SwingFailure::NotPositive(Quantity::CordRadius)
    );
    assert_eq!(
        failed(|test| test.mass_kg = Measured::exact(f64::NAN)),
        SwingFailure::NotPositive(Quantity::PartMass)
    );
    assert!(matches!(
        failed(|test| test.amplitude = Amplitude::Told(Measured::exact(1.0))),
        SwingFailure::AmplitudeOutOfRange { .. }
    ));
    assert!(matches!(
        failed(|test| test.platform.as_mut().unwrap().timing = counted(50, 600.0)),
        SwingFailure::NoInertiaLeft { .. }
    ));
    assert_eq!(
        failed(|test| test.timing = splits(&[(0, 0.0), (5, 10.0)])),
        SwingFailure::Timing(TimingError::TooFewSplits(2))
    );
    for wrong in [
        [(0, 0.0), (5, 12.0), (5, 24.0)],
        [(0, 0.0), (5, 12.0), (10, 11.0)],
        [(0, 0.0), (5, 12.0), (10, f64::NAN)],
    ] {
        assert!(matches!(
            failed(|test| test.timing = splits(&wrong)),
            SwingFailure::Timing(TimingError::OutOfOrder { .. })
        ));
    }
}

/// Without a platform the radius of gyration owes nothing to the scales.
#[test]
fn law_the_radius_of_gyration_does_not_lean_on_the_scales() {
    let result = analysed(|test| test.platform = None);
    let of_mass = |contributions: &[crate::numerics::uncertainty::Contribution<Quantity>]| {
        contributions
            .iter()
            .find(|c| c.input == Quantity::PartMass)
            .unwrap()
            .uncertainty
    };
    assert!(of_mass(&result.gyration_m.contributions) < 1e-12);
    assert!(of_mass(&result.inertia_kg_m2.contributions) > 1e-6);
}

/// Improving the input at the head of the list helps more than improving any other.
#[test]
fn law_the_head_of_the_list_is_what_to_improve_first() {
    let base = analysed(|_| ());
    let head = base.inertia_kg_m2.contributions[0].input;
    assert_eq!(head, Quantity::CordRadius);
    let better =
        |change: fn(&mut SwingMeasurement)| analysed(change).inertia_kg_m2.result.uncertainty;
    let radius = better(|test| test.radius_m.uncertainty /= 2.0);
    for other in [
        better(|test| test.length_m.uncertainty /= 2.0),
        better(|test| test.mass_kg.uncertainty /= 2.0),
        better(|test| test.gravity_m_s2.uncertainty /= 2.0),
        better(|test| test.timing = counted(100, 61.7 * 4.0)),
    ] {
        assert!(radius < other);
    }
}

#[test]
fn law_agreement_is_a_matter_of_the_uncertainties() {
    let value = |value: f64, u: f64| Measured::standard(value, u);
    let near = agreement(&value(1.00, 0.02), &value(1.04, 0.02), ninety_five());
    let far = agreement(&value(1.00, 0.005), &value(1.04, 0.005), ninety_five());
    assert!(near.holds() && !far.holds());
    // 0.04 / (1.95996 · 0.02 · √2)
    assert!((near.en_number - 0.721_5).abs() < 1e-4);
    let exact = agreement(&Measured::exact(1.0), &Measured::exact(1.0), ninety_five());
    assert!(exact.holds());
    let other = agreement(&Measured::exact(1.0), &Measured::exact(2.0), ninety_five());
    assert!(!other.holds());
}

/// Drawing off in density, radii, hub; swing off in cord circle: each gives its own verdict.
#[test]
fn law_three_ways_of_knowing_tell_who_stands_alone() {
    let mut careful = measurement();
    careful.radius_m.uncertainty = 0.0001;
    let swing = careful.analyse().unwrap();
    let true_inertia = swing.inertia_kg_m2.result.value;
    let scales = careful.mass_kg;
    let tight = DrawingTrust {
        mass_share: 0.005,
        gyration_share: 0.005,
    };
    let verdict = |mass_kg: f64, inertia_kg_m2: f64, swing: &SwingAnalysis| {
        let drawing = MassProperties {
            mass_kg,
            inertia_kg_m2,
        };
        three_way(&drawing, tight, &scales, swing, ninety_five()).verdict
    };
    assert_eq!(
        verdict(6.9, true_inertia, &swing),
        ThreeWayVerdict::AllAgree
    );
    assert_eq!(
        verdict(6.9 * 1.06, true_inertia * 1.06, &swing),
        ThreeWayVerdict::DrawingOrScalesOffInMass
    );
    assert_eq!(
        verdict(6.9, true_inertia * 1.08, &swing),
        ThreeWayVerdict::SwingOrShapeOff
    );
    assert_eq!(
        verdict(6.9 * 1.06, true_inertia, &swing),
        ThreeWayVerdict::OffNearHub
    );
    assert_eq!(
        verdict(6.9 * 1.06, true_inertia * 1.15, &swing),
        ThreeWayVerdict::NoTwoAgree
    );
    careful.radius_m.uncertainty = 0.01;
    let coarse = careful.analyse().unwrap();
    assert_eq!(
        verdict(6.9 * 1.06, true_inertia * 1.06, &coarse),
        ThreeWayVerdict::SwingTooCoarse
    );
}

/// The drawing scaled to the scales is the drawing's inertia times scales over drawing.
#[test]
fn law_the_scaled_drawing_is_scaled_by_the_scales() {
    let swing = measurement().analyse().unwrap();
    let drawing = MassProperties {
        mass_kg: 7.2,
        inertia_kg_m2: 0.1,
    };
    let check = three_way(
        &drawing,
        DrawingTrust::default(),
        &measurement().mass_kg,
        &swing,
        ninety_five(),
    );
    assert!((check.scaled_inertia_kg_m2 - 0.1 * 6.9 / 7.2).abs() < 1e-15);
}
