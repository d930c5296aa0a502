//! Cars stripped down to textbook problems: no air, no rolling resistance, no losses, no weight
//! transfer, flat torque, clutch home and throttle open from the start.

use super::{
    coupe, curve, flywheels, non_negative, part, positive, ratios, release, rpm, shape, staging,
    throttle,
};
use flyheft::car::Car;
use flyheft::car::body::{Axle, Drive};
use flyheft::car::checked::Efficiency;
use flyheft::car::clutch::{Capacity, Heating};

/// An inertia too small to matter, kg·m².
pub const NEXT_TO_NOTHING_KG_M2: f64 = 1e-9;
/// A height too small to transfer weight, m.
const NEXT_TO_NOTHING_M: f64 = 1e-9;

/// The numbers of a textbook car.
#[derive(Debug, Clone, Copy)]
pub struct Ideal {
    pub mass_kg: f64,
    pub radius_m: f64,
    /// Both driven wheels.
    pub wheels_kg_m2: f64,
    pub overall_ratio: f64,
    /// All that turns with the crank.
    pub crank_side_kg_m2: f64,
    pub capacity_nm: f64,
    /// Peak friction: the higher, the more rigidly the car hangs on its wheels.
    pub grip: f64,
}

impl Ideal {
    /// The car, with an engine whose torque is the same at every speed, N·m.
    pub fn car(&self, engine_nm: f64) -> Car {
        let mut car = coupe();
        car.engine.curve = curve(&[600.0, 3000.0, 8000.0, 12_000.0].map(|n| (n, engine_nm)));
        car.engine.limiter_rad_s = positive(rpm(11_000.0));
        let half = self.crank_side_kg_m2 / 2.0;
        car.crank_side = vec![part("crank side", half)];
        car.flywheels = flywheels(&[half]);
        car.clutch.capacity = Capacity::Given(positive(self.capacity_nm));
        car.clutch.heating = Heating::Unknown;
        car.clutch.release = release(&[(0.0, 1.0)]);
        car.clutch.disc_inertia_kg_m2 = positive(NEXT_TO_NOTHING_KG_M2);
        car.driver.throttle = throttle(&[(0.0, 1.0)]);
        let line = &mut car.driveline;
        line.ratios = ratios(&[self.overall_ratio]);
        line.final_drive = positive(1.0);
        line.efficiency = Efficiency::new(1.0).unwrap_or(line.efficiency);
        line.input_inertia_kg_m2 = non_negative(0.0);
        line.propshaft_inertia_kg_m2 = non_negative(0.0);
        let body = &mut car.body;
        body.mass_kg = positive(self.mass_kg);
        body.drive = Drive::Rear(Axle::Even);
        body.cg_height_m = positive(NEXT_TO_NOTHING_M);
        body.drag_area_m2 = non_negative(0.0);
        body.rolling = non_negative(0.0);
        body.driven_wheels_kg_m2 = positive(self.wheels_kg_m2);
        body.undriven_wheels_kg_m2 = non_negative(0.0);
        car.tyre.radius_m = positive(self.radius_m);
        car.tyre.grip = positive(self.grip);
        car.tyre.shape = shape(0.1, 0.9);
        car.tyre.damping_time_s = non_negative(0.001);
        car.tyre.load_sensitivity = non_negative(0.0);
        car.track.staging = staging(0.3, 0.0);
        car
    }
}
