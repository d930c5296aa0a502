//! Whole sheets that read without error.

use approx::assert_relative_eq;
use flyheft::sheet::{self, Reading};
use std::path::Path;

fn reference(name: &str) -> Reading {
    let path = Path::new("tests/reference/cars").join(name);
    sheet::read(&path).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

/// Figures of an independent implementation, to twelve decimals.
#[test]
fn reference_crank_side_inertia_of_the_live_axle_car() {
    let car = reference("d-live.toml").car;
    let wheel = car.flywheels.fitted().unwrap();
    assert_relative_eq!(
        car.crank_side_inertia_kg_m2(wheel),
        0.376_633_6,
        epsilon = 1e-12
    );
}

/// The same; the wheel is built up in inches and pounds, and weighed.
#[test]
fn reference_crank_side_inertia_of_the_imperial_car() {
    let car = reference("g-imperial.toml").car;
    let wheel = car.flywheels.fitted().unwrap();
    assert_relative_eq!(
        car.crank_side_inertia_kg_m2(wheel),
        0.200_825_841_368_962_8,
        epsilon = 1e-12
    );
}
