//! A charge cooler of `[[air_path]]`: fixed effectiveness, rated point, or core.

use super::maps::not_there_yet;
use super::rated_drop::{self, Need};
use super::reader::Reader;
use super::want::Want;
use crate::air_path::{Cooler, Exchange, Sink, SinkFluid};
use crate::quantity::Kind;

const TEMPERATURE: Want = Want::of(Kind::Temperature, "\"30 degC\"")
    .at_least(200.0)
    .at_most(700.0);
const FLOW: Want = Want::of(Kind::MassFlow, "\"0.8 kg/s\"")
    .above(0.0)
    .at_most(500.0);
const SIZE: Want = Want::of(Kind::Length, "\"300 mm\"").above(0.0).at_most(5.0);
const TANK: Want = Want::of(Kind::Volume, "\"12 L\"").above(0.0).at_most(10.0);
const CONDUCTIVITY: Want = Want::of(Kind::ThermalConductivity, "\"180 W/(m K)\"")
    .above(0.0)
    .at_most(500.0);

/// Reads a cooler; the air outside is its sink where nothing else is said.
pub(super) fn read(reader: &Reader<'_>, site_temperature: f64) -> Option<Cooler> {
    reader.not_both("effectiveness", "rated");
    reader.not_both("effectiveness", "core");
    reader.not_both("rated", "core");
    let effectiveness = reader.schedule("effectiveness", Want::efficiency("0.75"));
    rated(reader);
    core(reader);
    let pressure_drop = rated_drop::read(reader, Need::Optional);
    let sink = sink(reader, site_temperature);
    if reader.has("rated") {
        return not_there_yet(reader, "rated", "a cooler from its rated point");
    }
    if reader.has("core") {
        return not_there_yet(reader, "core", "a cooler from its core's geometry");
    }
    if !reader.has("effectiveness") {
        let text = format!(
            "{}; without better knowledge 0.70; or rated, or core",
            Want::efficiency("0.75").missing("effectiveness")
        );
        reader.is_missing("effectiveness", text);
    }
    Some(Cooler {
        exchange: Exchange::Fixed(effectiveness?),
        pressure_drop: pressure_drop?,
        sink: sink?,
        metal: None,
    })
}

/// The side that takes the heat.
fn sink(reader: &Reader<'_>, site_temperature: f64) -> Option<Sink> {
    let water = reader.word("sink", &[("air", false), ("water", true)]);
    reader.value("sink_flow", FLOW);
    reader.value("tank_volume", TANK);
    if reader.has("tank_volume") && water != Some(true) {
        reader.fault(
            "tank_volume",
            "belongs to a water circuit: say sink = \"water\", or leave it out",
        );
    }
    if reader.has("effectiveness") {
        for key in ["sink_flow", "tank_volume"] {
            if reader.has(key) {
                reader.remark(key, "is not used beside a fixed effectiveness");
            }
        }
    }
    let fluid = if water == Some(true) {
        SinkFluid::Water
    } else {
        SinkFluid::Air
    };
    let of = |temperature| Sink {
        fluid,
        ..Sink::air(temperature)
    };
    if reader.has("sink_temperature") {
        return reader.value("sink_temperature", TEMPERATURE).map(of);
    }
    if water == Some(true) {
        reader.is_missing("sink_temperature", TEMPERATURE.missing("sink_temperature"));
        return None;
    }
    let said = format!("the site's {:.1} degC is taken", site_temperature - 273.15);
    reader.default("sink_temperature", &said);
    Some(Sink::air(site_temperature))
}

/// One measured or published point of the charge side, scaled with the flows of both sides later.
fn rated(reader: &Reader<'_>) {
    let Some(point) = reader.section("rated") else {
        return;
    };
    point.needed("charge_flow", FLOW);
    point.needed("sink_flow", FLOW);
    point.not_both("effectiveness", "charge_outlet_temperature");
    if point.has("effectiveness") {
        point.value("effectiveness", Want::efficiency("0.75"));
        for key in ["charge_inlet_temperature", "sink_temperature"] {
            point.value(key, TEMPERATURE);
        }
    } else {
        let inlet = point.needed("charge_inlet_temperature", TEMPERATURE);
        let outlet = point.needed("charge_outlet_temperature", TEMPERATURE);
        let sink = point.needed("sink_temperature", TEMPERATURE);
        if let (Some(inlet), Some(outlet), Some(sink)) = (inlet, outlet, sink)
            && !((sink < outlet && outlet < inlet) || (inlet < outlet && outlet < sink))
        {
            let text = "has to lie between sink_temperature and charge_inlet_temperature";
            point.fault("charge_outlet_temperature", text);
        }
    }
    point.finish();
}

/// A bar-and-plate or tube-and-fin core by its outer sizes, channels and fins.
fn core(reader: &Reader<'_>) {
    let Some(core) = reader.section("core") else {
        return;
    };
    for key in [
        "charge_length",
        "sink_length",
        "stack_height",
        "charge_channel_height",
        "sink_channel_height",
    ] {
        core.needed(key, SIZE);
    }
    for key in ["charge_fin_pitch", "sink_fin_pitch", "fin_thickness"] {
        core.needed(key, SIZE);
    }
    core.value("plate_thickness", SIZE);
    core.value("fin_conductivity", CONDUCTIVITY);
    core.word("fin", &[("plain", ()), ("offset", ()), ("louvred", ())]);
    core.value("fin_offset_length", SIZE);
    core.finish();
}
