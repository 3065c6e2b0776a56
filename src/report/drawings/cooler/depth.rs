//! Density gain against pressure drop for other depths of the core.

use crate::plot::{
    Axis, Drawing, Layer, Line, Meaning, Naming, PlotError, Point, PointKind, Points,
};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::text::ASSUMED;
use crate::report::drawings::heading::{FrameOf, Heading, axis_words, rpm};
use crate::report::{CoolerReport, DepthView, DepthsView};

/// Density gain against pressure drop over the depth.
pub(super) fn depth(
    depths: &DepthsView,
    report: &CoolerReport,
    foot: &str,
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let cost = cost(depths);
    let side = match (cost, report.sink) {
        (Cost::Charge, _) => "pressure drop of the charge",
        (Cost::Sink, "water") => "pressure drop of the water",
        (Cost::Sink, _) => "pressure drop of the cooling air",
    };
    let end = |point: Option<&DepthView>| point.map_or(1.0, |point| point.depth_factor);
    let heading = Heading {
        title: depth_title(depths),
        subtitle: format!(
            "core depths from {:.1} to {:.1} times the build's, at {}",
            end(depths.points.first()),
            end(depths.points.last()),
            rpm(report.hardest.rpm)
        ),
        note: note(depths, foot),
    };
    let drop = Axis {
        words: &axis_words(side, Kind::PressureDifference, system),
        shown: &|si| reader_value(si, Kind::PressureDifference, system),
    };
    let line = depths.points.iter().map(|point| cost.at(point)).collect();
    let layers = vec![
        Layer::Line(Line::plain(
            "depths",
            Meaning::Together,
            Naming::Elsewhere,
            line,
        )),
        Layer::Points(Points {
            meaning: Meaning::Together,
            gap: 0.0,
            name_gap: 0.0,
            points: depth_points(depths, cost),
        }),
    ];
    let name = "charge density, outlet over inlet";
    heading.over(drop, vec![FrameOf::new(name, Kind::Number, layers)], system)
}

/// What was found, above what the depths rest on.
fn note(depths: &DepthsView, foot: &str) -> String {
    let mut note = if depths.assumed {
        format!("Assumed: {ASSUMED}")
    } else {
        "Depth is measured along the cooling side's flow.".to_owned()
    };
    if let Some(denser) = depths.denser_beyond() {
        note.push_str(&format!(
            " Past {:.1}× the density falls and rises again, to {:.3} at {:.1}×.",
            depths.pays_to.depth_factor, denser.density_gain, denser.depth_factor
        ));
    }
    match foot.rsplit_once('\n') {
        Some((findings, _)) => format!("{findings}\n{note}"),
        None => note,
    }
}

/// The side whose pressure drop stands for what depth costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cost {
    Charge,
    Sink,
}

impl Cost {
    fn at(self, point: &DepthView) -> [f64; 2] {
        let drop = match (self, point.sink_pressure_drop_pa) {
            (Self::Sink, Some(drop)) => drop,
            _ => point.pressure_drop_pa,
        };
        [drop, point.density_gain]
    }
}

/// The cooling side's drop where it is known and grows with depth (a wind that drives the air holds
/// it), else the charge's.
fn cost(depths: &DepthsView) -> Cost {
    let drops = |point: &DepthView| point.sink_pressure_drop_pa;
    let ends = (depths.points.first(), depths.points.last());
    match (ends.0.and_then(drops), ends.1.and_then(drops)) {
        (Some(first), Some(last)) if last > 1.05 * first => Cost::Sink,
        _ => Cost::Charge,
    }
}

/// The build's own depth, the one up to which more is worthwhile, and every half.
fn depth_points(depths: &DepthsView, cost: Cost) -> Vec<Point> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.12;
    let answer = &depths.pays_to;
    let point = |of: &DepthView, words: String, kind| Point {
        at: cost.at(of),
        words,
        kind,
    };
    let is_own = near(answer.depth_factor, 1.0);
    let own_words = if is_own {
        "this build: worthwhile up to here"
    } else {
        "this build, 1.0×"
    };
    let own = depths
        .points
        .iter()
        .filter(|point| near(point.depth_factor, 1.0));
    let nearest = own.min_by(|a, b| {
        let away = |point: &DepthView| (point.depth_factor - 1.0).abs();
        away(a).total_cmp(&away(b))
    });
    let own = nearest.map(|of| point(of, own_words.to_owned(), PointKind::StandsOut));
    let mut points: Vec<Point> = own.into_iter().collect();
    if !is_own && depths.place == "inside" {
        let words = format!("worthwhile up to {:.1}×", answer.depth_factor);
        points.push(point(answer, words, PointKind::StandsOut));
    }
    let halves = depths.points.iter().filter(|point| {
        let halves = 2.0 * point.depth_factor;
        let is_taken =
            near(point.depth_factor, 1.0) || near(point.depth_factor, answer.depth_factor);
        (halves - halves.round()).abs() < 1e-6 && !is_taken
    });
    points.extend(halves.map(|of| point(of, format!("{:.1}×", of.depth_factor), PointKind::Plain)));
    points
}

fn depth_title(depths: &DepthsView) -> String {
    let factor = depths.pays_to.depth_factor;
    match depths.place {
        "deepest" => {
            format!("More core depth is still worthwhile at {factor:.1} times the build's")
        }
        "shallowest" => "A core half as deep would nearly do".to_owned(),
        _ => format!("Core depth is worthwhile up to about {factor:.1} times the build's"),
    }
}
