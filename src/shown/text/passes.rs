//! Machining passes and their refusals in words, with the places a machinist looks for.

use super::disc::{point_words, verdict_words};
use crate::car::machining::{Face, HoleDepth, Pass};
use crate::metal::cut::{CutNote, CutRefusal};
use crate::metal::disc::DiscCheck;
use crate::metal::target::{Target, TargetRefusal};
use crate::study::cutting::CuttingError;
use crate::units::{Kind, System};

/// Lengths as a machinist sets them: a hundredth of a millimetre, a tenth of a thou.
pub(in crate::shown) fn setting(length_m: f64, system: System) -> String {
    let unit = system.unit(Kind::Length);
    let decimals = match system {
        System::Metric => 2,
        System::Imperial => 4,
    };
    format!("{:.decimals$} {}", unit.of_si(length_m), unit.symbol)
}

fn diameter(radius_m: f64, system: System) -> String {
    setting(2.0 * radius_m, system)
}

const fn side(face: Face) -> &'static str {
    match face {
        Face::Engine => "engine side",
        Face::Clutch => "clutch side",
    }
}

/// A pass in one line.
pub fn pass_words(pass: &Pass, system: System) -> String {
    match pass {
        Pass::FaceBand {
            band,
            depth_m,
            face,
        } => format!(
            "face Ø {} to {}, {} deep, {}",
            diameter(band.inner_radius_m(), system),
            diameter(band.outer_radius_m(), system),
            setting(depth_m.get(), system),
            side(*face)
        ),
        Pass::TurnRim { radius_m } => {
            format!("turn the rim to Ø {}", diameter(radius_m.get(), system))
        }
        Pass::Drill {
            count,
            diameter_m,
            pitch_radius_m,
            depth,
        } => format!(
            "drill {count} holes Ø {} on Ø {}, {}",
            setting(diameter_m.get(), system),
            diameter(pitch_radius_m.get(), system),
            match depth {
                HoleDepth::Through => String::from("through"),
                HoleDepth::Blind(depth) => format!("{} deep", setting(depth.get(), system)),
            }
        ),
        Pass::TaperWeb {
            band,
            thickness_inner_m,
            thickness_outer_m,
            face,
        } => format!(
            "taper Ø {} to {}, leaving {} to {}, {}",
            diameter(band.inner_radius_m(), system),
            diameter(band.outer_radius_m(), system),
            setting(thickness_inner_m.get(), system),
            setting(thickness_outer_m.get(), system),
            side(*face)
        ),
    }
}

/// What there is to know of a cut that was made.
pub(in crate::shown) fn note_words(note: &CutNote, system: System) -> String {
    match note {
        CutNote::SeatNarrowed { name, left_m } => format!(
            "the seat of the {name} gets narrower: {} of rim is left",
            setting(*left_m, system)
        ),
        CutNote::HolesFaced { pitch_radius_m } => format!(
            "the holes on Ø {} lose depth, or metal under them: look at bolt lengths and threads",
            diameter(*pitch_radius_m, system)
        ),
    }
}

/// Why a pass was refused, and where.
// Over sixty lines: one table of words, a refusal each.
pub(in crate::shown) fn cut_refusal_words(refusal: &CutRefusal, system: System) -> String {
    let at = |radius_m: f64| diameter(radius_m, system);
    let thick = |length_m: f64| setting(length_m, system);
    match refusal {
        CutRefusal::Overlap(overlap) => {
            format!(
                "{refusal} (Ø {} to {})",
                at(overlap.from_m),
                at(overlap.to_m)
            )
        }
        CutRefusal::OutsideMetal { from_m, to_m } => {
            format!(
                "{refusal}: there is none from Ø {} to {}",
                at(*from_m),
                at(*to_m)
            )
        }
        CutRefusal::NothingToTurn { rim_m, .. } => {
            format!("{refusal}: it is Ø {} now", at(*rim_m))
        }
        CutRefusal::TooThin {
            radius_m,
            left_m,
            least_m,
            ..
        } => {
            if (least_m - left_m).abs() < REACHED_M {
                return format!(
                    "{refusal}: at Ø {} it is down to the least of {}",
                    at(*radius_m),
                    thick(*least_m)
                );
            }
            let left = if *left_m > 0.0 {
                format!("{} would be left", thick(*left_m))
            } else {
                String::from("the tool would come out on the other side")
            };
            format!(
                "{refusal}: at Ø {} {left}, at least {} must be",
                at(*radius_m),
                thick(*least_m)
            )
        }
        CutRefusal::AddsMetal {
            radius_m,
            present_m,
            asked_m,
        } => format!(
            "{refusal}: at Ø {} it asks for {} where there is {}",
            at(*radius_m),
            thick(*asked_m),
            thick(*present_m)
        ),
        CutRefusal::IntoClutchFace { inner_m, outer_m } => {
            format!("{refusal}, Ø {} to {}", at(*inner_m), at(*outer_m))
        }
        CutRefusal::ThroughHoles { pitch_radius_m } => {
            format!("{refusal} on Ø {}", at(*pitch_radius_m))
        }
        CutRefusal::ThroughBolts { pitch_radius_m, .. } => {
            format!("{refusal}, Ø {}", at(*pitch_radius_m))
        }
        CutRefusal::HolesTooClose { land_m, least_m } => {
            format!("{refusal}: {}", land(*land_m, *least_m, system))
        }
        CutRefusal::HolesAtEdge {
            edge_m,
            land_m,
            least_m,
        } => format!(
            "{refusal}, Ø {}: {}",
            at(*edge_m),
            land(*land_m, *least_m, system)
        ),
        CutRefusal::HolesAcrossStep { step_m } => format!("{refusal} at Ø {}", at(*step_m)),
        CutRefusal::SeatCutAway {
            radius_m, rim_m, ..
        } => format!(
            "{refusal}: it sits at Ø {}, the rim would be Ø {}",
            at(*radius_m),
            at(*rim_m)
        ),
        CutRefusal::ClutchFaceNotTold | CutRefusal::Part(_) => refusal.to_string(),
    }
}

/// Closer than this to what must be left, m, it is reached: a tenth of what a lathe is set to.
const REACHED_M: f64 = 1e-6;

fn land(land_m: f64, least_m: f64, system: System) -> String {
    if (least_m - land_m).abs() < REACHED_M {
        format!("it is down to the least of {}", setting(least_m, system))
    } else if land_m > 0.0 {
        format!(
            "{} of metal would be left, at least {} must be",
            setting(land_m, system),
            setting(least_m, system)
        )
    } else {
        format!(
            "they overlap by {}, at least {} of metal must be left",
            setting(-land_m, system),
            setting(least_m, system)
        )
    }
}

fn target_words(target: f64, is_mass: bool, system: System) -> String {
    system.show(target, if is_mass { Kind::Mass } else { Kind::Inertia })
}

/// What is wrong and what would be right, of a cut that was not made.
pub fn cutting_error(
    error: &CuttingError,
    target: Option<&Target>,
    system: System,
) -> (String, String) {
    match error {
        CuttingError::NoShape => (
            error.to_string(),
            String::from("measure it with a vernier and describe it by sections, holes and extras"),
        ),
        CuttingError::Pass(refused) => (
            format!(
                "pass {} is refused: {}",
                refused.number,
                cut_refusal_words(&refused.refusal, system)
            ),
            way_out(&refused.refusal),
        ),
        CuttingError::Target(refusal) => target_refusal(refusal, target, system),
    }
}

fn target_refusal(
    refusal: &TargetRefusal,
    target: Option<&Target>,
    system: System,
) -> (String, String) {
    let is_mass = matches!(target, Some(Target::MassKg(_)));
    let show = |value: f64| target_words(value, is_mass, system);
    match refusal {
        TargetRefusal::NothingToTake { now, target } => (
            format!(
                "the wheel has {} already; the target is {}",
                show(*now),
                show(*target)
            ),
            String::from("a cut can only take off: ask for less"),
        ),
        TargetRefusal::NoSuchCut(reason) => (
            format!(
                "no cut of this kind can be made: {}",
                cut_refusal_words(reason, system)
            ),
            way_out(reason),
        ),
        TargetRefusal::OutOfReach {
            reason,
            furthest,
            target: value,
        } => {
            let reached = target.map_or(f64::NAN, |target| target.of(&furthest.after));
            (
                format!(
                    "the target of {} cannot be reached this way: {}",
                    show(*value),
                    cut_refusal_words(reason, system)
                ),
                format!(
                    "the furthest that can be gone is to {}, which leaves {}; look for metal elsewhere",
                    pass_words(&furthest.pass, system),
                    show(reached)
                ),
            )
        }
        TargetRefusal::DiscForbids { step, check } => (
            format!(
                "the disc check forbids the cut that would reach the target ({}): {}",
                pass_words(&step.pass, system),
                worst_words(check)
            ),
            String::from(
                "take off less, or elsewhere; a burst flywheel kills. A licensed engineer's word stands over this check",
            ),
        ),
    }
}

/// What would be right, of a pass that was refused.
fn way_out(refusal: &CutRefusal) -> String {
    String::from(match refusal {
        CutRefusal::TooThin { .. }
        | CutRefusal::HolesTooClose { .. }
        | CutRefusal::HolesAtEdge { .. } => {
            "take off less; what the shop leaves is set in the sheet, shop = { least_web = … }, by somebody who answers for it"
        }
        CutRefusal::IntoClutchFace { .. } => "cut inside or outside of it, or the engine side",
        CutRefusal::ClutchFaceNotTold => {
            "say where the clutch rubs: --clutch-face \"150 mm:228 mm\", or shop = { clutch_face = { inner = …, outer = … } } in the sheet"
        }
        CutRefusal::ThroughHoles { .. } | CutRefusal::ThroughBolts { .. } => {
            "keep off it; shop = { bolt_circles = \"may be faced\" } lets a band cross it, if the bolts' grip and threads allow"
        }
        CutRefusal::SeatCutAway { .. } => {
            "what sits there keeps its seat; cut elsewhere, or describe the wheel without it"
        }
        CutRefusal::HolesAcrossStep { .. } => "move the circle off the step",
        CutRefusal::AddsMetal { .. } => "a taper can only take off: ask for less thickness",
        CutRefusal::Overlap(_)
        | CutRefusal::OutsideMetal { .. }
        | CutRefusal::NothingToTurn { .. }
        | CutRefusal::Part(_) => "look at the wheel's sections, and at the diameters asked for",
    })
}

/// The worst verdict with its speed.
pub(super) fn worst_words(check: &DiscCheck) -> String {
    check
        .at
        .iter()
        .max_by_key(|at| at.verdict)
        .map_or(String::new(), |at| {
            format!(
                "{}, {} rpm, it {}",
                point_words(at.point),
                super::rpm(at.speed_rad_s),
                verdict_words(at.verdict).to_lowercase()
            )
        })
}
