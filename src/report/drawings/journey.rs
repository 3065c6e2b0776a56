//! Pressure and temperature along the stations at three speeds.

use super::{Scene, rpm};
use crate::matching::{Match, StationPlace};
use crate::plot::{Axis, Drawing, Journey, PlotError, Run};
use crate::quantity::{Kind, label, shown};

/// Speeds shown at most: the first, one in the middle, the last.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    let matches: Vec<_> = scene.matches().collect();
    let Some(last) = matches.last() else {
        return Ok(None);
    };
    let mut chosen = vec![0, matches.len() / 2, matches.len() - 1];
    chosen.dedup();
    let pressure_words = scene.words("pressure", Kind::AbsolutePressure);
    let temperature_words = scene.words("temperature", Kind::Temperature);
    let (pressure, temperature) = (
        scene.to_reader(Kind::AbsolutePressure),
        scene.to_reader(Kind::Temperature),
    );
    let exhaust_from = scene.layout.stations.iter().position(|station| {
        matches!(
            station.place,
            StationPlace::TurbineInlet(_) | StationPlace::Exhaust
        )
    });
    Journey {
        title: &title(scene, last),
        subtitle: "pressure and temperature along the way, total states",
        note: scene.note(),
        pressure: Axis {
            words: &pressure_words,
            shown: &pressure,
        },
        temperature: Axis {
            words: &temperature_words,
            shown: &temperature,
        },
        stations: scene
            .layout
            .stations
            .iter()
            .map(|station| station.name.clone())
            .collect(),
        exhaust_from,
        runs: chosen.into_iter().map(|i| run(matches[i])).collect(),
    }
    .draw()
    .map(Some)
}

fn run(found: &Match) -> Run {
    let stations = &found.stations;
    Run {
        name: rpm(found.rpm),
        pressures: stations.iter().map(|state| Some(state.pressure)).collect(),
        temperatures: stations
            .iter()
            .map(|state| Some(state.temperature))
            .collect(),
    }
}

/// Where the air is hottest at the last speed, and what reaches the engine.
fn title(scene: &Scene, last: &Match) -> String {
    let hottest = last
        .stations
        .iter()
        .zip(&scene.layout.stations)
        .filter(|(_, station)| {
            !matches!(
                station.place,
                StationPlace::TurbineInlet(_)
                    | StationPlace::TurbineOutlet(_)
                    | StationPlace::Exhaust
            )
        })
        .max_by(|a, b| a.0.temperature.total_cmp(&b.0.temperature));
    match (last.coolers.last(), hottest) {
        (Some(_), Some((state, _))) => {
            let manifold = last
                .stations
                .iter()
                .zip(&scene.layout.stations)
                .find(|(_, s)| s.place == StationPlace::Manifold);
            let charge = manifold.map_or(state.temperature, |(state, _)| state.temperature);
            let temperature = |si| {
                format!(
                    "{} {}",
                    shown(si, Kind::Temperature, scene.system),
                    label(Kind::Temperature, scene.system)
                )
            };
            format!(
                "The charge is {} hot at its hottest and reaches the engine at {} ({})",
                temperature(state.temperature),
                temperature(charge),
                rpm(last.rpm)
            )
        }
        (None, Some((state, station))) => format!(
            "The air is hottest at {}: {} {} at {}",
            station.name,
            shown(state.temperature, Kind::Temperature, scene.system),
            label(Kind::Temperature, scene.system),
            rpm(last.rpm)
        ),
        _ => "Pressure and temperature along the stations".to_owned(),
    }
}
