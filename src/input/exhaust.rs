//! `[turbine]`, its wastegate, and `[exhaust]`.

use super::air_path::AirPath;
use super::document::{Node, Table, Value};
use super::fault::Place;
use super::keys::air_path::EXHAUST_DROP;
use super::keys::exhaust::{self as key, BOOST_PLACES, FLOW_LAWS};
use super::maps::Maps;
use super::rated_drop;
use super::reader::Reader;
use crate::air_path::{CompressorPerformance, Part, TurboCompressor};
use crate::exhaust::{
    BoostAt, ExhaustPipe, FlowLaw, GateOpening, Swallowing, Turbine, TurbineEfficiency, Wastegate,
    critical_ratio, flow_function,
};
use crate::quantity::{Kind, example, words};

/// Gas of the stand that a choked corrected flow is measured with: lean diesel products near 950 K
/// (R of the products lies within 0.5 % of air's; gamma 1.31 by NASA polynomials at an air–fuel
/// ratio of 22). Air at room temperature (1.40) would give an area 2 % smaller.
const STAND_GAS: (f64, f64) = (287.05, 1.31);

/// Reads the turbines in exhaust order.
pub(super) fn read_turbines(
    root: &Reader<'_>,
    air_path: &AirPath,
    maps: &Maps<'_>,
) -> Vec<Turbine> {
    let compressors: Vec<&TurboCompressor> = air_path
        .parts
        .iter()
        .filter_map(|part| match part {
            Part::TurboCompressor(compressor) => Some(compressor),
            _ => None,
        })
        .collect();
    let mut turbines = Vec::new();
    for (number, (table, place)) in sections(root).into_iter().enumerate() {
        let path = if number == 0 {
            "turbine".to_owned()
        } else {
            format!("turbine.{}", number + 1)
        };
        let reader = Reader::new(table, place, &path, root.context());
        let turbine = read_turbine(&reader, number, &compressors, maps);
        // A part that could not be read may be the one that is driven.
        if let (Some(turbine), true) = (&turbine, air_path.complete) {
            check_driven(&reader, turbine, &turbines, compressors.len());
        }
        reader.finish();
        turbines.extend(turbine);
    }
    turbines
}

/// `[turbine]`, or each `[[turbine]]`.
fn sections<'a>(root: &Reader<'a>) -> Vec<(&'a Table, Place)> {
    match root.node("turbine") {
        None => Vec::new(),
        Some(Node {
            value: Value::Table(table),
            place,
        }) => vec![(table, place.clone())],
        Some(_) => root.sections("turbine").unwrap_or_default(),
    }
}

fn read_turbine(
    reader: &Reader<'_>,
    number: usize,
    compressors: &[&TurboCompressor],
    maps: &Maps<'_>,
) -> Option<Turbine> {
    let drives = drives(reader, number, compressors.len());
    let swallowing = swallowing(reader, maps);
    let efficiency = efficiency(reader, drives.and_then(|at| compressors.get(at).copied()));
    let mechanical_efficiency = reader.value_or_default(&key::MECHANICAL_EFFICIENCY);
    let wastegate = wastegate(reader);
    Some(Turbine {
        swallowing: swallowing?,
        efficiency: efficiency?,
        mechanical_efficiency: mechanical_efficiency?,
        drives: drives?,
        wastegate,
    })
}

fn drives(reader: &Reader<'_>, number: usize, compressors: usize) -> Option<usize> {
    if reader.has("drives") {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number from 1 to 64"
        )]
        return reader.value(&key::DRIVES).map(|which| which as usize - 1);
    }
    // The first turbine that the exhaust meets drives the last compressor that the air meets.
    Some(compressors.saturating_sub(number + 1))
}

fn check_driven(reader: &Reader<'_>, turbine: &Turbine, earlier: &[Turbine], compressors: usize) {
    let which = turbine.drives + 1;
    if turbine.drives >= compressors {
        let has = match compressors {
            0 => "no turbo_compressor".to_owned(),
            1 => "one turbo_compressor".to_owned(),
            more => format!("{more} turbo_compressors"),
        };
        reader.fault(
            "drives",
            format!("is turbo_compressor {which}, but the air path has {has}"),
        );
    } else if earlier.iter().any(|other| other.drives == turbine.drives) {
        reader.fault(
            "drives",
            format!("turbo_compressor {which} is driven by another turbine already"),
        );
    }
}

fn swallowing(reader: &Reader<'_>, maps: &Maps<'_>) -> Option<Swallowing> {
    let law = if reader.has("flow_law") {
        reader.word(&key::FLOW_LAW, &FLOW_LAWS)
    } else {
        Some(FlowLaw::Nozzle)
    };
    let area = reader.value(&key::EFFECTIVE_AREA);
    let choked = choked_area(reader);
    if reader.has("map") {
        return maps.turbine(reader, key::MAP.name).map(Swallowing::Map);
    }
    if !reader.has("effective_area") && !reader.has("choked_corrected_flow") {
        let text = words![
            key::EFFECTIVE_AREA.missing(),
            " (or choked_corrected_flow with its reference state, or map)",
        ];
        let alternatives = ["effective_area", "choked_corrected_flow", "map"];
        reader.is_missing_one_of(&alternatives, text);
    }
    if !reader.has("flow_law") {
        reader.default("flow_law", format!("\"{}\"", FLOW_LAWS[0].0));
    }
    Some(Swallowing::Area {
        effective_area: area.or(choked)?,
        law: law?,
    })
}

/// A = m_c √(R T_ref)/(p_ref ψ_max).
fn choked_area(reader: &Reader<'_>) -> Option<f64> {
    if !reader.has("choked_corrected_flow") {
        return None;
    }
    let flow = reader.value(&key::CHOKED_CORRECTED_FLOW);
    let temperature = reader.value(&key::REFERENCE_TEMPERATURE);
    let pressure = reader.value(&key::REFERENCE_PRESSURE);
    let (gas_constant, gamma) = STAND_GAS;
    let choked = flow_function(gamma, critical_ratio(gamma), FlowLaw::Nozzle);
    Some(flow? * (gas_constant * temperature?).sqrt() / (pressure? * choked))
}

fn efficiency(reader: &Reader<'_>, driven: Option<&TurboCompressor>) -> Option<TurbineEfficiency> {
    let figure = reader.value(&key::EFFICIENCY);
    let diameter = reader.value(&key::WHEEL_DIAMETER);
    if !reader.has("efficiency") {
        if reader.has("map") {
            return Some(TurbineEfficiency::Map);
        }
        reader.is_missing(
            "efficiency",
            words![
                key::EFFICIENCY.missing(),
                "; if unknown, 0.64 is usual, bearing included"
            ],
        );
    }
    let best = figure?;
    let Some(wheel_diameter) = diameter else {
        return Some(TurbineEfficiency::Figure(best));
    };
    let speed_known = driven
        .is_some_and(|compressor| matches!(compressor.performance, CompressorPerformance::Map));
    if speed_known {
        return Some(TurbineEfficiency::BladeSpeed {
            best,
            wheel_diameter,
        });
    }
    let text = "not used: the wheel's speed is known only with a compressor map; using one efficiency at \
                all speeds";
    reader.remark("wheel_diameter", text);
    Some(TurbineEfficiency::Figure(best))
}

fn wastegate(reader: &Reader<'_>) -> Option<Wastegate> {
    let gate = reader.section("wastegate")?;
    let boost_limit = gate.needed_schedule(&key::GATE_BOOST_LIMIT);
    let boost_at = if gate.has("boost_at") {
        gate.word(&key::GATE_BOOST_AT, &BOOST_PLACES)
    } else {
        gate.default("boost_at", format!("\"{}\"", BOOST_PLACES[0].0));
        Some(BoostAt::Manifold)
    };
    let valve = gate.value(&key::GATE_VALVE_DIAMETER);
    let opening = if gate.has("valve_diameter") {
        gate.value(&key::GATE_LARGEST_SHARE);
        valve.map(GateOpening::ValveDiameter)
    } else {
        gate.value_or_default(&key::GATE_LARGEST_SHARE)
            .map(GateOpening::LargestShare)
    };
    gate.finish();
    Some(Wastegate {
        boost_limit: boost_limit?,
        boost_at: boost_at?,
        opening: opening?,
    })
}

/// Reads the exhaust pipe; a build without the section has none.
pub(super) fn read_pipe(root: &Reader<'_>) -> Option<ExhaustPipe> {
    let reader = root.section("exhaust")?;
    if reader.has("pressure_drop") && !reader.has("at_temperature") {
        let text = words![
            "cold air; if the drop was measured on the hot engine, set at_temperature, e.g. ",
            example(Kind::Temperature, "\"650 degC\""),
        ];
        reader.default("at_temperature", text);
    }
    let drop = rated_drop::read(&reader, &EXHAUST_DROP, rated_drop::Need::Needed);
    reader.finish();
    Some(ExhaustPipe {
        pressure_drop: drop?,
    })
}
