//! One launch.

use super::logged_run::logged_run;
use super::table::Figures;
use super::{LAUNCH_CAUTION, assumed, rpm, seconds, wrapped};
use crate::car::track::Mark;
use crate::launch::{Launch, Outcome};
use crate::sheet::Reading;
use crate::study::logged_run::Overlay;
use crate::units::{Kind, System};
use std::fmt::Write as _;

/// One launch to a mark: figures, the strip's marks, where the energy went, the log laid over it
/// if there is one, sentences.
pub fn launch(
    reading: &Reading,
    launch: &Launch,
    to: Mark,
    log: Option<&Overlay>,
    system: System,
) -> String {
    let mut text = format!(
        "{}\n{} from {} rpm\n\n",
        reading.car.title,
        launch.wheel_name,
        rpm(launch.launch_speed_rad_s)
    );
    text.push_str(&figures(launch, system));
    text.push('\n');
    text.push_str(&marks(launch, to, system));
    if launch.sixty_foot_s().is_some() {
        text.push('\n');
        text.push_str(&energy(launch, system));
    }
    if let Some(overlay) = log {
        text.push('\n');
        text.push_str(&logged_run(overlay, system));
    }
    text.push('\n');
    let remarks = remarks(launch);
    for sentence in &remarks {
        text.push_str(&wrapped(sentence));
    }
    if !remarks.is_empty() {
        text.push('\n');
    }
    text.push_str(&assumed(reading));
    text.push_str(&wrapped(LAUNCH_CAUTION));
    text
}

fn figures(launch: &Launch, system: System) -> String {
    let show = |si: f64, kind: Kind| system.show(si, kind);
    let mut table = Figures::new("To 60 ft", &[""]);
    table.one(
        "Sixty-foot time",
        launch
            .sixty_foot_s()
            .map_or("not reached".into(), |s| format!("{} s", seconds(s))),
    );
    table.one(
        "Lowest engine speed",
        show(launch.slowest_rad_s, Kind::AngularSpeed),
    );
    table.one(
        "  that is a droop of",
        show(launch.droop_rad_s(), Kind::AngularSpeed),
    );
    table.one(
        "  reached, from first bite, after",
        format!("{:.2} s", launch.slowest_at_s),
    );
    clutch(&mut table, launch, system);
    if launch.lifts > 0 {
        table.one("The driver lifts", words_for_times(launch.lifts));
        table.one(
            "  foot not fully down for",
            format!("{:.2} s", launch.lifted_time_s),
        );
    }
    table.one(
        "Tyres spin past their best for",
        format!("{:.2} s", launch.spin_time_s),
    );
    table.one("  over", show(launch.spin_distance_m, Kind::Distance));
    table.one(
        "Peak acceleration",
        show(launch.peak_acceleration_m_s2, Kind::Acceleration),
    );
    table.one(
        "Peak torque on the input shaft",
        show(launch.peak_input_torque_nm, Kind::Torque),
    );
    table.one(
        "Crank-side inertia",
        show(launch.crank_side_kg_m2, Kind::Inertia),
    );
    table.text()
}

/// When the clutch is home, and what heat that costs it.
fn clutch(table: &mut Figures, launch: &Launch, system: System) {
    let lock = launch.lock_at_s;
    table.one(
        "Clutch locks up after",
        lock.map_or("never".into(), |s| format!("{s:.2} s")),
    );
    let end = match launch.sixty_foot_s() {
        Some(_) => "60 ft",
        None => "the run's end",
    };
    let mut heat = |label: String, heat_j: f64, rise_k: Option<f64>| {
        table.one(&label, system.show(heat_j, Kind::Energy));
        if let Some(rise) = rise_k {
            let rise = system.show(rise, Kind::TemperatureRise);
            table.one("  warms the plate by", rise);
        }
    };
    if lock.is_some() {
        heat(
            format!("Clutch heat to first lock-up or {end}"),
            launch.clutch_heat_j,
            launch.plate_rise_k,
        );
    }
    heat(
        format!("Clutch heat to {end}, all slips"),
        launch.clutch_heat_to_sixty_foot_j,
        launch.plate_rise_to_sixty_foot_k,
    );
}

fn words_for_times(count: u32) -> String {
    match count {
        1 => "once".into(),
        2 => "twice".into(),
        more => format!("{more} times"),
    }
}

fn marks(launch: &Launch, to: Mark, system: System) -> String {
    let mut table = Figures::new("Mark", &["time", "speed"]);
    for mark in to.up_to() {
        let passed = launch.marks.iter().find(|passed| passed.mark == mark);
        let time = launch
            .time_s(mark)
            .map_or("not reached".into(), |s| format!("{} s", seconds(s)));
        let speed = passed.map_or(String::new(), |passed| {
            system.show(passed.speed_m_s, Kind::Speed)
        });
        table.row(&format!("{} ft", mark.feet()), [time, speed]);
    }
    table.text()
}

fn energy(launch: &Launch, system: System) -> String {
    let account = &launch.energy;
    let mut table = Figures::new("Energy to 60 ft", &[""]);
    let mut row = |label: &str, joules: f64| table.row(label, [system.show(joules, Kind::Energy)]);
    row("The engine did", account.engine_j);
    if account.crank_side_given_up_j < 0.0 {
        row(
            "less what the crank side took up",
            -account.crank_side_given_up_j,
        );
    } else {
        row("The crank side gave up", account.crank_side_given_up_j);
    }
    row("  into the car's motion", account.car_j);
    row(
        "  into wheels and driveline",
        account.wheels_and_driveline_j,
    );
    row("  heat in the clutch", account.clutch_j);
    row("  heat in the tyres", account.tyre_j);
    row("  lost in the driveline", account.driveline_loss_j);
    row("  against the air", account.drag_j);
    row("  against rolling resistance", account.rolling_j);
    table.text()
}

/// What stands out, in sentences.
fn remarks(launch: &Launch) -> Vec<String> {
    let mut said = Vec::new();
    match launch.ending.outcome {
        Outcome::Finished => {}
        Outcome::Stalled => said.push(format!(
            "The engine stalls {:.2} s after first bite: this launch speed is too low for this release.",
            launch.ending.time_s
        )),
        Outcome::DidNotFinish if launch.ending.was_given_up() => said.push(format!(
            "The run was given up {:.2} s after first bite: something in the sheet is so stiff, or a foot or a clutch so restless, that the motion takes more steps than any car's. Look at relaxation, damping time, pitch time and wheel inertia.",
            launch.ending.time_s
        )),
        Outcome::DidNotFinish => {
            said.push("The car is still on its way after a minute; the run was ended there.".into());
        }
    }
    if launch.bogged && launch.ending.outcome != Outcome::Stalled {
        let mut text = String::from("The engine bogs: ");
        let _ = write!(
            text,
            "it falls to {} rpm, below the speed at which its curve makes 80 % of its peak.",
            rpm(launch.slowest_rad_s)
        );
        said.push(text);
    }
    if launch.touched_limiter {
        said.push("The engine touches its limiter.".into());
    }
    if launch.front_wheels_lifted {
        said.push("The front wheels leave the ground.".into());
    }
    said
}
