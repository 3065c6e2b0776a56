//! Coolers as people write them, right and wrong.

use std::sync::Arc;

use crate::air_path::{Cooler, Exchange, FinKind, Part, SinkFlow, SinkFluid};
use crate::input::{Document, MapReference, Note, map_file, read};
use crate::quantity::UnitSystem;
use approx::assert_relative_eq;

const HEAD: &str = include_str!("../../../tests/cases/build_one_point.toml");
const RATED: &str =
    "rated = { charge_flow = \"0.25 kg/s\", sink_flow = \"0.9 kg/s\", effectiveness = 0.75 }";
const CORE: &str = "core = { width = \"450 mm\", height = \"300 mm\", depth = \"55 mm\", \
    charge_fin_height = \"6.5 mm\", charge_fin_pitch = \"2 mm\", sink_fin_height = \"8 mm\", \
    sink_fin_pitch = \"1.8 mm\" }";

fn no_maps(_: &MapReference) -> Result<Arc<map_file::MapFile>, Vec<Note>> {
    Err(Vec::new())
}

/// The cooler of a build with these lines, its faults and its remarks.
fn cooler(lines: &str) -> (Option<Cooler>, Vec<String>, Vec<String>) {
    let text = format!("{HEAD}\n[[air_path]]\npart = \"cooler\"\n{lines}\n");
    let outcome = read(&Document::from_text("t.toml", &text), &[], &no_maps);
    let said = |notes: &[Note]| notes.iter().map(Note::to_string).collect::<Vec<_>>();
    let found = outcome
        .installation
        .as_ref()
        .and_then(|it| match it.air_path.last() {
            Some(Part::Cooler(cooler)) => Some(cooler.clone()),
            _ => None,
        });
    (found, said(&outcome.faults), said(&outcome.remarks))
}

fn meant(lines: &str) -> Cooler {
    let (cooler, faults, _) = cooler(lines);
    assert!(faults.is_empty(), "{faults:#?}");
    cooler.expect("a cooler")
}

fn refused(lines: &str, key: &str, text: &str) {
    let (_, faults, _) = cooler(lines);
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert!(
        faults[0].contains(key) && faults[0].contains(text),
        "{faults:#?}"
    );
}

fn given_flow(cooler: &Cooler) -> f64 {
    match &cooler.sink.flow {
        SinkFlow::Given(flow) => flow.at(2000.0),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_rated_point_may_give_effectiveness_heat_or_outlet() {
    let share = meant(RATED);
    assert_relative_eq!(given_flow(&share), 0.9);
    let Exchange::Rated(rated) = &share.exchange else {
        panic!("{share:?}")
    };
    assert_relative_eq!(rated.charge.at_flow, 0.25);
    // Half of the resistance on each side: each hA is twice UA.
    assert_relative_eq!(rated.charge.conductance, rated.sink.conductance);
    let point = "charge_flow = \"0.25 kg/s\", sink_flow = \"0.9 kg/s\", \
                 charge_inlet_temperature = \"150 degC\", sink_temperature = \"25 degC\"";
    let outlet = format!("rated = {{ {point}, charge_outlet_temperature = \"56.25 degC\" }}");
    let Exchange::Rated(by_outlet) = meant(&outlet).exchange else {
        panic!()
    };
    // 0.75 of the way from 150 to 25 degC ends at 56.25 degC.
    assert_relative_eq!(
        by_outlet.charge.conductance,
        rated.charge.conductance,
        max_relative = 1e-9
    );
    let heat = format!("rated = {{ {point}, heat = \"20 kW\" }}\nsink_flow = \"0.5 kg/s\"");
    assert_relative_eq!(given_flow(&meant(&heat)), 0.5);
}

#[test]
fn a_rated_point_that_no_cooler_reaches_is_refused_at_its_figure() {
    refused(
        "rated = { charge_flow = \"0.25 kg/s\", sink_flow = \"0.15 kg/s\", effectiveness = 0.75 }",
        "cooler.2.rated.effectiveness",
        "reaches less than 0.59",
    );
    let point = "charge_flow = \"0.25 kg/s\", sink_flow = \"0.9 kg/s\", \
                 charge_inlet_temperature = \"150 degC\", sink_temperature = \"25 degC\"";
    refused(
        &format!("rated = {{ {point}, charge_outlet_temperature = \"20 degC\" }}"),
        "cooler.2.rated.charge_outlet_temperature",
        "between",
    );
    refused(
        &format!("rated = {{ {point}, heat = \"60 kW\" }}"),
        "rated.heat",
        "any size",
    );
    refused(
        &format!("rated = {{ {point} }}"),
        "rated.effectiveness",
        "is missing",
    );
    refused(&RATED.replace("0.75", "1.05"), "effectiveness", "below 1");
}

#[test]
fn a_core_takes_usual_fins_and_says_so() {
    let lines = format!("{CORE}\nsink_flow = \"0.9 kg/s\"");
    let (found, faults, remarks) = cooler(&lines);
    assert!(faults.is_empty(), "{faults:#?}");
    let found = found.expect("a cooler");
    let core = found.core().expect("a core");
    let kind = |passage: &crate::air_path::CorePassage| passage.fin.map(|fin| fin.kind);
    assert!(matches!(
        kind(&core.sizes().charge),
        Some(FinKind::Offset { .. })
    ));
    assert!(matches!(
        kind(&core.sizes().sink),
        Some(FinKind::Louvred { .. })
    ));
    assert!(core.is_unconfirmed());
    for said in [
        "charge_fin",
        "sink_fin",
        "strip_length",
        "material",
        "fin_thickness",
    ] {
        assert!(
            remarks
                .iter()
                .any(|line| line.contains(&format!("core.{said}:"))),
            "{said}"
        );
    }
    let tubes = CORE.replace(
        "core = {",
        "core = { construction = \"tube\", sink_fin = \"plain\",",
    );
    refused(
        &format!("{tubes}\nsink_flow = \"0.9 kg/s\""),
        "charge_fin_pitch",
        "no fins",
    );
    let tubes = tubes.replace("charge_fin_pitch = \"2 mm\",", "");
    let tubes = meant(&format!("{tubes}\nsink_flow = \"0.9 kg/s\""));
    assert!(!tubes.core().expect("a core").is_unconfirmed());
}

#[test]
fn sizes_that_make_no_core_are_refused_at_their_key() {
    let flow = "\nsink_flow = \"0.9 kg/s\"";
    let with = |old: &str, new: &str| format!("{}{flow}", CORE.replace(old, new));
    refused(
        &with("height = \"300 mm\"", "height = \"15 mm\""),
        "core.height",
        "one charge layer",
    );
    refused(
        &with("\"1.8 mm\"", "\"0.08 mm\""),
        "core.sink_fin_pitch",
        "leaves no room",
    );
    refused(CORE, "cooler.2.sink_flow", "or vehicle_speed, or fan");
    refused(
        &with(
            "width",
            "material = \"steel\", fin_conductivity = \"50 W/(m K)\", width",
        ),
        "core",
        "they say the same thing",
    );
}

#[test]
fn air_may_be_driven_by_wind_or_fan_and_warmed_by_a_radiator() {
    let drop = "sink_pressure_drop = \"200 Pa\"\nsink_drop_flow = \"0.6 kg/s\"";
    let wind = meant(&format!(
        "{RATED}\nvehicle_speed = [[1200, \"40 km/h\"], [3200, \"108 km/h\"]]\n{drop}"
    ));
    let SinkFlow::Ram {
        speed,
        pressure_coefficient,
    } = &wind.sink.flow
    else {
        panic!("{:?}", wind.sink)
    };
    assert_relative_eq!(speed.at(3200.0), 30.0);
    assert_relative_eq!(*pressure_coefficient, 0.3);
    let fan =
        format!("{RATED}\nfan = [[\"0.2 m3/s\", \"250 Pa\"], [\"1200 cfm\", \"40 Pa\"]]\n{drop}");
    let SinkFlow::Fan(curve) = meant(&fan).sink.flow else {
        panic!()
    };
    assert_relative_eq!(curve.rise(0.2), 250.0);
    refused(
        &format!("{RATED}\nvehicle_speed = \"40 km/h\""),
        "sink_pressure_drop",
        "is missing",
    );
    refused(
        &fan.replace("\"40 Pa\"", "\"400 Pa\""),
        "cooler.2.fan: row 2",
        "must fall",
    );
    refused(
        &fan.replace("[\"0.2 m3/s\", \"250 Pa\"], ", ""),
        "fan",
        "1 rows",
    );
    refused(
        &format!("{RATED}\nduct_pressure_coefficient = 0.4"),
        "duct",
        "belongs to vehicle_speed",
    );
    refused(
        &format!("{fan}\nsink_flow = \"0.4 kg/s\""),
        "cooler.2.sink_flow",
        "same thing",
    );
    let warm = meant(&format!("{RATED}\nsink_temperature_rise = \"12 K\""));
    let site = meant(RATED);
    assert_relative_eq!(warm.sink.temperature, site.sink.temperature + 12.0);
    refused(
        &format!("{RATED}\nsink_temperature_rise = \"12 K\"\nsink_temperature = \"30 degC\""),
        "sink_temperature_rise",
        "same thing",
    );
}

#[test]
fn the_flow_of_a_point_rated_with_water_may_be_a_volume() {
    let point = |flow: &str| {
        format!(
            "sink = \"water\"\nsink_temperature = \"35 degC\"\nrated = {{ charge_flow = \
             \"0.25 kg/s\", sink_flow = \"{flow}\", effectiveness = 0.75 }}"
        )
    };
    // 30 L/min of 997.05 kg/m³ (water at 25 degC and 101.325 kPa; IAPWS-95, from memory).
    let volume = given_flow(&meant(&point("30 L/min")));
    assert_relative_eq!(volume, 0.5 * 0.99705, max_relative = 1e-3);
    assert_relative_eq!(given_flow(&meant(&point("0.5 kg/s"))), 0.5);
    refused(&point("30"), "cooler.2.rated.sink_flow", "30 has no unit");
}

#[test]
fn water_runs_in_a_circuit_with_its_own_temperature() {
    let water = "sink = \"water\"\nsink_flow = \"30 L/min\"";
    let iced = meant(&format!(
        "{RATED}\n{water}\ntank_volume = \"20 L\"\nice_mass = \"5 kg\""
    ));
    assert_eq!(iced.sink.fluid, SinkFluid::Water);
    assert_relative_eq!(iced.sink.temperature, 273.15);
    // 30 L of water of 0 degC have 30.00 kg.
    assert_relative_eq!(given_flow(&iced), 0.5, max_relative = 1e-3);
    let cooled = meant(&format!(
        "{RATED}\n{water}\nradiator_conductance = \"900 W/K\""
    ));
    let circuit = cooled.sink.circuit.expect("a circuit");
    assert_relative_eq!(circuit.radiator_conductance, 900.0);
    refused(
        &format!("{RATED}\n{water}"),
        "sink_temperature",
        "is missing",
    );
    refused(
        &format!("{RATED}\n{water}\nradiator_conductance = \"3 kW/K\""),
        "radiator_conductance",
        "more than the water flow can carry",
    );
    refused(
        &format!("{RATED}\nsink = \"water\"\nradiator_conductance = \"900 W/K\""),
        "sink_flow",
        "with radiator_conductance",
    );
    refused(
        &format!("{RATED}\nice_mass = \"5 kg\""),
        "ice_mass",
        "belongs to a water circuit",
    );
    refused(
        &format!(
            "{RATED}\nsink = \"water\"\nsink_temperature = \"0 degC\"\nfan = [[\"0.2 m3/s\", \"250 Pa\"], [\"0.4 m3/s\", \"40 Pa\"]]"
        ),
        "cooler.2",
        "fan",
    );
    // 0 degC is a temperature like any other.
    let zero = meant(&format!("{RATED}\n{water}\nsink_temperature = \"0 degC\""));
    assert_relative_eq!(zero.sink.temperature, 273.15);
}

#[test]
fn metal_is_counted_as_aluminium() {
    let found = meant("effectiveness = 0.7\nmetal_mass = \"6 kg\"");
    assert_relative_eq!(found.metal.expect("metal"), 5400.0);
    let name = crate::quantity::label(crate::quantity::Kind::ThermalConductance, UnitSystem::Si);
    assert_eq!(name, "W/K");
}
