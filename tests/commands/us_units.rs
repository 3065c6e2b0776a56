//! Readers of US units: faults, remarks, defaults, the key `units`, the starter build.

use std::fs;

use super::{Ran, Scratch, kept};

/// Builds with every kind of part, cooler and fuel.
const BUILDS: [&str; 6] = [
    "turbo_before_roots",
    "petrol_screw",
    "ice_tank",
    "ram_air_core",
    "cooled_by_rated_points",
    "water_and_wind",
];

/// Metric units of hints and examples, each as it stands behind a figure. What a reader wrote is
/// quoted as written, so that these runs write nothing metric themselves.
fn metric(text: &str) -> Option<&str> {
    const UNITS: [&str; 16] = [
        "kPa", "Pa", "bar", "MPa", "degC", "K", "mm", "m", "L", "cm2", "kg/s", "kg/h", "kW", "kN",
        "km/h", "kg/m3",
    ];
    let words: Vec<&str> = text
        .split([' ', '"', ',', ';', ':', '(', ')', '\n'])
        .collect();
    let is_number = |word: &str| word.parse::<f64>().is_ok();
    let pairs = words.windows(2).filter(|pair| is_number(pair[0]));
    pairs.map(|pair| pair[1]).find(|unit| UNITS.contains(unit))
}

fn check(build: &str, more: &[&str]) -> Ran {
    let build = kept(&format!("builds/{build}.toml"));
    Scratch::new().run(&[&["check", &build], more].concat())
}

#[test]
fn remarks_and_defaults_speak_the_units_of_their_reader() {
    for build in BUILDS {
        let si = check(build, &[]);
        assert!(metric(&si.err).is_some(), "the search finds what is there");
        let us = check(build, &["--units", "us"]);
        assert_eq!(us.code, 0, "{}", us.err);
        assert_eq!(metric(&us.err), None, "{build}: {}", us.err);
        assert_eq!(si.err.lines().count(), us.err.lines().count());
    }
}

#[test]
fn defaults_in_the_result_of_a_point_speak_them_too() {
    let build = kept("builds/ram_air_core.toml");
    let ran = Scratch::new().run(&["point", &build, "--rpm", "2000", "--units", "us"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let taken = ran.out.split("Defaults used").nth(1).unwrap();
    assert_eq!(metric(taken), None, "{taken}");
}

#[test]
fn what_a_fault_asks_for_stands_in_the_units_of_its_reader() {
    let sets = [
        "engine.displacement=270",
        "engine.displacement=",
        "engine.stroke=0.001 in",
        "site.altitude=90000 ft",
        "site.pressure=40 inHg",
        "site.temperature=red",
        "fuel.per_stroke=",
        "filter.at_flow=20",
        "filter.at_flow=20 psi",
        "filter.pressure_drop=",
        "supercharger.displacement=",
        "turbine.effective_area=",
        "exhaust.at_temperature=-500 degF",
        "limits.max_belt_pull=3",
        "limits.max_charge_temperature=9000 degF",
    ];
    for set in sets {
        let ran = check("turbo_before_roots", &["--units", "us", "--set", set]);
        assert_eq!(ran.code, 1, "{set}: {}", ran.err);
        // The zero of all scales is named on each of them, and the lists of units hold no figures.
        if !ran.err.contains("below absolute zero") {
            assert_eq!(metric(&ran.err), None, "{set}: {}", ran.err);
        }
    }
    let ran = check("turbo_before_roots", &["--units", "us", "--set", sets[0]]);
    let said = "e.g. \"270 in3\" (or L, cc)";
    assert!(ran.err.contains(said), "{}", ran.err);
}

#[test]
fn a_range_shown_to_its_reader_is_one_that_is_accepted() {
    let check = |altitude: &str| {
        let set = format!("site.altitude={altitude}");
        check("single_roots", &["--units", "us", "--set", &set])
    };
    let refused = check("90000 m");
    let said = "90000 m (295300 ft) is out of range: it must be between ";
    let range = refused.err.split(said).nth(1).expect(&refused.err);
    for end in range.trim().split(" and ") {
        assert_eq!(check(end).code, 0, "{end}");
    }
}

#[test]
fn a_build_chooses_its_units_and_the_command_line_wins() {
    let scratch = Scratch::new();
    let build = kept("builds/us_units.toml");
    let text = fs::read_to_string(&build).unwrap();
    fs::write(
        scratch.as_ref().join("us.toml"),
        format!("units = \"us\"\n{text}"),
    )
    .unwrap();
    fs::write(scratch.as_ref().join("none.toml"), format!("\n{text}")).unwrap();
    let point = |arguments: &[&str]| {
        let ran = scratch.run(&[&["point", "--rpm", "2200"], arguments].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let us = point(&["none.toml", "--units", "us"]);
    assert_eq!(point(&["us.toml"]), us);
    assert_eq!(point(&["none.toml", "--set", "units=us"]), us);
    assert_eq!(point(&["us.toml", "--units", "si"]), point(&["none.toml"]));
    assert_ne!(point(&["none.toml"]), us);
    let json = |file: &str| point(&[file, "--format", "json"]);
    assert_eq!(json("us.toml"), json("none.toml"), "JSON is always SI");
    // Its faults speak them as well.
    let faulty = scratch.run(&["check", "us.toml", "--set", "engine.displacement=466"]);
    assert!(faulty.err.contains("\"466 in3\""), "{}", faulty.err);
    let unknown = scratch.run(&["check", "us.toml", "--set", "units=furlongs"]);
    assert_eq!(unknown.err.lines().count(), 1, "{}", unknown.err);
    assert!(
        unknown.err.contains("expected one of \"si\", \"us\""),
        "{}",
        unknown.err
    );
}

/// Engine speed, air and manifold pressure of a starter at each speed, from its CSV, SI.
fn answers(units: &str) -> Vec<Vec<f64>> {
    let scratch = Scratch::new();
    let new = scratch.run(&["new", "t.toml", "--units", units]);
    assert_eq!(new.code, 0, "{}", new.err);
    let ran = scratch.run(&["line", "t.toml", "--format", "csv"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let mut rows = csv::Reader::from_reader(ran.out.as_bytes());
    let heading = rows.headers().unwrap().clone();
    let column = |name: &str| heading.iter().position(|key| key == name).expect(name);
    let wanted = ["rpm", "air_mass_flow_kg_s", "stations.manifold.pressure_pa"].map(column);
    let rows = rows.records().map(|row| {
        let row = row.unwrap();
        wanted.iter().map(|at| row[*at].parse().unwrap()).collect()
    });
    rows.collect()
}

#[test]
fn the_starter_in_us_units_runs_and_answers_as_the_metric_one_does() {
    let (metric, us) = (answers("si"), answers("us"));
    assert!(metric.len() > 5 && metric.len() == us.len());
    for (a, b) in metric.iter().flatten().zip(us.iter().flatten()) {
        // Figures of three digits are off by up to 0.5 % each.
        assert!((a / b - 1.0).abs() < 0.01, "{a} {b}");
    }
    assert_ne!(metric, us, "figures are rounded, not copied");
    let scratch = Scratch::new();
    scratch.run(&["new", "t.toml", "--units", "us"]);
    let strict = scratch.run(&["line", "t.toml", "--strict"]);
    assert_eq!(strict.code, 0, "{}", strict.out);
    assert!(strict.out.contains("[lb/min]"), "{}", strict.out);
    assert_eq!(metric_left(&scratch), None);
}

/// A metric unit among the messages on the starter in US units.
fn metric_left(scratch: &Scratch) -> Option<String> {
    let said = scratch.run(&["check", "t.toml"]).err;
    metric(&said).map(str::to_owned)
}
