//! The disc check, as it stands in every document that holds one.

use super::rpm;
use crate::metal::disc::{DiscCheck, SpeedCheck, SpeedPoint};
use crate::shown::text::refusal_words;
use crate::study::ledger::DiscStanding;
use crate::units::System;
use serde::Serialize;

/// A check that was made, or why there is none.
#[derive(Debug, Serialize)]
pub(super) struct DiscFields {
    verdict: Option<&'static str>,
    refused: Option<&'static str>,
    refused_in_words: Option<String>,
    material_lacks: Vec<&'static str>,
    yield_rpm: Option<f64>,
    burst_rpm: Option<f64>,
    at: Vec<SpeedFields>,
}

#[derive(Debug, Serialize)]
struct SpeedFields {
    speed: &'static str,
    rpm: f64,
    tip_speed_m_s: f64,
    peak_tangential_pa: f64,
    peak_tangential_radius_m: f64,
    peak_radial_pa: f64,
    peak_radial_radius_m: f64,
    peak_at_holes_pa: Option<f64>,
    mean_tangential_pa: f64,
    mean_tangential_net_pa: f64,
    peak_over_yield: Option<f64>,
    burst_stress_over_tensile: f64,
    rim_speed_over_cast_iron_limit: Option<f64>,
    verdict: &'static str,
}

impl SpeedFields {
    fn of(at: &SpeedCheck) -> Self {
        Self {
            speed: match at.point {
                SpeedPoint::Limiter => "limiter",
                SpeedPoint::OverSpeed => "over-speed",
            },
            rpm: rpm(at.speed_rad_s),
            tip_speed_m_s: at.tip_speed_m_s,
            peak_tangential_pa: at.peak_tangential.tangential_pa,
            peak_tangential_radius_m: at.peak_tangential.radius_m,
            peak_radial_pa: at.peak_radial.radial_pa,
            peak_radial_radius_m: at.peak_radial.radius_m,
            peak_at_holes_pa: at.peak_at_holes_pa(),
            mean_tangential_pa: at.mean_tangential_pa,
            mean_tangential_net_pa: at.mean_tangential_net_pa,
            peak_over_yield: at.peak_over_yield,
            burst_stress_over_tensile: at.burst_stress_over_tensile,
            rim_speed_over_cast_iron_limit: at.rim_speed_over_cast_iron_limit,
            verdict: at.verdict.id(),
        }
    }
}

impl DiscFields {
    pub(super) fn of(standing: &DiscStanding) -> Self {
        match standing {
            DiscStanding::Checked(check) => Self::made(check),
            DiscStanding::Refused { reason, lacks } => Self {
                verdict: None,
                refused: Some(reason.id()),
                refused_in_words: Some(refusal_words(reason, lacks, System::Metric)),
                material_lacks: lacks.iter().map(|property| property.name()).collect(),
                yield_rpm: None,
                burst_rpm: None,
                at: Vec::new(),
            },
        }
    }

    fn made(check: &DiscCheck) -> Self {
        Self {
            verdict: Some(check.verdict().id()),
            refused: None,
            refused_in_words: None,
            material_lacks: Vec::new(),
            yield_rpm: check.yield_speed_rad_s.map(rpm),
            burst_rpm: Some(rpm(check.burst_speed_rad_s)),
            at: check.at.iter().map(SpeedFields::of).collect(),
        }
    }
}
