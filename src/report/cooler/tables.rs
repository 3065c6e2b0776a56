//! The cooler's two tables: its points down the page, and the line.

use super::view::{CoolerPointView, CoolerReport, CoolerRowView};
use super::words::rpm;
use crate::quantity::{Kind, UnitSystem};
use crate::report::point_text::{heading, or_dash};
use crate::report::table::Sheet;

/// One line of the table of points.
type Entry = (&'static str, Kind, fn(&CoolerPointView) -> Option<f64>);

const ENTRIES: [Entry; 22] = [
    ("effectiveness", Kind::Share, |p| Some(p.effectiveness)),
    ("most that the flows allow", Kind::Share, |p| p.flow_limit),
    ("heat effectiveness", Kind::Share, |p| p.heat_effectiveness),
    ("transfer units (NTU)", Kind::Number, |p| p.ntu),
    ("at least so many transfer units (NTU)", Kind::Number, |p| {
        p.least_ntu
    }),
    ("UA", Kind::ThermalConductance, |p| p.conductance_w_k),
    ("UA at least", Kind::ThermalConductance, |p| {
        p.least_conductance_w_k
    }),
    ("heat rejected", Kind::Power, |p| Some(p.heat_w)),
    ("charge ahead", Kind::Temperature, |p| {
        Some(p.inlet_temperature_k)
    }),
    ("charge behind", Kind::Temperature, |p| {
        Some(p.outlet_temperature_k)
    }),
    ("cooling side in", Kind::Temperature, |p| {
        Some(p.sink_inlet_temperature_k)
    }),
    ("cooling side out", Kind::Temperature, |p| {
        p.sink_outlet_temperature_k
    }),
    ("cooling side's flow", Kind::MassFlow, |p| {
        p.sink_mass_flow_kg_s
    }),
    (
        "approach: charge behind above cooling side in",
        Kind::TemperatureDifference,
        |p| Some(p.approach_k),
    ),
    (
        "pressure drop of the charge",
        Kind::PressureDifference,
        |p| Some(p.pressure_drop_pa),
    ),
    (
        "pressure drop of the cooling side",
        Kind::PressureDifference,
        |p| p.sink_pressure_drop_pa,
    ),
    ("density ahead", Kind::Density, |p| {
        Some(p.inlet_density_kg_m3)
    }),
    ("density behind", Kind::Density, |p| {
        Some(p.outlet_density_kg_m3)
    }),
    ("density gain", Kind::Number, |p| Some(p.density_gain)),
    (
        "density gain without the pressure drop",
        Kind::Number,
        |p| Some(p.density_gain_without_drop),
    ),
    ("charge in the manifold", Kind::Temperature, |p| {
        Some(p.engine.charge_temperature_k)
    }),
    ("manifold", Kind::AbsolutePressure, |p| {
        Some(p.engine.manifold_pressure_pa)
    }),
];

/// The hardest point, and the hottest beside it where that is another.
pub(super) fn points(report: &CoolerReport, system: UnitSystem) -> String {
    let same = same_speed(&report.hardest, &report.hottest);
    let mut headings = vec![
        String::new(),
        format!(
            "{}\n{}",
            rpm(report.hardest.rpm, system),
            if same {
                "most heat, hottest charge"
            } else {
                "most heat"
            }
        ),
    ];
    let mut shown_points = vec![&report.hardest];
    if !same {
        headings.push(format!(
            "{}\nhottest charge",
            rpm(report.hottest.rpm, system)
        ));
        shown_points.push(&report.hottest);
    }
    let mut sheet = Sheet::new(&headings);
    for (name, kind, value) in ENTRIES {
        if shown_points.iter().all(|point| value(point).is_none()) {
            continue;
        }
        let mut cells = vec![one_line(name, kind, system)];
        cells.extend(shown_points.iter().map(|p| or_dash(value(p), kind, system)));
        sheet.row(cells);
    }
    sheet.text(1)
}

fn same_speed(a: &CoolerPointView, b: &CoolerPointView) -> bool {
    (a.rpm - b.rpm).abs() < 1e-9
}

/// "density ahead [kg/m³]".
fn one_line(name: &str, kind: Kind, system: UnitSystem) -> String {
    heading(name, kind, system)
        .replace('\n', " ")
        .replace(" difference]", "]")
}

/// A column of the line's table.
type Column = (&'static str, Kind, fn(&CoolerPointView) -> Option<f64>);

const COLUMNS: [Column; 13] = [
    ("engine", Kind::RotationalSpeed, |p| Some(p.rpm)),
    ("effec-\ntive-\nness", Kind::Share, |p| {
        Some(p.effectiveness)
    }),
    ("NTU", Kind::Number, |p| p.ntu),
    ("heat", Kind::Power, |p| Some(p.heat_w)),
    ("charge\nahead", Kind::Temperature, |p| {
        Some(p.inlet_temperature_k)
    }),
    ("charge\nbehind", Kind::Temperature, |p| {
        Some(p.outlet_temperature_k)
    }),
    ("mani-\nfold", Kind::Temperature, |p| {
        Some(p.engine.charge_temperature_k)
    }),
    ("cool-\ning\nside\nin", Kind::Temperature, |p| {
        Some(p.sink_inlet_temperature_k)
    }),
    ("pres-\nsure\ndrop", Kind::PressureDifference, |p| {
        Some(p.pressure_drop_pa)
    }),
    ("den-\nsity\ngain", Kind::Number, |p| Some(p.density_gain)),
    ("air", Kind::MassFlow, |p| Some(p.engine.air_mass_flow_kg_s)),
    ("more\nair", Kind::Share, |p| p.air_gain),
    ("more\npower", Kind::Power, |p| p.brake_power_gain_w),
];

/// The speeds of the line.
pub(super) fn line(report: &CoolerReport, system: UnitSystem) -> String {
    let exists = |column: &&Column| {
        report.points.iter().any(|row| match row {
            CoolerRowView::Point(point) => (column.2)(point).is_some(),
            CoolerRowView::Error { .. } => false,
        })
    };
    let columns: Vec<&Column> = COLUMNS.iter().filter(exists).collect();
    let headings: Vec<String> = columns
        .iter()
        .map(|(name, kind, _)| heading(name, *kind, system).replacen(" difference]", "]", 1))
        .collect();
    let mut sheet = Sheet::new(&headings);
    let mut errors = String::new();
    for row in &report.points {
        match row {
            CoolerRowView::Point(point) => sheet.row(
                columns
                    .iter()
                    .map(|(_, kind, value)| or_dash(value(point), *kind, system))
                    .collect(),
            ),
            CoolerRowView::Error { rpm: at, error } => {
                let error = error.in_units(system);
                errors.push_str(&format!("no match at {}: {error}\n", rpm(*at, system)));
            }
        }
    }
    format!("{}{errors}", sheet.text(0))
}
