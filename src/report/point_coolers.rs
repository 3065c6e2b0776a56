//! Charge coolers of one match for reading.

use super::point_text::{heading, or_dash};
use super::table::Sheet;
use super::view::PointView;
use crate::quantity::{Kind, UnitSystem, shown};

/// What the coolers do with the charge.
pub(super) fn coolers(point: &PointView, system: UnitSystem) -> String {
    if point.coolers.is_empty() {
        return String::new();
    }
    let mut sheet = Sheet::new(&[
        "cooler".to_owned(),
        heading("effectiveness", Kind::Share, system),
        heading("heat", Kind::Power, system),
        heading("enters", Kind::Temperature, system),
        heading("leaves", Kind::Temperature, system),
        heading("pressure drop", Kind::PressureDifference, system),
        "density gain\n(out/in)".to_owned(),
    ]);
    for cooler in &point.coolers {
        sheet.row(vec![
            cooler.name.clone(),
            shown(cooler.effectiveness, Kind::Share, system),
            shown(cooler.heat_w, Kind::Power, system),
            shown(cooler.inlet_temperature_k, Kind::Temperature, system),
            shown(cooler.outlet_temperature_k, Kind::Temperature, system),
            shown(cooler.pressure_drop_pa, Kind::PressureDifference, system),
            shown(cooler.density_gain, Kind::Number, system),
        ]);
    }
    sheet.text(1)
}

/// What takes the heat, where one of its flows is known, and which cooler is unconfirmed.
pub(super) fn sinks(point: &PointView, system: UnitSystem) -> String {
    if point.coolers.iter().all(|cooler| cooler.ntu.is_none()) {
        return String::new();
    }
    let mut sheet = Sheet::new(&[
        "cooling side".to_owned(),
        heading("enters", Kind::Temperature, system),
        heading("leaves", Kind::Temperature, system),
        heading("flow", Kind::MassFlow, system),
        heading("pressure drop", Kind::PressureDifference, system),
        "NTU".to_owned(),
        heading("UA", Kind::ThermalConductance, system),
        "capacity\nratio".to_owned(),
        heading("of its heat", Kind::Share, system),
    ]);
    for cooler in &point.coolers {
        let enters = cooler.sink_inlet_temperature_k;
        sheet.row(vec![
            cooler.name.clone(),
            shown(enters, Kind::Temperature, system),
            or_dash(cooler.sink_outlet_temperature_k, Kind::Temperature, system),
            or_dash(cooler.sink_mass_flow_kg_s, Kind::MassFlow, system),
            or_dash(
                cooler.sink_pressure_drop_pa,
                Kind::PressureDifference,
                system,
            ),
            or_dash(cooler.ntu, Kind::Number, system),
            or_dash(cooler.conductance_w_k, Kind::ThermalConductance, system),
            or_dash(cooler.capacity_ratio, Kind::Number, system),
            or_dash(cooler.heat_effectiveness, Kind::Share, system),
        ]);
    }
    let mut text = sheet.text(1);
    for cooler in point.coolers.iter().filter(|it| it.unconfirmed.is_some()) {
        text.push_str(&format!(
            "\n{}: unconfirmed, its fins follow correlations that nothing outside was found to check.\n",
            cooler.name
        ));
    }
    text
}
