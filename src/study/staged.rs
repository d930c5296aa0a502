//! A staged plan: passes in an order in which the car can be run between them, what each stage
//! must show at the strip, and how many launches it takes to see it.
//!
//! Metal that is off stays off. So the pass that takes off most inertia comes first: it is the
//! one whose effect is seen soonest, and if the strip does not show it, the rest is not cut.

use super::comparison::Comparison;
use super::scatter::pairs::Verdict;
use crate::car::inertia::BuiltUp;
use crate::car::machining::{Pass, ShopRules};
use crate::metal::cut::apply_all;
use crate::numerics::Interval;
use crate::numerics::quantile::normal_errors;

/// Launches on each side of a stage beyond which nobody can be expected to see a difference:
/// five days at the strip of ten launches each. Common practice, no source.
pub const MOST_SENSIBLE_LAUNCHES: u32 = 50;

/// In which order the passes of a plan come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// The pass that takes off most inertia first.
    MostFirst,
    /// As they were given: in another order the shop would not make them.
    AsGiven,
}

impl Order {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::MostFirst => "most_inertia_first",
            Self::AsGiven => "as_given",
        }
    }
}

/// How many launches before and after a cut show its effect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Visible {
    /// This many before and as many after, at which a difference as computed is as likely as not
    /// to stand outside the 95 % interval of chance.
    With(u32),
    /// More than [`MOST_SENSIBLE_LAUNCHES`].
    NotSensibly,
    /// The computed difference is itself no larger than its error.
    NoDifference,
}

impl Visible {
    /// What programs know it by.
    pub const fn id(self) -> &'static str {
        match self {
            Self::With(_) => "yes",
            Self::NotSensibly => "not_sensibly",
            Self::NoDifference => "no_difference",
        }
    }
}

/// What one stage must show at the strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// Mean sixty-foot time after the stage less that before it, each at its own aim, s.
    pub mean_change_s: f64,
    /// 95 % interval of that change, by the draws.
    pub interval_s: Interval,
    /// Standard deviation of sixty-foot time, before and after pooled, s.
    pub sd_s: f64,
    /// How many launches show it.
    pub visible: Visible,
}

/// The passes in the order of a plan. An order that the shop would refuse is not taken.
pub fn ordered(part: &BuiltUp, passes: &[Pass], rules: &ShopRules) -> (Vec<Pass>, Order) {
    let Ok(steps) = apply_all(part, passes, rules) else {
        return (passes.to_vec(), Order::AsGiven);
    };
    let mut ranked: Vec<(f64, Pass)> = steps
        .iter()
        .map(|step| (step.taken_off().inertia_kg_m2, step.pass))
        .collect();
    ranked.sort_by(|one, other| other.0.total_cmp(&one.0));
    let ranked: Vec<Pass> = ranked.into_iter().map(|(_, pass)| pass).collect();
    match apply_all(part, &ranked, rules) {
        Ok(again) if same_end(&steps, &again) => (ranked, Order::MostFirst),
        _ => (passes.to_vec(), Order::AsGiven),
    }
}

/// Whether two orders of passes leave the same wheel: holes drilled before a band is faced may
/// not be the same as after it.
fn same_end(one: &[crate::metal::cut::CutStep], other: &[crate::metal::cut::CutStep]) -> bool {
    /// Round-off of a few hundred sums.
    const SAME_SHARE: f64 = 1e-9;
    match (one.last(), other.last()) {
        (Some(one), Some(other)) => {
            let (a, b) = (one.after.inertia_kg_m2, other.after.inertia_kg_m2);
            (a - b).abs() <= SAME_SHARE * a
        }
        _ => true,
    }
}

/// Launches of each kind that show a mean difference, both scattering by `sd_s`:
/// `n = (z √2 sd/Δ)²`, rounded up.
///
/// Source: the standard error of a difference of two means, any statistics text.
pub fn launches_to_see(change_s: f64, sd_s: f64) -> Visible {
    let exact = (normal_errors() * std::f64::consts::SQRT_2 * sd_s / change_s).powi(2);
    if !exact.is_finite() || exact > f64::from(MOST_SENSIBLE_LAUNCHES) {
        return Visible::NotSensibly;
    }
    let least = (1..=MOST_SENSIBLE_LAUNCHES).find(|count| f64::from(*count) >= exact);
    least.map_or(Visible::NotSensibly, Visible::With)
}

/// What the stages of a plan must show; compared are the wheel as it is and then after each pass. `None` for a stage where a wheel never gets to 60 ft.
pub fn stages(comparison: &Comparison) -> Vec<Option<Stage>> {
    (1..comparison.wheels().len())
        .map(|after| stage(comparison, after - 1, after))
        .collect()
}

/// What the change from one wheel studied to another shows.
pub fn stage(comparison: &Comparison, before: usize, after: usize) -> Option<Stage> {
    let held = comparison.pair_of(before, after)?;
    let pair = held.pair;
    let interval = pair.mean_difference_interval_s;
    let (mean_change_s, interval_s) = if held.lighter.index() == after {
        (pair.mean_difference_s, interval)
    } else {
        let turned = Interval {
            low: -interval.high,
            high: -interval.low,
        };
        (-pair.mean_difference_s, turned)
    };
    let [one_s, other_s] = [held.lighter, held.heavier].map(|wheel| wheel.scatter.aim.sd_s);
    let sd_s = one_s.hypot(other_s) / std::f64::consts::SQRT_2;
    Some(Stage {
        mean_change_s,
        interval_s,
        sd_s,
        visible: match pair.verdict() {
            Verdict::Undecided => Visible::NoDifference,
            _ => launches_to_see(mean_change_s, sd_s),
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::checked::NonNegative;
    use crate::car::inertia::Section;
    use crate::car::machining::{Band, BoltCircles, Face, HoleDepth};
    use crate::car::material::NamedMetal;
    use crate::car::sample::positive;

    fn disc() -> BuiltUp {
        let section = Section::new(
            NonNegative::new(0.02).unwrap(),
            positive(0.13),
            NonNegative::new(0.02).unwrap(),
            NonNegative::new(0.02).unwrap(),
        )
        .unwrap();
        let metal = NamedMetal::Steel.material().unwrap();
        BuiltUp::new(metal, vec![section], vec![], vec![], None).unwrap()
    }

    fn face(inner_m: f64, outer_m: f64) -> Pass {
        let inner = NonNegative::new(inner_m).unwrap();
        Pass::FaceBand {
            band: Band::new(inner, positive(outer_m)).unwrap(),
            depth_m: positive(0.002),
            face: Face::Engine,
        }
    }

    /// A plan begins with the pass that takes off most inertia, and leaves the same wheel.
    #[test]
    fn law_the_pass_that_does_most_comes_first() {
        let rules = ShopRules::usual(None).unwrap();
        let (near, far) = (face(0.03, 0.06), face(0.10, 0.12));
        let (passes, order) = ordered(&disc(), &[near, far], &rules);
        assert_eq!((passes, order), (vec![far, near], Order::MostFirst));
    }

    /// A blind hole under a band that is faced later is not the same hole in the other order.
    #[test]
    fn law_an_order_that_leaves_another_wheel_is_not_taken() {
        let rules = ShopRules {
            bolt_circles: BoltCircles::MayBeFaced,
            ..ShopRules::usual(None).unwrap()
        };
        let hole = Pass::Drill {
            count: std::num::NonZeroU32::new(4).unwrap(),
            diameter_m: positive(0.01),
            pitch_radius_m: positive(0.11),
            depth: HoleDepth::Blind(positive(0.010)),
        };
        let given = [hole, face(0.09, 0.125), face(0.09, 0.125)];
        let (passes, order) = ordered(&disc(), &given, &rules);
        let end = |passes: &[Pass]| {
            apply_all(&disc(), passes, &rules)
                .unwrap()
                .last()
                .unwrap()
                .after
        };
        let (one, other) = (end(&given), end(&passes));
        assert!((one.inertia_kg_m2 - other.inertia_kg_m2).abs() < 1e-12);
        assert!(order == Order::MostFirst || passes == given);
    }

    /// 1.96² · 2 · (0.05/0.02)² = 48.02: forty-nine launches; half the effect, four times as
    /// many, which nobody makes.
    #[test]
    fn reference_launches_to_see_a_difference() {
        assert_eq!(launches_to_see(-0.02, 0.05), Visible::With(49));
        assert_eq!(launches_to_see(0.01, 0.05), Visible::NotSensibly);
        assert_eq!(launches_to_see(0.0, 0.05), Visible::NotSensibly);
        assert_eq!(launches_to_see(1.0, 0.05), Visible::With(1));
    }
}
