//! Where the power of one match goes, for reading.

use super::fields::cell::head;
use super::fields::point::Point;
use super::fields::power::{PowerItem, power_items};
use super::fields::rows::columns;
use super::table::Sheet;
use crate::quantity::{Kind, UnitSystem, shown};

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
