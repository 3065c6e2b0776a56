//! A charge cooler of `[[air_path]]`: fixed effectiveness, rated point, or core.

mod core;
mod rated;
mod sink;
#[cfg(test)]
mod tests;

use super::keys::air_path::COOLER_DROP;
use super::keys::cooler::{self as key, ARRANGEMENTS};
use super::rated_drop::{self, Need};
use super::reader::Reader;
use crate::air_path::{Arrangement, Cooler, Exchange, Sink, SinkFlow, SinkFluid};
use crate::numeric::Schedule;
use crate::quantity::words;

/// Heat capacity of aluminium near room temperature, J/(kg K) (handbooks 897 to 900, from memory).
const ALUMINIUM: f64 = 900.0;

/// Reads a cooler; the air outside is its sink where nothing else is said.
pub(super) fn read(reader: &Reader<'_>, site_temperature: f64) -> Option<Cooler> {
    let effectiveness = reader.schedule(&key::EFFECTIVENESS);
    let fluid = sink::fluid(reader);
    let arrangement = if reader.has("arrangement") {
        reader.word(&key::ARRANGEMENT, &ARRANGEMENTS)
    } else {
        Some(Arrangement::default())
    };
    let rated = rated::read(reader, fluid, arrangement);
    let core = core::read(reader, fluid, arrangement);
    let pressure_drop = rated_drop::read(reader, &COOLER_DROP, Need::Optional);
    let metal = reader.value(&key::METAL_MASS).map(|mass| mass * ALUMINIUM);
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
            key::EFFECTIVENESS.missing(),
            "; if unknown, 0.70 is usual; or rated, or core",
        ];
        reader.is_missing_one_of(&["effectiveness", "rated", "core"], text);
    }
    effectiveness.map(Exchange::Fixed)
}

/// A rated point and a core need the sink's flow; a rated point holds its own where none is given.
fn with_flow(reader: &Reader<'_>, sink: Sink, rated_flow: Option<f64>) -> Option<Sink> {
    if sink.flow != SinkFlow::Unknown || reader.has("effectiveness") {
        return Some(sink);
    }
    if let Some(flow) = rated_flow {
        let said = "the flow of the rated point at every speed";
        reader.default("sink_flow", said);
        return Some(sink.flowing(flow));
    }
    let ways = match sink.fluid {
        SinkFluid::Air => "; or vehicle_speed, or fan",
        SinkFluid::Water => "",
    };
    let text = words![key::SINK_FLOW.missing(), ways];
    reader.is_missing_one_of(&["sink_flow", "vehicle_speed", "fan"], text);
    None
}
