//! `cut` and `shop`: what is to be done to a flywheel, and what the shop keeps.

use super::keys::part::{self, flywheel};
use super::keys::{
    Key,
    cut::{self, clutch_face, shop},
};
use super::problem::{Problem, Sort};
use super::table_reader::TableReader;
use super::typed::inside_out;
use super::value::{Amount, Found};
use crate::car::checked::{NonNegative, Positive};
use crate::car::machining::{Band, BoltCircles, Face, HoleDepth, Machining, Pass, ShopRules};

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
    const fn keys(self) -> &'static [&'static Key] {
        match self {
            Self::Face => &[cut::INNER, cut::OUTER, cut::DEPTH, cut::FACE],
            Self::Rim => &[cut::DIAMETER],
            Self::Holes => &[cut::COUNT, cut::DIAMETER, cut::CIRCLE, cut::DEPTH],
            Self::Taper => &[
                cut::INNER,
                cut::OUTER,
                cut::THICKNESS_INNER,
                cut::THICKNESS_OUTER,
                cut::FACE,
            ],
        }
    }
}

/// Reads a flywheel's machining; `None` where something of it is wrong.
pub(super) fn read(t: &TableReader<'_>) -> Option<Machining> {
    let list = t.inners(flywheel::CUT);
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
        && !t.has(part::SECTIONS)
    {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(flywheel::CUT),
                "only a flywheel of sections can be cut",
            )
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
    let kind = t.choice(cut::KIND, &PassKind::ALL, PassKind::name).needed();
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
    let others: Vec<&Key> = cut::KEYS
        .iter()
        .copied()
        .filter(|key| t.has(key) && *key != cut::KIND && !own.contains(key))
        .collect();
    let names: Vec<&str> = own.iter().map(|key| key.name).collect();
    for key in &others {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(key),
                format!("a pass of kind {} takes no {key}", kind.read),
            )
            .label("not for this kind")
            .help(format!("it takes: {}", names.join(", "))),
        );
    }
    others.is_empty()
}

fn radius(diameter: Positive) -> Option<Positive> {
    Positive::new(diameter.get() / 2.0)
}

/// A band between two diameters.
fn band(t: &TableReader<'_>, inner: &'static Key, outer: &'static Key) -> Option<Band> {
    let inner = t.measure::<NonNegative>(inner).needed();
    let outer = t.measure::<Positive>(outer).needed();
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
    let found = t
        .choice(cut::FACE, &Face::ALL, Face::name)
        .or_word(Face::Engine);
    found.map(|found| found.value)
}

fn face_band(t: &TableReader<'_>) -> Option<Pass> {
    let band = band(t, cut::INNER, cut::OUTER);
    let depth = t.measure::<Positive>(cut::DEPTH).needed();
    let face = face(t);
    Some(Pass::FaceBand {
        band: band?,
        depth_m: depth?.value,
        face: face?,
    })
}

fn rim(t: &TableReader<'_>) -> Option<Pass> {
    let diameter = t.measure::<Positive>(cut::DIAMETER).needed();
    Some(Pass::TurnRim {
        radius_m: radius(diameter?.value)?,
    })
}

fn holes(t: &TableReader<'_>) -> Option<Pass> {
    let count = t.count(cut::COUNT).needed();
    let diameter = t.measure::<Positive>(cut::DIAMETER).needed();
    let circle = t.measure::<Positive>(cut::CIRCLE).needed();
    let depth = t.measure::<Positive>(cut::DEPTH);
    let depth = if depth.is_absent() {
        let word = Amount::Word(String::from("through"));
        t.diagnostics
            .default_used(t.full_key(cut::DEPTH), word, cut::DEPTH.reason());
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
    let band = band(t, cut::INNER, cut::OUTER);
    let at_inner = t.measure::<Positive>(cut::THICKNESS_INNER).needed();
    let at_outer = t.measure::<Positive>(cut::THICKNESS_OUTER).needed();
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
    let given = t.inner(flywheel::SHOP);
    if given.is_absent() {
        return if cut {
            let nothing = TableReader::new(
                t.full_key(flywheel::SHOP),
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
    let web = s.measure::<Positive>(shop::LEAST_WEB).or_default();
    let under_face = s
        .measure::<Positive>(shop::LEAST_UNDER_CLUTCH_FACE)
        .or_default();
    let land = s.measure::<NonNegative>(shop::LEAST_LAND).or_default();
    let bolts = s
        .choice(shop::BOLT_CIRCLES, &BoltCircles::ALL, BoltCircles::name)
        .or_word(BoltCircles::KeepOff);
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
    let given = s.inner(shop::CLUTCH_FACE);
    if given.is_absent() {
        return Ok(None);
    }
    let table = given.given().ok_or(Noted)?.value;
    let face = band(&table, clutch_face::INNER, clutch_face::OUTER);
    table.finish();
    face.map(Some).ok_or(Noted)
}
