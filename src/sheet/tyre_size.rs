//! A tyre's size designation, `185/60 R14`, and the radius that follows from it.
//!
//! ISO 4000-1, from memory: the design overall diameter is the nominal rim diameter plus twice
//! the design section height; the height is the nominal section width times the aspect ratio,
//! rounded to a millimetre; the rim code counts inches, its nominal diameter rounded to a
//! millimetre.

/// Share of the section height by which a loaded tyre's radius is less than its design radius,
/// where the sheet is silent: between a rolling tyre's and a standing one's. Common practice, no
/// source.
pub(in crate::sheet) const USUAL_DEFLECTION: f64 = 0.15;

/// A size designation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    section_width_mm: f64,
    aspect_percent: f64,
    rim_inches: f64,
}

impl Size {
    /// Reads a designation; the letter of the construction and what stands behind the rim code
    /// (load index, speed symbol) do not matter.
    ///
    /// # Errors
    /// With what would be right.
    pub(super) fn parse(text: &str) -> Result<Self, &'static str> {
        const FORM: &str = "a size is written such as \"185/60 R14\": section width in mm, aspect ratio in per cent, rim diameter in inches";
        let text = text.trim();
        let text = text.strip_prefix(['P', 'p']).unwrap_or(text);
        let (width, rest) = text.split_once('/').ok_or(FORM)?;
        let digits = rest.chars().take_while(char::is_ascii_digit).count();
        let aspect = rest.get(..digits).unwrap_or_default();
        let rim = rest.get(digits..).unwrap_or_default();
        let rim =
            rim.trim_start_matches(|c: char| c.is_ascii_alphabetic() || matches!(c, ' ' | '-'));
        let digits = rim
            .chars()
            .take_while(|c| c.is_ascii_digit() || *c == '.')
            .count();
        let number = |text: &str| text.trim().parse::<f64>().map_err(|_| FORM);
        let size = Self {
            section_width_mm: number(width)?,
            aspect_percent: number(aspect)?,
            rim_inches: number(rim.get(..digits).unwrap_or_default())?,
        };
        let usual = (60.0..=500.0).contains(&size.section_width_mm)
            && (20.0..=100.0).contains(&size.aspect_percent)
            && (8.0..=30.0).contains(&size.rim_inches);
        usual.then_some(size).ok_or(FORM)
    }

    fn section_height_m(&self) -> f64 {
        (self.section_width_mm * self.aspect_percent / 100.0).round() / 1000.0
    }

    /// Half of the design overall diameter, m.
    pub(super) fn design_radius_m(&self) -> f64 {
        const MM_PER_INCH: f64 = 25.4;
        let rim_m = (self.rim_inches * MM_PER_INCH).round() / 1000.0;
        rim_m / 2.0 + self.section_height_m()
    }

    /// Radius under load, m, with this share of the section height pressed in.
    pub(super) fn loaded_radius_m(&self, deflection: f64) -> f64 {
        self.design_radius_m() - deflection * self.section_height_m()
    }

    /// The same with the usual deflection.
    pub(super) fn usual_radius_m(&self) -> f64 {
        self.loaded_radius_m(USUAL_DEFLECTION)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Design overall diameters of the standard's tables (from memory): 185/60 R14 578 mm,
    /// 205/55 R16 632 mm, 195/50 R15 577 mm, 175/70 R13 576 mm.
    #[test]
    fn reference_design_diameters() {
        for (text, diameter_m) in [
            ("185/60 R14", 0.578),
            ("205/55R16 91V", 0.632),
            ("195/50 R 15", 0.577),
            ("P175/70 R13", 0.576),
        ] {
            let size = Size::parse(text).unwrap();
            assert_relative_eq!(
                2.0 * size.design_radius_m(),
                diameter_m,
                max_relative = 1e-12
            );
        }
    }

    #[test]
    fn law_what_is_no_size_is_refused() {
        for text in [
            "",
            "185",
            "185/60",
            "R14",
            "18/60 R14",
            "185/60 R140",
            "185-60-14",
        ] {
            assert!(Size::parse(text).is_err(), "{text}");
        }
    }
}
