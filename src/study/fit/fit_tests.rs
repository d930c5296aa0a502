//! Slips made by the model with a known truth.

use super::{FitError, FitQuestion, fit};
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::doubt::{Doubt, DoubtOrigin, DoubtedCar, DoubtedInput};
use crate::car::meeting::Meeting;
use crate::car::sample::live_axle_saloon;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::car::weather::{Weather, standard_pressure_pa};
use crate::numerics::checked::{Positive, Share};
use crate::study::Unwatched;
use crate::study::fit::model::{FOR_SLOPES, predicted};

const GRIP: f64 = 1.16;
const DRAG_M2: f64 = 0.72;

/// A car of which grip and drag are in doubt.
fn doubted() -> DoubtedCar {
    let input = |key: &str, nominal: f64, deviation: f64| DoubtedInput {
        key: key.into(),
        nominal,
        doubt: Doubt::Normal { deviation },
        origin: DoubtOrigin::Usual,
    };
    let inputs = vec![
        input("tyre.grip", GRIP, 0.05),
        input("car.drag_area", DRAG_M2, 0.04),
    ];
    DoubtedCar::new(with(GRIP, DRAG_M2).expect("a car"), inputs, |values| {
        with(*values.first()?, *values.get(1)?)
    })
}

fn with(grip: f64, drag_m2: f64) -> Option<Car> {
    let mut car = live_axle_saloon();
    car.tyre.grip = Positive::new(grip)?;
    car.body.drag_area_m2 = crate::numerics::checked::NonNegative::new(drag_m2)?;
    Some(car)
}

/// A slip as the truth would give it, with chances of the run in standard deviations.
fn slip(truth: &Car, row: usize, rpm: f64, [release, grip, read]: [f64; 3]) -> Slip {
    let chances = [release, grip, read, 0.0];
    let speed = rpm * RAD_S_PER_RPM;
    let shown = [
        Shown::Time(Mark::Ft60),
        Shown::Time(Mark::Ft330),
        Shown::Time(Mark::Ft1320),
        Shown::TrapSpeed(Mark::Ft1320),
    ];
    let mut slip = Slip {
        row,
        wheel: 0,
        meeting: None,
        launch_speed_rad_s: Some(speed),
        figures: shown
            .iter()
            .map(|shown| SlipFigure {
                shown: *shown,
                value: 0.0,
                step: 0.001,
            })
            .collect(),
        log: None,
        remark: None,
    };
    let values =
        predicted(truth, &slip, speed, &chances, &FOR_SLOPES).expect("a run to the finish");
    for (figure, value) in slip.figures.iter_mut().zip(values) {
        figure.value = value;
    }
    slip
}

/// Eight runs of a meeting: chances as a fixed list of normal scores, mean near zero.
fn meeting(truth: &Car) -> Vec<Slip> {
    let scores = [-1.3, 0.4, 0.9, -0.6, 1.4, -0.2, 0.1, -0.8];
    (0..scores.len())
        .map(|run| {
            let at = |shift: usize| scores[(run + shift) % scores.len()];
            let rpm = 2700.0 + 100.0 * f64::from(u32::try_from(run).expect("small"));
            slip(truth, run + 1, rpm, [at(0), at(3), at(5)])
        })
        .collect()
}

/// A hot day in the hills, 1,500 m up: a seventh less air than at the sea.
fn in_the_hills(mut car: Car) -> Car {
    let pressure_pa = Positive::new(standard_pressure_pa(1500.0));
    let temperature_k = Positive::new(303.15);
    let dry = Share::new(0.0);
    let weather = pressure_pa.zip(temperature_k).zip(dry);
    let weather = weather.and_then(|((p, t), h)| Weather::new(p, t, h));
    car.meetings = vec![Meeting {
        name: "in the hills".into(),
        weather: weather.expect("air"),
        grip: Positive::new(1.0).expect("a grip"),
    }];
    car
}

/// Slips of a meeting in thin air say the truth where the sheet knows that air; taken for slips of
/// a day at the sea hardly one of them goes with the car.
#[test]
fn law_the_air_of_a_meeting_is_not_taken_for_the_cars_own() {
    let truth = in_the_hills(with(1.09, 0.75).expect("a car"));
    let nominal = in_the_hills(doubted().nominal().clone());
    let car = DoubtedCar::new(nominal, doubted().inputs().to_vec(), |values| {
        with(*values.first()?, *values.get(1)?).map(in_the_hills)
    });
    let fit = |slips: &[Slip]| fit(&car, slips, &question(), &Unwatched).expect("a fit");
    let mut slips = meeting(&truth.at_meeting(Some(0)));
    let odd = fit(&slips).odd_runs().count();
    assert!(2 * odd > slips.len(), "{odd} of {}", slips.len());
    for slip in &mut slips {
        slip.meeting = Some(0);
    }
    let known = fit(&slips);
    assert_eq!(known.odd_runs().count(), 0);
    for (unknown, truth) in known.unknowns.iter().zip([1.09, 0.75]) {
        let (low, high) = unknown.interval;
        assert!((low..=high).contains(&truth), "{unknown:?}");
    }
}

/// Launches for the draws of a test: a quarter of the usual ones tells where the truth lies.
const LAUNCHES: usize = FitQuestion::LAUNCHES_FOR_DRAWS / 4;

fn question() -> FitQuestion {
    FitQuestion {
        launches_for_draws: LAUNCHES,
        ..FitQuestion::new(vec!["tyre.grip".into(), "car.drag_area".into()], 1)
    }
}

/// The truth lies within the interval, and grip, which decides the first metres, is known far
/// better after eight slips than before.
#[test]
fn law_the_truth_lies_within_what_the_slips_leave() {
    let truth = with(1.09, 0.75).expect("a car");
    let fit = fit(&doubted(), &meeting(&truth), &question(), &Unwatched).expect("a fit");
    for (unknown, truth) in fit.unknowns.iter().zip([1.09, 0.75]) {
        let (low, high) = unknown.interval;
        assert!((low..=high).contains(&truth), "{unknown:?}");
    }
    assert!(fit.trusted(), "{}", fit.draws.effective());
    assert!(
        fit.unknowns[0].from_slips_share > 0.5,
        "{:?}",
        fit.unknowns[0]
    );
    assert!(fit.unknowns[0].posterior_sd < fit.unknowns[0].prior_sd);
}

/// A run with a second lost in a missed shift is named, and the rest of the meeting stands.
#[test]
fn law_a_missed_shift_loses_its_say() {
    let truth = with(1.09, 0.75).expect("a car");
    let mut slips = meeting(&truth);
    for figure in &mut slips[2].figures {
        if figure.shown == Shown::Time(Mark::Ft1320) {
            figure.value += 1.0;
        }
    }
    let fit = fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit");
    let odd: Vec<usize> = fit.odd_runs().map(|run| run.slip.row).collect();
    assert_eq!(odd, [3]);
    let (low, high) = fit.unknowns[0].interval;
    assert!((low..=high).contains(&1.09), "{:?}", fit.unknowns[0]);
}

/// One slip leaves more in doubt than eight.
#[test]
fn law_fewer_slips_leave_wider_intervals() {
    let truth = with(1.13, 0.72).expect("a car");
    let slips = meeting(&truth);
    let width = |slips: &[Slip]| {
        let fit = fit(&doubted(), slips, &question(), &Unwatched).expect("a fit");
        fit.unknowns[0].posterior_sd
    };
    assert!(width(&slips[..1]) > width(&slips));
}

#[test]
fn law_slips_that_no_such_car_can_have_run_are_refused() {
    let truth = with(1.13, 0.72).expect("a car");
    let one = slip(&truth, 4, 3000.0, [0.0; 3]);
    let changed = |shown: Shown, change: f64| {
        let mut slip = one.clone();
        for figure in &mut slip.figures {
            if figure.shown == shown {
                figure.value += change;
            }
        }
        match fit(&doubted(), &[slip], &question(), &Unwatched) {
            Err(FitError::Implausible(why)) => why.to_string(),
            other => panic!("{other:?}"),
        }
    };
    // Sixty feet in well under a second; a finish before the 330 ft; a mean faster than the trap.
    let sixty = Shown::Time(Mark::Ft60);
    let quick = changed(sixty, 0.6 - one.figure(sixty).expect("a time"));
    assert!(
        quick.contains("row 4") && quick.contains("quicker than"),
        "{quick}"
    );
    let finish = Shown::Time(Mark::Ft1320);
    let early = changed(finish, 1.0 - one.figure(finish).expect("a time"));
    assert!(early.contains("not later"), "{early}");
    let slow = changed(Shown::TrapSpeed(Mark::Ft1320), -30.0);
    assert!(slow.contains("does not go with"), "{slow}");
}

#[test]
fn law_the_same_slips_and_seed_give_the_same_fit() {
    let truth = with(1.13, 0.72).expect("a car");
    let slips = meeting(&truth);
    let once = fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit");
    let again = fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit");
    assert_eq!(once.draws, again.draws);
}

/// A reaction time left in every finish: no values of the car explain it, and the fit says that
/// most runs do not go with the model.
#[test]
fn law_a_reaction_time_left_in_the_finish_is_found_out() {
    let truth = with(1.13, 0.72).expect("a car");
    let mut slips = meeting(&truth);
    for slip in &mut slips {
        change(slip, Shown::Time(Mark::Ft1320), |time_s| time_s + 0.5);
    }
    let fit = fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit");
    assert!(2 * fit.odd_runs().count() > slips.len(), "{:?}", fit.runs);
}

/// Slips of a car that is a tenth slower to every mark: most runs are odd, or a value lies at the
/// end of what the sheet thought possible.
#[test]
fn law_slips_of_another_car_are_found_out() {
    let truth = with(1.16, 0.72).expect("a car");
    let mut slips = meeting(&truth);
    for slip in &mut slips {
        for mark in [Mark::Ft60, Mark::Ft330, Mark::Ft1320] {
            change(slip, Shown::Time(mark), |time_s| 1.1 * time_s);
        }
    }
    let fit = fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit");
    let at_its_end = fit.unknowns.iter().any(|unknown| unknown.at_its_end);
    assert!(
        at_its_end || 2 * fit.odd_runs().count() > slips.len(),
        "{:?}",
        fit.unknowns
    );
}

/// Eight copies of one slip leave at least a quarter of the doubt that one leaves: never more is
/// learnt from them than from eight runs of their own. (With Student's t at four degrees and many
/// figures one run is worth √2 of its errors and many are worth 1/√n each: 1/√2/√8 = 0.25.)
#[test]
fn law_copies_of_one_slip_say_no_more_than_as_many_runs() {
    let truth = with(1.13, 0.72).expect("a car");
    let one = slip(&truth, 1, 3000.0, [0.3, -0.2, 0.1]);
    let left = |slips: &[Slip]| {
        let fit = fit(&doubted(), slips, &question(), &Unwatched).expect("a fit");
        fit.unknowns[0].posterior_sd
    };
    let copies = vec![one.clone(); 8];
    let (single, eight) = (left(&[one]), left(&copies));
    assert!(eight > 0.25 * single, "{eight} {single}");
}

/// One thread and two give the same draws to the last bit.
#[test]
fn law_threads_do_not_change_a_fit() {
    let truth = with(1.13, 0.72).expect("a car");
    let slips = [slip(&truth, 1, 3000.0, [0.3, -0.2, 0.1])];
    let draws = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        pool.expect("threads")
            .install(|| fit(&doubted(), &slips, &question(), &Unwatched).expect("a fit"))
            .draws
    };
    assert_eq!(draws(1), draws(2));
}

fn change(slip: &mut Slip, shown: Shown, by: impl Fn(f64) -> f64) {
    for figure in &mut slip.figures {
        if figure.shown == shown {
            figure.value = by(figure.value);
        }
    }
}
