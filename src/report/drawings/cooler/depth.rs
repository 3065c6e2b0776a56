//! Density gain against pressure drop for other depths of the core.

use crate::plot::{
    Axis, Drawing, Layer, Line, Meaning, Naming, PlotError, Point, PointKind, Points,
};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::ASSUMED;
use crate::report::drawings::heading::{FrameOf, Heading, axis_words, rpm};
use crate::report::fields::cooler_depth::denser_beyond;
use crate::report::fields::cooler_report::CoolerReport;
use crate::study::cooler::{DepthPoint, Depths, PaysTo};

/// Density gain against pressure drop over the depth.
pub(super) fn depth(
    depths: &Depths,
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
    let end = |point: Option<&DepthPoint>| point.map_or(1.0, |point| point.factor);
    let heading = Heading {
        title: depth_title(depths),
        subtitle: format!(
            "core depths from {:.1} to {:.1} times the build's, at {}",
            end(depths.points.first()),
            end(depths.points.last()),
            rpm(report.assessment.hardest.rpm)
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
fn note(depths: &Depths, foot: &str) -> String {
    let mut note = if depths.assumed {
        format!("Assumed: {ASSUMED}")
    } else {
        "Depth is measured along the cooling side's flow.".to_owned()
    };
    if let Some(denser) = denser_beyond(depths) {
        note.push_str(&format!(
            " Past {:.1}× the density falls and rises again, to {:.3} at {:.1}×.",
            depths.pays_to.factor, denser.density_gain, denser.factor
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
    fn at(self, point: &DepthPoint) -> [f64; 2] {
        let drop = match (self, point.sink_pressure_drop) {
            (Self::Sink, Some(drop)) => drop,
            _ => point.pressure_drop,
        };
        [drop, point.density_gain]
    }
}

/// The cooling side's drop where it is known and grows with depth (a wind that drives the air holds
/// it), else the charge's.
fn cost(depths: &Depths) -> Cost {
    let drops = |point: &DepthPoint| point.sink_pressure_drop;
    let ends = (depths.points.first(), depths.points.last());
    match (ends.0.and_then(drops), ends.1.and_then(drops)) {
        (Some(first), Some(last)) if last > 1.05 * first => Cost::Sink,
        _ => Cost::Charge,
    }
}

/// The build's own depth, the one up to which more is worthwhile, and every half.
fn depth_points(depths: &Depths, cost: Cost) -> Vec<Point> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.12;
    let answer = &depths.pays_to;
    let point = |of: &DepthPoint, words: String, kind| Point {
        at: cost.at(of),
        words,
        kind,
    };
    let is_own = near(answer.factor, 1.0);
    let own_words = if is_own {
        "this build: worthwhile up to here"
    } else {
        "this build, 1.0×"
    };
    let own = depths.points.iter().filter(|point| near(point.factor, 1.0));
    let nearest = own.min_by(|a, b| {
        let away = |point: &DepthPoint| (point.factor - 1.0).abs();
        away(a).total_cmp(&away(b))
    });
    let own = nearest.map(|of| point(of, own_words.to_owned(), PointKind::StandsOut));
    let mut points: Vec<Point> = own.into_iter().collect();
    if !is_own && depths.place == PaysTo::Inside {
        let words = format!("worthwhile up to {:.1}×", answer.factor);
        points.push(point(answer, words, PointKind::StandsOut));
    }
    let halves = depths.points.iter().filter(|point| {
        let halves = 2.0 * point.factor;
        let is_taken = near(point.factor, 1.0) || near(point.factor, answer.factor);
        (halves - halves.round()).abs() < 1e-6 && !is_taken
    });
    points.extend(halves.map(|of| point(of, format!("{:.1}×", of.factor), PointKind::Plain)));
    points
}

fn depth_title(depths: &Depths) -> String {
    let factor = depths.pays_to.factor;
    match depths.place {
        PaysTo::Deepest => {
            format!("More core depth is still worthwhile at {factor:.1} times the build's")
        }
        PaysTo::Shallowest => "A core half as deep would be nearly as good".to_owned(),
        PaysTo::Inside => {
            format!("Core depth is worthwhile up to about {factor:.1} times the build's")
        }
    }
}
