//! A logged run laid over the model's.

use super::table::Figures;
use super::wrapped;
use crate::car::logged_run::Channel;
use crate::study::logged_run::{Found, HowFound, Overlay};
use crate::units::{Kind, System};

/// What the log says beside what the model says, how it was found, and how far the two lie apart.
pub fn logged_run(overlay: &Overlay, system: System) -> String {
    let mut table = Figures::new("The log laid over the model", &["log", "model"]);
    let mut row = |label: &str, show: &dyn Fn(&Found) -> Option<String>| {
        let shown = |found| show(found).unwrap_or_else(|| "not found".into());
        table.row(label, [shown(&overlay.logged), shown(&overlay.model)]);
    };
    let speed = |rad_s: f64| system.show(rad_s, Kind::AngularSpeed);
    let seconds = |s: f64| format!("{s:.2} s");
    row("Lowest engine speed", &|found| {
        Some(speed(found.lowest?.speed.value))
    });
    row("  reached, from first bite, after", &|found| {
        Some(seconds(found.lowest?.at_s))
    });
    row("Clutch locks up after", &|found| {
        Some(seconds(found.lock_at_s?.value))
    });
    row("Tread runs faster than the car by up to", &|found| {
        Some(system.show(found.slip?.most_m_s.value, Kind::Speed))
    });
    row("Tyres spin past their best for", &|found| {
        Some(seconds(found.slip?.past_peak_s))
    });
    let mut text = table.text();
    text.push('\n');
    for sentence in sentences(overlay, system) {
        text.push_str(&wrapped(&sentence));
    }
    text
}

fn sentences(overlay: &Overlay, system: System) -> Vec<String> {
    let logged = &overlay.logged;
    let mut said = vec![format!(
        "First bite at {:.2} s on the logger's clock, found where {} begins to rise: its passing of a low speed and of four times that, carried back as the square of time, less what this rule errs by in the model's own run.",
        logged.first_bite_s.value,
        channel_of(logged.first_bite_s.how)
    )];
    if let (Some(held), Some(range)) = (logged.launch_speed_rad_s, logged.held_within_rad_s) {
        said.push(format!(
            "Launch speed {}, the middle reading of the half second before; the readings lie within {} either way.",
            system.show(held.value, Kind::AngularSpeed),
            system.show(range, Kind::AngularSpeed)
        ));
    } else {
        said.push("No engine speed was logged in the half second before first bite, so the log does not tell the launch speed.".into());
    }
    said.push("Lowest speed: the lowest middle of three neighbouring readings, in log and model alike. Lock-up: engine and input shaft (or driven wheels times first gear) come within 1.5 % and stay so for a tenth of a second. Slip: tread speed less car speed. These rules are our own; common practice, no source.".into());
    for distance in &overlay.distances {
        let kind = match distance.channel {
            Channel::Car => Kind::Speed,
            Channel::Engine | Channel::InputShaft | Channel::DrivenWheels => Kind::AngularSpeed,
        };
        let side = if distance.mean >= 0.0 {
            "above"
        } else {
            "below"
        };
        said.push(format!(
            "From first bite to 60 ft the log's {} lies {} from the model's (root of the mean square of {} readings), on average {} {side} it.",
            distance.channel.words(),
            system.show(distance.root_mean_square, kind),
            distance.readings,
            system.show(distance.mean.abs(), kind)
        ));
    }
    if let Some(gap_s) = overlay.gap_s {
        said.push(format!(
            "The log has a gap of {gap_s:.2} s in it: what happened there it does not tell."
        ));
    }
    said
}

fn channel_of(how: HowFound) -> &'static str {
    match how {
        HowFound::RiseOf(channel)
        | HowFound::SpeedsTogether(channel)
        | HowFound::TreadLessCar(channel) => channel.words(),
        HowFound::HeldBeforeBite | HowFound::LowestOfThree => Channel::Engine.words(),
    }
}
