//! Standard error: what is said there, and whether in colour.

use std::io::{IsTerminal, Write};

/// Says something on standard error. Where that is closed or full nothing is said, and no result
/// is lost by it.
pub(super) fn say(text: &str) {
    let mut errors = std::io::stderr().lock();
    let _ = errors.write_all(text.as_bytes());
    let _ = errors.flush();
}

/// Whether standard error is a terminal whose user does not mind colour.
pub(super) fn coloured() -> bool {
    std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|no| no.is_empty())
}
