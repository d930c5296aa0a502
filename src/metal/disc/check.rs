//! A flywheel's stresses held against its metal, at the limiter and at the over-speed.

use super::cautions::{CAST_IRON_RIM_SPEED_M_S, CAUTIONS};
use super::field::{LineLoad, Stress, StressField};
use super::refusal::{Refusal, Strengths, refuse_holes_outside};
use crate::car::checked::{AtLeastOne, Positive};
use crate::car::inertia::{BuiltUp, Extra, ExtraPlace, HoleRing};
use crate::car::material::Failure;
use crate::metal::profile::{Profile, Side};

/// Over-speed the wheel is also checked at, as a multiple of the limiter's speed: a missed
/// shift or a broken driveline lets the engine past its limiter. Common practice, no source.
pub const OVER_SPEED_RATIO: f64 = 1.25;

/// Points of the chart's line to each stretch of the solution.
const CHART_POINTS: u32 = 8;

/// The speeds to check at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiscDemand {
    /// The limiter's speed, rad/s.
    pub limiter_rad_s: Positive,
    /// Over-speed as a multiple of the limiter's.
    pub over_speed_ratio: AtLeastOne,
}

impl DiscDemand {
    /// A limiter, rad/s, with the default over-speed [`OVER_SPEED_RATIO`].
    pub fn at_limiter(limiter_rad_s: Positive) -> Option<Self> {
        AtLeastOne::new(OVER_SPEED_RATIO).map(|over_speed_ratio| Self {
            limiter_rad_s,
            over_speed_ratio,
        })
    }

    fn speeds_rad_s(&self) -> [(SpeedPoint, f64); 2] {
        let limiter = self.limiter_rad_s.get();
        [
            (SpeedPoint::Limiter, limiter),
            (SpeedPoint::OverSpeed, limiter * self.over_speed_ratio.get()),
        ]
    }
}

/// Which of the two speeds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedPoint {
    /// The limiter's.
    Limiter,
    /// The over-speed.
    OverSpeed,
}

/// What the check says at one speed, mildest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// All stresses below the limits: yield for a ductile metal, tensile for a brittle one.
    Below,
    /// Ductile: the edge of a hole yields, the metal between does not. A crack starts there.
    YieldsAtHoles,
    /// Ductile: the metal yields beyond the edges of holes, but does not burst by this measure.
    Yields,
    /// The mean tangential stress (ductile) or the elastic peak (brittle) reaches the tensile
    /// strength.
    Bursts,
}

impl Verdict {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Below => "below",
            Self::YieldsAtHoles => "yields_at_holes",
            Self::Yields => "yields",
            Self::Bursts => "bursts",
        }
    }
}

impl Verdict {
    /// Whether nothing was reached.
    pub fn is_below(self) -> bool {
        self == Self::Below
    }
}

/// Peak at the edges of one ring of holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HolePeak {
    /// The ring.
    pub ring: HoleRing,
    /// `3σ1 − σ2` at its pitch radius, Pa.
    pub stress_pa: f64,
}

/// The check at one speed.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedCheck {
    /// Which speed.
    pub point: SpeedPoint,
    /// That speed, rad/s.
    pub speed_rad_s: f64,
    /// Speed of the rim of the metal, m/s.
    pub tip_speed_m_s: f64,
    /// Where tangential stress peaks, holes left aside.
    pub peak_tangential: Stress,
    /// Where radial stress peaks, holes left aside: a heavy rim on a thin web can make it the
    /// greater of the two.
    pub peak_radial: Stress,
    /// Peaks at holes, in the order of the part's rings.
    pub hole_peaks: Vec<HolePeak>,
    /// Mean tangential stress, holes left aside, Pa.
    pub mean_tangential_pa: f64,
    /// Mean tangential stress in a plane through one hole of every ring, Pa: the same pull on
    /// less metal. The same as the mean where there are no holes.
    pub mean_tangential_net_pa: f64,
    /// Greatest elastic stress over the yield strength; `None` for a brittle metal.
    pub peak_over_yield: Option<f64>,
    /// What the burst is judged by over the tensile strength: the net mean tangential stress
    /// for a ductile metal, the greatest elastic stress for a brittle one.
    pub burst_stress_over_tensile: f64,
    /// Rim speed over the old limit for cast iron; `None` for a ductile metal.
    pub rim_speed_over_cast_iron_limit: Option<f64>,
    /// What it comes to.
    pub verdict: Verdict,
}

impl SpeedCheck {
    /// Greatest stress away from holes, Pa. With both stresses tensile it is also the Tresca
    /// equivalent, the stress across the thickness being nil.
    pub fn peak_in_body_pa(&self) -> f64 {
        self.peak_tangential
            .tangential_pa
            .max(self.peak_radial.radial_pa)
    }

    /// Greatest stress at the edge of a hole, Pa; `None` without holes.
    pub fn peak_at_holes_pa(&self) -> Option<f64> {
        self.hole_peaks
            .iter()
            .map(|peak| peak.stress_pa)
            .max_by(f64::total_cmp)
    }

    /// Greatest elastic stress anywhere, Pa.
    pub fn peak_pa(&self) -> f64 {
        self.peak_at_holes_pa()
            .map_or(self.peak_in_body_pa(), |holes| {
                holes.max(self.peak_in_body_pa())
            })
    }
}

/// The disc check of a flywheel.
#[derive(Debug, Clone, PartialEq)]
pub struct DiscCheck {
    /// At the limiter, then at the over-speed.
    pub at: Vec<SpeedCheck>,
    /// Speed at which the greatest elastic stress reaches yield, rad/s; `None` for a brittle
    /// metal.
    pub yield_speed_rad_s: Option<f64>,
    /// Speed at which the wheel is taken to burst, rad/s.
    ///
    /// Ductile: the net mean tangential stress reaches the tensile strength. Source:
    /// E. L. Robinson, *Bursting Tests of Steam-Turbine Disk Wheels*, Trans. ASME 66 (1944)
    /// (volume from memory): in good alloy steel the mean at burst is likely to exceed the
    /// tensile strength, bored or not. Brittle: the greatest elastic stress, holes included,
    /// reaches it.
    pub burst_speed_rad_s: f64,
    /// How the metal was taken to fail.
    pub failure: Failure,
    /// Stress from bore to rim at the limiter, for a chart; a step's radius comes twice.
    pub over_radius: Vec<Stress>,
    /// What must be shown beside any of these numbers.
    pub cautions: &'static [&'static str],
}

impl DiscCheck {
    /// The worst verdict of all speeds.
    pub fn verdict(&self) -> Verdict {
        self.at
            .iter()
            .map(|at| at.verdict)
            .max()
            .unwrap_or(Verdict::Below)
    }
}

/// Checks a part built up from metal.
///
/// The metal is taken with the thickness and density of the drawing: a weighing changes
/// neither. What is fastened on pulls at its own radius, spread round its circle. Holes carry
/// no load in the field but are not taken out of its mass: the safe side.
///
/// # Errors
/// When the shape or the material leave something to guess.
pub fn check(part: &BuiltUp, demand: &DiscDemand) -> Result<DiscCheck, Refusal> {
    let strengths = Strengths::of(part.material())?;
    let profile = Profile::new(part.sections())?;
    refuse_holes_outside(part, &profile)?;
    let loads: Vec<LineLoad> = part.extras().iter().map(line_load).collect();
    let field = StressField::solve(&profile, strengths.density_kg_m3, strengths.poisson, &loads)?;
    let net_share = net_share(part, &profile, &field)?;
    let subject = Subject {
        part,
        profile: &profile,
        field: &field,
        strengths,
        net_share,
    };
    let at: Vec<SpeedCheck> = demand
        .speeds_rad_s()
        .into_iter()
        .filter_map(|(point, speed)| subject.at_speed(point, speed))
        .collect();
    let limiter = at.first().ok_or(Refusal::NoFiniteAnswer)?;
    let speed = limiter.speed_rad_s;
    Ok(DiscCheck {
        yield_speed_rad_s: limiter.peak_over_yield.map(|share| speed / share.sqrt()),
        burst_speed_rad_s: speed / limiter.burst_stress_over_tensile.sqrt(),
        failure: part.material().failure,
        over_radius: field.over_radius(speed, CHART_POINTS),
        cautions: &CAUTIONS,
        at,
    })
}

/// Where an extra pulls.
fn line_load(extra: &Extra) -> LineLoad {
    let radius_m = match extra.place {
        ExtraPlace::Gyration(radius) => radius.get(),
        ExtraPlace::Points { pitch_radius_m, .. } => pitch_radius_m.get(),
    };
    LineLoad {
        radius_m,
        mass_kg: extra.mass_properties().mass_kg,
    }
}

/// Share of the half-plane's metal that one hole of every ring leaves.
fn net_share(part: &BuiltUp, profile: &Profile, field: &StressField) -> Result<f64, Refusal> {
    let gone: f64 = part
        .holes()
        .iter()
        .map(|ring| {
            let pitch = ring.pitch_radius_m.get();
            let thickness = [Side::Inside, Side::Outside]
                .into_iter()
                .filter_map(|side| profile.thickness_at_m(pitch, side))
                .fold(0.0, f64::max);
            ring.diameter_m.get() * ring.depth_m.get().min(thickness)
        })
        .sum();
    let share = 1.0 - gone / field.half_plane_area_m2();
    if share > 0.0 {
        Ok(share)
    } else {
        Err(Refusal::HolesLeaveNothing)
    }
}

/// A solved wheel, ready to be looked at at any speed.
struct Subject<'a> {
    part: &'a BuiltUp,
    profile: &'a Profile,
    field: &'a StressField,
    strengths: Strengths,
    net_share: f64,
}

impl Subject<'_> {
    fn at_speed(&self, point: SpeedPoint, speed_rad_s: f64) -> Option<SpeedCheck> {
        let tip_speed_m_s = speed_rad_s * self.profile.rim_radius_m();
        let mean_tangential_pa = self.field.mean_tangential_pa(speed_rad_s);
        let mut at = SpeedCheck {
            point,
            speed_rad_s,
            tip_speed_m_s,
            peak_tangential: self.field.peak(speed_rad_s, |s| s.tangential_pa)?,
            peak_radial: self.field.peak(speed_rad_s, |s| s.radial_pa)?,
            hole_peaks: self
                .part
                .holes()
                .iter()
                .filter_map(|ring| self.hole_peak(*ring, speed_rad_s))
                .collect(),
            mean_tangential_pa,
            mean_tangential_net_pa: mean_tangential_pa / self.net_share,
            peak_over_yield: None,
            burst_stress_over_tensile: 0.0,
            rim_speed_over_cast_iron_limit: None,
            verdict: Verdict::Below,
        };
        self.judge(&mut at);
        Some(at)
    }

    /// The worse of a step's two sides, where the pitch circle lies on one.
    fn hole_peak(&self, ring: HoleRing, speed_rad_s: f64) -> Option<HolePeak> {
        let pitch = ring.pitch_radius_m.get();
        [Side::Inside, Side::Outside]
            .into_iter()
            .filter_map(|side| self.field.stress_at(pitch, side, speed_rad_s))
            .map(|stress| stress.at_hole_edge_pa())
            .max_by(f64::total_cmp)
            .map(|stress_pa| HolePeak { ring, stress_pa })
    }

    fn judge(&self, at: &mut SpeedCheck) {
        let tensile = self.strengths.tensile_pa;
        if let Some(yield_pa) = self.strengths.yield_pa {
            at.peak_over_yield = Some(at.peak_pa() / yield_pa);
            at.burst_stress_over_tensile = at.mean_tangential_net_pa / tensile;
            at.verdict = if at.burst_stress_over_tensile >= 1.0 {
                Verdict::Bursts
            } else if at.peak_in_body_pa() >= yield_pa {
                Verdict::Yields
            } else if at.peak_pa() >= yield_pa {
                Verdict::YieldsAtHoles
            } else {
                Verdict::Below
            };
        } else {
            at.burst_stress_over_tensile = at.peak_pa() / tensile;
            at.rim_speed_over_cast_iron_limit = Some(at.tip_speed_m_s / CAST_IRON_RIM_SPEED_M_S);
            at.verdict = if at.burst_stress_over_tensile >= 1.0 {
                Verdict::Bursts
            } else {
                Verdict::Below
            };
        }
    }
}
