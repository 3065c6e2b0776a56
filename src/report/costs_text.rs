//! What the boost costs, for reading: where the power goes, cylinder and head, belt, fuel, and what
//! was taken as usual.

use super::costs_view::{CylinderView, DefaultView, PowerItemView};
use super::point_text::heading;
use super::table::Sheet;
use super::view::{LineView, PointView, RowView};
use crate::input::CONVENTION;
use crate::quantity::{Kind, UnitSystem, label, shown};

/// Least width of the names in lists of items.
const NAME_WIDTH: usize = 34;

/// The tables and lists of one match; empty where nothing of it is known.
pub(super) fn costs_text(point: &PointView, system: UnitSystem) -> String {
    let parts = [
        power_table(point, system),
        list(&cylinder_items(point, system)),
        list(&belt_items(point, system)),
        list(&fuel_items(point, system)),
    ];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join("\n")
}

/// Where the power of one match goes.
fn power_table(point: &PointView, system: UnitSystem) -> String {
    if point.power.is_empty() {
        return String::new();
    }
    let mut sheet = Sheet::new(&[
        "where the power goes".to_owned(),
        heading("power", Kind::Power, system),
        "of gross\nindicated\n[%]".to_owned(),
        heading("pressure", Kind::MeanEffectivePressure, system),
    ]);
    let gross = point.power.first().map_or(0.0, |item| item.power_w);
    let mean = point.engine.gross_indicated_mean_effective_pressure_pa;
    for item in &point.power {
        let pressure = mean.map_or(0.0, |mean| mean * item.power_w / gross);
        sheet.row(vec![
            item.name.to_owned(),
            shown(item.power_w, Kind::Power, system),
            shown(item.share, Kind::Share, system),
            shown(pressure, Kind::MeanEffectivePressure, system),
        ]);
    }
    sheet.text(1)
}

/// An item of a list: name, value with its unit.
type Item = (String, String);

fn list(items: &[Item]) -> String {
    let longest = items.iter().map(|(name, _)| name.chars().count() + 1).max();
    let width = longest.unwrap_or(0).max(NAME_WIDTH);
    let line = |(name, value): &Item| format!("{name:<width$}{value}\n");
    items.iter().map(line).collect()
}

fn with_unit(si: f64, kind: Kind, system: UnitSystem) -> String {
    format!("{} {}", shown(si, kind, system), label(kind, system))
        .trim_end()
        .to_owned()
}

/// "8919 to 10213 kPa absolute", or one figure where both ends are the same.
fn spread(low: f64, high: f64, kind: Kind, system: UnitSystem) -> String {
    let (from, to) = (shown(low, kind, system), with_unit(high, kind, system));
    if from == shown(high, kind, system) {
        to
    } else {
        format!("{from} to {to}")
    }
}

fn cylinder_items(point: &PointView, system: UnitSystem) -> Vec<Item> {
    let Some(cylinder) = &point.cylinder else {
        return Vec::new();
    };
    let engine = &point.engine;
    let peak = engine
        .peak_cylinder_pressure_low_pa
        .zip(engine.peak_cylinder_pressure_high_pa);
    let force = cylinder.gas_force_low_n.zip(cylinder.gas_force_high_n);
    let clamp = cylinder.clamp_force_low_n.zip(cylinder.clamp_force_high_n);
    let margin = cylinder.clamp_margin_low.zip(cylinder.clamp_margin_high);
    let mut items = compression_items(cylinder, system);
    if let (Some(one), Some((low, high))) = (engine.peak_cylinder_pressure_pa, peak) {
        let kind = Kind::AbsolutePressure;
        let (one, low) = (with_unit(one, kind, system), shown(low, kind, system));
        let text = format!("{one} ({low} to {})", shown(high, kind, system));
        items.push(("peak cylinder pressure".to_owned(), text));
    }
    let rows = [
        ("gas force on a cylinder's head", force, Kind::Force),
        ("clamp of its studs", clamp, Kind::Force),
        ("clamp left over the gas force", margin, Kind::Share),
    ];
    for (name, value, kind) in rows {
        if let Some((low, high)) = value {
            items.push((name.to_owned(), spread(low, high, kind, system)));
        }
    }
    if let (Some(from), Some(_)) = (cylinder.gas_force_from, force)
        && peak.is_none()
    {
        items.push(("  gas force from".to_owned(), from.to_owned()));
    }
    if let Some(ratio) = cylinder.equivalent_compression_ratio {
        let name = "compression ratio, as if unblown";
        items.push((name.to_owned(), format!("{ratio:.1}")));
    }
    items
}

fn compression_items(cylinder: &CylinderView, system: UnitSystem) -> Vec<Item> {
    let pressure = (
        cylinder.compression_pressure_low_pa,
        cylinder.compression_pressure_high_pa,
        Kind::AbsolutePressure,
    );
    let temperature = (
        cylinder.compression_temperature_low_k,
        cylinder.compression_temperature_high_k,
        Kind::Temperature,
    );
    [pressure, temperature]
        .into_iter()
        .zip([
            "end of compression, pressure",
            "end of compression, temperature",
        ])
        .map(|((low, high, kind), name)| (name.to_owned(), spread(low, high, kind, system)))
        .collect()
}

fn belt_items(point: &PointView, system: UnitSystem) -> Vec<Item> {
    let mut items = Vec::new();
    for stage in &point.stages {
        let name = |what: &str| format!("{}, {what}", stage.name);
        if let Some(speed) = stage.tip_speed_m_s {
            let text = with_unit(speed, Kind::SurfaceSpeed, system);
            items.push((name("rotor tips"), text));
        }
        let Some(belt) = &stage.belt else { continue };
        let tensions = spread(
            belt.slack_tension_n,
            belt.tight_tension_n,
            Kind::SmallForce,
            system,
        );
        let text = with_unit(belt.speed_m_s, Kind::SurfaceSpeed, system);
        items.push((name("belt speed"), text));
        items.push((name("slack to tight side"), tensions));
        let pull = with_unit(belt.shaft_pull_n, Kind::SmallForce, system);
        items.push((name("least pull on its shaft"), pull));
    }
    items
}

fn fuel_items(point: &PointView, system: UnitSystem) -> Vec<Item> {
    let Some(fuel) = &point.fuel else {
        return Vec::new();
    };
    let rows = [
        ("fuel per stroke", fuel.per_stroke_kg, Kind::FuelPerStroke),
        ("the same as a volume", fuel.per_stroke_m3, Kind::FuelVolume),
        ("injector duty", fuel.injector_duty, Kind::Share),
        (
            "fuel evaporated on its way in",
            fuel.evaporated_share,
            Kind::Share,
        ),
        (
            "charge cooled by it",
            fuel.charge_cooling_k,
            Kind::TemperatureDifference,
        ),
    ];
    rows.into_iter()
        .filter_map(|(name, value, kind)| {
            value.map(|value| (name.to_owned(), with_unit(value, kind, system)))
        })
        .collect()
}

/// What was taken because the build does not give it; empty where it gives everything.
pub fn defaults_text(defaults: &[DefaultView]) -> String {
    if defaults.is_empty() {
        return String::new();
    }
    let mut out = String::from("\nTaken as usual, because the build does not say:\n");
    for taken in defaults {
        // A convention says itself what it is.
        let says_itself = taken.value.contains(taken.source) || taken.source == CONVENTION;
        let source = if says_itself {
            String::new()
        } else {
            format!(" ({})", taken.source)
        };
        out.push_str(&format!("  {}: {}{source}\n", taken.key, taken.value));
    }
    out
}

/// Where the power goes over a line; empty where it is not known.
pub(super) fn power_line_text(line: &LineView, system: UnitSystem) -> String {
    let points: Vec<&PointView> = line
        .points
        .iter()
        .filter_map(|row| match row {
            RowView::Point(point) if !point.power.is_empty() => Some(point.as_ref()),
            _ => None,
        })
        .collect();
    let Some(first) = points.first() else {
        return String::new();
    };
    let of = |point: &PointView| kept_items(point, &points);
    let mut sheet = Sheet::new(&power_headings(&of(first), system));
    for point in &points {
        let mut cells = vec![shown(point.rpm, Kind::RotationalSpeed, system)];
        let items = of(point);
        let powers = items.iter();
        cells.extend(powers.map(|item| shown(item.power_w, Kind::Power, system)));
        let shares = items.iter().skip(1);
        cells.extend(shares.map(|item| shown(item.share, Kind::Share, system)));
        let mean = point.engine.brake_mean_effective_pressure_pa;
        cells.push(super::point_text::or_dash(
            mean,
            Kind::MeanEffectivePressure,
            system,
        ));
        sheet.row(cells);
    }
    format!(
        "\nWhere the power goes (shares of gross indicated; what takes is negative):\n\n{}",
        sheet.text(0)
    )
}

/// The items of a point without those that nothing takes at any speed of the line.
fn kept_items(point: &PointView, line: &[&PointView]) -> Vec<PowerItemView> {
    let taken = |name| {
        let items = line.iter().flat_map(|point| &point.power);
        items
            .filter(|item| item.name == name)
            .any(|item| item.power_w.abs() > 0.0)
    };
    let items = point.power.iter();
    items.filter(|item| taken(item.name)).cloned().collect()
}

fn power_headings(items: &[PowerItemView], system: UnitSystem) -> Vec<String> {
    let mut headings = vec![heading("engine", Kind::RotationalSpeed, system)];
    for item in items {
        headings.push(heading(&narrow(item.name), Kind::Power, system));
    }
    for item in items.iter().skip(1) {
        headings.push(heading(&narrow(item.name), Kind::Share, system));
    }
    let unit = label(Kind::MeanEffectivePressure, system)
        .replacen(' ', "\n", 1)
        .replacen(" effective", "\neffective", 1);
    headings.push(format!("brake\n[{unit}]"));
    headings
}

/// An item's name on two short lines.
fn narrow(name: &str) -> String {
    name.replacen("supercharger ", "super-\ncharger\n", 1)
        .replacen("gross ", "gross\n", 1)
}
