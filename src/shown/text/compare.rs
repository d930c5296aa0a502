//! Flywheels side by side.

use super::pairs::pair_sentences;
use super::readings::readings;
use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, percent, rpm, seconds, stall_range, stall_share};
use crate::car::track::Mark;
use crate::sheet::Reading;
use crate::study::compare::{Best, WheelStudy};
use crate::study::scatter::aim::Aim;
use crate::study::scatter::quarter::Quarter;
use crate::study::scatter::study::ScatterStudy;
use crate::study::window::{Edge, Window};
use crate::units::{Kind, System};

/// Half a millisecond: the most that two times may differ and look alike on a time slip.
const SHOWS_S: f64 = 0.0005;

/// The table of flywheels, and what it says in sentences.
pub fn compare(
    reading: &Reading,
    studies: &[WheelStudy],
    scatter: &ScatterStudy,
    system: System,
) -> Report {
    let readings = readings(reading, studies, scatter);
    Report {
        title: reading.car.title.clone(),
        subject: String::new(),
        sections: vec![
            Section::new(
                "Side by side",
                vec![Block::Table(table(studies, scatter, system))],
            ),
            Section::said(
                "One perfect launch each",
                perfect_launches(reading, studies),
            ),
            Section::said("Pair by pair", pair_sentences(studies, scatter)),
            Section::said("What it comes to", readings.comes_to).answering(),
            Section::said("What to work on", readings.work_on),
        ],
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

fn table(studies: &[WheelStudy], scatter: &ScatterStudy, system: System) -> Figures {
    let names: Vec<&str> = studies.iter().map(|study| study.wheel.name()).collect();
    let mut table = Figures::new("Flywheel", &names);
    let with_unit = |label: &str, kind: Kind| format!("{label}, {}", system.unit(kind).symbol);
    table.row(
        &with_unit("Mass", Kind::Mass),
        studies.iter().map(|study| {
            study
                .wheel
                .part
                .mass_kg()
                .map_or("–".into(), |kg| system.number(kg, Kind::Mass))
        }),
    );
    table.row(
        &with_unit("Inertia", Kind::Inertia),
        studies
            .iter()
            .map(|study| system.number(study.wheel.part.inertia_kg_m2(), Kind::Inertia)),
    );
    table.row(
        &with_unit("Crank side with it", Kind::Inertia),
        studies
            .iter()
            .map(|study| system.number(study.rig.crank_side_kg_m2, Kind::Inertia)),
    );
    perfect_rows(&mut table, studies, system);
    scatter_rows(&mut table, studies, scatter);
    table
}

fn perfect_rows(table: &mut Figures, studies: &[WheelStudy], system: System) {
    let each = |figure: &dyn Fn(&Best) -> String| -> Vec<String> {
        studies
            .iter()
            .map(|study| study.best.as_ref().map_or("–".into(), figure))
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
        &format!("Clutch heat, {}", system.unit(Kind::Energy).symbol),
        each(&|best| system.number(best.launch.clutch_heat_j, Kind::Energy)),
    );
    table.row(
        "1,320 ft time, s",
        each(&|best| best.launch.time_s(Mark::Ft1320).map_or("–".into(), seconds)),
    );
}

fn scatter_rows(table: &mut Figures, studies: &[WheelStudy], scatter: &ScatterStudy) {
    let each = |figure: &dyn Fn(&Aim) -> String| -> Vec<String> {
        (0..studies.len())
            .map(|index| {
                scatter
                    .wheel(index)
                    .map_or("–".into(), |wheel| figure(&wheel.aim))
            })
            .collect()
    };
    table.heading("This driver, many launches");
    table.row(
        "Launch speed scatters by, rpm",
        each(&|aim| format!("± {}", rpm(aim.launch_sd_rad_s))),
    );
    table.row("Aim at, rpm", each(&|aim| rpm(aim.launch_speed_rad_s)));
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
    let quarter = |figure: fn(&Quarter) -> f64| -> Vec<String> {
        (0..studies.len())
            .map(|index| {
                scatter
                    .wheel(index)
                    .map_or("–".into(), |wheel| seconds(figure(&wheel.quarter)))
            })
            .collect()
    };
    table.row("Mean 1,320 ft time, s", quarter(|quarter| quarter.mean_s));
    table.row("  spread (one SD), s", quarter(|quarter| quarter.sd_s));
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
fn perfect_launches(reading: &Reading, studies: &[WheelStudy]) -> Vec<String> {
    let mut said = Vec::new();
    let fitted = studies
        .iter()
        .find(|study| reading.car.flywheels.is_fitted(study.wheel));
    if let Some((fitted, fitted_best)) = fitted.and_then(|f| Some((f, f.best.as_ref()?))) {
        for study in studies
            .iter()
            .filter(|study| study.wheel.name() != fitted.wheel.name())
        {
            match &study.best {
                Some(best) => said.push(against(study, best, fitted, fitted_best)),
                None => said.push(never_finishes(study)),
            }
        }
    }
    let open_ended = studies
        .iter()
        .filter_map(|study| study.best.as_ref())
        .any(|best| {
            matches!(best.window.low, Edge::RangeEnd(_))
                || matches!(best.window.high, Edge::RangeEnd(_))
        });
    if open_ended {
        said.push("* The window runs to an end of the launch speeds looked at.".into());
    }
    said
}

fn never_finishes(study: &WheelStudy) -> String {
    format!(
        "\"{}\" gets to 60 ft from no launch speed of the range: look at clutch, release and range.",
        study.wheel.name()
    )
}

fn against(study: &WheelStudy, best: &Best, fitted: &WheelStudy, fitted_best: &Best) -> String {
    let droop = best.launch.droop_rad_s() - fitted_best.launch.droop_rad_s();
    let time_s = best.quickest.sixty_foot_s - fitted_best.quickest.sixty_foot_s;
    let droop_words = if droop >= 0.0 {
        format!("droops {} rpm further than", rpm(droop))
    } else {
        format!("droops {} rpm less than", rpm(-droop))
    };
    let time_words = if time_s.abs() < SHOWS_S {
        "is neither quicker nor slower by anything a time slip shows,".to_owned()
    } else if time_s < 0.0 {
        format!("is {} s quicker,", seconds(-time_s))
    } else {
        format!("is {} s slower,", seconds(time_s))
    };
    format!(
        "\"{}\" {droop_words} \"{}\" and {time_words} each from its own best launch speed.",
        study.wheel.name(),
        fitted.wheel.name()
    )
}
