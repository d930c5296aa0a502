//! How often intervals hold the truth on real cars, whose truth is told by [`BruteForce`].

use super::brute_force::{BruteForce, Figures};
use super::draws::{DEFAULT_DRAWS, Draws};
use super::scattered_rig::ScatteredRig;
use super::table::{Aimed, Design, LaunchTable, Wanted, share_won, variance_shares};
use super::toy::Toy;
use super::toy_tests::{CARS, wheels};
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::Rig;
use crate::numerics::Estimate;
use crate::study::Unwatched;
use std::path::Path;

/// A car, and launch speeds at which its lighter wheel stalls so often.
struct Case {
    sheet: &'static str,
    stalls: &'static str,
    /// Lighter and heavier wheel, and the launch speed aimed at with each, rpm.
    lighter: (&'static str, f64),
    heavier: (&'static str, f64),
}

const CASES: [Case; 5] = [
    Case {
        sheet: "demo-data/bogger.toml",
        stalls: "never",
        lighter: ("billet steel", 3145.0),
        heavier: ("as supplied", 3429.0),
    },
    Case {
        sheet: "demo-data/bogger.toml",
        stalls: "1 in 1,000",
        lighter: ("aluminium", 3090.0),
        heavier: ("billet steel", 2800.0),
    },
    Case {
        sheet: "demo-data/bogger.toml",
        stalls: "1 in 20",
        lighter: ("aluminium", 2620.0),
        heavier: ("billet steel", 2400.0),
    },
    Case {
        sheet: "tests/reference/cars/g-imperial.toml",
        stalls: "1 in 1,000",
        lighter: ("billet, scalloped", 2930.0),
        heavier: ("billet", 2780.0),
    },
    Case {
        sheet: "tests/reference/cars/g-imperial.toml",
        stalls: "1 in 20",
        lighter: ("billet, scalloped", 2420.0),
        heavier: ("billet", 2020.0),
    },
];

const FIGURES: [&str; 16] = [
    "mean",
    "mean of those away",
    "SD",
    "p10",
    "p90",
    "within tolerance",
    "stalls",
    "heavier's mean",
    "difference",
    "wins",
    "first, speed",
    "first, release",
    "first, grip",
    "total, speed",
    "total, release",
    "total, grip",
];

fn read(sheet: &str) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(sheet);
    crate::sheet::read(&path).unwrap().car
}

/// One wheel at its launch speed.
struct Side<'c> {
    rig: ScatteredRig<'c>,
    aim_rad_s: f64,
}

impl<'c> Side<'c> {
    fn new(car: &'c Car, (name, aim_rpm): (&str, f64)) -> Self {
        let wheel = car.flywheels.named(name).unwrap();
        Self {
            rig: ScatteredRig::new(Rig::new(car, wheel)),
            aim_rad_s: aim_rpm * RAD_S_PER_RPM,
        }
    }

    fn brute(&self) -> BruteForce {
        BruteForce::new(&self.rig, &self.rig.law, self.aim_rad_s)
    }

    fn aimed<'t>(&self, table: &'t LaunchTable) -> Aimed<'t> {
        Aimed {
            table,
            aim_rad_s: self.aim_rad_s,
            sd_rad_s: self.rig.law.launch_sd_rad_s,
        }
    }
}

/// What the figures should be, in the order of [`FIGURES`].
fn truths(light: &Figures, heavy: &Figures, won: f64) -> Vec<f64> {
    let mut all = vec![
        light.mean_s,
        light.away_s,
        light.sd_s,
        light.p10_s,
        light.p90_s,
        light.within,
        light.stalled,
        heavy.mean_s,
        light.mean_s - heavy.mean_s,
        won,
    ];
    all.extend(light.shares.as_flattened());
    all
}

/// What tables of one seed tell of them.
fn told(sides: &[Side; 2], within_s: f64, seed: u32) -> Vec<Estimate> {
    let points = Draws::new(DEFAULT_DRAWS, seed).points(&sides[0].rig.law);
    let wanted: Vec<Wanted> = sides
        .iter()
        .map(|side| Wanted {
            car: &side.rig,
            law: side.rig.law,
            points: &points,
            design: Design::FULL,
        })
        .collect();
    let tables = LaunchTable::build_all(&wanted, &Unwatched).unwrap();
    let [one, other] = [0, 1].map(|side| sides[side].aimed(&tables[side]));
    let at = |side: &Aimed| (side.aim_rad_s, side.sd_rad_s);
    let mean = |side: &Aimed| side.table.mean(at(side).0, at(side).1);
    let (aim, sd) = at(&one);
    let spread = one.table.spread(aim, sd);
    let mut all = vec![
        mean(&one).estimate(),
        one.table.away(aim, sd).estimate(),
        spread.sd_s().estimate(),
        spread.percentile_s(0.1).estimate(),
        spread.percentile_s(0.9).estimate(),
        spread.share_within(within_s).estimate_within(0.0, 1.0),
        one.table.stalled(aim, sd),
        mean(&other).estimate(),
        mean(&one).less(&mean(&other)).estimate(),
        share_won(&one, &other).estimate_within(0.0, 1.0),
    ];
    let shares = variance_shares(&one).unwrap();
    all.extend(shares.iter().map(|share| share.first));
    all.extend(shares.iter().map(|share| share.total));
    all
}

/// How often of the seeds each interval held the truth, printed with truth, usual error and
/// half-width.
fn coverage(case: &Case, seeds: u32) -> Vec<u32> {
    let car = read(case.sheet);
    let sides = [case.lighter, case.heavier].map(|wheel| Side::new(&car, wheel));
    let brutes = sides.each_ref().map(Side::brute);
    let middle = brutes[0].figures(&sides[0].rig.law, f64::INFINITY);
    let within_s = middle.away_s;
    let figures = [0, 1].map(|side| brutes[side].figures(&sides[side].rig.law, within_s));
    let truths = truths(&figures[0], &figures[1], brutes[0].won(&brutes[1]));
    let mut held = vec![0; FIGURES.len()];
    let mut errors = vec![(0.0, 0.0, 0.0); FIGURES.len()];
    for seed in 1..=seeds {
        let told = told(&sides, within_s, seed);
        for (((held, error), told), truth) in
            held.iter_mut().zip(&mut errors).zip(told).zip(&truths)
        {
            *held += u32::from(told.interval.contains(*truth));
            error.0 += told.value - truth;
            error.1 += (told.value - truth).powi(2);
            error.2 += told.interval.half_width();
        }
    }
    println!("{} {}", case.sheet, case.stalls);
    let n = f64::from(seeds);
    for (((name, held), error), truth) in FIGURES.iter().zip(&held).zip(&errors).zip(&truths) {
        println!(
            "{name:20} {held:4} of {seeds}; truth {truth:.6}, bias {:.2e}, rms error {:.2e}, half-width {:.2e}",
            error.0 / n,
            (error.1 / n).sqrt(),
            error.2 / n
        );
    }
    held
}

/// In a small run, of the car whose lines are crooked most: each figure in at least half of the seeds
/// (a true 90 % has a chance of 1 in 7,000 of less), all together in at least 85 of 100.
#[test]
fn reference_intervals_hold_on_a_real_car() {
    const SEEDS: u32 = 6;
    let held = coverage(&CASES[3], SEEDS);
    for (name, held) in FIGURES.iter().zip(&held) {
        assert!(2 * held >= SEEDS, "{name} held in {held} of {SEEDS}");
    }
    let asked = SEEDS * u32::try_from(FIGURES.len()).unwrap();
    assert!(100 * held.iter().sum::<u32>() >= 85 * asked, "{held:?}");
}

/// Every car, 100 seeds: each interval called 95 % holds the truth in 90 at least. Makes the table
/// of `docs/steadiness.md`: `cargo test --lib real_cars_over -- --ignored --nocapture`.
#[test]
#[ignore = "some 15 minutes"]
fn reference_intervals_hold_on_real_cars_over_a_hundred_seeds() {
    const SEEDS: u32 = 100;
    let mut short = Vec::new();
    for case in &CASES {
        for (name, held) in FIGURES.iter().zip(coverage(case, SEEDS)) {
            if held < 90 {
                short.push(format!("{} {}: {name} {held}", case.sheet, case.stalls));
            }
        }
    }
    assert!(short.is_empty(), "{short:#?}");
}

/// The brute force itself against the closed forms of the toy car that stalls about once in
/// twenty: to a hundredth of a millisecond for means, a tenth for percentiles, 0.1 % of the chance of
/// a stall, 0.002 of shares (a stretch a tenth of a deviation wide is taken as straight).
#[test]
fn reference_brute_force_of_a_toy_car() {
    let (light, heavy) = wheels(&CARS[2]);
    let (aims, sds) = ((4600.0, 4550.0), (260.0, 200.0));
    let brute = |toy: &Toy, aim: f64| BruteForce::new(toy, &toy.law, aim * RAD_S_PER_RPM);
    let (one, other) = (brute(&light, aims.0), brute(&heavy, aims.1));
    let limit_s = light.quickest_s + 0.02;
    let told = one.figures(&light.law, limit_s);
    let close = |told: f64, truth: f64, tolerance: f64| {
        assert!((told - truth).abs() < tolerance, "{told} for {truth}");
    };
    let stalled = light.stalled(aims.0, sds.0);
    close(told.stalled, stalled, 1e-3 * stalled);
    close(told.away_s, light.away_s(aims.0, sds.0), 1e-5);
    close(told.mean_s, light.mean_s(aims.0, sds.0), 1e-5);
    close(told.sd_s, light.sd_s(aims.0, sds.0), 1e-5);
    close(told.p10_s, light.percentile_s(aims.0, sds.0, 0.1), 1e-4);
    close(told.p90_s, light.percentile_s(aims.0, sds.0, 0.9), 1e-4);
    close(
        told.within,
        light.share_within(aims.0, sds.0, limit_s),
        2e-3,
    );
    close(one.won(&other), light.won(aims, sds, &heavy), 1e-3);
    let (first, total) = light.shares(aims.0, sds.0);
    for (told, truth) in told
        .shares
        .as_flattened()
        .iter()
        .zip(first.iter().chain(&total))
    {
        close(*told, *truth, 2e-3);
    }
}
