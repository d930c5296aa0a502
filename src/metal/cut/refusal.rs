//! Why a pass is refused.

use crate::car::inertia::PartError;
use crate::metal::profile::Overlap;
use thiserror::Error;

/// What the thickness that must stay is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// A web or rim.
    Web,
    /// The metal under the clutch face.
    UnderClutchFace,
}

impl Place {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Web => "in the web",
            Self::UnderClutchFace => "under the clutch face",
        }
    }
}

/// Why a pass is refused. Radii and thicknesses in m.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CutRefusal {
    /// Two sections lie over one another.
    #[error("{0}")]
    Overlap(#[from] Overlap),
    /// The cut reaches where no metal is.
    #[error("the cut reaches where there is no metal")]
    OutsideMetal {
        /// Where the metal is missing, from this radius,
        from_m: f64,
        /// to this.
        to_m: f64,
    },
    /// The rim is not larger than what it is to be turned down to.
    #[error("the rim is no larger than what it is to be turned down to")]
    NothingToTurn {
        /// The rim's radius now.
        rim_m: f64,
        /// The radius asked for.
        asked_m: f64,
    },
    /// Less metal would stay than must.
    #[error("too little metal would be left {}", place.words())]
    TooThin {
        /// What the metal is for.
        place: Place,
        /// Where, radius.
        radius_m: f64,
        /// What would be left there; below zero where the tool comes out on the other side.
        left_m: f64,
        /// What must be left.
        least_m: f64,
    },
    /// A taper asks for more metal than there is.
    #[error("the taper asks for more metal than there is")]
    AddsMetal {
        /// Where, radius.
        radius_m: f64,
        /// Thickness there now.
        present_m: f64,
        /// Thickness asked for.
        asked_m: f64,
    },
    /// The cut goes into the face the clutch rubs on.
    #[error("the cut goes into the clutch face")]
    IntoClutchFace {
        /// The face's inner radius.
        inner_m: f64,
        /// The face's outer radius.
        outer_m: f64,
    },
    /// A cut on the clutch side without word of where the clutch rubs.
    #[error("a cut on the clutch side needs to know where the clutch face lies")]
    ClutchFaceNotTold,
    /// The cut crosses a ring of holes that the part has.
    #[error("the cut goes through a ring of holes")]
    ThroughHoles {
        /// Radius of its pitch circle.
        pitch_radius_m: f64,
    },
    /// The cut crosses a circle of bolts or dowels.
    #[error("the cut goes through the circle of the {name}")]
    ThroughBolts {
        /// What sits there.
        name: String,
        /// Radius of its circle.
        pitch_radius_m: f64,
    },
    /// The new holes run into one another.
    #[error("the holes run into one another")]
    HolesTooClose {
        /// Metal between one and the next; below zero where they overlap.
        land_m: f64,
        /// What must be left.
        least_m: f64,
    },
    /// The new holes break out of an edge of the metal.
    #[error("the holes come too near an edge of the metal")]
    HolesAtEdge {
        /// Radius of the edge.
        edge_m: f64,
        /// Metal between hole and edge; below zero where the hole breaks out.
        land_m: f64,
        /// What must be left.
        least_m: f64,
    },
    /// The new holes lie across a step, where their depth is not one number.
    #[error("the holes lie across a step in thickness")]
    HolesAcrossStep {
        /// Radius of the step.
        step_m: f64,
    },
    /// The rim that carries something would be gone.
    #[error("the seat of the {name} would be cut away")]
    SeatCutAway {
        /// What loses its seat.
        name: String,
        /// The radius it sits at.
        radius_m: f64,
        /// The rim that would be left.
        rim_m: f64,
    },
    /// Nothing sensible would be left of the part.
    #[error("{0}")]
    Part(#[from] PartError),
}
