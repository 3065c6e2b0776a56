//! A charge cooler of `[[air_path]]`: fixed effectiveness, rated point, or core.

mod core;
mod rated;
mod sink;
#[cfg(test)]
mod tests;

use super::rated_drop::{self, Need};
use super::reader::Reader;
use super::want::Want;
use crate::air_path::{Arrangement, Cooler, Exchange, Sink, SinkFlow, SinkFluid};
use crate::numeric::Schedule;
use crate::quantity::{Kind, words};

const TEMPERATURE: Want = Want::of(Kind::Temperature, "\"30 degC\"")
    .at_least(200.0)
    .at_most(700.0);
const FLOW: Want = Want::of(Kind::MassFlow, "\"0.8 kg/s\"")
    .above(0.0)
    .at_most(500.0);
const METAL: Want = Want::of(Kind::Mass, "\"6 kg\"").above(0.0).at_most(1e4);
/// Heat capacity of aluminium near room temperature, J/(kg K) (handbooks 897 to 900, from memory).
const ALUMINIUM: f64 = 900.0;
const ARRANGEMENTS: [(&str, Arrangement); 4] = [
    ("crossflow", Arrangement::CrossflowUnmixed),
    ("charge mixed", Arrangement::ChargeMixed),
    ("sink mixed", Arrangement::SinkMixed),
    ("counterflow", Arrangement::Counterflow),
];

/// Reads a cooler; the air outside is its sink where nothing else is said.
pub(super) fn read(reader: &Reader<'_>, site_temperature: f64) -> Option<Cooler> {
    let effectiveness = reader.schedule("effectiveness", Want::efficiency("0.75"));
    let fluid = sink::fluid(reader);
    let arrangement = if reader.has("arrangement") {
        reader.word("arrangement", &ARRANGEMENTS)
    } else {
        Some(Arrangement::default())
    };
    let rated = rated::read(reader, fluid, arrangement);
    let core = core::read(reader, fluid, arrangement);
    let pressure_drop = rated_drop::read(reader, Need::Optional);
    let metal = reader
        .value("metal_mass", METAL)
        .map(|mass| mass * ALUMINIUM);
    let sink = sink::read(reader, fluid, site_temperature);
    let exchange = if reader.has("rated") {
        rated.as_ref().map(|(rated, _)| Exchange::Rated(*rated))
    } else if reader.has("core") {
        core.map(|core| Exchange::Core(Box::new(core)))
    } else {
        fixed(reader, effectiveness)
    };
    let held = rated.map(|(_, flow)| flow);
    Some(Cooler {
        exchange: exchange?,
        pressure_drop: pressure_drop?,
        sink: with_flow(reader, sink?, held)?,
        metal,
    })
}

fn fixed(reader: &Reader<'_>, effectiveness: Option<Schedule>) -> Option<Exchange> {
    if !reader.has("effectiveness") {
        let text = words![
            Want::efficiency("0.75").missing("effectiveness"),
            "; without better knowledge 0.70; or rated, or core",
        ];
        reader.is_missing_one_of(&["effectiveness", "rated", "core"], text);
    }
    let why = "the cooler is described by its effectiveness alone";
    reader.set_aside(&["arrangement"], why);
    effectiveness.map(Exchange::Fixed)
}

/// A rated point and a core need the sink's flow; a rated point holds its own where none is given.
fn with_flow(reader: &Reader<'_>, sink: Sink, rated_flow: Option<f64>) -> Option<Sink> {
    if sink.flow != SinkFlow::Unknown || reader.has("effectiveness") {
        return Some(sink);
    }
    if let Some(flow) = rated_flow {
        let said = "the flow of the rated point is held at every speed";
        reader.default("sink_flow", said);
        return Some(sink.flowing(flow));
    }
    let ways = match sink.fluid {
        SinkFluid::Air => "; or vehicle_speed, or fan",
        SinkFluid::Water => "",
    };
    let text = words![FLOW.missing("sink_flow"), ways];
    reader.is_missing_one_of(&["sink_flow", "vehicle_speed", "fan"], text);
    None
}
