//! Whether two values of one thing agree, and which of drawing, scales and swing stands alone.

use super::analysis::SwingAnalysis;
use crate::car::checked::InnerShare;
use crate::car::inertia::MassProperties;
use crate::numerics::uncertainty::{Freedom, Measured};

/// Standard uncertainty of a drawing's mass, as a share of it: half of the 3 % above which
/// scales and drawing is warned of. Common practice, no source.
pub const DRAWING_MASS_SHARE: f64 = 0.015;

/// Standard uncertainty of a drawing's radius of gyration, as a share of it. Radii are drawn
/// better than thicknesses and densities, and thickness and density act on mass alone if they
/// are off everywhere alike. Our own choice.
pub const DRAWING_GYRATION_SHARE: f64 = 0.01;

/// How two values of one thing compare.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// First less second, in their unit.
    pub difference: f64,
    /// `Eₙ`: the difference over the two expanded uncertainties combined, `|a − b|/√(U² + V²)`.
    /// Source: ISO/IEC 17043 and ISO 13528 (from memory).
    pub en_number: f64,
}

impl Agreement {
    /// Whether the values agree within their uncertainties: `Eₙ ≤ 1`.
    pub fn holds(&self) -> bool {
        self.en_number <= 1.0
    }
}

/// Compares two values of one thing, each with its expanded uncertainty at a coverage.
/// Two exact values agree if they are the same.
pub fn agreement(first: &Measured, second: &Measured, coverage: InnerShare) -> Agreement {
    let difference = first.value - second.value;
    let [one, other] = [first, second].map(|value| value.expanded(coverage));
    let together = one.hypot(other);
    Agreement {
        difference,
        en_number: if together > 0.0 || difference != 0.0 {
            difference.abs() / together
        } else {
            0.0
        },
    }
}

/// How far a drawing is trusted: standard uncertainties as shares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawingTrust {
    /// Of its mass.
    pub mass_share: f64,
    /// Of its radius of gyration.
    pub gyration_share: f64,
}

impl Default for DrawingTrust {
    fn default() -> Self {
        Self {
            mass_share: DRAWING_MASS_SHARE,
            gyration_share: DRAWING_GYRATION_SHARE,
        }
    }
}

/// What the three say of one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThreeWayVerdict {
    /// All agree.
    AllAgree,
    /// Mass differs, radius of gyration agrees: the drawing's density or thickness is off
    /// everywhere alike, or the scales are off (the swing leans on the same scales, so it
    /// cannot tell). Weigh again on other scales; if they say the same, take the drawing scaled
    /// to the scales.
    DrawingOrScalesOffInMass,
    /// Mass agrees, radius of gyration does not: the swing test is off (cord circle, length,
    /// count, centring), or the drawing puts metal at the wrong radius.
    SwingOrShapeOff,
    /// Mass and radius of gyration differ but inertia agrees: the drawing is off near the hub,
    /// where mass hardly counts, or two errors hide one another.
    OffNearHub,
    /// Mass, radius of gyration and inertia all differ: no two of the three agree.
    NoTwoAgree,
    /// Mass differs, and the swing is too uncertain to say more: it agrees with the drawing both
    /// as drawn and scaled.
    SwingTooCoarse,
}

impl ThreeWayVerdict {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::AllAgree,
        Self::DrawingOrScalesOffInMass,
        Self::SwingOrShapeOff,
        Self::OffNearHub,
        Self::NoTwoAgree,
        Self::SwingTooCoarse,
    ];

    /// What programs know it by.
    pub const fn id(self) -> &'static str {
        match self {
            Self::AllAgree => "all_agree",
            Self::DrawingOrScalesOffInMass => "drawing_or_scales_off_in_mass",
            Self::SwingOrShapeOff => "swing_or_shape_off",
            Self::OffNearHub => "off_near_hub",
            Self::NoTwoAgree => "no_two_agree",
            Self::SwingTooCoarse => "swing_too_coarse",
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AllAgree => "drawing, scales and swing agree",
            Self::DrawingOrScalesOffInMass => {
                "drawing and scales differ in mass, shape agrees with the swing: density or \
                 thickness drawn is off, or the scales are; weigh again on other scales"
            }
            Self::SwingOrShapeOff => {
                "drawing and scales agree in mass, the swing stands alone: check cord circle, \
                 length, count and centring, then the radii drawn"
            }
            Self::OffNearHub => {
                "inertia agrees, mass does not: look at the hub as drawn, or two errors hide one \
                 another"
            }
            Self::NoTwoAgree => "no two of drawing, scales and swing agree",
            Self::SwingTooCoarse => {
                "drawing and scales differ in mass and the swing is too uncertain to say which"
            }
        }
    }
}

/// The three-way check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreeWay {
    /// Mass: scales against drawing, kg.
    pub mass: Agreement,
    /// Inertia: swing against drawing, kg·m².
    pub inertia: Agreement,
    /// Radius of gyration: swing against drawing, m. It is the swing against the drawing scaled
    /// to the scales, with the scales' error, which both lean on, taken out.
    pub gyration: Agreement,
    /// Inertia of the drawing scaled to the scales, kg·m².
    pub scaled_inertia_kg_m2: f64,
    /// What it comes to.
    pub verdict: ThreeWayVerdict,
}

/// Holds drawing, scales and swing against one another, at a coverage.
pub fn three_way(
    drawing: &MassProperties,
    trust: DrawingTrust,
    scales_kg: &Measured,
    swing: &SwingAnalysis,
    coverage: InnerShare,
) -> ThreeWay {
    let drawn = |value: f64, share: f64| Measured {
        value,
        uncertainty: value * share,
        freedom: Freedom::Endless,
    };
    let gyration_m = (drawing.inertia_kg_m2 / drawing.mass_kg).sqrt();
    // J = m k²: shares of mass and of the squared radius add up.
    let inertia_share = trust.mass_share.hypot(2.0 * trust.gyration_share);
    let mass = agreement(
        scales_kg,
        &drawn(drawing.mass_kg, trust.mass_share),
        coverage,
    );
    let inertia = agreement(
        &swing.inertia_kg_m2.result,
        &drawn(drawing.inertia_kg_m2, inertia_share),
        coverage,
    );
    let gyration = agreement(
        &swing.gyration_m.result,
        &drawn(gyration_m, trust.gyration_share),
        coverage,
    );
    let verdict = match (mass.holds(), gyration.holds(), inertia.holds()) {
        (true, true, _) => ThreeWayVerdict::AllAgree,
        (true, false, _) => ThreeWayVerdict::SwingOrShapeOff,
        (false, true, false) => ThreeWayVerdict::DrawingOrScalesOffInMass,
        (false, true, true) => ThreeWayVerdict::SwingTooCoarse,
        (false, false, true) => ThreeWayVerdict::OffNearHub,
        (false, false, false) => ThreeWayVerdict::NoTwoAgree,
    };
    ThreeWay {
        mass,
        inertia,
        gyration,
        scaled_inertia_kg_m2: drawing.inertia_kg_m2 * scales_kg.value / drawing.mass_kg,
        verdict,
    }
}
