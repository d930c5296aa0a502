//! `[[meeting]]`: the air and the grip of meetings whose slips there are.

use super::diagnostics::Diagnostics;
use super::keys::meeting as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::Found;
use super::weather;
use crate::car::checked::Positive;
use crate::car::meeting::Meeting;
use crate::car::weather::Weather;

/// Reads the entries; a sheet without any has none.
pub(super) fn read(
    diagnostics: &Diagnostics,
    entries: Vec<TableReader<'_>>,
) -> Option<Vec<Meeting>> {
    let mut names: Vec<Found<String>> = Vec::new();
    let mut meetings = Vec::new();
    for t in entries {
        let name = t.words(key::NAME).needed();
        let weather = weather::read(&t);
        let grip = t.measure::<Positive>(key::GRIP).or_default();
        t.finish();
        meetings.push(meeting(name.as_ref(), weather, grip));
        names.extend(name);
    }
    refuse_same_names(diagnostics, &names);
    meetings.into_iter().collect()
}

fn meeting(
    name: Option<&Found<String>>,
    weather: Option<Weather>,
    grip: Option<Found<Positive>>,
) -> Option<Meeting> {
    Some(Meeting {
        name: name?.value.clone(),
        weather: weather?,
        grip: grip?.value,
    })
}

fn refuse_same_names(diagnostics: &Diagnostics, names: &[Found<String>]) {
    for (place, name) in names.iter().enumerate() {
        let mut earlier = names.iter().take(place);
        if let Some(earlier) = earlier.find(|other| other.value == name.value) {
            diagnostics.problem(
                Problem::new(
                    name.place.clone(),
                    format!("two meetings are called {}", name.read),
                )
                .label("this name again")
                .also(earlier.place.clone(), "first here")
                .help("slips go by the name: give each meeting its own"),
            );
        }
    }
}
