//! Draws that no launch can be made of: kept between stall speed and limiter, by every way to a
//! figure.

use super::table::{Aimed, share_won};
use super::toy::{Toy, law};
use super::toy_tests::{CARS, wheels};
use crate::car::constants::RAD_S_PER_RPM;

/// Draws above the limiter are launched at the limiter: with it half a deviation above the aim,
/// and everything beyond dear, the mean is that of clipped draws.
#[test]
fn reference_draws_are_clipped_at_the_limiter() {
    let (light, _) = wheels(&CARS[0]);
    let mut clipped = Toy {
        kink: (4700.0, 0.0, 3.0),
        ..light
    };
    clipped.law.highest_rad_s = 4700.0 * RAD_S_PER_RPM;
    let table = clipped.table(3);
    let (aim, sd) = (4570.0 * RAD_S_PER_RPM, clipped.law.launch_sd_rad_s);
    let told = table.at(aim, sd).mean_s;
    let truth = clipped.mean_s(4570.0, 260.0);
    let unclipped = Toy {
        law: law(260.0),
        ..clipped
    }
    .mean_s(4570.0, 260.0);
    assert!((told - truth).abs() < 2e-4, "{told} for {truth}");
    assert!(unclipped - truth > 0.05, "{unclipped} {truth}");
}

/// So are the launches that a pair is held against: the lighter gains on the heavier all the way
/// up, and would pass it 100 rpm above the limiter. It wins nothing, where with the limiter far
/// away it would win one in ten at least.
#[test]
fn reference_launches_won_are_clipped_at_the_limiter() {
    let (_, heavy) = wheels(&CARS[0]);
    let mut heavy = Toy {
        kink: (9000.0, 0.0, 0.0),
        ..heavy
    };
    heavy.law.highest_rad_s = 4700.0 * RAD_S_PER_RPM;
    let light = Toy {
        quickest_s: 1.984,
        best_rpm: 5200.0,
        bend_s: 0.16,
        ..heavy
    };
    let (aim_rpm, sd_rpm) = (4570.0, 260.0);
    let tables = [light.table(3), heavy.table(3)];
    let [one, other] = tables.each_ref().map(|table| Aimed {
        table,
        aim_rad_s: aim_rpm * RAD_S_PER_RPM,
        sd_rad_s: sd_rpm * RAD_S_PER_RPM,
    });
    let told = share_won(&one, &other).value;
    let both = ((aim_rpm, aim_rpm), (sd_rpm, sd_rpm));
    assert!(light.won(both.0, both.1, &heavy) < 1e-9);
    assert!(told < 1e-9, "{told}");
    let [free, free_heavy] = [light, heavy].map(|toy| Toy {
        law: law(200.0),
        ..toy
    });
    let unclipped = free.won(both.0, both.1, &free_heavy);
    assert!(unclipped > 0.1, "{unclipped}");
}

/// A draw is launched no lower than the stall speed, no higher than the limiter, and with no less
/// than three tenths of the grip, however far out its chances lie.
#[test]
fn law_a_drawn_attempt_is_one_that_can_be_made() {
    let law = law(200.0);
    for speed in [-1e4, 0.0, 600.0, 1e4] {
        let speed_rad_s = speed * RAD_S_PER_RPM;
        let attempt = law.attempt(speed_rad_s, 0.0, -40.0);
        let kept = attempt.launch_speed_rad_s;
        assert!((law.lowest_rad_s..=law.highest_rad_s).contains(&kept));
        let inside = (law.lowest_rad_s..=law.highest_rad_s).contains(&speed_rad_s);
        assert_eq!(inside, (kept - speed_rad_s).abs() < 1e-12, "{speed} rpm");
        assert!(attempt.grip_factor >= 0.3, "{}", attempt.grip_factor);
    }
}
