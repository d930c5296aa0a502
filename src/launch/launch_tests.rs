use super::*;
use crate::car::sample::{live_axle_saloon, rpm};
use crate::car::track::Mark;
use crate::numerics::checked::{NonNegative, Positive};
use approx::{assert_abs_diff_eq, assert_relative_eq};

/// A launch of an independent implementation (DOP853, rtol 1e-10) of this very car. Tolerances:
/// ten times the error that the convergence study gives our own accuracy.
#[test]
fn reference_one_launch_of_the_live_axle_saloon() {
    let car = live_axle_saloon();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let launch = run(&rig, &Attempt::from_speed(rpm(5000.0)), Mark::Ft1320).unwrap();
    assert_abs_diff_eq!(
        launch.sixty_foot_s().unwrap(),
        2.591_268_527_592,
        epsilon = 2e-7
    );
    assert_abs_diff_eq!(
        launch.time_s(Mark::Ft1320).unwrap(),
        14.861_722_6,
        epsilon = 2e-6
    );
    assert_abs_diff_eq!(launch.slowest_rad_s, rpm(4_832.147_856_6), epsilon = 1e-4);
    assert_relative_eq!(launch.clutch_heat_j, 20_924.214_298, max_relative = 1e-6);
    assert_abs_diff_eq!(launch.spin_time_s, 2.374_087_301, epsilon = 1e-5);
    assert_abs_diff_eq!(launch.peak_acceleration_m_s2, 5.726_510_6, epsilon = 1e-4);
}

/// What the engine did went somewhere: the account closes to a millionth of its largest term.
#[test]
fn law_the_energy_account_closes() {
    let car = live_axle_saloon();
    for wheel in car.flywheels.all() {
        for launch_rpm in [1900.0, 3300.0, 5000.0] {
            let rig = Rig::new(&car, wheel);
            let launch = run(&rig, &Attempt::from_speed(rpm(launch_rpm)), Mark::Ft60).unwrap();
            let gap = launch.energy.gap_j() / launch.energy.largest_j();
            assert!(
                gap.abs() < 1e-6,
                "{} from {launch_rpm}: {gap:e}",
                wheel.name()
            );
        }
    }
}

/// The full report and the short form, at the same accuracy, drive the same launch: what watches
/// it does not touch it, so their times are the same to the last bit.
#[test]
fn law_the_short_form_gives_the_same_time() {
    let car = live_axle_saloon();
    let rig = Rig::new(&car, car.flywheels.named("middle cut").unwrap());
    let attempt = Attempt::from_speed(rpm(4100.0));
    let full_s = run(&rig, &attempt, Mark::Ft60)
        .unwrap()
        .sixty_foot_s()
        .unwrap();
    let short_s = sixty_foot(&rig, &attempt, &ACCURACY).unwrap().unwrap();
    assert_eq!(full_s.to_bits(), short_s.to_bits());
}

/// A tyre so stiff that no step is short enough: a result told in words, and no error.
#[test]
fn law_a_hopeless_launch_is_given_up() {
    let mut car = live_axle_saloon();
    car.tyre.relaxation_m = Positive::new(0.001).unwrap();
    car.tyre.damping_time_s = NonNegative::new(10.0).unwrap();
    car.driveline.input_inertia_kg_m2 = NonNegative::new(0.0).unwrap();
    car.body.driven_wheels_kg_m2 = Positive::new(1e-4).unwrap();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let launch = run(&rig, &Attempt::from_speed(rpm(5000.0)), Mark::Ft1320).unwrap();
    assert_eq!(launch.ending.outcome, Outcome::DidNotFinish);
    assert!(launch.ending.was_given_up(), "{:?}", launch.ending);
}

/// A tyre and a chassis at the stiff end of what a sheet may say are followed all the same.
#[test]
fn law_a_stiff_car_is_followed_to_the_end() {
    let mut car = live_axle_saloon();
    car.tyre.relaxation_m = Positive::new(0.01).unwrap();
    car.body.pitch_time_s = Positive::new(0.005).unwrap();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let launch = run(&rig, &Attempt::from_speed(rpm(5000.0)), Mark::Ft60).unwrap();
    assert!(launch.ending.finished(), "{:?}", launch.ending);
}

/// A driver who lifts keeps the tyres from spinning as long, and the engine from doing as much.
#[test]
fn law_a_lifting_foot_holds_the_spin_down() {
    let car = live_axle_saloon();
    let mut lifting = car.clone();
    lifting.driver.lift = crate::car::lift::Lift::new(
        crate::numerics::checked::Share::new(0.2).unwrap(),
        Positive::new(2.0).unwrap(),
        NonNegative::new(0.1).unwrap(),
        NonNegative::new(0.1).unwrap(),
    );
    let [down, up] = [&car, &lifting].map(|car| {
        let rig = Rig::new(car, car.flywheels.named("deep cut").unwrap());
        run(&rig, &Attempt::from_speed(rpm(5000.0)), Mark::Ft60).unwrap()
    });
    assert_eq!((down.lifts, down.lifted_time_s), (0, 0.0));
    assert!(up.lifts > 0 && up.lifted_time_s > 0.0);
    assert!(up.energy.tyre_j < down.energy.tyre_j);
    assert!(up.energy.engine_j < down.energy.engine_j);
    assert!(up.energy.gap_j().abs() < 1e-6 * up.energy.largest_j());
}
