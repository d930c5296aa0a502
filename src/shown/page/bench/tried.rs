//! A launch tried out with the sliders.

use super::answers::{bare, beside, fragment};
use super::part::{Fragment, Part};
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::trace::TracePoint;
use crate::shown::figures;
use crate::shown::page::drawn::Drawn;
use crate::shown::page::error::PageError;
use crate::shown::page::key_figure::Both;
use crate::shown::page::words::what_happens;
use crate::shown::plot::{Mark, MarkKind};
use crate::shown::text::{rpm, seconds, stall_words};
use crate::study::compare::WheelStudy;
use crate::study::comparison::Comparison;
use crate::study::trial::Tried;
use crate::units::Kind;
use askama::Template;

/// A sentence or a few, a picture, what is still awaited.
#[derive(Template)]
#[template(path = "bench/tried.html", config = "src/shown/page/askama.toml")]
struct Told {
    result: String,
    more: Vec<Both>,
    drawn: Option<Drawn>,
}

/// The launch itself; `stated` is the same launch with the car as the sheet has it, where the
/// trial has another.
///
/// # Errors
/// See [`PageError`]; nothing tried causes any of them.
pub fn tried_launch(
    tried: &Tried,
    stated: Option<&Tried>,
    crank_side_kg_m2: f64,
) -> Result<Fragment, PageError> {
    let mut launches: Vec<(String, Vec<TracePoint>)> =
        vec![("as tried".into(), tried.points.clone())];
    launches.extend(stated.map(|stated| ("as in the sheet".into(), stated.points.clone())));
    let from = rpm(tried.launch.launch_speed_rad_s);
    let happens = format!("From {from} rpm {}", what_happens(&tried.launch));
    let mut chart = bare(figures::engine_speed("", &launches));
    chart.words.title = "Engine speed to 60 ft; thin: gearbox input".into();
    chart.words.description.clone_from(&happens);
    let inertia = Both::each(|system| {
        format!(
            "Crank side: {}.",
            system.show(crank_side_kg_m2, Kind::Inertia)
        )
    });
    let told = Told {
        result: tried.launch.sixty_foot_s().map_or_else(
            || "60 ft: not reached".into(),
            |time_s| format!("60 ft in {} s", seconds(time_s)),
        ),
        more: vec![Both::same(happens), inertia],
        drawn: Some(beside(&chart)?),
    };
    let said = told.result.clone();
    fragment(Part::Tried, &told, said)
}

/// From every other launch speed: what the one under the finger loses.
///
/// # Errors
/// See [`PageError`]; nothing tried causes any of them.
pub fn tried_around(study: &WheelStudy, here: &Tried) -> Result<Fragment, PageError> {
    let speed_rad_s = here.launch.launch_speed_rad_s;
    let mut chart = bare(figures::clean_launches_over_speed(
        "",
        std::slice::from_ref(study),
    ));
    if let (Some(series), Some(time_s)) = (chart.series.first_mut(), here.launch.sixty_foot_s()) {
        series.name = String::new();
        series.marks.push(Mark {
            kind: MarkKind::Plain,
            x: speed_rad_s / RAD_S_PER_RPM,
            y: time_s,
            label: "here".into(),
        });
    }
    let more = match &study.best {
        None => vec!["No launch speed of the range gets the car to 60 ft.".into()],
        Some(best) => {
            let (low, high) = (
                best.window.low.speed_rad_s(),
                best.window.high.speed_rad_s(),
            );
            let best_s = best.quickest.sixty_foot_s;
            let loses = here.launch.sixty_foot_s().map_or_else(
                || String::from("From here it is not reached."),
                |here_s| {
                    format!(
                        "From here {} s are lost.",
                        seconds((here_s - best_s).max(0.0))
                    )
                },
            );
            vec![
                format!(
                    "Best single launch: {} s from {} rpm. {loses}",
                    seconds(best_s),
                    rpm(best.quickest.launch_speed_rad_s)
                ),
                format!("Window: {} to {} rpm.", rpm(low), rpm(high)),
            ]
        }
    };
    let told = Told {
        result: String::new(),
        more: more.into_iter().map(Both::same).collect(),
        drawn: Some(beside(&chart)?),
    };
    fragment(Part::TriedAround, &told, String::new())
}

/// On average, with the driver's scatter.
///
/// # Errors
/// See [`PageError`]; nothing tried causes any of them.
pub fn tried_on_average(comparison: &Comparison) -> Result<Fragment, PageError> {
    let more = comparison.contenders().next().map_or_else(
        || vec!["No average: the car does not get to 60 ft.".into()],
        |wheel| {
            let aim = &wheel.scatter.aim;
            vec![format!(
                "On average {} s ± {} s, aimed at {} rpm, held to ± {} rpm; {}.",
                seconds(aim.mean_s),
                seconds(aim.sd_s),
                rpm(aim.launch_speed_rad_s),
                rpm(aim.launch_sd_rad_s),
                stall_words(aim)
            )]
        },
    );
    let said = more.concat();
    let told = Told {
        result: String::new(),
        more: more.into_iter().map(Both::same).collect(),
        drawn: None,
    };
    fragment(Part::TriedOnAverage, &told, said)
}
