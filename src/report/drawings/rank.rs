//! Small maps side by side: each map's own drawing, set into one sheet.

use std::fmt::Write as _;

use super::map;
use super::scene::Scene;
use crate::plot::{Drawing, PlotError};
use crate::quantity::UnitSystem;
use crate::study::Ranked;

/// Maps in a row.
const IN_A_ROW: usize = 2;

/// One sheet with the drawings of all maps, best first.
pub fn of_rank(ranked: &[(&str, &Ranked)], system: UnitSystem) -> Result<String, PlotError> {
    let mut drawings = Vec::new();
    for (place, (file, one)) in ranked.iter().enumerate() {
        let scene = Scene {
            name: file,
            rows: &[],
            findings: &one.findings,
            installation: &one.installation,
            layout: &one.layout,
            line: &one.line,
            system,
        };
        let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
        drawings.extend(map::draw_ranked(
            &scene,
            &format!("{}. {name}: ", place + 1),
        )?);
    }
    Ok(sheet(&drawings))
}

/// Sets drawings into a grid, each in an inner SVG element of its own size.
fn sheet(drawings: &[Drawing]) -> String {
    let width = drawings
        .iter()
        .map(|drawing| drawing.size.0)
        .fold(1.0, f64::max);
    let height = drawings
        .iter()
        .map(|drawing| drawing.size.1)
        .fold(1.0, f64::max);
    let columns = drawings.len().clamp(1, IN_A_ROW);
    let rows = drawings.len().div_ceil(columns).max(1);
    let (whole_width, whole_height) = (width * columns as f64, height * rows as f64);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {whole_width:.0} {whole_height:.0}\">\n"
    );
    for (i, drawing) in drawings.iter().enumerate() {
        let (x, y) = (width * (i % columns) as f64, height * (i / columns) as f64);
        let body = drawing
            .svg
            .find("<svg")
            .map_or("", |start| &drawing.svg[start..]);
        let (w, h) = drawing.size;
        let placed = format!("<svg x=\"{x:.0}\" y=\"{y:.0}\" width=\"{w:.0}\" height=\"{h:.0}\" ");
        let _ = write!(out, "{}", without_size(body).replacen("<svg ", &placed, 1));
    }
    out.push_str("</svg>\n");
    out
}

/// The opening tag without its own size and style, which the sheet gives.
fn without_size(svg: &str) -> String {
    let Some(end) = svg.find('>') else {
        return svg.to_owned();
    };
    let (tag, rest) = svg.split_at(end);
    let kept: Vec<&str> = tag
        .split(' ')
        .filter(|word| {
            !["width=", "height=", "style="]
                .iter()
                .any(|own| word.starts_with(own))
        })
        .collect();
    kept.join(" ") + rest
}
