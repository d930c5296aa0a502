//! What every page carries: its style sheet, its script, and the policy that allows just these.

use super::dark;
use crate::units::System;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// The style sheet, without the rules for dark charts.
pub(super) const STYLE: &str = include_str!("templates/page.css");

/// A page's style sheet, script and policy.
#[derive(Debug)]
pub(super) struct Shell {
    pub(super) title: String,
    pub(super) style: String,
    pub(super) script: &'static str,
    pub(super) policy: String,
    pub(super) imperial: bool,
    pub(super) version: &'static str,
}

impl Shell {
    /// A shell with a script, showing one system of units at first.
    pub(super) fn new(title: &str, script: &'static str, system: System) -> Self {
        let style = format!("{STYLE}{}", dark::rules());
        let script_source = if script.is_empty() {
            String::new()
        } else {
            format!("; script-src '{}'", source(script))
        };
        let policy = format!(
            "default-src 'none'; style-src '{}'{script_source}; base-uri 'none'; form-action 'none'",
            source(&style)
        );
        Self {
            title: title.to_owned(),
            style,
            script,
            policy,
            imperial: system == System::Imperial,
            version: env!("CARGO_PKG_VERSION"),
        }
    }
}

/// A hash source of a content-security policy (W3C, Content Security Policy Level 3, 2.3.1).
pub(super) fn source(text: &str) -> String {
    format!(
        "sha256-{}",
        STANDARD.encode(Sha256::digest(text.as_bytes()))
    )
}

/// JSON that may stand inside a script element: no `<` that could close it.
pub(super) fn within_script(json: &str) -> String {
    json.replace('<', "\\u003c")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SHA-256 of the empty text (FIPS 180-4 example value), in base 64.
    #[test]
    fn reference_hash_source_of_nothing() {
        assert_eq!(
            source(""),
            "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU="
        );
    }

    #[test]
    fn law_data_cannot_close_its_script() {
        assert!(!within_script("{\"a\":\"</script><b>\"}").contains('<'));
    }
}
