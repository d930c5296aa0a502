//! The same car with other gearing.

use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, rpm, seconds};
use crate::car::track::Mark;
use crate::sheet::Reading;
use crate::study::compare::{Best, WheelStudy};
use crate::study::gearing::GearChoice;

/// A change of gearing in words.
pub fn choice_words(choice: &GearChoice) -> String {
    match choice {
        GearChoice::AsBuilt => "as built".into(),
        GearChoice::Final(ratio) => format!("final drive {}", ratio.get()),
        GearChoice::First(ratio) => format!("first gear {}", ratio.get()),
    }
}

/// The table of gearings and what it says.
pub fn gearing(reading: &Reading, studies: &[(GearChoice, WheelStudy)]) -> Report {
    let wheel = studies.first().map_or("", |(_, study)| study.wheel.name());
    Report {
        title: reading.car.title.clone(),
        subject: wheel.to_owned(),
        sections: vec![
            Section::new("Gearings", vec![Block::Table(table(studies))]),
            Section::said("What it comes to", sentences(studies)).answering(),
        ],
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

fn table(studies: &[(GearChoice, WheelStudy)]) -> Figures {
    let heads: Vec<String> = studies
        .iter()
        .map(|(choice, _)| choice_words(choice))
        .collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let mut table = Figures::new("Gearing", &heads);
    let each = |figure: &dyn Fn(&Best) -> String| -> Vec<String> {
        studies
            .iter()
            .map(|(_, study)| study.best.as_ref().map_or("–".into(), figure))
            .collect()
    };
    table.row(
        "Overall ratio in first",
        studies.iter().map(|(_, study)| {
            study
                .rig
                .gears
                .first()
                .map_or(String::new(), |gear| format!("{:.2}", gear.overall))
        }),
    );
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
        each(&|best| {
            format!(
                "{}–{}",
                rpm(best.window.low.speed_rad_s()),
                rpm(best.window.high.speed_rad_s())
            )
        }),
    );
    table.row("Droop, rpm", each(&|best| rpm(best.launch.droop_rad_s())));
    table.row(
        "Tyres spin for, s",
        each(&|best| format!("{:.2}", best.launch.spin_time_s)),
    );
    table.row(
        "1,320 ft time, s",
        each(&|best| best.launch.time_s(Mark::Ft1320).map_or("–".into(), seconds)),
    );
    table
}

fn sentences(studies: &[(GearChoice, WheelStudy)]) -> Vec<String> {
    let mark = |study: &WheelStudy, mark: Mark| study.best.as_ref()?.launch.time_s(mark);
    let best_to = |to: Mark| {
        studies
            .iter()
            .filter_map(|(choice, study)| Some((choice, mark(study, to)?)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    };
    let mut said = Vec::new();
    if let Some((choice, time_s)) = best_to(Mark::Ft60) {
        said.push(format!(
            "Quickest to 60 ft: {}, {} s.",
            choice_words(choice),
            seconds(time_s)
        ));
    }
    if let Some((choice, time_s)) = best_to(Mark::Ft1320) {
        said.push(format!(
            "Quickest to 1,320 ft: {}, {} s.",
            choice_words(choice),
            seconds(time_s)
        ));
    }
    said
}
