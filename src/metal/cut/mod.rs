//! Machining passes: what each takes off, and what a shop would refuse to cut.
//!
//! A pass makes a new part from a part. Sections are split exactly at the edges of a cut, and
//! splitting changes nothing; a pass never adds mass or inertia. Mass and inertia come off in
//! the scale of the scales: the weighing factor of the uncut wheel stays with the wheel.

mod apply;
mod band;
mod drill;
mod refusal;
mod rim;

pub(in crate::metal) use apply::inertia_of_a_gram_kg_m2;
pub use apply::{CutNote, CutStep, PassRefused, apply, apply_all};
pub use refusal::{CutRefusal, Place};

pub use crate::car::machining::{
    Band, BoltCircles, Face, HoleDepth, LEAST_LAND_M, LEAST_UNDER_CLUTCH_FACE_M, LEAST_WEB_M, Pass,
    ShopRules,
};

impl ShopRules {
    /// Thickness to leave between two radii, m.
    pub fn least_thickness_m(&self, from_m: f64, to_m: f64) -> f64 {
        self.least_thickness(from_m, to_m).0
    }

    /// Thickness to leave between two radii, m, and what it is left for.
    fn least_thickness(&self, from_m: f64, to_m: f64) -> (f64, Place) {
        match self.clutch_face {
            Some(face) if face.meets(from_m, to_m) => (
                self.least_under_clutch_face_m
                    .get()
                    .max(self.least_web_m.get()),
                Place::UnderClutchFace,
            ),
            _ => (self.least_web_m.get(), Place::Web),
        }
    }
}

#[cfg(test)]
mod tests;
