//! Rotating parts in every form they can be described in.

use super::diagnostics::Diagnostics;
use super::keys::{Key, part, swing};
use super::problem::{Problem, Sort};
use super::table_reader::TableReader;
use super::value::Found;
use super::{built_up, material, reciprocating, usual_doubt};
use crate::car::checked::{NonNegative, Positive};
use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::car::inertia::{BuiltUp, Description, Part};
use crate::car::material::Material;
use crate::car::swing::{Platform, Precision, SwingTest};
use crate::metal::swing::measurement;
use crate::units::Kind;

/// A form in which a part's inertia can be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Inertia,
    Gyration,
    Sections,
    Swing,
    Reciprocating,
}

impl Form {
    const ALL: [Self; 5] = [
        Self::Inertia,
        Self::Gyration,
        Self::Sections,
        Self::Swing,
        Self::Reciprocating,
    ];

    /// The keys that belong to it alone.
    const fn keys(self) -> &'static [&'static Key] {
        match self {
            Self::Inertia => &[part::INERTIA],
            Self::Gyration => &[part::MASS, part::RADIUS_OF_GYRATION],
            Self::Sections => &[
                part::SECTIONS,
                part::HOLES,
                part::EXTRAS,
                part::WEIGHED,
                part::INERTIA_SCALE,
            ],
            Self::Swing => &[part::SWING],
            Self::Reciprocating => &[part::RECIPROCATING],
        }
    }
}

/// What was read of a part.
pub(super) struct PartRead {
    pub(super) name: Option<Found<String>>,
    /// What it is made of, if that was said.
    pub(super) material: Option<Material>,
    pub(super) description: Option<Description>,
    /// Whether everything of it was read rightly.
    pub(super) whole: bool,
    /// Where the sheet speaks of the factor on the inertia that its drawing gives.
    pub(super) scale_said: bool,
    /// Its name among all values of the sheet, for what is noted of it later.
    pub(super) scale_address: String,
}

impl PartRead {
    /// The part as its drawing gives it, if it is described by one.
    pub(super) fn drawn(&self) -> Option<&BuiltUp> {
        match self.description.as_ref()? {
            Description::BuiltUp(part) => Some(part),
            _ => None,
        }
    }

    /// How far a drawing's inertia may be off, where the sheet does not say.
    pub(super) fn note_drawing(&self, diagnostics: &Diagnostics) -> f64 {
        let weighed = self.drawn().is_some_and(|part| part.weighed_kg().is_some());
        let usual = if weighed {
            usual_doubt::DRAWN_AND_WEIGHED
        } else {
            usual_doubt::DRAWN
        };
        let origin = DoubtOrigin::Usual;
        let doubt = (usual.about(1.0, origin), origin);
        diagnostics.doubted(self.scale_address.clone(), None, 1.0, doubt)
    }

    /// The same part with a factor on the inertia that its drawing gives.
    pub(super) fn scale(&mut self, factor: f64) {
        match (self.description.take(), Positive::new(factor)) {
            (Some(Description::BuiltUp(part)), Some(factor)) => {
                self.description = Some(Description::BuiltUp(part.with_inertia_scale(factor)));
            }
            (Some(Description::BuiltUp(_)), None) => self.whole = false,
            (other, _) => self.description = other,
        }
    }

    pub(super) fn part(&self) -> Option<Part> {
        Some(Part {
            name: self.name.as_ref()?.value.clone(),
            description: self.description.clone()?,
        })
    }
}

/// Reads the parts of the crank side.
pub(super) fn read_crank_side(tables: Vec<TableReader<'_>>) -> Option<Vec<Part>> {
    let mut parts = Some(Vec::new());
    for t in tables {
        let mut read = read_part(&t);
        if read.drawn().is_some() && !read.scale_said {
            let factor = read.note_drawing(t.diagnostics);
            read.scale(factor);
        }
        t.finish();
        match (read.part().filter(|_| read.whole), &mut parts) {
            (Some(part), Some(parts)) => parts.push(part),
            _ => parts = None,
        }
    }
    parts
}

/// Reads one part; its table stays open for keys that only some parts have.
pub(super) fn read_part(t: &TableReader<'_>) -> PartRead {
    let before = t.diagnostics.problem_count();
    let name = t.words(part::NAME).needed();
    let material = material::read(t);
    let form = form(t);
    let description = form.and_then(|form| match form {
        Form::Inertia => {
            let inertia = t.measure::<Positive>(part::INERTIA).given()?;
            Some(Description::Given(inertia.value))
        }
        Form::Gyration => gyration(t),
        Form::Sections => built_up::read(t, name.as_ref(), material.as_ref()),
        Form::Swing => swung(t),
        Form::Reciprocating => reciprocating::read(t),
    });
    PartRead {
        whole: t.diagnostics.problem_count() == before,
        scale_said: t.has(part::INERTIA_SCALE),
        scale_address: t.address_of(part::INERTIA_SCALE),
        name,
        material: material.and_then(|read| read.material),
        description,
    }
}

/// The one form that a part is described in.
fn form(t: &TableReader<'_>) -> Option<Form> {
    let mut present: Vec<(Form, &'static Key)> = Vec::new();
    for form in Form::ALL {
        // Every key is asked for, so that none of another form counts as unknown.
        let keys = form.keys().iter().copied().filter(|key| t.has(key));
        let keys: Vec<&'static Key> = keys.collect();
        present.extend(keys.first().map(|key| (form, *key)));
    }
    match present.as_slice() {
        [(form, _)] => Some(*form),
        [] if !t.is_there() => None,
        [] => {
            t.diagnostics.problem(
                Problem::new(t.header.clone(), format!("{} says nothing of its inertia", t.shown()))
                    .label("this part")
                    .help("give one of: inertia; mass and radius_of_gyration; sections (with holes and extras); swing; reciprocating")
                    .sort(Sort::Missing),
            );
            None
        }
        [first, second, ..] => {
            let problem = Problem::new(
                t.key_place(second.1),
                format!("inertia is given twice over: by {} and by {}", first.1, second.1),
            )
            .label("a second form")
            .also(t.key_place(first.1), "the first")
            .help("keep one of: inertia; mass and radius_of_gyration; sections (with holes and extras); swing; reciprocating");
            t.diagnostics.problem(match second.1.name {
                "weighed" => problem.help("weighed goes with sections alone"),
                "sections" | "holes" | "extras" if first.1 == part::MASS => problem
                    .help("what the scales say of a part described by sections is called weighed"),
                _ => problem,
            });
            None
        }
    }
}

fn gyration(t: &TableReader<'_>) -> Option<Description> {
    let mass = t.measure::<Positive>(part::MASS).needed();
    let radius = t.measure::<Positive>(part::RADIUS_OF_GYRATION).needed();
    Some(Description::Gyration {
        mass_kg: mass?.value,
        radius_m: radius?.value,
    })
}

/// A part timed on a pendulum. Its doubt is the test's own budget, unless the sheet says of the
/// test's values how far they are in doubt.
fn swung(t: &TableReader<'_>) -> Option<Description> {
    let said = t.diagnostics.doubts_said();
    let test = swing(t, part::SWING)?;
    let inertia = test.inertia_kg_m2();
    if t.diagnostics.doubts_said() > said {
        return Some(Description::Swing(test));
    }
    let deviation = measurement(&test)
        .and_then(|(measured, _)| measured.analyse().ok())
        .map_or(0.0, |analysis| analysis.inertia_kg_m2.result.uncertainty);
    let doubt = (Doubt::Normal { deviation }, DoubtOrigin::Measured);
    let kind = Some(Kind::Inertia);
    let drawn = t
        .diagnostics
        .doubted(t.address_of(part::SWING), kind, inertia, doubt);
    #[expect(
        clippy::float_cmp,
        reason = "the very same value, where nothing was drawn"
    )]
    if drawn == inertia {
        return Some(Description::Swing(test));
    }
    Some(Description::Gyration {
        mass_kg: test.mass_kg,
        radius_m: Positive::new((drawn / test.mass_kg.get()).sqrt())?,
    })
}

/// A flywheel's `swing_check`: a test that its drawing is held against.
pub(super) fn read_swing_check(t: &TableReader<'_>) -> Result<Option<SwingTest>, Noted> {
    if t.has(part::flywheel::SWING_CHECK) {
        swing(t, part::flywheel::SWING_CHECK).map(Some).ok_or(Noted)
    } else {
        Ok(None)
    }
}

fn swing(t: &TableReader<'_>, key: &'static Key) -> Option<SwingTest> {
    let test = t.inner(key).given()?;
    let (place, s) = (test.place, test.value);
    let cords = s.count(swing::CORDS).needed();
    let radius = s.measure::<Positive>(swing::RADIUS).needed();
    let length = s.measure::<Positive>(swing::LENGTH).needed();
    let mass = s.measure::<Positive>(swing::MASS).needed();
    let period = s.measure::<Positive>(swing::PERIOD).needed();
    let platform = platform(&s);
    let precision = precision(&s);
    s.finish();
    let test = SwingTest {
        cords: cords?.value,
        radius_m: radius?.value,
        length_m: length?.value,
        mass_kg: mass?.value,
        period_s: period?.value,
        platform: platform.ok()?,
        precision: precision?,
    };
    match test.checked() {
        Ok(test) => Some(test),
        Err(error) => {
            t.diagnostics.problem(
                Problem::new(place, error.to_string())
                    .label("nothing is left for the part")
                    .help("mass is that of the part alone; period is timed with part and platform together, platform_period with the platform alone; each is the time of one full swing, there and back"),
            );
            None
        }
    }
}

/// How well it was measured; all of it may be left out.
fn precision(s: &TableReader<'_>) -> Option<Precision> {
    let radius = s.measure::<Positive>(swing::RADIUS_WITHIN);
    let length = s.measure::<Positive>(swing::LENGTH_WITHIN);
    let mass = s.measure::<Positive>(swing::MASS_WITHIN);
    let swings = s.count(swing::SWINGS);
    let reaction = s.measure::<Positive>(swing::REACTION);
    let amplitude = s.measure::<NonNegative>(swing::AMPLITUDE);
    let good = [&radius, &length, &mass, &reaction]
        .iter()
        .all(|answer| answer.is_good())
        && swings.is_good()
        && amplitude.is_good();
    good.then(|| Precision {
        radius_within_m: radius.given().map(|found| found.value),
        length_within_m: length.given().map(|found| found.value),
        mass_within_kg: mass.given().map(|found| found.value),
        swings: swings.given().map(|found| found.value),
        reaction_sd_s: reaction.given().map(|found| found.value),
        amplitude_rad: amplitude
            .given()
            .and_then(|found| NonNegative::new(found.value.get().to_radians())),
    })
}

/// Something is wrong, and noted.
pub(super) struct Noted;

/// The empty platform, if there was one.
fn platform(s: &TableReader<'_>) -> Result<Option<Platform>, Noted> {
    let mass = s.measure::<Positive>(swing::PLATFORM_MASS);
    let period = s.measure::<Positive>(swing::PLATFORM_PERIOD);
    if mass.is_absent() && period.is_absent() {
        return Ok(None);
    }
    let (mass, period) = (mass.needed(), period.needed());
    let (mass, period) = mass.zip(period).ok_or(Noted)?;
    Ok(Some(Platform {
        mass_kg: mass.value,
        period_s: period.value,
    }))
}
