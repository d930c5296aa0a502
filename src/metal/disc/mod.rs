//! The rotating-disc check: what speed does to a flywheel of sections.
//!
//! A screening number. It knows nothing of cracks, castings, heat checks or fatigue, and every
//! output that shows it carries [`CAUTIONS`].

mod cautions;
mod check;
mod field;
mod refusal;
mod series;

pub use cautions::{
    BURST_KILLS, CAST_IRON_RIM_SPEED_M_S, CAUTIONS, CERTIFIED_PARTS, CRACK_TEST, LAST_WORD,
    NEVER_LIGHTEN_CAST_IRON, NOT_LOOKED_AT, SCREENING,
};
pub use check::{
    DiscCheck, DiscDemand, HolePeak, OVER_SPEED_RATIO, SpeedCheck, SpeedPoint, Verdict, check,
};
pub use field::{LineLoad, Stress, StressField};
pub use refusal::{
    DENSITY_RANGE_KG_M3, LEAST_THICKNESS_M, Property, Refusal, STRENGTH_RANGE_PA,
    missing_properties,
};

/// Stress in a thin spinning rim that nothing holds inward, Pa: `σ = ρ v²`, with the density
/// in kg/m³ and the rim's speed in m/s. Source: any strength of materials text.
pub fn thin_rim_stress_pa(density_kg_m3: f64, rim_speed_m_s: f64) -> f64 {
    density_kg_m3 * rim_speed_m_s.powi(2)
}

#[cfg(test)]
mod tests;
