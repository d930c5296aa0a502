//! Stress over the radius of a spinning disc of stepped and tapered thickness.
//!
//! The stretches of [`super::series`] are chained from the bore outward, `E u` and `r t σr`
//! carried over each joint. Two solutions are carried: one with all loads, one with none; the
//! sum that meets the condition at the rim is the answer (the equations are linear). All
//! loads grow with the square of speed, so one solution at unit speed serves every speed.

use super::refusal::{Refusal, refuse_unsolvable};
use super::series::{Metal, REACH, Series, State, Stretch};
use crate::car::inertia::Section;
use crate::metal::profile::{Profile, Side, half_plane_area_m2, second_moment_m4};
use crate::numerics::lowest_between;
use std::convert::Infallible;

/// No stretch is shorter than this, m: it bounds the work on a bore finer than a hair.
const LEAST_STRETCH_M: f64 = 1e-9;

/// Stress at a radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stress {
    /// Where, radius in m.
    pub radius_m: f64,
    /// Radial stress, Pa, tension positive.
    pub radial_pa: f64,
    /// Tangential (hoop) stress, Pa, tension positive.
    pub tangential_pa: f64,
}

impl Stress {
    /// The larger principal stress in the plane, Pa.
    pub fn larger_pa(&self) -> f64 {
        self.radial_pa.max(self.tangential_pa)
    }

    /// The smaller principal stress in the plane, Pa.
    pub fn smaller_pa(&self) -> f64 {
        self.radial_pa.min(self.tangential_pa)
    }

    /// Peak stress at the edge of a small round hole in this field, Pa: `3σ1 − σ2`, with `σ1`
    /// the larger and `σ2` the smaller principal stress.
    ///
    /// Source: G. Kirsch, *Zeitschrift des VDI* 42 (1898) 797 (from memory), two pulls at right
    /// angles superposed. Valid for a hole small against its distance to edges, steps and other
    /// holes, and through the full thickness.
    pub fn at_hole_edge_pa(&self) -> f64 {
        3.0 * self.larger_pa() - self.smaller_pa()
    }

    fn scaled(self, factor: f64) -> Self {
        Self {
            radial_pa: self.radial_pa * factor,
            tangential_pa: self.tangential_pa * factor,
            ..self
        }
    }
}

/// Something fastened on, taken as spread evenly round its circle, pulling outward: at its own
/// radius, or at the bore or rim where that radius lies inside the one or outside the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineLoad {
    /// Radius at which its mass turns, m.
    pub radius_m: f64,
    /// Its mass, kg.
    pub mass_kg: f64,
}

impl LineLoad {
    /// Pull on one radian of the disc, N per (rad/s)²: `m r/(2π)`.
    fn pull(&self) -> f64 {
        self.mass_kg * self.radius_m / std::f64::consts::TAU
    }
}

/// The solved stretch: where it lies and its series at unit speed.
#[derive(Debug, Clone, PartialEq)]
struct Piece {
    stretch: Stretch,
    series: Series,
}

impl Piece {
    /// Stress at a radius within the piece, m, per (rad/s)².
    fn unit_stress(&self, radius_m: f64, poisson: f64) -> Stress {
        let over_radius = if self.stretch.start_m > 0.0 {
            let value = self.stretch.value(&self.series, radius_m);
            State::default().plus(1.0 / radius_m, value)
        } else {
            self.stretch.value_over_radius(&self.series, radius_m)
        };
        let radial_pa = over_radius.pull / self.stretch.thickness_at_m(radius_m);
        Stress {
            radius_m,
            radial_pa,
            tangential_pa: over_radius.stretched + poisson * radial_pa,
        }
    }
}

/// Elastic stress in a spinning disc at every radius and speed.
///
/// Equation: `d(t r σr)/dr − t σθ + ρ ω² t r² = 0` with `ε` compatible and Hooke's law in plane
/// stress; `t r σr` and displacement continuous, the bore free of stress but for what is
/// fastened there, the rim carrying what is fastened there. Source: S. Timoshenko and
/// J. N. Goodier, *Theory of Elasticity*, rotating disks (from memory).
/// Validity: thickness small against radius and varying gently; close to a step the true
/// stress is three-dimensional and the step's fillet raises it further.
/// Error: the series are summed to round-off; against closed forms the stresses agree to 1e-12.
#[derive(Debug, Clone, PartialEq)]
pub struct StressField {
    pieces: Vec<Piece>,
    poisson: f64,
    mean_tangential_unit_pa: f64,
    half_plane_area_m2: f64,
}

impl StressField {
    /// The field in a disc without gaps and everywhere thicker than [`super::LEAST_THICKNESS_M`].
    ///
    /// # Errors
    /// When the profile has a gap or an edge without thickness, Poisson's ratio is out of
    /// range, or no finite field comes out.
    pub fn solve(
        profile: &Profile,
        density_kg_m3: f64,
        poisson: f64,
        loads: &[LineLoad],
    ) -> Result<Self, Refusal> {
        refuse_unsolvable(profile, poisson)?;
        let (bore, rim) = (profile.bore_radius_m(), profile.rim_radius_m());
        let metal = Metal {
            poisson,
            density_kg_m3,
        };
        let mut carried = Carried {
            loaded: State {
                stretched: 0.0,
                pull: -pull_where(loads, |radius| radius <= bore),
            },
            free: State {
                stretched: 1.0,
                pull: 0.0,
            },
        };
        let mut reached = bore;
        let mut solved = Vec::new();
        for stretch in stretches(profile, loads) {
            let pair = carried.series(&stretch, metal);
            carried = pair.carried_over(&stretch);
            let end = stretch.end_m;
            carried.loaded.pull -= pull_where(loads, |radius| {
                reached < radius && radius <= end && radius < rim
            });
            reached = end;
            solved.push((stretch, pair));
        }
        let at_rim = pull_where(loads, |radius| radius >= rim);
        let factor = (at_rim - carried.loaded.pull) / carried.free.pull;
        if !factor.is_finite() {
            return Err(Refusal::NoFiniteAnswer);
        }
        let area: f64 = profile.sections().iter().map(half_plane_area_m2).sum();
        let moment: f64 = profile.sections().iter().map(second_moment_m4).sum();
        let pull: f64 = loads.iter().map(LineLoad::pull).sum();
        Ok(Self {
            pieces: solved
                .into_iter()
                .map(|(stretch, pair)| Piece {
                    stretch,
                    series: pair.sum(factor),
                })
                .collect(),
            poisson,
            mean_tangential_unit_pa: (density_kg_m3 * moment + pull) / area,
            half_plane_area_m2: area,
        })
    }

    /// Stress at a radius, m, and a speed, rad/s; `None` where there is no metal.
    pub fn stress_at(&self, radius_m: f64, side: Side, speed_rad_s: f64) -> Option<Stress> {
        let piece = self.pieces.iter().find(|piece| {
            let (a, b) = (piece.stretch.start_m, piece.stretch.end_m);
            match side {
                Side::Inside => a < radius_m && radius_m <= b,
                Side::Outside => a <= radius_m && radius_m < b,
            }
        })?;
        Some(
            piece
                .unit_stress(radius_m, self.poisson)
                .scaled(speed_rad_s.powi(2)),
        )
    }

    /// Mean tangential stress over the section, Pa, at a speed, rad/s:
    /// `(ρ ω² ∫ t r² dr + Σ m r ω²/2π)/∫ t dr`, the pull of one half of the wheel on the other
    /// over the metal between them. It follows from equilibrium alone, so it holds whether
    /// or not the metal has yielded.
    pub fn mean_tangential_pa(&self, speed_rad_s: f64) -> f64 {
        self.mean_tangential_unit_pa * speed_rad_s.powi(2)
    }

    /// Area that a half-plane through the axis cuts, m².
    pub fn half_plane_area_m2(&self) -> f64 {
        self.half_plane_area_m2
    }

    /// Stress from bore to rim at a speed, rad/s, `per_stretch + 1` points to each of the
    /// stretches the solution is made of; at a step the radius comes twice, the inner side first.
    pub fn over_radius(&self, speed_rad_s: f64, per_stretch: u32) -> Vec<Stress> {
        let steps = per_stretch.max(1);
        self.pieces
            .iter()
            .flat_map(|piece| {
                (0..=steps).map(move |step| {
                    let share = f64::from(step) / f64::from(steps);
                    let radius = piece.stretch.start_m
                        + share * (piece.stretch.end_m - piece.stretch.start_m);
                    piece
                        .unit_stress(radius, self.poisson)
                        .scaled(speed_rad_s.powi(2))
                })
            })
            .collect()
    }

    /// The place where a measure of stress is greatest, at a speed, rad/s.
    ///
    /// Each stretch is sampled and its best sample refined by golden section between that
    /// sample's neighbours; the measure must be smooth within a stretch.
    pub fn peak(&self, speed_rad_s: f64, measure: impl Fn(&Stress) -> f64) -> Option<Stress> {
        self.pieces
            .iter()
            .map(|piece| piece.peak(self.poisson, &measure))
            .max_by(|one, other| measure(one).total_cmp(&measure(other)))
            .map(|stress| stress.scaled(speed_rad_s.powi(2)))
    }
}

/// Samples of a stretch among which its peak is first looked for: a stretch spans less than a
/// third of its radius and taper, where these stresses turn once at most.
const PEAK_SAMPLES: u32 = 8;

/// How near the search for a peak comes to it, as a share of the bracket: a peak is flat, so its
/// height is known to round-off.
const NEAR_ENOUGH_SHARE: f64 = 4e-10;

impl Piece {
    fn peak(&self, poisson: f64, measure: &impl Fn(&Stress) -> f64) -> Stress {
        let start = self.stretch.start_m;
        let step = (self.stretch.end_m - start) / f64::from(PEAK_SAMPLES);
        let at = |radius: f64| self.unit_stress(radius, poisson);
        let better = |one: Stress, other: Stress| {
            if measure(&other) > measure(&one) {
                other
            } else {
                one
            }
        };
        let best = (0..=PEAK_SAMPLES)
            .map(|index| at(start + step * f64::from(index)))
            .fold(at(start), better);
        let low = (best.radius_m - step).max(start);
        let high = (best.radius_m + step).min(self.stretch.end_m);
        let near_enough = (high - low) * NEAR_ENOUGH_SHARE;
        let Ok(peak) = lowest_between((low, high), near_enough, None, |radius| {
            Ok::<_, Infallible>(-measure(&at(radius)))
        });
        better(best, at(peak.at))
    }
}

/// The two solutions at a joint: with all loads, and with none.
struct Carried {
    loaded: State,
    free: State,
}

impl Carried {
    /// Both solutions' series over the stretch that begins here.
    fn series(&self, stretch: &Stretch, metal: Metal) -> SeriesPair {
        let free = Metal {
            density_kg_m3: 0.0,
            ..metal
        };
        if stretch.start_m > 0.0 {
            SeriesPair {
                loaded: stretch.series_from(metal, self.loaded),
                free: stretch.series_from(free, self.free),
            }
        } else {
            SeriesPair {
                loaded: stretch.series_from_axis(metal, 0.0),
                free: stretch.series_from_axis(free, 1.0),
            }
        }
    }
}

/// The two solutions over one stretch.
struct SeriesPair {
    loaded: Series,
    free: Series,
}

impl SeriesPair {
    fn carried_over(&self, stretch: &Stretch) -> Carried {
        Carried {
            loaded: stretch.value(&self.loaded, stretch.end_m),
            free: stretch.value(&self.free, stretch.end_m),
        }
    }

    /// The loaded solution plus `factor` times the free one.
    fn sum(&self, factor: f64) -> Series {
        self.loaded
            .iter()
            .zip(&self.free)
            .map(|(loaded, free)| loaded.plus(factor, *free))
            .collect()
    }
}

/// Sum of the pulls whose radius, m, is picked, N per (rad/s)².
fn pull_where(loads: &[LineLoad], picked: impl Fn(f64) -> bool) -> f64 {
    loads
        .iter()
        .filter(|load| picked(load.radius_m))
        .map(LineLoad::pull)
        .sum()
}

/// Cuts a profile into stretches short enough for their series, with a joint at each load.
fn stretches(profile: &Profile, loads: &[LineLoad]) -> Vec<Stretch> {
    let mut stretches = Vec::new();
    for section in profile.sections() {
        let mut ends: Vec<f64> = loads
            .iter()
            .map(|load| load.radius_m)
            .filter(|radius| {
                *radius > section.inner_radius_m() && *radius < section.outer_radius_m()
            })
            .collect();
        ends.push(section.outer_radius_m());
        ends.sort_by(f64::total_cmp);
        let mut start = section.inner_radius_m();
        for end in ends {
            while start < end {
                let next = (start + reach_m(section, start)).min(end);
                let thickness_m = section.thickness_at_m(start);
                stretches.push(Stretch {
                    start_m: start,
                    end_m: next,
                    thickness_m,
                    rise_m: section.thickness_at_m(next) - thickness_m,
                });
                start = next;
            }
        }
    }
    stretches
}

/// How far a stretch from a radius, m, may go, m; infinite for a flat disc from the axis,
/// whose series ends by itself.
fn reach_m(section: &Section, start_m: f64) -> f64 {
    let slope = (section.thickness_outer_m() - section.thickness_inner_m())
        / (section.outer_radius_m() - section.inner_radius_m());
    let to_axis = if start_m > 0.0 {
        start_m
    } else {
        f64::INFINITY
    };
    // A flat section's quotient is infinite, as it should be.
    let to_nothing = (section.thickness_at_m(start_m) / slope).abs();
    (to_axis.min(to_nothing) * REACH).max(LEAST_STRETCH_M)
}
