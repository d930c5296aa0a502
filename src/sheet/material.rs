//! `material`: a metal by name, or a table of its properties.

use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::unknown_key::nearest;
use super::value::Amount;
use crate::car::checked::Positive;
use crate::car::material::{Failure, Material, NamedMetal};
use crate::units::{Kind, quote};
use toml::de::DeValue;

/// Name of a material whose table gives none.
const UNNAMED: &str = "metal as given";
/// Poisson's ratio of any solid metal lies in this range (theory of elasticity).
const POISSON: std::ops::RangeInclusive<f64> = 0.0..=0.5;
const FORMS: &str = "\"steel\", \"grey iron\" or \"aluminium\", or a table in braces: { density = \"7850 kg/m³\", yield = …, tensile = …, poisson = …, modulus = … }";

/// What was read of a material that the sheet names.
pub(super) struct MaterialRead {
    pub(super) material: Option<Material>,
}

/// The material, if the part has one.
pub(super) fn read(t: &TableReader<'_>) -> Option<MaterialRead> {
    let value = t.value("material")?;
    let place = t.place(value.span());
    let material = match value.get_ref() {
        DeValue::String(name) => named(t, name, &place),
        DeValue::Table(_) => t.inner("material", FORMS).given().and_then(|inner| {
            let material = from_table(&inner.value);
            inner.value.finish();
            material
        }),
        _ => {
            t.diagnostics
                .problem(t.wrong_type("material", value, FORMS));
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
        .help(format!("material takes {FORMS}")),
    );
    None
}

fn from_table(m: &TableReader<'_>) -> Option<Material> {
    let name = m.words("name").given();
    let density = m
        .quantity::<Positive>("density", Kind::Density)
        .needed("\"7850 kg/m³\"");
    let yield_strength = m.quantity::<Positive>("yield", Kind::Stress).given();
    let tensile = m.quantity::<Positive>("tensile", Kind::Stress).given();
    let poisson = m.number::<f64>("poisson").within(POISSON, "").given();
    let modulus = m.quantity::<Positive>("modulus", Kind::Stress).given();
    let failures = [Failure::Ductile, Failure::Brittle];
    let failure = m.choice("failure", &failures, failure_name).or_value(
        Failure::Ductile,
        Amount::Word(failure_name(Failure::Ductile).to_owned()),
        "a metal that yields before it breaks; say \"brittle\" of cast iron",
    );
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
