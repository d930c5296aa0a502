//! What programs look for is a short fixed identifier, never a sentence: each is listed here, so
//! that none changes unnoticed.

use crate::metal::swing::{Quantity, ThreeWayVerdict};
use crate::study::scatter::break_even::Winner;
use crate::study::scatter::sensitivity::Cause;
use crate::study::staged::Visible;

#[test]
fn regression_causes_of_spread() {
    assert_eq!(
        Cause::ALL.map(Cause::id),
        ["launch_speed", "clutch_release", "track_grip"]
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
