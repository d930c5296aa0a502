//! The number that a text begins with, in the ways a workshop writes one: decimals with a point
//! or a comma, fractions of an inch.

use super::echo::quote;
use super::quantity::QuantityError;

/// A number and what stands behind it.
pub(super) struct Leading<'t> {
    pub(super) value: f64,
    /// The rest of the text, blanks before it taken off.
    pub(super) rest: &'t str,
}

/// Decimals behind a comma that could as well be a mark of thousands.
const THOUSANDS: usize = 3;
/// Denominator of a fraction at most: no rule is finer than 1/128 in (common practice, no source).
const FINEST_FRACTION: u32 = 128;

/// The number that a text begins with.
pub(super) fn leading(read: &str) -> Result<Leading<'_>, QuantityError> {
    if let Some(part) = vulgar(read) {
        return Ok(part);
    }
    let (number, rest) = read.split_at(number_length(read));
    let Ok(value) = number.replace('−', "-").parse::<f64>() else {
        return Err(no_number(read));
    };
    if !value.is_finite() {
        return Err(QuantityError::NotFinite { read: quote(read) });
    }
    if let Some(after) = rest.strip_prefix(',')
        && after.starts_with(|c: char| c.is_ascii_digit())
    {
        return with_comma(read, number, after);
    }
    let rest = rest.trim_start();
    if let Some(fraction) = fraction(number, value, rest) {
        return Ok(fraction);
    }
    if broken(rest) {
        return Err(QuantityError::BrokenNumber { read: quote(read) });
    }
    Ok(Leading { value, rest })
}

/// A number with a comma, where it can be nothing but a decimal mark.
fn with_comma<'t>(read: &str, whole: &str, after: &'t str) -> Result<Leading<'t>, QuantityError> {
    let decimals = after.chars().take_while(char::is_ascii_digit).count();
    let (digits, rest) = after.split_at(decimals);
    let unsigned = whole.trim_start_matches(['+', '-', '−']);
    let plain = !unsigned.is_empty() && unsigned.chars().all(|c| c.is_ascii_digit());
    let sure = plain && (decimals != THOUSANDS || unsigned == "0");
    let value = format!("{}.{digits}", whole.replace('−', "-")).parse::<f64>();
    match value {
        Ok(value) if sure && !broken(rest.trim_start()) => Ok(Leading {
            value,
            rest: rest.trim_start(),
        }),
        _ => Err(QuantityError::Comma {
            read: quote(read),
            with_point: quote(&read.replacen(',', ".", 1)),
            without: (decimals == THOUSANDS).then(|| quote(&read.replacen(',', "", 1))),
        }),
    }
}

/// Whether what follows a number goes on like a number rather than a unit.
fn broken(rest: &str) -> bool {
    rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '-' | '+'))
        || rest
            .chars()
            .next()
            .is_some_and(|c| vulgar_value(c).is_some())
}

/// `1/4`, or `10 1/4`, `10-1/4`, `10¼` once the 10 has been read.
fn fraction<'t>(number: &str, value: f64, rest: &'t str) -> Option<Leading<'t>> {
    let unsigned = number.trim_start_matches(['+', '-', '−']);
    if unsigned.is_empty() || !unsigned.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let sign = if number.len() > unsigned.len() && !number.starts_with('+') {
        -1.0
    } else {
        1.0
    };
    if let Some(below) = rest.strip_prefix('/') {
        let (below, rest) = denominator(below)?;
        return Some(Leading {
            value: value / f64::from(below),
            rest,
        });
    }
    if let Some(part) = vulgar(rest) {
        return Some(Leading {
            value: value + sign * part.value,
            rest: part.rest,
        });
    }
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    let above = rest.get(..digits)?.parse::<u32>().ok()?;
    let (below, rest) = denominator(rest.get(digits..)?.trim_start().strip_prefix('/')?)?;
    (above < below).then(|| Leading {
        value: value + sign * f64::from(above) / f64::from(below),
        rest,
    })
}

fn denominator(text: &str) -> Option<(u32, &str)> {
    let text = text.trim_start();
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    let below = text.get(..digits)?.parse::<u32>().ok()?;
    let rest = text.get(digits..)?.trim_start();
    ((1..=FINEST_FRACTION).contains(&below) && !broken(rest)).then_some((below, rest))
}

/// A fraction written as one character.
fn vulgar(text: &str) -> Option<Leading<'_>> {
    let first = text.chars().next()?;
    let rest = text.get(first.len_utf8()..)?.trim_start();
    let value = vulgar_value(first)?;
    (!broken(rest)).then_some(Leading { value, rest })
}

const fn vulgar_value(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

fn no_number(read: &str) -> QuantityError {
    let word = read.trim_start_matches(['+', '-']).to_ascii_lowercase();
    let read = quote(read);
    if word.starts_with("nan") || word.starts_with("inf") {
        QuantityError::NotFinite { read }
    } else {
        QuantityError::NoNumber { read }
    }
}

/// Bytes of the plain number that a text begins with.
fn number_length(text: &str) -> usize {
    let mut length = 0;
    let digits = |from: &str| -> usize { from.chars().take_while(char::is_ascii_digit).count() };
    let after = |length: usize| text.get(length..).unwrap_or_default();
    if let Some(sign) = text.chars().next().filter(|c| matches!(c, '+' | '-' | '−')) {
        length += sign.len_utf8();
    }
    length += digits(after(length));
    if after(length).starts_with('.') {
        length += 1 + digits(after(length + 1));
    }
    if after(length).starts_with(['e', 'E']) {
        let sign = usize::from(after(length + 1).starts_with(['+', '-']));
        let exponent = digits(after(length + 1 + sign));
        if exponent > 0 {
            length += 1 + sign + exponent;
        }
    }
    length
}
