//! A second Dormand–Prince 5(4) stepper, to hold the first against.
//!
//! Written from the published method and sharing no code with the one under test: tableau,
//! dense output and step control of Hairer, Nørsett & Wanner, *Solving Ordinary Differential
//! Equations I*, table II.5.2 and sec. II.4 to II.6 (coefficients from memory; that the orders
//! come out right is tested). Forward in time, states as plain arrays.

/// Rows of the tableau. The last is also the fifth-order solution, so its stage is the next
/// step's first.
const A: [[f64; 6]; 7] = [
    [0.0; 6],
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [
        19_372.0 / 6561.0,
        -25_360.0 / 2187.0,
        64_448.0 / 6561.0,
        -212.0 / 729.0,
        0.0,
        0.0,
    ],
    [
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46_732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18_656.0,
        0.0,
    ],
    [
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
const C: [f64; 7] = [0.0, 0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
/// Fifth-order less fourth-order weights.
const E: [f64; 7] = [
    71.0 / 57_600.0,
    0.0,
    -71.0 / 16_695.0,
    71.0 / 1920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Weights of the dense output's last coefficient.
const D: [f64; 7] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// What to hold the error to, and how long steps may be.
pub(super) struct Control {
    pub(super) both_tolerances: f64,
    pub(super) first_step_s: f64,
    pub(super) longest_step_s: f64,
}

/// One accepted step with its dense output.
struct Step<const N: usize> {
    from_s: f64,
    length_s: f64,
    dense: [[f64; N]; 5],
}

/// All accepted steps.
pub(super) struct Path<const N: usize> {
    steps: Vec<Step<N>>,
}

/// `base + h Σ weight·stage`.
fn combine<const N: usize>(base: &[f64; N], h: f64, weights: &[f64], k: &[[f64; N]]) -> [f64; N] {
    std::array::from_fn(|i| base[i] + h * weights.iter().zip(k).map(|(w, k)| w * k[i]).sum::<f64>())
}

/// Follows a motion from a time, s, and state to another time, s.
pub(super) fn follow<const N: usize>(
    rates: impl Fn(f64, &[f64; N]) -> [f64; N],
    (mut t, mut y): (f64, [f64; N]),
    to_s: f64,
    control: &Control,
) -> Path<N> {
    let mut steps = Vec::new();
    let (mut h, mut old_error, mut rejected) = (control.first_step_s, 1e-4_f64, false);
    let mut k = [[0.0; N]; 7];
    k[0] = rates(t, &y);
    loop {
        let last = t + 1.01 * h > to_s;
        if last {
            h = to_s - t;
        }
        for stage in 1..7 {
            let at = combine(&y, h, &A[stage][..stage], &k[..stage]);
            k[stage] = rates(t + C[stage] * h, &at);
        }
        let next = combine(&y, h, &A[6], &k[..6]);
        let estimate = combine(&[0.0; N], h, &E, &k);
        let error = norm(&estimate, &y, &next, control.both_tolerances);
        let raw = error.powf(0.2 - 0.75 * 0.04);
        if error > 1.0 {
            h /= (raw / 0.9).min(5.0);
            rejected = true;
            continue;
        }
        steps.push(dense_step(t, h, &y, &next, &k));
        (t, y, k[0]) = (t + h, next, k[6]);
        if last {
            return Path { steps };
        }
        let fresh = h / (raw / old_error.powf(0.04) / 0.9).clamp(0.1, 5.0);
        let longest = if rejected { h } else { control.longest_step_s };
        (h, rejected, old_error) = (
            fresh.min(longest).min(control.longest_step_s),
            false,
            error.max(1e-4),
        );
    }
}

/// Root mean square of the error over the tolerance.
fn norm<const N: usize>(error: &[f64; N], y: &[f64; N], next: &[f64; N], both: f64) -> f64 {
    let squares: f64 = (0..N)
        .map(|i| (error[i] / (both + both * y[i].abs().max(next[i].abs()))).powi(2))
        .sum();
    (squares / f64::from(u32::try_from(N).unwrap())).sqrt()
}

fn dense_step<const N: usize>(
    from_s: f64,
    h: f64,
    y: &[f64; N],
    next: &[f64; N],
    k: &[[f64; N]; 7],
) -> Step<N> {
    let rise: [f64; N] = std::array::from_fn(|i| next[i] - y[i]);
    let bend: [f64; N] = std::array::from_fn(|i| h * k[0][i] - rise[i]);
    let twist = std::array::from_fn(|i| rise[i] - h * k[6][i] - bend[i]);
    let dense = [*y, rise, bend, twist, combine(&[0.0; N], h, &D, k)];
    Step {
        from_s,
        length_s: h,
        dense,
    }
}

impl<const N: usize> Step<N> {
    fn at(&self, share: f64) -> [f64; N] {
        let [y, rise, bend, twist, last] = &self.dense;
        let rest = 1.0 - share;
        std::array::from_fn(|i| {
            y[i] + share * (rise[i] + rest * (bend[i] + share * (twist[i] + rest * last[i])))
        })
    }
}

impl<const N: usize> Path<N> {
    /// How many steps.
    pub(super) fn len(&self) -> usize {
        self.steps.len()
    }

    /// State at a time within, s.
    pub(super) fn at(&self, time_s: f64) -> [f64; N] {
        let after = self.steps.partition_point(|step| step.from_s <= time_s);
        let step = &self.steps[after.max(1) - 1];
        step.at((time_s - step.from_s) / step.length_s)
    }

    /// Where a guard first falls through zero, by plain halving of the step it falls in.
    pub(super) fn first_fall(&self, guard: impl Fn(f64, &[f64; N]) -> f64) -> (f64, [f64; N]) {
        let value = |step: &Step<N>, share: f64| {
            guard(step.from_s + share * step.length_s, &step.at(share))
        };
        let step = self
            .steps
            .iter()
            .find(|step| value(step, 1.0) <= 0.0)
            .unwrap();
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if value(step, middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        (step.from_s + high * step.length_s, step.at(high))
    }
}

/// Both orders, by halving the step on y' = y cos t: the error at the end falls 32-fold
/// (fifth order), that of the dense output inside one step as well (fourth order, so fifth
/// within a step), give or take what higher terms do at these steps.
#[test]
fn law_the_independent_stepper_has_its_published_orders() {
    let errors = |h: f64| {
        let control = Control {
            both_tolerances: 1.0,
            first_step_s: h,
            longest_step_s: h,
        };
        let rates = |t: f64, y: &[f64; 1]| [y[0] * t.cos()];
        let path = follow(rates, (0.0, [1.0]), 1.0, &control);
        let inside = path.steps.first().unwrap().at(0.4)[0];
        let end = path.steps.last().unwrap().at(1.0)[0];
        (
            (inside - (0.4 * h).sin().exp()).abs(),
            (end - 1.0_f64.sin().exp()).abs(),
        )
    };
    let (coarse, fine) = (errors(0.1), errors(0.05));
    let (inside, end) = (coarse.0 / fine.0, coarse.1 / fine.1);
    assert!((24.0..42.0).contains(&end), "{end}");
    assert!((24.0..42.0).contains(&inside), "{inside}");
}
