//! One measured or published point of a charge cooler.

use super::sink::{WATER_FLOW, water};
use super::{FLOW, TEMPERATURE};
use crate::air_path::{Arrangement, Fluid, Rated, RatedError, RatedFigure, RatedPoint, SinkFluid};
use crate::input::reader::Reader;
use crate::input::want::Want;
use crate::quantity::{Kind, Words, amount, words};

const HEAT: Want = Want::of(Kind::Power, "\"28 kW\"").above(0.0).at_most(1e8);
/// Temperatures of a point that gives its effectiveness alone; a hundred kelvin move what follows
/// by the heat capacity's 2 %.
const USUAL_INLET: f64 = 423.15;
const USUAL_SINK: f64 = 298.15;
/// h ∝ m^n. Air in offset strips: j ∝ Re^−0.54 to Re^−0.40 (Manglik and Bergles 1995), so 0.46 to
/// 0.60; in louvres: j ∝ Re^−0.49 (Chang and Wang 1997), so 0.51; turbulent water: Nu ∝ Re^0.8
/// (Dittus and Boelter). All from memory.
const CHARGE_EXPONENT: f64 = 0.6;
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
    let charge_flow = point.needed("charge_flow", FLOW);
    let figure = figure(&point);
    let temperatures = temperatures(&point);
    let sink_flow = match fluid {
        Some(SinkFluid::Water) => water_flow(&point, temperatures),
        _ => point.needed("sink_flow", FLOW),
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
    let key = "sink_flow";
    if !point.has(key) {
        point.is_missing(key, WATER_FLOW.missing(key));
    }
    let node = point.node(key)?;
    let density = Fluid::water(temperatures?.1).density;
    let mut values = [water(node, density)
        .map_err(|text| point.fault(key, text))
        .ok()?];
    point.take(key, node, WATER_FLOW, &mut values)?;
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
    let effectiveness = point.value("effectiveness", Want::efficiency("0.75").below(1.0));
    let heat = point.value("heat", HEAT);
    let outlet = point.value("charge_outlet_temperature", TEMPERATURE);
    if point.has("effectiveness") {
        return effectiveness.map(RatedFigure::Effectiveness);
    }
    if point.has("heat") {
        return heat.map(RatedFigure::Heat);
    }
    if !point.has("charge_outlet_temperature") {
        let text = "is missing; how well it cools at these flows is wanted, for example \
                    effectiveness = 0.75; or heat, or charge_outlet_temperature";
        let ways = ["effectiveness", "heat", "charge_outlet_temperature"];
        point.is_missing_one_of(&ways, text);
    }
    outlet.map(RatedFigure::ChargeOutlet)
}

/// Of the charge and of the sink where they enter.
fn temperatures(point: &Reader<'_>) -> Option<(f64, f64)> {
    if point.has("effectiveness") {
        let inlet = point.value_or(
            "charge_inlet_temperature",
            TEMPERATURE,
            USUAL_INLET,
            hardly_counts(USUAL_INLET),
        );
        let sink = point.value_or(
            "sink_temperature",
            TEMPERATURE,
            USUAL_SINK,
            hardly_counts(USUAL_SINK),
        );
        return inlet.zip(sink);
    }
    let inlet = point.needed("charge_inlet_temperature", TEMPERATURE);
    let sink = point.needed("sink_temperature", TEMPERATURE);
    inlet.zip(sink)
}

fn hardly_counts(temperature: f64) -> Words {
    words![
        amount(temperature, Kind::Temperature, "degC", 0),
        " is taken, which hardly counts beside effectiveness",
    ]
}

/// The share of the resistance on the sink's side, and the exponents of charge and sink.
fn details(point: &Reader<'_>, fluid: SinkFluid) -> Option<(f64, (f64, f64))> {
    let (share, exponent) = match fluid {
        SinkFluid::Air => (AIR_SHARE, AIR_EXPONENT),
        SinkFluid::Water => (WATER_SHARE, WATER_EXPONENT),
    };
    let exponents = Want::number("0.6").at_least(0.0).at_most(1.0);
    let shares = Want::share("0.5").above(0.0).below(1.0);
    let said = |value: f64| format!("{value} is taken (common practice)");
    let share = point.value_or("sink_resistance_share", shares, share, said(share));
    let charge = point.value_or(
        "charge_exponent",
        exponents,
        CHARGE_EXPONENT,
        format!("{CHARGE_EXPONENT} is taken, that of offset fins"),
    );
    let what = match fluid {
        SinkFluid::Air => "louvred fins",
        SinkFluid::Water => "turbulent water",
    };
    let sink = point.value_or(
        "sink_exponent",
        exponents,
        exponent,
        format!("{exponent} is taken, that of {what}"),
    );
    Some((share?, charge.zip(sink)?))
}

fn makes_sense(reader: &Reader<'_>, point: &RatedPoint) -> bool {
    let (inlet, sink) = (point.charge_inlet, point.sink_inlet);
    if (inlet - sink).abs() < 1.0 {
        let text = words![
            "stands within ",
            amount(1.0, Kind::TemperatureDifference, "K", 0),
            " of sink_temperature: such a point rates nothing",
        ];
        reader.fault("charge_inlet_temperature", text);
        return false;
    }
    match point.figure {
        RatedFigure::ChargeOutlet(t) if !((sink < t && t < inlet) || (inlet < t && t < sink)) => {
            let text = "has to lie between sink_temperature and charge_inlet_temperature";
            reader.fault("charge_outlet_temperature", text);
            false
        }
        RatedFigure::Heat(_) if inlet < sink => {
            let text = "stands below sink_temperature: this point warms the charge";
            reader.fault("charge_inlet_temperature", text);
            false
        }
        _ => true,
    }
}
