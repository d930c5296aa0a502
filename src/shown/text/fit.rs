//! What time slips say.

use super::misfit::misfit;
use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, about_rpm, percent, rpm, seconds};
use crate::car::slip::Shown;
use crate::sheet::{Reading, keys};
use crate::shown::FitWork;
use crate::study::decide::Decision;
use crate::study::fit::{Fit, RunFit, Unknown};
use crate::units::{Kind, System};

/// Less than this of what is known comes from the slips: they only echo the sheet.
const ECHO_BELOW: f64 = 0.2;

/// What slips mean for the decision, then each unknown, each run, and what to do next.
pub fn fit(reading: &Reading, work: &FitWork, system: System) -> Report {
    let fit = &work.fit;
    let sections = vec![
        Section::said("What it means for the choice", meaning(work)).answering(),
        Section::new(
            "Each unknown before and after",
            vec![
                Block::Table(unknowns(reading, fit, system)),
                Block::Said(echoes(fit)),
            ],
        ),
        Section::said("What the slips cannot tell apart", apart(fit)),
        Section::said("The run to make next", next(reading, work)),
        Section::new("Run by run", vec![Block::Table(runs(reading, fit))]),
        Section::said("Odd runs", odd(fit)),
        Section::said("How far to trust it", trust(fit, system)),
    ];
    Report {
        title: reading.car.title.clone(),
        subject: format!("What {} say", counted(fit.runs.len(), "time slip")),
        sections,
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

fn counted(count: usize, thing: &str) -> String {
    if count == 1 {
        format!("one {thing}")
    } else {
        format!("{count} {thing}s")
    }
}

fn meaning(work: &FitWork) -> Vec<String> {
    let said = |decision: &Decision| {
        let name = decision.wheel_to_use();
        let start = decision.wheels.iter().find(|wheel| wheel.name == name);
        start.map_or(String::new(), |wheel| {
            format!(
                "\"{}\", the best wheel in {} of the cases still possible",
                wheel.name,
                percent(wheel.chance_best)
            )
        })
    };
    let mut all = vec![format!(
        "Before the slips: start with {}. Now: {}.",
        said(&work.before),
        said(&work.after)
    )];
    all.extend(super::decide::verdict(&work.after));
    all
}

/// A value of an unknown in the units of a system; a share of one where it is a bare number.
fn shown(reading: &Reading, unknown: &Unknown, system: System, si: f64) -> String {
    let kind = reading.kind_of(&unknown.input.key);
    match kind {
        Some(kind) => system.show(si, kind),
        None => format!("{si:.3}"),
    }
}

fn difference(reading: &Reading, unknown: &Unknown, system: System, si: f64) -> String {
    let zero = |kind: Kind| system.value(si, kind) - system.value(0.0, kind);
    let kind = reading.kind_of(&unknown.input.key);
    match kind {
        Some(kind) => format!("{:.2}", zero(kind)),
        None => format!("{si:.3}"),
    }
}

/// An unknown before and after, each with the ± that one would bet on 19 to 1.
fn bets(reading: &Reading, unknown: &Unknown, system: System) -> [(String, String); 2] {
    [
        (unknown.prior, unknown.prior_sd),
        (unknown.posterior, unknown.posterior_sd),
    ]
    .map(|(si, deviation)| {
        let half = crate::numerics::quantile::normal_errors() * deviation;
        let value = shown(reading, unknown, system, si);
        (value, difference(reading, unknown, system, half))
    })
}

/// An unknown before and after in a few words each.
pub(in crate::shown) fn before_and_after(
    reading: &Reading,
    unknown: &Unknown,
    system: System,
) -> [String; 2] {
    bets(reading, unknown, system).map(|(value, bet)| format!("{value} ± {bet}"))
}

fn unknowns(reading: &Reading, fit: &Fit, system: System) -> Figures {
    let mut table = Figures::new(
        "Unknown",
        &["before", "±", "after", "±", "from the slips", ""],
    );
    for unknown in &fit.unknowns {
        let [(prior, prior_bet), (posterior, posterior_bet)] = bets(reading, unknown, system);
        table.row(
            &keys::words_for(&unknown.input.key),
            [
                prior,
                prior_bet,
                posterior,
                posterior_bet,
                percent(unknown.from_slips_share),
                picture(unknown),
            ],
        );
    }
    table
}

/// Places in the small picture of an unknown.
const PLACES: usize = 21;
/// What it spans to either side, standard deviations of what was known before.
const SPANS: f64 = 2.5;

/// What was known before as a line of dots, what is known after as a bar on it.
fn picture(unknown: &Unknown) -> String {
    (0..PLACES)
        .map(|place| {
            #[expect(clippy::cast_precision_loss, reason = "some twenty places")]
            let across = place as f64 / (PLACES - 1) as f64;
            let value = unknown.prior + (2.0 * across - 1.0) * SPANS * unknown.prior_sd;
            #[expect(clippy::cast_precision_loss, reason = "some twenty places")]
            let half = SPANS * unknown.prior_sd / (PLACES - 1) as f64;
            if (value - unknown.posterior).abs() <= half {
                '█'
            } else if value >= unknown.interval.0 && value <= unknown.interval.1 {
                '▬'
            } else {
                '·'
            }
        })
        .collect()
}

fn echoes(fit: &Fit) -> String {
    let silent: Vec<String> = fit
        .unknowns
        .iter()
        .filter(|unknown| unknown.from_slips_share < ECHO_BELOW)
        .map(|unknown| keys::words_for(&unknown.input.key))
        .collect();
    if silent.is_empty() {
        return String::from("The slips say something of each of them.");
    }
    format!(
        "Of {} the slips say next to nothing: what stands there is what the sheet said before.",
        silent.join(", ")
    )
}

fn apart(fit: &Fit) -> Vec<String> {
    let key = |index: usize| {
        fit.unknowns
            .get(index)
            .map_or_else(String::new, |unknown| keys::words_for(&unknown.input.key))
    };
    let pairs: Vec<String> = fit
        .not_told_apart()
        .map(|(a, b, r)| {
            let how = if *r < 0.0 {
                "more of one does what less of the other does"
            } else {
                "they rise and fall together"
            };
            format!("{} and {} (correlation {r:.2}: {how}).", key(*a), key(*b))
        })
        .collect();
    if pairs.is_empty() {
        vec![String::from(
            "No two unknowns hang together so closely that they could not be told apart.",
        )]
    } else {
        pairs
    }
}

fn next(reading: &Reading, work: &FitWork) -> Vec<String> {
    let name = |wheel: usize| {
        reading
            .car
            .flywheels
            .all()
            .get(wheel)
            .map_or("", crate::car::Flywheel::name)
    };
    let Some(next) = &work.next else {
        return vec![String::from(
            "No one run would help the choice: nothing is left to decide, or nothing to gain.",
        )];
    };
    vec![format!(
        "Launch \"{}\" from about {} and note the lowest engine speed: that one run takes away about {} of the doubt between \"{}\" and \"{}\".",
        name(next.wheel),
        about_rpm(next.launch_speed_rad_s),
        percent(next.gain_share),
        name(next.between.0),
        name(next.between.1)
    )]
}

fn runs(reading: &Reading, fit: &Fit) -> Figures {
    let mut table = Figures::new(
        "Run",
        &[
            "flywheel",
            "from, rpm",
            "60 ft, s",
            "model, s",
            "off, s",
            "± of one run, s",
            "say",
        ],
    );
    for run in &fit.runs {
        table.row(&run.slip.row.to_string(), row(reading, run));
    }
    table
}

fn row(reading: &Reading, run: &RunFit) -> Vec<String> {
    let sixty = run
        .slip
        .figures
        .iter()
        .zip(run.predicted.iter().zip(&run.spread))
        .find(|(figure, _)| figure.shown == Shown::Time(crate::car::track::Mark::Ft60));
    let none = || String::from("–");
    let name = reading.car.flywheels.all().get(run.slip.wheel);
    let errors = crate::numerics::quantile::normal_errors();
    vec![
        name.map_or_else(none, |wheel| wheel.name().to_owned()),
        rpm(run.launch_speed_rad_s),
        sixty.map_or_else(none, |(figure, _)| seconds(figure.value)),
        sixty.map_or_else(none, |(_, (model, _))| seconds(*model)),
        sixty.map_or_else(none, |(figure, (model, _))| {
            format!("{:+.3}", figure.value - model)
        }),
        sixty.map_or_else(none, |(_, (_, spread))| format!("{:.3}", errors * spread)),
        percent(run.weight),
    ]
}

fn odd(fit: &Fit) -> Vec<String> {
    if 2 * fit.odd_runs().count() > fit.runs.len() {
        return vec![String::from(
            "More than half of the runs do not go with the model, whatever its unknowns: something is at work that it leaves out, or the slips are not of this car. Do not decide by this fit.",
        )];
    }
    let odd: Vec<String> = fit
        .odd_runs()
        .map(|run| {
            let remark = run.slip.remark.as_ref().map_or(String::new(), |remark| format!(" (\"{remark}\")"));
            format!(
                "Run {}{remark} does not go with the others: a missed shift, a wrong launch speed, or another car? It is kept, with a say of {}.",
                run.slip.row,
                percent(run.weight)
            )
        })
        .collect();
    if odd.is_empty() {
        vec![String::from("Every run goes with the others.")]
    } else {
        odd
    }
}

fn trust(fit: &Fit, system: System) -> Vec<String> {
    let mut said: Vec<String> = misfit(fit, system).into_iter().collect();
    said.push(format!(
        "{} draws about the best values, worth {:.0} independent ones.",
        fit.made,
        fit.draws.effective()
    ));
    if !fit.trusted() {
        said.push(String::from(
            "That is too few to be trusted: the best values may be far from the only ones. More slips, or fewer unknowns (--unknown), would help.",
        ));
    }
    if !fit.settled {
        said.push(String::from(
            "The search was still on its way when it was stopped: take the values with care.",
        ));
    }
    for unknown in fit.unknowns.iter().filter(|unknown| unknown.at_its_end) {
        said.push(format!(
            "{} lies at the end of what the sheet thought possible: look at the sheet, or at what the model leaves out, before believing it.",
            keys::words_for(&unknown.input.key)
        ));
    }
    said.push(String::from(
        "The ± of an unknown counts the slips' own errors and the sheet's doubt of what was fitted; what the model leaves out it cannot count.",
    ));
    said.push(String::from(HOW_OFTEN_HELD));
    said
}

/// Counted over 200 meetings, `docs/slips.md`, "How far the intervals hold".
const HOW_OFTEN_HELD: &str = "Tried on 200 meetings made by the model: an unknown lay within its ± in 94 of 100 or more, but what two flywheels differ by lay within its own in 90. Take what is said of the choice for a little less sure than it looks.";
