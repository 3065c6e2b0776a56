//! One measured or published point of a charge cooler.

use super::sink::water;
use crate::air_path::{Arrangement, Fluid, Rated, RatedError, RatedFigure, RatedPoint, SinkFluid};
use crate::input::keys::cooler::{self as key, WATER_FLOW};
use crate::input::keys::row::COMMON_PRACTICE;
use crate::input::reader::Reader;
use crate::quantity::{Kind, Words, amount, words};

/// Temperatures of a point that gives its effectiveness alone; a hundred kelvin move what follows
/// by the heat capacity's 2 %.
const USUAL_INLET: f64 = 423.15;
const USUAL_SINK: f64 = 298.15;
/// h ∝ m^n. Air in offset strips: j ∝ Re^−0.54 to Re^−0.40 (Manglik and Bergles 1995), so 0.46 to
/// 0.60; in louvres: j ∝ Re^−0.49 (Chang and Wang 1997), so 0.51; turbulent water: Nu ∝ Re^0.8
/// (Dittus and Boelter). All from memory.
const AIR_EXPONENT: f64 = 0.5;
const WATER_EXPONENT: f64 = 0.8;
/// How much of the resistance lies on the sink's side: of two sides with air about half, of water a
/// fifth (common practice).
const AIR_SHARE: f64 = 0.5;
const WATER_SHARE: f64 = 0.2;

/// Reads `rated`: the cooler, and the sink's flow at its point, kg/s.
pub(super) fn read(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    arrangement: Option<Arrangement>,
) -> Option<(Rated, f64)> {
    let point = reader.section("rated")?;
    let charge_flow = point.needed(&key::RATED_CHARGE_FLOW);
    let figure = figure(&point);
    let temperatures = temperatures(&point);
    let sink_flow = match fluid {
        Some(SinkFluid::Water) => water_flow(&point, temperatures),
        _ => point.needed(&key::RATED_SINK_FLOW),
    };
    let details = details(&point, fluid.unwrap_or(SinkFluid::Air));
    point.finish();
    let (charge_inlet, sink_inlet) = temperatures?;
    let (sink_share, exponents) = details?;
    let point_read = RatedPoint {
        arrangement: arrangement?,
        sink: fluid?,
        charge_flow: charge_flow?,
        sink_flow: sink_flow?,
        charge_inlet,
        sink_inlet,
        figure: figure?,
        sink_share,
        exponents,
    };
    if !makes_sense(&point, &point_read) {
        return None;
    }
    match Rated::new(&point_read) {
        Ok(rated) => Some((rated, point_read.sink_flow)),
        Err(RatedError::OutOfReach { needed, most }) => {
            point.fault(
                key_of(&point_read.figure),
                format!(
                    "needs an effectiveness of {needed:.3} on the charge side, and a cooler of any \
                     size reaches less than {most:.3} with these two flows in this arrangement"
                ),
            );
            None
        }
        Err(RatedError::Gas(error)) => {
            point.fault("charge_inlet_temperature", error.to_string());
            None
        }
    }
}

/// Flow of the water, also as a volume, with its density where it enters.
fn water_flow(point: &Reader<'_>, temperatures: Option<(f64, f64)>) -> Option<f64> {
    let key = &key::RATED_SINK_FLOW;
    if !point.has(key.name) {
        point.is_missing(key.name, WATER_FLOW.missing(key.name));
    }
    let node = point.node(key.name)?;
    let density = Fluid::water(temperatures?.1).density;
    let mut values = [water(node, density)
        .map_err(|text| point.fault(key.name, text))
        .ok()?];
    point.take(key, WATER_FLOW, node, &mut values)?;
    Some(values[0].value)
}

fn key_of(figure: &RatedFigure) -> &'static str {
    match figure {
        RatedFigure::Effectiveness(_) => "effectiveness",
        RatedFigure::Heat(_) => "heat",
        RatedFigure::ChargeOutlet(_) => "charge_outlet_temperature",
    }
}

/// One of three figures.
fn figure(point: &Reader<'_>) -> Option<RatedFigure> {
    let effectiveness = point.value(&key::RATED_EFFECTIVENESS);
    let heat = point.value(&key::RATED_HEAT);
    let outlet = point.value(&key::RATED_CHARGE_OUTLET_TEMPERATURE);
    if point.has("effectiveness") {
        return effectiveness.map(RatedFigure::Effectiveness);
    }
    if point.has("heat") {
        return heat.map(RatedFigure::Heat);
    }
    if !point.has("charge_outlet_temperature") {
        let text = "is missing: how well it cools at these flows, e.g. effectiveness = 0.75; or heat, or \
                    charge_outlet_temperature";
        let alternatives = ["effectiveness", "heat", "charge_outlet_temperature"];
        point.is_missing_one_of(&alternatives, text);
    }
    outlet.map(RatedFigure::ChargeOutlet)
}

/// Of the charge and of the sink where they enter.
fn temperatures(point: &Reader<'_>) -> Option<(f64, f64)> {
    if point.has("effectiveness") {
        let inlet = point.value_or(
            &key::RATED_CHARGE_INLET_TEMPERATURE,
            USUAL_INLET,
            hardly_counts(USUAL_INLET),
        );
        let sink = point.value_or(
            &key::RATED_SINK_TEMPERATURE,
            USUAL_SINK,
            hardly_counts(USUAL_SINK),
        );
        return inlet.zip(sink);
    }
    let inlet = point.needed(&key::RATED_CHARGE_INLET_TEMPERATURE);
    let sink = point.needed(&key::RATED_SINK_TEMPERATURE);
    inlet.zip(sink)
}

fn hardly_counts(temperature: f64) -> Words {
    words![
        amount(temperature, Kind::Temperature, "degC", 0),
        " (little effect when effectiveness is given)",
    ]
}

/// The share of the resistance on the sink's side, and the exponents of charge and sink.
fn details(point: &Reader<'_>, fluid: SinkFluid) -> Option<(f64, (f64, f64))> {
    let (share, exponent) = match fluid {
        SinkFluid::Air => (AIR_SHARE, AIR_EXPONENT),
        SinkFluid::Water => (WATER_SHARE, WATER_EXPONENT),
    };
    let said = format!("{share} ({COMMON_PRACTICE})");
    let share = point.value_or(&key::RATED_SINK_RESISTANCE_SHARE, share, said);
    let charge = point.value_or_default(&key::RATED_CHARGE_EXPONENT);
    let what = match fluid {
        SinkFluid::Air => "louvred fins",
        SinkFluid::Water => "turbulent water",
    };
    let sink = point.value_or(
        &key::RATED_SINK_EXPONENT,
        exponent,
        format!("{exponent} ({what})"),
    );
    Some((share?, charge.zip(sink)?))
}

fn makes_sense(reader: &Reader<'_>, point: &RatedPoint) -> bool {
    let (inlet, sink) = (point.charge_inlet, point.sink_inlet);
    if (inlet - sink).abs() < 1.0 {
        let text = words![
            "is within ",
            amount(1.0, Kind::TemperatureDifference, "K", 0),
            " of sink_temperature: such a point says nothing about the cooler",
        ];
        reader.fault("charge_inlet_temperature", text);
        return false;
    }
    match point.figure {
        RatedFigure::ChargeOutlet(t) if !((sink < t && t < inlet) || (inlet < t && t < sink)) => {
            let text = "must be between sink_temperature and charge_inlet_temperature";
            reader.fault("charge_outlet_temperature", text);
            false
        }
        RatedFigure::Heat(_) if inlet < sink => {
            let text = "is below sink_temperature: at this point the charge would warm up";
            reader.fault("charge_inlet_temperature", text);
            false
        }
        _ => true,
    }
}
