//! How long flywheels side by side take: the invented bogger, by number of draws and of cores.

use divan::{Bencher, black_box};
use flyheft::car::Flywheel;
use flyheft::study::Unwatched;
use flyheft::study::compare::study_wheels;
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;
use std::path::Path;

fn main() {
    divan::main();
}

/// Sweep, aims, pairs, shares and whole runs of every flywheel.
#[divan::bench(args = [(1024, 2), (2048, 2), (4096, 2), (2048, 1)], sample_count = 3)]
fn flywheels_side_by_side(bencher: Bencher, (draws, cores): (usize, usize)) {
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/bogger.toml");
    let Ok(reading) = flyheft::sheet::read(&sheet) else {
        return;
    };
    let Ok(pool) = rayon::ThreadPoolBuilder::new().num_threads(cores).build() else {
        return;
    };
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    bencher.bench_local(|| {
        pool.install(|| {
            let studies = study_wheels(black_box(car), &wheels, &Unwatched)?;
            study_scatter(car, &studies, Draws::new(draws, 1), &Unwatched).map(|study| study.pairs)
        })
    });
}
