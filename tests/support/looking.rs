//! Looking into a match by the names of its layout.

use airpath::matching::{Match, Solver, StationState};

/// A match at a speed in rpm; a fault ends the test.
pub fn solved(solver: &mut Solver, rpm: f64) -> Match {
    let mut out = Match::default();
    let found = solver.solve(rpm, &mut out);
    assert!(found.is_ok(), "{rpm} rpm: {found:?}");
    out
}

/// A station by its name.
pub fn station(solver: &Solver, at: &Match, name: &str) -> StationState {
    let names = &solver.layout().stations;
    let place = names.iter().position(|station| station.name == name);
    assert!(place.is_some(), "no station {name}");
    at.stations[place.unwrap_or(0)]
}
