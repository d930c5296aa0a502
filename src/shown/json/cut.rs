//! `flyheft/cut/1`.

use super::compare::PairFields;
use super::disc::DiscFields;
use super::{Read, document, rpm};
use crate::car::machining::{Face, HoleDepth, Pass};
use crate::metal::disc::CAUTIONS;
use crate::metal::worth::{Ring, Worth};
use crate::sheet::Reading;
use crate::shown::text::{note_words, pass_words};
use crate::study::cutting::{CutStage, Cutting, Launched};
use crate::study::decide::passes_weighed::PassWeighed;
use crate::study::staged::{Stage, Visible, stage, stages};
use crate::units::System;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheel: &'a str,
    mass_kg: f64,
    inertia_kg_m2: f64,
    disc_check: DiscFields,
    passes: Vec<StageFields>,
    shop: ShopFields,
    rings: Vec<RingFields>,
    launches: Option<LaunchedFields<'a>>,
    plan: Option<PlanFields>,
    cautions: &'static [&'static str],
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct StageFields {
    pass: PassFields,
    words: String,
    mass_kg: f64,
    inertia_kg_m2: f64,
    mass_off_kg: f64,
    inertia_off_kg_m2: f64,
    inertia_per_gram_kg_m2: Option<f64>,
    worth_in_first_gear: Option<f64>,
    within_m: Option<f64>,
    notes: Vec<String>,
    disc_check: DiscFields,
}

#[derive(Debug, Serialize)]
#[serde(tag = "kind")]
enum PassFields {
    #[serde(rename = "face")]
    Face {
        inner_radius_m: f64,
        outer_radius_m: f64,
        depth_m: f64,
        face: &'static str,
    },
    #[serde(rename = "rim")]
    Rim { radius_m: f64 },
    #[serde(rename = "holes")]
    Holes {
        count: u32,
        diameter_m: f64,
        pitch_radius_m: f64,
        depth_m: Option<f64>,
    },
    #[serde(rename = "taper")]
    Taper {
        inner_radius_m: f64,
        outer_radius_m: f64,
        thickness_inner_m: f64,
        thickness_outer_m: f64,
        face: &'static str,
    },
}

impl PassFields {
    fn of(pass: &Pass) -> Self {
        let side = |face: &Face| face.name();
        match pass {
            Pass::FaceBand {
                band,
                depth_m,
                face,
            } => Self::Face {
                inner_radius_m: band.inner_radius_m(),
                outer_radius_m: band.outer_radius_m(),
                depth_m: depth_m.get(),
                face: side(face),
            },
            Pass::TurnRim { radius_m } => Self::Rim {
                radius_m: radius_m.get(),
            },
            Pass::Drill {
                count,
                diameter_m,
                pitch_radius_m,
                depth,
            } => Self::Holes {
                count: count.get(),
                diameter_m: diameter_m.get(),
                pitch_radius_m: pitch_radius_m.get(),
                depth_m: match depth {
                    HoleDepth::Through => None,
                    HoleDepth::Blind(depth) => Some(depth.get()),
                },
            },
            Pass::TaperWeb {
                band,
                thickness_inner_m,
                thickness_outer_m,
                face,
            } => Self::Taper {
                inner_radius_m: band.inner_radius_m(),
                outer_radius_m: band.outer_radius_m(),
                thickness_inner_m: thickness_inner_m.get(),
                thickness_outer_m: thickness_outer_m.get(),
                face: side(face),
            },
        }
    }
}

impl StageFields {
    fn of(stage: &CutStage) -> Self {
        let off = stage.step.taken_off();
        Self {
            pass: PassFields::of(&stage.step.pass),
            words: pass_words(&stage.step.pass, System::Metric),
            mass_kg: stage.step.after.mass_kg,
            inertia_kg_m2: stage.step.after.inertia_kg_m2,
            mass_off_kg: off.mass_kg,
            inertia_off_kg_m2: off.inertia_kg_m2,
            inertia_per_gram_kg_m2: stage.step.inertia_per_gram_kg_m2(),
            worth_in_first_gear: stage.worth_in_first,
            within_m: stage.within_m,
            notes: stage
                .step
                .notes
                .iter()
                .map(|note| note_words(note, System::Metric))
                .collect(),
            disc_check: DiscFields::of(&stage.disc),
        }
    }
}

#[derive(Debug, Serialize)]
struct ShopFields {
    least_web_m: f64,
    least_under_clutch_face_m: f64,
    least_land_m: f64,
    bolt_circles: &'static str,
    clutch_face_radii_m: Option<[f64; 2]>,
}

#[derive(Debug, Serialize)]
struct RingFields {
    inner_radius_m: f64,
    outer_radius_m: f64,
    mass_kg: f64,
    inertia_kg_m2: f64,
    spare_mass_kg: f64,
    inertia_per_gram_kg_m2: f64,
    share_of_mass: f64,
    share_of_inertia: f64,
    a_gram_is_worth: &'static str,
}

impl RingFields {
    fn of(ring: &Ring) -> Self {
        Self {
            inner_radius_m: ring.inner_radius_m,
            outer_radius_m: ring.outer_radius_m,
            mass_kg: ring.metal.mass_kg,
            inertia_kg_m2: ring.metal.inertia_kg_m2,
            spare_mass_kg: ring.spare.mass_kg,
            inertia_per_gram_kg_m2: ring.inertia_per_gram_kg_m2,
            share_of_mass: ring.share_of_mass,
            share_of_inertia: ring.share_of_inertia,
            a_gram_is_worth: ring.worth.id(),
        }
    }
}

#[derive(Debug, Serialize)]
struct LaunchedFields<'a> {
    wheels: Vec<LaunchedWheel<'a>>,
    against_as_it_is: Option<ChangeFields>,
    pairs: Vec<PairFields<'a>>,
}

#[derive(Debug, Serialize)]
struct LaunchedWheel<'a> {
    name: &'a str,
    crank_side_inertia_kg_m2: f64,
    quickest_s: Option<f64>,
    quickest_rpm: Option<f64>,
    droop_rpm: Option<f64>,
    aim_rpm: Option<f64>,
    mean_s: Option<f64>,
    sd_s: Option<f64>,
    share_stalled: Option<f64>,
}

#[derive(Debug, Serialize)]
struct PlanFields {
    order: &'static str,
    stages: Vec<Option<ChangeFields>>,
}

#[derive(Debug, Serialize)]
struct ChangeFields {
    mean_change_s: f64,
    mean_change_ci95_s: [f64; 2],
    sd_s: f64,
    launches_to_see_it: Option<u32>,
    can_be_seen: &'static str,
    over_the_doubt: Option<WeighedFields>,
}

/// What a pass may gain, and what it may lose for good, over sheets drawn from the doubt.
#[derive(Debug, Serialize)]
struct WeighedFields {
    sheets_drawn: usize,
    mean_change_s: f64,
    mean_change_ci95_s: [f64; 2],
    gained_mean_s: f64,
    gained_p95_s: f64,
    lost_mean_s: f64,
    lost_p95_s: f64,
    share_lost: f64,
}

impl WeighedFields {
    fn of(pass: &PassWeighed, sheets_drawn: usize) -> Self {
        let interval = &pass.change_interval_s;
        Self {
            sheets_drawn,
            mean_change_s: pass.change_mean_s,
            mean_change_ci95_s: [interval.low, interval.high],
            gained_mean_s: pass.gained_mean_s,
            gained_p95_s: pass.gained_p95_s,
            lost_mean_s: pass.lost_mean_s,
            lost_p95_s: pass.lost_p95_s,
            share_lost: pass.share_lost,
        }
    }
}

impl ChangeFields {
    fn of(stage: &Stage, over_the_doubt: Option<WeighedFields>) -> Self {
        let launches_to_see_it = match stage.visible {
            Visible::With(count) => Some(count),
            Visible::NotSensibly | Visible::NoDifference => None,
        };
        Self {
            mean_change_s: stage.mean_change_s,
            mean_change_ci95_s: [stage.interval_s.low, stage.interval_s.high],
            sd_s: stage.sd_s,
            launches_to_see_it,
            can_be_seen: stage.visible.id(),
            over_the_doubt,
        }
    }
}

fn launches<'a>(launched: &'a Launched) -> LaunchedFields<'a> {
    let comparison = &launched.comparison;
    let wheels = comparison.wheels().iter().map(|wheel| {
        let best = wheel.study.best.as_ref();
        let aim = wheel.scatter.as_ref().map(|scatter| &scatter.aim);
        LaunchedWheel {
            name: wheel.name(),
            crank_side_inertia_kg_m2: wheel.study.rig.crank_side_kg_m2,
            quickest_s: best.map(|best| best.quickest.sixty_foot_s),
            quickest_rpm: best.map(|best| rpm(best.quickest.launch_speed_rad_s)),
            droop_rpm: best.map(|best| rpm(best.launch.droop_rad_s())),
            aim_rpm: aim.map(|aim| rpm(aim.launch_speed_rad_s)),
            mean_s: aim.map(|aim| aim.mean_s),
            sd_s: aim.map(|aim| aim.sd_s),
            share_stalled: aim.map(|aim| aim.share_stalled),
        }
    });
    let last = comparison.wheels().len().saturating_sub(1);
    LaunchedFields {
        pairs: comparison
            .pairs()
            .map(|held| PairFields::of(&held))
            .collect(),
        wheels: wheels.collect(),
        against_as_it_is: stage(comparison, 0, last).map(|stage| {
            let weighed = launched.weighed.as_ref();
            let together =
                weighed.and_then(|all| Some(WeighedFields::of(all.together.as_ref()?, all.sheets)));
            ChangeFields::of(&stage, together)
        }),
    }
}

/// The document of a flywheel on the lathe.
pub fn cut(reading: &Reading, cutting: &Cutting, launched: Option<&Launched>) -> String {
    let whole = cutting.part.mass_properties();
    let rules = &cutting.rules;
    document(&Document {
        schema: "flyheft/cut/1",
        title: &reading.car.title,
        flywheel: cutting.wheel.name(),
        mass_kg: whole.mass_kg,
        inertia_kg_m2: whole.inertia_kg_m2,
        disc_check: DiscFields::of(&cutting.disc_before),
        passes: cutting.stages.iter().map(StageFields::of).collect(),
        shop: ShopFields {
            least_web_m: rules.least_web_m.get(),
            least_under_clutch_face_m: rules.least_under_clutch_face_m.get(),
            least_land_m: rules.least_land_m.get(),
            bolt_circles: rules.bolt_circles.name(),
            clutch_face_radii_m: rules
                .clutch_face
                .map(|face| [face.inner_radius_m(), face.outer_radius_m()]),
        },
        rings: cutting
            .worth
            .iter()
            .flat_map(Worth::ranked)
            .map(|ring| RingFields::of(&ring))
            .collect(),
        launches: launched.map(launches),
        plan: launched.and_then(|launched| {
            Some(PlanFields {
                order: launched.plan?.id(),
                stages: stages(&launched.comparison)
                    .into_iter()
                    .enumerate()
                    .map(|(place, stage)| {
                        let weighed = launched.weighed.as_ref();
                        let own = weighed.and_then(|all| {
                            Some(WeighedFields::of(all.passes.get(place)?, all.sheets))
                        });
                        stage.map(|stage| ChangeFields::of(&stage, own))
                    })
                    .collect(),
            })
        }),
        cautions: &CAUTIONS,
        read: Read::of(reading),
    })
}
