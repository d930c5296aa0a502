//! Eleven invented discs solved outside this project's code, by SciPy's `solve_bvp` and again by
//! its DOP853 (`tests/reference/disc.py`), which agree with one another to 1e-8.

use super::*;
use crate::metal::profile::Side;
use std::collections::BTreeMap;

/// What SciPy's two solutions are known to, as a share of a disc's greatest stress.
const AGREEMENT: f64 = 1e-8;

const TABLE: &str = include_str!("../../../../tests/reference/disc.csv");

/// One disc of the table: its numbers and the rows of stresses.
#[derive(Default)]
struct Disc {
    density: f64,
    poisson: f64,
    speed_rad_s: f64,
    rim_pull_pa: f64,
    sections: BTreeMap<u32, Section>,
    rows: Vec<(u32, f64, f64, f64)>,
}

fn discs() -> BTreeMap<String, Disc> {
    let mut discs: BTreeMap<String, Disc> = BTreeMap::new();
    for line in TABLE.lines().skip(1) {
        let fields: Vec<&str> = line.rsplitn(14, ',').collect();
        let number = |index: usize| fields[12 - index].parse::<f64>().unwrap();
        let name = fields[13].trim_matches('"').to_owned();
        let section: u32 = fields[12 - 5].parse().unwrap();
        let disc = discs.entry(name).or_default();
        disc.density = number(0);
        disc.poisson = number(2);
        disc.speed_rad_s = number(3) * std::f64::consts::PI / 30.0;
        disc.rim_pull_pa = number(4);
        disc.sections.insert(
            section,
            section_between(number(6), number(7), number(8), number(9)).unwrap(),
        );
        disc.rows
            .push((section, number(10), number(11), number(12)));
    }
    discs
}

#[test]
fn reference_eleven_discs_solved_by_another_hand() {
    let discs = discs();
    assert_eq!(discs.len(), 11);
    for (name, disc) in discs {
        let sections: Vec<Section> = disc.sections.values().copied().collect();
        let rim = sections.last().unwrap();
        let gear = LineLoad {
            radius_m: rim.outer_radius_m(),
            mass_kg: std::f64::consts::TAU * disc.rim_pull_pa * rim.thickness_outer_m()
                / disc.speed_rad_s.powi(2),
        };
        let ours = field(&sections, disc.density, disc.poisson, &[gear]);
        let greatest = disc
            .rows
            .iter()
            .map(|row| row.2.abs().max(row.3.abs()))
            .fold(0.0, f64::max);
        for (section, radius, radial, tangential) in disc.rows {
            let inner = disc.sections[&section].inner_radius_m();
            let outer = disc.sections[&section].outer_radius_m();
            let (radius, side) = if (radius - outer).abs() < 1e-12 {
                (outer, Side::Inside)
            } else {
                (radius.max(inner), Side::Outside)
            };
            let stress = ours.stress_at(radius, side, disc.speed_rad_s).unwrap();
            assert!(
                (stress.radial_pa - radial).abs() < AGREEMENT * greatest,
                "{name} at {radius}"
            );
            assert!(
                (stress.tangential_pa - tangential).abs() < AGREEMENT * greatest,
                "{name} at {radius}"
            );
        }
    }
}
