//! `ode_solvers`' stepper, which integrates every launch shown by itself, judges our own, which
//! integrates those of the studies: leg by leg and step by step, on the reference cars and on
//! random ones, at the tolerances in use.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod common;

use common::random::{as_many_as_asked, cases};
use common::{coupe, rig, rpm};
use flyheft::car::track::Mark;
use flyheft::integrate::{Accuracy, Stepper, integrate_leg};
use flyheft::launch::drive::drive;
use flyheft::launch::machine::Machine;
use flyheft::launch::mode::Mode;
use flyheft::launch::observer::{DrivenLeg, Observer};
use flyheft::launch::{ACCURACY, Attempt, Rig, SCATTER_ACCURACY, SEARCH_ACCURACY, sixty_foot};
use std::path::Path;

/// How far apart the two are after one step from the same state, with the same length to try.
#[derive(Debug, Default)]
struct Apart {
    steps: usize,
    /// Steps that one accepted and the other did not.
    otherwise: usize,
    /// Furthest number of a state at a step's end or within, in the states' own scale of one.
    state: f64,
    /// Furthest length of the next try, over the length.
    next_step: f64,
}

/// Takes every step that the judge takes with both steppers. Each begins afresh from the judge's
/// state: along a launch round-off would grow, most of all where steps are as long as stability
/// allows and error estimates swing from step to step.
struct Judge<'a> {
    accuracy: &'a Accuracy,
    apart: Apart,
}

impl Judge<'_> {
    fn compare(&mut self, machine: &Machine, leg: &DrivenLeg, (from_s, to_s): (f64, f64)) {
        let length_s = to_s - from_s;
        let with = |stepper| -> DrivenLeg {
            let accuracy = Accuracy {
                stepper,
                ..*self.accuracy
            };
            let start = (from_s, leg.at(from_s));
            let end_s = leg.end_s().min(from_s + 5.0 * length_s);
            integrate_leg(machine, start, end_s, Some(length_s), &accuracy).unwrap()
        };
        let (judge, ours) = (with(Stepper::OdeSolvers), with(Stepper::FixedArrays));
        let times_s = |leg: &DrivenLeg| leg.steps().take(2).collect::<Vec<_>>();
        let (judged, tried) = (times_s(&judge), times_s(&ours));
        let apart = &mut self.apart;
        if judge.steps().count() == 0 {
            return;
        }
        apart.steps += 1;
        let first_end_s = judged[0].1;
        if judged.len() != tried.len() || (first_end_s - tried[0].1).abs() > 1e-9 * length_s {
            apart.otherwise += 1;
            return;
        }
        for time_s in [first_end_s, from_s + 0.3 * length_s] {
            let difference = judge.at(time_s) - ours.at(time_s);
            let size = judge.at(time_s).abs().add_scalar(1.0);
            let furthest = difference.component_div(&size).amax();
            apart.state = apart.state.max(furthest);
        }
        if let ([_, judged], [_, tried]) = (judged.as_slice(), tried.as_slice()) {
            let furthest = (judged.1 - tried.1).abs() / (judged.1 - judged.0);
            apart.next_step = apart.next_step.max(furthest);
        }
    }
}

impl Observer for Judge<'_> {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        let machine = Machine::new(rig, *mode);
        for step in leg.steps() {
            if step.1 - step.0 > SHORTEST_STEP_S {
                self.compare(&machine, leg, step);
            }
        }
    }
}

/// Steps shorter than this, s, are cut out of longer ones by an event, and begin in round-off.
const SHORTEST_STEP_S: f64 = 1e-6;

/// Every step of these launches, and their sixty-foot times, with both steppers.
fn compared(rigs: &[(Rig, Attempt)], accuracy: &Accuracy) -> (Apart, f64) {
    let mut judge = Judge {
        accuracy,
        apart: Apart::default(),
    };
    let mut worst_time_s = 0.0_f64;
    for (rig, attempt) in rigs {
        let with = |stepper| Accuracy {
            stepper,
            ..*accuracy
        };
        let judged = with(Stepper::OdeSolvers);
        drive(rig, attempt, Mark::Ft60, &judged, &mut judge).unwrap();
        let judged_s = sixty_foot(rig, attempt, &judged).unwrap();
        let time_s = sixty_foot(rig, attempt, &with(Stepper::FixedArrays)).unwrap();
        assert_eq!(judged_s.is_some(), time_s.is_some());
        if let (Some(judged_s), Some(time_s)) = (judged_s, time_s) {
            worst_time_s = worst_time_s.max((judged_s - time_s).abs());
        }
    }
    let apart = judge.apart;
    println!("{:.0e}: {worst_time_s:.1e} s, {apart:?}", accuracy.relative);
    (apart, worst_time_s)
}

/// States agree to a thousand times round-off. A step's error estimate is as many times round-off
/// as the tolerance is, and what it makes of the next step is good to that. Along whole launches
/// the two may part by what the tolerance leaves open at all (`docs/numerics.md`).
fn judged_alike(rigs: &[(Rig, Attempt)]) {
    for (accuracy, time_s) in [
        (ACCURACY, 1e-6),
        (SEARCH_ACCURACY, 1e-5),
        (SCATTER_ACCURACY, 1e-4),
    ] {
        let (apart, worst_time_s) = compared(rigs, &accuracy);
        assert!(apart.steps > 50 * rigs.len(), "{apart:?}");
        assert_eq!(apart.otherwise, 0);
        assert!(apart.state < 1e-12, "{apart:?}");
        assert!(apart.next_step < 1e-12 / accuracy.relative, "{apart:?}");
        assert!(worst_time_s < time_s, "{worst_time_s:e}");
    }
}

#[test]
fn reference_both_steppers_take_the_same_steps_on_the_reference_cars() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/cars");
    let mut sheets: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension == "toml")
        })
        .collect();
    sheets.sort();
    assert!(sheets.len() > 10);
    let mut cars = vec![coupe()];
    for sheet in &sheets {
        let reading = flyheft::sheet::read(sheet).unwrap_or_else(|refusal| {
            panic!("{}", refusal.render(false));
        });
        cars.push(reading.car);
    }
    let rigs: Vec<_> = cars
        .iter()
        .flat_map(|car| {
            [2000.0, 3200.0, 4600.0, 6000.0].map(|n| (rig(car, 0), Attempt::from_speed(rpm(n))))
        })
        .collect();
    judged_alike(&rigs);
}

#[test]
fn reference_both_steppers_take_the_same_steps_on_random_cars() {
    let cases = cases(as_many_as_asked(300));
    let rigs: Vec<_> = cases
        .iter()
        .map(|case| (rig(&case.car, 0), case.attempt))
        .collect();
    judged_alike(&rigs);
}
