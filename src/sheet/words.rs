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
    match words.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}
