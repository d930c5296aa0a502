//! What does not change during a launch: one car, one flywheel, one driver's attempt.

use super::attempt::Attempt;
use super::state::Instant;
use crate::car::body::{Axle, Drive, LEAST_AXLE_SHARE};
use crate::car::clutch::Heating;
use crate::car::engine::Engine;
use crate::car::track::Staging;
use crate::car::tyre::Tyre;
use crate::car::{Car, Flywheel};

/// One gear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gear {
    /// Overall ratio G, input shaft to wheels.
    pub overall: f64,
    /// Inertia Jd of all that turns with the wheels in this gear, at the wheels, kg·m²:
    /// `Jw + i_final² Jp + η G² Jin`.
    pub downstream_kg_m2: f64,
    /// One over it.
    pub per_downstream_kg_m2: f64,
}

impl Gear {
    /// A gear of an overall ratio, with the inertia at the wheels in it, kg·m².
    pub fn new(overall: f64, downstream_kg_m2: f64) -> Self {
        Self {
            overall,
            downstream_kg_m2,
            per_downstream_kg_m2: 1.0 / downstream_kg_m2,
        }
    }
}

/// One over each number that every evaluation of the forces divides by: a division costs
/// several times a multiplication, and these never change in a launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Per {
    /// One over the crank-side inertia, 1/(kg·m²).
    pub crank_side_kg_m2: f64,
    /// One over the moving mass, 1/kg.
    pub moving_mass_kg: f64,
    /// One over the static load on the driven axle, 1/N.
    pub static_driven_n: f64,
    /// One over the time constant of the weight transfer, 1/s.
    pub pitch_time_s: f64,
    /// One over the tyre's relaxation length, 1/m.
    pub relaxation_m: f64,
}

/// A car with one flywheel: the numbers a launch needs, in SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Rig<'a> {
    /// The car they were taken from.
    pub car: &'a Car,
    /// Name of the flywheel.
    pub wheel_name: &'a str,
    /// Crank-side inertia Je, kg·m².
    pub crank_side_kg_m2: f64,
    /// Gearbox-side inertia Jin at input-shaft speed, kg·m².
    pub input_kg_m2: f64,
    /// Weather factor c on the torque curve.
    pub weather_factor: f64,
    /// Gears, first gear first; never empty.
    pub gears: Vec<Gear>,
    /// Driveline efficiency η.
    pub efficiency: f64,
    /// Full kinetic clutch torque, cold, N·m.
    pub clutch_capacity_nm: f64,
    /// Static over kinetic friction.
    pub static_ratio: f64,
    /// Mass that resists, wheels' share included: `m + Ju/R²`, kg.
    pub moving_mass_kg: f64,
    /// Drag over speed squared, `½ρCdA`, kg/m.
    pub drag_kg_m: f64,
    /// Rolling resistance at any but walking speed, N.
    pub rolling_n: f64,
    /// Weight, N.
    pub weight_n: f64,
    /// Static load Ns on the driven axle, N.
    pub static_driven_n: f64,
    /// Least load on the driven axle, N.
    pub least_driven_n: f64,
    /// +1 where acceleration loads the driven axle, −1 where it unloads it.
    pub transfer_sign: f64,
    /// Weight transferred per unit of acceleration, `m h/L`, kg.
    pub transfer_kg: f64,
    /// What one unit of friction takes from an open live axle:
    /// `2 φf R/(i_final tw)`; 0 for an even axle.
    pub torque_reaction: f64,
    /// One over those that forces are divided by.
    pub per: Per,
}

impl<'a> Rig<'a> {
    /// The rig of a car with one of its flywheels.
    pub fn new(car: &'a Car, wheel: &'a Flywheel) -> Self {
        let body = &car.body;
        let radius = car.tyre.radius_m.get();
        let final_drive = car.driveline.final_drive.get();
        let efficiency = car.driveline.efficiency.get();
        let input_kg_m2 =
            car.clutch.disc_inertia_kg_m2.get() + car.driveline.input_inertia_kg_m2.get();
        let after_gearbox_kg_m2 = body.driven_wheels_kg_m2.get()
            + final_drive.powi(2) * car.driveline.propshaft_inertia_kg_m2.get();
        let mass = body.mass_kg.get();
        let weight_n = body.weight_n();
        let crank_side_kg_m2 = car.crank_side_inertia_kg_m2(wheel);
        let moving_mass_kg = mass + body.undriven_wheels_kg_m2.get() / radius.powi(2);
        Self {
            car,
            wheel_name: wheel.name(),
            crank_side_kg_m2,
            input_kg_m2,
            weather_factor: car.engine.stated_for.weather_factor(&car.track.weather),
            gears: car
                .driveline
                .overall_ratios()
                .map(|overall| {
                    let before_kg_m2 = efficiency * overall.powi(2) * input_kg_m2;
                    Gear::new(overall, after_gearbox_kg_m2 + before_kg_m2)
                })
                .collect(),
            efficiency,
            clutch_capacity_nm: car.clutch.capacity.capacity_nm(),
            static_ratio: car.clutch.static_ratio.get(),
            moving_mass_kg,
            drag_kg_m: 0.5 * car.track.weather.density_kg_m3() * body.drag_area_m2.get(),
            rolling_n: body.rolling.get() * weight_n,
            weight_n,
            static_driven_n: body.static_driven_n(),
            least_driven_n: LEAST_AXLE_SHARE * weight_n,
            transfer_sign: body.transfer_sign(),
            transfer_kg: mass * body.cg_height_m.get() / body.wheelbase_m.get(),
            torque_reaction: match body.drive {
                Drive::Rear(Axle::LiveOpen {
                    track_width_m,
                    front_roll_share,
                }) => 2.0 * front_roll_share.get() * radius / (final_drive * track_width_m.get()),
                Drive::Rear(Axle::Even) | Drive::Front => 0.0,
            },
            per: Per {
                crank_side_kg_m2: 1.0 / crank_side_kg_m2,
                moving_mass_kg: 1.0 / moving_mass_kg,
                static_driven_n: 1.0 / body.static_driven_n(),
                pitch_time_s: 1.0 / body.pitch_time_s.get(),
                relaxation_m: 1.0 / car.tyre.relaxation_m.get(),
            },
        }
    }

    /// The same rig with another crank-side inertia, kg·m²: for maps over inertia.
    #[must_use]
    pub fn with_crank_side(self, crank_side_kg_m2: f64) -> Self {
        let per = Per {
            crank_side_kg_m2: 1.0 / crank_side_kg_m2,
            ..self.per
        };
        Self {
            crank_side_kg_m2,
            per,
            ..self
        }
    }

    /// Whether there is a gear to change at a speed at which the limiter takes torque away.
    pub fn shifts_within_the_limiter(&self) -> bool {
        let [_, limiter_from, _] = self.engine().band_edges_rad_s();
        self.gears.len() > 1 && self.car.driveline.shift.at_rad_s.get() > limiter_from
    }

    /// The engine.
    pub fn engine(&self) -> &Engine {
        &self.car.engine
    }

    /// The driven tyres.
    pub fn tyre(&self) -> &Tyre {
        &self.car.tyre
    }

    /// What heat does to the clutch.
    pub fn heating(&self) -> &Heating {
        &self.car.clutch.heating
    }

    /// Staging.
    pub fn staging(&self) -> &Staging {
        &self.car.track.staging
    }

    /// Slip speed of the tread `vs = R ωw − v`, m/s.
    pub fn slip_m_s(&self, now: &Instant) -> f64 {
        self.tyre().radius_m.get() * now.wheel_rad_s - now.speed_m_s
    }

    /// Peak friction over the tyre's own in one attempt: the track's grip times the day's chance.
    pub fn grip_factor(&self, attempt: &Attempt) -> f64 {
        self.car.track.grip.get() * attempt.grip_factor
    }

    /// Static load on the front axle, N, where its lifting means anything (rear drive).
    pub fn front_axle_lift_n(&self) -> Option<f64> {
        matches!(self.car.body.drive, Drive::Rear(_)).then(|| self.car.body.static_front_n())
    }
}
