//! What every picture keeps to, chart or drawing.

use super::drawing;
use super::pens::{CAP_HEIGHT_EM, Colour, LEAST_TEXT_PX, Rect, text};
use super::plot::{Size, samples as charts};
use std::collections::HashSet;

pub(super) const SIZES: [Size; 3] = [Size::WIDE, Size::COLUMN, Size::PHONE];

/// Every sample is a picture; written to a folder to be looked at where the variable
/// FLYHEFT_CHART_SAMPLES names one.
#[test]
fn law_every_sample_is_a_picture() {
    let folder = std::env::var("FLYHEFT_CHART_SAMPLES").ok();
    for (form, size) in ["wide", "column", "phone"].into_iter().zip(SIZES) {
        let pictures = charts::all(size).into_iter();
        let charts = pictures.map(|(name, svg)| (format!("{name}-{form}"), svg));
        let sections = drawing::samples::all();
        for (name, svg) in charts.chain(sections) {
            assert!(svg.starts_with("<svg") && svg.contains("<title"), "{name}");
            if let Some(folder) = &folder {
                // A flywheel's name may hold what no file name may.
                let name = name.replace(['/', '<', '>'], "");
                std::fs::write(format!("{folder}/{name}.svg"), svg).unwrap();
            }
        }
    }
}

fn every_picture() -> Vec<(String, String)> {
    let mut pictures = drawing::samples::all();
    for size in SIZES.into_iter().chain([Size::new(1, 1)]) {
        for (name, svg) in charts::all(size) {
            pictures.push((format!("{name} at {size:?}"), svg));
        }
    }
    pictures
}

pub(super) fn attribute(node: &roxmltree::Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

/// What each piece of text covers, by the widths the layout reckons with.
pub(super) fn text_boxes(svg: &str) -> Vec<(String, Rect)> {
    let document = roxmltree::Document::parse(svg).unwrap();
    document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(|node| {
            let text = node.text().unwrap_or_default().to_owned();
            let size = attribute(&node, "font-size");
            let width = if node.attribute("font-weight").is_some() {
                text::BOLD_SHARE * text::width(&text, size)
            } else {
                text::width(&text, size)
            };
            let (x, baseline) = (attribute(&node, "x"), attribute(&node, "y"));
            let left = match node.attribute("text-anchor") {
                Some("middle") => x - width / 2.0,
                Some("end") => x - width,
                _ => x,
            };
            let top = baseline - size * CAP_HEIGHT_EM;
            (text, Rect::new(left, top, left + width, baseline))
        })
        .collect()
}

#[test]
fn law_every_picture_is_sound_xml_with_a_text_alternative() {
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"), "{name}");
        let first: Vec<&str> = root
            .children()
            .filter(roxmltree::Node::is_element)
            .take(2)
            .map(|node| node.tag_name().name())
            .collect();
        assert_eq!(first, ["title", "desc"], "{name}");
    }
}

#[test]
fn law_no_two_labels_overlap_and_none_leaves_the_picture() {
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        let root = document.root_element();
        let size = (attribute(&root, "width"), attribute(&root, "height"));
        // Coordinates are rounded to a hundredth.
        let picture = Rect::new(0.0, 0.0, size.0, size.1).grown(0.02);
        let boxes = text_boxes(&svg);
        for (nth, (text, area)) in boxes.iter().enumerate() {
            assert!(area.within(&picture), "{name}: {text:?} at {area:?}");
            for (other, ground) in boxes.iter().skip(nth + 1) {
                assert!(
                    !area.grown(-0.02).overlaps(ground),
                    "{name}: {text:?} at {area:?} on {other:?} at {ground:?}"
                );
            }
        }
    }
}

#[test]
fn law_no_text_is_smaller_than_a_phone_shows_well() {
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        for node in document.descendants().filter(|n| n.has_tag_name("text")) {
            assert!(attribute(&node, "font-size") >= LEAST_TEXT_PX, "{name}");
        }
    }
}

#[test]
fn law_a_picture_holds_no_script_and_no_reference_outward() {
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            let tag = node.tag_name().name();
            let known = ["svg", "title", "desc", "path", "circle", "text"];
            assert!(known.contains(&tag), "{name}: {tag}");
            for attribute in node.attributes() {
                let (key, value) = (attribute.name(), attribute.value());
                let outward = key.starts_with("on") || key == "href" || key == "style";
                assert!(!outward && !value.contains("url("), "{name}: {key}={value}");
            }
        }
    }
}

#[test]
fn law_every_colour_is_of_the_closed_list() {
    let listed: HashSet<String> = Colour::all()
        .iter()
        .map(|(_, colour)| colour.to_string())
        .collect();
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        for node in document.descendants() {
            for key in ["fill", "stroke"] {
                let Some(colour) = node.attribute(key).filter(|it| *it != "none") else {
                    continue;
                };
                assert!(listed.contains(colour), "{name}: {colour}");
            }
        }
    }
}

#[test]
fn law_numbers_have_two_decimals_at_most() {
    for (name, svg) in every_picture() {
        let document = roxmltree::Document::parse(&svg).unwrap();
        for node in document.descendants() {
            for attribute in node.attributes() {
                let value = attribute.value();
                assert!(!value.contains("NaN") && !value.contains("inf"), "{name}");
                for number in value.split(|c: char| !(c.is_ascii_digit() || c == '.')) {
                    let decimals = number.split_once('.').map_or(0, |(_, after)| after.len());
                    assert!(decimals <= 2, "{name}: {number}");
                }
            }
        }
    }
}

#[test]
fn law_the_same_data_give_the_same_bytes() {
    assert_eq!(every_picture(), every_picture());
}
