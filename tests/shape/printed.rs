//! What the tool prints as JSON on builds of all kinds, each once for all checks.

use std::sync::OnceLock;

use airpath::report::Output;
use serde_json::Value;

use crate::run::{Scratch, kept};

/// Builds of all layouts; the empty name is the demo.
pub const BUILDS: [&str; 10] = [
    "",
    "builds/methanol_sprint.toml",
    "cases/build_one_point.toml",
    "builds/marine_diesel.toml",
    "builds/petrol_screw.toml",
    "builds/single_roots.toml",
    "builds/single_turbo.toml",
    "builds/turbo_before_roots.toml",
    "builds/two_turbos.toml",
    "builds/water_and_wind.toml",
];

/// An output, its command, what it printed.
pub type Printed = (Output, String, Value);

/// All of them.
pub fn printed() -> &'static [Printed] {
    static PRINTED: OnceLock<Vec<Printed>> = OnceLock::new();
    PRINTED.get_or_init(|| commands().iter().map(|words| print(words)).collect())
}

fn print(command: &[String]) -> Printed {
    let words: Vec<&str> = command.iter().map(String::as_str).collect();
    let ran = Scratch::new().run(&[&words[..], &["--format", "json"]].concat());
    let is_check = words[0] == "check";
    assert!(ran.code == 0 || is_check, "{command:?}: {}", ran.err);
    let value = serde_json::from_str(&ran.out).unwrap();
    let output = Output::named(words[0]).unwrap();
    (output, command.join(" "), value)
}

/// A command on a build: words that name files of the tests are made paths.
fn command(words: &[&str]) -> Vec<String> {
    let is_file = |word: &str| word.starts_with("builds/") || word.starts_with("cases/");
    let words = words.iter().filter(|word| !word.is_empty());
    words
        .map(|word| {
            if is_file(word) {
                kept(word)
            } else {
                (*word).to_owned()
            }
        })
        .collect()
}

/// Commands of every kind of layout, cooler, sink, target, run and map.
fn commands() -> Vec<Vec<String>> {
    let mut all = Vec::new();
    for build in BUILDS {
        all.push(command(&["line", build]));
        all.push(command(&["point", "--rpm", "1900", build]));
    }
    let warm = "site.temperature=20 degC +- 3 K";
    for (build, displacement) in [
        ("", "engine.displacement=4.5 L +- 1 %"),
        (
            "builds/marine_diesel.toml",
            "engine.displacement=16.9 L +- 1 %",
        ),
        ("builds/single_roots.toml", warm),
        ("builds/two_turbos.toml", warm),
    ] {
        let sets = ["--set", warm, "--set", displacement, build];
        // The bands of two turbochargers are sampled, at each speed for a while: one will do.
        if build != "builds/two_turbos.toml" {
            let coarse = ["line", "--set", "engine.rpm.step=700"];
            all.push(command(&[&coarse[..], &sets[..]].concat()));
        }
        all.push(command(
            &[&["point", "--sensitivity", "--rpm", "1900"], &sets[..]].concat(),
        ));
    }
    // The studs move what is found, not the match: an input without effect.
    let studs = "engine.head.stud_preload=75 kN +- 5 kN";
    let idle = [
        "point",
        "--sensitivity",
        "--rpm",
        "1900",
        "--set",
        warm,
        "--set",
        studs,
    ];
    all.push(command(&idle));
    for build in ["", "builds/single_turbo.toml", "builds/single_roots.toml"] {
        all.push(command(&[
            "line",
            "--beside",
            "high: site.altitude=2000 m",
            build,
        ]));
    }
    let no_gate = [
        "--set",
        "turbine.wastegate=",
        "--set",
        "turbine.effective_area=2 cm2",
    ];
    all.push(command(&[&["line"], &no_gate[..]].concat()));
    all.extend(cooler_commands().iter().map(|words| command(words)));
    let maps = format!("{}/maps", env!("CARGO_MANIFEST_DIR"));
    all.push(command(&["rank", &maps]));
    all.push(command(&["rank", "builds/us_units.toml", &maps]));
    all.push(command(&["check", &maps]));
    all.push(command(&["check", "--set", warm]));
    all.push(command(&[
        "check",
        "cases/map_shuffled.csv",
        "cases/build_bare_number.toml",
    ]));
    all
}

fn cooler_commands() -> Vec<Vec<&'static str>> {
    let ice = "builds/ice_tank.toml";
    let core = "builds/ram_air_core.toml";
    let metal = "cooler.metal_mass=6 kg";
    vec![
        vec!["cooler"],
        vec!["cooler", "--target", "20 degC"],
        vec!["cooler", "--set", "limits.max_charge_temperature="],
        vec!["cooler", "--set", metal, "--seconds", "40", "--swept"],
        vec![
            "cooler",
            "builds/two_turbos.toml",
            "--cooler",
            "1",
            "--target",
            "60 degC",
        ],
        vec!["cooler", "builds/turbo_before_roots.toml"],
        vec!["cooler", "builds/single_turbo.toml", "--target", "700 degF"],
        vec!["cooler", "builds/petrol_screw.toml", "--target", "320 K"],
        vec!["cooler", "builds/water_and_wind.toml"],
        // Until the water boils.
        vec!["cooler", ice, "--seconds", "3000"],
        vec!["cooler", ice],
        vec![
            "cooler",
            ice,
            "--seconds",
            "90",
            "--start-temperature",
            "70 degF",
        ],
        vec!["cooler", core],
        vec!["cooler", core, "--seconds", "30", "--hold", "2000"],
    ]
}
