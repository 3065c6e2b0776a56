//! Pressure drop of pipes and bends against the `fluids` library (tests/reference/duct.csv).

use crate::table::{Deviations, Row, rows};
use airpath::air_path::{Duct, DuctPressureDrop};

/// The drop of a row's pipe at a length in m and a number of bends.
fn drop(row: &Row, length: f64, bends: f64) -> f64 {
    let duct = Duct {
        pressure_drop: DuctPressureDrop::Pipe {
            diameter: row.number("diameter_m"),
            length,
            bends,
        },
    };
    let density = row.number("density_kg_m3");
    duct.pressure_drop(
        row.number("flow_kg_s"),
        density,
        row.number("temperature_k"),
    )
}

/// Haaland's friction lies within 2 % of Colebrook's; Sutherland's viscosity within 1.5 % of the
/// library's, which moves laminar friction by as much and turbulent friction by a quarter of it.
#[test]
fn straight_pipes_drop_what_colebrook_says() {
    let mut all = Deviations::of("straight pipes");
    for row in rows("duct.csv") {
        let right = row.number("straight_pa");
        let allowed = if row.number("reynolds") < 2000.0 {
            0.015
        } else {
            0.024
        };
        let found = drop(&row, row.number("length_m"), 0.0);
        let place = format!("Re {}", row.text("reynolds"));
        all.compare(&place, found, right, allowed * right);
    }
    all.finish();
}

/// One round figure stands for every bend, so it cannot be nearer than the handbooks are to each other:
/// it lies between the least and the most of four.
#[test]
fn a_bend_drops_between_the_least_and_the_most_of_the_handbooks() {
    let turbulent = |row: &Row| row.number("reynolds") > 4000.0;
    for row in rows("duct.csv").iter().filter(|row| turbulent(row)) {
        let handbooks = ["rennels", "crane", "miller", "swamee"];
        let right = handbooks.map(|name| row.number(&format!("bend_{name}_pa")));
        let least = right.into_iter().fold(f64::INFINITY, f64::min);
        let most = right.into_iter().fold(0.0, f64::max);
        let bend = drop(row, 0.0, 1.0);
        assert!((least..most).contains(&bend), "{bend} beside {right:?}");
        // Each bend costs as much again.
        assert!((drop(row, 0.0, 3.0) / bend - 3.0).abs() < 1e-12);
    }
}
