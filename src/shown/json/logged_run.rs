//! A logged run within `flyheft/launch/1`.

use super::rpm;
use crate::car::logged_run::Channel;
use crate::study::logged_run::{Found, HowFound, Overlay};
use serde::Serialize;

/// `log`: what was found in it, the same by the same rules in the model's run, and how.
#[derive(Debug, Serialize)]
pub(super) struct LogFields {
    first_bite_s: f64,
    held_within_rpm: Option<f64>,
    found: FoundFields,
    model: FoundFields,
    how: HowFields,
    distances: Vec<DistanceFields>,
    gap_s: Option<f64>,
}

#[derive(Debug, Serialize)]
struct FoundFields {
    launch_rpm: Option<f64>,
    minimum_rpm: Option<f64>,
    minimum_rpm_at_s: Option<f64>,
    lock_at_s: Option<f64>,
    most_slip_m_s: Option<f64>,
    spin_time_s: Option<f64>,
}

#[derive(Debug, Serialize)]
struct HowFields {
    first_bite: How,
    launch_rpm: Option<How>,
    minimum_rpm: Option<How>,
    lock_at: Option<How>,
    slip: Option<How>,
}

#[derive(Debug, Serialize)]
struct How {
    rule: &'static str,
    channel: &'static str,
}

#[derive(Debug, Serialize)]
struct DistanceFields {
    channel: &'static str,
    unit: &'static str,
    root_mean_square: f64,
    mean: f64,
    readings: usize,
}

impl LogFields {
    pub(super) fn of(overlay: &Overlay) -> Self {
        let logged = &overlay.logged;
        Self {
            first_bite_s: logged.first_bite_s.value,
            held_within_rpm: logged.held_within_rad_s.map(rpm),
            found: FoundFields::of(logged),
            model: FoundFields::of(&overlay.model),
            how: HowFields {
                first_bite: How::of(logged.first_bite_s.how),
                launch_rpm: logged.launch_speed_rad_s.map(|figure| How::of(figure.how)),
                minimum_rpm: logged.lowest.map(|lowest| How::of(lowest.speed.how)),
                lock_at: logged.lock_at_s.map(|figure| How::of(figure.how)),
                slip: logged.slip.map(|slip| How::of(slip.most_m_s.how)),
            },
            distances: overlay
                .distances
                .iter()
                .map(|distance| {
                    let (unit, shown): (_, fn(f64) -> f64) = match distance.channel {
                        Channel::Car => ("m/s", |speed_m_s| speed_m_s),
                        Channel::Engine | Channel::InputShaft | Channel::DrivenWheels => {
                            ("rpm", rpm)
                        }
                    };
                    DistanceFields {
                        channel: distance.channel.identifier(),
                        unit,
                        root_mean_square: shown(distance.root_mean_square),
                        mean: shown(distance.mean),
                        readings: distance.readings,
                    }
                })
                .collect(),
            gap_s: overlay.gap_s,
        }
    }
}

impl FoundFields {
    fn of(found: &Found) -> Self {
        Self {
            launch_rpm: found.launch_speed_rad_s.map(|figure| rpm(figure.value)),
            minimum_rpm: found.lowest.map(|lowest| rpm(lowest.speed.value)),
            minimum_rpm_at_s: found.lowest.map(|lowest| lowest.at_s),
            lock_at_s: found.lock_at_s.map(|figure| figure.value),
            most_slip_m_s: found.slip.map(|slip| slip.most_m_s.value),
            spin_time_s: found.slip.map(|slip| slip.past_peak_s),
        }
    }
}

impl How {
    fn of(how: HowFound) -> Self {
        let channel = match how {
            HowFound::RiseOf(channel)
            | HowFound::SpeedsTogether(channel)
            | HowFound::TreadLessCar(channel) => channel,
            HowFound::HeldBeforeBite | HowFound::LowestOfThree => Channel::Engine,
        };
        Self {
            rule: how.identifier(),
            channel: channel.identifier(),
        }
    }
}
