//! `cut` and `shop`: what is to be done to a flywheel, and what the shop keeps.

use super::problem::{Problem, Sort};
use super::table_reader::TableReader;
use super::typed::inside_out;
use super::value::{Amount, COMMON_PRACTICE, Found};
use crate::car::checked::{NonNegative, Positive};
use crate::car::machining::{
    Band, BoltCircles, Face, HoleDepth, LEAST_LAND_M, LEAST_UNDER_CLUTCH_FACE_M, LEAST_WEB_M,
    Machining, Pass, ShopRules,
};
use crate::units::Kind;

/// A kind of pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum PassKind {
    Face,
    Rim,
    Holes,
    Taper,
}

impl PassKind {
    const ALL: [Self; 4] = [Self::Face, Self::Rim, Self::Holes, Self::Taper];

    const fn name(self) -> &'static str {
        match self {
            Self::Face => "face",
            Self::Rim => "rim",
            Self::Holes => "holes",
            Self::Taper => "taper",
        }
    }

    /// The keys that such a pass takes, besides its kind.
    const fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Face => &["inner", "outer", "depth", "face"],
            Self::Rim => &["diameter"],
            Self::Holes => &["count", "diameter", "circle", "depth"],
            Self::Taper => &[
                "inner",
                "outer",
                "thickness_inner",
                "thickness_outer",
                "face",
            ],
        }
    }
}

/// Every key of a pass besides its kind.
const KEYS: [&str; 9] = [
    "inner",
    "outer",
    "depth",
    "face",
    "diameter",
    "count",
    "circle",
    "thickness_inner",
    "thickness_outer",
];

const PASSES: &str = "a list of tables: [ { kind = \"face\", inner = …, outer = …, depth = … } ]";

/// Reads a flywheel's machining; `None` where something of it is wrong.
pub(super) fn read(t: &TableReader<'_>) -> Option<Machining> {
    let list = t.inners("cut", PASSES);
    let passes = if list.is_absent() {
        Some(Vec::new())
    } else {
        list.given().and_then(|list| {
            let each: Vec<Option<Pass>> = list.value.into_iter().map(one).collect();
            each.into_iter().collect::<Option<Vec<Pass>>>()
        })
    };
    if let Some(passes) = &passes
        && !passes.is_empty()
        && !t.has("sections")
    {
        t.diagnostics.problem(
            Problem::new(t.key_place("cut"), "only a flywheel of sections can be cut")
                .label("what it takes off cannot be told")
                .help("measure the wheel and describe it by sections, holes and extras")
                .sort(Sort::Missing),
        );
        return None;
    }
    let cut = passes.as_ref().is_none_or(|passes| !passes.is_empty());
    let shop = shop(t, cut);
    Some(Machining {
        passes: passes?,
        shop: shop.ok()?,
    })
}

/// One pass.
fn one(t: TableReader<'_>) -> Option<Pass> {
    let kind = t
        .choice("kind", &PassKind::ALL, PassKind::name)
        .needed("\"face\"");
    let pass = kind.and_then(|kind| {
        let fits = refuse_others(&t, &kind);
        let pass = match kind.value {
            PassKind::Face => face_band(&t),
            PassKind::Rim => rim(&t),
            PassKind::Holes => holes(&t),
            PassKind::Taper => taper(&t),
        };
        pass.filter(|_| fits)
    });
    t.finish();
    pass
}

/// Refuses keys that belong to another kind of pass; tells whether there were none.
fn refuse_others(t: &TableReader<'_>, kind: &Found<PassKind>) -> bool {
    let own = kind.value.keys();
    let others: Vec<&'static str> = KEYS
        .into_iter()
        .filter(|key| t.has(key) && !own.contains(key))
        .collect();
    for key in &others {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(key),
                format!("a pass of kind {} takes no {key}", kind.read),
            )
            .label("not for this kind")
            .help(format!("it takes: {}", own.join(", "))),
        );
    }
    others.is_empty()
}

fn radius(diameter: Positive) -> Option<Positive> {
    Positive::new(diameter.get() / 2.0)
}

/// A band between two diameters.
fn band(t: &TableReader<'_>) -> Option<Band> {
    let inner = t
        .quantity::<NonNegative>("inner", Kind::Length)
        .needed("\"180 mm\"");
    let outer = t
        .quantity::<Positive>("outer", Kind::Length)
        .needed("\"230 mm\"");
    let (inner, outer) = (inner?, outer?);
    let band = NonNegative::new(inner.value.get() / 2.0)
        .zip(radius(outer.value))
        .and_then(|(inner, outer)| Band::new(inner, outer));
    if band.is_none() {
        t.diagnostics.problem(inside_out(&outer, &inner));
    }
    band
}

fn face(t: &TableReader<'_>) -> Option<Face> {
    let default = Face::Engine;
    let found = t.choice("face", &Face::ALL, Face::name).or_value(
        default,
        Amount::Word(default.name().to_owned()),
        "cut from the engine side",
    );
    found.map(|found| found.value)
}

fn face_band(t: &TableReader<'_>) -> Option<Pass> {
    let band = band(t);
    let depth = t
        .quantity::<Positive>("depth", Kind::Length)
        .needed("\"2 mm\"");
    let face = face(t);
    Some(Pass::FaceBand {
        band: band?,
        depth_m: depth?.value,
        face: face?,
    })
}

fn rim(t: &TableReader<'_>) -> Option<Pass> {
    let diameter = t
        .quantity::<Positive>("diameter", Kind::Length)
        .needed("\"252 mm\"");
    Some(Pass::TurnRim {
        radius_m: radius(diameter?.value)?,
    })
}

fn holes(t: &TableReader<'_>) -> Option<Pass> {
    let count = t.count("count").needed("6");
    let diameter = t
        .quantity::<Positive>("diameter", Kind::Length)
        .needed("\"20 mm\"");
    let circle = t
        .quantity::<Positive>("circle", Kind::Length)
        .needed("\"165 mm\"");
    let depth = t.quantity::<Positive>("depth", Kind::Length);
    let depth = if depth.is_absent() {
        let word = Amount::Word(String::from("through"));
        t.diagnostics
            .default_used(t.full_key("depth"), word, "drilled right through");
        Some(HoleDepth::Through)
    } else {
        depth.given().map(|depth| HoleDepth::Blind(depth.value))
    };
    Some(Pass::Drill {
        count: count?.value,
        diameter_m: diameter?.value,
        pitch_radius_m: radius(circle?.value)?,
        depth: depth?,
    })
}

fn taper(t: &TableReader<'_>) -> Option<Pass> {
    let band = band(t);
    let at_inner = t
        .quantity::<Positive>("thickness_inner", Kind::Length)
        .needed("\"10 mm\"");
    let at_outer = t
        .quantity::<Positive>("thickness_outer", Kind::Length)
        .needed("\"8 mm\"");
    let face = face(t);
    Some(Pass::TaperWeb {
        band: band?,
        thickness_inner_m: at_inner?.value,
        thickness_outer_m: at_outer?.value,
        face: face?,
    })
}

/// Something is wrong, and noted.
struct Noted;

/// The shop's rules: read where the sheet gives any, told as defaults where a cut leans on them.
fn shop(t: &TableReader<'_>, cut: bool) -> Result<Option<ShopRules>, Noted> {
    let given = t.inner(
        "shop",
        "a table in braces: { least_web = \"6 mm\", clutch_face = { inner = …, outer = … } }",
    );
    if given.is_absent() {
        return if cut {
            let nothing = TableReader::new(
                t.full_key("shop"),
                None,
                t.header.clone(),
                t.text,
                t.diagnostics,
            );
            rules(&nothing).map(Some).ok_or(Noted)
        } else {
            Ok(None)
        };
    }
    let shop = given.given().ok_or(Noted)?.value;
    let rules = rules(&shop);
    shop.finish();
    rules.map(Some).ok_or(Noted)
}

fn rules(s: &TableReader<'_>) -> Option<ShopRules> {
    let web = s
        .quantity::<Positive>("least_web", Kind::Length)
        .or(LEAST_WEB_M, COMMON_PRACTICE);
    let under_face = s
        .quantity::<Positive>("least_under_clutch_face", Kind::Length)
        .or(LEAST_UNDER_CLUTCH_FACE_M, COMMON_PRACTICE);
    let land = s
        .quantity::<NonNegative>("least_land", Kind::Length)
        .or(LEAST_LAND_M, COMMON_PRACTICE);
    let keep_off = BoltCircles::KeepOff;
    let bolts = s
        .choice("bolt_circles", &BoltCircles::ALL, BoltCircles::name)
        .or_value(
            keep_off,
            Amount::Word(keep_off.name().to_owned()),
            "the safe side",
        );
    let clutch_face = clutch_face(s);
    Some(ShopRules {
        least_web_m: web?.value,
        least_under_clutch_face_m: under_face?.value,
        least_land_m: land?.value,
        bolt_circles: bolts?.value,
        clutch_face: clutch_face.ok()?,
    })
}

fn clutch_face(s: &TableReader<'_>) -> Result<Option<Band>, Noted> {
    let given = s.inner(
        "clutch_face",
        "a table in braces: { inner = \"150 mm\", outer = \"228 mm\" }",
    );
    if given.is_absent() {
        return Ok(None);
    }
    let table = given.given().ok_or(Noted)?.value;
    let face = band(&table);
    table.finish();
    face.map(Some).ok_or(Noted)
}
