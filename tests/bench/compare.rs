//! How long flywheels side by side take: the invented bogger, by number of draws and of cores.

#![expect(
    clippy::expect_used,
    reason = "a benchmark that cannot begin must not look like a quick one"
)]

use divan::{Bencher, black_box};
use flyheft::study::{Options, Unwatched, compare};
use std::path::Path;

fn main() {
    divan::main();
}

/// Sweep, aims, pairs, shares and whole runs of every flywheel.
#[divan::bench(args = [(1024, 2), (2048, 2), (4096, 2), (2048, 1)], sample_count = 3)]
fn flywheels_side_by_side(bencher: Bencher, (draws, cores): (usize, usize)) {
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/bogger.toml");
    let reading = flyheft::sheet::read(&sheet).expect("a demo sheet that reads");
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(cores)
        .build()
        .expect("a pool of threads");
    let car = &reading.car;
    let options = Options { draws, seed: 1 };
    bencher.bench_local(|| {
        pool.install(|| {
            compare(black_box(car), &options, &Unwatched)
                .map(|comparison| comparison.pairs().count())
        })
    });
}
