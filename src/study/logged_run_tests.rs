use super::*;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::logged_run::Logged;
use crate::car::sample::{live_axle_saloon, rpm};
use crate::car::track::Mark;
use crate::launch::{Attempt, run, trace};

/// The model's own run as a logger would have it: every so many seconds, on a clock that is ahead,
/// the engine held at the launch speed for a second before.
fn as_logged(points: &[TracePoint], every_s: f64, ahead_s: f64, launch_rad_s: f64) -> LoggedRun {
    let at = |time_s: f64, read: fn(&TracePoint) -> f64| {
        let readings: Vec<(f64, f64)> = points
            .iter()
            .map(|point| (point.time_s, read(point)))
            .collect();
        between(&readings, time_s)
    };
    let rows = |read: fn(&TracePoint) -> f64, before: f64| {
        let mut readings = Vec::new();
        let mut time_s = -1.0;
        while let Some(value) = if time_s < 0.0 {
            Some(before)
        } else {
            at(time_s, read)
        } {
            readings.push((time_s + ahead_s, value));
            time_s += every_s;
        }
        readings
    };
    LoggedRun {
        channels: vec![
            Logged {
                channel: Channel::Engine,
                readings: rows(|point| point.now.engine_rad_s, launch_rad_s),
            },
            Logged {
                channel: Channel::DrivenWheels,
                readings: rows(|point| point.now.wheel_rad_s, 0.0),
            },
            Logged {
                channel: Channel::Car,
                readings: rows(|point| point.now.speed_m_s, 0.0),
            },
        ],
    }
}

/// A log made by the model itself at 50 Hz, its clock 12.34 s ahead: everything is found again, to
/// what a reading every 20 ms leaves open.
#[test]
fn law_a_log_of_the_models_own_run_gives_its_figures_back() {
    let car = live_axle_saloon();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let attempt = Attempt::from_speed(rpm(3900.0));
    let launch = run(&rig, &attempt, Mark::Ft60).unwrap();
    let points = trace(&rig, &attempt, Mark::Ft60, 0.002).unwrap();
    let log = as_logged(&points, 0.02, 12.34, rpm(3900.0));
    let speed = launch_speed_rad_s(&log, &rig).unwrap();
    assert!((speed - rpm(3900.0)).abs() < 1e-9);
    let overlay = overlay(&log, &rig, &launch, &points).unwrap();
    let found = &overlay.logged;
    assert!((found.first_bite_s.value - 12.34).abs() < 0.01, "{found:?}");
    let lowest = found.lowest.unwrap();
    // The middle of three readings lies up to a reading and a half from the lowest point, and
    // engine speed falls to it and rises from it no faster than between any two readings.
    let readings = log.readings(Channel::Engine);
    let fastest_rad_s = readings
        .windows(2)
        .map(|two| (two[1].1 - two[0].1).abs())
        .fold(0.0, f64::max);
    // A log knows of no shift: its lowest speed is that of the whole run to 60 ft.
    let model_rad_s = points
        .iter()
        .map(|point| point.now.engine_rad_s)
        .fold(f64::INFINITY, f64::min);
    let off_rad_s = lowest.speed.value - model_rad_s;
    assert!(
        (0.0..1.5 * fastest_rad_s).contains(&off_rad_s),
        "{off_rad_s}"
    );
    assert!((found.lock_at_s.unwrap().value - launch.lock_at_s.unwrap()).abs() < 0.05);
    let slip = found.slip.unwrap();
    assert!((slip.past_peak_s - launch.spin_time_s).abs() < 0.1);
    assert_eq!(overlay.gap_s, None);
    for distance in &overlay.distances {
        let size = match distance.channel {
            Channel::Car => 15.0,
            Channel::DrivenWheels | Channel::InputShaft | Channel::Engine => rpm(3900.0),
        };
        assert!(distance.root_mean_square < 0.02 * size, "{distance:?}");
    }
}

/// A gap, a wild reading and a missing column change no other figure.
#[test]
fn law_gaps_and_wild_readings_are_survived() {
    let car = live_axle_saloon();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let attempt = Attempt::from_speed(rpm(3900.0));
    let launch = run(&rig, &attempt, Mark::Ft60).unwrap();
    let points = trace(&rig, &attempt, Mark::Ft60, 0.002).unwrap();
    let whole = as_logged(&points, 0.02, 0.0, rpm(3900.0));
    let mut torn = whole.clone();
    for logged in &mut torn.channels {
        logged
            .readings
            .retain(|(time_s, _)| !(1.0..1.6).contains(time_s));
    }
    torn.channels[0].readings[60].1 = 0.0;
    let (whole, torn) = (
        overlay(&whole, &rig, &launch, &points).unwrap(),
        overlay(&torn, &rig, &launch, &points).unwrap(),
    );
    assert_eq!(torn.logged.first_bite_s, whole.logged.first_bite_s);
    assert_eq!(torn.logged.lock_at_s, whole.logged.lock_at_s);
    assert!(torn.gap_s.is_some_and(|gap_s| gap_s > 0.6));
    let lowest = |overlay: &Overlay| overlay.logged.lowest.unwrap().speed.value;
    assert!((lowest(&torn) - lowest(&whole)).abs() < 60.0 * RAD_S_PER_RPM);
}

/// A log of engine speed alone does not tell when the clutch bit.
#[test]
fn law_without_a_driven_side_there_is_no_first_bite() {
    let car = live_axle_saloon();
    let rig = Rig::new(&car, car.flywheels.named("deep cut").unwrap());
    let log = LoggedRun {
        channels: vec![Logged {
            channel: Channel::Engine,
            readings: vec![(0.0, 400.0), (0.1, 390.0), (0.2, 380.0)],
        }],
    };
    assert_eq!(launch_speed_rad_s(&log, &rig), None);
}
