//! What was read, said again without upsetting a screen.

/// Whether a character moves the cursor or turns the direction of writing: in a name it could
/// make a screen say what no file says (Unicode: controls, line and paragraph separators, and the
/// bidirectional marks of UAX #9).
pub(crate) fn upsets_a_screen(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
        )
}

/// The sign of a text that could make a screen say what no file says, if it has one: "a control
/// character, U+0007".
pub fn unshowable(text: &str) -> Option<String> {
    let odd = text.chars().find(|c| upsets_a_screen(*c))?;
    let sort = if odd.is_control() {
        "a control character"
    } else {
        "a sign that turns the direction of writing or breaks the line"
    };
    Some(format!("{sort}, U+{:04X}", u32::from(odd)))
}

/// What was read, cut where it would fill the screen.
pub(crate) fn quote(read: &str) -> String {
    /// Characters that an error repeats at most.
    const MOST: usize = 40;
    let clean: String = read
        .chars()
        .map(|c| if upsets_a_screen(c) { '\u{fffd}' } else { c })
        .take(MOST)
        .collect();
    if read.chars().nth(MOST).is_some() {
        format!("{clean}…")
    } else {
        clean
    }
}
