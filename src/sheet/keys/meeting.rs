//! `[[meeting]]`, besides its weather.

use super::key::{Form, UsualDoubt, keys, number, of};

keys! {
    NAME = of("name", Form::Text)
        .words("name or date of the meeting")
        .how("as the column `meeting` of the slips calls it")
        .such_as("\"12 May\"");
    // As the track's own: `track.grip`.
    GRIP = number("grip")
        .hard(0.02, 20.0)
        .usual(0.3, 1.7)
        .or(1.0, "grip is the tyre's own")
        .words("grip of the track on that day over the tyre's own")
        .how("leave it out: its slips tell it")
        .such_as("1.0")
        .doubted(UsualDoubt::Share(0.05));
}
