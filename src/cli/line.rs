//! `line`: the operating line as table, findings and drawings.

use super::failure::Failure;
use super::options::{Format, LineOptions};
use super::write::Folder;
use super::{Done, load, view};
use crate::finding::{self, Extra, Finding};
use crate::matching::{Installation, Layout, LayoutError, Match, Solver};
use crate::report::{
    self, HandOverView, LineView, PointView, RowView, caution, csv, drawings, json,
};
use crate::study::{self, HandOverDirection, Line};

/// Solves the line and shows it.
pub(super) fn run(options: &LineOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let loaded = load::build(
        options.build.as_deref(),
        &common.set,
        options.map.as_deref(),
    )?;
    let installation = &loaded.installation;
    let fault = |fault: LayoutError| loaded.fault(&fault);
    let layout = Solver::new(installation).map_err(fault)?.layout().clone();
    let line = study::run(installation).map_err(fault)?;
    let findings = study::findings(installation, &layout, &line);
    let view = line_view(installation, &layout, &line, &findings)?;
    let system = common.units.into();
    let text = match common.format {
        Format::Text => {
            let mut text = report::line_text(&view, system);
            let matches = line
                .points
                .iter()
                .filter_map(|point| point.outcome.as_ref().ok());
            text.push_str(&report::pulley_text(installation, &layout, matches, system));
            text.push_str(&report::findings_text(&layout, &findings, system));
            text.push_str(caution::CAUTION);
            text.push('\n');
            text
        }
        Format::Json => json::write(&view)?,
        Format::Csv => csv::write(&view.points)?,
    };
    let unsolved = line
        .points
        .iter()
        .filter(|point| point.outcome.is_err())
        .count();
    if unsolved == line.points.len() {
        return Err(
            Failure::new(format!("{}: no speed of the line has a match", loaded.name))
                .with_result(text),
        );
    }
    if common.format == Format::Text || common.out.is_some() {
        let mut folder = Folder::new(common.out.as_deref());
        for (name, drawing) in drawings::of_line(installation, &layout, &line, system)? {
            folder.add(&name, drawing);
        }
        folder
            .write()
            .map_err(|failure| failure.with_result(text.clone()))?;
    }
    let strict_failure = common.strict && (unsolved > 0 || view::is_strict_failure(&findings));
    Ok(Done {
        text,
        strict_failure,
    })
}

fn point_view(
    installation: &Installation,
    layout: &Layout,
    found: &Match,
    extra: &Extra,
) -> Result<PointView, Failure> {
    let findings = finding::of_match(installation, layout, found, extra);
    view::point(layout, found, extra.steepness, &findings)
}

fn line_view(
    installation: &Installation,
    layout: &Layout,
    line: &Line,
    findings: &[Finding],
) -> Result<LineView, Failure> {
    let mut points = Vec::with_capacity(line.points.len());
    for point in &line.points {
        points.push(match &point.outcome {
            Ok(found) => RowView::Point(Box::new(point_view(
                installation,
                layout,
                found,
                &point.extra,
            )?)),
            Err(fault) => RowView::Error {
                rpm: point.rpm,
                error: fault.to_string(),
            },
        });
    }
    let hand_over = line.hand_over.iter().map(|hand_over| HandOverView {
        rpm: hand_over.rpm,
        direction: match hand_over.direction {
            HandOverDirection::ToTurbo => "to_turbo",
            HandOverDirection::ToSupercharger => "to_supercharger",
        },
    });
    Ok(LineView {
        title: installation.title.clone(),
        caution: caution::CAUTION,
        hand_over: hand_over.collect(),
        points,
        findings: view::views(layout, findings),
    })
}
