//! What must hold of every drawing: well-formed, finite, words inside and apart, axes over the data.

// A helper of tests fails like a test.
#![allow(clippy::unwrap_used)]

use airpath::plot::{Drawing, Rect, text_width};
use roxmltree::{Document, Node};

/// Every fault of a drawing, in words; none means that it holds.
pub fn faults(drawing: &Drawing) -> Vec<String> {
    let document = match Document::parse(&drawing.svg) {
        Ok(document) => document,
        Err(error) => return vec![format!("not well-formed: {error}")],
    };
    let root = document.root_element();
    let frame = view_box(root);
    let mut faults = Vec::new();
    for node in root.descendants().filter(Node::is_element) {
        faults.extend(number_faults(node, frame));
    }
    faults.extend(word_faults(root, frame));
    faults.extend(crossings(root));
    faults.extend(axis_faults(drawing));
    // The boxes that the layout kept free are those of the words that are written.
    let written = root
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .count();
    if written != drawing.labels.len() {
        faults.push(format!(
            "{written} texts written, {} boxes kept",
            drawing.labels.len()
        ));
    }
    faults
}

/// Stops the test when a drawing does not hold, with all that is wrong.
pub fn assert_holds(name: &str, drawing: &Drawing) {
    let faults = faults(drawing);
    assert!(faults.is_empty(), "{name}:\n{}", faults.join("\n"));
}

fn view_box(root: Node) -> Rect {
    let numbers: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split_whitespace()
        .map(|number| number.parse().unwrap())
        .collect();
    Rect {
        left: numbers[0],
        top: numbers[1],
        right: numbers[2],
        bottom: numbers[3],
    }
}

/// Numbers that are none, and places off the sheet.
fn number_faults(node: Node, frame: Rect) -> Vec<String> {
    let mut faults = Vec::new();
    for attribute in node.attributes() {
        let level = matches!(attribute.name(), "x" | "x1" | "x2" | "cx");
        let upright = matches!(attribute.name(), "y" | "y1" | "y2" | "cy");
        let list = attribute.name() == "points";
        if !(level
            || upright
            || list
            || matches!(attribute.name(), "r" | "stroke-width" | "font-size"))
        {
            continue;
        }
        for (place, number) in attribute
            .value()
            .split([' ', ','])
            .filter(|n| !n.is_empty())
            .enumerate()
        {
            let Some(value) = number.parse::<f64>().ok().filter(|value| value.is_finite()) else {
                faults.push(format!("{}: {number} is no number", attribute.name()));
                continue;
            };
            let is_level = level || (list && place % 2 == 0);
            let (low, high) = if is_level {
                (frame.left, frame.right)
            } else {
                (frame.top, frame.bottom)
            };
            if (level || upright || list) && !(low..=high).contains(&value) {
                faults.push(format!("{} {value} is off the sheet", attribute.name()));
            }
        }
    }
    faults
}

/// Words outside the frame or on each other, with boxes made from the SVG itself.
fn word_faults(root: Node, frame: Rect) -> Vec<String> {
    let boxes: Vec<(String, Rect)> = root
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(word_box)
        .collect();
    let mut faults = Vec::new();
    for (place, (words, room)) in boxes.iter().enumerate() {
        if !frame.holds(room) {
            faults.push(format!("{words:?} leaves the frame: {room:?}"));
        }
        for (other, other_room) in &boxes[place + 1..] {
            if room.overlaps(other_room) {
                faults.push(format!(
                    "{words:?} overlaps {other:?}: {room:?} {other_room:?}"
                ));
            }
        }
    }
    faults
}

/// Heavy lines (of data, limits, edges: from 2.4 sheet units on) that run through words.
fn crossings(root: Node) -> Vec<String> {
    let strokes: Vec<Vec<[f64; 2]>> = heavy_strokes(root, "").collect();
    let texts = root.descendants().filter(|node| node.has_tag_name("text"));
    let crossed = texts.map(word_box).filter(|(_, room)| {
        let pairs = strokes.iter().flat_map(|points| points.windows(2));
        pairs.map(|pair| (pair[0], pair[1])).any(|(a, b)| {
            // A tenth of the sheet unit is a pixel: every step of two looks at where the line is.
            let steps = ((b[0] - a[0]).hypot(b[1] - a[1]) / 20.0).ceil().max(1.0);
            let shares = (0..10_000_u32).map(|step| f64::from(step) / steps);
            shares.take_while(|&t| t <= 1.0).any(|t| {
                let (x, y) = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]));
                room.left < x && x < room.right && room.top < y && y < room.bottom
            })
        })
    });
    crossed
        .map(|(words, room)| format!("a line crosses {words:?}: {room:?}"))
        .collect()
}

/// The heavy lines of one colour, or of all, as points in fine pixels.
pub fn heavy_strokes<'n>(
    root: Node<'n, 'n>,
    colour: &'n str,
) -> impl Iterator<Item = Vec<[f64; 2]>> {
    let lines = root.descendants().filter(move |node| {
        let width = node
            .attribute("stroke-width")
            .and_then(|width| width.parse().ok());
        node.has_tag_name("polyline")
            && width.is_some_and(|width: f64| width >= 24.0)
            && node
                .attribute("stroke")
                .is_some_and(|own| own.contains(colour))
    });
    lines.map(|node| {
        let points = node.attribute("points").unwrap_or("").split_whitespace();
        let point = |pair: &str| {
            let (x, y) = pair.split_once(',').unwrap();
            [x.parse().unwrap(), y.parse().unwrap()]
        };
        points.map(point).collect()
    })
}

/// The box of a text whose middle is at half an x-height below `y`: capitals reach half the type
/// size above, descenders half below (0.46 and 0.50 in the font that the widths are from).
fn word_box(node: Node) -> (String, Rect) {
    let number = |name| node.attribute(name).unwrap().parse::<f64>().unwrap();
    assert_eq!(node.attribute("dy"), Some("0.5ex"));
    let words = node.text().unwrap_or("").trim().to_owned();
    let (size, bold) = (
        number("font-size"),
        node.attribute("font-weight") == Some("bold"),
    );
    let width = text_width(&words, size, bold);
    let left = match node.attribute("text-anchor") {
        Some("start") => number("x"),
        Some("middle") => number("x") - width / 2.0,
        _ => number("x") - width,
    };
    let (top, bottom) = (number("y") - 0.46 * size, number("y") + 0.5 * size);
    // A pixel of the fine raster is a tenth of a sheet unit: half of it may be rounded away.
    (
        words,
        Rect {
            left: left + 1.0,
            top: top + 1.0,
            right: left + width - 1.0,
            bottom: bottom - 1.0,
        },
    )
}

fn axis_faults(drawing: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    for axis in &drawing.axes {
        let (from, to) = axis.span;
        if !(from.is_finite() && to.is_finite() && from < to) {
            faults.push(format!("axis {:?} spans {from} to {to}", axis.words));
        }
        if let Some((low, high)) = axis.data
            && (low < from || high > to)
        {
            faults.push(format!(
                "axis {:?}: data {low} to {high} on {from} to {to}",
                axis.words
            ));
        }
    }
    faults
}
