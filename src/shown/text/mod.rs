//! Tables and plain sentences: as data where a page shows them too ([`Report`]), as lines for a
//! terminal.

mod check;
mod compare;
mod cut;
pub(in crate::shown) mod decide;
mod decide_table;
mod disc;
mod doubts;
mod fit;
pub mod gearing;
mod inertia;
mod launch;
mod logged_run;
mod misfit;
mod pairs;
mod passes;
mod plan;
mod practice;
mod readings;
mod report;
mod swing;
mod table;
mod window;

pub use check::check;
pub use compare::compare;
pub use cut::cut;
pub use decide::decide;
pub(in crate::shown) use disc::{refusal_words, verdict_words};
pub(crate) use doubts::si_symbol;
pub(in crate::shown) use fit::before_and_after;
pub use fit::fit;
pub use inertia::inertia;
pub use launch::launch;
pub use logged_run::logged_run;
pub(in crate::shown) use passes::note_words;
pub use passes::{cutting_error, pass_words};
pub(in crate::shown) use plan::plan;
pub use practice::practice;
pub use report::{Block, Report, Role, Section};
pub use swing::swing;
pub(in crate::shown) use swing::{assumed_words, expanded, warnings};
pub use table::{Figures, Row};
pub use window::window;

use crate::car::constants::RAD_S_PER_RPM;
use crate::sheet::Reading;
use crate::study::scatter::aim::Aim;
use crate::units::{Kind, System};

/// The caution under everything that speaks of a launch.
pub const LAUNCH_CAUTION: &str = "A launch is computed, not promised: practise it only on a closed strip, with the car scrutineered. \
The rule book, the scrutineer and a licensed engineer have the last word.";

/// Sixty-foot time and the like, three decimals, as on a time slip.
pub(crate) fn seconds(time_s: f64) -> String {
    format!("{time_s:.3}")
}

/// Nobody holds a needle to less, rpm.
pub(in crate::shown) const ROUND_TO_RPM: f64 = 50.0;

/// A launch speed as a driver reads it off the dial: `3,250 rpm`.
pub(in crate::shown) fn about_rpm(speed_rad_s: f64) -> String {
    format!("{} rpm", fifties(speed_rad_s))
}

/// A launch speed to whole fifties: `3,250`. No driver aims finer, and no doubt of a sheet leaves
/// an aim known finer.
pub(in crate::shown) fn fifties(speed_rad_s: f64) -> String {
    rounded(speed_rad_s, f64::round)
}

/// A launch speed to whole fifties, rounded as told.
pub(in crate::shown) fn rounded(speed_rad_s: f64, to_whole: fn(f64) -> f64) -> String {
    let digits = format!(
        "{:.0}",
        to_whole(speed_rad_s / RAD_S_PER_RPM / ROUND_TO_RPM) * ROUND_TO_RPM
    );
    match digits.split_at_checked(digits.len().saturating_sub(3)) {
        Some((thousands, rest)) if !thousands.is_empty() => format!("{thousands},{rest}"),
        _ => digits,
    }
}

/// A launch speed in whole rpm.
pub(crate) fn rpm(speed_rad_s: f64) -> String {
    System::Metric.number(speed_rad_s, Kind::AngularSpeed)
}

/// A share as whole per cent; small but not nothing is said so.
pub(crate) fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent > 0.0 && percent < 0.5 {
        String::from("< 0.5 %")
    } else if percent < 100.0 && percent > 99.5 {
        String::from("> 99.5 %")
    } else {
        format!("{percent:.0} %")
    }
}

/// A count with commas between thousands.
pub(crate) fn thousands(count: usize) -> String {
    let digits = count.to_string();
    let mut told = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            told.push(',');
        }
        told.push(digit);
    }
    told
}

/// A chance as "1 in 1,300", in two figures; a percentage where it is more than one in five.
fn one_in(share: f64) -> String {
    if share > 0.2 {
        return percent(share);
    }
    let times = 1.0 / share;
    let mut unit = 1_u32;
    while times / f64::from(unit) >= 100.0 && unit < 100_000_000 {
        unit *= 10;
    }
    let figures = (1..=100_u32)
        .min_by(|a, b| {
            let off = |n: &u32| (f64::from(*n) - times / f64::from(unit)).abs();
            off(a).total_cmp(&off(b))
        })
        .unwrap_or(1);
    format!("1 in {}", thousands(figures as usize * unit as usize))
}

/// A chance of stalling below this is not told as a number: no driver launches so often.
const NEVER_MET: f64 = 1e-6;

/// How many launches stall: "1 in 1,300".
pub(crate) fn stall_share(aim: &Aim) -> String {
    if aim.share_stalled < NEVER_MET {
        String::from("none")
    } else {
        one_in(aim.share_stalled)
    }
}

/// What that is sure to lie between: "1 in 900 – 1 in 2,100".
pub(crate) fn stall_range(aim: &Aim) -> String {
    let interval = &aim.share_stalled_interval;
    if interval.high < NEVER_MET {
        String::from("–")
    } else if interval.low < NEVER_MET {
        format!("below {}", one_in(interval.high))
    } else if one_in(interval.high) == one_in(interval.low) {
        format!("about {}", one_in(interval.low))
    } else {
        format!("{} to {}", one_in(interval.high), one_in(interval.low))
    }
}

/// How many launches stall, and how sure that is: "1 in 1,300 stalls (between 1 in 900 and
/// 1 in 2,100)".
pub(crate) fn stall_words(aim: &Aim) -> String {
    let interval = &aim.share_stalled_interval;
    let share = if aim.share_stalled < NEVER_MET {
        String::from("none stalls")
    } else {
        format!("{} stalls", one_in(aim.share_stalled))
    };
    if interval.high < NEVER_MET {
        share
    } else if interval.low < NEVER_MET {
        format!("{share} (fewer than {})", one_in(interval.high))
    } else if one_in(interval.high) == one_in(interval.low) {
        share
    } else {
        format!(
            "{share} (between {} and {})",
            one_in(interval.high),
            one_in(interval.low)
        )
    }
}

/// Text broken into lines of at most 92 characters, none of them indented.
pub(super) fn wrapped(text: &str) -> String {
    const LINE_CHARACTERS: usize = 92;
    let mut lines = String::new();
    let mut length = 0;
    for word in text.split_whitespace() {
        let word_length = word.chars().count();
        if length > 0 && length + 1 + word_length > LINE_CHARACTERS {
            lines.push('\n');
            length = 0;
        } else if length > 0 {
            lines.push(' ');
            length += 1;
        }
        lines.push_str(word);
        length += word_length;
    }
    lines.push('\n');
    lines
}

/// How many values were taken because the sheet is silent, in one line; nothing if none was.
pub(super) fn assumed(reading: &Reading) -> String {
    match reading.defaults.len() {
        0 => String::new(),
        1 => "Assumed: 1 value that the sheet does not give. `flyheft check` names it, with its reason.\n\n".into(),
        count => format!(
            "Assumed: {count} values that the sheet does not give. `flyheft check` lists them, each with its reason.\n\n"
        ),
    }
}
