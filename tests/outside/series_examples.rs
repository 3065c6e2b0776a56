//! Published layouts of two stages in series, and a build in US units, solved by the command itself.

use crate::{example, run, table};
use example::answers;
use run::{Scratch, kept};
use serde_json::Value;
use table::Deviations;

fn solved(build: &str, rpm: &str, set: &[&str]) -> Value {
    let path = kept(build);
    let mut arguments = vec!["point", &path, "--rpm", rpm, "--format", "json"];
    for value in set {
        arguments.extend(["--set", value]);
    }
    Scratch::new().run(&arguments).json()
}

fn number(point: &Value, list: &str, name: &str, key: &str) -> f64 {
    let items = point[list].as_array().unwrap();
    let item = items.iter().find(|item| item["name"] == name);
    item.unwrap_or_else(|| panic!("no {name}"))[key]
        .as_f64()
        .unwrap()
}

fn temperature(point: &Value, name: &str) -> f64 {
    number(point, "stations", name, "temperature_k")
}

/// Constant cp and γ put the book's outlets up to 0.23 % higher and its power 0.10 % higher.
#[test]
fn two_cooled_stages_of_a_textbook() {
    let point = solved("builds/series_two_cooled_stages.toml", "1000", &[]);
    let cooled = temperature(&point, "compressor outlet") - temperature(&point, "cooler outlet");
    // The effectiveness has six digits.
    assert!((cooled - 50.0).abs() < 1e-3, "{cooled}");
    let flow = point["air_mass_flow_kg_s"].as_f64().unwrap();
    // The displacement has five digits.
    assert!((flow - 5.0).abs() < 5e-4, "{flow}");
    let powers = ["turbo compressor", "turbo compressor 2"]
        .map(|name| number(&point, "stages", name, "power_w"));
    let power: f64 = powers.iter().sum::<f64>() * 5.0 / flow;
    let first = temperature(&point, "compressor outlet");
    let second = temperature(&point, "compressor 2 outlet");
    answers("series-01", "stage1_outlet_k", first, -0.07);
    answers("series-01", "stage2_outlet_k", second, -0.23);
    answers("series-01", "power_w", power, -0.10);
    let manifold = number(&point, "stations", "manifold", "pressure_pa");
    assert!((manifold / 525e3 - 1.0).abs() < 1e-9, "{manifold}");
}

/// By air tables: the book's variable heat capacity is ours to its digits.
#[test]
fn two_stages_by_air_tables_need_less_work_than_one() {
    let build = "builds/series_air_tables.toml";
    let point = solved(build, "1000", &[]);
    assert!((temperature(&point, "cooler outlet") - 300.0).abs() < 1e-9);
    answers(
        "series-03",
        "stage2_outlet_k",
        temperature(&point, "compressor 2 outlet"),
        0.12,
    );
    let work = |point: &Value, name| {
        number(point, "stages", name, "power_w") / point["air_mass_flow_kg_s"].as_f64().unwrap()
    };
    let two = work(&point, "turbo compressor") + work(&point, "turbo compressor 2");
    answers("series-03", "two_stage_work_j_kg", two, 0.02);
    let set = [
        "turbo_compressor.1.pressure_ratio=10",
        "turbo_compressor.2.pressure_ratio=1",
    ];
    let single = solved(build, "1000", &set);
    answers(
        "series-03",
        "single_stage_outlet_k",
        temperature(&single, "compressor outlet"),
        0.0,
    );
    answers(
        "series-03",
        "single_stage_work_j_kg",
        work(&single, "turbo compressor"),
        -0.01,
    );
    assert!(two < work(&single, "turbo compressor"));
}

/// The same build in SI, each figure carried over by hand from the unit's definition: 1 lb is
/// 0.45359237 kg, 1 in 25.4 mm, 1 lbf 4.4482216152605 N, inHg 3386.389 Pa and inH2O 249.08891 Pa
/// (conventional, NIST SP 811, appendix B).
const IN_SI: [&str; 20] = [
    "site.pressure=97697.32265 Pa",
    "site.temperature=304.26111111111109 K",
    "site.relative_humidity=0.45",
    "engine.displacement=7.062824584 L",
    "engine.stroke=119.634 mm",
    "engine.volumetric_efficiency=[[1400, 0.86], [2200, 0.90], [3000, 0.85]]",
    "engine.friction.constant=59983.8884508 Pa",
    "engine.head.stud_preload=100084.98634336125 N",
    "engine.head.sealed_bore=129.54 mm",
    "filter.pressure_drop=3487.24474 Pa",
    "filter.at_flow=0.3855535145 kg/s",
    "filter.at_temperature=25 degC",
    "supercharger.efficiency=0.62",
    "duct.pressure_drop=2757.9029172674 Pa",
    "duct.at_flow=0.3855535145 kg/s",
    "duct.at_pressure=137895.14586336999 Pa",
    "duct.at_temperature=366.48333333333335 K",
    "cooler.sink_temperature=35 degC",
    "cooler.pressure_drop=8273.7087518022 Pa",
    "cooler.at_flow=0.3855535145 kg/s",
];
const IN_SI_MORE: [&str; 4] = [
    "cooler.at_pressure=262000.77714041 Pa",
    "cooler.at_temperature=416.48333333333335 K",
    "limits.max_manifold_pressure=344737.86465842 Pa",
    "limits.max_charge_temperature=344.26111111111109 K",
];

#[test]
fn a_build_in_us_units_is_the_same_in_si() {
    let build = "builds/us_units.toml";
    let in_si: Vec<&str> = IN_SI.into_iter().chain(IN_SI_MORE).collect();
    let mut all = Deviations::of("US units against SI");
    for rpm in ["1400", "2200", "3000"] {
        let (us, si) = (solved(build, rpm, &[]), solved(build, rpm, &in_si));
        compare(&mut all, rpm, &us, &si);
    }
    all.finish();
}

/// Compares every number of two results: the columns of mercury and water are taken with seven digits above.
fn compare(all: &mut Deviations, place: &str, found: &Value, right: &Value) {
    match (found, right) {
        (Value::Object(found), Value::Object(right)) => {
            assert_eq!(found.len(), right.len(), "{place}");
            for (key, item) in right.iter().filter(|(key, _)| *key != "residuals") {
                compare(all, &format!("{place} {key}"), &found[key], item);
            }
        }
        (Value::Array(found), Value::Array(right)) => {
            assert_eq!(found.len(), right.len(), "{place}");
            for (i, item) in right.iter().enumerate() {
                compare(all, &format!("{place} {i}"), &found[i], item);
            }
        }
        (Value::Number(found), Value::Number(right)) => {
            let (found, right) = (found.as_f64().unwrap(), right.as_f64().unwrap());
            all.compare(place, found, right, 1e-6 * right.abs().max(1e-3));
        }
        _ => assert_eq!(found, right, "{place}"),
    }
}
