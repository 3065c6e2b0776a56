//! One match for reading, station by station.

use super::costs_text::costs_text;
use super::table::{Sheet, one_line};
use super::view::{OtherBalanceView, PointView, StageView};
use crate::quantity::{Kind, UnitSystem, label, shown};

/// A match as text in the reader's units.
pub fn point_text(title: &str, point: &PointView, system: UnitSystem) -> String {
    let mut out = format!("{}\n{}\n\n", one_line(title), summary(point, system));
    out.push_str(&stations(point, system));
    if !point.stages.is_empty() {
        out.push('\n');
        out.push_str(&stages(point, system));
    }
    if let Some(split) = split_in_words(&point.stages) {
        out.push_str(&format!(
            "\nBoost split: {split} of the total pressure ratio, by logarithm.\n"
        ));
    }
    for part in [
        super::point_coolers::coolers(point, system),
        super::point_coolers::sinks(point, system),
        turbines(point, system),
        engine(point, system),
        costs_text(point, system),
    ] {
        if !part.is_empty() {
            out.push('\n');
            out.push_str(&part);
        }
    }
    for other in point.second.iter().chain(&point.further) {
        out.push_str(&other_balance(other, system));
    }
    out.push_str(&format!(
        "\nBalances left: flow {}, power {}, pressure {} (relative).\n",
        residual(point.residuals.flow),
        residual(point.residuals.power),
        residual(point.residuals.pressure)
    ));
    out
}

/// Another state in which this engine could stand at the same speed.
fn other_balance(other: &OtherBalanceView, system: UnitSystem) -> String {
    let with_unit =
        |value: f64, kind: Kind| format!("{} {}", shown(value, kind, system), label(kind, system));
    let mut text = format!(
        "\nA second stable balance exists: boost {}, turbo pressure ratio {}, {} of air",
        with_unit(other.boost_pa, Kind::BoostPressure),
        shown(other.pressure_ratio, Kind::Number, system),
        with_unit(other.air_mass_flow_kg_s, Kind::MassFlow),
    );
    if let Some(power) = other.brake_power_w {
        text.push_str(&format!(", {}", with_unit(power, Kind::Power)));
    }
    if let Some(gate) = other.wastegate {
        text.push_str(&format!(", wastegate {gate}"));
    }
    text.push_str(".\n");
    text
}

/// What is left of a balance: its order of size is all that counts.
fn residual(value: f64) -> String {
    let text = format!("{value:.0e}");
    if text.ends_with("0e0") {
        "0".to_owned()
    } else {
        text
    }
}

/// A value with its unit.
fn with_unit(si: f64, kind: Kind, system: UnitSystem) -> String {
    format!("{} {}", shown(si, kind, system), label(kind, system))
}

/// Manifold pressure above the site's, Pa.
pub(super) fn boost(point: &PointView) -> f64 {
    let pressure = |name| {
        point
            .station(name)
            .map_or(0.0, |station| station.pressure_pa)
    };
    pressure("manifold") - pressure("ambient")
}

fn summary(point: &PointView, system: UnitSystem) -> String {
    let mut text = format!(
        "{} rpm: {} of air, boost {} at the site",
        shown(point.rpm, Kind::RotationalSpeed, system),
        with_unit(point.air_mass_flow_kg_s, Kind::MassFlow, system),
        with_unit(boost(point), Kind::BoostPressure, system),
    );
    if let (Some(power), Some(torque)) = (point.engine.brake_power_w, point.engine.torque_n_m) {
        text.push_str(&format!(
            ", {} and {} at the crank",
            with_unit(power, Kind::Power, system),
            with_unit(torque, Kind::Torque, system)
        ));
    }
    text
}

/// A heading with its unit on a line of its own.
pub(super) fn heading(name: &str, kind: Kind, system: UnitSystem) -> String {
    match label(kind, system) {
        "" => name.to_owned(),
        unit => format!("{name}\n[{unit}]"),
    }
}

fn stations(point: &PointView, system: UnitSystem) -> String {
    let mut sheet = Sheet::new(&[
        "station".to_owned(),
        heading("pressure", Kind::AbsolutePressure, system),
        heading("boost", Kind::BoostPressure, system),
        heading("temperature", Kind::Temperature, system),
        heading("density", Kind::Density, system),
        heading("flow", Kind::MassFlow, system),
    ]);
    let ambient = point
        .station("ambient")
        .map_or(0.0, |station| station.pressure_pa);
    for station in &point.stations {
        sheet.row(vec![
            station.name.clone(),
            shown(station.pressure_pa, Kind::AbsolutePressure, system),
            shown(station.pressure_pa - ambient, Kind::BoostPressure, system),
            shown(station.temperature_k, Kind::Temperature, system),
            shown(station.density_kg_m3, Kind::Density, system),
            shown(station.mass_flow_kg_s, Kind::MassFlow, system),
        ]);
    }
    sheet.text(1)
}

/// A value or a dash where it does not exist.
pub(super) fn or_dash(value: Option<f64>, kind: Kind, system: UnitSystem) -> String {
    value.map_or_else(|| "–".to_owned(), |value| shown(value, kind, system))
}

fn stages(point: &PointView, system: UnitSystem) -> String {
    let mut sheet = Sheet::new(&[
        "stage".to_owned(),
        "driven by".to_owned(),
        "pressure\nratio".to_owned(),
        heading("effi-\nciency", Kind::Share, system),
        heading("own\nflow", Kind::MassFlow, system),
        heading("to the\nair", Kind::Power, system),
        heading("from\ncrank", Kind::Power, system),
        heading("shaft\nspeed", Kind::RotationalSpeed, system),
        heading("by-\npassed", Kind::Share, system),
        heading("split", Kind::Share, system),
    ]);
    for stage in &point.stages {
        sheet.row(vec![
            stage.name.clone(),
            match stage.drive {
                "prescribed" => "given ratio",
                other => other,
            }
            .to_owned(),
            shown(stage.pressure_ratio, Kind::Number, system),
            or_dash(stage.efficiency, Kind::Share, system),
            shown(stage.mass_flow_kg_s, Kind::MassFlow, system),
            shown(stage.power_w, Kind::Power, system),
            or_dash(stage.crank_power_w, Kind::Power, system),
            or_dash(stage.speed_rpm, Kind::RotationalSpeed, system),
            or_dash(stage.bypass_share, Kind::Share, system),
            or_dash(stage.split_share, Kind::Share, system),
        ]);
    }
    sheet.text(2)
}

/// "supercharger 39 %, turbo 61 %"; nothing for fewer than two stages or nothing to share.
pub(super) fn split_in_words(stages: &[StageView]) -> Option<String> {
    if stages.len() < 2 {
        return None;
    }
    let shares: Option<Vec<String>> = stages
        .iter()
        .map(|stage| {
            let name = stage.name.replacen("turbo compressor", "turbo", 1);
            stage
                .split_share
                .map(|share| format!("{name} {:.0} %", 100.0 * share + 0.0))
        })
        .collect();
    shares.map(|shares| shares.join(", ").replace("-0 %", "0 %"))
}

fn turbines(point: &PointView, system: UnitSystem) -> String {
    if point.turbines.is_empty() {
        return String::new();
    }
    let mut sheet = Sheet::new(&[
        "turbine".to_owned(),
        "expansion\nratio".to_owned(),
        heading("efficiency", Kind::Share, system),
        heading("wheel flow", Kind::MassFlow, system),
        heading("power", Kind::Power, system),
        heading("wastegate", Kind::Share, system),
    ]);
    for turbine in &point.turbines {
        sheet.row(vec![
            turbine.name.clone(),
            shown(turbine.expansion_ratio, Kind::Number, system),
            shown(turbine.efficiency, Kind::Share, system),
            shown(turbine.mass_flow_kg_s, Kind::MassFlow, system),
            shown(turbine.power_w, Kind::Power, system),
            or_dash(turbine.wastegate_share, Kind::Share, system),
        ]);
    }
    sheet.text(1)
}

/// What is known of the engine, a line an item.
fn engine(point: &PointView, system: UnitSystem) -> String {
    let engine = &point.engine;
    let drive_ratio = point
        .station("turbine inlet")
        .zip(point.station("manifold"));
    let items = [
        (
            "volumetric efficiency",
            Some(engine.volumetric_efficiency),
            Kind::Share,
        ),
        ("fuel", point.fuel_mass_flow_kg_s, Kind::FuelFlow),
        (
            "air-fuel ratio (dry air)",
            point.air_fuel_ratio,
            Kind::Number,
        ),
        ("lambda", point.lambda, Kind::Number),
        (
            "drive pressure / manifold",
            drive_ratio.map(|(a, b)| a.pressure_pa / b.pressure_pa),
            Kind::Number,
        ),
        // With all of it known they stand in the table of where the power goes.
        (
            "gross indicated power",
            engine
                .gross_indicated_power_w
                .filter(|_| point.power.is_empty()),
            Kind::Power,
        ),
        (
            "pumping (+ helps the crank)",
            engine.pumping_power_w.filter(|_| point.power.is_empty()),
            Kind::Power,
        ),
        ("brake power", engine.brake_power_w, Kind::Power),
        ("torque", engine.torque_n_m, Kind::Torque),
        (
            "fuel per work",
            engine.bsfc_g_kwh.map(|value| value / 3.6e9),
            Kind::SpecificFuelConsumption,
        ),
        (
            "bmep",
            engine.brake_mean_effective_pressure_pa,
            Kind::MeanEffectivePressure,
        ),
        (
            "steepness (% boost per % fuel)",
            point.steepness,
            Kind::Number,
        ),
    ];
    let mut out = String::new();
    for (name, value, kind) in items {
        if let Some(value) = value {
            let value = shown(value, kind, system);
            let line = format!("{name:<32}{value:>10} {}", label(kind, system));
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}
