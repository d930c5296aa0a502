//! Applying a pass to a part.

use super::refusal::CutRefusal;
use super::{Band, Pass, ShopRules};
use crate::car::checked::Positive;
use crate::car::inertia::{
    BuiltUp, Extra, ExtraPlace, HoleRing, MassProperties, PartError, Section,
};
use crate::metal::profile::{Profile, Side, TOUCHING_M};
use thiserror::Error;

/// Something to know about a cut that was made.
#[derive(Debug, Clone, PartialEq)]
pub enum CutNote {
    /// The rim under a ring gear got thinner.
    SeatNarrowed {
        /// What sits there.
        name: String,
        /// Thickness of the rim that is left, m.
        left_m: f64,
    },
    /// Holes of the part got shorter, or less metal is left under them.
    HolesFaced {
        /// Radius of their pitch circle, m.
        pitch_radius_m: f64,
    },
}

/// One pass made.
#[derive(Debug, Clone, PartialEq)]
pub struct CutStep {
    /// The pass.
    pub pass: Pass,
    /// Mass and inertia before it.
    pub before: MassProperties,
    /// Mass and inertia after it.
    pub after: MassProperties,
    /// The part after it. Where the wheel was weighed, its `weighed_kg` is now what the scales
    /// are expected to say.
    pub part: BuiltUp,
    /// What there is to know about it.
    pub notes: Vec<CutNote>,
}

impl CutStep {
    /// Mass and inertia taken off, both zero or above.
    pub fn taken_off(&self) -> MassProperties {
        MassProperties {
            mass_kg: (self.before.mass_kg - self.after.mass_kg).max(0.0),
            inertia_kg_m2: (self.before.inertia_kg_m2 - self.after.inertia_kg_m2).max(0.0),
        }
    }

    /// Radius of gyration of the metal taken off, m; `None` where none was.
    pub fn gyration_m(&self) -> Option<f64> {
        let off = self.taken_off();
        (off.mass_kg > 0.0).then(|| (off.inertia_kg_m2 / off.mass_kg).sqrt())
    }

    /// What a gram of this cut was worth: inertia taken off with each gram, kg·m²/g; `None`
    /// where no metal was.
    pub fn inertia_per_gram_kg_m2(&self) -> Option<f64> {
        self.gyration_m().map(inertia_of_a_gram_kg_m2)
    }
}

/// Inertia of one gram at a radius, m: `r²` thousandths of a kg·m².
pub(in crate::metal) fn inertia_of_a_gram_kg_m2(radius_m: f64) -> f64 {
    const GRAM_KG: f64 = 1e-3;
    GRAM_KG * radius_m * radius_m
}

/// A pass of several was refused.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("pass {number}: {refusal}")]
pub struct PassRefused {
    /// Which one, from 1.
    pub number: usize,
    /// Why.
    pub refusal: CutRefusal,
}

/// Makes one pass.
///
/// # Errors
/// When the shop would not make it.
pub fn apply(part: &BuiltUp, pass: Pass, rules: &ShopRules) -> Result<CutStep, CutRefusal> {
    let profile = Profile::new(part.sections())?;
    let work = Work {
        part,
        profile,
        rules,
    };
    let (sections, holes) = match pass {
        Pass::FaceBand {
            band,
            depth_m,
            face,
        } => work.reshaped(band, face, |_, present| present - depth_m.get())?,
        Pass::TaperWeb {
            band,
            thickness_inner_m,
            thickness_outer_m,
            face,
        } => work.reshaped(band, face, |radius, _| {
            let width = band.outer_radius_m() - band.inner_radius_m();
            let rise = thickness_outer_m.get() - thickness_inner_m.get();
            thickness_inner_m.get() + rise * (radius - band.inner_radius_m()) / width
        })?,
        Pass::TurnRim { radius_m } => (work.turned(radius_m.get())?, part.holes().to_vec()),
        Pass::Drill {
            count,
            diameter_m,
            pitch_radius_m,
            depth,
        } => {
            let ring = work.drilled(count, diameter_m, pitch_radius_m, depth)?;
            let holes = part.holes().iter().copied().chain([ring]).collect();
            (part.sections().to_vec(), holes)
        }
    };
    let cut = rebuilt(part, &sections, &holes)?;
    Ok(CutStep {
        pass,
        before: part.mass_properties(),
        after: cut.mass_properties(),
        notes: work.notes(pass, &cut),
        part: cut,
    })
}

/// Makes several passes, one after the other.
///
/// # Errors
/// At the first pass that the shop would not make, with its number.
pub fn apply_all(
    part: &BuiltUp,
    passes: &[Pass],
    rules: &ShopRules,
) -> Result<Vec<CutStep>, PassRefused> {
    let mut steps: Vec<CutStep> = Vec::with_capacity(passes.len());
    for (index, pass) in passes.iter().enumerate() {
        let step = apply(steps.last().map_or(part, |last| &last.part), *pass, rules).map_err(
            |refusal| PassRefused {
                number: index + 1,
                refusal,
            },
        )?;
        steps.push(step);
    }
    Ok(steps)
}

/// The part with other metal, and the weighing factor and the factor on its inertia that it had.
fn rebuilt(
    part: &BuiltUp,
    sections: &[Section],
    holes: &[HoleRing],
) -> Result<BuiltUp, CutRefusal> {
    let build = |weighed| {
        let built = BuiltUp::new(
            part.material().clone(),
            sections.to_vec(),
            holes.to_vec(),
            part.extras().to_vec(),
            weighed,
        )?;
        Ok::<_, PartError>(match Positive::new(part.inertia_scale()) {
            Some(scale) => built.with_inertia_scale(scale),
            None => built,
        })
    };
    let drawn = build(None)?;
    if part.weighed_kg().is_none() {
        return Ok(drawn);
    }
    let expected_kg = drawn.computed().mass_kg * part.weighing_factor();
    Ok(build(Positive::new(expected_kg))?)
}

/// A part on the machine.
pub(super) struct Work<'a> {
    pub(super) part: &'a BuiltUp,
    pub(super) profile: Profile,
    pub(super) rules: &'a ShopRules,
}

impl Work<'_> {
    /// What there is to know about a pass that was made.
    fn notes(&self, pass: Pass, cut: &BuiltUp) -> Vec<CutNote> {
        let (Pass::FaceBand { band, .. } | Pass::TaperWeb { band, .. }) = pass else {
            return Vec::new();
        };
        let rim_m = self.profile.rim_radius_m();
        let left_m = Profile::new(cut.sections())
            .ok()
            .and_then(|profile| profile.thickness_at_m(profile.rim_radius_m(), Side::Inside));
        let seats = self
            .part
            .extras()
            .iter()
            .filter(|_| band.outer_radius_m() >= rim_m - TOUCHING_M)
            .filter(|extra| seat_m(extra) >= rim_m)
            .filter_map(|extra| {
                left_m.map(|left_m| CutNote::SeatNarrowed {
                    name: extra.name.clone(),
                    left_m,
                })
            });
        let faced = self
            .part
            .holes()
            .iter()
            .map(|ring| ring.pitch_radius_m.get())
            .filter(|pitch| band.meets(*pitch, *pitch))
            .map(|pitch_radius_m| CutNote::HolesFaced { pitch_radius_m });
        seats.chain(faced).collect()
    }
}

/// Thicknesses that differ by less than this share are one: it covers the round-off of a few
/// products.
pub(super) const ROUND_OFF: f64 = 1e-12;

pub(super) fn into(face: Band) -> CutRefusal {
    CutRefusal::IntoClutchFace {
        inner_m: face.inner_radius_m(),
        outer_m: face.outer_radius_m(),
    }
}

/// The radii a ring of holes lies between, m.
pub(super) fn reach_of(ring: &HoleRing) -> (f64, f64) {
    let (pitch, radius) = (ring.pitch_radius_m.get(), ring.diameter_m.get() / 2.0);
    (pitch - radius, pitch + radius)
}

/// The radius an extra sits at, m.
pub(super) fn seat_m(extra: &Extra) -> f64 {
    match extra.place {
        ExtraPlace::Gyration(radius) => radius.get(),
        ExtraPlace::Points { pitch_radius_m, .. } => pitch_radius_m.get(),
    }
}

/// Extras that sit on a circle of points, with its radius in m.
pub(super) fn bolt_circles(part: &BuiltUp) -> impl Iterator<Item = (String, f64)> {
    part.extras().iter().filter_map(|extra| match extra.place {
        ExtraPlace::Points { pitch_radius_m, .. } => {
            Some((extra.name.clone(), pitch_radius_m.get()))
        }
        ExtraPlace::Gyration(_) => None,
    })
}
