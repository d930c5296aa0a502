//! The clutch: how much torque it holds, how it is let in, how heat fades it.

use super::checked::{AtLeastOne, NonNegative, Positive};
use super::schedule::Schedule;
use std::num::NonZeroU32;
use thiserror::Error;

/// Static over kinetic friction, where the sheet is silent (common practice, no source).
pub const DEFAULT_STATIC_RATIO: f64 = 1.10;
/// Specific heat of iron and steel, J/(kg·K), where the sheet is silent
/// (handbook round value, from memory).
pub const DEFAULT_SPECIFIC_HEAT: f64 = 490.0;
/// Share of its capacity that even the hottest clutch keeps (common practice, no source).
pub const FADE_FLOOR: f64 = 0.3;
/// Temperature rise for which fade is stated, K.
const FADE_STEP_K: f64 = 100.0;

/// How pressure spreads over a friction face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wear {
    /// A run-in face: pressure falls with radius, mean radius `(ro+ri)/2`.
    UniformWear,
    /// A new face: pressure even, mean radius `⅔(ro³−ri³)/(ro²−ri²)`.
    UniformPressure,
}

impl Wear {
    /// Both.
    pub const ALL: [Self; 2] = [Self::UniformWear, Self::UniformPressure];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::UniformWear => "uniform wear",
            Self::UniformPressure => "uniform pressure",
        }
    }
}

/// A clutch described by its clamp and faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Faces {
    clamp_n: Positive,
    count: NonZeroU32,
    friction: Positive,
    outer_radius_m: Positive,
    inner_radius_m: NonNegative,
    wear: Wear,
}

/// The faces have no width.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("the friction face's outer edge is not outside its inner edge")]
pub struct FaceError;

impl Faces {
    /// Clamp load (N) over `count` faces of a friction coefficient, between two radii (m).
    ///
    /// # Errors
    /// When the outer radius is not beyond the inner.
    pub fn new(
        clamp_n: Positive,
        count: NonZeroU32,
        friction: Positive,
        (inner_radius_m, outer_radius_m): (NonNegative, Positive),
        wear: Wear,
    ) -> Result<Self, FaceError> {
        if outer_radius_m.get() <= inner_radius_m.get() {
            return Err(FaceError);
        }
        Ok(Self {
            clamp_n,
            count,
            friction,
            outer_radius_m,
            inner_radius_m,
            wear,
        })
    }

    /// Mean radius at which the friction acts, m.
    /// Source: Shigley, *Mechanical Engineering Design*, axial clutches (section from memory).
    pub fn mean_radius_m(&self) -> f64 {
        let (ro, ri) = (self.outer_radius_m.get(), self.inner_radius_m.get());
        match self.wear {
            Wear::UniformWear => f64::midpoint(ro, ri),
            Wear::UniformPressure => {
                2.0 / 3.0 * (ro.powi(3) - ri.powi(3)) / (ro.powi(2) - ri.powi(2))
            }
        }
    }

    /// Inner and outer radius of the friction face, m.
    pub const fn radii_m(&self) -> (NonNegative, Positive) {
        (self.inner_radius_m, self.outer_radius_m)
    }

    /// Torque the faces carry while slipping, N·m: `μ F z Re`.
    pub fn capacity_nm(&self) -> f64 {
        self.friction.get()
            * self.clamp_n.get()
            * f64::from(self.count.get())
            * self.mean_radius_m()
    }
}

/// How the clutch's full capacity is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Capacity {
    /// Given, N·m.
    Given(Positive),
    /// From clamp load and faces.
    Faces(Faces),
}

impl Capacity {
    /// Kinetic torque with the clutch home and cold, N·m.
    pub fn capacity_nm(&self) -> f64 {
        match self {
            Self::Given(capacity) => capacity.get(),
            Self::Faces(faces) => faces.capacity_nm(),
        }
    }
}

/// The metal that soaks up the clutch's heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Its mass, kg.
    pub mass_kg: Positive,
    /// Its specific heat, J/(kg·K).
    pub specific_heat_j_kg_k: Positive,
}

impl Plate {
    /// Mean temperature rise after this much heat in J, K; none of it lost to the air
    /// within the seconds of a launch.
    pub fn rise_k(&self, heat_j: f64) -> f64 {
        heat_j / (self.mass_kg.get() * self.specific_heat_j_kg_k.get())
    }
}

/// What heat does to the clutch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Heating {
    /// Plate mass unknown: heat is counted, temperature is not.
    Unknown,
    /// Temperature is told, and does nothing to the grip.
    Steady(Plate),
    /// Grip fades: share of the capacity lost per 100 K.
    Fading(Plate, Positive),
}

impl Heating {
    /// Share of the capacity left after this much heat in J.
    pub fn share_left(&self, heat_j: f64) -> f64 {
        share_left(self.fade_per_j(), heat_j)
    }

    /// Share of the capacity that each joule takes, `φ/(100 K · m c)`, 1/J.
    pub fn fade_per_j(&self) -> f64 {
        match self {
            Self::Unknown | Self::Steady(_) => 0.0,
            Self::Fading(plate, per_step) => per_step.get() * plate.rise_k(1.0) / FADE_STEP_K,
        }
    }

    /// The plate, if its mass is known.
    pub fn plate(&self) -> Option<&Plate> {
        match self {
            Self::Unknown => None,
            Self::Steady(plate) | Self::Fading(plate, _) => Some(plate),
        }
    }
}

/// Share of a clutch's capacity left after this much heat in J, where each joule takes so much:
/// `f = max(0.3, 1 − φ ΔΘ/100 K)`.
#[inline]
pub fn share_left(fade_per_j: f64, heat_j: f64) -> f64 {
    (1.0 - fade_per_j * heat_j).max(FADE_FLOOR)
}

/// The clutch.
#[derive(Debug, Clone, PartialEq)]
pub struct Clutch {
    /// Its full capacity.
    pub capacity: Capacity,
    /// Inertia of the disc, at input-shaft speed, kg·m².
    pub disc_inertia_kg_m2: Positive,
    /// Engagement over time from first bite.
    pub release: Schedule,
    /// Static over kinetic friction.
    pub static_ratio: AtLeastOne,
    /// What heat does to it.
    pub heating: Heating,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn faces(
        clamp_n: f64,
        count: u32,
        friction: f64,
        inner_d: f64,
        outer_d: f64,
        wear: Wear,
    ) -> Faces {
        Faces::new(
            Positive::new(clamp_n).unwrap(),
            NonZeroU32::new(count).unwrap(),
            Positive::new(friction).unwrap(),
            (
                NonNegative::new(inner_d / 2.0).unwrap(),
                Positive::new(outer_d / 2.0).unwrap(),
            ),
            wear,
        )
        .unwrap()
    }

    /// Bhandari, *Design of Machine Elements*, ch. 11, examples 11.1 and 11.2 (figures seen in
    /// a companion text, recomputed): d 100, D 200 mm, μ 0.2, 1 MPa.
    #[test]
    fn reference_textbook_single_face() {
        let wear = faces(15_707.963, 1, 0.2, 0.1, 0.2, Wear::UniformWear);
        assert_relative_eq!(wear.capacity_nm(), 235.619_45, max_relative = 1e-7);
        let pressure = faces(23_561.945, 1, 0.2, 0.1, 0.2, Wear::UniformPressure);
        assert_relative_eq!(pressure.capacity_nm(), 366.519_14, max_relative = 1e-7);
    }

    /// Bhandari, example 11.6: two faces, d 175, D 250 mm, μ 0.35, nine springs of 800 N, engine
    /// 250 N·m: factor of safety 2.164235 (pressure) and 2.142000 (wear), seen and recomputed.
    #[test]
    fn reference_textbook_two_faces() {
        let pressure = faces(7200.0, 2, 0.35, 0.175, 0.25, Wear::UniformPressure);
        assert_relative_eq!(
            pressure.capacity_nm() / 250.0,
            2.164_235,
            max_relative = 1e-6
        );
        let wear = faces(7200.0, 2, 0.35, 0.175, 0.25, Wear::UniformWear);
        assert_relative_eq!(wear.capacity_nm() / 250.0, 2.142, max_relative = 1e-6);
    }

    /// Plain calorimetry: 94 555.734 J in 6 kg at 500 J/(kg·K) is 31.5186 K (recomputed).
    #[test]
    fn reference_plate_temperature_rise() {
        let plate = Plate {
            mass_kg: Positive::new(6.0).unwrap(),
            specific_heat_j_kg_k: Positive::new(500.0).unwrap(),
        };
        assert_relative_eq!(plate.rise_k(94_555.734), 31.5186, max_relative = 1e-6);
    }

    #[test]
    fn law_fade_stops_at_its_floor() {
        let plate = Plate {
            mass_kg: Positive::new(1.0).unwrap(),
            specific_heat_j_kg_k: Positive::new(500.0).unwrap(),
        };
        let fading = Heating::Fading(plate, Positive::new(0.5).unwrap());
        assert_relative_eq!(fading.share_left(50_000.0), 0.5, max_relative = 1e-12);
        assert_relative_eq!(fading.share_left(1e9), FADE_FLOOR);
        assert_relative_eq!(Heating::Unknown.share_left(1e9), 1.0);
    }
}
