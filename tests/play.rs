//! The launches to play with, held against launches of their own.

use flyheft::car::Flywheel;
use flyheft::sheet::starter::{SHEET, TORQUE, TORQUE_FILE};
use flyheft::study::Unwatched;
use flyheft::study::compare::study_wheels;
use flyheft::study::play::study_play;
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;

/// Three milliseconds: what the page promises.
const PROMISED_S: f64 = 0.003;

#[test]
fn law_times_read_off_the_grid_are_good_to_three_milliseconds() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(TORQUE_FILE), TORQUE).unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, SHEET).unwrap();
    let reading = flyheft::sheet::read(&path).unwrap();
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    let studies = study_wheels(car, &wheels, &Unwatched).unwrap();
    let scatter = study_scatter(car, &studies, Draws::new(512, 1), &Unwatched).unwrap();
    let start = std::time::Instant::now();
    let play = study_play(car, &studies, &scatter, &Unwatched).unwrap();
    println!("{:?}", start.elapsed());
    for wheel in &play.wheels {
        let knots: usize = wheel.lines.iter().map(Vec::len).sum();
        println!(
            "{:?} knots {knots} traces {} speeds {:?}",
            wheel.check,
            wheel.traces.nodes.len(),
            wheel.traces.speeds_rpm
        );
        assert!(wheel.check.worst_s < PROMISED_S, "{:?}", wheel.check);
    }
}
