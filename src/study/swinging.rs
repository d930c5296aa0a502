//! Every swung part of a car: inertia with its uncertainty, and drawing, scales and swing held
//! against one another where all three are known.

use crate::car::Car;
use crate::car::checked::InnerShare;
use crate::car::inertia::{Description, Part};
use crate::car::swing::SwingTest;
use crate::metal::swing::{
    Assumed, DrawingTrust, MASS_WITHIN_KG, SwingAnalysis, SwingFailure, SwingMeasurement, ThreeWay,
    measurement, three_way,
};
use crate::numerics::uncertainty::Measured;

/// Share of such tests whose range holds the true value.
pub const COVERAGE: f64 = 0.95;

/// What a swing test stands for in the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// It gives the part's inertia.
    ForInertia,
    /// It checks a wheel that is described otherwise.
    AsCheck,
}

impl Stands {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::ForInertia => "for_inertia",
            Self::AsCheck => "as_check",
        }
    }
}

/// A swung part as the sheet has it, ready to be worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Swung<'c> {
    /// The part.
    pub part: &'c Part,
    /// What the test is for.
    pub stands: Stands,
    /// The test as measured.
    pub measurement: SwingMeasurement,
    /// What was not told of it.
    pub assumed: Vec<Assumed>,
}

/// A swung part worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct SwungResult<'c> {
    /// The part.
    pub swung: Swung<'c>,
    /// What comes out.
    pub analysis: SwingAnalysis,
    /// Drawing, scales and swing, where the part is described by its metal.
    pub three_way: Option<ThreeWay>,
}

/// Every swing test of a sheet: crank side first, then flywheels.
pub fn swung(car: &Car) -> Vec<Swung<'_>> {
    let crank = car.crank_side.iter().map(|part| (part, None));
    let wheels = car
        .flywheels
        .all()
        .iter()
        .map(|wheel| (&wheel.part, wheel.swing_check));
    crank
        .chain(wheels)
        .flat_map(|(part, check)| swung_part(part, check))
        .collect()
}

/// The swing tests of one part: the one its inertia comes from, and the one that checks it.
pub fn swung_part(part: &Part, check: Option<SwingTest>) -> Vec<Swung<'_>> {
    let own = match &part.description {
        Description::Swing(test) => Some((*test, Stands::ForInertia)),
        _ => None,
    };
    let check = check.map(|test| (test, Stands::AsCheck));
    own.into_iter()
        .chain(check)
        .filter_map(|(test, stands)| one(part, &test, stands))
        .collect()
}

fn one<'c>(part: &'c Part, test: &SwingTest, stands: Stands) -> Option<Swung<'c>> {
    let (measurement, assumed) = measurement(test)?;
    Some(Swung {
        part,
        stands,
        measurement,
        assumed,
    })
}

/// Works a test out.
///
/// # Errors
/// When an input is out of range or nothing is left for the part.
pub fn worked_out(swung: Swung<'_>) -> Result<SwungResult<'_>, SwingFailure> {
    let analysis = swung.measurement.analyse()?;
    let three_way = swung.part.built_up().and_then(|built| {
        // The swing's own mass comes from the scales too.
        let scales = built.weighed_kg().map_or(swung.measurement.mass_kg, |kg| {
            Measured::within(kg.get(), MASS_WITHIN_KG)
        });
        let coverage = InnerShare::new(COVERAGE)?;
        let trust = DrawingTrust::default();
        Some(three_way(
            &built.computed(),
            trust,
            &scales,
            &analysis,
            coverage,
        ))
    });
    Ok(SwungResult {
        swung,
        analysis,
        three_way,
    })
}
