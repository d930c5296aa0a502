//! Our own stepper, for the thousands of launches of a study.
//!
//! The same method as `ode_solvers`' `Dopri5`, which is the judge of it: the Dormand–Prince pair
//! of orders 5 and 4, its step control and its dense output (Hairer, Nørsett & Wanner, *Solving
//! Ordinary Differential Equations I*, table II.5.2, sec. II.4 to II.6, and their program
//! `DOPRI5`). What differs is what it costs: every state is an array of fixed size, nothing is
//! copied that need not be, the rates of the last stage come with the guards, and the steps go
//! into room that the caller keeps. Both take the same steps but for rounding: the sums are made
//! in another order.

use super::guard::Watch;
use super::step::{Step, Within};
use super::task::{
    Arrival, LEAST_GROWTH, MOST_GROWTH, MOST_STEPS, PI_CONTROL_BETA, SAFETY_FACTOR, Task,
};
use super::{Accuracy, IntegrationFailure, Motion, State};

/// Rows of the tableau, a row's zeros left out: what each stage after the first is made of.
const A2: f64 = 1.0 / 5.0;
const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
const A5: [f64; 4] = [
    19_372.0 / 6561.0,
    -25_360.0 / 2187.0,
    64_448.0 / 6561.0,
    -212.0 / 729.0,
];
const A6: [f64; 5] = [
    9017.0 / 3168.0,
    -355.0 / 33.0,
    46_732.0 / 5247.0,
    49.0 / 176.0,
    -5103.0 / 18_656.0,
];
/// The solution of order 5, of stages 1, 3, 4, 5, 6.
const B: [f64; 5] = [
    35.0 / 384.0,
    500.0 / 1113.0,
    125.0 / 192.0,
    -2187.0 / 6784.0,
    11.0 / 84.0,
];
/// Where in the step the stages 2 to 5 stand; the last two stand at its end.
const C: [f64; 4] = [1.0 / 5.0, 3.0 / 10.0, 4.0 / 5.0, 8.0 / 9.0];
/// Order 5 less order 4, of stages 1, 3, 4, 5, 6, 7.
const E: [f64; 6] = [
    71.0 / 57_600.0,
    -71.0 / 16_695.0,
    71.0 / 1920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Power of the error that a step is divided by: a fifth, less what the step before takes over.
const ALPHA: f64 = 0.2 - 0.75 * PI_CONTROL_BETA;
/// Least error of the step before that is reckoned with.
const LEAST_OLD_ERROR: f64 = 1e-4;
/// A leg's last step may be stretched by this to reach its end.
const STRETCH: f64 = 1.01;

/// Numbers of a state.
type Numbers<const N: usize> = [f64; N];

/// A state's numbers.
#[inline]
fn numbers<const N: usize>(state: &State<N>) -> &Numbers<N> {
    let [column] = &state.data.0;
    column
}

/// `Σ weight · rates`.
#[expect(
    clippy::inline_always,
    reason = "sums of fixed length, worth unrolling"
)]
#[inline(always)]
fn weighted<const N: usize, const S: usize>(
    weights: &[f64; S],
    rates: [&State<N>; S],
) -> Numbers<N> {
    let mut sum = [0.0; N];
    for (weight, rates) in weights.iter().zip(rates) {
        for (sum, rate) in sum.iter_mut().zip(numbers(rates)) {
            *sum += weight * rate;
        }
    }
    sum
}

/// `base + h Σ weight · rates`.
#[expect(
    clippy::inline_always,
    reason = "sums of fixed length, worth unrolling"
)]
#[inline(always)]
fn ahead<const N: usize, const S: usize>(
    base: &State<N>,
    h: f64,
    weights: &[f64; S],
    rates: [&State<N>; S],
) -> State<N> {
    let mut sum = weighted(weights, rates);
    for (sum, base) in sum.iter_mut().zip(numbers(base)) {
        *sum = base + h * *sum;
    }
    State::from(sum)
}

/// How much an error of this number counts: one over what is allowed.
#[inline]
fn allowed(accuracy: &Accuracy, size: f64) -> f64 {
    accuracy.absolute + accuracy.relative * size
}

/// A step that is tried, in room that is used again for the next: rates are written where they
/// are needed.
struct Trial<const N: usize> {
    start: State<N>,
    end: State<N>,
    /// Rates of the stages 1, 3, 4, 5, 6, 7; those of the first belong to the start.
    stages: [State<N>; 6],
    /// Rates of the stage 2, of which nothing but the next stages are made.
    second: State<N>,
}

impl<const N: usize> Trial<N> {
    /// Rates that nobody wrote yet are no numbers: an entry that a motion forgets shows in the
    /// error of the first step.
    fn from(start: State<N>) -> Self {
        let unwritten = State::from([f64::NAN; N]);
        Self {
            start,
            end: start,
            stages: [unwritten; 6],
            second: unwritten,
        }
    }

    /// Tries a step of length `h` from a time, s, whose rates are known: the root mean square of
    /// its estimated error over what is allowed, of which up to 1 will do, and the guards at its
    /// end.
    #[inline]
    fn go<const G: usize, M: Motion<N, G>>(
        &mut self,
        motion: &M,
        time_s: f64,
        h: f64,
        accuracy: &Accuracy,
    ) -> (f64, [f64; G]) {
        let (state, k2) = (&self.start, &mut self.second);
        let [k1, k3, k4, k5, k6, k7] = &mut self.stages;
        let [c2, c3, c4, c5] = C.map(|share| time_s + share * h);
        let end_s = time_s + h;
        motion.rates(c2, &ahead(state, h, &[A2], [k1]), k2);
        motion.rates(c3, &ahead(state, h, &A3, [k1, k2]), k3);
        motion.rates(c4, &ahead(state, h, &A4, [k1, k2, k3]), k4);
        motion.rates(c5, &ahead(state, h, &A5, [k1, k2, k3, k4]), k5);
        motion.rates(end_s, &ahead(state, h, &A6, [k1, k2, k3, k4, k5]), k6);
        self.end = ahead(state, h, &B, [k1, k3, k4, k5, k6]);
        let guards = motion.rates_and_guards(end_s, &self.end, k7);
        let mut squares = 0.0;
        let sizes = numbers(state).iter().zip(numbers(&self.end));
        let errors = weighted(&E, self.stages.each_ref());
        for (error, (before, after)) in errors.iter().zip(sizes) {
            let share = h * error / allowed(accuracy, before.abs().max(after.abs()));
            squares += share * share;
        }
        ((squares / count::<N>()).sqrt(), guards)
    }

    /// The step as it was tried.
    #[inline]
    fn step(&self, from_s: f64, length_s: f64) -> Step<N> {
        Step {
            from_s,
            length_s,
            start: self.start,
            end: self.end,
            within: Within::Stages(self.stages),
        }
    }

    /// Begins the next step where this one ended.
    #[inline]
    fn go_on(&mut self) {
        self.start = self.end;
        let [first, .., last] = &mut self.stages;
        *first = *last;
    }
}

/// `N` as a number to reckon with.
#[expect(clippy::cast_precision_loss, reason = "states come by the dozen")]
const fn count<const N: usize>() -> f64 {
    N as f64
}

/// What the step control remembers.
struct Control {
    /// Logarithm of the last accepted step's error.
    old_error_ln: f64,
    rejected: bool,
}

impl Control {
    /// Whether a step's error will do, and the length of the next try.
    #[inline]
    fn judge(&mut self, error: f64, h: f64, longest_step_s: f64) -> (bool, f64) {
        let error_ln = error.ln();
        if error <= 1.0 {
            let factor = (ALPHA * error_ln - PI_CONTROL_BETA * self.old_error_ln).exp();
            let shrink = (factor / SAFETY_FACTOR).clamp(1.0 / MOST_GROWTH, 1.0 / LEAST_GROWTH);
            let mut next = (h / shrink).min(longest_step_s);
            if self.rejected {
                next = next.min(h);
            }
            self.old_error_ln = error_ln.max(LEAST_OLD_ERROR.ln());
            self.rejected = false;
            (true, next)
        } else {
            let shrink = ((ALPHA * error_ln).exp() / SAFETY_FACTOR).min(1.0 / LEAST_GROWTH);
            self.rejected = true;
            (false, h / shrink)
        }
    }
}

/// Steps through a leg; the accepted steps are added to `steps`.
pub(super) fn run<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    task: &Task<'_, N>,
    watch: &mut Watch<M::Guard, G>,
    steps: &mut Vec<Step<N>>,
) -> Result<Arrival<N, G>, IntegrationFailure> {
    let mut trial = Trial::from(task.start);
    let [rates, ..] = &mut trial.stages;
    motion.rates(task.start_s, &task.start, rates);
    let mut evaluations = 1;
    let mut h = if let Some(step_s) = task.first_step_s {
        step_s
    } else {
        evaluations += 1;
        first_step_s(motion, task, rates)
    };
    let mut control = Control {
        old_error_ln: LEAST_OLD_ERROR.ln(),
        rejected: false,
    };
    let mut since_start_s = 0.0;
    for _ in 0..=MOST_STEPS {
        if 0.1 * h <= f64::EPSILON * since_start_s {
            return Err(task.step_vanished(since_start_s));
        }
        let last = since_start_s + STRETCH * h > task.length_s;
        if last {
            h = task.length_s - since_start_s;
        }
        let time_s = task.start_s + since_start_s;
        let (error, guards) = trial.go(motion, time_s, h, task.accuracy);
        evaluations += 6;
        let (accepted, next_h) = control.judge(error, h, task.longest_step_s);
        if accepted {
            steps.push(trial.step(since_start_s, h));
            since_start_s += h;
            if watch.any_falls(&guards) || last {
                return Ok(Arrival {
                    end: trial.end,
                    guards,
                    evaluations,
                });
            }
            trial.go_on();
        }
        h = next_h;
    }
    Err(task.too_many_steps(since_start_s))
}

/// A first step for a leg that has none to go by (Hairer, Nørsett & Wanner I, sec. II.4, "starting
/// step size", as in their program).
fn first_step_s<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    task: &Task<'_, N>,
    rates: &State<N>,
) -> f64 {
    const TINY: f64 = 1e-10;
    const WHERE_NOTHING_IS_KNOWN_S: f64 = 1e-6;
    let accuracy = task.accuracy;
    let (mut size, mut slope) = (0.0, 0.0);
    for (number, rate) in numbers(&task.start).iter().zip(numbers(rates)) {
        let scale = allowed(accuracy, number.abs());
        size += (number / scale).powi(2);
        slope += (rate / scale).powi(2);
    }
    let by_slope = if size < TINY || slope < TINY {
        WHERE_NOTHING_IS_KNOWN_S
    } else {
        0.01 * (size / slope).sqrt()
    }
    .min(task.longest_step_s);
    let mut further = State::from([f64::NAN; N]);
    let there = ahead(&task.start, by_slope, &[1.0], [rates]);
    motion.rates(task.start_s + by_slope, &there, &mut further);
    let mut bend: f64 = 0.0;
    let pairs = numbers(&further).iter().zip(numbers(rates));
    for (number, (further, rate)) in numbers(&task.start).iter().zip(pairs) {
        bend += ((further - rate) / allowed(accuracy, number.abs())).powi(2);
    }
    let steepest = slope.sqrt().max(bend.sqrt() / by_slope);
    let by_bend = if steepest <= 1e-15 {
        (by_slope * 1e-3).max(WHERE_NOTHING_IS_KNOWN_S)
    } else {
        (0.01 / steepest).powf(0.2)
    };
    (100.0 * by_slope).min(by_bend.min(task.longest_step_s))
}
