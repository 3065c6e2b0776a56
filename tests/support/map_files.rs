//! The map files of maps/ come from one recipe; this keeps the two together.

use std::fmt::Write as _;
use std::path::PathBuf;

use crate::recipe;

/// Wheel diameter in mm, and what the map is for.
const MAPS: [(u32, &str); 3] = [
    (66, "too small for the built-in demo"),
    (78, "fits the built-in demo"),
    (92, "too large for the built-in demo"),
];

fn path(diameter: u32) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("maps/invented_{diameter}mm.csv"))
}

/// The file's text: speeds scale against the wheel, so that tip speeds stay the same.
fn text(diameter: u32, purpose: &str) -> String {
    let d2 = f64::from(diameter) / 1000.0;
    let mut text = format!(
        "# An invented compressor with a {diameter} mm wheel, {purpose}. No machine was measured.\n\
         # origin = invented\n\
         # reference_temperature = 298.15 K\n\
         # reference_pressure = 100 kPa\n\
         corrected_speed [rpm], corrected_flow [kg/s], pressure_ratio [-], efficiency [-]\n"
    );
    for speed in recipe::SPEEDS {
        let speed = (speed * 78.0 / f64::from(diameter) / 100.0).round() * 100.0;
        for share in recipe::PLACES {
            let row = recipe::row(d2, speed, share);
            let (flow, ratio, efficiency) = (row.flow, row.pressure_ratio, row.efficiency);
            writeln!(text, "{speed:.0}, {flow:.5}, {ratio:.4}, {efficiency:.4}").unwrap();
        }
    }
    text
}

#[test]
fn every_map_file_is_what_the_recipe_gives() {
    for (diameter, purpose) in MAPS {
        let written = std::fs::read_to_string(path(diameter)).unwrap();
        assert_eq!(written, text(diameter, purpose), "{diameter} mm");
    }
}

/// `cargo test --test map_drawing -- --ignored` writes the files anew.
#[test]
#[ignore = "writes the map files"]
fn write_the_map_files() {
    for (diameter, purpose) in MAPS {
        std::fs::write(path(diameter), text(diameter, purpose)).unwrap();
    }
}
