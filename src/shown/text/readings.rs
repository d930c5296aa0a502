//! What it comes to: for who must be quick, for who must be steady, and what to work on first.

use super::{percent, rpm, seconds};
use crate::numerics::Interval;
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::practice::driver_practice;
use crate::study::scatter::break_even::BreakEven;
use crate::study::scatter::frontier::Dominated;
use crate::study::scatter::pairs::{Pair, Verdict};
use crate::study::scatter::sensitivity::Cause;
use crate::study::scatter::study::{ScatterStudy, WheelScatter};

/// The studies that sentences speak of.
struct Told<'s, 'c> {
    studies: &'s [WheelStudy<'c>],
    scatter: &'s ScatterStudy<'c>,
}

/// What a comparison says, in sentences.
pub(super) struct Readings {
    /// Which flywheel for whom.
    pub(super) comes_to: Vec<String>,
    /// Where the spread comes from, and how sure the driver's own figure is.
    pub(super) work_on: Vec<String>,
}

/// Every reading, a sentence or two each.
pub(super) fn readings(
    reading: &Reading,
    studies: &[WheelStudy],
    scatter: &ScatterStudy,
) -> Readings {
    let told = Told { studies, scatter };
    let mut comes_to = told.heads_up();
    comes_to.extend(told.bracket());
    comes_to.extend(told.dominated());
    let mut work_on: Vec<String> = told.work_on_first().into_iter().collect();
    work_on.extend(told.practice(reading));
    Readings { comes_to, work_on }
}

impl<'c> Told<'_, 'c> {
    fn name(&self, index: usize) -> &str {
        self.studies
            .get(index)
            .map_or("", |study| study.wheel.name())
    }

    fn least(&self, figure: fn(&WheelScatter) -> f64) -> Option<&WheelScatter<'c>> {
        self.scatter
            .wheels
            .iter()
            .min_by(|a, b| figure(a).total_cmp(&figure(b)))
    }

    /// Quick wins: to 60 ft, and down to 1,320 ft.
    fn heads_up(&self) -> Vec<String> {
        let mut said = Vec::new();
        if let Some(quick) = self.least(|wheel| wheel.aim.mean_s) {
            let undecided = self.not_decided(quick.index, |pair| {
                (pair.verdict() == Verdict::Undecided).then_some(())
            });
            said.push(format!(
                "Heads-up racing, where quick wins: to 60 ft \"{}\", aimed at {} rpm, {} s on average{undecided}.",
                self.name(quick.index),
                rpm(quick.aim.launch_speed_rad_s),
                seconds(quick.aim.mean_s),
            ));
        }
        if let Some(quick) = self.least(|wheel| wheel.quarter.mean_s) {
            let undecided = self.not_decided(quick.index, |pair| {
                let (_, interval) = self.scatter.quarter_difference(pair)?;
                interval.contains(0.0).then_some(())
            });
            said.push(format!(
                "Down to 1,320 ft, where the lighter earns in every gear: \"{}\", {} s on average{undecided}.",
                self.name(quick.index),
                seconds(quick.quarter.mean_s),
            ));
        }
        said
    }

    /// The flywheels that one is not decided against.
    fn not_decided(&self, index: usize, undecided: impl Fn(&Pair) -> Option<()>) -> String {
        let names: Vec<String> = self
            .scatter
            .pairs
            .iter()
            .filter(|pair| pair.lighter == index || pair.heavier == index)
            .filter(|pair| undecided(pair).is_some())
            .map(|pair| {
                if pair.lighter == index {
                    pair.heavier
                } else {
                    pair.lighter
                }
            })
            .map(|other| format!("\"{}\"", self.name(other)))
            .collect();
        if names.is_empty() {
            String::new()
        } else {
            format!(" (undecided against {})", names.join(" and "))
        }
    }

    /// Steady wins.
    fn bracket(&self) -> Option<String> {
        let to_sixty = self.least(|wheel| wheel.aim.sd_s)?;
        let to_the_end = self.least(|wheel| wheel.quarter.sd_s)?;
        Some(format!(
            "Bracket racing, where steady wins: \"{}\", aimed at {} rpm, spreads by {} s about {} s to 60 ft; down to 1,320 ft \"{}\" by {} s.",
            self.name(to_sixty.index),
            rpm(to_sixty.aim.launch_speed_rad_s),
            seconds(to_sixty.aim.sd_s),
            seconds(to_sixty.aim.mean_s),
            self.name(to_the_end.index),
            seconds(to_the_end.quarter.sd_s),
        ))
    }

    fn dominated(&self) -> Vec<String> {
        self.scatter
            .wheels
            .iter()
            .filter_map(|wheel| {
                let (other, sure) = match wheel.quick_and_steady.dominated {
                    Dominated::No => return None,
                    Dominated::By(other) => (other, ""),
                    Dominated::PerhapsBy(other) => {
                        (other, ", though not beyond the error of the draws")
                    }
                };
                Some(format!(
                    "\"{}\" is beaten on both counts, quick and steady, by \"{}\"{sure}.",
                    self.name(wheel.index),
                    self.name(other)
                ))
            })
            .collect()
    }

    /// What the spread of the quickest flywheel comes from, the greatest cause first.
    fn work_on_first(&self) -> Option<String> {
        let quick = self.least(|wheel| wheel.aim.mean_s)?;
        let mut causes: Vec<_> = Cause::ALL
            .into_iter()
            .zip(quick.sensitivity.iter().flatten())
            .collect();
        causes.sort_by(|a, b| b.1.total.value.total_cmp(&a.1.total.value));
        let [(first, most), (second, more), ..] = causes.as_slice() else {
            return None;
        };
        let share = |value: f64| percent(value.clamp(0.0, 1.0));
        let parts: Vec<String> = causes
            .iter()
            .map(|(cause, sensitivity)| {
                let interval = &sensitivity.first.interval;
                format!(
                    "{} {} ({} to {})",
                    cause.words(),
                    share(sensitivity.first.value),
                    share(interval.low),
                    share(interval.high)
                )
            })
            .collect();
        let head = if overlap(&most.total.interval, &more.total.interval) {
            format!(
                "What matters most with \"{}\" is not decided between {} and {}",
                self.name(quick.index),
                first.words(),
                second.words()
            )
        } else {
            let advice = match first {
                Cause::LaunchSpeed => "holding the launch speed is what to practise first",
                Cause::Release => "an even clutch release is what to practise first",
                Cause::Grip => "no practice mends that, burnout and staging spot may",
            };
            format!(
                "What matters most with \"{}\" is {}: {advice}",
                self.name(quick.index),
                first.words()
            )
        };
        Some(format!(
            "{head}. Held still alone, each would take away of the spread's square: {}.",
            parts.join(", ")
        ))
    }

    /// How sure the driver's measured scatter is, and whether that sways the answer.
    fn practice(&self, reading: &Reading) -> Vec<String> {
        let Some(practice) = driver_practice(&reading.car) else {
            return Vec::new();
        };
        let sure = &practice.sd_interval_rad_s;
        let mut said = vec![format!(
            "The driver's scatter comes from {} practice launches: {} rpm, 95 % sure to lie between {} and {} rpm.",
            practice.launches.len(),
            rpm(practice.sd_rad_s),
            rpm(sure.low),
            rpm(sure.high)
        )];
        let open: Vec<String> = self
            .scatter
            .pairs
            .iter()
            .filter(|pair| {
                matches!(pair.break_even, BreakEven::At { sd_rad_s, .. } if sure.contains(sd_rad_s))
            })
            .map(|pair| format!("\"{}\" and \"{}\"", self.name(pair.lighter), self.name(pair.heavier)))
            .collect();
        if !open.is_empty() {
            said.push(format!(
                "Within that lies the break-even of {}: more practice launches may turn that answer round.",
                open.join("; of ")
            ));
        }
        said
    }
}

fn overlap(one: &Interval, other: &Interval) -> bool {
    one.low <= other.high && other.low <= one.high
}
