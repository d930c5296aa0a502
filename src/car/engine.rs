//! The engine's torque.

use super::checked::{NonNegative, Positive};
use super::constants::RAD_S_PER_RPM;
use super::weather::StatedFor;
use crate::numerics::monotone_cubic::{CurveError, MonotoneCubic};
use std::cell::Cell;
use thiserror::Error;

/// Fewest points of a torque curve.
pub const LEAST_CURVE_POINTS: usize = 4;
/// Speed band over which the limiter takes the torque away, rad/s (100 rpm;
/// common practice, no source).
pub const LIMITER_BAND_RAD_S: f64 = 100.0 * RAD_S_PER_RPM;
/// One over that band, s/rad.
const PER_LIMITER_BAND: f64 = 1.0 / LIMITER_BAND_RAD_S;
/// Motoring torque as a share of the curve's highest point, where none is given
/// (common practice, no source).
pub const DEFAULT_MOTORING_SHARE: f64 = 0.12;
/// Share of the curve's peak under which an engine counts as bogged
/// (common practice, no source).
pub const BOG_SHARE: f64 = 0.8;

/// Full-throttle torque over engine speed, as stated (before the weather).
#[derive(Debug, Clone, PartialEq)]
pub struct TorqueCurve {
    points: Vec<(f64, f64)>,
    cubic: MonotoneCubic,
    peak_nm: f64,
}

/// What can be wrong with a torque curve.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TorqueCurveError {
    /// The points make no curve.
    #[error(transparent)]
    Points(#[from] CurveError),
    /// No torque anywhere.
    #[error("the curve's torque is nowhere above zero")]
    NoTorque,
    /// The first point is not above zero speed.
    #[error("the curve's first speed is not above zero")]
    StartsAtRest,
}

impl TorqueCurve {
    /// A curve from (speed rad/s, torque N·m) points, speed strictly rising.
    ///
    /// # Errors
    /// With fewer than four points, speeds not rising, or no torque above zero.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, TorqueCurveError> {
        if points.len() < LEAST_CURVE_POINTS {
            return Err(CurveError::TooFewPoints {
                found: points.len(),
                needed: LEAST_CURVE_POINTS,
            }
            .into());
        }
        let cubic = MonotoneCubic::new(&points)?;
        if cubic.first_x() <= 0.0 {
            return Err(TorqueCurveError::StartsAtRest);
        }
        let peak_nm = points.iter().map(|p| p.1).fold(f64::MIN, f64::max);
        if peak_nm <= 0.0 {
            return Err(TorqueCurveError::NoTorque);
        }
        Ok(Self {
            points,
            cubic,
            peak_nm,
        })
    }

    /// The same curve with the torque that spun the parts up on a sweep
    /// dynamometer put back: `T += Jd α` at each point (plain mechanics).
    ///
    /// # Errors
    /// As [`TorqueCurve::new`].
    pub fn with_sweep(
        self,
        rate_rad_s2: f64,
        inertia_kg_m2: f64,
    ) -> Result<Self, TorqueCurveError> {
        let back = rate_rad_s2 * inertia_kg_m2;
        Self::new(self.points.iter().map(|(n, t)| (*n, t + back)).collect())
    }

    /// The same curve with every torque times a factor.
    ///
    /// # Errors
    /// As [`TorqueCurve::new`].
    pub fn scaled(self, factor: f64) -> Result<Self, TorqueCurveError> {
        #[expect(clippy::float_cmp, reason = "a factor of 1 changes nothing")]
        if factor == 1.0 {
            return Ok(self);
        }
        Self::new(self.points.iter().map(|(n, t)| (*n, t * factor)).collect())
    }

    /// Torque at a speed in rad/s, N·m; within the curve's own range.
    pub fn at_nm(&self, speed_rad_s: f64) -> f64 {
        self.cubic.at(speed_rad_s)
    }

    /// The points, (rad/s, N·m).
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// First speed of the curve, rad/s.
    pub fn first_speed_rad_s(&self) -> f64 {
        self.cubic.first_x()
    }

    /// Last speed of the curve, rad/s.
    pub fn last_speed_rad_s(&self) -> f64 {
        self.cubic.last_x()
    }

    /// Highest torque of the curve, N·m: a monotone curve has it at a point.
    pub fn peak_nm(&self) -> f64 {
        self.peak_nm
    }

    /// Lowest speed at which the curve makes this share of its peak, rad/s.
    pub fn lowest_speed_making_rad_s(&self, share: f64) -> f64 {
        let wanted = share * self.peak_nm;
        let mut before = self.first_speed_rad_s();
        for &(speed, torque) in &self.points {
            if torque >= wanted {
                return self.bisect_rise(before, speed, wanted);
            }
            before = speed;
        }
        self.last_speed_rad_s()
    }

    fn bisect_rise(&self, mut low: f64, mut high: f64, wanted_nm: f64) -> f64 {
        /// Halvings that bring any speed range below round-off.
        const HALVINGS: usize = 60;
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if self.at_nm(middle) >= wanted_nm {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }
}

/// The engine.
#[derive(Debug, Clone, PartialEq)]
pub struct Engine {
    /// Its torque curve, as stated.
    pub curve: TorqueCurve,
    /// What the curve was stated for.
    pub stated_for: StatedFor,
    /// Speed at which the limiter has taken all torque away, rad/s.
    pub limiter_rad_s: Positive,
    /// Speed below which it stops, rad/s.
    pub stall_rad_s: Positive,
    /// Torque it takes to turn it over with the throttle shut, N·m.
    pub motoring_nm: NonNegative,
}

impl Engine {
    /// Torque of the curve at any speed, N·m, before weather: below the first point it
    /// falls in a straight line to nothing at the stall speed.
    pub fn curve_torque_nm(&self, speed_rad_s: f64) -> f64 {
        if speed_rad_s >= self.curve.first_speed_rad_s() {
            self.curve.at_nm(speed_rad_s)
        } else {
            self.below_curve_nm(speed_rad_s).max(0.0)
        }
    }

    /// The straight line below the curve's first point.
    fn below_curve_nm(&self, speed_rad_s: f64) -> f64 {
        self.below_curve_slope() * (speed_rad_s - self.stall_rad_s.get())
    }

    /// Its slope, N·m·s/rad.
    fn below_curve_slope(&self) -> f64 {
        let first = self.curve.first_speed_rad_s();
        self.curve.at_nm(first) / (first - self.stall_rad_s.get())
    }

    /// Net torque with the throttle wide open, N·m:
    /// `Tfull = s·c·Tcurve − (1−s)·Tm`, `s` falling from 1 to 0 over the limiter band.
    pub fn full_throttle_nm(&self, speed_rad_s: f64, weather_factor: f64) -> f64 {
        match self.band_at(speed_rad_s) {
            Band::BelowCurve => weather_factor * self.curve_torque_nm(speed_rad_s),
            band => self.in_band_nm(band, speed_rad_s, weather_factor),
        }
    }

    /// The same by the rule of one band, carried on smoothly beyond its edges: an integrator
    /// may look a little past the edge before it knows that it has been reached.
    pub fn in_band_nm(&self, band: Band, speed_rad_s: f64, weather_factor: f64) -> f64 {
        BandTorque::new(self, band, weather_factor).at_nm(speed_rad_s)
    }

    /// Speeds that part the bands, rad/s, lowest first: the curve's first point, the limiter's
    /// beginning, its end.
    pub fn band_edges_rad_s(&self) -> [f64; 3] {
        let limiter = self.limiter_rad_s.get();
        let limiter_from = limiter - LIMITER_BAND_RAD_S;
        let first = self.curve.first_speed_rad_s().min(limiter_from);
        [first, limiter_from, limiter]
    }

    /// The band of a speed in rad/s.
    pub fn band_at(&self, speed_rad_s: f64) -> Band {
        let [first, limiter_from, limiter] = self.band_edges_rad_s();
        if speed_rad_s > limiter {
            Band::Cut
        } else if speed_rad_s >= limiter_from {
            Band::Limited
        } else if speed_rad_s >= first {
            Band::OnCurve
        } else {
            Band::BelowCurve
        }
    }
}

/// Net torque with the throttle wide open by the rule of one band, all that does not change with
/// speed worked out. It remembers where on the curve it was asked last, which saves looking for
/// the place and changes no value.
#[derive(Debug, Clone)]
pub struct BandTorque<'e> {
    engine: &'e Engine,
    band: Band,
    weather_factor: f64,
    /// Slope of the straight line below the curve, weather included, N·m·s/rad.
    below_slope: f64,
    near: Cell<usize>,
}

impl<'e> BandTorque<'e> {
    /// The rule of a band, with the weather's factor on the curve.
    pub fn new(engine: &'e Engine, band: Band, weather_factor: f64) -> Self {
        let below_slope = match band {
            Band::BelowCurve => weather_factor * engine.below_curve_slope(),
            Band::OnCurve | Band::Limited | Band::Cut => 0.0,
        };
        Self {
            engine,
            band,
            weather_factor,
            below_slope,
            near: Cell::new(0),
        }
    }

    /// Torque at a speed in rad/s, N·m.
    #[expect(
        clippy::inline_always,
        reason = "asked for in every evaluation of a launch; the call costs a third of the work"
    )]
    #[inline(always)]
    pub fn at_nm(&self, speed_rad_s: f64) -> f64 {
        let motoring_nm = self.engine.motoring_nm.get();
        let curve = &self.engine.curve;
        match self.band {
            Band::BelowCurve => self.below_slope * (speed_rad_s - self.engine.stall_rad_s.get()),
            Band::OnCurve => self.weather_factor * curve.cubic.at_near(speed_rad_s, &self.near),
            Band::Limited => {
                let left = (self.engine.limiter_rad_s.get() - speed_rad_s) * PER_LIMITER_BAND;
                let curve_nm = if speed_rad_s >= curve.first_speed_rad_s() {
                    curve.cubic.at_near(speed_rad_s, &self.near)
                } else {
                    self.engine.curve_torque_nm(speed_rad_s)
                };
                left * self.weather_factor * curve_nm - (1.0 - left) * motoring_nm
            }
            Band::Cut => -motoring_nm,
        }
    }
}

/// A range of engine speed in which torque follows one smooth rule. At its edges torque bends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// Below the curve's first point: a straight line to nothing at the stall speed.
    BelowCurve,
    /// On the curve.
    OnCurve,
    /// The limiter takes torque away.
    Limited,
    /// It has taken all of it.
    Cut,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::weather::Standard;
    use approx::assert_relative_eq;

    fn rpm(n: f64) -> f64 {
        n * RAD_S_PER_RPM
    }

    fn engine() -> Engine {
        Engine {
            curve: TorqueCurve::new(vec![
                (rpm(1000.0), 100.0),
                (rpm(2000.0), 150.0),
                (rpm(4000.0), 200.0),
                (rpm(7000.0), 160.0),
            ])
            .unwrap(),
            stated_for: StatedFor::Standard(Standard::SaeJ1349),
            limiter_rad_s: Positive::new(rpm(6800.0)).unwrap(),
            stall_rad_s: Positive::new(rpm(500.0)).unwrap(),
            motoring_nm: NonNegative::new(24.0).unwrap(),
        }
    }

    #[test]
    fn law_torque_falls_straight_to_nothing_at_stall() {
        let engine = engine();
        assert_relative_eq!(
            engine.curve_torque_nm(rpm(750.0)),
            50.0,
            max_relative = 1e-12
        );
        assert!(engine.curve_torque_nm(rpm(500.0)).abs() < 1e-12);
        assert!(engine.curve_torque_nm(rpm(300.0)).abs() < 1e-12);
    }

    #[test]
    fn law_the_limiter_turns_drive_into_drag_over_its_band() {
        let engine = engine();
        let below = rpm(6700.0);
        assert_relative_eq!(
            engine.full_throttle_nm(below, 0.97),
            0.97 * engine.curve_torque_nm(below),
            max_relative = 1e-12
        );
        assert_relative_eq!(
            engine.full_throttle_nm(rpm(6800.0), 0.97),
            -24.0,
            max_relative = 1e-9
        );
        assert_relative_eq!(
            engine.full_throttle_nm(rpm(9000.0), 0.97),
            -24.0,
            max_relative = 1e-12
        );
    }

    /// T_true = T_measured + J α: 0.20 kg·m² at 600 rpm/s is 12.5663706 N·m (plain mechanics,
    /// figure recomputed to nine digits).
    #[test]
    fn reference_sweep_correction() {
        let curve = engine().curve;
        let swept = curve.clone().with_sweep(rpm(600.0), 0.20).unwrap();
        assert_relative_eq!(
            swept.peak_nm() - curve.peak_nm(),
            12.566_370_6,
            max_relative = 1e-8
        );
    }

    #[test]
    fn law_bog_speed_makes_just_that_share_of_the_peak() {
        let curve = engine().curve;
        let speed = curve.lowest_speed_making_rad_s(BOG_SHARE);
        assert_relative_eq!(
            curve.at_nm(speed),
            BOG_SHARE * curve.peak_nm(),
            max_relative = 1e-9
        );
        assert!(speed > rpm(2000.0) && speed < rpm(4000.0));
    }

    #[test]
    fn law_three_points_are_no_torque_curve() {
        let result = TorqueCurve::new(vec![(1.0, 1.0), (2.0, 1.0), (3.0, 1.0)]);
        assert!(result.is_err());
    }
}
