//! The whole study on cars whose answer is known in closed form, and how often its intervals hold
//! it.

use super::aim::{Aim, summarise};
use super::break_even::{BestMeans, BreakEven, Winner, break_even};
use super::draws::DEFAULT_DRAWS;
use super::pairs::{Side, Verdict, pair};
use super::table::{Aimed, LaunchTable, share_won, variance_shares};
use super::toy::{Toy, law, range};
use crate::car::constants::RAD_S_PER_RPM;
use crate::numerics::{Estimate, Interval};

/// A toy car: how often its lighter wheel stalls at its aim, and what makes it so.
pub(super) struct Car {
    stalls: &'static str,
    /// Stall edge of the heavier wheel, rpm, and how much higher the lighter's lies.
    edge_rpm: (f64, f64),
    /// Quickest launch of the lighter, s; the heavier's is 2 s.
    quickest_s: f64,
    /// What 1,000 rpm off the best cost, s: the lighter, the heavier. The steeper, the nearer to the
    /// edge it pays to aim.
    bends_s: (f64, f64),
}

pub(super) const CARS: [Car; 3] = [
    Car {
        stalls: "never",
        edge_rpm: (1500.0, 80.0),
        quickest_s: 1.990,
        bends_s: (0.16, 0.10),
    },
    Car {
        stalls: "1 in 1,000",
        edge_rpm: (3500.0, 80.0),
        quickest_s: 1.990,
        bends_s: (0.16, 0.10),
    },
    Car {
        stalls: "1 in 20",
        edge_rpm: (4350.0, 20.0),
        quickest_s: 1.930,
        bends_s: (1.6, 1.0),
    },
];

/// A lighter and a heavier wheel of a toy car: the lighter is quicker at its best, bends more, is
/// held less steadily, and stalls from higher launch speeds.
pub(super) fn wheels(car: &Car) -> (Toy, Toy) {
    let edge = |rpm: f64| (rpm, 120.0, 90.0, 15.0);
    let heavy = Toy {
        law: law(200.0),
        quickest_s: 2.000,
        best_rpm: 4500.0,
        bend_s: car.bends_s.1,
        kink: (5000.0, 300.0, 0.15),
        slopes_s: (0.010, -0.025),
        together_s: 0.0,
        edge_rpm: edge(car.edge_rpm.0),
    };
    let light = Toy {
        law: law(260.0),
        quickest_s: car.quickest_s,
        best_rpm: 4600.0,
        bend_s: car.bends_s.0,
        kink: (5000.0, 350.0, 0.20),
        edge_rpm: edge(car.edge_rpm.0 + car.edge_rpm.1),
        ..heavy
    };
    (light, heavy)
}

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

/// What was told, and the truth.
type Told = (Estimate, f64);

const fn of(value: f64, interval: Interval) -> Estimate {
    Estimate { value, interval }
}

/// One wheel: its car, its table, what is told at its aim.
struct Wheel<'t> {
    toy: &'t Toy,
    table: &'t LaunchTable,
    aim: Aim,
}

impl<'t> Wheel<'t> {
    fn new(toy: &'t Toy, table: &'t LaunchTable) -> Self {
        let lowest = table.lowest(&range(), toy.law.launch_sd_rad_s);
        let aim = summarise(table, &range(), &lowest, toy.quickest_s + 0.02);
        Self { toy, table, aim }
    }

    /// Aim and deviation, rpm.
    fn rpm(&self) -> (f64, f64) {
        (
            self.aim.launch_speed_rad_s / RAD_S_PER_RPM,
            self.toy.law.launch_sd_rad_s / RAD_S_PER_RPM,
        )
    }

    fn aimed(&self) -> Aimed<'t> {
        Aimed {
            table: self.table,
            aim_rad_s: self.aim.launch_speed_rad_s,
            sd_rad_s: self.toy.law.launch_sd_rad_s,
        }
    }

    fn true_mean_s(&self) -> f64 {
        self.toy.mean_s(self.rpm().0, self.rpm().1)
    }

    /// All that is told of it alone, up to the stalls.
    fn at_aim(&self) -> Vec<Told> {
        let (aim, within) = (&self.aim, &self.aim.intervals);
        let (at, by) = self.rpm();
        let toy = self.toy;
        let limit_s = toy.quickest_s + 0.02;
        vec![
            (of(aim.mean_s, aim.mean_interval_s), self.true_mean_s()),
            (of(aim.mean_away_s, within.mean_away_s), toy.away_s(at, by)),
            (of(aim.sd_s, within.sd_s), toy.sd_s(at, by)),
            (of(aim.p10_s, within.p10_s), toy.percentile_s(at, by, 0.1)),
            (of(aim.p90_s, within.p90_s), toy.percentile_s(at, by, 0.9)),
            (
                of(aim.share_within_tolerance, within.share_within_tolerance),
                toy.share_within(at, by, limit_s),
            ),
            (
                of(aim.share_stalled, aim.share_stalled_interval),
                toy.stalled(at, by),
            ),
        ]
    }

    fn shares(&self) -> Vec<Told> {
        let (first, total) = self.toy.shares(self.rpm().0, self.rpm().1);
        let told = variance_shares(&self.aimed()).unwrap();
        let firsts = told.iter().map(|share| share.first).zip(first);
        let totals = told.iter().map(|share| share.total).zip(total);
        firsts.chain(totals).collect()
    }
}

/// Wins, mean difference and break-even of a pair.
fn of_pair(light: &Wheel, heavy: &Wheel, true_break_even_rpm: f64) -> Vec<Told> {
    let (one, other) = (light.aimed(), heavy.aimed());
    let mean = |side: &Aimed| side.table.mean(side.aim_rad_s, side.sd_rad_s);
    let ((at, by), (other_at, other_by)) = (light.rpm(), heavy.rpm());
    let means = [
        BestMeans::new(light.table, range(), by / other_by),
        BestMeans::new(heavy.table, range(), 1.0),
    ];
    let found = match break_even(&means[0], &means[1]) {
        BreakEven::At {
            sd_rad_s,
            interval_rad_s,
            ..
        } => of(sd_rad_s, interval_rad_s),
        BreakEven::Never(_) => of(f64::NAN, Interval::about(f64::NAN, f64::NAN)),
    };
    vec![
        (
            share_won(&one, &other).estimate(),
            light.toy.won((at, other_at), (by, other_by), heavy.toy),
        ),
        (
            mean(&one).less(&mean(&other)).estimate(),
            light.true_mean_s() - heavy.true_mean_s(),
        ),
        (found, true_break_even_rpm * RAD_S_PER_RPM),
    ]
}

/// One seed's figures: what was told, its interval, and the truth at the aims told.
fn told_with(light: &Toy, heavy: &Toy, break_even_rpm: f64, seed: u32, draws: usize) -> Vec<Told> {
    let tables = [light.table_with(seed, draws), heavy.table_with(seed, draws)];
    let (light, heavy) = (Wheel::new(light, &tables[0]), Wheel::new(heavy, &tables[1]));
    let mut all = light.at_aim();
    all.extend(of_pair(&light, &heavy, break_even_rpm));
    all.extend(light.shares());
    all.push((
        of(heavy.aim.mean_s, heavy.aim.mean_interval_s),
        heavy.true_mean_s(),
    ));
    all
}

/// The break-even by bisection of the exact lowest means, rpm.
fn true_break_even_rpm(light: &Toy, heavy: &Toy) -> f64 {
    let factor = light.law.launch_sd_rad_s / heavy.law.launch_sd_rad_s;
    let difference = |sd: f64| light.lowest(sd * factor).1 - heavy.lowest(sd).1;
    let tried: Vec<f64> = (0..=20).map(|i| 1.0 + 30.0 * f64::from(i)).collect();
    let pair = tried
        .windows(2)
        .find(|pair| (difference(pair[0]) < 0.0) != (difference(pair[1]) < 0.0))
        .unwrap();
    crate::numerics::crossing(pair[0], pair[1], difference)
}

/// How often of `seeds` each interval held the truth, printed with the usual error and half-width.
fn coverage(car: &Car, seeds: u32) -> Vec<u32> {
    let (light, heavy) = wheels(car);
    let truth = true_break_even_rpm(&light, &heavy);
    let mut held = vec![0; FIGURES.len()];
    let mut errors = vec![(0.0, 0.0); FIGURES.len()];
    for seed in 1..=seeds {
        let figures = told_with(&light, &heavy, truth, seed, DEFAULT_DRAWS);
        assert_eq!(figures.len(), FIGURES.len());
        for ((held, error), (estimate, truth)) in held.iter_mut().zip(&mut errors).zip(figures) {
            *held += u32::from(estimate.interval.contains(truth));
            error.0 += (estimate.value - truth).powi(2);
            error.1 += estimate.interval.half_width();
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

/// Over the seeds every interval called 95 % holds the truth about as often as it says: in this
/// small run each figure in at least 8 of 12 (a true 95 % has a chance of 2 in 10,000 of less) and
/// all together in at least 88 of 100.
#[test]
fn reference_intervals_hold_the_truth() {
    const SEEDS: u32 = 12;
    for car in &CARS {
        let stalls = car.stalls;
        println!("{stalls}");
        let held = coverage(car, SEEDS);
        for (name, held) in FIGURES.iter().zip(&held) {
            let least = 2 * SEEDS / 3;
            assert!(*held >= least, "{stalls}: {name} held in {held} of {SEEDS}");
        }
        let all: u32 = held.iter().sum();
        let asked_for = SEEDS * u32::try_from(FIGURES.len()).unwrap();
        assert!(
            100 * all >= 88 * asked_for,
            "{stalls}: {all} of {asked_for}"
        );
    }
}

/// The one figure whose interval is known to be too narrow, of 100 seeds: where one launch in twenty
/// stalls the ninetieth percentile comes out 0.2 ms too low, half of the error that it has by luck.
const TOO_NARROW: (&str, &str, u32) = ("1 in 20", "p90", 85);

/// Over 100 seeds each interval holds the truth in 90 at least. Some hold it in more than 98: they
/// are as wide as real cars need them (`docs/steadiness.md`, whose table this makes):
/// `cargo test --lib the_truth_over -- --ignored --nocapture`.
#[test]
#[ignore = "some 10 minutes"]
fn reference_intervals_hold_the_truth_over_a_hundred_seeds() {
    const SEEDS: u32 = 100;
    let mut off = Vec::new();
    for car in &CARS {
        let stalls = car.stalls;
        println!("{stalls}");
        for (name, held) in FIGURES.iter().zip(coverage(car, SEEDS)) {
            let (of_car, figure, known) = TOO_NARROW;
            let least = if (of_car, figure) == (stalls, *name) {
                known
            } else {
                90
            };
            if held < least {
                off.push(format!("{stalls}: {name} {held}"));
            }
        }
    }
    assert!(off.is_empty(), "{off:#?}");
}

/// Each figure itself, from sixteen times the usual points, on the car that stalls about once in
/// twenty: a tenth of a millisecond for means, half a millisecond for percentiles and deviation,
/// a hundredth for shares of launches and of variance, 3 % of the chance of a stall, 1 rpm for the
/// break-even. What p95 says in place of p90 is 30 ms off.
#[test]
fn reference_figures_of_a_car_that_stalls() {
    let (light, heavy) = wheels(&CARS[2]);
    let truth = true_break_even_rpm(&light, &heavy);
    let figures = told_with(&light, &heavy, truth, 5, 32_768);
    for (name, (estimate, truth)) in FIGURES.iter().zip(figures) {
        let tolerance = match *name {
            "mean" | "mean of those away" | "difference" | "heavier's mean" => 1e-4,
            "SD" | "p10" | "p90" => 5e-4,
            "stalls" => 0.03 * truth,
            "break-even" => RAD_S_PER_RPM,
            _ => 0.01,
        };
        let off = estimate.value - truth;
        assert!(
            off.abs() < tolerance,
            "{name}: {} for {truth}",
            estimate.value
        );
    }
}

/// A wheel against itself: nobody wins, the difference is nothing, and it is undecided.
#[test]
fn law_a_wheel_against_itself_is_undecided_and_wins_nothing() {
    let (light, _) = wheels(&CARS[1]);
    let table = light.table(2);
    let aimed = Aimed {
        table: &table,
        aim_rad_s: 4600.0 * RAD_S_PER_RPM,
        sd_rad_s: light.law.launch_sd_rad_s,
    };
    let means = BestMeans::new(&table, range(), 1.3);
    let side = |index| Side {
        index,
        crank_side_kg_m2: 0.1,
        aimed,
        means: &means,
    };
    let pair = pair(&side(0), &side(1));
    assert!(pair.lighter_wins_share.abs() < 1e-12, "{pair:?}");
    assert_eq!(pair.verdict(), Verdict::Undecided);
    assert_eq!(pair.break_even, BreakEven::Never(Winner::Undecided));
}

/// Two wheels that differ by less than a table of 32 points can tell: it is said to be undecided
/// in most seeds, and the wrong one is seldom called the quicker.
#[test]
fn law_what_is_not_told_apart_is_said_to_be_undecided() {
    let (_, heavy) = wheels(&CARS[0]);
    let other = Toy {
        kink: (5000.0, 500.0, 0.15),
        slopes_s: (0.010, -0.020),
        ..heavy
    };
    let sd_rpm = 200.0;
    let shift = heavy.mean_s(4500.0, sd_rpm) - other.mean_s(4500.0, sd_rpm);
    let other = Toy {
        quickest_s: other.quickest_s + shift,
        ..other
    };
    let (mut undecided, mut wrong) = (0, 0);
    for seed in 0..20 {
        let tables = [heavy.table_with(seed, 512), other.table_with(seed, 512)];
        let aimed = tables.each_ref().map(|table| Aimed {
            table,
            aim_rad_s: 4500.0 * RAD_S_PER_RPM,
            sd_rad_s: heavy.law.launch_sd_rad_s,
        });
        let means = tables
            .each_ref()
            .map(|table| BestMeans::new(table, range(), 1.0));
        let side = |index: usize| Side {
            index,
            crank_side_kg_m2: 0.1,
            aimed: aimed[index],
            means: &means[index],
        };
        match pair(&side(0), &side(1)).verdict() {
            Verdict::Undecided => undecided += 1,
            _ => wrong += 1,
        }
    }
    assert!(
        undecided >= 16,
        "{undecided} undecided, {wrong} not, of equals"
    );
}
