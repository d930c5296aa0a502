//! A starter sheet with its torque curve: invented, commented, ready to run.

/// Name of the starter sheet's torque file; the sheet looks for it beside itself.
pub const TORQUE_FILE: &str = "torque.csv";

/// Text of the starter sheet.
pub const SHEET: &str = include_str!("starter/car.toml");

/// Text of its torque file.
pub const TORQUE: &str = include_str!("starter/torque.csv");

/// A car to start from, all of it invented.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Starter {
    /// A rear-drive coupe that shows most of what a sheet can say.
    Usual,
    /// A light rear-drive two-seater.
    LightRear,
    /// A heavy rear-drive saloon.
    HeavyRear,
    /// A front-drive hatchback.
    Front,
}

impl Starter {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Usual, Self::LightRear, Self::HeavyRear, Self::Front];

    /// Text of its sheet.
    pub const fn sheet(self) -> &'static str {
        match self {
            Self::Usual => SHEET,
            Self::LightRear => include_str!("starter/light-rear.toml"),
            Self::HeavyRear => include_str!("starter/heavy-rear.toml"),
            Self::Front => include_str!("starter/front.toml"),
        }
    }

    /// Text of its torque file.
    pub const fn torque(self) -> &'static str {
        match self {
            Self::Usual => TORQUE,
            Self::LightRear => include_str!("starter/light-rear.csv"),
            Self::HeavyRear => include_str!("starter/heavy-rear.csv"),
            Self::Front => include_str!("starter/front.csv"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet;

    #[test]
    fn law_every_starter_reads_without_error_or_warning() {
        for starter in Starter::ALL {
            let folder = tempfile::tempdir().unwrap();
            std::fs::write(folder.path().join(TORQUE_FILE), starter.torque()).unwrap();
            let path = folder.path().join("car.toml");
            std::fs::write(&path, starter.sheet()).unwrap();
            let reading = sheet::read(&path).unwrap_or_else(|refusal| panic!("{refusal}"));
            assert_eq!(reading.warnings, vec![], "{starter:?}");
            assert!(reading.car.flywheels.all().len() >= 2);
            assert!(reading.car.title.contains("invented"));
            assert!(starter.torque().contains("Invented"));
            assert!(starter.sheet().starts_with("#:schema "), "{starter:?}");
        }
    }
}
