//! What a sheet may say and is worth a second look: no error, but said aloud.
//!
//! What is usual for a key stands beside it, in [`super::keys`].

use super::problem::Location;
use super::value::Amount;
use crate::units::{Kind, System};
use std::fmt;

/// A value's usual range, SI; what lies outside is warned of.
pub(super) struct Usual {
    pub(super) what: &'static str,
    pub(super) kind: Option<Kind>,
    pub(super) low: f64,
    pub(super) high: f64,
}

const fn usual(what: &'static str, kind: Option<Kind>, low: f64, high: f64) -> Usual {
    Usual {
        what,
        kind,
        low,
        high,
    }
}

// What a flywheel comes to, however it is described; common practice, no source.
pub(super) const FLYWHEEL_MASS: Usual = usual("mass of a flywheel", Some(Kind::Mass), 2.0, 30.0);
pub(super) const FLYWHEEL_INERTIA: Usual =
    usual("inertia of a flywheel", Some(Kind::Inertia), 0.01, 1.5);

/// A launch range that begins below this many times the stall speed begins among stalls.
pub(super) const NEAR_STALL: f64 = 1.3;
/// Share by which a hole may be deeper than its metal before it is warned of: round-off of a drawing.
pub(super) const DEPTH_SLACK: f64 = 0.01;
/// Launches from which a standard deviation is worth something.
pub(super) const ENOUGH_LAUNCHES: usize = 8;

/// Something doubtful. [`Warning::text`] says it in words.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// A value outside what is usual.
    Unusual {
        /// The key read.
        key: String,
        /// What it stands for: `final-drive ratio`.
        what: &'static str,
        /// What was read.
        read: Amount,
        /// Lower end of what is usual.
        low: Amount,
        /// Upper end.
        high: Amount,
    },
    /// The closed clutch holds less than the engine gives.
    ClutchUnderEngine {
        /// Static capacity, N·m.
        static_capacity_nm: f64,
        /// Engine's peak torque in the track's weather, N·m.
        peak_torque_nm: f64,
    },
    /// The lowest launch speed lies close to stalling.
    LaunchNearStall {
        /// Lowest launch speed, rad/s.
        lowest_rad_s: f64,
        /// Stall speed, rad/s.
        stall_rad_s: f64,
    },
    /// The shift is called where the limiter is already at work.
    ShiftOnLimiter {
        /// Shift speed, rad/s.
        shift_rad_s: f64,
        /// Limiter, rad/s.
        limiter_rad_s: f64,
    },
    /// Something about one part.
    Part {
        /// The part.
        part: String,
        /// What is warned of of it.
        warning: PartWarning,
    },
    /// A key that does nothing in this sheet.
    NotUsed {
        /// The key.
        key: String,
        /// Why it does nothing.
        why: &'static str,
    },
    /// A torque curve that goes up and down more often than engines do.
    RoughCurve {
        /// How often it turns.
        turns: usize,
    },
    /// Torque and power of one row of the torque file disagree.
    TorqueAgainstPower {
        /// How far torque lies above what power makes it, as a share, where they are furthest apart.
        share: f64,
        /// Engine speed there, rad/s.
        speed_rad_s: f64,
    },
    /// A curve measured at the wheels, and no word on what the driveline lost.
    WheelCurveWithoutLosses {
        /// Share of the torque that was taken to reach the wheels.
        efficiency: f64,
    },
    /// Too few practice launches to know the spread.
    FewLaunches {
        /// How many were counted.
        counted: usize,
    },
}

/// Something doubtful about a part's description.
#[derive(Debug, Clone, PartialEq)]
pub enum PartWarning {
    /// Scales and drawing disagree.
    WeighingOff {
        /// What the scales said, kg.
        weighed_kg: f64,
        /// What the drawing gives, kg.
        computed_kg: f64,
    },
    /// A brittle flywheel.
    BrittleFlywheel {
        /// Its material.
        material: String,
    },
    /// A wheel comes out with more inertia than the one it is cut from.
    MoreThanItsBlank {
        /// Its inertia, kg·m².
        inertia_kg_m2: f64,
        /// Inertia of the one it is cut from, kg·m².
        blank_kg_m2: f64,
    },
    /// Two sections claim the same radii.
    SectionsOverlap {
        /// Inner end of what both claim, radius, m.
        from_m: f64,
        /// Outer end, radius, m.
        to_m: f64,
    },
    /// A gap between sections.
    SectionsApart {
        /// Inner end of the gap, radius, m.
        from_m: f64,
        /// Outer end, radius, m.
        to_m: f64,
    },
    /// A ring of holes that is not within the metal.
    HoleOutsideMetal {
        /// Innermost reach of the holes, radius, m.
        from_m: f64,
        /// Outermost reach, radius, m.
        to_m: f64,
    },
    /// Holes deeper than the metal they are in.
    HoleTooDeep {
        /// Depth read, m.
        depth_m: f64,
        /// Thickest metal there, m.
        thickness_m: f64,
    },
}

impl Warning {
    /// The warning in words, with quantities in the units of a system.
    pub fn text(&self, system: System) -> String {
        let rpm = |speed| system.show(speed, Kind::AngularSpeed);
        let torque = |nm| system.show(nm, Kind::Torque);
        match self {
            Self::Unusual {
                key,
                what,
                read,
                low,
                high,
            } => format!(
                "{key}: {} was read; usual is {} to {} ({what})",
                read.shown(system),
                low.shown(system),
                high.shown(system)
            ),
            Self::ClutchUnderEngine {
                static_capacity_nm,
                peak_torque_nm,
            } => format!(
                "the closed clutch holds {}, less than the engine's peak of {} in this weather: it will slip in every gear",
                torque(*static_capacity_nm),
                torque(*peak_torque_nm)
            ),
            Self::LaunchNearStall {
                lowest_rad_s,
                stall_rad_s,
            } => format!(
                "launch speeds begin at {}, close to the stall speed of {}: many launches there will stall",
                rpm(*lowest_rad_s),
                rpm(*stall_rad_s)
            ),
            Self::ShiftOnLimiter {
                shift_rad_s,
                limiter_rad_s,
            } => format!(
                "the shift is called at {}; from 100 rpm under the limiter ({}) torque is taken away, and the engine can hang there for seconds before it shifts",
                rpm(*shift_rad_s),
                rpm(*limiter_rad_s)
            ),
            Self::Part { part, warning } => format!("{part}: {}", warning.text(system)),
            Self::NotUsed { key, why } => format!("{key} does nothing in this sheet: {why}"),
            Self::RoughCurve { turns } => format!(
                "the torque curve goes up and down {turns} times, by a twentieth of its peak and more; few engines do: a curve drawn through a smoothed run is the better one"
            ),
            Self::TorqueAgainstPower { share, speed_rad_s } => format!(
                "torque and power of the torque file disagree, by {:+.1} % at {}; the torque is believed",
                share * 100.0,
                rpm(*speed_rad_s)
            ),
            Self::WheelCurveWithoutLosses { efficiency } => format!(
                "the torque curve was measured at the wheels, and the sheet says nothing of what is lost on the way: {:.0} % was taken to arrive. Give dyno_efficiency, or the gearbox's efficiency",
                efficiency * 100.0
            ),
            Self::FewLaunches { counted } => format!(
                "the spread of launch speed comes from {counted} practice launches; with fewer than {ENOUGH_LAUNCHES} it may be off by a third or more"
            ),
        }
    }
}

impl PartWarning {
    /// The warning in words, without the part's name.
    pub fn text(&self, system: System) -> String {
        let mass = |kg| system.show(kg, Kind::Mass);
        let length = |m| system.show(m, Kind::Length);
        let diameter = |radius_m: f64| system.show(2.0 * radius_m, Kind::Length);
        match self {
            Self::WeighingOff {
                weighed_kg,
                computed_kg,
            } => format!(
                "the scales say {}, the drawing {} ({:+.1} %); more than 3 % apart, one of the two is off. The scales are believed",
                mass(*weighed_kg),
                mass(*computed_kg),
                (weighed_kg / computed_kg - 1.0) * 100.0
            ),
            Self::BrittleFlywheel { material } => format!(
                "{material} is brittle: never lighten a cast-iron wheel for racing; a burst flywheel kills"
            ),
            Self::MoreThanItsBlank {
                inertia_kg_m2,
                blank_kg_m2,
            } => format!(
                "comes out with {}, more than the {} of the wheel it is cut from; one of the two is off",
                system.show(*inertia_kg_m2, Kind::Inertia),
                system.show(*blank_kg_m2, Kind::Inertia)
            ),
            Self::SectionsOverlap { from_m, to_m } => format!(
                "two sections both claim the metal between diameters {} and {}; it is counted twice, which is right only where one is stacked on the other",
                diameter(*from_m),
                diameter(*to_m)
            ),
            Self::SectionsApart { from_m, to_m } => format!(
                "no section has metal between diameters {} and {}",
                diameter(*from_m),
                diameter(*to_m)
            ),
            Self::HoleOutsideMetal { from_m, to_m } => format!(
                "holes reach from diameter {} to {}, beyond the metal of the sections; all of each hole is taken off all the same",
                diameter(*from_m),
                diameter(*to_m)
            ),
            Self::HoleTooDeep {
                depth_m,
                thickness_m,
            } => format!(
                "holes {} deep in metal that is {} thick there; depth is what a hole takes out of the metal",
                length(*depth_m),
                length(*thickness_m)
            ),
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text(System::Metric))
    }
}

/// A warning and the place it is about.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedWarning {
    /// What is warned of.
    pub warning: Warning,
    /// Where, if one place can be named.
    pub place: Option<Location>,
}

impl fmt::Display for PlacedWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        self.warning.fmt(f)
    }
}
