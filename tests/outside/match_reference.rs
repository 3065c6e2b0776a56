//! The solver against an independent solution of the same equations: nested bracketed roots in
//! SciPy with Cantera's gas data, written before this solver (tests/reference/match/).
//!
//! Limits: 0.2 % of flows, pressures, temperatures and powers. The two gas data sets differ by up to
//! 0.1 % in heat capacity (tests/reference/README.md), which moved flow and pressure of that
//! solution by at most 0.07 % and turbo power by 0.15 %. Shares are held to 0.002 absolute for the
//! same reason.

use std::path::{Path, PathBuf};

use airpath::input::{self, Document, Override};
use airpath::matching::{Installation, Match, Solver};

const RELATIVE: f64 = 0.002;
const SHARE: f64 = 0.002;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests")
}

/// One reference match: names and cells.
struct Row {
    cells: Vec<(String, String)>,
}

impl Row {
    fn text(&self, name: &str) -> &str {
        let cell = self.cells.iter().find(|(column, _)| column == name);
        &cell.unwrap_or_else(|| panic!("no column {name}")).1
    }

    fn number(&self, name: &str) -> Option<f64> {
        self.text(name).parse().ok()
    }

    fn name(&self) -> String {
        format!(
            "{} {} at {} rpm",
            self.text("build"),
            self.text("overrides"),
            self.text("rpm")
        )
    }
}

fn rows() -> Vec<Row> {
    let path = folder().join("reference/match/matches.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .expect("the table is there");
    let columns = reader.headers().expect("a heading").clone();
    let row = |record: csv::StringRecord| {
        let cells = columns.iter().zip(record.iter());
        Row {
            cells: cells.map(|(a, b)| (a.to_owned(), b.to_owned())).collect(),
        }
    };
    reader
        .records()
        .map(|record| row(record.expect("a row")))
        .collect()
}

fn installation(row: &Row) -> Installation {
    let path = folder().join(format!("builds/{}.toml", row.text("build")));
    let bytes = std::fs::read(&path).expect("the build is there");
    let document = Document::from_bytes(&path.display().to_string(), &bytes);
    let set = row
        .text("overrides")
        .split(';')
        .filter(|text| !text.is_empty());
    let overrides: Vec<_> = set
        .map(|text| Override::parse(text).expect("KEY=VALUE"))
        .collect();
    let outcome = input::read(&document, &overrides, &|_| panic!("no map is named"));
    assert!(
        outcome.faults.is_empty(),
        "{}: {:#?}",
        row.name(),
        outcome.faults
    );
    outcome.installation.expect("no fault, so an installation")
}

/// What this solver finds, under the table's names.
fn found(solver: &Solver, found: &Match) -> Vec<(&'static str, f64)> {
    let layout = solver.layout();
    let station = |name: &str| {
        let place = layout
            .stations
            .iter()
            .position(|station| station.name == name);
        place.map(|place| found.stations[place])
    };
    let stage = |name: &str| {
        let place = layout.stages.iter().position(|(stage, _)| stage == name);
        place.map(|place| found.stages[place])
    };
    let inlet = station("turbine inlet").or(station("exhaust"));
    let outlet = station("turbine 2 outlet").or(station("turbine outlet"));
    let turbos = found.stages.iter().zip(&layout.stages);
    let turbo_power: f64 = turbos
        .filter(|(_, (name, _))| name.starts_with("turbo"))
        .map(|(stage, _)| stage.power_to_air)
        .sum();
    let values = [
        ("air_mass_flow_kg_s", Some(found.air_mass_flow)),
        ("fuel_mass_flow_kg_s", found.fuel_mass_flow),
        (
            "supercharger_pressure_ratio",
            stage("supercharger").map(|s| s.pressure_ratio),
        ),
        (
            "turbo_pressure_ratio",
            stage("turbo compressor").map(|s| s.pressure_ratio),
        ),
        (
            "turbo_2_pressure_ratio",
            stage("turbo compressor 2").map(|s| s.pressure_ratio),
        ),
        (
            "supercharger_outlet_k",
            station("supercharger outlet").map(|s| s.temperature),
        ),
        (
            "compressor_outlet_k",
            station("compressor outlet").map(|s| s.temperature),
        ),
        (
            "compressor_2_outlet_k",
            station("compressor 2 outlet").map(|s| s.temperature),
        ),
        ("manifold_pa", station("manifold").map(|s| s.pressure)),
        ("manifold_k", station("manifold").map(|s| s.temperature)),
        ("turbine_inlet_pa", inlet.map(|s| s.pressure)),
        ("turbine_inlet_k", inlet.map(|s| s.temperature)),
        ("turbine_outlet_pa", outlet.map(|s| s.pressure)),
        ("turbine_outlet_k", outlet.map(|s| s.temperature)),
        (
            "turbine_2_inlet_pa",
            station("turbine 2 inlet").map(|s| s.pressure),
        ),
        (
            "turbine_2_inlet_k",
            station("turbine 2 inlet").map(|s| s.temperature),
        ),
        (
            "supercharger_crank_power_w",
            stage("supercharger").and_then(|s| s.crank_power),
        ),
        (
            "turbo_compressor_power_w",
            (turbo_power > 0.0).then_some(turbo_power),
        ),
        ("brake_power_w", found.engine.brake_power),
        (
            "volumetric_efficiency",
            Some(found.engine.volumetric_efficiency),
        ),
        (
            "wastegate_share",
            found.turbines.first().and_then(|t| t.wastegate_share),
        ),
        (
            "bypass_share",
            stage("supercharger").and_then(|s| s.bypass_share),
        ),
    ];
    values
        .into_iter()
        .filter_map(|(name, value)| Some((name, value?)))
        .collect()
}

#[test]
fn every_match_agrees_with_the_independent_solution() {
    let mut worst = (0.0, String::new());
    let mut faults = Vec::new();
    let rows = rows();
    assert!(rows.len() >= 12, "the table has shrunk");
    for row in &rows {
        let installation = installation(row);
        let mut solver = Solver::new(&installation).expect("a layout that can be solved");
        let mut out = Match::default();
        let rpm = row.number("rpm").expect("a speed");
        if let Err(fault) = solver.solve(rpm, &mut out) {
            faults.push(format!("{}: {fault:?}", row.name()));
            continue;
        }
        assert!(
            out.residuals.largest() < 1e-9,
            "{}: {:?}",
            row.name(),
            out.residuals
        );
        let imbalance = out.energy.expect("all powers are known").imbalance();
        assert!(
            imbalance.abs() < 1e-9,
            "{}: energy {imbalance:.1e}",
            row.name()
        );
        for (name, value) in found(&solver, &out) {
            let Some(expected) = row.number(name) else {
                continue;
            };
            let (off, limit) = if name.ends_with("share") {
                ((value - expected).abs(), SHARE)
            } else {
                // A belt that drives next to nothing is held to a watt.
                (
                    (value - expected).abs()
                        / expected.abs().max(500.0 * f64::from(name.ends_with("_w"))),
                    RELATIVE,
                )
            };
            if off / limit > worst.0 {
                worst = (
                    off / limit,
                    format!("{} {name}: {value} against {expected}", row.name()),
                );
            }
            if off > limit {
                faults.push(format!("{} {name}: {value} against {expected}", row.name()));
            }
        }
    }
    println!(
        "{} matches; nearest to its limit ({:.0} % of it): {}",
        rows.len(),
        100.0 * worst.0,
        worst.1
    );
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
