//! How often one launch asks the system for memory.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod common;

use allocation_counter::measure;
use common::watch::Meter;
use flyheft::car::track::Mark;
use flyheft::integrate::Accuracy;
use flyheft::launch::drive::drive;
use flyheft::launch::marks::Clock;
use flyheft::launch::{ACCURACY, Attempt, SCATTER_ACCURACY, SEARCH_ACCURACY, sixty_foot};

/// A leg's own lists: the stages, and the doublings of the step ends, the states and the dense
/// output's two lists, each less than seven for the hundred steps of the longest leg; and the
/// copy of the step ends that the leg keeps.
const PER_LEG: u64 = 30;
/// The clock's marks, the driver's schedules, and such.
const PER_LAUNCH: u64 = 30;

/// Every step stores its dense output, which takes one allocation. Evaluating the equations
/// takes none: not the forces, not the guards, not the search for an event.
#[test]
fn law_a_launch_allocates_once_a_step_and_never_in_the_equations() {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    for launch_rpm in [2600.0, 5800.0] {
        let attempt = Attempt::from_speed(common::rpm(launch_rpm));
        let mut meter = Meter::new(Clock::new(Mark::Ft60));
        drive(&rig, &attempt, Mark::Ft60, &ACCURACY, &mut meter).unwrap();
        let mut time_s = None;
        let seen = measure(|| time_s = sixty_foot(&rig, &attempt, &ACCURACY).unwrap());
        assert!(time_s.is_some());
        let allowed = u64::from(meter.steps) + u64::from(meter.legs) * PER_LEG + PER_LAUNCH;
        assert!(
            seen.count_total <= allowed,
            "{} allocations in {} steps and {} legs",
            seen.count_total,
            meter.steps,
            meter.legs
        );
        assert_eq!(seen.count_current, 0, "everything is given back");
        assert!(u64::from(meter.evaluations) > 3 * seen.count_total);
    }
}

/// Pedals: a table for each foot, made anew with every shift.
const PER_SHORT_LAUNCH: u64 = 12;

/// A launch of a study asks for no memory for its steps, however many they are: once another
/// launch on the same thread has made room for them, a fine one asks for just as much as a coarse
/// one, a few tables of the driver's feet.
#[test]
fn law_a_launch_of_a_study_allocates_nothing_for_its_steps() {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    for launch_rpm in [2600.0, 5800.0] {
        let attempt = Attempt::from_speed(common::rpm(launch_rpm));
        let asked = |accuracy: &Accuracy| {
            measure(|| assert!(sixty_foot(&rig, &attempt, accuracy).unwrap().is_some())).count_total
        };
        let fine = Accuracy {
            relative: 1e-10,
            absolute: 1e-11,
            ..SEARCH_ACCURACY
        };
        asked(&fine);
        assert_eq!(asked(&fine), asked(&SCATTER_ACCURACY));
        assert!(asked(&fine) <= PER_SHORT_LAUNCH, "{}", asked(&fine));
    }
}
