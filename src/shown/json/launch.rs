//! `flyheft/launch/1`.

use super::logged_run::LogFields;
use super::{Read, document, rpm};
use crate::car::track::Mark;
use crate::launch::Launch;
use crate::sheet::Reading;
use crate::study::logged_run::Overlay;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    #[serde(flatten)]
    launch: LaunchFields<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    log: Option<LogFields>,
    #[serde(flatten)]
    read: Read,
}

/// One launch, as it stands in every document that holds one.
#[derive(Debug, Serialize)]
pub(super) struct LaunchFields<'a> {
    flywheel: &'a str,
    launch_rpm: f64,
    outcome: &'static str,
    sixty_foot_s: Option<f64>,
    marks: Vec<MarkFields>,
    minimum_rpm: f64,
    minimum_rpm_at_s: f64,
    droop_rpm: f64,
    lock_at_s: Option<f64>,
    clutch_heat_j: f64,
    plate_rise_k: Option<f64>,
    clutch_heat_to_sixty_foot_j: f64,
    plate_rise_to_sixty_foot_k: Option<f64>,
    lifts: u32,
    lifted_time_s: f64,
    spin_time_s: f64,
    spin_distance_m: f64,
    peak_acceleration_m_s2: f64,
    peak_input_torque_nm: f64,
    front_wheels_lifted: bool,
    bogged: bool,
    touched_limiter: bool,
    crank_side_inertia_kg_m2: f64,
    energy_j: Option<EnergyFields>,
}

#[derive(Debug, Serialize)]
struct MarkFields {
    distance_m: f64,
    time_s: Option<f64>,
    speed_m_s: Option<f64>,
}

#[derive(Debug, Serialize)]
struct EnergyFields {
    engine: f64,
    crank_side_given_up: f64,
    car: f64,
    wheels_and_driveline: f64,
    clutch: f64,
    tyre: f64,
    driveline_loss: f64,
    drag: f64,
    rolling: f64,
}

impl<'a> LaunchFields<'a> {
    pub(super) fn of(launch: &'a Launch, to: Mark) -> Self {
        let energy = &launch.energy;
        Self {
            flywheel: &launch.wheel_name,
            launch_rpm: rpm(launch.launch_speed_rad_s),
            outcome: launch.ending.outcome.id(),
            sixty_foot_s: launch.sixty_foot_s(),
            marks: to
                .up_to()
                .map(|mark| MarkFields::of(launch, mark))
                .collect(),
            minimum_rpm: rpm(launch.slowest_rad_s),
            minimum_rpm_at_s: launch.slowest_at_s,
            droop_rpm: rpm(launch.droop_rad_s()),
            lock_at_s: launch.lock_at_s,
            clutch_heat_j: launch.clutch_heat_j,
            plate_rise_k: launch.plate_rise_k,
            clutch_heat_to_sixty_foot_j: launch.clutch_heat_to_sixty_foot_j,
            plate_rise_to_sixty_foot_k: launch.plate_rise_to_sixty_foot_k,
            lifts: launch.lifts,
            lifted_time_s: launch.lifted_time_s,
            spin_time_s: launch.spin_time_s,
            spin_distance_m: launch.spin_distance_m,
            peak_acceleration_m_s2: launch.peak_acceleration_m_s2,
            peak_input_torque_nm: launch.peak_input_torque_nm,
            front_wheels_lifted: launch.front_wheels_lifted,
            bogged: launch.bogged,
            touched_limiter: launch.touched_limiter,
            crank_side_inertia_kg_m2: launch.crank_side_kg_m2,
            energy_j: launch.sixty_foot_s().map(|_| EnergyFields {
                engine: energy.engine_j,
                crank_side_given_up: energy.crank_side_given_up_j,
                car: energy.car_j,
                wheels_and_driveline: energy.wheels_and_driveline_j,
                clutch: energy.clutch_j,
                tyre: energy.tyre_j,
                driveline_loss: energy.driveline_loss_j,
                drag: energy.drag_j,
                rolling: energy.rolling_j,
            }),
        }
    }
}

impl MarkFields {
    fn of(launch: &Launch, mark: Mark) -> Self {
        let passed = launch.marks.iter().find(|passed| passed.mark == mark);
        Self {
            distance_m: mark.distance_m(),
            time_s: launch.time_s(mark),
            speed_m_s: passed.map(|passed| passed.speed_m_s),
        }
    }
}

/// The document of one launch to a mark, with the log laid over it, if there is one.
pub fn launch(reading: &Reading, launch: &Launch, to: Mark, log: Option<&Overlay>) -> String {
    document(&Document {
        schema: "flyheft/launch/1",
        title: &reading.car.title,
        launch: LaunchFields::of(launch, to),
        log: log.map(LogFields::of),
        read: Read::of(reading),
    })
}
