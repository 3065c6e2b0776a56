//! Builds that name the map of a turbine or of a supercharger.

use std::fs;

use super::{Scratch, check::TURBINE, named};

/// An invented map of two rotors.
const ROTORS: &str = "# origin = invented
speed [rpm],pressure_ratio [-],volumetric_efficiency [-],efficiency [-]
2000,1.0,0.80,0.62
2000,1.4,0.66,0.61
2000,1.8,0.58,0.56
5000,1.0,0.92,0.66
5000,1.4,0.86,0.65
5000,1.8,0.83,0.60
8000,1.0,0.95,0.64
8000,1.4,0.91,0.63
8000,1.8,0.89,0.58
";

#[test]
fn a_line_with_maps_of_all_three_machines_matches_at_every_speed() {
    let scratch = Scratch::new();
    // The small invented turbine with its flows raised to what the demo needs.
    let turbine: String = TURBINE
        .replace("0.10,", "0.145,")
        .replace("0.12,", "0.160,")
        .replace("0.13,", "0.165,");
    fs::write(scratch.as_ref().join("turbine.csv"), turbine).unwrap();
    fs::write(scratch.as_ref().join("rotors.csv"), ROTORS).unwrap();
    let mut arguments = vec!["line", "--format", "json"];
    for set in [
        "turbine.map=turbine.csv",
        "turbine.effective_area=",
        "turbine.efficiency=",
        "turbine.wheel_diameter=",
        "turbine.flow_law=",
        "supercharger.map=rotors.csv",
        "supercharger.slip_speed=",
    ] {
        arguments.extend(["--set", set]);
    }
    let ran = scratch.run(&arguments);
    let line = ran.json();
    let points = line["points"].as_array().unwrap();
    assert!(points.len() >= 11);
    for point in points {
        assert!(point.get("error").is_none(), "{point}");
        let turbine = named(point, "turbines", "turbine");
        let efficiency = turbine["efficiency"].as_f64().unwrap();
        assert!((0.0..=0.72).contains(&efficiency), "{turbine}");
    }
}
