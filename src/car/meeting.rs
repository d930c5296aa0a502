//! Meetings whose slips there are: each has its own air and its own grip.

use super::Car;
use super::checked::Positive;
use super::track::Track;
use super::weather::Weather;
use std::borrow::Cow;

/// A meeting.
#[derive(Debug, Clone, PartialEq)]
pub struct Meeting {
    /// Its name or date, as slips call it.
    pub name: String,
    /// Its air.
    pub weather: Weather,
    /// Grip of its track over the tyre's own.
    pub grip: Positive,
}

impl Car {
    /// The car at one of its meetings, by its place; as it stands where there is none.
    pub fn at_meeting(&self, meeting: Option<usize>) -> Cow<'_, Self> {
        let Some(meeting) = meeting.and_then(|place| self.meetings.get(place)) else {
            return Cow::Borrowed(self);
        };
        let track = Track {
            weather: meeting.weather,
            grip: meeting.grip,
            ..self.track
        };
        Cow::Owned(Self {
            track,
            ..self.clone()
        })
    }
}
