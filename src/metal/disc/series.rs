//! One stretch of a spinning disc whose thickness is linear in radius, solved by Taylor series.
//!
//! State: `w = E u` (Young's modulus times radial displacement, Pa·m) and `F = r t σr` (the
//! radial pull through one radian of the disc, N). Hooke's law in plane stress and the
//! equilibrium of a ring element give
//!
//! ```text
//! r t w' = (1 − ν²) F − ν t w
//! r F'   = t w + ν F − ρ ω² t r³
//! ```
//!
//! with `σr = F/(r t)` and `σθ = w/r + ν σr`. `t` is linear in `r`, so every factor is a
//! polynomial and the coefficients of the solution's Taylor series follow from a recurrence of
//! three terms. The series converges up to the nearest singular point, the axis or where the
//! taper would reach zero thickness; a stretch reaches at most [`REACH`] of the way there.

/// Share of the way to the nearest singular point that one stretch may reach.
pub(super) const REACH: f64 = 1.0 / 3.0;

/// Terms kept of each series: `REACH^40` is 8e-20, so what is left out is below round-off.
const TERMS: u32 = 40;

/// A stretch between two radii, m, with the thickness at its start and its rise to the end, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub(super) start_m: f64,
    pub(super) end_m: f64,
    pub(super) thickness_m: f64,
    pub(super) rise_m: f64,
}

/// `w = E u`, Pa·m, and `F = r t σr`, N; both per (rad/s)² of speed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct State {
    pub(super) stretched: f64,
    pub(super) pull: f64,
}

impl State {
    /// `self + factor · other`.
    pub(super) fn plus(self, factor: f64, other: Self) -> Self {
        Self {
            stretched: self.stretched + factor * other.stretched,
            pull: self.pull + factor * other.pull,
        }
    }
}

/// What the metal resists and what loads it: Poisson's ratio, and the density in kg/m³ (zero
/// for the homogeneous solution).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Metal {
    pub(super) poisson: f64,
    pub(super) density_kg_m3: f64,
}

/// Taylor coefficients in `ξ = (r − start)/width`.
pub(super) type Series = Vec<State>;

impl Stretch {
    /// Taylor series of the solution that has a given state at the stretch's start, which must
    /// not be the axis.
    pub(super) fn series_from(&self, metal: Metal, start: State) -> Series {
        let (c, h, t, s) = (self.start_m, self.width_m(), self.thickness_m, self.rise_m);
        let Metal {
            poisson: nu,
            density_kg_m3: rho,
        } = metal;
        // t r³ as a polynomial in ξ.
        let loads = [
            t * c.powi(3),
            3.0 * t * c * c * h + s * c.powi(3),
            3.0 * t * c * h * h + 3.0 * s * c * c * h,
            t * h.powi(3) + 3.0 * s * c * h * h,
            s * h.powi(3),
        ];
        let mut loads = loads.into_iter().chain(std::iter::repeat(0.0));
        let mut series = vec![start];
        let (mut before, mut now) = (State::default(), start);
        for index in 0..TERMS - 1 {
            let k = f64::from(index);
            let load = rho * loads.next().unwrap_or(0.0);
            let tw = t * now.stretched + s * before.stretched;
            let next = State {
                stretched: (h * ((1.0 - nu * nu) * now.pull - nu * tw)
                    - (t * h + c * s) * k * now.stretched
                    - h * s * (k - 1.0) * before.stretched)
                    / (c * t * (k + 1.0)),
                pull: h * (tw + (nu - k) * now.pull - load) / (c * (k + 1.0)),
            };
            series.push(next);
            (before, now) = (now, next);
        }
        series
    }

    /// Series of the solution that is regular on the axis, for a stretch that starts there,
    /// with `w = strain · r` to first order (`strain` is `E` times the strain on the axis, Pa).
    pub(super) fn series_from_axis(&self, metal: Metal, strain_pa: f64) -> Series {
        let (h, t, s) = (self.width_m(), self.thickness_m, self.rise_m);
        let Metal {
            poisson: nu,
            density_kg_m3: rho,
        } = metal;
        let first = State {
            stretched: strain_pa * h,
            pull: t * strain_pa * h / (1.0 - nu),
        };
        let mut loads = [0.0, t * h.powi(3), s * h.powi(3)]
            .into_iter()
            .chain(std::iter::repeat(0.0));
        let mut series = vec![State::default(), first];
        let mut before = first;
        for index in 2..TERMS {
            let k = f64::from(index);
            let load = rho * loads.next().unwrap_or(0.0);
            let from_taper = s * before.stretched - load;
            let stretched = ((1.0 - nu * nu) * from_taper
                - (k - nu) * s * (k - 1.0 + nu) * before.stretched)
                / (t * (k * k - 1.0));
            let next = State {
                stretched,
                pull: (t * stretched + from_taper) / (k - nu),
            };
            series.push(next);
            before = next;
        }
        series
    }

    /// Value of a series at a radius within the stretch, m.
    pub(super) fn value(&self, series: &[State], radius_m: f64) -> State {
        let x = (radius_m - self.start_m) / self.width_m();
        series
            .iter()
            .rev()
            .fold(State::default(), |sum, term| term.plus(x, sum))
    }

    /// `w/r` and `F/r` at a radius within a stretch that starts on the axis, where both states
    /// vanish and only their quotients by the radius have a meaning.
    pub(super) fn value_over_radius(&self, series: &[State], radius_m: f64) -> State {
        let x = radius_m / self.width_m();
        let sum = series
            .iter()
            .skip(1)
            .rev()
            .fold(State::default(), |sum, term| term.plus(x, sum));
        State::default().plus(1.0 / self.width_m(), sum)
    }

    /// Thickness at a radius within the stretch, m.
    pub(super) fn thickness_at_m(&self, radius_m: f64) -> f64 {
        self.thickness_m + self.rise_m * (radius_m - self.start_m) / self.width_m()
    }

    fn width_m(&self) -> f64 {
        self.end_m - self.start_m
    }
}
