//! What must hold of every point of every build that is kept here, as the tool prints it.

use airpath::gas::HumidAir;
use serde_json::Value;

use super::{Scratch, kept, named, number};

/// Builds of all layouts, the demo among them (its name is empty).
const BUILDS: [&str; 10] = [
    "",
    "cases/build_one_point.toml",
    "builds/hill_climb_diesel.toml",
    "builds/marine_diesel.toml",
    "builds/petrol_screw.toml",
    "builds/single_roots.toml",
    "builds/single_turbo.toml",
    "builds/turbo_before_roots.toml",
    "builds/two_turbos.toml",
    "builds/water_and_wind.toml",
];

/// Every solved point of a build.
fn points(build: &str, more: &[&str]) -> Vec<Value> {
    let path = kept(build);
    let mut arguments = vec!["line", "--format", "json"];
    if !build.is_empty() {
        arguments.push(&path);
    }
    arguments.extend(more);
    let json = Scratch::new().run(&arguments).json();
    let points = json["points"].as_array().unwrap();
    assert!(!points.is_empty());
    points.clone()
}

fn each(check: impl Fn(&str, &Value)) {
    for build in BUILDS {
        for point in points(build, &[]) {
            check(&format!("{build} at {}", point["rpm"]), &point);
        }
    }
}

fn list<'a>(point: &'a Value, name: &str) -> &'a [Value] {
    point[name].as_array().unwrap()
}

fn text<'a>(item: &'a Value, key: &str) -> &'a str {
    item[key].as_str().unwrap()
}

/// The stations before and after a stage.
fn around(stage: &str) -> (String, String) {
    let place = stage.replacen("turbo compressor", "compressor", 1);
    (format!("{place} inlet"), format!("{place} outlet"))
}

fn close(place: &str, found: f64, right: f64, relative: f64) {
    assert!(
        (found - right).abs() <= relative * right.abs(),
        "{place}: {found} for {right}"
    );
}

#[test]
fn a_stages_ratio_is_the_quotient_of_its_own_stations() {
    each(|place, point| {
        for stage in list(point, "stages") {
            let (before, after) = around(text(stage, "name"));
            let ratio = number(point, "stations", &after, "pressure_pa")
                / number(point, "stations", &before, "pressure_pa");
            close(
                place,
                stage["pressure_ratio"].as_f64().unwrap(),
                ratio,
                1e-9,
            );
        }
    });
}

#[test]
fn the_shares_of_the_split_add_to_one() {
    each(|place, point| {
        let shares: Vec<f64> = list(point, "stages")
            .iter()
            .filter_map(|stage| stage["split_share"].as_f64())
            .collect();
        assert_eq!(shares.len(), list(point, "stages").len(), "{place}");
        close(place, shares.iter().sum(), 1.0, 1e-9);
    });
}

#[test]
fn a_corrected_flow_takes_the_stages_own_inlet() {
    let path = kept("cases/map_base.csv");
    let with_map = points("cases/build_one_point.toml", &["--map", &path]);
    for point in points("", &[]).iter().chain(&with_map) {
        let stage = named(point, "stages", "turbo compressor");
        let inlet = |key| number(point, "stations", "compressor inlet", key);
        let flow = stage["mass_flow_kg_s"].as_f64().unwrap();
        let root = (inlet("temperature_k") / 298.15).sqrt();
        let corrected = flow * root / (inlet("pressure_pa") / 100e3);
        close(
            "flow",
            stage["corrected_flow_kg_s"].as_f64().unwrap(),
            corrected,
            1e-9,
        );
        if let Some(speed) = stage["speed_rpm"].as_f64() {
            let shown = stage["corrected_speed_rpm"].as_f64().unwrap();
            close("speed", shown, speed / root, 1e-9);
        }
    }
}

#[test]
fn powers_and_heats_are_enthalpy_differences_of_their_own_stations() {
    // The case's air is dry, so that its enthalpy is known without the tool's site.
    let dry = HumidAir::dry().gas();
    let humid = "site.relative_humidity=0";
    for build in ["", "cases/build_one_point.toml", "builds/two_turbos.toml"] {
        for point in points(build, &["--set", humid]) {
            let h = |name: &str| {
                dry.enthalpy(number(&point, "stations", name, "temperature_k"))
                    .unwrap()
            };
            for stage in list(&point, "stages") {
                let (before, after) = around(text(stage, "name"));
                let flow = number(&point, "stations", &after, "mass_flow_kg_s");
                let power = flow * (h(&after) - h(&before));
                let shown = stage["power_w"].as_f64().unwrap();
                // A ten-millionth of what the flow carries: the last digits of a temperature.
                assert!(
                    (shown - power).abs() <= 1e-7 * flow * 1e5,
                    "{build}: {shown} {power}"
                );
            }
            for cooler in list(&point, "coolers") {
                let name = format!("{} outlet", text(cooler, "name"));
                let stations = list(&point, "stations");
                let at = stations
                    .iter()
                    .position(|s| text(s, "name") == name)
                    .unwrap();
                let flow = number(&point, "stations", &name, "mass_flow_kg_s");
                let heat = flow * (h(text(&stations[at - 1], "name")) - h(&name));
                close(build, cooler["heat_w"].as_f64().unwrap(), heat, 1e-9);
            }
        }
    }
}

#[test]
fn drive_pressure_stands_above_the_turbines_outlet_and_that_above_the_site() {
    let weak = ["--set", "fuel.per_stroke=40 mg"];
    let lines = BUILDS.iter().map(|build| points(build, &[]));
    for point in lines.chain([points("", &weak)]).flatten() {
        let pressure = |name: &str| number(&point, "stations", name, "pressure_pa");
        for turbine in list(&point, "turbines") {
            let (inlet, outlet) = (
                pressure(&format!("{} inlet", text(turbine, "name"))),
                pressure(&format!("{} outlet", text(turbine, "name"))),
            );
            assert!(inlet >= outlet && outlet >= pressure("ambient"), "{point}");
            let ratio = turbine["expansion_ratio"].as_f64().unwrap();
            close("expansion", ratio, inlet / outlet, 1e-9);
        }
    }
}

#[test]
fn stations_stand_in_flow_order_and_every_stage_has_its_own() {
    each(|place, point| {
        let names: Vec<_> = list(point, "stations")
            .iter()
            .map(|s| text(s, "name"))
            .collect();
        assert_eq!(names[0], "ambient", "{place}");
        let at = |name: &str| {
            names
                .iter()
                .position(|n| *n == name)
                .unwrap_or_else(|| panic!("{place}: no {name}"))
        };
        let mut last = 0;
        for stage in list(point, "stages") {
            let (before, after) = around(text(stage, "name"));
            assert!(last < at(&before) && at(&before) < at(&after), "{place}");
            last = at(&after);
        }
        assert!(last < at("manifold"), "{place}");
        for (i, turbine) in list(point, "turbines").iter().enumerate() {
            let name = text(turbine, "name");
            let expected = if i == 0 {
                "turbine".to_owned()
            } else {
                format!("turbine {}", i + 1)
            };
            assert_eq!(name, expected, "{place}");
            let inlet = at(&format!("{name} inlet"));
            assert!(
                at("manifold") < inlet && inlet < at(&format!("{name} outlet")),
                "{place}"
            );
        }
        let has_turbine = !list(point, "turbines").is_empty();
        assert!(!(has_turbine && names.contains(&"exhaust")), "{place}");
    });
}

#[test]
fn every_balance_is_met() {
    each(|place, point| {
        for balance in ["flow", "power", "pressure"] {
            let left = point["residuals"][balance].as_f64().unwrap();
            assert!(left.abs() < 1e-9, "{place}: {balance} {left}");
        }
    });
}

#[test]
fn power_torque_and_consumption_belong_together() {
    let mut count = 0;
    for build in BUILDS {
        for point in points(build, &[]) {
            let engine = |key: &str| point["engine"][key].as_f64();
            // Given stages without an exhaust leave the pumping, and with it the crank, unknown.
            let Some(brake) = engine("brake_power_w") else {
                assert_eq!(build, "cases/build_one_point.toml");
                assert!(engine("torque_n_m").is_none() && engine("bsfc_g_kwh").is_none());
                continue;
            };
            let turns = point["rpm"].as_f64().unwrap() / 60.0;
            let torque = brake / (std::f64::consts::TAU * turns);
            close(build, engine("torque_n_m").unwrap(), torque, 1e-9);
            let fuel = point["fuel_mass_flow_kg_s"].as_f64().unwrap();
            close(
                build,
                engine("bsfc_g_kwh").unwrap(),
                3.6e9 * fuel / brake,
                1e-9,
            );
            count += 1;
        }
    }
    assert!(count > 50);
}
