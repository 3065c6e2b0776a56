//! The cooler over the line, over its depth and over a timed run.

use super::{SPEED, remark, rpm};
use crate::finding::Finding;
use crate::matching::Layout;
use crate::plot::{
    Axis, Drawing, Event, Limit, PanelLines, Panels, PlotError, Series, Trade, TradePoint,
};
use crate::quantity::{Kind, UnitSystem, label, reader_value};
use crate::report::cooler::text::ASSUMED;
use crate::report::cooler::words::{figure, inside, named, time};
use crate::report::{
    CoolerPointView, CoolerReport, CoolerRowView, DepthView, DepthsView, RunRowView, RunView,
};

/// File names and SVG texts of the drawings that a cooler has; `findings` are those that concern it.
pub fn of_cooler(
    report: &CoolerReport,
    layout: &Layout,
    findings: &[Finding],
    system: UnitSystem,
) -> Result<Vec<(String, String)>, PlotError> {
    let note = remark::with_worst(findings, layout, system, note(report));
    let mut drawings = vec![("cooler.svg", line(report, &note, system)?)];
    if let Some(depths) = &report.depths {
        drawings.push(("cooler_depth.svg", depth(depths, report, system)?));
    }
    if let Some(run) = &report.run {
        drawings.push(("soak.svg", soak(run, report, system)?));
    }
    let named = drawings.into_iter();
    Ok(named
        .map(|(name, drawing)| (name.to_owned(), drawing.svg))
        .collect())
}

/// Name and unit of an axis.
fn words(name: &str, kind: Kind, system: UnitSystem) -> String {
    format!("{name}, {}", label(kind, system))
}

/// What stands under every drawing.
fn note(report: &CoolerReport) -> &'static str {
    if report.title.to_lowercase().contains("invented") {
        "Estimate for an invented build."
    } else {
        "Estimate; see the cautions with the table."
    }
}

/// The level that the charge must not pass.
fn target(report: &CoolerReport, system: UnitSystem) -> Vec<Limit> {
    let limit = report.target.as_ref().map(|target| {
        let at = target.charge_temperature_k;
        Limit {
            at,
            words: format!("target {}", figure(at, Kind::Temperature, system)),
        }
    });
    limit.into_iter().collect()
}

/// Temperatures closer than this are drawn as one line, K.
const SAME: f64 = 0.05;

/// Effectiveness and outlet temperature over the line.
fn line(report: &CoolerReport, note: &str, system: UnitSystem) -> Result<Drawing, PlotError> {
    let series = |name: &str, value: fn(&CoolerPointView) -> f64| {
        let rows = report.points.iter().map(|row| match row {
            CoolerRowView::Point(point) => (point.rpm, Some(value(point))),
            CoolerRowView::Error { rpm, .. } => (*rpm, None),
        });
        Series::from_rows(name, rows)
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let percent = |share: f64| 100.0 * share;
    let temperature_words = words("temperature", Kind::Temperature, system);
    let behind = |p: &CoolerPointView| p.outlet_temperature_k;
    let in_manifold = |p: &CoolerPointView| p.engine.charge_temperature_k;
    let apart = report.points.iter().any(|row| match row {
        CoolerRowView::Point(point) => (behind(point) - in_manifold(point)).abs() > SAME,
        CoolerRowView::Error { .. } => false,
    });
    let mut limits = target(report, system);
    if apart {
        for limit in &mut limits {
            limit.words.push_str(" in the manifold");
        }
    }
    let mut temperatures = vec![series("behind the cooler", behind)];
    if apart {
        temperatures.push(series("in the manifold", in_manifold));
    }
    let cooling = if report.sink == "water" {
        "water in"
    } else {
        "cooling air in"
    };
    temperatures.push(series(cooling, |p| p.sink_inlet_temperature_k));
    Panels {
        title: &line_title(report, system),
        subtitle: "the charge cooler over the line at full load",
        note,
        x: SPEED,
        panels: vec![
            PanelLines {
                y: Axis {
                    words: "effectiveness, %",
                    shown: &percent,
                },
                series: vec![series("this cooler", |p| p.effectiveness)],
                limits: needed(report),
            },
            PanelLines {
                y: Axis {
                    words: &temperature_words,
                    shown: &temperature,
                },
                series: temperatures,
                limits,
            },
        ],
        events: vec![Event {
            at: report.hardest.rpm,
            words: format!("most heat, {}", rpm(report.hardest.rpm)),
        }],
    }
    .draw()
}

/// The effectiveness that would do, where it is more than there is.
fn needed(report: &CoolerReport) -> Vec<Limit> {
    let size = report
        .sizes
        .iter()
        .find(|size| size.what == "effectiveness");
    let needed = size.and_then(|size| size.needed.filter(|&needed| needed > size.have));
    let limit = needed.map(|at| Limit {
        at,
        words: format!("needed {:.1} %", 100.0 * at),
    });
    limit.into_iter().collect()
}

fn line_title(report: &CoolerReport, system: UnitSystem) -> String {
    let hottest = &report.hottest;
    let reaches = format!(
        "the charge reaches {} at {}",
        figure(
            hottest.engine.charge_temperature_k,
            Kind::Temperature,
            system
        ),
        rpm(hottest.rpm)
    );
    match report.target.as_ref() {
        None => format!("With {} {reaches}", inside(&report.cooler)),
        Some(target) => match (target.verdict, target.short_by) {
            ("enough", _) => format!("{} is enough: {reaches}", named(&report.cooler)),
            ("short", Some(short)) => format!(
                "{} is short by {}: {reaches}",
                named(&report.cooler),
                figure(short, Kind::Share, system)
            ),
            ("better without", _) => {
                format!("{} warms the charge: {reaches}", named(&report.cooler))
            }
            _ => format!("No finite {} is enough: {reaches}", report.cooler),
        },
    }
}

/// Density gain against pressure drop over the depth.
fn depth(
    depths: &DepthsView,
    report: &CoolerReport,
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
    if let Some(denser) = depths.denser_beyond() {
        note.push_str(&format!(
            " Past {:.1}× the density falls and rises again, to {:.3} at {:.1}×.",
            depths.pays_to.depth_factor, denser.density_gain, denser.depth_factor
        ));
    }
    let end = |point: Option<&DepthView>| point.map_or(1.0, |point| point.depth_factor);
    Trade {
        title: &depth_title(depths),
        subtitle: &format!(
            "core depths from {:.1} to {:.1} times the build's, at {}",
            end(depths.points.first()),
            end(depths.points.last()),
            rpm(report.hardest.rpm)
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

/// The build's own depth, the one up to which more pays, and every half.
fn depth_points(depths: &DepthsView, cost: Cost) -> Vec<TradePoint> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.12;
    let answer = &depths.pays_to;
    let own_words = if near(answer.depth_factor, 1.0) {
        "this build: stops paying"
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
    let mut points: Vec<TradePoint> = nearest
        .map(|point| TradePoint {
            at: cost.at(point),
            words: own_words.to_owned(),
            stands_out: true,
        })
        .into_iter()
        .collect();
    if !near(answer.depth_factor, 1.0) && depths.place == "inside" {
        points.push(TradePoint {
            at: cost.at(answer),
            words: format!("stops paying, {:.2}×", answer.depth_factor),
            stands_out: true,
        });
    }
    let halves = depths.points.iter().filter(|point| {
        let halves = 2.0 * point.depth_factor;
        let taken = near(point.depth_factor, 1.0) || near(point.depth_factor, answer.depth_factor);
        (halves - halves.round()).abs() < 1e-6 && !taken
    });
    points.extend(halves.map(|point| TradePoint {
        at: cost.at(point),
        words: format!("{:.1}×", point.depth_factor),
        stands_out: false,
    }));
    points
}

fn depth_title(depths: &DepthsView) -> String {
    let factor = depths.pays_to.depth_factor;
    match depths.place {
        "deepest" => format!("More depth pays still at {factor:.1} times the build's"),
        "shallowest" => "A core half as deep would nearly do".to_owned(),
        _ => format!("More depth pays up to {factor:.2} times the build's"),
    }
}

/// Temperatures and power over a timed run.
fn soak(run: &RunView, report: &CoolerReport, system: UnitSystem) -> Result<Drawing, PlotError> {
    let series = |name: &str, value: fn(&RunRowView) -> Option<f64>| {
        Series::from_rows(name, run.rows.iter().map(|row| (row.time_s, value(row))))
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let mass = |si: f64| reader_value(si, Kind::Mass, system);
    let power = |si: f64| reader_value(si, Kind::Power, system);
    let temperature_words = words("temperature", Kind::Temperature, system);
    let mass_words = words("ice left", Kind::Mass, system);
    let power_words = words("brake power", Kind::Power, system);
    let mut temperatures = vec![
        series("charge", |row| Some(row.charge_temperature_k)),
        series("core", |row| row.core_temperature_k),
        series("water", |row| row.water_temperature_k),
    ];
    temperatures.retain(|one| !one.pieces.is_empty());
    let mut panels = vec![PanelLines {
        y: Axis {
            words: &temperature_words,
            shown: &temperature,
        },
        series: temperatures,
        limits: target(report, system),
    }];
    for (axis, one) in [
        (
            Axis {
                words: &mass_words,
                shown: &mass,
            },
            series("ice", |row| row.ice_kg),
        ),
        (
            Axis {
                words: &power_words,
                shown: &power,
            },
            series("power", |row| row.brake_power_w),
        ),
    ] {
        if !one.pieces.is_empty() {
            panels.push(PanelLines {
                y: axis,
                series: vec![one],
                limits: Vec::new(),
            });
        }
    }
    let mut events = Vec::new();
    if let Some(at) = run.target_passed_at_s.filter(|&at| at > 0.0) {
        events.push(Event {
            at,
            words: format!("target passed, {}", time(at)),
        });
    }
    if let Some(at) = run.ice_gone_at_s {
        events.push(Event {
            at,
            words: format!("last ice, {}", time(at)),
        });
    }
    Panels {
        title: &soak_title(run, report, system),
        subtitle: &soak_subtitle(run),
        note: note(report),
        x: Axis {
            words: "time, s",
            shown: &|seconds| seconds,
        },
        panels,
        events,
    }
    .draw()
}

fn soak_title(run: &RunView, report: &CoolerReport, system: UnitSystem) -> String {
    let goal = report
        .target
        .as_ref()
        .map(|target| figure(target.charge_temperature_k, Kind::Temperature, system));
    match (goal, run.target_passed_at_s) {
        (Some(goal), Some(at)) if at > 0.0 => {
            format!("The charge passes {goal} after {}", time(at))
        }
        (Some(goal), Some(_)) => format!("The charge is above {goal} from the start"),
        (Some(goal), None) => {
            format!("The charge stays below {goal} for {}", time(run.seconds))
        }
        (None, _) => format!(
            "The charge warms to {} within {}",
            figure(run.hottest_charge_temperature_k, Kind::Temperature, system),
            time(run.seconds)
        ),
    }
}

fn soak_subtitle(run: &RunView) -> String {
    let at = |row: Option<&RunRowView>| rpm(row.map_or(0.0, |row| row.rpm));
    if run.speed == "held" {
        format!("full load, held at {}", at(run.rows.first()))
    } else {
        format!(
            "full load, swept from {} to {}",
            at(run.rows.first()),
            at(run.rows.last())
        )
    }
}
