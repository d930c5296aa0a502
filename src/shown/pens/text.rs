//! Text without a font file: widths on the safe side, wrapping, shortening, numbers.
//!
//! A chart names `sans-serif` and leaves the face to the reader's machine. Widths are therefore
//! estimates, taken generously so that a wide face still fits.

/// Mark of text cut short.
const ELLIPSIS: char = '…';

/// A bold face is about this much wider.
pub(crate) const BOLD_SHARE: f64 = 1.12;

/// Width of one character in ems, after the widths of a wide sans-serif face.
fn advance_em(letter: char) -> f64 {
    match letter {
        '\u{0300}'..='\u{036F}' | '\u{200B}'..='\u{200F}' => 0.0,
        '\u{2009}' | '\u{202F}' => 0.2,
        'i' | 'j' | 'l' | '|' | '\'' | 'I' | 'J' => 0.3,
        ' ' | '.' | ',' | ':' | ';' | '\u{00A0}' | '·' => 0.33,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '!' | '/' | '\\' | '-' | '"' | '°' => 0.43,
        's' | 'z' | 'c' => 0.56,
        'm' | 'M' | 'W' | '%' | '@' | '…' | '—' => 1.0,
        'w' | '−' | '+' | '=' | '<' | '>' | '±' | '×' => 0.84,
        'A'..='Z' => 0.72,
        '\u{0000}'..='\u{2E7F}' => 0.64,
        _ => 1.05,
    }
}

/// Width in pixels of a line of text at a font size.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    size * text.chars().map(advance_em).sum::<f64>()
}

/// The text, or as much of it as fits, ended by an ellipsis.
pub(crate) fn shortened(text: &str, size: f64, room: f64) -> String {
    if width(text, size) <= room {
        return text.to_owned();
    }
    let mut kept = String::new();
    let mut used = size * advance_em(ELLIPSIS);
    for letter in text.chars() {
        used += size * advance_em(letter);
        if used > room {
            break;
        }
        kept.push(letter);
    }
    let mut kept = kept.trim_end().to_owned();
    kept.push(ELLIPSIS);
    kept
}

/// The text in lines no wider than the room, at most so many; what is over ends in an ellipsis.
pub(crate) fn wrapped(text: &str, size: f64, room: f64, most_lines: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut words = text.split_whitespace().peekable();
    while let Some(word) = words.next() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match longer {
            Some(longer) if width(&longer, size) <= room => {
                if let Some(line) = lines.last_mut() {
                    *line = longer;
                }
            }
            _ if lines.len() < most_lines => lines.push(shortened(word, size, room)),
            _ => {
                if let Some(line) = lines.last_mut() {
                    let rest: Vec<&str> = std::iter::once(word).chain(words.by_ref()).collect();
                    *line = shortened(&format!("{line} {}", rest.join(" ")), size, room);
                }
            }
        }
    }
    lines
}

/// A number with a fixed count of decimals and a true minus sign; thousands are not set apart.
pub fn number(value: f64, decimals: usize) -> String {
    let written = format!("{value:.decimals$}");
    match written.strip_prefix('-') {
        Some(size) if size.chars().any(|digit| matches!(digit, '1'..='9')) => {
            format!("\u{2212}{size}")
        }
        Some(size) => size.to_owned(),
        None => written,
    }
}

/// Text as XML character data: markup escaped, characters XML 1.0 forbids left out.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0000}'..='\u{001F}' | '\u{FFFE}' | '\u{FFFF}' => {}
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_shortened_text_fits_its_room() {
        let long = "a flywheel with a very long name indeed ".repeat(20);
        for room in [0.0, 10.0, 80.0, 300.0] {
            let short = shortened(&long, 12.0, room);
            assert!(short.ends_with(ELLIPSIS));
            assert!(width(&short, 12.0) <= room.max(12.0));
        }
        assert_eq!(shortened("short", 12.0, 100.0), "short");
    }

    #[test]
    fn law_wrapped_lines_fit_and_keep_every_word_there_is_room_for() {
        let text = "invented data for a drag car that was never built";
        let lines = wrapped(text, 12.0, 120.0, 9);
        assert_eq!(lines.join(" "), text);
        assert!(lines.iter().all(|line| width(line, 12.0) <= 120.0));
        let cut = wrapped(text, 12.0, 120.0, 2);
        assert_eq!(cut.len(), 2);
        assert!(cut[1].ends_with(ELLIPSIS) && width(&cut[1], 12.0) <= 120.0);
    }

    #[test]
    fn law_a_rounded_nought_has_no_sign() {
        assert_eq!(number(-0.001, 2), "0.00");
        assert_eq!(number(-12.5, 1), "\u{2212}12.5");
        assert_eq!(number(31000.0, 0), "31000");
    }

    #[test]
    fn law_escaping_leaves_no_markup_and_no_forbidden_character() {
        let text = escaped("<script>\u{0}\u{8}\"'&\n");
        assert_eq!(text, "&lt;script&gt;&quot;&#39;&amp; ");
    }
}
