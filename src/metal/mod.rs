//! The metal of a flywheel between lathe and scales.
//!
//! What a machining pass takes off ([`cut`]), how deep to go for a target ([`target`]), where a
//! gram is worth most ([`worth`]), what speed does to what is left ([`disc`]), and how well a
//! pendulum knows the inertia ([`swing`]). All in SI; nothing here knows text formats.
//!
//! ```
//! use flyheft::car::machining::ShopRules;
//! use flyheft::metal::worth::worth;
//!
//! let reading = flyheft::sheet::read("demo-data/bogger.toml".as_ref())?;
//! let wheel = reading.car.flywheels.fitted().ok_or("no flywheel is fitted")?;
//! let part = wheel.part.built_up().ok_or("its sections are not known")?;
//! let rules = ShopRules::usual(None).ok_or("no usual rules")?;
//! let four = std::num::NonZeroU32::new(4).ok_or("zero")?;
//!
//! // A gram does most at the rim, where the dearest ring lies.
//! let worth = worth(part, four, &rules).ok_or("no metal to cut up")?;
//! let ranked = worth.ranked();
//! let (first, last) = ranked.first().zip(ranked.last()).ok_or("no rings")?;
//! assert!(first.inertia_per_gram_kg_m2 > last.inertia_per_gram_kg_m2);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod cut;
pub mod disc;
pub mod profile;
pub mod swing;
pub mod target;
pub mod worth;
