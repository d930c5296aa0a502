//! Rotating parts: one form each, sound geometry, one wheel fitted.

use crate::{accepted, edited, read, refused, refused_text, words};
use approx::assert_relative_eq;
use flyheft::car::material::Failure;

#[test]
fn law_exactly_one_form_of_inertia() {
    refused(
        "inertia = \"0.036 kg·m²\"",
        "inertia = \"0.036 kg·m²\"\nmass = \"9 kg\"",
        "|mass = \"9 kg\"",
        &["given twice over: by inertia and by mass", "keep one of"],
    );
    refused(
        "inertia = \"0.036 kg·m²\"",
        "inertia = \"0.036 kg·m²\"\nweighed = \"9 kg\"",
        "|weighed = \"9 kg\"",
        &["weighed goes with sections alone"],
    );
    refused(
        "weighed = \"7.25 kg\"",
        "mass = \"7.25 kg\"",
        "|sections = [\n  { inner = \"40 mm\", outer = \"120 mm\", thickness = \"13 mm\" },\n  { inner = \"120 mm\", outer = \"210 mm\", thickness = \"11 mm\" }",
        &["by mass and by sections", "is called weighed"],
    );
    let bare = edited(&[("inertia = \"0.036 kg·m²\"", "")]);
    let refusal = read(&bare).unwrap_err();
    let problem = &refusal.problems()[0];
    assert!(words(problem).contains("[[crank_side]] says nothing of its inertia"));
    assert!(words(problem).contains("mass and radius_of_gyration"));
    refused(
        "radius_of_gyration = \"88 mm\"",
        "",
        "|[[crank_side]]\nname = \"clutch cover",
        &["[[crank_side]] lacks radius_of_gyration"],
    );
}

#[test]
fn law_sections_are_held_to_their_form() {
    refused(
        "outer = \"210 mm\", thickness = \"11 mm\"",
        "outer = \"110 mm\", thickness = \"11 mm\"",
        "outer = |\"110 mm\"",
        &["outer = \"110 mm\" is not above inner = \"120 mm\""],
    );
    refused(
        "thickness_inner = \"10 mm\"",
        "thickness = \"9 mm\", thickness_inner = \"10 mm\"",
        "|thickness_inner = \"10 mm\"",
        &["thickness is given twice over"],
    );
    refused(
        "thickness_inner = \"10 mm\", thickness_outer = \"8 mm\"",
        "thickness_inner = \"0 mm\", thickness_outer = \"0 mm\"",
        "|{ inner = \"120 mm\", outer = \"210 mm\", thickness_inner = \"0 mm\"",
        &["no thickness at either edge"],
    );
    refused(
        "material = \"steel\"                # ",
        "# ",
        "|[[flywheel]]\nname = \"as supplied\"",
        &["lacks material"],
    );
    refused(
        "{ count = 6, diameter = \"24 mm\", circle = \"165 mm\", depth = \"9 mm\" }",
        "5",
        "\n  |5,\n]",
        &["holes takes a list of tables"],
    );
    refused(
        "{ count = 6, diameter = \"24 mm\"",
        "{ count = 900, diameter = \"24 mm\"",
        "|[\n  { inner = \"40 mm\", outer = \"120 mm\", thickness = \"13 mm\" },\n  { inner = \"120 mm\", outer = \"210 mm\", thickness_inner",
        &["holes take out more metal"],
    );
}

#[test]
fn law_an_extra_sits_on_a_ring_or_on_points() {
    let bolts =
        "{ name = \"cover bolts\", count = 6, mass = \"16 g\", circle = \"230 mm\" },           #";
    refused(
        bolts,
        "{ name = \"bolts\", mass = \"16 g\", count = 6 }, #",
        "|{ name = \"bolts\"",
        &["this extra lacks circle"],
    );
    refused(
        bolts,
        "{ name = \"bolts\", mass = \"16 g\" }, #",
        "|{ name = \"bolts\"",
        &["this extra lacks radius_of_gyration"],
    );
    refused(
        bolts,
        "{ name = \"bolts\", mass = \"16 g\", radius_of_gyration = \"100 mm\", count = 6, circle = \"200 mm\" }, #",
        "|count = 6, circle = \"200 mm\" }",
        &["place is given twice over"],
    );
}

#[test]
fn law_a_swing_test_is_held_to_its_form() {
    refused(
        "cords = 3",
        "cords = 1",
        "cords = |1",
        &["must be from 2 to 1000"],
    );
    refused(
        ", platform_period = \"2.243 s\"",
        "",
        "swing = |{ cords = 3",
        &["swing lacks platform_period"],
    );
    refused(
        "period = \"2.105 s\"",
        "period = \"0.5 s\"",
        "swing = |{ cords = 3",
        &[
            "as much inertia as platform and part together",
            "there and back",
        ],
    );
}

#[test]
fn law_materials_go_by_name_or_by_table() {
    let material = "material = \"steel\"                #";
    refused(
        material,
        "material = \"stel\" #",
        "material = |\"stel\"",
        &["did you mean \"steel\"?", "\"grey iron\""],
    );
    refused(
        material,
        "material = 7850 #",
        "material = |7850",
        &["material takes \"steel\""],
    );
    refused(
        material,
        "material = { yield = \"400 MPa\" } #",
        "material = |{ yield",
        &["material lacks density"],
    );
    refused(
        material,
        "material = { density = \"7.8 g/cm³\", poisson = 0.7 } #",
        "poisson = |0.7",
        &["from 0 to 0.5"],
    );
    refused(
        material,
        "material = { density = \"7.8 g/cm³\", yield = \"700 MPa\", tensile = \"600 MPa\" } #",
        "yield = |\"700 MPa\"",
        &["above the tensile strength"],
    );
    let table =
        "material = { name = \"chill iron\", density = \"7.3 g/cm³\", failure = \"brittle\" } #";
    let car = accepted(&[(material, table)]).car;
    let metal = car.flywheels.fitted().unwrap().material.clone().unwrap();
    assert_eq!(
        (metal.name.as_str(), metal.failure),
        ("chill iron", Failure::Brittle)
    );
    assert_relative_eq!(metal.density_kg_m3.get(), 7300.0);
}

#[test]
fn law_exactly_one_flywheel_is_fitted() {
    refused(
        "fitted = true ",
        "",
        "|[[flywheel]]\nname = \"as supplied\"",
        &["no flywheel is marked", "fitted = true"],
    );
    refused(
        "name = \"machined\"",
        "name = \"machined\"\nfitted = true",
        "\"machined\"\nfitted = |true",
        &["two flywheels are marked"],
    );
}

#[test]
fn law_two_flywheels_of_one_name_are_refused_at_both_places() {
    let text = edited(&[("name = \"machined\"", "name = \"as supplied\"")]);
    let refusal = read(&text).unwrap_err();
    let shown = refusal.render(false);
    assert!(shown.contains("two flywheels are called \"as supplied\""));
    assert!(
        shown.contains("first here") && shown.contains("this name again"),
        "{shown}"
    );
    assert_eq!(refusal.problems().len(), 1);
}

#[test]
fn law_single_brackets_for_a_flywheel_are_told() {
    let one = edited(&[]);
    let at = one.find("# The same wheel as it would be").unwrap();
    let end = one.find("[clutch]").unwrap();
    let text = format!("{}{}", &one[..at], &one[end..]).replace("[[flywheel]]\n", "[flywheel]\n");
    refused_text(
        &text,
        "|[flywheel]\n",
        &["may come again", "[[flywheel]] with double brackets"],
    );
    refused(
        "[tyre] ",
        "[[tyre]] ",
        "|[[tyre]] ",
        &["there is one tyre only", "single brackets"],
    );
}
