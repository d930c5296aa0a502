//! A starter sheet with its torque curve: invented, commented, ready to run.

/// Name of the starter sheet's torque file; the sheet looks for it beside itself.
pub const TORQUE_FILE: &str = "torque.csv";

/// Text of the starter sheet.
pub const SHEET: &str = include_str!("starter/car.toml");

/// Text of its torque file.
pub const TORQUE: &str = include_str!("starter/torque.csv");

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet;

    #[test]
    fn law_the_starter_sheet_reads_without_error_or_doubt() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join(TORQUE_FILE), TORQUE).unwrap();
        let path = folder.path().join("car.toml");
        std::fs::write(&path, SHEET).unwrap();
        let reading = sheet::read(&path).unwrap_or_else(|refusal| panic!("{refusal}"));
        assert_eq!(reading.warnings, vec![]);
        assert_eq!(reading.car.flywheels.all().len(), 3);
    }
}
