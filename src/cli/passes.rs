//! Machining passes on the command line, in the order they are typed.

use super::options::as_in_a_sheet;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, Error, FromArgMatches};
use flyheft::car::checked::{NonNegative, Positive};
use flyheft::car::machining::{Band, Face, HoleDepth, Pass};
use flyheft::metal::target::OpenCut;
use flyheft::units::{Kind, parse};
use std::num::NonZeroU32;

/// What stands for the dimension to be found.
const OPEN: &str = "?";

/// A pass, whole or with one dimension open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum AskedPass {
    /// Whole.
    Fixed(Pass),
    /// Its size is to be found.
    Open(OpenCut),
}

/// All passes typed.
#[derive(Debug, Clone, Default)]
pub(super) struct AskedPasses(pub(super) Vec<AskedPass>);

type Parser = fn(&str) -> Result<AskedPass, String>;

/// Flag, what its value looks like, what it does, how it is read.
const FLAGS: [(&str, &str, &str, Parser); 5] = [
    (
        "face",
        "INNER:OUTER:DEPTH[:clutch]",
        "Face a band between two diameters to a depth, such as \"180 mm:230 mm:2 mm\"",
        face,
    ),
    (
        "rim",
        "DIAMETER",
        "Turn the rim down to a diameter, such as \"252 mm\"; \"?\" with a target",
        rim,
    ),
    (
        "holes",
        "COUNT:DIAMETER:CIRCLE[:DEPTH]",
        "Drill a ring of holes, such as \"6:20 mm:165 mm\", right through or to a depth; diameter \"?\" with a target",
        holes,
    ),
    (
        "taper",
        "INNER:OUTER:THICKNESS:THICKNESS[:clutch]",
        "Taper a band to a thickness at its inner and at its outer diameter",
        taper,
    ),
    (
        "band",
        "INNER:OUTER[:clutch]",
        "With a target: the band to be faced, its depth to be found",
        open_band,
    ),
];

impl FromArgMatches for AskedPasses {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        let mut typed: Vec<(usize, AskedPass)> = Vec::new();
        for (flag, ..) in FLAGS {
            let values = matches.get_many::<AskedPass>(flag).into_iter().flatten();
            let places = matches.indices_of(flag).into_iter().flatten();
            typed.extend(places.zip(values.copied()));
        }
        typed.sort_by_key(|(place, _)| *place);
        Ok(Self(typed.into_iter().map(|(_, pass)| pass).collect()))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl Args for AskedPasses {
    fn augment_args(command: Command) -> Command {
        FLAGS.into_iter().fold(command, |command, flag| {
            let (name, value, help, read) = flag;
            command.arg(
                Arg::new(name)
                    .long(name)
                    .value_name(value)
                    .help(help)
                    .action(ArgAction::Append)
                    .value_parser(read),
            )
        })
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

fn length<T>(text: &str, checked: fn(f64) -> Option<T>) -> Result<T, String> {
    let metres = parse(text, Kind::Length)
        .map_err(|error| format!("{error}; {}", error.hint(Kind::Length)))?;
    as_in_a_sheet("flywheel.sections.inner", metres.abs())?;
    checked(metres).ok_or_else(|| format!("\"{text}\" must be above zero"))
}

fn positive(text: &str) -> Result<Positive, String> {
    length(text, Positive::new)
}

fn radius(text: &str) -> Result<Positive, String> {
    length(text, |metres| Positive::new(metres / 2.0))
}

fn pieces(text: &str) -> Vec<&str> {
    text.split(':').map(str::trim).collect()
}

/// A band between two diameters.
pub(super) fn band(inner: &str, outer: &str) -> Result<Band, String> {
    let inner_radius = length(inner, |metres| NonNegative::new(metres / 2.0))?;
    Band::new(inner_radius, radius(outer)?)
        .ok_or_else(|| format!("the outer diameter, {outer}, must be above the inner, {inner}"))
}

/// A band typed as `INNER:OUTER`.
pub(super) fn band_alone(text: &str) -> Result<Band, String> {
    match pieces(text).as_slice() {
        [inner, outer] => band(inner, outer),
        _ => Err(String::from(
            "two diameters parted by a colon, such as \"150 mm:228 mm\"",
        )),
    }
}

fn side(text: &str) -> Result<Face, String> {
    Face::ALL
        .into_iter()
        .find(|face| face.name().eq_ignore_ascii_case(text))
        .ok_or_else(|| format!("\"{text}\" is no side of a flywheel: engine or clutch"))
}

pub(super) fn face(text: &str) -> Result<AskedPass, String> {
    let (inner, outer, depth, face) = match pieces(text).as_slice() {
        [inner, outer, depth] => (*inner, *outer, *depth, Face::Engine),
        [inner, outer, depth, face] => (*inner, *outer, *depth, side(face)?),
        _ => {
            return Err(String::from(
                "inner diameter, outer diameter and depth parted by colons, such as \"180 mm:230 mm:2 mm\"",
            ));
        }
    };
    Ok(AskedPass::Fixed(Pass::FaceBand {
        band: band(inner, outer)?,
        depth_m: positive(depth)?,
        face,
    }))
}

fn open_band(text: &str) -> Result<AskedPass, String> {
    let (band, face) = match pieces(text).as_slice() {
        [inner, outer] => (band(inner, outer)?, Face::Engine),
        [inner, outer, face] => (band(inner, outer)?, side(face)?),
        _ => {
            return Err(String::from(
                "two diameters parted by a colon, such as \"180 mm:230 mm\"",
            ));
        }
    };
    Ok(AskedPass::Open(OpenCut::BandDepth { band, face }))
}

pub(super) fn rim(text: &str) -> Result<AskedPass, String> {
    if text.trim() == OPEN {
        return Ok(AskedPass::Open(OpenCut::RimRadius));
    }
    Ok(AskedPass::Fixed(Pass::TurnRim {
        radius_m: radius(text)?,
    }))
}

pub(super) fn holes(text: &str) -> Result<AskedPass, String> {
    let (count, diameter, circle, depth) = match pieces(text).as_slice() {
        [count, diameter, circle] => (*count, *diameter, *circle, HoleDepth::Through),
        [count, diameter, circle, depth] => (
            *count,
            *diameter,
            *circle,
            HoleDepth::Blind(positive(depth)?),
        ),
        _ => {
            return Err(String::from(
                "count, diameter and circle parted by colons, such as \"6:20 mm:165 mm\", and a depth for blind holes",
            ));
        }
    };
    let number: NonZeroU32 = count
        .parse()
        .map_err(|_| format!("\"{count}\" is no number of holes: a whole number from 1"))?;
    let pitch_radius_m = radius(circle)?;
    if diameter == OPEN {
        return Ok(AskedPass::Open(OpenCut::HoleDiameter {
            count: number,
            pitch_radius_m,
            depth,
        }));
    }
    Ok(AskedPass::Fixed(Pass::Drill {
        count: number,
        diameter_m: positive(diameter)?,
        pitch_radius_m,
        depth,
    }))
}

pub(super) fn taper(text: &str) -> Result<AskedPass, String> {
    let (inner, outer, at_inner, at_outer, face) = match pieces(text).as_slice() {
        [inner, outer, a, b] => (*inner, *outer, *a, *b, Face::Engine),
        [inner, outer, a, b, face] => (*inner, *outer, *a, *b, side(face)?),
        _ => {
            return Err(String::from(
                "inner and outer diameter, thickness at each, parted by colons, such as \"120 mm:210 mm:10 mm:8 mm\"",
            ));
        }
    };
    Ok(AskedPass::Fixed(Pass::TaperWeb {
        band: band(inner, outer)?,
        thickness_inner_m: positive(at_inner)?,
        thickness_outer_m: positive(at_outer)?,
        face,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cli_a_pass_is_read_in_any_unit() {
        let metric = face("177.8 mm:228.6mm:2.54 mm").unwrap();
        let imperial = face("7 in : 9 in : 100 thou : engine").unwrap();
        let (
            AskedPass::Fixed(Pass::FaceBand {
                band: a,
                depth_m: da,
                ..
            }),
            AskedPass::Fixed(Pass::FaceBand {
                band: b,
                depth_m: db,
                ..
            }),
        ) = (metric, imperial)
        else {
            panic!("two faced bands expected")
        };
        assert!((a.outer_radius_m() - b.outer_radius_m()).abs() < 1e-12);
        assert!((da.get() - db.get()).abs() < 1e-12);
    }

    #[test]
    fn cli_what_is_no_pass_says_what_one_looks_like() {
        for (said, refused) in [
            ("such as", face("180 mm:230 mm")),
            ("must be above the inner", face("230 mm:180 mm:2 mm")),
            ("no unit", face("180:230:2")),
            ("no number of holes", holes("six:20 mm:165 mm")),
            ("no side", face("180 mm:230 mm:2 mm:top")),
            ("above zero", rim("-3 mm")),
        ] {
            let words = refused.unwrap_err();
            assert!(words.contains(said), "{words}");
        }
    }

    #[test]
    fn cli_an_open_dimension_is_a_question_mark() {
        assert_eq!(rim("?"), Ok(AskedPass::Open(OpenCut::RimRadius)));
        assert!(matches!(holes("6:?:165 mm:8 mm"), Ok(AskedPass::Open(_))));
    }
}
