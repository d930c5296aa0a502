//! A value with what is said of its doubt: `310 N·m ± 20 N·m`, `0.70 to 0.90`, `7.40 kg exactly`.

use super::echo::quote;
use super::number::leading;
use super::quantity::{QuantityError, find_unit, unknown_unit};
use super::{FT, IN, Kind, Unit};

/// What a text says of a value's doubt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// Nothing.
    NotSaid,
    /// That there is none.
    Exactly,
    /// This much to either side (19 cases of 20), SI.
    Within(f64),
    /// Anything between two ends, SI; the value is their middle.
    Between {
        /// Lower end.
        low: f64,
        /// Upper end, above the lower.
        high: f64,
    },
}

/// A value as a text states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The value: SI, or a bare number.
    pub value: f64,
    /// What is said of its doubt, in the same unit.
    pub spread: Spread,
}

/// What kind of value is wanted.
#[derive(Clone, Copy)]
enum Wanted {
    Quantity(Kind),
    Number,
}

/// What a number is counted in.
#[derive(Clone, Copy, PartialEq)]
enum Measure {
    None,
    Unit(&'static Unit),
    Percent,
    Ratio,
}

/// One number with its measure.
#[derive(Clone, Copy)]
struct Piece {
    value: f64,
    measure: Measure,
}

/// A quantity and what is said of its doubt, SI.
///
/// Beside what [`parse`](super::parse) takes: `± half-width` (also `+/-`) with a unit or a share
/// in per cent, `a to b`, `exactly`. Where a unit stands behind the last number alone, it goes
/// for both.
///
/// # Errors
/// See [`QuantityError`].
pub fn parse_stated(text: &str, kind: Kind) -> Result<Stated, QuantityError> {
    stated(text, Wanted::Quantity(kind))
}

/// A bare number in quotes, and what is said of its doubt: `0.80 ± 0.05`, `54 %`, `3.9:1`.
///
/// # Errors
/// See [`QuantityError`].
pub fn parse_stated_number(text: &str) -> Result<Stated, QuantityError> {
    stated(text, Wanted::Number)
}

/// A quantity such as `7.4 kg`, in SI.
///
/// The number may be a fraction (`10 1/4 in`), a length feet and inches (`8 ft 6 in`, `8' 6"`);
/// a comma is read as the decimal mark where it can be nothing else (`7,4 kg`, but not
/// `7,800 rpm`).
///
/// Blanks count for nothing between number and unit or within the unit; `·`, `*` and `-` may
/// join units, `²` may be written `2` or `^2`; capitals matter only where they tell two units
/// of one kind apart.
///
/// # Errors
/// See [`QuantityError`].
pub fn parse(text: &str, kind: Kind) -> Result<f64, QuantityError> {
    let read = text.trim();
    if read.is_empty() {
        return Err(QuantityError::Empty);
    }
    let wanted = Wanted::Quantity(kind);
    si(piece(read, wanted)?, wanted, read)
}

fn stated(text: &str, wanted: Wanted) -> Result<Stated, QuantityError> {
    let read = text.trim();
    if read.is_empty() {
        return Err(QuantityError::Empty);
    }
    if let Some(value) = without_exactly(read) {
        return Ok(Stated {
            value: si(piece(value, wanted)?, wanted, read)?,
            spread: Spread::Exactly,
        });
    }
    if let Some((value, half)) = split_plus_minus(read) {
        return plus_minus(
            piece(value, wanted)?,
            half_piece(half, wanted)?,
            wanted,
            read,
        );
    }
    if let Some((low, high)) = split_to(read) {
        return between(piece(low, wanted)?, piece(high, wanted)?, wanted, read);
    }
    Ok(Stated {
        value: si(piece(read, wanted)?, wanted, read)?,
        spread: Spread::NotSaid,
    })
}

fn without_exactly(read: &str) -> Option<&str> {
    const WORD: &str = "exactly";
    let at_end = read.len().checked_sub(WORD.len())?;
    let same = |word: Option<&str>| word.is_some_and(|word| word.eq_ignore_ascii_case(WORD));
    if same(read.get(at_end..)) {
        return read.get(..at_end).map(str::trim_end);
    }
    same(read.get(..WORD.len())).then(|| read.get(WORD.len()..).unwrap_or_default().trim_start())
}

fn split_plus_minus(read: &str) -> Option<(&str, &str)> {
    ["±", "+/-", "+/−", "+-"]
        .into_iter()
        .find_map(|sign| read.split_once(sign))
        .map(|(value, half)| (value.trim(), half.trim()))
}

fn split_to(read: &str) -> Option<(&str, &str)> {
    let lower = read.to_ascii_lowercase();
    let at = lower.find(" to ")?;
    Some((read.get(..at)?.trim(), read.get(at + 4..)?.trim()))
}

/// The half-width behind a ±: a share of the value is allowed for every kind.
fn half_piece(text: &str, wanted: Wanted) -> Result<Piece, QuantityError> {
    if text.is_empty() {
        return Err(QuantityError::NoHalfWidth);
    }
    let begins = leading(text)?;
    if begins.rest == "%" {
        return Ok(Piece {
            value: begins.value,
            measure: Measure::Percent,
        });
    }
    piece(text, wanted)
}

fn plus_minus(
    value: Piece,
    half: Piece,
    wanted: Wanted,
    read: &str,
) -> Result<Stated, QuantityError> {
    let value = match (value.measure, half.measure) {
        (Measure::None, Measure::Unit(unit)) => Piece {
            measure: Measure::Unit(unit),
            ..value
        },
        _ => value,
    };
    let middle = si(value, wanted, read)?;
    let mixed = || QuantityError::MixedDoubt { read: quote(read) };
    let half_width = match (half.measure, value.measure) {
        (Measure::Unit(unit), _) | (Measure::None, Measure::Unit(unit)) => half.value * unit.factor,
        (Measure::Percent, Measure::Percent) => half.value / PER_CENT,
        (Measure::Percent, _) => match wanted {
            // A share of a temperature depends on where its zero lies.
            Wanted::Quantity(Kind::Temperature) => return Err(mixed()),
            _ => middle.abs() * half.value / PER_CENT,
        },
        (Measure::None, Measure::None | Measure::Ratio) | (Measure::Ratio, Measure::Ratio) => {
            half.value
        }
        _ => return Err(mixed()),
    };
    if half_width < 0.0 || !half_width.is_finite() {
        return Err(QuantityError::HalfWidthBelowZero { read: quote(read) });
    }
    Ok(Stated {
        value: middle,
        spread: if half_width > 0.0 {
            Spread::Within(half_width)
        } else {
            Spread::Exactly
        },
    })
}

fn between(low: Piece, high: Piece, wanted: Wanted, read: &str) -> Result<Stated, QuantityError> {
    let low = match (low.measure, high.measure) {
        (Measure::None, measure) => Piece { measure, ..low },
        _ => low,
    };
    let (low, high) = (si(low, wanted, read)?, si(high, wanted, read)?);
    if low >= high {
        return Err(QuantityError::EndsNotRising { read: quote(read) });
    }
    Ok(Stated {
        value: f64::midpoint(low, high),
        spread: Spread::Between { low, high },
    })
}

const PER_CENT: f64 = 100.0;

/// A piece in SI, or as a bare number.
fn si(piece: Piece, wanted: Wanted, read: &str) -> Result<f64, QuantityError> {
    let value = match (wanted, piece.measure) {
        (Wanted::Quantity(_), Measure::Unit(unit)) => unit.to_si(piece.value),
        (Wanted::Quantity(_), Measure::None | Measure::Ratio) => {
            return Err(QuantityError::NoUnit { read: quote(read) });
        }
        (Wanted::Quantity(_), Measure::Percent) => {
            return Err(QuantityError::ShareNotWanted { read: quote(read) });
        }
        (Wanted::Number, Measure::Percent) => piece.value / PER_CENT,
        (Wanted::Number, _) => piece.value,
    };
    if value.is_finite() {
        Ok(value)
    } else {
        Err(QuantityError::NotFinite { read: quote(read) })
    }
}

/// A number and its measure, all of the text.
fn piece(text: &str, wanted: Wanted) -> Result<Piece, QuantityError> {
    if text.is_empty() {
        return Err(QuantityError::NoNumber { read: quote(text) });
    }
    let begins = leading(text)?;
    let measured = |measure| {
        Ok(Piece {
            value: begins.value,
            measure,
        })
    };
    match (wanted, begins.rest) {
        (_, "") => measured(Measure::None),
        (_, "%") => measured(Measure::Percent),
        (Wanted::Number, rest) => match rest.strip_prefix(':') {
            Some(below) => ratio(text, begins.value, below.trim_start()),
            None => Err(QuantityError::NoUnitWanted {
                read: quote(text),
                unit: quote(rest),
            }),
        },
        (Wanted::Quantity(kind), rest) => {
            if kind.read_as() == Kind::Length
                && let Some(inches) = feet_and_inches(begins.value, rest)
            {
                return inches;
            }
            let unit = find_unit(rest, kind).ok_or_else(|| unknown_unit(text, rest, kind))?;
            measured(Measure::Unit(unit))
        }
    }
}

/// `3.9:1`, `41:11`.
fn ratio(text: &str, above: f64, below: &str) -> Result<Piece, QuantityError> {
    let broken = || QuantityError::BrokenNumber { read: quote(text) };
    let below = leading(below)?;
    if !below.rest.is_empty() || below.value <= 0.0 {
        return Err(broken());
    }
    Ok(Piece {
        value: above / below.value,
        measure: Measure::Ratio,
    })
}

/// `8 ft 6 in`, `8' 6 1/2"`; nothing where no inches follow the feet.
fn feet_and_inches(feet: f64, rest: &str) -> Option<Result<Piece, QuantityError>> {
    const INCHES_PER_FOOT: f64 = 12.0;
    let signs = FT.spellings.iter().copied().chain([FT.symbol]);
    let mut after = signs.filter_map(|sign| rest.strip_prefix(sign));
    let inches = after.find(|after| leading(after.trim_start()).is_ok())?;
    let inches = inches.trim_start();
    let broken = || QuantityError::BrokenNumber { read: quote(rest) };
    let begins = leading(inches).ok()?;
    let unit = find_unit(begins.rest, Kind::Length);
    let good =
        unit == Some(IN) && feet.fract() == 0.0 && (0.0..INCHES_PER_FOOT).contains(&begins.value);
    Some(if good {
        Ok(Piece {
            value: feet * INCHES_PER_FOOT + begins.value,
            measure: Measure::Unit(IN),
        })
    } else {
        Err(broken())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// An inch is 25.4 mm and a foot twelve of them (exact by definition).
    #[test]
    fn reference_fractions_of_an_inch_and_feet_with_inches() {
        for (text, metres) in [
            ("10 1/4 in", 10.25 * 0.0254),
            ("10-1/4 in", 10.25 * 0.0254),
            ("10¼ in", 10.25 * 0.0254),
            ("½ in", 0.0127),
            ("3/8\"", 0.375 * 0.0254),
            ("8 ft 6 in", 102.0 * 0.0254),
            ("8' 6\"", 102.0 * 0.0254),
            ("8'6 1/2\"", 102.5 * 0.0254),
            ("8 feet 6 inches", 102.0 * 0.0254),
            ("8'", 96.0 * 0.0254),
        ] {
            let read = parse(text, Kind::Length).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_relative_eq!(read, metres, max_relative = 1e-14);
        }
    }

    #[test]
    fn law_a_comma_is_a_decimal_mark_where_it_can_be_nothing_else() {
        let kg = |text: &str| parse(text, Kind::Mass);
        assert_relative_eq!(kg("7,4 kg").unwrap(), 7.4);
        assert_relative_eq!(kg("-0,25 kg").unwrap(), -0.25);
        assert_relative_eq!(kg("0,125 kg").unwrap(), 0.125);
        assert_relative_eq!(kg("7,4125 kg").unwrap(), 7.4125);
        for either in [
            "7,800 kg",
            "1,234,5 kg",
            "1.2,5 kg",
            "1,5.2 kg",
            "1,234.5 kg",
        ] {
            assert!(kg(either).is_err(), "{either}");
        }
    }

    #[test]
    fn law_a_doubt_is_read_in_the_unit_it_is_written_in() {
        let torque =
            |text: &str| parse_stated(text, Kind::Torque).unwrap_or_else(|e| panic!("{text}: {e}"));
        for text in [
            "310 N·m ± 20 N·m",
            "310 ± 20 N·m",
            "310 N·m ± 20",
            "310 N·m +/- 20 N·m",
            "310 Nm±2 kgf·m",
        ] {
            let half = if text.contains("kgf") { 19.6133 } else { 20.0 };
            assert_eq!(
                torque(text),
                Stated {
                    value: 310.0,
                    spread: Spread::Within(half)
                },
                "{text}"
            );
        }
        let share = torque("310 N·m ± 5 %");
        assert_eq!(share.spread, Spread::Within(15.5));
        assert_eq!(torque("310 N·m exactly").spread, Spread::Exactly);
        assert_eq!(torque("310 N·m").spread, Spread::NotSaid);
        assert_eq!(torque("300 to 320 N·m"), torque("300 N·m to 320 N·m"));
        assert_eq!(
            torque("300 to 320 N·m"),
            Stated {
                value: 310.0,
                spread: Spread::Between {
                    low: 300.0,
                    high: 320.0
                }
            }
        );
    }

    /// A difference of temperature has no zero to move: 2 °C are 2 K, 9 °F are 5 K (by definition).
    #[test]
    fn reference_a_doubt_of_a_temperature_is_a_difference() {
        let read = parse_stated("22 °C ± 2 °C", Kind::Temperature).unwrap();
        assert_relative_eq!(read.value, 295.15);
        assert_eq!(read.spread, Spread::Within(2.0));
        let read = parse_stated("68 °F ± 9 °F", Kind::Temperature).unwrap();
        assert!(matches!(read.spread, Spread::Within(half) if (half - 5.0).abs() < 1e-12));
        assert!(parse_stated("22 °C ± 5 %", Kind::Temperature).is_err());
    }

    #[test]
    fn law_bare_numbers_may_be_shares_ratios_and_doubted() {
        let number =
            |text: &str| parse_stated_number(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_relative_eq!(number("54 %").value, 0.54);
        assert_relative_eq!(number("3.9:1").value, 3.9);
        assert_relative_eq!(number("43:11").value, 43.0 / 11.0);
        assert_relative_eq!(number("0,80").value, 0.8);
        assert_eq!(number("0.80 ± 0.05").spread, Spread::Within(0.05));
        assert!(
            matches!(number("0.80 ± 5 %").spread, Spread::Within(half) if (half - 0.04).abs() < 1e-15)
        );
        assert!(
            matches!(number("54 % ± 2 %").spread, Spread::Within(half) if (half - 0.02).abs() < 1e-15)
        );
        assert_eq!(
            number("0.70 to 0.90").spread,
            Spread::Between {
                low: 0.7,
                high: 0.9
            }
        );
        assert_relative_eq!(number("70 to 90 %").value, 0.8);
        assert_eq!(number("0.8 exactly").spread, Spread::Exactly);
        assert_eq!(number("0.8 ± 0").spread, Spread::Exactly);
    }

    #[test]
    fn law_a_doubt_that_makes_no_sense_is_refused() {
        for text in [
            "0.8 ±",
            "0.8 ± -0.1",
            "0.9 to 0.7",
            "± 0.1",
            "0.8 ± 0.1 kg",
            "54 % ± 2",
            "0.8 ± 0.1 ± 0.1",
            "exactly",
        ] {
            let error = parse_stated_number(text).expect_err(text);
            assert!(!error.number_hint().is_empty());
        }
        for text in ["7 kg ± 1 m", "7 to 8", "7 kg ±", "5 % kg", "7 %"] {
            assert!(parse_stated(text, Kind::Mass).is_err(), "{text}");
        }
    }
}
