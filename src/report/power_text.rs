//! Where the power goes, for reading: at one speed and over a line.

use super::fields::cell::{head, or_dash};

use super::fields::point::Point;
use super::fields::power::{PowerItem, power_items};
use super::fields::rows::columns;
use super::table::Sheet;
use crate::quantity::{Kind, UnitSystem, label, shown};

columns! { ITEM of PowerItem: name, power_w, share; }

/// Where the power of one match goes.
pub(super) fn power_table(point: &Point, system: UnitSystem) -> String {
    let engine = &point.found.engine;
    let items = power_items(engine);
    if items.is_empty() {
        return String::new();
    }
    let mut heads: Vec<String> = ITEM.iter().map(|row| row.head(system)).collect();
    heads.push(head("pressure", Kind::MeanEffectivePressure, system));
    let mut sheet = Sheet::new(&heads);
    for item in &items {
        let mut cells: Vec<String> = ITEM.iter().map(|row| row.cell(item, system)).collect();
        let mean = item.power / engine.swept_flow;
        cells.push(shown(mean, Kind::MeanEffectivePressure, system));
        sheet.row(cells);
    }
    sheet.text(1)
}

/// Where the power goes over a line; empty where it is not known.
pub(super) fn power_line_text<'p>(
    points: impl Iterator<Item = &'p Point>,
    system: UnitSystem,
) -> String {
    let mut speeds: Vec<(&Point, Vec<PowerItem>)> = points
        .map(|point| (point, power_items(&point.found.engine)))
        .filter(|(_, items)| !items.is_empty())
        .collect();
    let Some((_, first)) = speeds.first() else {
        return String::new();
    };
    // Items that nothing takes at any speed of the line are left out.
    let is_taken: Vec<bool> = (0..first.len())
        .map(|at| speeds.iter().any(|(_, items)| items[at].power.abs() > 0.0))
        .collect();
    for (_, items) in &mut speeds {
        let mut kept = is_taken.iter();
        items.retain(|_| *kept.next().unwrap_or(&false));
    }
    let mut sheet = Sheet::new(&heads(&speeds[0].1, system));
    for (point, items) in &speeds {
        let engine = &point.found.engine;
        let mut cells = vec![shown(point.found.rpm, Kind::RotationalSpeed, system)];
        let powers = items.iter();
        cells.extend(powers.map(|item| shown(item.power, Kind::Power, system)));
        let shares = items.iter().skip(1);
        cells.extend(shares.map(|item| shown(item.share, Kind::Share, system)));
        let mean = engine.brake_power.map(|power| power / engine.swept_flow);
        cells.push(or_dash(mean, Kind::MeanEffectivePressure, system));
        sheet.row(cells);
    }
    format!(
        "\nWhere the power goes (shares of gross indicated; losses are negative):\n\n{}",
        sheet.text(0)
    )
}

fn heads(items: &[PowerItem], system: UnitSystem) -> Vec<String> {
    let mut heads = vec![head("engine", Kind::RotationalSpeed, system)];
    for (items, kind) in [(items, Kind::Power), (&items[1..], Kind::Share)] {
        heads.extend(
            items
                .iter()
                .map(|item| head(&narrow(item.name), kind, system)),
        );
    }
    let unit = label(Kind::MeanEffectivePressure, system)
        .replacen(' ', "\n", 1)
        .replacen(" effective", "\neffective", 1);
    heads.push(format!("brake\n[{unit}]"));
    heads
}

/// An item's name on two short lines.
fn narrow(name: &str) -> String {
    name.replacen("supercharger ", "super-\ncharger\n", 1)
        .replacen("gross ", "gross\n", 1)
}
