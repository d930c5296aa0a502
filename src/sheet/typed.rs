//! Values of the sheet's own types: quantities, bare numbers, texts.

use super::keys::{Form, Key};
use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::unknown::{self, Rule};
use super::value::{Amount, Checked, Found};
use super::warnings::Warning;
use crate::car::checked::Positive;
use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::units::{self, Kind, Spread, Stated};
use std::num::NonZeroU32;
use toml::Spanned;
use toml::de::DeValue;

impl<'a> TableReader<'a> {
    /// The value of a key, with its doubt noted, or what was drawn in its place.
    pub(super) fn amount_in<T: Checked>(
        &self,
        key: &'static Key,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<T, Problem> {
        if unknown::is_said(value.get_ref()) {
            let guess = self.guessed(key, value)?;
            return self.in_range(key, key.form.kind(), guess, value);
        }
        let stated = match key.form.kind() {
            Some(kind) => self.stated_quantity(key, kind, value)?,
            None => self.stated_number(key, value)?,
        };
        self.in_range(key, key.form.kind(), self.doubted_value(key, stated), value)
    }

    /// A guess for a value of which the sheet says that it is unknown.
    fn guessed(&self, key: &'static Key, value: &Spanned<DeValue<'_>>) -> Result<f64, Problem> {
        let kind = key.form.kind();
        let address = self.address_of(key);
        if let Some(drawn) = self.diagnostics.drawn_value(&address) {
            return Ok(drawn);
        }
        let refused = |label: String, help: &str| {
            let title = format!("{key} = \"unknown\" cannot be guessed");
            Problem::new(self.place(value.span()), title)
                .label(label)
                .help(help)
        };
        match unknown::rule(&self.name, key.name, &self.diagnostics.known_ahead()) {
            Rule::None => Err(refused(
                format!("no rule makes a guess of {key}"),
                "measure it, or write what you think with a doubt, such as \"1.2 ± 0.2\"; what may be \"unknown\" stands on the page about the sheet",
            )),
            Rule::Needs(other) => Err(refused(
                format!("the guess is scaled from {other}"),
                &format!("give {other}, or this value itself"),
            )),
            Rule::Guess(guess) => {
                let shown = Amount::of(guess.value, kind);
                let full_key = self.full_key(key);
                self.diagnostics.default_used(full_key, shown, guess.reason);
                let doubt = (guess.doubt, DoubtOrigin::Guessed);
                Ok(self.diagnostics.doubted(address, kind, guess.value, doubt))
            }
        }
    }

    /// Notes the doubt of a stated value and gives the value to go on with.
    pub(super) fn doubted_value(&self, key: &'static Key, stated: Stated) -> f64 {
        let nominal = stated.value;
        let doubt = match (stated.spread, key.usual_doubt) {
            (Spread::NotSaid, None) => return nominal,
            (Spread::NotSaid, Some(usual)) => {
                (usual.about(nominal, DoubtOrigin::Usual), DoubtOrigin::Usual)
            }
            (Spread::Exactly, _) => (Doubt::Exact, DoubtOrigin::Stated),
            (Spread::Within(half_width), _) => (Doubt::bet_on(half_width), DoubtOrigin::Stated),
            (Spread::Between { low, high }, _) => {
                (Doubt::Between { low, high }, DoubtOrigin::Stated)
            }
        };
        if stated.spread != Spread::NotSaid {
            self.diagnostics.doubt_said();
        }
        self.diagnostics
            .doubted(self.address_of(key), key.form.kind(), nominal, doubt)
    }

    /// Notes the doubt of a default and gives the value to go on with.
    pub(super) fn default_value(&self, key: &'static Key, default: f64) -> f64 {
        let Some(usual) = key.usual_doubt else {
            return default;
        };
        let origin = DoubtOrigin::Defaulted;
        let doubt = (usual.about(default, origin), origin);
        self.diagnostics
            .doubted(self.address_of(key), key.form.kind(), default, doubt)
    }

    /// The value of an item of a list: no doubt can be said of it.
    fn undoubted(
        &self,
        key: &'static Key,
        stated: Stated,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<f64, Problem> {
        if stated.spread == Spread::NotSaid {
            return Ok(stated.value);
        }
        let read = self.text.read(value);
        Err(Problem::new(
            self.place(value.span()),
            format!("{key}: {read} states a doubt"),
        )
        .label("a value in a list takes none")
        .help("doubts are read of single values; write the value alone here"))
    }

    /// A value as a quantity.
    pub(super) fn quantity_in<T: Checked>(
        &self,
        key: &'static Key,
        kind: Kind,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<T, Problem> {
        let stated = self.stated_quantity(key, kind, value)?;
        let si = self.undoubted(key, stated, value)?;
        self.in_range(key, Some(kind), si, value)
    }

    fn stated_quantity(
        &self,
        key: &'static Key,
        kind: Kind,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<Stated, Problem> {
        let place = self.place(value.span());
        let read = self.text.read(value);
        let text = match value.get_ref() {
            DeValue::String(text) => text,
            DeValue::Integer(_) | DeValue::Float(_) => {
                return Err(Problem::new(place, format!("{key} = {read} has no unit"))
                    .label("a bare number")
                    .help(format!(
                        "write it in quotes with its unit; {} takes {}",
                        kind.with_article(),
                        kind.units_in_words()
                    )));
            }
            _ => {
                let what = format!(
                    "a number with its unit in quotes ({})",
                    kind.units_in_words()
                );
                return Err(self.wrong_type(key, value, &what));
            }
        };
        units::parse_stated(text, kind)
            .map_err(|error| Problem::new(place, format!("{key}: {error}")).help(error.hint(kind)))
    }

    /// A value as a bare number.
    pub(super) fn number_in<T: Checked>(
        &self,
        key: &'static Key,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<T, Problem> {
        let stated = self.stated_number(key, value)?;
        let number = self.undoubted(key, stated, value)?;
        self.in_range(key, None, number, value)
    }

    fn stated_number(
        &self,
        key: &'static Key,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<Stated, Problem> {
        let number = match value.get_ref() {
            DeValue::Integer(integer) => i128::from_str_radix(integer.as_str(), integer.radix())
                .map_err(drop)
                .and_then(|whole| whole.to_string().parse::<f64>().map_err(drop)),
            DeValue::Float(float) => float.as_str().parse::<f64>().map_err(drop),
            DeValue::String(text) => {
                return units::parse_stated_number(text).map_err(|error| {
                    Problem::new(self.place(value.span()), format!("{key}: {error}"))
                        .help(error.number_hint())
                });
            }
            _ => return Err(self.wrong_type(key, value, "a bare number, without quotes")),
        };
        match number {
            Ok(value) if value.is_finite() => Ok(Stated {
                value,
                spread: Spread::NotSaid,
            }),
            _ => {
                let read = self.text.read(value);
                Err(Problem::new(
                    self.place(value.span()),
                    format!("{key} = {read} is no ordinary number"),
                )
                .label("a finite number is needed here"))
            }
        }
    }

    /// A number, held against what its key is declared to take; `kind` is `None` where it is not
    /// the number that the key's ranges are of: a share behind its time.
    fn in_range<T: Checked>(
        &self,
        key: &'static Key,
        kind: Option<Kind>,
        number: f64,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<T, Problem> {
        let place = self.place(value.span());
        let out = |label: String| {
            let read = self.text.read(value);
            Problem::new(place.clone(), format!("{key} = {read} is out of range"))
                .label(label)
                .help(format!("{key}: {}", key.words.replace('`', "")))
        };
        if key.form.kind() == kind {
            if let Some(hard) = key.hard.filter(|hard| !hard.hold(number)) {
                return Err(out(hard.must_be(kind)));
            }
            // Of a list, or a file, what is usual is said of one of its values.
            let single = matches!(
                key.form,
                Form::Quantity(_) | Form::Number | Form::Count | Form::Between(_)
            );
            if single {
                self.check_usual(key, number, &place);
            }
        }
        T::checked(number).ok_or_else(|| out(format!("must be {}", T::RANGE)))
    }

    /// Notes a warning where a value lies outside what is usual for a key.
    pub(super) fn check_usual(&self, key: &'static Key, si: f64, place: &Place) {
        if let Some(usual) = key.usual.filter(|usual| !usual.hold(si)) {
            let amount = |si| Amount::of(si, key.form.kind());
            let warning = Warning::Unusual {
                key: self.full_key(key),
                what: key.words,
                read: amount(si),
                low: amount(usual.low),
                high: amount(usual.high),
            };
            self.diagnostics.warning(warning, Some(place));
        }
    }

    pub(super) fn text_in(
        &self,
        key: &'static Key,
        value: &'a Spanned<DeValue<'a>>,
        what: &str,
    ) -> Result<String, Problem> {
        match value.get_ref() {
            DeValue::String(text) => Ok(text.to_string()),
            _ => Err(self.wrong_type(key, value, what)),
        }
    }

    /// The problem of a value that is of another sort than wanted.
    pub(super) fn wrong_type(
        &self,
        key: &'static Key,
        value: &Spanned<DeValue<'_>>,
        wanted: &str,
    ) -> Problem {
        Problem::new(self.place(value.span()), format!("{key} takes {wanted}"))
            .label(format!("this is {}", sort_of(value.get_ref())))
    }

    /// A value as a count.
    pub(super) fn count_in(
        &self,
        key: &'static Key,
        value: &Spanned<DeValue<'_>>,
    ) -> Result<NonZeroU32, Problem> {
        let DeValue::Integer(integer) = value.get_ref() else {
            return Err(self.wrong_type(key, value, "a whole number, without quotes"));
        };
        // What is no count at all, a negative number or an endless one, lies below every range.
        let count = u32::from_str_radix(integer.as_str(), integer.radix()).unwrap_or(0);
        self.in_range::<Positive>(key, None, f64::from(count), value)?;
        NonZeroU32::new(count).ok_or_else(|| self.wrong_type(key, value, &key.takes()))
    }
}

/// The problem of an outer diameter that is not above the inner one.
pub(super) fn inside_out<A, B>(outer: &Found<A>, inner: &Found<B>) -> Problem {
    let title = format!("outer = {} is not above inner = {}", outer.read, inner.read);
    Problem::new(outer.place.clone(), title)
        .label("must be the larger diameter")
        .also(inner.place.clone(), "inner diameter")
}

fn sort_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text in quotes",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "a yes or no",
        DeValue::Datetime(_) => "a date or time of day",
        DeValue::Array(_) => "a list in square brackets",
        DeValue::Table(_) => "a table of keys",
    }
}
