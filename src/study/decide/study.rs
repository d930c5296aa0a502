//! The whole question put to a doubted car.

use super::drawn::{BLOCKS, DEFAULT_SHEETS, DrawnSheets};
use super::evaluate::{Evaluated, evaluate, rig_of};
use super::information::{Learnt, Worth, of_each_input, of_everything};
use super::losses::Losses;
use super::metal_left::{MetalLeft, metal_left};
use super::moved::{Moved, moved};
use super::own_aim::OwnAim;
use super::reach::Reach;
use super::season::{SeasonLoss, season_loss};
use super::slips::CHANCES;
use super::verdict::{Grounds, Verdict, verdict};
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::car::season::Season;
use crate::numerics::Interval;
use crate::numerics::quantile::standard_normal;
use crate::numerics::seed::block_seed;
use crate::numerics::summary::{mean, percentile};
use crate::study::scatter::draws::{BLOCKS as DRAW_BLOCKS, Draws};
use crate::study::scatter::sobol::unit_point;
use crate::study::scatter::table::SixtyFoot;
use crate::study::{Progress, StudyError, on_all_cores};

/// The stream of seeds that slips are drawn from.
const SLIPS_STREAM: u32 = 0x511B;
/// Drawn launches at each aim of the sheet as stated that the forty-launch means are held
/// against.
const CHECKING_DRAWS: usize = 512;

/// Sheets drawn for the verdict in short.
const SHEETS_IN_SHORT: usize = 32;

/// How much of the answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The verdict, and what moves the choice most.
    Verdict,
    /// The verdict, what to find out first, and how much metal to leave.
    Whole,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// Sheets to draw.
    pub sheets: usize,
    /// Seed of the draws.
    pub seed: u32,
    /// The season, and what counts in it.
    pub season: Season,
    /// How much of the answer is wanted.
    pub depth: Depth,
}

impl Default for Question {
    fn default() -> Self {
        Self {
            sheets: DEFAULT_SHEETS,
            seed: crate::study::scatter::draws::DEFAULT_SEED,
            season: Season::default(),
            depth: Depth::Whole,
        }
    }
}

impl Question {
    /// What the sheet of a car asks for.
    pub fn of(car: &Car) -> Self {
        Self {
            season: car.season,
            ..Self::default()
        }
    }

    /// The verdict and what moves it, from few sheets: what stands at the head of a comparison and costs no
    /// more than half of one.
    pub fn in_short(car: &Car, seed: u32) -> Self {
        Self {
            sheets: SHEETS_IN_SHORT,
            seed,
            depth: Depth::Verdict,
            ..Self::of(car)
        }
    }
}

/// One flywheel under the doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelDecision {
    /// Its name.
    pub name: String,
    /// The flywheel it is cut from, by its place.
    pub cut_from: Option<usize>,
    /// Share of the sheets in which it is the best.
    pub chance_best: f64,
    /// Its 95 % interval.
    pub chance_best_interval: Interval,
    /// Mean loss against the best of each sheet, s.
    pub loss_mean_s: f64,
    /// Its 95 % interval, s.
    pub loss_mean_interval_s: Interval,
    /// Loss in the worst 1 in 20, s.
    pub loss_p95_s: f64,
    /// Its 95 % interval, s.
    pub loss_p95_interval_s: Interval,
    /// Loss in the worst of the sheets drawn, s.
    pub loss_worst_s: f64,
    /// What counts, sheet by sheet, s.
    pub counted_s: Vec<f64>,
    /// Aim in each sheet in which it gets to 60 ft, with the sheet's place, rad/s.
    pub aims_rad_s: Vec<(usize, f64)>,
    /// At its aim in the sheet as stated.
    pub nominal: Option<OwnAim>,
    /// What starting with it loses over the season.
    pub season: SeasonLoss,
}

impl WheelDecision {
    /// Mean over the sheets of what counts, s.
    pub fn counted_mean_s(&self) -> f64 {
        mean(&self.counted_s)
    }

    /// A percentile over the sheets of what counts, s.
    pub fn counted_at_s(&self, share: f64) -> f64 {
        percentile(&self.counted_s, share)
    }

    /// A percentile of the aim over the sheets, rad/s.
    pub fn aim_at_rad_s(&self, share: f64) -> Option<f64> {
        let aims: Vec<f64> = self.aims_rad_s.iter().map(|(_, aim)| *aim).collect();
        (!aims.is_empty()).then(|| percentile(&aims, share))
    }
}

/// What knowing one input is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Its key.
    pub key: String,
    /// Its place among the doubted inputs.
    pub input: usize,
    /// Worth, s a launch.
    pub worth: Worth,
}

/// The answer.
#[derive(Debug, Clone)]
pub struct Decision {
    /// What was asked.
    pub question: Question,
    /// The sheets drawn.
    pub drawn: DrawnSheets,
    /// The flywheels, in the sheet's order.
    pub wheels: Vec<WheelDecision>,
    /// The verdict.
    pub verdict: Verdict,
    /// What knowing everything is worth, s a launch.
    pub everything_worth_s: f64,
    /// Inputs worth knowing, dearest first.
    pub find_out_first: Vec<Finding>,
    /// Inputs that move the choice, furthest first; of the verdict in short alone, whose sheets
    /// are too few for the worth of an input.
    pub moved: Vec<Moved>,
    /// How much metal to leave.
    pub metal_left: Option<MetalLeft>,
    /// Largest error of a difference between two means in one sheet, as found at the sheet as
    /// stated, s.
    pub evaluation_error_s: f64,
    /// Launches that all this took.
    pub launches: usize,
}

impl Decision {
    /// Name of the flywheel to use for now: the fitted one where the metal is to be left on, else
    /// the one to start with.
    pub fn wheel_to_use(&self) -> &str {
        self.named_wheel().map_or("", |wheel| &wheel.name)
    }

    /// The flywheel of [`wheel_to_use`](Self::wheel_to_use).
    pub fn named_wheel(&self) -> Option<&WheelDecision> {
        self.wheels.get(self.place_to_use())
    }

    /// Its place in the sheet's order.
    pub fn place_to_use(&self) -> usize {
        self.verdict.place_to_use()
    }
}

/// Puts the question. `None` where the car has no flywheel.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn decide(
    doubted: &DoubtedCar,
    question: Question,
    progress: &dyn Progress,
) -> Result<Option<Decision>, StudyError> {
    let nominal = doubted.nominal();
    let drawn = DrawnSheets::new(doubted, question.sheets, question.seed);
    let stated = at_stated(nominal, &question, progress)?;
    let evaluated = in_every_sheet(&drawn, &stated, &question, progress)?;
    let counted_s = |sheets: &Vec<Evaluated>| sheets.iter().map(|one| one.counted_s).collect();
    let counted: Vec<Vec<f64>> = evaluated.iter().map(counted_s).collect();
    let losses = Losses::of_costs(&counted, drawn.block_len);
    let reach = reach_of(nominal);
    let seasons: Vec<SeasonLoss> = evaluated
        .iter()
        .enumerate()
        .map(|(start, sheets)| {
            let shown = slips_shown(sheets, nominal, &question, drawn.block_len);
            let learnt = Learnt::by_regression(&losses, &shown);
            season_loss(&losses, &reach, question.season, start, &learnt)
        })
        .collect();
    let (evaluation_error_s, checking) = checked(nominal, &stated, question.seed, progress)?;
    let fitted = fitted_place(nominal);
    let fitted_sd_s = fitted
        .and_then(|fitted| stated.get(fitted)?.own)
        .map_or(0.0, |own| own.sd_s);
    let Some(verdict) = verdict(&Grounds {
        losses: &losses,
        seasons: &seasons,
        fitted,
        fitted_sd_s,
        evaluation_error_s,
        season: question.season,
    }) else {
        return Ok(None);
    };
    let (find_out_first, metal_left, (moved, moving)) = match question.depth {
        Depth::Verdict => {
            let moved = match verdict.choice() {
                Some(between) => moved(doubted, &stated, between, progress)?,
                None => (Vec::new(), 0),
            };
            (Vec::new(), None, moved)
        }
        Depth::Whole => (
            findings(doubted, &drawn, &losses),
            metal_left(nominal, &drawn, question.season.counts, progress)?,
            (Vec::new(), 0),
        ),
    };
    let every: Vec<usize> = (0..losses.choices()).collect();
    let launches = evaluated.iter().flatten().chain(&stated);
    Ok(Some(Decision {
        launches: launches.map(|one| one.launches).sum::<usize>()
            + checking
            + moving
            + metal_left.as_ref().map_or(0, |metal| metal.launches),
        wheels: wheels(nominal, &reach, &losses, &evaluated, &stated, seasons),
        everything_worth_s: of_everything(&losses, &every),
        question,
        drawn,
        verdict,
        find_out_first,
        moved,
        metal_left,
        evaluation_error_s,
    }))
}

/// Every flywheel in the sheet as stated.
fn at_stated(
    nominal: &Car,
    question: &Question,
    progress: &dyn Progress,
) -> Result<Vec<Evaluated>, StudyError> {
    let places: Vec<usize> = (0..nominal.flywheels.all().len()).collect();
    on_all_cores(&places, progress, |wheel| {
        in_sheet(nominal, *wheel, question, None)
    })
}

/// Every flywheel in every sheet: a list a flywheel.
fn in_every_sheet(
    drawn: &DrawnSheets,
    stated: &[Evaluated],
    question: &Question,
    progress: &dyn Progress,
) -> Result<Vec<Vec<Evaluated>>, StudyError> {
    let jobs: Vec<(usize, &Car, Option<f64>)> = stated
        .iter()
        .enumerate()
        .flat_map(|(wheel, stated)| {
            let aim = stated.own.map(|own| own.aim_rad_s);
            drawn
                .sheets
                .iter()
                .map(move |sheet| (wheel, &sheet.car, aim))
        })
        .collect();
    let done = on_all_cores(&jobs, progress, |(wheel, car, aim)| {
        in_sheet(car, *wheel, question, *aim)
    })?;
    Ok(done
        .chunks(drawn.sheets.len().max(1))
        .map(<[Evaluated]>::to_vec)
        .collect())
}

fn in_sheet(
    car: &Car,
    wheel: usize,
    question: &Question,
    slips_from: Option<f64>,
) -> Result<Evaluated, StudyError> {
    match rig_of(car, wheel) {
        Some(rig) => evaluate(&rig, question.season.counts, slips_from),
        // A drawn sheet has the wheels of the sheet it was drawn from.
        None => Ok(Evaluated {
            own: None,
            counted_s: car.track.stall_cost_s.get(),
            response: None,
            launches: 0,
        }),
    }
}

/// What the slips of the meeting show, a list an observation.
fn slips_shown(
    sheets: &[Evaluated],
    nominal: &Car,
    question: &Question,
    block_len: usize,
) -> Vec<Vec<f64>> {
    let rows: Vec<Vec<f64>> = sheets
        .iter()
        .enumerate()
        .map(|(sheet, one)| {
            let block = u32::try_from(sheet / block_len.max(1)).unwrap_or(u32::MAX);
            let seed = block_seed(question.seed, SLIPS_STREAM, block);
            let mut chances = [0.0; CHANCES];
            for (dimension, chance) in (0_u32..).zip(&mut chances) {
                *chance = standard_normal(unit_point(sheet % block_len.max(1), dimension, seed));
            }
            one.response.map_or_else(
                || vec![nominal.track.stall_cost_s.get(), 0.0, 1.0, 0.0, 0.0],
                |response| response.shown(question.season.meeting.get(), &chances),
            )
        })
        .collect();
    let observations = rows.first().map_or(0, Vec::len);
    (0..observations)
        .map(|observation| {
            rows.iter()
                .filter_map(|row| row.get(observation))
                .copied()
                .collect()
        })
        .collect()
}

/// Holds the means of the sheet as stated against drawn launches at the same aims: the largest
/// error of a difference between two flywheels, s, and the launches this took.
fn checked(
    nominal: &Car,
    stated: &[Evaluated],
    seed: u32,
    progress: &dyn Progress,
) -> Result<(f64, usize), StudyError> {
    let chances = Draws::new(CHECKING_DRAWS, seed).chances(CHECKING_DRAWS / DRAW_BLOCKS);
    let jobs: Vec<(usize, OwnAim)> = stated
        .iter()
        .enumerate()
        .filter_map(|(wheel, one)| Some((wheel, one.own?)))
        .collect();
    let errors = on_all_cores(&jobs, progress, |(wheel, own)| {
        let Some(rig) = rig_of(nominal, *wheel) else {
            return Ok(None);
        };
        let mut away = Vec::new();
        for chance in &chances {
            away.extend(rig.sixty_foot_s(&rig.attempt(own.aim_rad_s, chance))?);
        }
        Ok((!away.is_empty()).then(|| own.away_s - mean(&away)))
    })?;
    let errors: Vec<f64> = errors.into_iter().flatten().collect();
    let most = errors.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = errors.iter().copied().fold(f64::INFINITY, f64::min);
    Ok(((most - least).max(0.0), jobs.len() * chances.len()))
}

fn fitted_place(car: &Car) -> Option<usize> {
    let wheels = &car.flywheels;
    wheels
        .all()
        .iter()
        .position(|wheel| wheels.is_fitted(wheel))
}

/// Which wheel is cut from which; where a sheet's word on it makes no sense, all are bought.
fn reach_of(car: &Car) -> Reach {
    let wheels = car.flywheels.all();
    let place = |name: &str| wheels.iter().position(|wheel| wheel.name() == name);
    let cut_from = wheels
        .iter()
        .map(|wheel| wheel.cut_from.as_deref().and_then(place))
        .collect();
    Reach::new(cut_from).unwrap_or_else(|_| Reach::all_bought(wheels.len()))
}

fn findings(doubted: &DoubtedCar, drawn: &DrawnSheets, losses: &Losses) -> Vec<Finding> {
    if drawn.sheets.len() < BLOCKS {
        return Vec::new();
    }
    let scores: Vec<Vec<f64>> = (0..doubted.inputs().len())
        .map(|input| {
            let scores = drawn
                .sheets
                .iter()
                .filter_map(|sheet| sheet.scores.get(input));
            scores.copied().collect()
        })
        .collect();
    let mut findings: Vec<Finding> = doubted
        .inputs()
        .iter()
        .zip(of_each_input(losses, &scores))
        .enumerate()
        .map(|(input, (doubted, worth))| Finding {
            key: doubted.key.clone(),
            input,
            worth,
        })
        .collect();
    findings.sort_by(|a, b| b.worth.value_s.total_cmp(&a.worth.value_s));
    findings
}

fn wheels(
    nominal: &Car,
    reach: &Reach,
    losses: &Losses,
    evaluated: &[Vec<Evaluated>],
    stated: &[Evaluated],
    seasons: Vec<SeasonLoss>,
) -> Vec<WheelDecision> {
    nominal
        .flywheels
        .all()
        .iter()
        .zip(evaluated)
        .zip(stated)
        .zip(seasons)
        .enumerate()
        .map(|(place, (((wheel, sheets), stated), season))| {
            let (chance_best, chance_best_interval) = losses.chance_best(place);
            WheelDecision {
                name: wheel.name().to_owned(),
                cut_from: reach.cut_from(place),
                chance_best,
                chance_best_interval,
                loss_mean_s: losses.mean(place),
                loss_mean_interval_s: losses.mean_interval(place),
                loss_p95_s: losses.worst_in_20(place),
                loss_p95_interval_s: losses.worst_in_20_interval(place),
                loss_worst_s: losses.worst(place),
                counted_s: sheets.iter().map(|one| one.counted_s).collect(),
                aims_rad_s: sheets
                    .iter()
                    .enumerate()
                    .filter_map(|(sheet, one)| Some((sheet, one.own?.aim_rad_s)))
                    .collect(),
                nominal: stated.own,
                season,
            }
        })
        .collect()
}
