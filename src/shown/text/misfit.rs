//! Whether a meeting's runs lie off the model all together, in words.

use crate::car::logged_run::Channel;
use crate::car::slip::Shown;
use crate::study::fit::Fit;
use crate::study::fit::misfit::Misfit;
use crate::units::{Kind, System};

/// What the runs say against the model as a whole; `None` where they say nothing against it.
pub(super) fn misfit(fit: &Fit, system: System) -> Option<String> {
    let all: Vec<String> = fit
        .misfits()
        .iter()
        .map(|misfit| figure(misfit, system))
        .collect();
    (!all.is_empty()).then(|| {
        format!(
            "Taken together the runs lie off the fitted model: {}. That is more than readings and chance allow. Something is at work that the sheet does not know of (a driver who lifts, tyres that behave otherwise, more drag, another gear), and the values above are bent to make up for it.",
            all.join("; ")
        )
    })
}

/// One figure, with how far off and how far chance alone would go.
fn figure(misfit: &Misfit, system: System) -> String {
    let errors = crate::numerics::quantile::normal_errors();
    let far = |si: f64| match kind(misfit.shown) {
        Kind::Time => format!("{si:.3} s"),
        kind => system.show(si, kind),
    };
    format!(
        "{} on average {} {} (chance alone: ± {})",
        subject(misfit.shown),
        far(misfit.mean.abs()),
        direction(misfit.shown, misfit.mean),
        far(errors * misfit.error)
    )
}

fn kind(shown: Shown) -> Kind {
    match shown {
        Shown::Time(_) | Shown::LockUp => Kind::Time,
        Shown::TrapSpeed(_) | Shown::Logged(Channel::Car, _) => Kind::Speed,
        Shown::LowestEngineSpeed | Shown::Logged(..) => Kind::AngularSpeed,
    }
}

fn subject(shown: Shown) -> String {
    match shown {
        Shown::Time(mark) => format!("at {} ft", mark.feet()),
        Shown::TrapSpeed(mark) => format!("the speed at {} ft", mark.feet()),
        Shown::LowestEngineSpeed => String::from("the lowest engine speed"),
        Shown::LockUp => String::from("the lock-up"),
        Shown::Logged(channel, at) => {
            format!(
                "the {} {:.2} s after first bite",
                channel.words(),
                at.seconds()
            )
        }
    }
}

fn direction(shown: Shown, mean: f64) -> &'static str {
    match (kind(shown), mean > 0.0) {
        (Kind::Time, true) => "later",
        (Kind::Time, false) => "earlier",
        (_, true) => "higher",
        (_, false) => "lower",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::track::Mark;

    #[test]
    fn regression_a_misfit_in_words() {
        let misfit = |shown, mean, error| Misfit {
            shown,
            runs: 8,
            mean,
            error,
        };
        let words = |misfit: &Misfit| figure(misfit, System::Metric);
        assert_eq!(
            words(&misfit(Shown::Time(Mark::Ft330), 0.151, 0.05)),
            "at 330 ft on average 0.151 s later (chance alone: ± 0.098 s)"
        );
        assert_eq!(
            words(&misfit(Shown::LowestEngineSpeed, -30.0, 5.0)),
            "the lowest engine speed on average 286 rpm lower (chance alone: ± 94 rpm)"
        );
    }
}
