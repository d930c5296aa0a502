//! The whole study on cars whose answer is known in closed form, and how often its intervals hold
//! it.

use super::aim::summarise;
use super::break_even::{BestMeans, BreakEven, break_even};
use super::table::{Aimed, share_won, variance_shares};
use super::toy::{Toy, law, range};
use crate::car::constants::RAD_S_PER_RPM;
use crate::numerics::{Estimate, Interval};

/// A lighter and a heavier wheel of a toy car: the lighter is quicker at its best, bends more, is
/// held less steadily, and stalls from higher launch speeds.
fn wheels(edge_rpm: f64) -> (Toy, Toy) {
    let heavy = Toy {
        law: law(200.0),
        quickest_s: 2.000,
        best_rpm: 4500.0,
        bend_s: 0.10,
        kink: (5000.0, 300.0, 0.15),
        slopes_s: (0.010, -0.025),
        together_s: 0.0,
        edge_rpm: (edge_rpm, 120.0, 90.0, 15.0),
    };
    let light = Toy {
        law: law(260.0),
        quickest_s: 1.990,
        best_rpm: 4600.0,
        bend_s: 0.16,
        kink: (5000.0, 350.0, 0.20),
        edge_rpm: (edge_rpm + 80.0, 120.0, 90.0, 15.0),
        ..heavy
    };
    (light, heavy)
}

/// Stall edges at which the lighter wheel, at its aim, never stalls, about once in a thousand
/// launches, and about once in twenty.
const EDGES_RPM: [(&str, f64); 3] = [
    ("never", 1500.0),
    ("1 in 1,000", 3500.0),
    ("1 in 20", 4350.0),
];

/// What is counted.
const FIGURES: [&str; 17] = [
    "mean",
    "mean of those away",
    "SD",
    "p10",
    "p90",
    "within tolerance",
    "stalls",
    "wins",
    "difference",
    "break-even",
    "first, speed",
    "first, release",
    "first, grip",
    "total, speed",
    "total, release",
    "total, grip",
    "heavier's mean",
];

fn half_rel(interval: &Interval) -> f64 {
    (interval.high - interval.low) / 2.0
}

/// One seed's figures: what was told, its interval, and the truth at the aims told.
fn told(
    light: &Toy,
    heavy: &Toy,
    true_break_even_rpm: Option<f64>,
    seed: u32,
) -> Vec<(Estimate, f64)> {
    let (tables, toys) = ([light.table(seed), heavy.table(seed)], [light, heavy]);
    let sd = |toy: &Toy| toy.law.launch_sd_rad_s;
    let aims: Vec<_> = tables
        .iter()
        .zip(toys)
        .map(|(table, toy)| {
            let lowest = table.lowest(&range(), sd(toy));
            summarise(table, &range(), &lowest, toy.quickest_s + 0.02)
        })
        .collect();
    let rpm = |aim: usize| aims[aim].launch_speed_rad_s / RAD_S_PER_RPM;
    let sd_rpm = |toy: &Toy| sd(toy) / RAD_S_PER_RPM;
    let aimed = |side: usize| Aimed {
        table: &tables[side],
        aim_rad_s: aims[side].launch_speed_rad_s,
        sd_rad_s: sd(toys[side]),
    };
    let (at, by) = (rpm(0), sd_rpm(light));
    let aim = &aims[0];
    let of = |value: f64, interval: Interval| Estimate { value, interval };
    let both = light.mean_s(at, by) - heavy.mean_s(rpm(1), sd_rpm(heavy));
    let difference = aimed(0)
        .table
        .mean(aimed(0).aim_rad_s, aimed(0).sd_rad_s)
        .less(&aimed(1).table.mean(aimed(1).aim_rad_s, aimed(1).sd_rad_s))
        .estimate();
    let mut all = vec![
        (of(aim.mean_s, aim.mean_interval_s), light.mean_s(at, by)),
        (
            of(aim.mean_away_s, aim.intervals.mean_away_s),
            light.away_s(at, by),
        ),
        (of(aim.sd_s, aim.intervals.sd_s), light.sd_s(at, by)),
        (
            of(aim.p10_s, aim.intervals.p10_s),
            light.percentile_s(at, by, 0.1),
        ),
        (
            of(aim.p90_s, aim.intervals.p90_s),
            light.percentile_s(at, by, 0.9),
        ),
        (
            of(
                aim.share_within_tolerance,
                aim.intervals.share_within_tolerance,
            ),
            light.share_within(at, by, light.quickest_s + 0.02),
        ),
        (
            of(aim.share_stalled, aim.share_stalled_interval),
            light.stalled(at, by),
        ),
        (
            share_won(&aimed(0), &aimed(1)).estimate(),
            light.won((at, rpm(1)), (by, sd_rpm(heavy)), heavy),
        ),
        (difference, both),
    ];
    let factor = sd_rpm(light) / sd_rpm(heavy);
    let means = [
        BestMeans::new(&tables[0], range(), factor),
        BestMeans::new(&tables[1], range(), 1.0),
    ];
    if let Some(truth) = true_break_even_rpm {
        let found = match break_even(&means[0], &means[1]) {
            BreakEven::At {
                sd_rad_s,
                interval_rad_s,
                ..
            } => of(sd_rad_s, interval_rad_s),
            BreakEven::Never(_) => of(
                f64::NAN,
                Interval {
                    low: f64::NAN,
                    high: f64::NAN,
                },
            ),
        };
        all.push((found, truth * RAD_S_PER_RPM));
    }
    if let Some(shares) = variance_shares(&aimed(0)) {
        let (first, total) = light.shares(at, by);
        for (share, truth) in shares.iter().zip(first) {
            all.push((share.first, truth));
        }
        for (share, truth) in shares.iter().zip(total) {
            all.push((share.total, truth));
        }
    }
    let heavier = &aims[1];
    all.push((
        of(heavier.mean_s, heavier.mean_interval_s),
        heavy.mean_s(rpm(1), sd_rpm(heavy)),
    ));
    all
}

/// The break-even by bisection of the exact lowest means, rpm.
fn true_break_even_rpm(light: &Toy, heavy: &Toy) -> Option<f64> {
    let factor = light.law.launch_sd_rad_s / heavy.law.launch_sd_rad_s;
    let difference = |sd: f64| light.lowest(sd * factor).1 - heavy.lowest(sd).1;
    let tried: Vec<f64> = (0..=20).map(|i| 1.0 + 30.0 * f64::from(i)).collect();
    let pair = tried
        .windows(2)
        .find(|pair| (difference(pair[0]) < 0.0) != (difference(pair[1]) < 0.0))?;
    Some(crate::numerics::crossing(pair[0], pair[1], difference))
}

/// How often of `seeds` each interval held the truth, printed with the usual error and half-width.
fn coverage(edge_rpm: f64, seeds: u32) -> Vec<u32> {
    let (light, heavy) = wheels(edge_rpm);
    let truth = true_break_even_rpm(&light, &heavy);
    let mut held = vec![0; FIGURES.len()];
    let mut errors = vec![(0.0, 0.0); FIGURES.len()];
    for seed in 1..=seeds {
        let figures = told(&light, &heavy, truth, seed);
        assert_eq!(figures.len(), FIGURES.len());
        for ((held, error), (estimate, truth)) in held.iter_mut().zip(&mut errors).zip(figures) {
            *held += u32::from(estimate.interval.contains(truth));
            error.0 += (estimate.value - truth).powi(2);
            error.1 += half_rel(&estimate.interval);
        }
    }
    for ((name, held), error) in FIGURES.iter().zip(&held).zip(&errors) {
        let n = f64::from(seeds);
        println!(
            "{name:20} {held:4} of {seeds}; rms error {:.2e}, half-width {:.2e}",
            (error.0 / n).sqrt(),
            error.1 / n
        );
    }
    held
}

#[test]
fn reference_intervals_hold_the_truth() {
    for (stalls, edge_rpm) in EDGES_RPM {
        println!("{stalls}");
        let seeds = std::env::var("SEEDS").map_or(8, |n| n.parse().unwrap());
        let held = coverage(edge_rpm, seeds);
        println!("{held:?}");
    }
}
