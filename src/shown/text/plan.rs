//! What a cut does to the launch, and the staged plan.

use super::decide::milliseconds;
use super::pairs::LEAST_SHOWN_S;
use super::pairs::{pair_sentence, pair_sentences};
use super::passes::{pass_words, worst_words};
use super::report::{Block, Section};
use super::table::Figures;
use super::{percent, rpm, seconds};
use crate::study::compare::Best;
use crate::study::comparison::Compared;
use crate::study::cutting::{Cutting, Launched};
use crate::study::decide::passes_weighed::PassWeighed;
use crate::study::ledger::DiscStanding;
use crate::study::scatter::aim::Aim;
use crate::study::staged::{MOST_SENSIBLE_LAUNCHES, Order, Stage, Visible, stage, stages};
use crate::units::{Kind, System};

/// The wheel as it is against the wheel as cut, and the plan if there is one.
pub(super) fn launches(cutting: &Cutting, launched: &Launched, system: System) -> Vec<Section> {
    let table = Section::new("Launches", vec![Block::Table(table(launched, system))]);
    let told = if let Some(order) = launched.plan {
        plan(cutting, launched, order, system)
    } else {
        let mut sentences = pair_sentences(&launched.comparison);
        let together = launched.weighed.as_ref();
        sentences
            .extend(together.and_then(|all| {
                Some(weighed_words("The cut", all.together.as_ref()?, all.sheets))
            }));
        vec![Section::said("", sentences)]
    };
    std::iter::once(table).chain(told).collect()
}

fn table(launched: &Launched, system: System) -> Figures {
    let wheels = launched.comparison.wheels();
    let heads: Vec<&str> = wheels.iter().map(Compared::name).collect();
    let mut table = Figures::new("Launches", &heads);
    let scattered = |figure: &dyn Fn(&Aim) -> String| -> Vec<String> {
        let own = |wheel: &Compared| Some(figure(&wheel.scatter.as_ref()?.aim));
        wheels
            .iter()
            .map(|wheel| own(wheel).unwrap_or("never gets there".into()))
            .collect()
    };
    let best = |figure: &dyn Fn(&Best) -> String| -> Vec<String> {
        let own = |wheel: &Compared| wheel.study.best.as_ref().map(figure);
        wheels
            .iter()
            .map(|wheel| own(wheel).unwrap_or("none".into()))
            .collect()
    };
    table.row(
        "Crank-side inertia",
        wheels
            .iter()
            .map(|wheel| system.show(wheel.study.rig.crank_side_kg_m2, Kind::Inertia)),
    );
    table.row(
        "Quickest sixty-foot time",
        best(&|best| format!("{} s", seconds(best.quickest.sixty_foot_s))),
    );
    table.row(
        "  from",
        best(&|best| format!("{} rpm", rpm(best.quickest.launch_speed_rad_s))),
    );
    table.row(
        "  droop of engine speed",
        best(&|best| system.show(best.launch.droop_rad_s(), Kind::AngularSpeed)),
    );
    table.row(
        "Aim, with this driver's scatter",
        scattered(&|aim| format!("{} rpm", rpm(aim.launch_speed_rad_s))),
    );
    table.row(
        "  mean sixty-foot time",
        scattered(&|aim| format!("{} s", seconds(aim.mean_s))),
    );
    table.row(
        "  spread (standard deviation)",
        scattered(&|aim| format!("{} s", seconds(aim.sd_s))),
    );
    table
}

/// The plan: how it goes, every stage, all together, how to read it.
pub(in crate::shown) fn plan(
    cutting: &Cutting,
    launched: &Launched,
    order: Order,
    system: System,
) -> Vec<Section> {
    let first = match order {
        Order::MostFirst => {
            "The pass that takes off most inertia comes first: it shows soonest whether the strip says what is computed."
        }
        Order::AsGiven => {
            "The passes keep the order they were given in: in another they would not be made, or not come to the same."
        }
    };
    let mut sections = vec![
        Section::said(
            "Staged plan",
            vec![format!(
                "Staged plan: cut, run the car, look, and only then cut again. Metal that is off stays off. {first}"
            )],
        )
        .answering(),
    ];
    let judged = stages(&launched.comparison);
    for (index, (cut, stage)) in cutting.stages.iter().zip(judged).enumerate() {
        let words = stage.map_or_else(
            || String::from("With the wheel before or after it the car never gets to 60 ft."),
            |stage| stage_words(&stage),
        );
        let told = Block::Said(format!(
            "Stage {}: {}. {words}",
            index + 1,
            pass_words(&cut.step.pass, system),
        ));
        let weighed = launched.weighed.as_ref().and_then(|all| {
            let own = all.passes.get(index)?;
            Some(Block::Said(weighed_words("This stage", own, all.sheets)))
        });
        let blocks = std::iter::once(told)
            .chain(weighed)
            .chain(standing(&cut.disc))
            .collect();
        sections.push(Section::new("", blocks).answering());
    }
    sections.push(Section::said("", together(cutting, launched)).answering());
    sections.push(Section::said("", vec![HOW_TO_READ_IT.into()]));
    sections
}

const HOW_TO_READ_IT: &str = "At the number of launches given, a difference as computed is as likely as not to stand out of chance; \
twice as many make it eight times in ten (normal theory). Same day, same tyres, launches with both wheels in turn \
if the wheel can be changed: weather and track move more than a cut does. The intervals hold for the draws, not \
for what the sheet gets wrong.";

/// The wheel as it is against the one as cut in the end.
fn together(cutting: &Cutting, launched: &Launched) -> Vec<String> {
    let all = (cutting.stages.len() > 1)
        .then(|| stage(&launched.comparison, 0, cutting.stages.len()))
        .flatten()
        .map(|all| {
            format!(
                "All stages together, against the wheel as it is. {}",
                stage_words(&all)
            )
        });
    let last = launched.comparison.wheels().len().saturating_sub(1);
    let first_and_last = launched
        .comparison
        .pair_of(0, last)
        .map(|held| pair_sentence(&held));
    all.into_iter().chain(first_and_last).collect()
}

/// Whether the car may be run after a stage, as far as the disc check goes.
fn standing(disc: &DiscStanding) -> Option<Block> {
    match disc {
        DiscStanding::Checked(check) if check.verdict().is_below() => None,
        DiscStanding::Checked(check) => Some(Block::Stop(format!(
            "DO NOT CUT THIS STAGE: {}. The plan ends before it.",
            worst_words(check)
        ))),
        DiscStanding::Refused { .. } => Some(Block::Stop(
            "NOT CHECKED at speed: do not run the car on this plan's word; what the check needs is told below.".into(),
        )),
    }
}

/// What a pass may gain and may lose for good over what the sheet does not know, and whether that
/// is a reason to cut.
fn weighed_words(what: &str, pass: &PassWeighed, sheets: usize) -> String {
    if sheets < 2 {
        return String::from("Nothing in the sheet is in doubt: what is computed is all there is.");
    }
    let worth_it = if pass.change_interval_s.high < 0.0 && pass.gained_p95_s > pass.lost_p95_s {
        "On average it is worth making."
    } else if pass.change_interval_s.low > 0.0 || pass.lost_p95_s > pass.gained_p95_s {
        "Leave this metal on until slips say otherwise."
    } else {
        "That is undecided: while it is, leave the metal on."
    };
    format!(
        "{what} over {sheets} sheets drawn from what this one does not know: it may gain {} on average and {} in the best 1 in 20; \
         it loses in {} of them, for good, {} on average over all and {} in the worst 1 in 20. {worth_it}",
        milliseconds(pass.gained_mean_s),
        milliseconds(pass.gained_p95_s),
        percent(pass.share_lost),
        milliseconds(pass.lost_mean_s),
        milliseconds(pass.lost_p95_s),
    )
}

fn stage_words(stage: &Stage) -> String {
    let side = if stage.mean_change_s < 0.0 {
        "quicker"
    } else {
        "slower"
    };
    let size_s = stage.mean_change_s.abs();
    let change = if size_s < LEAST_SHOWN_S {
        format!("{side} by less than {LEAST_SHOWN_S} s")
    } else {
        format!(
            "{side} by {size_s:.4} s ({:+.4} to {:+.4} s, 95 %)",
            stage.interval_s.low, stage.interval_s.high
        )
    };
    let seen = match stage.visible {
        Visible::With(count) => format!(
            "With a spread of {} s it takes {count} launches before and {count} after to see that.",
            seconds(stage.sd_s)
        ),
        Visible::NotSensibly => format!(
            "With a spread of {} s that cannot be seen at the strip in any sensible number of launches \
             (more than {MOST_SENSIBLE_LAUNCHES} before and after): do not judge this stage by its time slips.",
            seconds(stage.sd_s)
        ),
        Visible::NoDifference => String::from(
            "That is no more than its own error: no difference is to be expected at the strip, nor a reason to cut.",
        ),
    };
    if stage.mean_change_s > 0.0 && stage.visible != Visible::NoDifference {
        format!(
            "Computed: the mean sixty-foot time at the aim gets {change}. For the sixty-foot time this is better left undone. {seen}"
        )
    } else {
        format!("What it must show: a mean sixty-foot time at the aim {change}. {seen}")
    }
}
