//! Joins the modes: from first bite, through slip, lock-up and shifts, to the end of the run.

use super::attempt::Attempt;
use super::foot::Foot;
use super::forces::forces;
use super::machine::{GUARDS, Guard, Machine};
use super::mode::{Clutch, Direction, Mode, ShiftCall};
use super::observer::{DrivenLeg, Event, Observer};
use super::rig::{Gear, Rig};
use super::state::{Instant, STATES, Scaled};
use crate::car::driveline::ShiftStyle;
use crate::car::engine::Band;
use crate::car::schedule::Schedule;
use crate::car::track::Mark;
use crate::integrate::{Accuracy, IntegrationFailure, Step, Stepper, Stop, integrate_leg_in};
use std::cell::Cell;
use thiserror::Error;

/// How finely a launch is integrated; chosen by the convergence study in `docs/numerics.md`:
/// tightening both tolerances a hundredfold moves no sixty-foot time by 1e-6 s, and the energy
/// account closes to a millionth.
pub const ACCURACY: Accuracy = Accuracy {
    relative: 1e-10,
    absolute: 1e-11,
    longest_step_s: 0.02,
    stepper: Stepper::OdeSolvers,
};
/// How finely the launches behind a quickest launch and its window are integrated, of which there
/// are hundreds.
pub const SEARCH_ACCURACY: Accuracy = Accuracy {
    relative: 1e-7,
    absolute: 1e-7,
    longest_step_s: 0.02,
    stepper: Stepper::FixedArrays,
};
/// How finely the thousands of launches of a scatter study are integrated: half of their times are
/// good to 5e-7 s and the worst to 1.1e-4 s, random in sign, far below what the scatter itself
/// leaves in a mean (`docs/numerics.md`).
pub const SCATTER_ACCURACY: Accuracy = Accuracy {
    relative: 1e-5,
    absolute: 1e-5,
    longest_step_s: 0.02,
    stepper: Stepper::FixedArrays,
};
/// How finely at the least a leg within the limiter's band is integrated that ends with a shift.
/// The engine creeps up to the shift speed there, as to a speed it would never quite reach: a small
/// error in torque is a large one in the moment of the shift.
const TO_A_SHIFT_IN_THE_LIMITER: Accuracy = Accuracy {
    relative: 1e-8,
    absolute: 1e-9,
    ..SCATTER_ACCURACY
};
/// How finely at the least all else is integrated of a launch whose shift speed lies within the
/// limiter's band: an error in speed brought along there is as large in the moment of the shift.
/// With this, times behind a mean stay within 1e-4 s (`tests/convergence.rs`).
const BEFORE_A_SHIFT_IN_THE_LIMITER: Accuracy = Accuracy {
    relative: 1e-6,
    absolute: 1e-6,
    ..SCATTER_ACCURACY
};
/// Time after which a launch did not finish, s.
pub const TIME_LIMIT_S: f64 = 60.0;
/// How near an edge of the engine's bands counts as on it, rad/s: round-off of the guard that
/// found it.
const AT_THE_EDGE_RAD_S: f64 = 1e-6;
/// More legs than any launch has that gets anywhere: corners, lock-ups and shifts come to some
/// tens, a foot without reaction time that trembles on the throttle to some thousands.
const MOST_LEGS: usize = 50_000;
/// More evaluations of the forces than any launch needs that gets anywhere: a minute of one takes
/// a hundred thousand or so. A car whose tyre or clutch is so stiff that it takes more is given up.
const MOST_EVALUATIONS: u64 = 1_200_000;

/// How a launch ended. Not finishing is a result, not an error.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Reached the last mark asked for.
    Finished,
    /// The engine fell below its stall speed.
    Stalled,
    /// Still on its way after the time limit, or given up: see [`Ending::was_given_up`].
    DidNotFinish,
}

impl Outcome {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Finished => "finished",
            Self::Stalled => "stalled",
            Self::DidNotFinish => "did not finish",
        }
    }
}

/// How and when a launch ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ending {
    /// How.
    pub outcome: Outcome,
    /// When, s from first bite.
    pub time_s: f64,
}

impl Ending {
    /// Given up at a time, s: the motion is so quick that it takes more steps than any car's.
    const fn given_up(time_s: f64) -> Self {
        Self {
            outcome: Outcome::DidNotFinish,
            time_s,
        }
    }

    /// Whether the run was given up before its time was over.
    pub fn was_given_up(&self) -> bool {
        self.outcome == Outcome::DidNotFinish && self.time_s < TIME_LIMIT_S
    }
}

/// Why a launch could not be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum LaunchError {
    /// The integrator gave up.
    #[error("launch from {launch_rpm:.0} rpm: {failure}")]
    Integration {
        /// Launch speed, rpm.
        launch_rpm: f64,
        /// What it said.
        failure: IntegrationFailure,
    },
}

/// Where a run is between two legs.
struct Run<'r, 'car> {
    rig: &'r Rig<'car>,
    grip_factor: f64,
    finish_m: f64,
    time_s: f64,
    state: Scaled,
    gears: std::slice::Iter<'r, Gear>,
    gear: Gear,
    clutch: Clutch,
    band: Band,
    pedals: Pedals,
    foot: Foot,
    next_gear_at_s: Option<f64>,
    first_step_s: Option<f64>,
}

/// What both feet do from here on.
struct Pedals {
    engagement: Schedule,
    throttle: Schedule,
    closed_throttle_nm: f64,
}

thread_local! {
    /// Room for the steps of a leg, kept from launch to launch: the launches of a study ask for
    /// no memory for them.
    static ROOM: Cell<Vec<Step<STATES>>> = const { Cell::new(Vec::new()) };
}

/// Drives one attempt to a mark, as finely as asked, an observer watching.
///
/// # Errors
/// When the motion cannot be followed; no sheet that was read without error should do that.
pub fn drive(
    rig: &Rig,
    attempt: &Attempt,
    to: Mark,
    accuracy: &Accuracy,
    observer: &mut impl Observer,
) -> Result<Ending, LaunchError> {
    let launch_rpm = attempt.launch_speed_rad_s / crate::car::constants::RAD_S_PER_RPM;
    let mut run = Run::at_first_bite(rig, attempt, to);
    let mut room = ROOM.take();
    let mut evaluations = 0;
    for _ in 0..MOST_LEGS {
        if evaluations > MOST_EVALUATIONS {
            break;
        }
        run.call_shift(observer);
        let machine = Machine::new(rig, run.mode());
        let leg = integrate_leg_in::<STATES, GUARDS, _>(
            room,
            &machine,
            (run.time_s, run.state),
            run.next_corner_s(),
            run.first_step_s,
            &accuracy_in(rig, &machine.mode, accuracy),
        );
        let leg = match leg {
            Ok(leg) => leg,
            Err(IntegrationFailure::TooManySteps { time_s }) => {
                return Ok(Ending::given_up(time_s));
            }
            Err(failure) => {
                return Err(LaunchError::Integration {
                    launch_rpm,
                    failure,
                });
            }
        };
        evaluations += u64::from(leg.evaluations());
        observer.leg(rig, &machine.mode, &leg);
        let outcome = run.after(&leg, &machine.mode, observer);
        room = leg.into_room();
        if let Some(outcome) = outcome {
            ROOM.set(room);
            return Ok(Ending {
                outcome,
                time_s: run.time_s,
            });
        }
    }
    Ok(Ending::given_up(run.time_s))
}

/// The accuracy of a launch, in one of its modes.
fn accuracy_in(rig: &Rig, mode: &Mode, asked: &Accuracy) -> Accuracy {
    if !rig.shifts_within_the_limiter() {
        return *asked;
    }
    let least = if mode.band == Band::Limited && mode.shift != ShiftCall::NotListened {
        TO_A_SHIFT_IN_THE_LIMITER
    } else {
        BEFORE_A_SHIFT_IN_THE_LIMITER
    };
    Accuracy {
        relative: asked.relative.min(least.relative),
        absolute: asked.absolute.min(least.absolute),
        ..*asked
    }
}

impl<'r, 'car> Run<'r, 'car> {
    fn at_first_bite(rig: &'r Rig<'car>, attempt: &Attempt, to: Mark) -> Self {
        let mut gears = rig.gears.iter();
        let gear = gears.next().copied().unwrap_or(Gear::new(1.0, 1.0));
        let start = Instant {
            engine_rad_s: attempt.launch_speed_rad_s,
            ..Instant::default()
        };
        Self {
            rig,
            grip_factor: rig.grip_factor(attempt),
            finish_m: rig.staging().trip_m(to),
            time_s: 0.0,
            state: start.to_scaled(),
            gears,
            gear,
            clutch: Clutch::Slipping(Direction::EngineFaster),
            band: rig.engine().band_at(attempt.launch_speed_rad_s),
            pedals: Pedals {
                engagement: rig.car.clutch.release.stretched(attempt.release_stretch),
                throttle: rig.car.driver.throttle.clone(),
                closed_throttle_nm: 0.0,
            },
            foot: Foot::down(rig.car.driver.lift),
            next_gear_at_s: None,
            first_step_s: None,
        }
    }

    fn now(&self) -> Instant {
        Instant::from_scaled(&self.state)
    }

    fn mode(&self) -> Mode {
        let engagement = self.pedals.engagement.piece_from(self.time_s);
        let home = engagement.at_start >= 1.0 && engagement.rate_per_s == 0.0;
        let may_shift = home && self.next_gear_at_s.is_none() && !self.gears.as_slice().is_empty();
        Mode {
            gear: self.gear,
            clutch: self.clutch,
            engagement,
            throttle: self.pedals.throttle.piece_from(self.time_s),
            foot: self.foot.factor(),
            hears: self.foot.hears(),
            closed_throttle_nm: self.pedals.closed_throttle_nm,
            grip_factor: self.grip_factor,
            band: self.band,
            shift: if may_shift {
                ShiftCall::At(self.rig.car.driveline.shift.at_rad_s.get())
            } else {
                ShiftCall::NotListened
            },
            finish_m: self.finish_m,
        }
    }

    /// The next known time at which the equations change.
    fn next_corner_s(&self) -> f64 {
        [
            self.pedals.engagement.next_corner_s(self.time_s),
            self.pedals.throttle.next_corner_s(self.time_s),
            self.foot.next_corner_s(),
            self.next_gear_at_s,
        ]
        .into_iter()
        .flatten()
        .fold(TIME_LIMIT_S, f64::min)
    }

    /// Opens the clutch if the shift speed is already there at the moment the clutch is home.
    fn call_shift(&mut self, observer: &mut impl Observer) {
        let home = self.pedals.engagement.at(self.time_s) >= 1.0;
        let gear_left = !self.gears.as_slice().is_empty();
        let input_rad_s = self.gear.overall * self.now().wheel_rad_s;
        let called = input_rad_s >= self.rig.car.driveline.shift.at_rad_s.get();
        if home && gear_left && called && self.next_gear_at_s.is_none() {
            self.begin_shift(observer);
        }
    }

    fn begin_shift(&mut self, observer: &mut impl Observer) {
        let shift = &self.rig.car.driveline.shift;
        self.clutch = Clutch::Open;
        self.next_gear_at_s = Some(self.time_s + shift.open_s.get());
        self.pedals = Pedals {
            engagement: Schedule::constant(0.0),
            throttle: Schedule::constant(match shift.style {
                ShiftStyle::Lift => 0.0,
                ShiftStyle::Flat => 1.0,
            }),
            closed_throttle_nm: self.rig.engine().motoring_nm.get(),
        };
        observer.event(Event::ShiftBegun, self.time_s);
    }

    fn next_gear(&mut self, observer: &mut impl Observer) {
        self.next_gear_at_s = None;
        let Some(&gear) = self.gears.next() else {
            return;
        };
        let shift = &self.rig.car.driveline.shift;
        let now = self.now();
        let squares = self.gear.overall.powi(2) - gear.overall.powi(2);
        let loss_j =
            0.5 * self.rig.efficiency * self.rig.input_kg_m2 * squares * now.wheel_rad_s.powi(2);
        self.gear = gear;
        self.clutch = Clutch::Slipping(Direction::of(
            now.engine_rad_s - gear.overall * now.wheel_rad_s,
        ));
        self.pedals = Pedals {
            engagement: Schedule::ramp(shift.engage_s).delayed(self.time_s),
            throttle: match shift.style {
                ShiftStyle::Lift => Schedule::ramp(shift.throttle_s).delayed(self.time_s),
                ShiftStyle::Flat => Schedule::constant(1.0),
            },
            closed_throttle_nm: self.rig.engine().motoring_nm.get(),
        };
        observer.event(Event::NextGear { loss_j }, self.time_s);
    }

    /// Moves the foot of a driver who lifts, where its time has come.
    fn move_foot(&mut self, observer: &mut impl Observer) {
        let slip_m_s = self.rig.slip_m_s(&self.now());
        for _ in 0..self.foot.pass_corners(self.time_s, slip_m_s) {
            observer.event(Event::FootLifts, self.time_s);
        }
    }

    /// Makes engine and input shaft turn at exactly one speed.
    fn join_speeds(&mut self) {
        let now = self.now();
        self.state = Instant {
            engine_rad_s: self.gear.overall * now.wheel_rad_s,
            ..now
        }
        .to_scaled();
    }

    /// Takes the engine into the next band. It begins there exactly on the edge, so that the
    /// band's guard is zero at first and not a rounding error below.
    fn pass_band_edge(&mut self) {
        let [first, limiter_from, limiter] = self.rig.engine().band_edges_rad_s();
        let now = self.now();
        let nearer = |a: f64, b: f64| (now.engine_rad_s - a).abs() < (now.engine_rad_s - b).abs();
        let (band, edge_rad_s) = match self.band {
            Band::BelowCurve => (Band::OnCurve, first),
            Band::OnCurve if nearer(first, limiter_from) => (Band::BelowCurve, first),
            Band::OnCurve => (Band::Limited, limiter_from),
            Band::Limited if nearer(limiter_from, limiter) => (Band::OnCurve, limiter_from),
            Band::Limited => (Band::Cut, limiter),
            Band::Cut => (Band::Limited, limiter),
        };
        self.band = band;
        if (now.engine_rad_s - edge_rad_s).abs() < AT_THE_EDGE_RAD_S {
            self.state = Instant {
                engine_rad_s: edge_rad_s,
                ..now
            }
            .to_scaled();
        }
    }

    /// Decides what a clutch does whose two sides turn at one speed: hold, if it holds the torque
    /// of a locked clutch in the equations that apply from here on, else slip that torque's way.
    fn meet(&mut self, observer: &mut impl Observer) {
        self.join_speeds();
        let locked = Mode {
            clutch: Clutch::Locked,
            ..self.mode()
        };
        let all = forces(self.rig, &locked, self.time_s, &self.now());
        if all.clutch_nm.abs() <= all.clutch_holds_nm {
            self.clutch = Clutch::Locked;
            observer.event(Event::LockedUp, self.time_s);
        } else {
            self.clutch = Clutch::Slipping(Direction::of(all.clutch_nm));
        }
    }

    /// Breaks a locked clutch away; not where a corner of the release came at the same moment
    /// and the clutch holds after it.
    fn break_away(&mut self, before: &Mode) {
        self.join_speeds();
        let from_now = self.mode();
        let all = forces(self.rig, &from_now, self.time_s, &self.now());
        if from_now == *before || all.clutch_nm.abs() > all.clutch_holds_nm {
            self.clutch = Clutch::Slipping(Direction::of(all.clutch_nm));
        }
    }

    /// Takes over from a driven leg; the outcome, if the run is over.
    fn after(
        &mut self,
        leg: &DrivenLeg,
        mode: &Mode,
        observer: &mut impl Observer,
    ) -> Option<Outcome> {
        self.time_s = leg.end_s();
        self.state = *leg.end();
        self.first_step_s = leg.last_step_s().or(self.first_step_s);
        match leg.stop() {
            Stop::End if self.time_s >= TIME_LIMIT_S => return Some(Outcome::DidNotFinish),
            Stop::End => {
                if self.next_gear_at_s.is_some_and(|at| self.time_s >= at) {
                    self.next_gear(observer);
                }
            }
            Stop::Guard(Guard::Finish) => return Some(Outcome::Finished),
            Stop::Guard(Guard::Stalls) => return Some(Outcome::Stalled),
            Stop::Guard(Guard::ShiftSpeed) => self.begin_shift(observer),
            Stop::Guard(Guard::SpeedsMeet) => self.meet(observer),
            Stop::Guard(Guard::BreaksAway) => self.break_away(mode),
            Stop::Guard(Guard::BandEdge) => self.pass_band_edge(),
            Stop::Guard(Guard::Heard) => self.foot.hear(self.time_s),
        }
        self.move_foot(observer);
        None
    }
}
