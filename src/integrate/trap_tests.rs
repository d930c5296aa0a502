//! One test for each known trap of the steppers underneath, showing that it is guarded in both.
#![expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the shape that rates and guards have"
)]

use super::test_motions::{Guarded, Smooth, by_both, follow, follow_guarded, tolerance};
use super::{Accuracy, IntegrationFailure, Motion, State, Stop};
use std::cell::{Cell, RefCell};

/// Rates of y = sin 50 t.
fn wave(t: f64, _: &State<1>) -> State<1> {
    State::from([50.0 * (50.0 * t).cos()])
}

/// Steady fall at one per second.
fn falls(_: f64, _: &State<1>) -> State<1> {
    State::from([-1.0])
}

fn height(_: f64, y: &State<1>) -> [f64; 1] {
    [y[0]]
}

/// Both tolerances 1e-8, steps up to a length in s.
fn steps_up_to(longest_step_s: f64) -> Accuracy {
    Accuracy {
        longest_step_s,
        ..tolerance(1e-8)
    }
}

/// Trap: one kind of output extrapolates past the last step, 4.46 off on this wave.
#[test]
fn law_the_end_point_is_integrated_and_not_extrapolated() {
    for end in [0.3, 1.0, 1.234_567, 2.0] {
        let leg = follow(wave, (0.0, [0.0]), end, 1e-9);
        assert!((leg.end()[0] - (50.0 * end).sin()).abs() < 1e-6);
        assert!((leg.at(end)[0] - leg.end()[0]).abs() < 1e-15);
        assert!((leg.end_s() - end).abs() < 1e-15);
    }
}

/// Trap: the first stage of a step is the last of the one before, and would carry the old
/// equations into a new leg. A leg begins by asking for the rates at its own start; and a
/// straight line after another comes out exact to round-off.
#[test]
fn law_nothing_is_carried_over_from_leg_to_leg() {
    let up = follow(|_, _| State::from([1000.0]), (0.0, [0.0]), 1.0, 1e-8);
    let asked = RefCell::new(Vec::new());
    let down = Smooth(|t: f64, _: &State<1>| {
        asked.borrow_mut().push(t);
        State::from([-1.0])
    });
    let start = (1.0, *up.end());
    let leg = by_both::<1, 0>(&down, start, 2.0, up.last_step_s(), &tolerance(1e-8)).unwrap();
    assert!((leg.end()[0] - 999.0).abs() < 1e-12);
    assert!((asked.borrow()[0] - 1.0).abs() < f64::EPSILON);
}

/// Trap: an event in the very first step has no step end before it to begin the search from.
#[test]
fn law_an_event_in_the_first_step_is_found() {
    let motion = Guarded {
        rates: falls,
        guards: height,
    };
    let start = (0.0, State::from([0.25]));
    let leg = by_both(&motion, start, 10.0, Some(10.0), &steps_up_to(10.0)).unwrap();
    assert_eq!(leg.steps().count(), 1, "one step reaches past the event");
    assert_eq!(leg.stop(), Stop::Guard(0));
    assert!((leg.end_s() - 0.25).abs() < 1e-14);
}

/// An event in the last step, the one cut short by the leg's end, is found as well; and one
/// that comes just after the end is not.
#[test]
fn law_an_event_is_told_from_the_legs_end() {
    let leg = follow_guarded(falls, height, (0.0, [0.999]), 1.0, &steps_up_to(0.3)).unwrap();
    assert_eq!(leg.stop(), Stop::Guard(0));
    assert!((leg.end_s() - 0.999).abs() < 1e-14);
    let leg = follow_guarded(falls, height, (0.0, [1.001]), 1.0, &steps_up_to(0.3)).unwrap();
    assert_eq!(leg.stop(), Stop::End);
    assert!((leg.end_s() - 1.0).abs() < f64::EPSILON);
}

/// Trap: two crossings within one step go unseen. The longest step bounds how short an event
/// may be, and it is kept to: a dip of 0.2 s is lost in steps of a second and found in steps
/// of 0.05 s.
#[test]
fn law_the_longest_step_bounds_how_short_an_event_may_be() {
    let dip = |t: f64, _: &State<1>| [(t - 0.5).powi(2) - 0.01];
    let flat = |_: f64, _: &State<1>| State::from([0.0]);
    let blind = follow_guarded(flat, dip, (0.0, [1.0]), 10.0, &steps_up_to(100.0)).unwrap();
    assert_eq!(blind.stop(), Stop::End, "a long step does not see it");
    let seen = follow_guarded(flat, dip, (0.0, [1.0]), 10.0, &steps_up_to(0.05)).unwrap();
    assert_eq!(seen.stop(), Stop::Guard(0));
    assert!((seen.end_s() - 0.4).abs() < 1e-12);
    assert!(seen.steps().all(|(from, to)| to - from < 0.05 + 1e-12));
}

/// Of two guards that fall within one step the first to fall counts, not the first in the list.
#[test]
fn law_the_earlier_of_two_events_counts() {
    let both = |_: f64, y: &State<1>| [y[0] - 0.2, y[0] - 0.3];
    let leg = follow_guarded(falls, both, (0.0, [1.0]), 10.0, &steps_up_to(10.0)).unwrap();
    assert_eq!(leg.stop(), Stop::Guard(1));
    assert!((leg.end_s() - 0.7).abs() < 1e-12);
}

/// Trap: guards are first looked at when the first step is over. One that is negative before
/// anything moves ends the leg there and then, without a step.
#[test]
fn law_a_guard_that_begins_negative_ends_the_leg_at_once() {
    let leg = follow_guarded(falls, height, (3.0, [-0.5]), 10.0, &steps_up_to(1.0)).unwrap();
    assert_eq!((leg.stop(), leg.evaluations()), (Stop::Guard(0), 0));
    assert!((leg.end_s() - 3.0).abs() < f64::EPSILON);
    assert!((leg.end()[0] + 0.5).abs() < f64::EPSILON);
}

/// A guard that begins at exactly zero is not armed until it has left zero: a ball thrown up
/// from the ground lands after its flight of 2v/g and not at once.
#[test]
fn law_a_guard_that_begins_at_zero_is_not_armed() {
    let thrown = |_: f64, s: &State<2>| State::from([s[1], -9.81]);
    let ground = |_: f64, s: &State<2>| [s[0]];
    let leg = follow_guarded(thrown, ground, (0.0, [0.0, 5.0]), 10.0, &steps_up_to(0.02)).unwrap();
    assert_eq!(leg.stop(), Stop::Guard(0));
    assert!((leg.end_s() - 10.0 / 9.81).abs() < 1e-12);
}

/// Such a guard may rise and fall again within one step, before any step end has seen it above
/// zero; the fall is found all the same.
#[test]
fn law_a_guard_that_rises_from_zero_and_falls_in_one_step_is_found() {
    let thrown = |_: f64, s: &State<2>| State::from([s[1], -9.81]);
    let ground = |_: f64, s: &State<2>| [s[0]];
    let motion = Guarded {
        rates: thrown,
        guards: ground,
    };
    let start = (0.0, State::from([0.0, 0.5]));
    let leg = by_both(&motion, start, 10.0, Some(0.2), &steps_up_to(0.2)).unwrap();
    assert_eq!(leg.steps().count(), 1);
    assert_eq!(leg.stop(), Stop::Guard(0));
    assert!((leg.end_s() - 1.0 / 9.81).abs() < 1e-12, "{}", leg.end_s());
}

/// A guard that leaves zero the wrong way is noticed at the end of the step it does so in.
#[test]
fn law_a_guard_that_leaves_zero_the_wrong_way_is_noticed() {
    let leg = follow_guarded(falls, height, (0.0, [0.0]), 10.0, &steps_up_to(0.01)).unwrap();
    assert_eq!(leg.stop(), Stop::Guard(0));
    assert!(leg.end_s() <= 0.01 + 1e-12);
}

/// Trap: a leg of no length is an error, or with a first step given runs away and says nothing.
#[test]
fn law_legs_of_no_length_stay_where_they_are() {
    for length in [0.0, 1e-15, -1.0] {
        for first in [None, Some(0.01)] {
            let start = (2.0, State::from([0.3]));
            let leg = by_both::<1, 0>(
                &Smooth(wave),
                start,
                2.0 + length,
                first,
                &steps_up_to(0.02),
            )
            .unwrap();
            assert_eq!(leg.stop(), Stop::End);
            assert_eq!((leg.steps().count(), leg.evaluations()), (0, 0));
            assert!((leg.end()[0] - 0.3).abs() < f64::EPSILON);
            assert!((leg.end_s() - (2.0 + length.max(0.0))).abs() < f64::EPSILON);
        }
    }
}

/// Tiny legs are integrated, whatever first step they are given, and their successors recover
/// from the tiny step they are handed.
#[test]
fn law_tiny_legs_are_integrated() {
    for length in [1e-11, 1e-9, 1e-6] {
        for first in [None, Some(0.02)] {
            let start = (0.0, State::from([0.0]));
            let leg =
                by_both::<1, 0>(&Smooth(wave), start, length, first, &steps_up_to(0.02)).unwrap();
            assert!((leg.end()[0] - (50.0 * length).sin()).abs() < 1e-15);
            let next = by_both::<1, 0>(
                &Smooth(wave),
                (length, *leg.end()),
                0.1,
                leg.last_step_s(),
                &steps_up_to(0.02),
            )
            .unwrap();
            assert!(next.steps().count() < 60);
        }
    }
}

/// Trap: a first step given is cut neither to the leg nor to the longest step. Nor is a
/// senseless one taken. A straight line would let any step pass.
#[test]
fn law_a_first_step_is_cut_to_the_leg_and_to_the_longest_step() {
    for first in [1e-4, 0.5, 100.0, f64::INFINITY, f64::NAN, -1.0, 0.0] {
        for (rates, want) in [
            (wave as fn(f64, &State<1>) -> State<1>, 2.5_f64.sin()),
            (falls, -0.05),
        ] {
            let (start, accuracy) = ((0.0, State::from([0.0])), steps_up_to(0.02));
            let leg = by_both(&Smooth(rates), start, 0.05, Some(first), &accuracy).unwrap();
            assert!((leg.end_s() - 0.05).abs() < f64::EPSILON, "{first}");
            assert!((leg.end()[0] - want).abs() < 1e-6, "{first}");
            let longest = leg.steps().map(|(from, to)| to - from).fold(0.0, f64::max);
            assert!(longest < 0.02 + 1e-12, "{first}: {longest}");
        }
    }
}

/// Trap: time is counted from zero in the stepper. The motion sees its own time, and an event
/// far from zero is found to the round-off of that time.
#[test]
fn law_legs_far_from_time_zero_are_no_less_exact() {
    for start_s in [0.0, 59.0, 1e6] {
        let since = move |t: f64| t - start_s;
        let rates = move |t: f64, _: &State<1>| State::from([-since(t).cos()]);
        let leg = follow_guarded(
            rates,
            height,
            (start_s, [0.5]),
            start_s + 5.0,
            &tolerance(1e-11),
        )
        .unwrap();
        let (got, want) = (since(leg.end_s()), 0.5_f64.asin());
        assert!(
            (got - want).abs() < 1e-9 + start_s * 1e-15,
            "{got} for {want}"
        );
    }
}

/// Steps join without a gap from the leg's start to where it stopped, and the dense output
/// is continuous across them.
#[test]
fn law_steps_join_from_start_to_stop() {
    let guard = |_: f64, y: &State<1>| [0.9 - y[0]];
    let leg = follow_guarded(wave, guard, (7.0, [0.0]), 8.0, &steps_up_to(0.005)).unwrap();
    let mut at = 7.0;
    for (from, to) in leg.steps() {
        assert!((from - at).abs() < 1e-15 && to > from);
        assert!((leg.at(from - 1e-12)[0] - leg.at(from + 1e-12)[0]).abs() < 1e-9);
        at = to;
    }
    assert!((at - leg.end_s()).abs() < f64::EPSILON);
    assert!((leg.at(at + 1.0)[0] - leg.end()[0]).abs() < f64::EPSILON);
    assert!((leg.at(0.0)[0] - leg.start()[0]).abs() < f64::EPSILON);
}

/// Trap: the stepper hands over rates of an earlier call. An entry left unwritten is an error,
/// not a number of another time.
#[test]
fn law_a_rate_that_is_not_written_is_an_error() {
    struct Forgetful;
    impl Motion<2, 0> for Forgetful {
        type Guard = usize;
        const GUARDS: [usize; 0] = [];

        fn rates(&self, _: f64, _: &State<2>, rates: &mut State<2>) {
            rates[0] = 1.0;
        }
        fn guards(&self, _: f64, _: &State<2>) -> [f64; 0] {
            []
        }
    }
    let start = (0.0, State::from([0.0, 0.0]));
    let result = by_both(&Forgetful, start, 1.0, None, &steps_up_to(0.1));
    assert!(matches!(
        result,
        Err(IntegrationFailure::StepVanished { .. })
    ));
}

/// Trap: a rate that is no number. It ends as an error that tells the time, within the few
/// thousand evaluations it takes a step to vanish, and does not hang.
#[test]
fn law_rates_that_are_no_numbers_end_as_an_error() {
    for bad in [f64::NAN, f64::INFINITY] {
        for from_s in [0.0, 0.3] {
            let asked = Cell::new(0_u32);
            let rates = |t: f64, _: &State<1>| {
                asked.set(asked.get() + 1);
                State::from([if t < from_s { 1.0 } else { bad }])
            };
            let result = follow_guarded(rates, height, (0.0, [1.0]), 1.0, &steps_up_to(0.1));
            let Err(IntegrationFailure::StepVanished { time_s }) = result.map(|leg| leg.end_s())
            else {
                panic!("{bad} from {from_s} is no error");
            };
            assert!(time_s <= from_s + 1e-9, "{time_s}");
            assert!(asked.get() < 2 * 4000, "{}", asked.get());
        }
    }
}

/// A start, an end or a guard that is no number is an error of its own.
#[test]
fn law_numbers_that_are_none_are_an_error() {
    let refused = |start: f64, end_s: f64, guard: fn(f64, &State<1>) -> [f64; 1]| {
        let result = follow_guarded(falls, guard, (0.0, [start]), end_s, &steps_up_to(0.1));
        matches!(result, Err(IntegrationFailure::NotFinite { .. }))
    };
    assert!(refused(f64::NAN, 1.0, height));
    assert!(refused(1.0, f64::NAN, height));
    assert!(refused(1.0, 1.0, |_, _| [f64::NAN]));
    assert!(refused(1.0, 2.0, |t, _| [if t > 0.5 {
        f64::NAN
    } else {
        1.0
    }]));
    assert!(!refused(1.0, 2.0, height));
}

/// Trap: the stiffness abort. A stiff motion takes its many small steps and arrives: y follows
/// cos t within 1/k once the start has died out.
#[test]
fn law_a_stiff_motion_arrives() {
    let stiff = |t: f64, y: &State<1>| State::from([-1e4 * (y[0] - t.cos())]);
    let leg = follow(stiff, (0.0, [0.0]), 2.0, 1e-6);
    assert!(leg.steps().count() > 4000, "{}", leg.steps().count());
    assert!((leg.end()[0] - 2.0_f64.cos()).abs() < 1e-3);
}

/// A motion too stiff to follow is given up with the time it got to.
#[test]
fn law_too_many_steps_are_an_error() {
    let stiff = |t: f64, y: &State<1>| State::from([-1e6 * (y[0] - t.cos())]);
    let result = follow_guarded(stiff, |_, _| [1.0], (0.0, [0.0]), 2.0, &tolerance(1e-6));
    let Err(IntegrationFailure::TooManySteps { time_s }) = result.map(|leg| leg.end_s()) else {
        panic!("no error");
    };
    assert!(time_s > 0.0 && time_s < 2.0);
}
