//! One match for reading, station by station.

use super::fields::balance::Other;
use super::fields::cell::{or_dash, with_unit};
use super::fields::cooler::COOLING_SIDE;
use super::fields::field::Field;
use super::fields::named::{Named, Station};
use super::fields::point::Point;
use super::fields::rows::columns;
use super::fields::stage::DRIVEN_BY;
use super::fields::station::BOOST;
use super::mechanical_text::mechanical_text;
use super::power_text::power_table;
use super::table::{one_line, table};
use super::wrap::sentences_wrapped;
use crate::matching::{
    CoolerState, EngineState, Residuals, StageState, StationPlace, TurbineState,
};
use crate::quantity::{Kind, UnitSystem, label, shown};

/// A match as text in the reader's units.
pub fn point_text(title: &str, point: &Point, system: UnitSystem) -> String {
    let stages = point.stages();
    let mut out = format!("{}\n\n", summary(point, system));
    out.push_str(&stations(point, system));
    let parts = [
        stage_table(&stages, system),
        boost_split(&stages),
        table(&COOLER, 1, &point.coolers(), system),
        cooling_sides(&point.coolers(), system),
        table(&TURBINE, 1, &point.turbines(), system),
        engine(point, system),
        power_table(point, system),
        mechanical_text(point, system),
    ];
    for part in parts.iter().filter(|part| !part.is_empty()) {
        out.push('\n');
        out.push_str(part);
    }
    for other in point.others() {
        out.push_str(&other_balance(&other, system));
    }
    out.push_str(&residuals(&point.found.residuals));
    format!("{}\n{}", one_line(title), sentences_wrapped(&out))
}

columns! {
    STAGE of Named<StageState>: name, pressure_ratio, efficiency, mass_flow_kg_s, power_w,
        crank_power_w, speed_rpm, bypass_share, split_share;
}

columns! {
    COOLER of Named<CoolerState>: name, effectiveness, heat_w, inlet_temperature_k,
        outlet_temperature_k, pressure_drop_pa, density_gain;
}

columns! {
    SINK of Named<CoolerState>: sink_inlet_temperature_k, sink_outlet_temperature_k,
        sink_mass_flow_kg_s, sink_pressure_drop_pa, ntu, conductance_w_k, capacity_ratio,
        heat_effectiveness;
}

columns! {
    TURBINE of Named<TurbineState>: name, expansion_ratio, efficiency, mass_flow_kg_s, power_w,
        wastegate_share;
}

fn stage_table(stages: &[Named<StageState>], system: UnitSystem) -> String {
    let mut columns = STAGE.to_vec();
    columns.insert(1, &DRIVEN_BY);
    table(&columns, 2, stages, system)
}

/// What takes the heat, where one of its flows is known, and which cooler is unconfirmed.
fn cooling_sides(coolers: &[Named<CoolerState>], system: UnitSystem) -> String {
    if coolers
        .iter()
        .all(|cooler| cooler.state.exchanger.is_none())
    {
        return String::new();
    }
    let columns: Vec<_> = [&COOLING_SIDE].into_iter().chain(SINK).collect();
    let mut text = table(&columns, 1, coolers, system);
    for cooler in coolers.iter().filter(|cooler| cooler.state.unconfirmed) {
        text.push_str(&format!(
            "\n{}: not validated, its fins follow correlations that were not checked against measurements.\n",
            cooler.name
        ));
    }
    text
}

fn stations(point: &Point, system: UnitSystem) -> String {
    columns! { ROWS of Station: name, pressure_pa, temperature_k, density_kg_m3, mass_flow_kg_s; }
    let [name, pressure, temperature, density, flow] = ROWS;
    let columns = [name, pressure, &BOOST, temperature, density, flow];
    table(&columns, 1, &point.stations(), system)
}

/// Another state in which this engine could run at the same speed.
fn other_balance(other: &Other, system: UnitSystem) -> String {
    columns! { ROWS of Other: boost_pa, pressure_ratio, air_mass_flow_kg_s; }
    columns! { REST of Other: brake_power_w, wastegate; }
    let [boost, ratio, air] = ROWS.map(|row| row.with_unit(other, system).unwrap_or_default());
    let mut text = format!(
        "\nA second stable balance exists: boost {boost}, turbo pressure ratio {ratio}, {air} of air"
    );
    let [power, gate] = REST;
    if let Some(power) = power.with_unit(other, system) {
        text.push_str(&format!(", {power}"));
    }
    let gate = gate.cell(other, system);
    if !gate.is_empty() {
        text.push_str(&format!(", wastegate {gate}"));
    }
    text.push_str(".\n");
    text
}

/// What is left of the balances: its order of size is all that counts.
fn residuals(left: &Residuals) -> String {
    let size = |value: f64| {
        let text = format!("{value:.0e}");
        if text.ends_with("0e0") {
            "0".to_owned()
        } else {
            text
        }
    };
    format!(
        "\nResiduals (relative): flow {}, power {}, pressure {}.\n",
        size(left.flow),
        size(left.power),
        size(left.pressure)
    )
}

fn summary(point: &Point, system: UnitSystem) -> String {
    let (found, engine) = (&point.found, &point.found.engine);
    let mut text = format!(
        "{} rpm: {} of air, boost {} at the site",
        shown(found.rpm, Kind::RotationalSpeed, system),
        with_unit(found.air_mass_flow, Kind::MassFlow, system),
        with_unit(point.boost(), Kind::BoostPressure, system),
    );
    if let (Some(power), Some(torque)) = (engine.brake_power, engine.torque) {
        text.push_str(&format!(
            ", {} and {} at the crank",
            with_unit(power, Kind::Power, system),
            with_unit(torque, Kind::Torque, system)
        ));
    }
    text
}

/// "supercharger 39 %, turbo 61 %"; nothing for fewer than two stages or nothing to share.
fn boost_split(stages: &[Named<StageState>]) -> String {
    let share = |stage: &Named<StageState>| {
        let name = stage.name.replacen("turbo compressor", "turbo", 1);
        let share = 100.0 * stage.state.split_share? + 0.0;
        Some(format!("{name} {share:.0} %"))
    };
    let shares: Option<Vec<String>> = stages.iter().map(share).collect();
    let Some(shares) = shares.filter(|shares| shares.len() > 1) else {
        return String::new();
    };
    format!(
        "Boost split: {} of the total pressure ratio, by logarithm.\n",
        shares.join(", ").replace("-0 %", "0 %")
    )
}

/// What is known of the engine, a line an item.
fn engine(point: &Point, system: UnitSystem) -> String {
    columns! {
        ENGINE of EngineState: volumetric_efficiency, gross_indicated_power_w, pumping_power_w,
            brake_power_w, torque_n_m, bsfc_g_kwh, brake_mean_effective_pressure_pa;
    }
    columns! { POINT of Point: fuel_mass_flow_kg_s, air_fuel_ratio, lambda, steepness; }
    let [filling, gross, pumping, power, torque, consumption, mean] = ENGINE;
    let [fuel, ratio, lambda, steepness] = POINT;
    let state = &point.found.engine;
    let of_engine =
        |row: &Field<EngineState>| item(row.label, row.number(state), row.kind(), system);
    let of_point = |row: &Field<Point>| item(row.label, row.number(point), row.kind(), system);
    // With all of it known they stand in the table of where the power goes.
    let alone = |row| {
        let is_alone = state.brake_power.is_none();
        if is_alone {
            of_engine(row)
        } else {
            String::new()
        }
    };
    let pressure = |place| point.at(place).map(|station| station.pressure);
    let drive = pressure(StationPlace::TurbineInlet(0)).zip(pressure(StationPlace::Manifold));
    let drive = drive.map(|(exhaust, manifold)| exhaust / manifold);
    [
        of_engine(filling),
        of_point(fuel),
        of_point(ratio),
        of_point(lambda),
        item("drive pressure / manifold", drive, Kind::Number, system),
        alone(gross),
        alone(pumping),
        of_engine(power),
        of_engine(torque),
        of_engine(consumption),
        of_engine(mean),
        of_point(steepness),
    ]
    .concat()
}

/// A line with a name and its value; nothing where it does not exist.
fn item(name: &str, value: Option<f64>, kind: Kind, system: UnitSystem) -> String {
    if value.is_none() {
        return String::new();
    }
    let value = or_dash(value, kind, system);
    let line = format!("{name:<32}{value:>10} {}", label(kind, system));
    format!("{}\n", line.trim_end())
}
