//! `[season]` and `[fitted]`.

use super::key::{Form, count, keys, of};
use crate::car::season::{Counts, DEFAULT_LAUNCHES, DEFAULT_MEETING};
use crate::sheet::value::COMMON_PRACTICE;

keys! {
    MEETING = count("meeting")
        .usual(1.0, 100.0)
        .or(DEFAULT_MEETING.get() as f64, COMMON_PRACTICE)
        .words("launches of the first meeting, after which its slips are read")
        .such_as("8");
    LAUNCHES = count("launches")
        .usual(1.0, 500.0)
        .or(DEFAULT_LAUNCHES.get() as f64, COMMON_PRACTICE)
        .words("launches of the rest of the season")
        .such_as("60");
    COUNTS = of(
        "counts",
        Form::Choice(&["quick to 60 ft", "quick to 1320 ft", "steady"]),
    )
        .or_word(Counts::QuickToSixtyFeet.name(), "what a sixty-foot time is taken for")
        .words("what counts in the season")
        .such_as("\"quick to 60 ft\"");
}

/// `[fitted]`.
pub(crate) mod fitted {
    use super::{Form, keys, of};

    keys! {
        DRAWS = of("draws", Form::File(None))
            .words("file of weighted draws of the values that a fit has learnt")
            .how("`flyheft fit` writes it")
            .such_as("\"car-fitted.csv\"");
    }
}
