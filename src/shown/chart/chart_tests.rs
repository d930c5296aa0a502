use super::*;

/// Writes every sample where the variable says, to be looked at.
#[test]
#[ignore = "writes files to look at; set FLYHEFT_CHART_SAMPLES to a folder"]
fn write_samples() {
    let folder = std::env::var("FLYHEFT_CHART_SAMPLES").unwrap();
    for (form, size) in [
        ("wide", Size::WIDE),
        ("column", Size::COLUMN),
        ("phone", Size::PHONE),
    ] {
        for (name, svg) in [
            ("window", samples::window_chart().svg(size).unwrap()),
            ("trace", samples::trace_chart().svg(size).unwrap()),
        ] {
            std::fs::write(format!("{folder}/{name}-{form}.svg"), svg).unwrap();
        }
    }
}
