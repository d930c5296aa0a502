//! What the driver's page says first: what to do, how far off is fine, and what else decides.

use super::shell::within_script;
use super::words::named;
use super::work::CardWork;
use crate::car::constants::RAD_S_PER_RPM;
use crate::numerics::Interval;
use crate::shown::text::{ROUND_TO_RPM, about_rpm, rounded};
use crate::shown::text::{decide, percent, rpm, seconds};
use crate::study::card::CardStudy;
use crate::study::comparison::Comparison;
use crate::study::findings::{Choice, Side, shows_on_a_slip};
use crate::study::round_aim::{AimAt, RoundAim, Steadiness};
use serde::Serialize;

/// A band of launch speeds, rounded inward; as it is where nothing would be left of it.
pub(super) fn band(band: &Interval) -> String {
    let (low, high) = (rounded(band.low, f64::ceil), rounded(band.high, f64::floor));
    let step = ROUND_TO_RPM * RAD_S_PER_RPM;
    if (band.low / step).ceil() < (band.high / step).floor() {
        format!("{low} to {high}")
    } else {
        format!("{} to {}", rpm(band.low), rpm(band.high))
    }
}

/// The first screen, a line each.
#[derive(Debug)]
pub(super) struct First {
    pub(super) wheel: String,
    pub(super) launch: String,
    pub(super) good: String,
    pub(super) doubt: &'static str,
    pub(super) sure: String,
}

impl First {
    pub(super) fn of(work: &CardWork, card: &CardStudy) -> Self {
        let (pick, here) = (&card.wheel, &card.round.here);
        let name = pick.name();
        Self {
            wheel: if work.comparison.is_fitted(pick.study) {
                format!("Keep the flywheel that is in the car, “{name}”.")
            } else {
                format!("Fit the flywheel “{name}”.")
            },
            launch: format!("Launch from about {}.", about_rpm(here.aim_rad_s)),
            good: format!("Good from {} rpm.", band(&here.band_rad_s)),
            doubt: match card.safer_side.side {
                Side::Either => "Too low and too high cost the same.",
                Side::High => "If in doubt, rather too high.",
                Side::Low => "If in doubt, rather too low.",
            },
            sure: match work.decision {
                Some(decision) if decision.wheels.len() > 1 => {
                    decide::verdict_explained(decision).join(" ")
                }
                _ => sureness(&card.findings.quick),
            },
        }
    }

    /// The same in one text, for those who do not see the picture.
    pub(super) fn told(&self) -> String {
        format!("{} {} {}", self.launch, self.good, self.doubt)
    }
}

/// How sure the choice of flywheel is.
fn sureness(choice: &Choice) -> String {
    if !choice.undecided_against.is_empty() {
        return format!(
            "Flywheel undecided: {} may be just as quick.",
            named(choice.rivals().map(|rival| rival.name()))
        );
    }
    let Some(nearest) = &choice.nearest else {
        return "There was no other flywheel to hold it against.".into();
    };
    let next = named(nearest.other(&choice.wheel).map(|other| other.name()));
    let ahead_s = nearest.pair.mean_difference_s;
    if !shows_on_a_slip(ahead_s) {
        return format!(
            "Sure, if the sheet is right, but by less than a time slip shows: steadiness and price decide against {next}."
        );
    }
    let interval = &nearest.pair.mean_difference_interval_s;
    let (low, high) = (interval.low.abs(), interval.high.abs());
    format!(
        "Sure, if the sheet is right: {:.4} s a launch ahead of {next} (95 % sure: {:.4} to {:.4} s).",
        ahead_s.abs(),
        low.min(high),
        low.max(high)
    )
}

/// A row of a small table.
#[derive(Debug)]
pub(super) struct FirstRow {
    pub(super) label: String,
    pub(super) cells: Vec<String>,
}

/// Where to aim on a green track, as today, on a sticky one.
pub(super) fn tracks(round: &RoundAim) -> Vec<FirstRow> {
    let row = |grip: f64, aim: &AimAt| FirstRow {
        label: match grip {
            _ if grip < 1.0 => format!("green (−{})", percent(1.0 - grip)),
            _ if grip > 1.0 => format!("sticky (+{})", percent(grip - 1.0)),
            _ => "as today".into(),
        },
        cells: vec![
            rounded(aim.aim_rad_s, f64::round),
            band(&aim.band_rad_s),
            seconds(aim.mean_s),
        ],
    };
    round
        .tracks
        .iter()
        .map(|track| row(track.grip_factor, &track.aim))
        .collect()
}

/// What aiming off costs on average.
pub(super) fn off_aim(round: &RoundAim) -> Vec<FirstRow> {
    round
        .off
        .iter()
        .map(|off| {
            let side = if off.off_rad_s < 0.0 { "low" } else { "high" };
            let costs = off.costs_s;
            FirstRow {
                label: format!("{} rpm too {side}", rpm(off.off_rad_s.abs())),
                cells: vec![if costs < 0.0 || !shows_on_a_slip(costs) {
                    "nothing a slip shows".into()
                } else {
                    seconds(costs)
                }],
            }
        })
        .collect()
}

/// One place of the steadiness slider.
#[derive(Debug, Serialize)]
pub(super) struct Steady {
    /// How far the launch speed wanders with the flywheel recommended.
    pub(super) spread: String,
    pub(super) says: String,
    /// Whether this is the driver as the sheet has them.
    pub(super) now: bool,
}

/// The steadiness slider: places from one end to the other, and those told without it.
#[derive(Debug)]
pub(super) struct SteadyPart {
    /// JSON, fit to stand inside a script element.
    pub(super) data: String,
    pub(super) told: Vec<Steady>,
}

impl SteadyPart {
    pub(super) fn of(comparison: &Comparison, card: &CardStudy) -> Result<Self, serde_json::Error> {
        /// Told in words as well: half as unsteady, as now, twice as unsteady.
        const TOLD: [f64; 3] = [0.5, 1.0, 2.0];
        let sd = card.wheel.scatter.aim.launch_sd_rad_s;
        let step = |step: &Steadiness| Steady {
            spread: format!("± {} rpm", rpm(step.factor * sd)),
            says: steady_words(comparison, step),
            now: is(step.factor, 1.0),
        };
        let steps: Vec<Steady> = card.round.steadiness.iter().map(step).collect();
        let told = card
            .round
            .steadiness
            .iter()
            .filter(|step| TOLD.iter().any(|told| is(step.factor, *told)));
        Ok(Self {
            data: within_script(&serde_json::to_string(&steps)?),
            told: told.map(step).collect(),
        })
    }
}

fn is(factor: f64, wanted: f64) -> bool {
    (factor - wanted).abs() < 1e-9
}

fn steady_words(comparison: &Comparison, step: &Steadiness) -> String {
    let name = |index: usize| {
        named(
            comparison
                .wheels()
                .get(index)
                .map(crate::study::comparison::Compared::name),
        )
    };
    let Some(((first, aim), others)) = step.wheels.split_first() else {
        return String::new();
    };
    let lead = format!(
        "{} is quickest, {} s on average, aimed at about {}",
        name(*first),
        seconds(aim.mean_s),
        about_rpm(aim.aim_rad_s)
    );
    match others.first() {
        None => format!("{lead}."),
        Some((second, other)) if !shows_on_a_slip(other.mean_s - aim.mean_s) => {
            format!("{lead}; {} is as quick.", name(*second))
        }
        Some((second, other)) => format!(
            "{lead}; {} is {} s behind.",
            name(*second),
            seconds(other.mean_s - aim.mean_s)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rad_s(rpm: f64) -> f64 {
        rpm * RAD_S_PER_RPM
    }

    #[test]
    fn law_a_speed_is_told_to_fifty_rpm() {
        assert_eq!(about_rpm(rad_s(3238.0)), "3,250 rpm");
        assert_eq!(about_rpm(rad_s(960.0)), "950 rpm");
        assert_eq!(about_rpm(rad_s(1010.0)), "1,000 rpm");
    }

    #[test]
    fn law_a_band_is_rounded_inward_and_never_away() {
        let told = |low: f64, high: f64| {
            band(&Interval {
                low: rad_s(low),
                high: rad_s(high),
            })
        };
        assert_eq!(told(3012.0, 3499.0), "3,050 to 3,450");
        assert_eq!(told(3012.0, 3044.0), "3012 to 3044");
    }
}
