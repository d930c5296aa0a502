//! Which flywheel to start with, when the sheet is not sure and metal never goes back.
//!
//! The first half knows no cars: [`losses`] over drawn sheets, [`regression`] of what is decided
//! for on what could be learnt, [`information`] worth from it, [`reach`] (what can still become
//! of a wheel) and a one-way [`season`]. The second half fills it: sheets [`drawn`] from the
//! doubt of a car, each flywheel at its [`own_aim`] in each, and the [`slips`] that a meeting
//! would show.

pub mod drawn;
pub mod evaluate;
pub mod information;
pub mod losses;
pub mod metal_left;
pub mod moved;
pub mod own_aim;
pub mod passes_weighed;
pub mod reach;
pub mod regression;
pub mod season;
pub mod slips;
pub mod study;
pub mod verdict;
pub mod who_wins;

pub use study::{Decision, Depth, Question, WheelDecision, decide};

#[cfg(test)]
mod toy_tests;
