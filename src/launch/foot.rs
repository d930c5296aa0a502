//! The foot of a driver who lifts: what it waits for, and where it stands meanwhile.

use crate::car::lift::Lift;
use crate::car::schedule::Ramp;

/// Where a foot rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rest {
    /// Down: ψ = 1.
    Down,
    /// Up: ψ is the lift's share.
    Up,
}

/// What the foot is doing.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Doing {
    /// Rests, and the driver listens.
    Listens,
    /// Rests still, and moves at this time, s.
    Reacts { moves_at_s: f64 },
    /// Moves to the other place, between these times, s.
    Moves { from_s: f64, to_s: f64 },
}

/// Slip speed of the tread that the driver listens for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hears {
    /// Nothing: never lifts, or a move is pending or running.
    Nothing,
    /// Its rise to this speed, m/s.
    RiseTo(f64),
    /// Its fall to this speed, m/s.
    FallTo(f64),
}

/// The foot over a launch. Crossings while a move is pending or running are not heard; at the end
/// of a move the levels themselves count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foot {
    lift: Option<Lift>,
    rests: Rest,
    doing: Doing,
}

impl Foot {
    /// A foot that is down.
    pub const fn down(lift: Option<Lift>) -> Self {
        Self {
            lift,
            rests: Rest::Down,
            doing: Doing::Listens,
        }
    }

    /// What the driver listens for now.
    pub fn hears(&self) -> Hears {
        match (&self.lift, self.doing, self.rests) {
            (Some(lift), Doing::Listens, Rest::Down) => Hears::RiseTo(lift.at_m_s()),
            (Some(lift), Doing::Listens, Rest::Up) => Hears::FallTo(lift.down_again_m_s()),
            _ => Hears::Nothing,
        }
    }

    /// The factor ψ on the throttle from now to the next corner.
    pub fn factor(&self) -> Ramp {
        let Some(lift) = &self.lift else {
            return Ramp::constant(1.0);
        };
        let (here, there) = match self.rests {
            Rest::Down => (1.0, lift.to()),
            Rest::Up => (lift.to(), 1.0),
        };
        match self.doing {
            Doing::Listens | Doing::Reacts { .. } => Ramp::constant(here),
            Doing::Moves { from_s, to_s } => Ramp {
                start_s: from_s,
                at_start: here,
                rate_per_s: (there - here) / (to_s - from_s),
            },
        }
    }

    /// Next known time at which the factor bends, s.
    pub fn next_corner_s(&self) -> Option<f64> {
        match self.doing {
            Doing::Listens => None,
            Doing::Reacts { moves_at_s } => Some(moves_at_s),
            Doing::Moves { to_s, .. } => Some(to_s),
        }
    }

    /// The driver has heard what was listened for, at a time, s: a move is pending.
    pub fn hear(&mut self, time_s: f64) {
        if let (Some(lift), Doing::Listens) = (&self.lift, self.doing) {
            self.doing = Doing::Reacts {
                moves_at_s: time_s + lift.reaction_s(),
            };
        }
    }

    /// Passes the corners that a time, s, has reached, the tread slipping at a speed in m/s; how
    /// many moves away from the floor begin at them: none or one.
    pub fn pass_corners(&mut self, time_s: f64, slip_m_s: f64) -> u32 {
        let Some(lift) = self.lift else {
            return 0;
        };
        let mut lifts = 0;
        while self.next_corner_s().is_some_and(|corner| time_s >= corner) {
            match self.doing {
                Doing::Reacts { moves_at_s } if lift.over_s() > 0.0 => {
                    lifts += u32::from(self.rests == Rest::Down);
                    self.doing = Doing::Moves {
                        from_s: moves_at_s,
                        to_s: moves_at_s + lift.over_s(),
                    };
                }
                Doing::Reacts { .. } => {
                    lifts += u32::from(self.rests == Rest::Down);
                    self.arrive(&lift, time_s, slip_m_s);
                }
                Doing::Moves { .. } => self.arrive(&lift, time_s, slip_m_s),
                Doing::Listens => {}
            }
        }
        lifts
    }

    /// The move ends: the levels count, and the next move may be pending at once.
    fn arrive(&mut self, lift: &Lift, time_s: f64, slip_m_s: f64) {
        let moves_on;
        (self.rests, moves_on) = match self.rests {
            Rest::Down => (Rest::Up, slip_m_s <= lift.down_again_m_s()),
            Rest::Up => (Rest::Down, slip_m_s >= lift.at_m_s()),
        };
        self.doing = if moves_on {
            Doing::Reacts {
                moves_at_s: time_s + lift.reaction_s(),
            }
        } else {
            Doing::Listens
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::checked::{NonNegative, Positive, Share};

    fn foot(reaction_s: f64, over_s: f64) -> Foot {
        let lift = Lift::new(
            Share::new(0.4).unwrap(),
            Positive::new(3.0).unwrap(),
            NonNegative::new(reaction_s).unwrap(),
            NonNegative::new(over_s).unwrap(),
        );
        Foot::down(lift)
    }

    fn factor_at(foot: &Foot, time_s: f64) -> f64 {
        foot.factor().at(time_s)
    }

    /// Heard at 1 s, reaction 0.2 s, move 0.1 s: down until 1.2 s, half way at 1.25 s, up at 1.3 s.
    #[test]
    fn reference_a_lift_by_the_clock() {
        let mut foot = foot(0.2, 0.1);
        assert_eq!(foot.hears(), Hears::RiseTo(3.0));
        foot.hear(1.0);
        assert_eq!(foot.hears(), Hears::Nothing);
        assert_eq!(foot.next_corner_s(), Some(1.2));
        assert_eq!(foot.pass_corners(1.2, 4.0), 1);
        assert!((factor_at(&foot, 1.25) - 0.7).abs() < 1e-12);
        assert_eq!(foot.next_corner_s(), Some(1.2 + 0.1));
        assert_eq!(foot.pass_corners(1.2 + 0.1, 2.0), 0);
        assert!((factor_at(&foot, 1.4) - 0.4).abs() < 1e-12);
        assert_eq!(foot.hears(), Hears::FallTo(1.5));
        foot.hear(2.0);
        assert_eq!(foot.pass_corners(2.2, 1.0), 0);
        assert_eq!(foot.pass_corners(2.2 + 0.1, 1.0), 0);
        assert!((factor_at(&foot, 3.0) - 1.0).abs() < 1e-12);
        assert_eq!(foot.hears(), Hears::RiseTo(3.0));
    }

    /// A crossing that came while the foot moved was not heard; at the move's end the level counts,
    /// and the next move is a full reaction away.
    #[test]
    fn law_levels_count_at_the_end_of_a_move() {
        let mut foot = foot(0.2, 0.1);
        foot.hear(1.0);
        foot.pass_corners(1.2, 4.0);
        let end_s = 1.2 + 0.1;
        foot.pass_corners(end_s, 1.5);
        assert_eq!(foot.hears(), Hears::Nothing);
        assert_eq!(foot.next_corner_s(), Some(end_s + 0.2));
    }

    /// No reaction, no time to move: the foot jumps at once, and both levels cannot hold together,
    /// so it comes to rest.
    #[test]
    fn law_a_foot_without_reaction_jumps_and_rests() {
        let mut foot = foot(0.0, 0.0);
        foot.hear(1.0);
        assert_eq!(foot.pass_corners(1.0, 3.0), 1);
        assert!((factor_at(&foot, 1.0) - 0.4).abs() < 1e-12);
        assert_eq!(foot.hears(), Hears::FallTo(1.5));
    }

    #[test]
    fn law_a_driver_who_never_lifts_hears_nothing() {
        let mut foot = Foot::down(None);
        foot.hear(1.0);
        assert_eq!(foot.hears(), Hears::Nothing);
        assert_eq!(
            (foot.next_corner_s(), foot.pass_corners(9.0, 9.0)),
            (None, 0)
        );
    }
}
