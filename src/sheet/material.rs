//! `material`: a metal by name, or a table of its properties.

use super::keys::part::{self, material};
use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::unknown_key::nearest;
use crate::car::checked::Positive;
use crate::car::material::{Failure, Material, NamedMetal};
use crate::units::quote;
use toml::de::DeValue;

/// Name of a material whose table gives none.
const UNNAMED: &str = "metal as given";

/// What was read of a material that the sheet names.
pub(super) struct MaterialRead {
    pub(super) material: Option<Material>,
}

/// The material, if the part has one.
pub(super) fn read(t: &TableReader<'_>) -> Option<MaterialRead> {
    let value = t.value(part::MATERIAL)?;
    let place = t.place(value.span());
    let material = match value.get_ref() {
        DeValue::String(name) => named(t, name, &place),
        DeValue::Table(_) => t.inner(part::MATERIAL).given().and_then(|inner| {
            let material = from_table(&inner.value);
            inner.value.finish();
            material
        }),
        _ => {
            t.diagnostics
                .problem(t.wrong_type(part::MATERIAL, value, &part::MATERIAL.takes()));
            None
        }
    };
    Some(MaterialRead { material })
}

fn named(t: &TableReader<'_>, name: &str, place: &Place) -> Option<Material> {
    let same = |metal: &NamedMetal| metal.name().eq_ignore_ascii_case(name.trim());
    if let Some(metal) = NamedMetal::ALL.into_iter().find(same) {
        return metal.material();
    }
    let problem = Problem::new(
        place.clone(),
        format!("material = \"{}\" is not known", quote(name)),
    );
    let names = NamedMetal::ALL.map(NamedMetal::name);
    t.diagnostics.problem(
        match nearest(name, names) {
            Some(near) => problem.label(format!("did you mean \"{near}\"?")),
            None => problem,
        }
        .help(format!("material takes {}", part::MATERIAL.takes())),
    );
    None
}

fn from_table(m: &TableReader<'_>) -> Option<Material> {
    let name = m.words(material::NAME).given();
    let density = m.measure::<Positive>(material::DENSITY).needed();
    let yield_strength = m.measure::<Positive>(material::YIELD).given();
    let tensile = m.measure::<Positive>(material::TENSILE).given();
    let poisson = m.measure::<f64>(material::POISSON).given();
    let modulus = m.measure::<Positive>(material::MODULUS).given();
    let failures = [Failure::Ductile, Failure::Brittle];
    let failure = m
        .choice(material::FAILURE, &failures, failure_name)
        .or_word(Failure::Ductile);
    if let (Some(yields), Some(breaks)) = (&yield_strength, &tensile)
        && yields.value > breaks.value
    {
        m.diagnostics.problem(
            Problem::new(
                yields.place.clone(),
                format!("yield = {} is above the tensile strength", yields.read),
            )
            .label("must not be above tensile")
            .also(breaks.place.clone(), "tensile strength"),
        );
    }
    Some(Material {
        name: name.map_or_else(|| UNNAMED.to_owned(), |name| name.value),
        density_kg_m3: density?.value,
        yield_pa: yield_strength.map(|found| found.value),
        tensile_pa: tensile.map(|found| found.value),
        poisson: poisson.map(|found| found.value),
        modulus_pa: modulus.map(|found| found.value),
        failure: failure?.value,
    })
}

const fn failure_name(failure: Failure) -> &'static str {
    match failure {
        Failure::Ductile => "ductile",
        Failure::Brittle => "brittle",
    }
}
