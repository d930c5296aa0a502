//! A driver's practice launches.

use super::checked::NonNegative;

/// One practice launch.
#[derive(Debug, Clone, PartialEq)]
pub struct PracticeLaunch {
    /// Engine speed at first bite, rad/s.
    pub speed_rad_s: f64,
    /// When it was made: a running number, or seconds of the day; only the order and the
    /// distances matter.
    pub order: Option<f64>,
    /// Name of the flywheel it was made with, where that was written down.
    pub flywheel: Option<String>,
}

/// Practice launches, in the order they were written down.
#[derive(Debug, Clone, PartialEq)]
pub struct Practice {
    /// The launches.
    pub launches: Vec<PracticeLaunch>,
}

impl Practice {
    /// The launches made with a flywheel; one without a name counts as made with it.
    pub fn with_flywheel<'a>(
        &'a self,
        name: &'a str,
    ) -> impl Iterator<Item = &'a PracticeLaunch> + 'a {
        self.launches.iter().filter(move |launch| {
            launch
                .flywheel
                .as_deref()
                .is_none_or(|made_with| made_with == name)
        })
    }

    /// Sample standard deviation (n − 1) of the launch speeds with a flywheel, rad/s; `None`
    /// with fewer than two launches.
    pub fn launch_sd_rad_s(&self, flywheel: &str) -> Option<NonNegative> {
        let speeds: Vec<f64> = self
            .with_flywheel(flywheel)
            .map(|l| l.speed_rad_s)
            .collect();
        if speeds.len() < 2 {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "a count of launches")]
        let count = speeds.len() as f64;
        let mean = speeds.iter().sum::<f64>() / count;
        let squares: f64 = speeds.iter().map(|speed| (speed - mean).powi(2)).sum();
        NonNegative::new((squares / (count - 1.0)).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// 2, 4, 4, 4, 5, 5, 7, 9: squares about the mean of 5 add up to 32, so the sample standard
    /// deviation is √(32/7) (arithmetic).
    #[test]
    fn reference_sample_standard_deviation() {
        let launches = [2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0].map(|speed_rad_s| PracticeLaunch {
            speed_rad_s,
            order: None,
            flywheel: None,
        });
        let practice = Practice {
            launches: launches.to_vec(),
        };
        let sd = practice.launch_sd_rad_s("any").unwrap();
        assert_relative_eq!(sd.get(), (32.0_f64 / 7.0).sqrt(), max_relative = 1e-15);
    }

    #[test]
    fn law_launches_with_another_flywheel_do_not_count() {
        let launch = |speed_rad_s: f64, flywheel: &str| PracticeLaunch {
            speed_rad_s,
            order: None,
            flywheel: Some(flywheel.to_owned()),
        };
        let practice = Practice {
            launches: vec![launch(1.0, "a"), launch(9.0, "b"), launch(3.0, "a")],
        };
        assert_relative_eq!(practice.launch_sd_rad_s("a").unwrap().get(), 2.0_f64.sqrt());
        assert!(practice.launch_sd_rad_s("b").is_none());
    }
}
