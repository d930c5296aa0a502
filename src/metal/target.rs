//! How deep to go: the cut that brings a part to a target mass or inertia.
//!
//! Both fall steadily as any of these cuts deepens, and a cut that the shop would make stays one
//! when it is made shallower, so both questions, how far one may go and how far one must, are
//! answered by halving an interval until no number lies between its ends.

use crate::car::checked::{NonNegative, Positive};
use crate::car::inertia::{BuiltUp, MassProperties, Section};
use crate::metal::cut::{Band, CutRefusal, CutStep, Face, HoleDepth, Pass, ShopRules, apply};
use crate::metal::disc::{DiscCheck, DiscDemand, Refusal, check};
use crate::metal::profile::TOUCHING_M;
use std::num::NonZeroU32;
use thiserror::Error;

/// A kind of cut with one dimension left open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OpenCut {
    /// Face a band; its depth is open.
    BandDepth {
        /// Where.
        band: Band,
        /// Which face.
        face: Face,
    },
    /// Drill a ring of holes; their diameter is open.
    HoleDiameter {
        /// How many.
        count: NonZeroU32,
        /// Radius of the pitch circle, m.
        pitch_radius_m: Positive,
        /// How deep.
        depth: HoleDepth,
    },
    /// Turn the rim down; its radius is open.
    RimRadius,
}

impl OpenCut {
    /// The pass with its open dimension set, m; for a rim, what comes off its radius.
    fn pass(&self, part: &BuiltUp, size_m: f64) -> Option<Pass> {
        let size = Positive::new(size_m)?;
        Some(match *self {
            Self::BandDepth { band, face } => Pass::FaceBand {
                band,
                depth_m: size,
                face,
            },
            Self::HoleDiameter {
                count,
                pitch_radius_m,
                depth,
            } => Pass::Drill {
                count,
                diameter_m: size,
                pitch_radius_m,
                depth,
            },
            Self::RimRadius => Pass::TurnRim {
                radius_m: Positive::new(rim_m(part) - size_m)?,
            },
        })
    }

    /// A size beyond which there is no sense, m.
    fn beyond_m(&self, part: &BuiltUp) -> f64 {
        match self {
            Self::BandDepth { .. } => part
                .sections()
                .iter()
                .flat_map(|section| [section.thickness_inner_m(), section.thickness_outer_m()])
                .fold(0.0, f64::max),
            Self::HoleDiameter { .. } => 2.0 * rim_m(part),
            Self::RimRadius => rim_m(part) - TOUCHING_M,
        }
    }
}

fn rim_m(part: &BuiltUp) -> f64 {
    part.sections()
        .iter()
        .map(Section::outer_radius_m)
        .fold(0.0, f64::max)
}

/// What to come down to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// A mass, kg, by the scales where the wheel was weighed.
    MassKg(Positive),
    /// An inertia, kg·m².
    InertiaKgM2(NonNegative),
}

impl Target {
    /// The target itself, kg or kg·m².
    pub fn value(&self) -> f64 {
        match self {
            Self::MassKg(mass) => mass.get(),
            Self::InertiaKgM2(inertia) => inertia.get(),
        }
    }

    /// What of a part is held against it, kg or kg·m².
    pub fn of(&self, properties: &MassProperties) -> f64 {
        match self {
            Self::MassKg(_) => properties.mass_kg,
            Self::InertiaKgM2(_) => properties.inertia_kg_m2,
        }
    }
}

/// What the disc check says of the part that came out.
#[derive(Debug, Clone, PartialEq)]
pub enum DiscOutcome {
    /// No check was asked for.
    NotAsked,
    /// It was refused; the cut stands, unchecked.
    NotJudged(Refusal),
    /// It passed.
    Passed(DiscCheck),
}

/// The cut that reaches the target.
#[derive(Debug, Clone, PartialEq)]
pub struct Reached {
    /// The pass, made.
    pub step: CutStep,
    /// What the disc check says.
    pub disc: DiscOutcome,
}

/// Why there is no cut to the target.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TargetRefusal {
    /// The part is there already, or below.
    #[error("the part is at the target already, or below it")]
    NothingToTake {
        /// What the part has now, kg or kg·m².
        now: f64,
        /// The target, kg or kg·m².
        target: f64,
    },
    /// Not even the slightest cut of this kind would be made.
    #[error("no cut of this kind can be made: {0}")]
    NoSuchCut(CutRefusal),
    /// The shop stops before the target.
    #[error("the cut has to stop before the target: {reason}")]
    OutOfReach {
        /// What stops it.
        reason: CutRefusal,
        /// The furthest cut that would be made.
        furthest: Box<CutStep>,
        /// The target, kg or kg·m².
        target: f64,
    },
    /// The cut can be made, but the disc check forbids what is left.
    #[error("the disc check forbids what the cut would leave")]
    DiscForbids {
        /// The cut.
        step: Box<CutStep>,
        /// The check of what it leaves.
        check: Box<DiscCheck>,
    },
}

/// The cut that brings a part to a target, checked at speed if a demand is given.
///
/// # Errors
/// When there is nothing to take off, the shop's rules stop the cut before the target, or the
/// disc check finds a limit reached in what would be left.
pub fn reach(
    part: &BuiltUp,
    open: OpenCut,
    target: Target,
    rules: &ShopRules,
    demand: Option<&DiscDemand>,
) -> Result<Reached, TargetRefusal> {
    let now = target.of(&part.mass_properties());
    if target.value() >= now {
        return Err(TargetRefusal::NothingToTake {
            now,
            target: target.value(),
        });
    }
    let cut = |size_m: f64| match open.pass(part, size_m) {
        Some(pass) => apply(part, pass, rules),
        None => Err(CutRefusal::OutsideMetal {
            from_m: 0.0,
            to_m: size_m,
        }),
    };
    let slightest_m = TOUCHING_M;
    cut(slightest_m).map_err(TargetRefusal::NoSuchCut)?;
    let beyond_m = open.beyond_m(part);
    let furthest_m = last_true(slightest_m, beyond_m, |size| cut(size).is_ok());
    let furthest = cut(furthest_m).map_err(TargetRefusal::NoSuchCut)?;
    if target.of(&furthest.after) > target.value() {
        let next = f64::max(furthest_m.next_up(), furthest_m * (1.0 + 1e-9));
        let reason = match cut(next) {
            Err(reason) => reason,
            Ok(_) => CutRefusal::OutsideMetal {
                from_m: furthest_m,
                to_m: beyond_m,
            },
        };
        return Err(TargetRefusal::OutOfReach {
            reason,
            furthest: Box::new(furthest),
            target: target.value(),
        });
    }
    let size_m = last_true(0.0, furthest_m, |size| {
        cut(size).is_ok_and(|step| target.of(&step.after) > target.value())
    });
    // The slightest cuts are below the resolution of a joint; the answer is never there.
    let step = cut(size_m.max(slightest_m)).map_err(TargetRefusal::NoSuchCut)?;
    judged(step, demand)
}

/// Holds what a cut leaves against the disc check.
fn judged(step: CutStep, demand: Option<&DiscDemand>) -> Result<Reached, TargetRefusal> {
    let disc = match demand.map(|demand| check(&step.part, demand)) {
        None => DiscOutcome::NotAsked,
        Some(Err(refusal)) => DiscOutcome::NotJudged(refusal),
        Some(Ok(check)) if check.verdict().is_below() => DiscOutcome::Passed(check),
        Some(Ok(check)) => {
            return Err(TargetRefusal::DiscForbids {
                step: Box::new(step),
                check: Box::new(check),
            });
        }
    };
    Ok(Reached { step, disc })
}

/// The last number of a range for which a claim holds that holds at its low end and, once
/// false, stays false: halved until no number lies between.
fn last_true(low: f64, high: f64, claim: impl Fn(f64) -> bool) -> f64 {
    if claim(high) {
        return high;
    }
    let (mut holds, mut fails) = (low, high);
    loop {
        let middle = f64::midpoint(holds, fails);
        if middle <= holds || middle >= fails {
            return holds;
        }
        if claim(middle) {
            holds = middle;
        } else {
            fails = middle;
        }
    }
}

#[cfg(test)]
mod tests;
