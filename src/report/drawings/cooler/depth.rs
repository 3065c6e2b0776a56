//! Density gain against pressure drop for other depths of the core.

use super::words;
use crate::plot::{Axis, Drawing, PlotError, Trade, TradePoint};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::ASSUMED;
use crate::report::drawings::rpm;
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
    let drop_words = words(side, Kind::PressureDifference, system).replace(" difference", "");
    let drop = |si: f64| reader_value(si, Kind::PressureDifference, system);
    let mut note = if depths.assumed {
        format!("Assumed: {ASSUMED}")
    } else {
        "Depth is along the cooling side's way.".to_owned()
    };
    if let Some(denser) = denser_beyond(depths) {
        note.push_str(&format!(
            " Past {:.1}× the density falls and rises again, to {:.3} at {:.1}×.",
            depths.pays_to.factor, denser.density_gain, denser.factor
        ));
    }
    if let Some((findings, _)) = foot.rsplit_once('\n') {
        note = format!("{findings}\n{note}");
    }
    let end = |point: Option<&DepthPoint>| point.map_or(1.0, |point| point.factor);
    Trade {
        title: &depth_title(depths),
        subtitle: &format!(
            "core depths from {:.1} to {:.1} times the build's, at {}",
            end(depths.points.first()),
            end(depths.points.last()),
            rpm(report.assessment.hardest.rpm)
        ),
        note: &note,
        cost: Axis {
            words: &drop_words,
            shown: &drop,
        },
        gain: Axis {
            words: "density behind over density ahead",
            shown: &|gain| gain,
        },
        line: depths.points.iter().map(|point| cost.at(point)).collect(),
        points: depth_points(depths, cost),
    }
    .draw()
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

/// The build's own depth, the one up to which more pays, and every half.
fn depth_points(depths: &Depths, cost: Cost) -> Vec<TradePoint> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.12;
    let answer = &depths.pays_to;
    let own_words = if near(answer.factor, 1.0) {
        "this build: stops paying"
    } else {
        "this build, 1.0×"
    };
    let own = depths.points.iter().filter(|point| near(point.factor, 1.0));
    let nearest = own.min_by(|a, b| {
        let away = |point: &DepthPoint| (point.factor - 1.0).abs();
        away(a).total_cmp(&away(b))
    });
    let mut points: Vec<TradePoint> = nearest
        .map(|point| TradePoint {
            at: cost.at(point),
            words: own_words.to_owned(),
            stands_out: true,
        })
        .into_iter()
        .collect();
    if !near(answer.factor, 1.0) && depths.place == PaysTo::Inside {
        points.push(TradePoint {
            at: cost.at(answer),
            words: format!("stops paying, {:.2}×", answer.factor),
            stands_out: true,
        });
    }
    let halves = depths.points.iter().filter(|point| {
        let halves = 2.0 * point.factor;
        let taken = near(point.factor, 1.0) || near(point.factor, answer.factor);
        (halves - halves.round()).abs() < 1e-6 && !taken
    });
    points.extend(halves.map(|point| TradePoint {
        at: cost.at(point),
        words: format!("{:.1}×", point.factor),
        stands_out: false,
    }));
    points
}

fn depth_title(depths: &Depths) -> String {
    let factor = depths.pays_to.factor;
    match depths.place {
        PaysTo::Deepest => format!("More depth pays still at {factor:.1} times the build's"),
        PaysTo::Shallowest => "A core half as deep would nearly do".to_owned(),
        PaysTo::Inside => format!("More depth pays up to {factor:.2} times the build's"),
    }
}
