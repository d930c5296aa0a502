//! The ledger of rotating parts.

use super::disc::disc;
use super::report::{Block, Report, Section};
use super::table::Figures;
use crate::metal::disc::CAUTIONS;
use crate::sheet::Reading;
use crate::study::ledger::{KilogramOff, Ledger, PartLine, Piece, PieceLine, Turns, WheelLedger};
use crate::units::{Kind, System};

/// The ledger as tables and sentences.
pub fn inertia(reading: &Reading, ledger: &Ledger, system: System) -> Report {
    let mut sections = vec![
        Section::new("Rotating parts", vec![Block::Table(parts(ledger, system))]),
        Section::new("Crank side", vec![Block::Table(crank_side(ledger, system))]),
        Section::said("", vec![EQUIVALENT_WORDS.into()]),
    ];
    let in_pieces = ledger
        .wheels
        .iter()
        .filter(|wheel| !wheel.pieces.is_empty());
    sections.extend(in_pieces.map(|wheel| Section::new("Made up of", pieces(wheel, system))));
    sections.extend(
        ledger
            .wheels
            .iter()
            .map(|wheel| Section::new("Disc check", disc(wheel.wheel.name(), &wheel.disc, system))),
    );
    Report {
        title: reading.car.title.clone(),
        subject: String::new(),
        sections,
        metal_cautions: &CAUTIONS,
        launch_caution: "",
    }
}

const EQUIVALENT_WORDS: &str = "Worth to the car: the mass in the boot that would slow the car as much as spinning these \
parts up does, while the clutch is home. A kilogram off the flywheel also takes itself off the car. \
The driveline's efficiency is counted, as the locked car feels it: η·J·G²/R² for what turns ahead of the gearbox. \
The formula in catalogues, J·G²/R², leaves η out and reads that much higher.";

fn mass(kg: Option<f64>, system: System) -> String {
    kg.map_or("not told".into(), |kg| system.show(kg, Kind::Mass))
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

fn parts(ledger: &Ledger, system: System) -> Figures {
    let mut table = Figures::new(
        "Rotating parts",
        &["mass", "inertia", "worth to the car in first"],
    );
    let show = |kg_m2: f64| system.show(kg_m2, Kind::Inertia);
    let first = |masses: &[f64]| {
        masses
            .first()
            .map_or(String::new(), |kg| system.show(*kg, Kind::Mass))
    };
    let line = |table: &mut Figures, part: &PartLine| {
        table.row(
            &format!("  {}", part.name),
            [
                mass(part.mass_kg, system),
                show(part.inertia_kg_m2),
                first(&part.equivalent_mass_kg),
            ],
        );
    };
    for turns in [
        Turns::WithCrank,
        Turns::WithInputShaft,
        Turns::WithPropshaft,
        Turns::WithDrivenWheels,
        Turns::WithUndrivenWheels,
    ] {
        table.heading(&format!("Turning {}", turns.words()));
        for part in ledger.parts.iter().filter(|part| part.turns == turns) {
            line(&mut table, part);
        }
        if turns == Turns::WithCrank {
            for wheel in &ledger.wheels {
                table.row(
                    &format!("  flywheel \"{}\"", wheel.wheel.name()),
                    [
                        mass(wheel.wheel.part.mass_kg(), system),
                        show(wheel.wheel.part.inertia_kg_m2()),
                        first(&wheel.wheel_mass_kg),
                    ],
                );
            }
        }
    }
    table
}

/// Which masses of a wheel a block of rows shows.
type Masses = fn(&WheelLedger<'_>) -> Vec<f64>;

fn crank_side(ledger: &Ledger, system: System) -> Figures {
    let fitted = |wheel: &WheelLedger| {
        let now = if ledger.car.flywheels.is_fitted(wheel.wheel) {
            " (fitted now)"
        } else {
            ""
        };
        format!("{}{now}", wheel.wheel.name())
    };
    let heads: Vec<String> = ledger.wheels.iter().map(fitted).collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let mut table = Figures::new("Crank side, with the flywheel", &heads);
    let of_each = |table: &mut Figures, label: &str, figure: &dyn Fn(&WheelLedger) -> String| {
        table.row(label, ledger.wheels.iter().map(figure));
    };
    let inertia = |kg_m2: f64| system.show(kg_m2, Kind::Inertia);
    of_each(&mut table, "All that turns with the crank", &|wheel| {
        inertia(wheel.crank_side_kg_m2)
    });
    for (index, part) in ledger.car.crank_side.iter().enumerate() {
        of_each(&mut table, &format!("  share of {}", part.name), &|wheel| {
            wheel
                .part_shares
                .get(index)
                .map_or(String::new(), |share| percent(*share))
        });
    }
    of_each(&mut table, "  share of the flywheel", &|wheel| {
        percent(wheel.share)
    });
    let sides: [(&str, Masses); 2] = [
        ("Crank side, worth to the car", |wheel| {
            wheel.crank_side_mass_kg.clone()
        }),
        ("Flywheel alone, worth to the car", |wheel| {
            wheel.wheel_mass_kg.clone()
        }),
    ];
    for (heading, masses) in sides {
        table.heading(heading);
        for (gear, ratio) in ledger.overall_ratios.iter().enumerate() {
            let label = format!("  gear {}, {ratio:.2} to 1", gear + 1);
            of_each(&mut table, &label, &|wheel| {
                masses(wheel)
                    .get(gear)
                    .map_or(String::new(), |kg| system.show(*kg, Kind::Mass))
            });
        }
    }
    kilograms(&mut table, ledger, system);
    table
}

fn kilograms(table: &mut Figures, ledger: &Ledger, system: System) {
    type Off = fn(&WheelLedger<'_>) -> Option<KilogramOff>;
    let places: [(&str, Off); 2] = [
        ("the rim", |wheel| wheel.kilogram_off_rim),
        ("the hub", |wheel| wheel.kilogram_off_hub),
    ];
    table.heading(&format!(
        "{} off the flywheel",
        match system {
            System::Metric => "One kilogram",
            System::Imperial => "One pound",
        }
    ));
    let one_kg = match system {
        System::Metric => 1.0,
        System::Imperial => system.unit(Kind::Mass).to_si(1.0),
    };
    for (place, off) in places {
        let figure = |table: &mut Figures, label: String, show: &dyn Fn(KilogramOff) -> String| {
            let figures = ledger
                .wheels
                .iter()
                .map(|wheel| off(wheel).map_or("not told".into(), show));
            table.row(&label, figures);
        };
        figure(table, format!("  at {place}, inertia"), &|off| {
            system.show(off.inertia_kg_m2 * one_kg, Kind::Inertia)
        });
        figure(table, "    worth to the car in first".into(), &|off| {
            system.show(off.first_gear_kg * one_kg, Kind::Mass)
        });
    }
}

fn pieces(wheel: &WheelLedger, system: System) -> Vec<Block> {
    let mut table = Figures::new(
        &format!("Made up of: {}", wheel.wheel.name()),
        &["mass", "inertia", "share of its inertia"],
    );
    let all_kg_m2 = wheel.wheel.part.inertia_kg_m2();
    for line in &wheel.pieces {
        table.row(
            &piece_words(line, system),
            [
                system.show(line.adds.mass_kg, Kind::Mass),
                system.show(line.adds.inertia_kg_m2, Kind::Inertia),
                percent(line.adds.inertia_kg_m2 / all_kg_m2),
            ],
        );
    }
    let mut blocks = vec![Block::Table(table)];
    if (wheel.weighing_factor - 1.0).abs() > f64::EPSILON {
        blocks.push(Block::Said(format!(
            "Brought to what the scales say: every figure of the drawing times {:.4}.",
            wheel.weighing_factor
        )));
    }
    blocks
}

/// What a piece is.
pub(super) fn piece_words(line: &PieceLine, system: System) -> String {
    let number = |m: f64| system.number(m, Kind::Length);
    let show = |m: f64| system.show(m, Kind::Length);
    match &line.piece {
        Piece::Section(section) => {
            let (ta, tb) = (section.thickness_inner_m(), section.thickness_outer_m());
            let thickness = if (ta - tb).abs() < f64::EPSILON {
                show(ta)
            } else {
                format!("{} to {}", number(ta), show(tb))
            };
            format!(
                "  ring Ø {} to {}, {thickness} thick",
                number(2.0 * section.inner_radius_m()),
                show(2.0 * section.outer_radius_m())
            )
        }
        Piece::Holes(ring) => format!(
            "  less {} holes Ø {} on Ø {}, {} deep",
            ring.count,
            number(ring.diameter_m.get()),
            show(2.0 * ring.pitch_radius_m.get()),
            show(ring.depth_m.get())
        ),
        Piece::Extra(extra) => format!("  {}", extra.name),
    }
}
