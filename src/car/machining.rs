//! Machining of a flywheel as asked for: passes, and what the shop keeps whatever is asked.
//!
//! Plain data. What a pass does to a part, and what is refused, is the business of
//! [`crate::metal::cut`].

use super::checked::{NonNegative, Positive};
use std::num::NonZeroU32;

/// Thickness left in a web at least, m. Common practice, no source: thinner webs chatter on
/// the lathe and flutter on the engine.
pub const LEAST_WEB_M: f64 = 0.006;

/// Thickness left under the clutch face at least, m. Common practice, no source: the face
/// soaks up the heat of the launch and must stay flat under clamp.
pub const LEAST_UNDER_CLUTCH_FACE_M: f64 = 0.010;

/// Metal left at least between a hole and the next hole, edge or bolt circle, m. Common
/// practice, no source.
pub const LEAST_LAND_M: f64 = 0.005;

/// A band between two radii.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    inner_radius_m: NonNegative,
    outer_radius_m: Positive,
}

impl Band {
    /// A band from `inner` to `outer` radius, m; `None` where the outer is not beyond the inner.
    pub fn new(inner_radius_m: NonNegative, outer_radius_m: Positive) -> Option<Self> {
        (outer_radius_m.get() > inner_radius_m.get()).then_some(Self {
            inner_radius_m,
            outer_radius_m,
        })
    }

    /// Inner radius, m.
    pub fn inner_radius_m(&self) -> f64 {
        self.inner_radius_m.get()
    }

    /// Outer radius, m.
    pub fn outer_radius_m(&self) -> f64 {
        self.outer_radius_m.get()
    }

    /// Whether any of the radii between two, m, lie within the band.
    pub fn meets(&self, from_m: f64, to_m: f64) -> bool {
        from_m < self.outer_radius_m() && to_m > self.inner_radius_m()
    }
}

/// Which face of the wheel the tool works on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The back, towards the engine.
    Engine,
    /// The front, towards the clutch, beside the clutch face.
    Clutch,
}

impl Face {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Engine, Self::Clutch];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Engine => "engine",
            Self::Clutch => "clutch",
        }
    }
}

/// How deep a hole goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoleDepth {
    /// Right through.
    Through,
    /// To this depth, m, from the engine side.
    Blind(Positive),
}

/// One machining pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pass {
    /// Face a band to a depth, m, all over.
    FaceBand {
        /// Where.
        band: Band,
        /// How deep, m.
        depth_m: Positive,
        /// Which face.
        face: Face,
    },
    /// Turn the rim down to a radius, m.
    TurnRim {
        /// The new rim's radius, m.
        radius_m: Positive,
    },
    /// Drill a ring of equal holes.
    Drill {
        /// How many.
        count: NonZeroU32,
        /// Hole diameter, m.
        diameter_m: Positive,
        /// Radius of the pitch circle, m.
        pitch_radius_m: Positive,
        /// How deep.
        depth: HoleDepth,
    },
    /// Taper a band, so that its thickness runs straight between two values.
    TaperWeb {
        /// Where.
        band: Band,
        /// Thickness left at the inner radius, m.
        thickness_inner_m: Positive,
        /// Thickness left at the outer radius, m.
        thickness_outer_m: Positive,
        /// Which face.
        face: Face,
    },
}

/// Whether cuts may cross bolt circles that are in the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoltCircles {
    /// Every ring of holes and of bolts the part has is kept off.
    KeepOff,
    /// Bands may cross them: through holes get shorter with the metal round them; blind holes
    /// are taken to be open to the face that is not cut, and must not be broken into.
    MayBeFaced,
}

impl BoltCircles {
    /// Both.
    pub const ALL: [Self; 2] = [Self::KeepOff, Self::MayBeFaced];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::KeepOff => "keep off",
            Self::MayBeFaced => "may be faced",
        }
    }
}

/// What a shop keeps, whatever is asked of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopRules {
    /// Thickness left in a web at least, m.
    pub least_web_m: Positive,
    /// Thickness left under the clutch face at least, m.
    pub least_under_clutch_face_m: Positive,
    /// Metal left round a hole at least, m.
    pub least_land_m: NonNegative,
    /// Where the clutch rubs, if told. No cut from the clutch side may touch it.
    pub clutch_face: Option<Band>,
    /// Bolt circles.
    pub bolt_circles: BoltCircles,
}

impl ShopRules {
    /// The usual rules, with the clutch face if it is known. `None` would mean that a constant
    /// above is out of range.
    pub fn usual(clutch_face: Option<Band>) -> Option<Self> {
        Some(Self {
            least_web_m: Positive::new(LEAST_WEB_M)?,
            least_under_clutch_face_m: Positive::new(LEAST_UNDER_CLUTCH_FACE_M)?,
            least_land_m: NonNegative::new(LEAST_LAND_M)?,
            clutch_face,
            bolt_circles: BoltCircles::KeepOff,
        })
    }
}

/// What a sheet asks to be done to a flywheel.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Machining {
    /// The passes, in the order they are made.
    pub passes: Vec<Pass>,
    /// The shop's rules, where the sheet gives any; the usual ones otherwise.
    pub shop: Option<ShopRules>,
}
