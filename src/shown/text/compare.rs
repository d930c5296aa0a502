//! Flywheels side by side.

use super::decide::verdict_in_short;
use super::pairs::pair_sentences;
use super::readings::readings;
use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, percent, rpm, seconds, stall_range, stall_share};
use crate::car::track::Mark;
use crate::study::compare::Best;
use crate::study::comparison::{Compared, Comparison, Contender};
use crate::study::decide::Decision;
use crate::study::findings::shows_on_a_slip;
use crate::study::scatter::aim::Aim;
use crate::study::scatter::quarter::Quarter;
use crate::study::scatter::study::WheelScatter;
use crate::study::window::{Edge, Window};
use crate::units::{Kind, System};

/// The verdict in short where it was reached, the table of flywheels, and what it says in
/// sentences.
pub fn compare(comparison: &Comparison, decision: Option<&Decision>, system: System) -> Report {
    let readings = readings(comparison);
    Report {
        title: comparison.car.title.clone(),
        subject: String::new(),
        sections: vec![
            Section::said(
                "Which flywheel first",
                decision.map_or_else(Vec::new, verdict_in_short),
            )
            .answering(),
            Section::new(
                "Side by side",
                vec![Block::Table(table(comparison, system))],
            ),
            Section::said("One perfect launch each", perfect_launches(comparison)),
            Section::said("Pair by pair", pairs(comparison)),
            Section::said("What it comes to", readings.comes_to).answering(),
            Section::said("What to work on", readings.work_on),
        ],
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

fn table(comparison: &Comparison, system: System) -> Figures {
    let wheels = comparison.wheels();
    let names: Vec<&str> = wheels.iter().map(Compared::name).collect();
    let mut table = Figures::new("Flywheel", &names);
    let with_unit = |label: &str, kind: Kind| format!("{label}, {}", system.unit(kind).symbol);
    table.row(
        &with_unit("Mass", Kind::Mass),
        wheels.iter().map(|wheel| {
            wheel
                .study
                .wheel
                .part
                .mass_kg()
                .map_or("–".into(), |kg| system.number(kg, Kind::Mass))
        }),
    );
    table.row(
        &with_unit("Inertia", Kind::Inertia),
        wheels
            .iter()
            .map(|wheel| system.number(wheel.study.wheel.part.inertia_kg_m2(), Kind::Inertia)),
    );
    table.row(
        &with_unit("Crank side with it", Kind::Inertia),
        wheels
            .iter()
            .map(|wheel| system.number(wheel.study.rig.crank_side_kg_m2, Kind::Inertia)),
    );
    perfect_rows(&mut table, wheels, system);
    scatter_rows(&mut table, wheels);
    table
}

/// What a flywheel that never gets the car to 60 ft has for a figure of its launches.
const NEVER_THERE: &str = "–";

fn perfect_rows(table: &mut Figures, wheels: &[Compared], system: System) {
    let each = |figure: &dyn Fn(&Best) -> String| -> Vec<String> {
        let best = |wheel: &Compared| wheel.study.best.as_ref().map(figure);
        wheels
            .iter()
            .map(|wheel| best(wheel).unwrap_or(NEVER_THERE.into()))
            .collect()
    };
    table.heading("One perfect launch");
    table.row(
        "Quickest from, rpm",
        each(&|best| rpm(best.quickest.launch_speed_rad_s)),
    );
    table.row(
        "Sixty-foot time, s",
        each(&|best| seconds(best.quickest.sixty_foot_s)),
    );
    table.row(
        "Launch window, rpm",
        each(&|best| window_words(&best.window)),
    );
    table.row(
        "Engine falls to, rpm",
        each(&|best| rpm(best.launch.slowest_rad_s)),
    );
    table.row("Droop, rpm", each(&|best| rpm(best.launch.droop_rad_s())));
    table.row(
        "Clutch locks up after, s",
        each(&|best| {
            best.launch
                .lock_at_s
                .map_or("never".into(), |s| format!("{s:.2}"))
        }),
    );
    table.row(
        "Tyres spin for, s",
        each(&|best| format!("{:.2}", best.launch.spin_time_s)),
    );
    table.row(
        &format!(
            "Clutch heat to first lock-up, {}",
            system.unit(Kind::Energy).symbol
        ),
        each(&|best| system.number(best.launch.clutch_heat_j, Kind::Energy)),
    );
    table.row(
        &format!("Clutch heat to 60 ft, {}", system.unit(Kind::Energy).symbol),
        each(&|best| system.number(best.launch.clutch_heat_to_sixty_foot_j, Kind::Energy)),
    );
    table.row(
        "1,320 ft time, s",
        each(&|best| best.launch.time_s(Mark::Ft1320).map_or("–".into(), seconds)),
    );
}

fn scatter_rows(table: &mut Figures, wheels: &[Compared]) {
    let scattered = |figure: &dyn Fn(&WheelScatter) -> String| -> Vec<String> {
        wheels
            .iter()
            .map(|wheel| wheel.scatter.as_ref().map_or(NEVER_THERE.into(), figure))
            .collect()
    };
    let each = |figure: &dyn Fn(&Aim) -> String| scattered(&|wheel| figure(&wheel.aim));
    table.heading("This driver, many launches");
    table.row(
        "Launch speed scatters by, rpm",
        each(&|aim| format!("± {}", rpm(aim.launch_sd_rad_s))),
    );
    table.row("Aim at, rpm", each(&|aim| rpm(aim.launch_speed_rad_s)));
    let practised = |wheel: &Compared| {
        let scatter = wheel.scatter.as_ref();
        scatter.is_some_and(WheelScatter::release_practised)
    };
    if wheels.iter().any(practised) {
        table.row(
            "  clutch let out over, s",
            scattered(&|wheel| format!("{:.2}", wheel.rig.release_time_s())),
        );
    }
    table.row(
        "  as good to 1 ms, rpm",
        each(&|aim| {
            format!(
                "{}–{}",
                rpm(aim.as_good_rad_s.low),
                rpm(aim.as_good_rad_s.high)
            )
        }),
    );
    table.row(
        "  within 0.01 s, rpm",
        each(&|aim| format!("{}–{}", rpm(aim.band_rad_s.low), rpm(aim.band_rad_s.high))),
    );
    table.row("Mean sixty-foot time, s", each(&|aim| seconds(aim.mean_s)));
    table.row(
        "  of those that get away, s",
        each(&|aim| seconds(aim.mean_away_s)),
    );
    table.row("Spread (one SD), s", each(&|aim| seconds(aim.sd_s)));
    table.row(
        "One in ten quicker than, s",
        each(&|aim| seconds(aim.p10_s)),
    );
    table.row("One in ten slower than, s", each(&|aim| seconds(aim.p90_s)));
    table.row(
        "Within tolerance of its best",
        each(&|aim| percent(aim.share_within_tolerance)),
    );
    table.row("Stalls", each(&stall_share));
    table.row("  sure to be within", each(&stall_range));
    let quarter = |figure: fn(&Quarter) -> f64| scattered(&|wheel| seconds(figure(&wheel.quarter)));
    table.row("Mean 1,320 ft time, s", quarter(|quarter| quarter.mean_s));
    table.row("  spread (one SD), s", quarter(|quarter| quarter.sd_s));
}

/// Every pair in sentences, and what they rest on.
fn pairs(comparison: &Comparison) -> Vec<String> {
    let mut said = pair_sentences(comparison);
    if said.is_empty() {
        return said;
    }
    said.push(
        "What stands behind ± and in brackets is the luck of the draws, 95 % sure; what the sheet's own figures leave open comes on top."
            .into(),
    );
    said.push(match comparison.car.driver.release_range {
        Some(range) => format!(
            "Each flywheel is driven with the release that suits it, between {:.2} and {:.2} s.",
            range.quickest_s(),
            range.slowest_s()
        ),
        None => format!(
            "Every flywheel is driven with the sheet's one release, {:.2} s; let out more quickly or more slowly another may win. With release_range in [driver] each gets its own.",
            comparison.car.clutch.release.last_corner_s()
        ),
    });
    said
}

/// A window as figures; an edge at the end of the range is marked.
fn window_words(window: &Window) -> String {
    let edge = |edge: Edge, mark: &str| match edge {
        Edge::Crossing(speed) => rpm(speed),
        Edge::RangeEnd(speed) => format!("{}{mark}", rpm(speed)),
    };
    format!("{}–{}", edge(window.low, "*"), edge(window.high, "*"))
}

/// What one perfect launch with each says, held against the fitted one.
fn perfect_launches(comparison: &Comparison) -> Vec<String> {
    let mut said = Vec::new();
    let is_fitted = |wheel: &&Compared| comparison.is_fitted(&wheel.study);
    let fitted = comparison.wheels().iter().find(is_fitted);
    if let Some(fitted) = fitted.and_then(Compared::contender) {
        for wheel in comparison.wheels() {
            match wheel.contender() {
                Some(own) if own.index() == fitted.index() => {}
                Some(own) => said.push(against(&own, &fitted)),
                None => said.push(never_finishes(wheel)),
            }
        }
    }
    let open_ended = comparison.contenders().any(|wheel| {
        let window = &wheel.best.window;
        matches!(window.low, Edge::RangeEnd(_)) || matches!(window.high, Edge::RangeEnd(_))
    });
    if open_ended {
        said.push("* The window runs to an end of the launch speeds looked at.".into());
    }
    said
}

fn never_finishes(wheel: &Compared) -> String {
    format!(
        "\"{}\" gets to 60 ft from no launch speed of the range: look at clutch, release and range.",
        wheel.name()
    )
}

fn against(wheel: &Contender, fitted: &Contender) -> String {
    let droop = wheel.best.launch.droop_rad_s() - fitted.best.launch.droop_rad_s();
    let time_s = wheel.best.quickest.sixty_foot_s - fitted.best.quickest.sixty_foot_s;
    let droop_words = if droop >= 0.0 {
        format!("droops {} rpm further than", rpm(droop))
    } else {
        format!("droops {} rpm less than", rpm(-droop))
    };
    let time_words = if !shows_on_a_slip(time_s) {
        "is neither quicker nor slower by anything a time slip shows,".to_owned()
    } else if time_s < 0.0 {
        format!("is {} s quicker,", seconds(-time_s))
    } else {
        format!("is {} s slower,", seconds(time_s))
    };
    format!(
        "\"{}\" {droop_words} \"{}\" and {time_words} each from its own best launch speed.",
        wheel.name(),
        fitted.name()
    )
}
