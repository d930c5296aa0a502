//! Small matters of language.

/// A count with its noun: `1 cell`, `3 cells`.
pub(super) fn counted(count: usize, noun: &str) -> String {
    let ending = match count {
        1 => "",
        _ if noun.ends_with("ch") => "es",
        _ => "s",
    };
    format!("{count} {noun}{ending}")
}

/// `a, b and c`.
pub(super) fn listed(words: &[&str]) -> String {
    joined(words, "and")
}

/// `a, b or c`.
pub(super) fn either(words: &[&str]) -> String {
    joined(words, "or")
}

fn joined(words: &[&str], last_by: &str) -> String {
    match words.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} {last_by} {last}", others.join(", ")),
        None => String::new(),
    }
}
