//! A flywheel at its own aim, from some forty launches: mean, spread and stalls, good enough for
//! hundreds of sheets.
//!
//! Launch speed is walked on an even lattice, a third of its standard deviation apart, and
//! release and grip take turns along it: four chances `(±√2, 0)`, `(0, ±√2)` in standard
//! deviations, which have the mean, spread and skew of two independent normal numbers (a rule of
//! degree 3; Stroud, *Approximate Calculation of Multiple Integrals*, 1971, from memory). The
//! mean at an aim is the lattice weighed by the normal distribution of the launch speed: a
//! trapezoidal sum of a smooth function, whose error from the taking of turns falls as
//! `exp(−2π²σ²/(4h)²)`, 1.5e-5 of the difference between the chances at `h = σ/3`. A stall is a
//! cliff, which no such sum sees: its edge is bisected at the middle and at the four chances,
//! and the stall probability is a normal integral up to it.
//!
//! A few launches over the whole range find where to walk from. The error of all this is
//! measured against thousands of drawn launches, and told with the answer.

use super::losses::as_float;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::study::StudyError;
use statrs::distribution::{ContinuousCDF, Normal};
use std::collections::BTreeMap;
use std::f64::consts::SQRT_2;

/// Release and grip along the lattice, in standard deviations.
const TURNS: [(f64, f64); 4] = [(SQRT_2, 0.0), (0.0, SQRT_2), (-SQRT_2, 0.0), (0.0, -SQRT_2)];
/// Lattice steps in a standard deviation of the launch speed.
const STEPS_IN_DEVIATION: f64 = 3.0;
/// A steadier driver than this is weighed as one this steady, rad/s (40 rpm): a finer lattice
/// would cost more than the two ten-thousandths of a second that it mends.
const STEADIEST_RAD_S: f64 = 40.0 * RAD_S_PER_RPM;
/// Standard deviations about an aim that are weighed; beyond lies 1 launch in 1,000.
const WEIGHED: f64 = 3.25;
/// An edge of the stalls this many standard deviations below an aim costs it nothing: 3 stalls in
/// a million.
const NO_STALLS: f64 = 4.5;
/// Launches over the whole range that find where to walk from.
const LOOKS: u32 = 11;
/// Aims tried in a standard deviation.
const AIMS_IN_DEVIATION: i32 = 8;
/// Walks of a standard deviation each that no range of launch speeds is longer than.
const MOST_WALKS: usize = 60;
/// How finely the edge of the stalls is found at the middle, and at each chance, rad/s.
const EDGE_RAD_S: f64 = 15.0 * RAD_S_PER_RPM;
/// How far from the middle's edge the edge of a chance is looked for first, rad/s.
const EDGE_APART_RAD_S: f64 = 80.0 * RAD_S_PER_RPM;

/// Something that launches, and how its launches scatter.
pub trait Launcher: Sync {
    /// Sixty-foot time from a launch speed in rad/s with chances of release and grip in standard
    /// deviations, s; `None` if it did not get there.
    ///
    /// # Errors
    /// When the launch cannot be computed.
    fn sixty_foot_s(
        &self,
        speed_rad_s: f64,
        release: f64,
        grip: f64,
    ) -> Result<Option<f64>, StudyError>;

    /// Standard deviation of the launch speed, rad/s.
    fn launch_sd_rad_s(&self) -> f64;

    /// Lowest and highest launch speed there can be, rad/s.
    fn limits_rad_s(&self) -> (f64, f64);

    /// What a launch that did not get there counts for, s.
    fn stall_cost_s(&self) -> f64;
}

/// What a flywheel does at its own aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnAim {
    /// Launch speed aimed at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time, s; stalled launches at their cost.
    pub mean_s: f64,
    /// Mean of the launches that got away, s.
    pub away_s: f64,
    /// Standard deviation of the launches that got away, s.
    pub sd_s: f64,
    /// Share of launches that do not get there.
    pub share_stalled: f64,
    /// Launches that this took.
    pub launches: usize,
}

/// Finds the aim with the lowest mean in a range, and what happens there; `None` where nothing
/// gets to 60 ft.
///
/// # Errors
/// When a launch cannot be computed.
pub fn own_aim(launcher: &impl Launcher, range: &SpeedRange) -> Result<Option<OwnAim>, StudyError> {
    let mut lattice = Lattice::new(launcher);
    let Some(from) = lattice.look(range)? else {
        return Ok(None);
    };
    lattice.walk(from, range)
}

/// Where the stalls end.
#[derive(Debug, Clone, Copy)]
struct Edge {
    /// Mean over release and grip, rad/s.
    at_rad_s: f64,
    /// Standard deviation over release and grip, rad/s.
    sd_rad_s: f64,
}

struct Lattice<'l, L> {
    launcher: &'l L,
    /// Launch speed's standard deviation as weighed, rad/s.
    sd_rad_s: f64,
    step_rad_s: f64,
    /// Launches made, by their place on the lattice.
    made: BTreeMap<i32, Option<f64>>,
    /// A speed that stalls and the next above it that does not, rad/s, as the first looks found.
    stalls_between: Option<(f64, f64)>,
    edge: Option<Edge>,
    launches: usize,
}

impl<'l, L: Launcher> Lattice<'l, L> {
    fn new(launcher: &'l L) -> Self {
        let sd_rad_s = launcher.launch_sd_rad_s().max(STEADIEST_RAD_S);
        Self {
            launcher,
            sd_rad_s,
            step_rad_s: sd_rad_s / STEPS_IN_DEVIATION,
            made: BTreeMap::new(),
            stalls_between: None,
            edge: None,
            launches: 0,
        }
    }

    fn launch(&mut self, speed: f64, release: f64, grip: f64) -> Result<Option<f64>, StudyError> {
        self.launches += 1;
        let (low, high) = self.launcher.limits_rad_s();
        self.launcher
            .sixty_foot_s(speed.clamp(low, high), release, grip)
    }

    /// Launches over the whole range; the quickest of them, and the edge of the stalls below it.
    fn look(&mut self, range: &SpeedRange) -> Result<Option<f64>, StudyError> {
        let (lowest, _) = self.launcher.limits_rad_s();
        let low = (range.low_rad_s() - WEIGHED * self.sd_rad_s).max(lowest);
        let step = (range.high_rad_s() - low) / f64::from(LOOKS - 1);
        let mut seen: Vec<(f64, Option<f64>)> = Vec::new();
        for look in 0..LOOKS {
            let speed = low + step * f64::from(look);
            seen.push((speed, self.launch(speed, 0.0, 0.0)?));
        }
        let quickest = seen
            .iter()
            .filter_map(|(speed, time)| Some((*speed, (*time)?)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        let Some((at, _)) = quickest else {
            return Ok(None);
        };
        let mut stalled = seen
            .iter()
            .filter(|(speed, time)| *speed < at && time.is_none());
        self.stalls_between = stalled
            .next_back()
            .map(|(stalls, _)| (*stalls, *stalls + step));
        Ok(Some(at))
    }

    /// The edge between a speed that stalls and one that does not.
    fn find_edge(&mut self, stalls: f64, runs: f64) -> Result<Edge, StudyError> {
        let middle = self.bisect(stalls, runs, (0.0, 0.0))?;
        let mut edges = Vec::new();
        for turn in TURNS {
            edges.push(self.edge_near(middle, turn)?);
        }
        let at_rad_s = edges.iter().sum::<f64>() / as_float(edges.len());
        let apart = |plus: usize, minus: usize| {
            let edge = |place: usize| edges.get(place).copied().unwrap_or(middle);
            (edge(plus) - edge(minus)) / (2.0 * SQRT_2)
        };
        Ok(Edge {
            at_rad_s,
            sd_rad_s: apart(0, 2).hypot(apart(1, 3)),
        })
    }

    /// The edge of one chance, near the middle's.
    fn edge_near(&mut self, middle: f64, turn: (f64, f64)) -> Result<f64, StudyError> {
        let (lowest, highest) = self.launcher.limits_rad_s();
        let runs_at_middle = self.launch(middle, turn.0, turn.1)?.is_some();
        let mut near = middle;
        let mut apart = EDGE_APART_RAD_S;
        loop {
            let far = if runs_at_middle {
                near - apart
            } else {
                near + apart
            };
            let beyond = far <= lowest || far >= highest;
            if beyond || self.launch(far, turn.0, turn.1)?.is_some() != runs_at_middle {
                let (stalls, runs) = if runs_at_middle {
                    (far, near)
                } else {
                    (near, far)
                };
                return self.bisect(stalls, runs, turn);
            }
            near = far;
            apart *= 2.0;
        }
    }

    fn bisect(
        &mut self,
        mut stalls: f64,
        mut runs: f64,
        turn: (f64, f64),
    ) -> Result<f64, StudyError> {
        while runs - stalls > EDGE_RAD_S {
            let middle = f64::midpoint(stalls, runs);
            if self.launch(middle, turn.0, turn.1)?.is_some() {
                runs = middle;
            } else {
                stalls = middle;
            }
        }
        Ok(f64::midpoint(stalls, runs))
    }

    /// Walks to where the mean is lowest.
    fn walk(&mut self, from: f64, range: &SpeedRange) -> Result<Option<OwnAim>, StudyError> {
        let within = |aim: f64| aim.clamp(range.low_rad_s(), range.high_rad_s());
        let mut centre = within(from);
        let mut best = None;
        for _ in 0..MOST_WALKS {
            if self.edge.is_none()
                && let Some((stalls, runs)) = self.stalls_between
                && runs > centre - (1.0 + NO_STALLS) * self.sd_rad_s
            {
                let edge = self.find_edge(stalls, runs)?;
                self.edge = Some(edge);
                let clear = edge.at_rad_s + 2.0 * self.sd_rad_s.hypot(edge.sd_rad_s);
                centre = within(centre.max(clear));
            }
            self.cover(
                centre - (1.0 + WEIGHED) * self.sd_rad_s,
                centre + (1.0 + WEIGHED) * self.sd_rad_s,
            )?;
            let tried: Vec<OwnAim> = (-AIMS_IN_DEVIATION..=AIMS_IN_DEVIATION)
                .map(|step| self.sd_rad_s * f64::from(step) / f64::from(AIMS_IN_DEVIATION))
                .map(|off| within(centre + off))
                .filter_map(|aim| self.at(aim))
                .collect();
            let lowest = tried.iter().min_by(|a, b| a.mean_s.total_cmp(&b.mean_s));
            let Some(lowest) = lowest.copied() else { break };
            let improved = best.is_none_or(|best: OwnAim| lowest.mean_s < best.mean_s);
            if improved {
                best = Some(lowest);
            }
            let off = (lowest.aim_rad_s - centre).abs();
            let at_the_edge = off > 0.99 * self.sd_rad_s;
            if !improved || !at_the_edge {
                break;
            }
            centre = lowest.aim_rad_s;
        }
        Ok(best.map(|best| OwnAim {
            launches: self.launches,
            ..best
        }))
    }

    /// Makes every launch of the lattice between two speeds that has not been made.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "places are some hundreds at most"
    )]
    fn cover(&mut self, low: f64, high: f64) -> Result<(), StudyError> {
        for place in self.place(low).floor() as i32..=self.place(high).ceil() as i32 {
            if self.made.contains_key(&place) {
                continue;
            }
            let turn = usize::try_from(place.rem_euclid(4)).unwrap_or(0);
            let (release, grip) = TURNS.get(turn).copied().unwrap_or((0.0, 0.0));
            let time = self.launch(self.speed(place), release, grip)?;
            self.made.insert(place, time);
        }
        Ok(())
    }

    fn place(&self, speed: f64) -> f64 {
        speed / self.step_rad_s
    }

    fn speed(&self, place: i32) -> f64 {
        f64::from(place) * self.step_rad_s
    }

    /// What happens at an aim, from the launches made.
    fn at(&self, aim: f64) -> Option<OwnAim> {
        let (mut weight, mut sum, mut squares, mut beyond) = (0.0, 0.0, 0.0, 0.0);
        for (place, time) in &self.made {
            let z = (self.speed(*place) - aim) / self.sd_rad_s;
            if z.abs() > WEIGHED {
                continue;
            }
            let density = (-0.5 * z * z).exp();
            match time {
                Some(time) => {
                    weight += density;
                    sum += density * time;
                    squares += density * time * time;
                }
                None if !self.below_the_edge(*place) => beyond += density,
                None => {}
            }
        }
        (weight > 0.0).then(|| {
            let away = sum / weight;
            let share_stalled = (self.stalls_below(aim) + beyond / (weight + beyond)).min(1.0);
            OwnAim {
                aim_rad_s: aim,
                mean_s: (1.0 - share_stalled) * away + share_stalled * self.launcher.stall_cost_s(),
                away_s: away,
                sd_s: (squares / weight - away * away).max(0.0).sqrt(),
                share_stalled,
                launches: self.launches,
            }
        })
    }

    /// Whether a launch of the lattice lies where the edge of the stalls already counts it.
    fn below_the_edge(&self, place: i32) -> bool {
        self.edge.is_some_and(|edge| {
            self.speed(place) < edge.at_rad_s + 3.0 * edge.sd_rad_s + self.step_rad_s
        })
    }

    /// Share of launches that an aim leaves below the edge of the stalls.
    fn stalls_below(&self, aim: f64) -> f64 {
        self.edge.map_or(0.0, |edge| {
            let spread = self.launcher.launch_sd_rad_s().hypot(edge.sd_rad_s);
            let spread = spread.max(f64::MIN_POSITIVE);
            Normal::standard().cdf((edge.at_rad_s - aim) / spread)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// A parabola in launch speed, straight in release, bent in grip, with a cliff.
    struct Toy {
        sd: f64,
        stalls_below: f64,
    }

    impl Launcher for Toy {
        fn sixty_foot_s(
            &self,
            speed: f64,
            release: f64,
            grip: f64,
        ) -> Result<Option<f64>, StudyError> {
            let edge = self.stalls_below + 3.0 * release - 4.0 * grip;
            let off = (speed - 340.0) / 100.0;
            Ok((speed > edge).then_some({
                2.0 + 0.03 * off * off + 0.004 * release - 0.02 * grip + 0.003 * grip * grip
            }))
        }
        fn launch_sd_rad_s(&self) -> f64 {
            self.sd
        }
        fn limits_rad_s(&self) -> (f64, f64) {
            (60.0, 760.0)
        }
        fn stall_cost_s(&self) -> f64 {
            5.0
        }
    }

    fn range() -> SpeedRange {
        SpeedRange::new(160.0, 740.0).unwrap()
    }

    /// Mean `2 + 0.03 (σ/100)² + 0.003`, variance `2·0.0009 (σ/100)⁴ + 0.004² + 0.02²` and the
    /// bend's own `2·0.003²`, which a rule of degree 3 leaves out: the closed form of the toy.
    #[test]
    fn reference_mean_and_spread_without_stalls() {
        let toy = Toy {
            sd: 22.0,
            stalls_below: -1000.0,
        };
        let own = own_aim(&toy, &range()).unwrap().unwrap();
        assert!((own.aim_rad_s - 340.0).abs() < 22.0 / 8.0);
        assert_relative_eq!(own.mean_s, 2.0 + 0.03 * 0.0484 + 0.003, epsilon = 2e-5);
        let variance: f64 =
            2.0 * 0.0009 * 0.0484_f64.powi(2) + 0.004_f64.powi(2) + 0.02_f64.powi(2);
        assert_relative_eq!(own.sd_s, variance.sqrt(), max_relative = 0.02);
        assert!(own.launches < 50, "{}", own.launches);
    }

    /// With a cliff whose place is normal: the stall share of the closed form, to the bisection's
    /// 10 rpm at this slope of the normal distribution (4 % of the share).
    #[test]
    fn reference_stalls_are_a_normal_integral() {
        let toy = Toy {
            sd: 22.0,
            stalls_below: 290.0,
        };
        let own = own_aim(&toy, &range()).unwrap().unwrap();
        let spread = (22.0_f64.powi(2) + 25.0).sqrt();
        let want = Normal::standard().cdf((290.0 - own.aim_rad_s) / spread);
        assert_relative_eq!(own.share_stalled, want, max_relative = 0.04);
        assert!(own.aim_rad_s > 350.0, "{own:?}");
    }
}
