//! What programs look for is a short fixed identifier, never a sentence: each is listed here, so
//! that none changes unnoticed.

use crate::car::checked::Positive;
use crate::car::logged_run::Channel;
use crate::launch::Outcome;
use crate::metal::disc::{Property, Refusal, Verdict as DiscVerdict};
use crate::metal::swing::{Assumed, Quantity, SwingWarning, ThreeWayVerdict};
use crate::metal::worth::GramWorth;
use crate::study::card::{Miss, Off};
use crate::study::gearing::GearChoice;
use crate::study::ledger::Turns;
use crate::study::scatter::break_even::Winner;
use crate::study::scatter::pairs::Verdict;
use crate::study::scatter::sensitivity::Cause;
use crate::study::staged::Order;
use crate::study::staged::Visible;
use crate::study::swinging::Stands;

#[test]
fn regression_causes_of_spread() {
    assert_eq!(
        Cause::ALL.map(Cause::id),
        ["launch_speed", "clutch_release", "track_grip"]
    );
}

#[test]
fn regression_readings_of_a_log() {
    assert_eq!(
        Channel::ALL.map(Channel::reading),
        [
            "engine_reading",
            "input_shaft_reading",
            "driven_wheels_reading",
            "car_reading",
        ]
    );
}

#[test]
fn regression_inputs_of_a_swing_test() {
    assert_eq!(
        Quantity::ALL.map(Quantity::id),
        [
            "cord_radius",
            "cord_length",
            "part_mass",
            "period",
            "amplitude",
            "platform_mass",
            "platform_period",
            "platform_amplitude",
            "gravity",
        ]
    );
}

#[test]
fn regression_what_drawing_scales_and_swing_say_of_one_another() {
    assert_eq!(
        ThreeWayVerdict::ALL.map(ThreeWayVerdict::id),
        [
            "all_agree",
            "drawing_or_scales_off_in_mass",
            "swing_or_shape_off",
            "off_near_hub",
            "no_two_agree",
            "swing_too_coarse",
        ]
    );
}

#[test]
fn regression_whether_a_stage_can_be_seen() {
    assert_eq!(
        [
            Visible::With(5),
            Visible::NotSensibly,
            Visible::NoDifference
        ]
        .map(Visible::id),
        ["yes", "not_sensibly", "no_difference"]
    );
}

#[test]
fn regression_who_wins() {
    assert_eq!(
        [Winner::Lighter, Winner::Heavier, Winner::Undecided].map(Winner::word),
        ["lighter", "heavier", "undecided"]
    );
}

/// The contract with programs has blanks in one of them; it stays.
#[test]
fn regression_how_a_launch_ends() {
    assert_eq!(
        [Outcome::Finished, Outcome::Stalled, Outcome::DidNotFinish].map(Outcome::id),
        ["finished", "stalled", "did not finish"]
    );
}

#[test]
fn regression_which_of_a_pair_is_quicker() {
    assert_eq!(
        [
            Verdict::LighterQuicker,
            Verdict::HeavierQuicker,
            Verdict::Undecided
        ]
        .map(Verdict::id),
        ["lighter_quicker", "heavier_quicker", "undecided"]
    );
}

#[test]
fn regression_what_a_card_shows_and_what_misses_cost() {
    assert_eq!(Off::ALL.map(Off::id), ["too_low", "aim", "too_high"]);
    assert_eq!(
        [
            Miss::SpeedLow,
            Miss::SpeedHigh,
            Miss::ReleaseQuick,
            Miss::ReleaseSlow,
            Miss::GripLow,
            Miss::GripHigh
        ]
        .map(Miss::id),
        [
            "launch_speed_low",
            "launch_speed_high",
            "release_quick",
            "release_slow",
            "grip_low",
            "grip_high"
        ]
    );
}

#[test]
fn regression_gearings_and_plans() {
    let ratio = Positive::new(3.9).unwrap();
    assert_eq!(
        [
            GearChoice::AsBuilt,
            GearChoice::Final(ratio),
            GearChoice::First(ratio)
        ]
        .map(GearChoice::id),
        ["as_built", "final_drive", "first_gear"]
    );
    assert_eq!(
        [Order::MostFirst, Order::AsGiven].map(Order::id),
        ["most_inertia_first", "as_given"]
    );
}

#[test]
fn regression_where_a_part_turns_and_what_a_gram_is_worth() {
    assert_eq!(
        [
            Turns::WithCrank,
            Turns::WithInputShaft,
            Turns::WithPropshaft,
            Turns::WithDrivenWheels,
            Turns::WithUndrivenWheels
        ]
        .map(Turns::id),
        [
            "crank",
            "input_shaft",
            "propshaft",
            "driven_wheels",
            "undriven_wheels"
        ]
    );
    assert_eq!(
        [
            GramWorth::NearlyFree,
            GramWorth::BelowAverage,
            GramWorth::AboveAverage
        ]
        .map(GramWorth::id),
        ["nearly_free", "below_average", "above_average"]
    );
}

#[test]
fn regression_what_a_disc_check_finds_and_why_it_is_refused() {
    assert_eq!(
        [
            DiscVerdict::Below,
            DiscVerdict::YieldsAtHoles,
            DiscVerdict::Yields,
            DiscVerdict::Bursts
        ]
        .map(DiscVerdict::id),
        ["below", "yields_at_holes", "yields", "bursts"]
    );
    assert_eq!(
        [
            Refusal::NoShape,
            Refusal::Missing(Property::Yield),
            Refusal::OutOfRange {
                property: Property::Yield,
                value: 0.0
            },
            Refusal::YieldAboveTensile {
                yield_pa: 2.0,
                tensile_pa: 1.0
            },
            Refusal::Gap {
                from_m: 0.0,
                to_m: 1.0
            },
            Refusal::NoThickness { radius_m: 0.0 },
            Refusal::HolesOutsideMetal {
                pitch_radius_m: 0.0
            },
            Refusal::HolesLeaveNothing,
            Refusal::NoFiniteAnswer
        ]
        .map(|refusal| refusal.id()),
        [
            "no_shape",
            "strength_missing",
            "strength_out_of_range",
            "yield_above_tensile",
            "gap_between_sections",
            "no_thickness",
            "holes_outside_metal",
            "holes_leave_nothing",
            "no_finite_answer"
        ]
    );
}

#[test]
fn regression_swing_tests() {
    assert_eq!(
        [Stands::ForInertia, Stands::AsCheck].map(Stands::id),
        ["for_inertia", "as_check"]
    );
    assert_eq!(
        Assumed::ALL.map(Assumed::id),
        [
            "radius_within",
            "length_within",
            "mass_within",
            "swings",
            "reaction"
        ]
    );
    assert_eq!(
        [
            SwingWarning::AmplitudeNotTold,
            SwingWarning::LargeAmplitude(0.5),
            SwingWarning::Miscounted { swing: 1 },
            SwingWarning::ScatterAboveReaction {
                scatter_s: 0.2,
                told_s: 0.1
            },
            SwingWarning::HeavyPlatform { share: 0.6 }
        ]
        .map(|warning| warning.id()),
        [
            "amplitude_not_told",
            "large_amplitude",
            "miscounted",
            "scatter_above_reaction",
            "heavy_platform"
        ]
    );
}
