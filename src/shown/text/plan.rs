//! What a cut does to the launch, and the staged plan.

use super::pairs::pair_sentences;
use super::passes::{pass_words, worst_words};
use super::table::Figures;
use super::{rpm, seconds, wrapped};
use crate::study::cutting::{Cutting, Launched};
use crate::study::ledger::DiscStanding;
use crate::study::scatter::study::WheelScatter;
use crate::study::staged::{MOST_SENSIBLE_LAUNCHES, Order, Stage, Visible, stage, stages};
use crate::units::{Kind, System};

/// The wheel as it is against the wheel as cut, and the plan if there is one.
pub(super) fn launches(cutting: &Cutting, launched: &Launched, system: System) -> String {
    let mut text = table(launched, system);
    text.push('\n');
    if let Some(order) = launched.plan {
        text.push_str(&plan(cutting, launched, order, system));
    } else {
        for sentence in pair_sentences(&launched.studies, &launched.scatter) {
            text.push_str(&wrapped(&sentence));
        }
    }
    text
}

fn table(launched: &Launched, system: System) -> String {
    let heads: Vec<&str> = launched
        .studies
        .iter()
        .map(|study| study.wheel.name())
        .collect();
    let mut table = Figures::new("Launches", &heads);
    let scattered = |index: usize, figure: &dyn Fn(&WheelScatter) -> String| {
        launched
            .scatter
            .wheel(index)
            .map_or("never gets there".into(), figure)
    };
    let studies = || launched.studies.iter().enumerate();
    let best = |figure: &dyn Fn(&crate::study::compare::Best) -> String| -> Vec<String> {
        launched
            .studies
            .iter()
            .map(|study| study.best.as_ref().map_or(String::from("none"), figure))
            .collect()
    };
    table.row(
        "Crank-side inertia",
        launched
            .studies
            .iter()
            .map(|study| system.show(study.rig.crank_side_kg_m2, Kind::Inertia)),
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
        studies().map(|(index, _)| {
            scattered(index, &|w| format!("{} rpm", rpm(w.aim.launch_speed_rad_s)))
        }),
    );
    table.row(
        "  mean sixty-foot time",
        studies().map(|(index, _)| scattered(index, &|w| format!("{} s", seconds(w.aim.mean_s)))),
    );
    table.row(
        "  spread (standard deviation)",
        studies().map(|(index, _)| scattered(index, &|w| format!("{} s", seconds(w.aim.sd_s)))),
    );
    table.text()
}

fn plan(cutting: &Cutting, launched: &Launched, order: Order, system: System) -> String {
    let mut text = wrapped(match order {
        Order::MostFirst => {
            "Staged plan: cut, run the car, look, and only then cut again. Metal that is off stays off. \
             The pass that takes off most inertia comes first: it shows soonest whether the strip says what is computed."
        }
        Order::AsGiven => {
            "Staged plan: cut, run the car, look, and only then cut again. Metal that is off stays off. \
             The passes keep the order they were given in: in another they would not be made, or not come to the same."
        }
    });
    let judged = stages(&launched.studies, &launched.scatter);
    for (index, (cut, stage)) in cutting.stages.iter().zip(judged).enumerate() {
        text.push('\n');
        text.push_str(&wrapped(&format!(
            "Stage {}: {}. {}",
            index + 1,
            pass_words(&cut.step.pass, system),
            stage.map_or_else(
                || String::from("With the wheel before or after it the car never gets to 60 ft."),
                |stage| stage_words(&stage)
            )
        )));
        text.push_str(&standing(&cut.disc));
    }
    if cutting.stages.len() > 1
        && let Some(all) = stage(&launched.scatter, 0, cutting.stages.len())
    {
        text.push('\n');
        text.push_str(&wrapped(&format!(
            "All stages together, against the wheel as it is. {}",
            stage_words(&all)
        )));
    }
    text.push_str(&break_even(launched));
    text.push('\n');
    text.push_str(&wrapped(
        "At the number of launches given, a difference as computed is as likely as not to stand out of chance; \
         twice as many make it eight times in ten (normal theory). Same day, same tyres, launches with both wheels in turn \
         if the wheel can be changed: weather and track move more than a cut does. The intervals hold for the draws, not \
         for what the sheet gets wrong.",
    ));
    text
}

/// The wheel as it is against the one as cut in the end.
fn break_even(launched: &Launched) -> String {
    let last = launched.studies.len().saturating_sub(1);
    let sentences = pair_sentences(&launched.studies, &launched.scatter);
    launched
        .scatter
        .pairs
        .iter()
        .zip(sentences)
        .find(|(pair, _)| {
            pair.lighter.min(pair.heavier) == 0 && pair.lighter.max(pair.heavier) == last
        })
        .map_or(String::new(), |(_, sentence)| wrapped(&sentence))
}

/// Whether the car may be run after a stage, as far as the disc check goes.
fn standing(disc: &DiscStanding) -> String {
    match disc {
        DiscStanding::Checked(check) if check.verdict().is_below() => String::new(),
        DiscStanding::Checked(check) => wrapped(&format!(
            "DO NOT CUT THIS STAGE: {}. The plan ends before it.",
            worst_words(check)
        )),
        DiscStanding::Refused { .. } => wrapped(
            "NOT CHECKED at speed: do not run the car on this plan's word; what the check needs is told below.",
        ),
    }
}

fn stage_words(stage: &Stage) -> String {
    let change = if stage.mean_change_s < 0.0 {
        format!("quicker by {:.4} s", -stage.mean_change_s)
    } else {
        format!("slower by {:.4} s", stage.mean_change_s)
    };
    let interval = format!(
        "({:+.4} to {:+.4} s, 95 %)",
        stage.interval_s.low, stage.interval_s.high
    );
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
            "Computed: the mean sixty-foot time at the aim gets {change} {interval}. For the sixty-foot time this is better left undone. {seen}"
        )
    } else {
        format!("What it must show: a mean sixty-foot time at the aim {change} {interval}. {seen}")
    }
}
