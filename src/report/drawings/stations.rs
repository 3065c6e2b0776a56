//! Pressure and temperature along the stations at three speeds.

use super::heading::{axis_words, limit_words, rpm};
use super::remark;
use super::scene::Scene;
use crate::air_path::Part;
use crate::matching::{Match, StationPlace, StationState};
use crate::plot::{Axis, Drawing, PlotError, Run, StationLimit, Stations};
use crate::quantity::{Kind, label, reader_value, shown};

/// The first speed, the last, and between them the one of the worst finding that concerns stations,
/// else the one in the middle.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    let matches: Vec<_> = scene.matches().collect();
    if matches.is_empty() {
        return Ok(None);
    }
    let stations = &scene.layout.stations;
    let exhaust_from = stations
        .iter()
        .position(|station| is_exhaust(station.place));
    let subtitle = if exhaust_from.is_some() {
        "total pressure and temperature, station by station; exhaust temperature on its own scale"
    } else {
        "total pressure and temperature, station by station"
    };
    let heading = scene.heading(remark::of_stations, title(scene, &matches), subtitle);
    let [pressure, temperature] = [
        ("pressure", Kind::AbsolutePressure),
        ("temperature", Kind::Temperature),
    ]
    .map(|(name, kind)| {
        let words = axis_words(name, kind, scene.system);
        (words, move |si| reader_value(si, kind, scene.system))
    });
    Stations {
        title: &heading.title,
        subtitle: &heading.subtitle,
        note: &heading.note,
        pressure: Axis {
            words: &pressure.0,
            shown: &pressure.1,
        },
        temperature: Axis {
            words: &temperature.0,
            shown: &temperature.1,
        },
        stations: stations
            .iter()
            .map(|station| station.name.clone())
            .collect(),
        exhaust_from,
        runs: chosen(scene, &matches)
            .into_iter()
            .map(|i| run(matches[i]))
            .collect(),
        pressure_limits: limits(scene, exhaust_from, Kind::AbsolutePressure),
        temperature_limits: limits(scene, exhaust_from, Kind::Temperature),
    }
    .draw()
    .map(Some)
}

fn chosen(scene: &Scene, matches: &[&Match]) -> Vec<usize> {
    let last = matches.len() - 1;
    let worst = remark::worst_of(scene.findings, remark::of_stations)
        .and_then(|finding| finding.rpm)
        .and_then(|rpm| {
            let same = |found: &&Match| (found.rpm - rpm).abs() < 1e-6;
            matches.iter().position(same)
        });
    let between = worst.filter(|place| (1..last).contains(place));
    let mut chosen = vec![0, between.unwrap_or(matches.len() / 2), last];
    chosen.dedup();
    chosen
}

fn run(found: &Match) -> Run {
    let all = |pick: fn(&StationState) -> f64| {
        let states = found.stations.iter();
        states.map(|state| Some(pick(state))).collect()
    };
    Run {
        name: rpm(found.rpm),
        pressures: all(|state| state.pressure),
        temperatures: all(|state| state.temperature),
    }
}

/// The limits that the build sets for stations, of one kind of quantity.
fn limits(scene: &Scene, exhaust_from: Option<usize>, kind: Kind) -> Vec<StationLimit> {
    let set = &scene.installation.limits;
    let stations = scene.layout.stations.iter().enumerate();
    let limits = stations.filter_map(|(place, station)| {
        let at = match (kind, station.place) {
            (Kind::AbsolutePressure, StationPlace::Manifold) => set.max_manifold_pressure,
            (Kind::AbsolutePressure, _) => None,
            (_, StationPlace::Manifold) => set.max_charge_temperature,
            (_, StationPlace::After(part)) => match scene.installation.air_path.get(part)? {
                Part::TurboCompressor(_) => set.max_compressor_outlet_temperature,
                Part::Supercharger(_) => set.max_supercharger_outlet_temperature,
                _ => None,
            },
            _ if exhaust_from == Some(place) => set.max_exhaust_temperature,
            _ => None,
        }?;
        Some(StationLimit {
            station: place,
            at,
            words: limit_words(at, kind, scene.system),
        })
    });
    limits.collect()
}

fn is_exhaust(place: StationPlace) -> bool {
    matches!(
        place,
        StationPlace::TurbineInlet(_) | StationPlace::TurbineOutlet(_) | StationPlace::Exhaust
    )
}

/// How hot the air gets, and how hot it reaches the engine, where that is hottest.
fn title(scene: &Scene, matches: &[&Match]) -> String {
    let charge = |found: &Match| {
        let state = found.station(scene.layout, StationPlace::Manifold);
        state.map_or(0.0, |state| state.temperature)
    };
    let hottest = matches
        .iter()
        .max_by(|a, b| charge(a).total_cmp(&charge(b)));
    let Some(at) = hottest else {
        return "No match was found".to_owned();
    };
    let temperature = |state: &StationState| {
        let value = shown(state.temperature, Kind::Temperature, scene.system);
        format!("{value} {}", label(Kind::Temperature, scene.system))
    };
    let stations = || at.stations.iter().zip(&scene.layout.stations);
    let hottest = stations()
        .filter(|(_, station)| !is_exhaust(station.place))
        .max_by(|a, b| a.0.temperature.total_cmp(&b.0.temperature));
    let manifold = stations().find(|(_, station)| station.place == StationPlace::Manifold);
    match (hottest, manifold) {
        (Some((hottest, _)), Some((manifold, _))) if !at.coolers.is_empty() => format!(
            "Air peaks at {} and enters the engine at {} ({})",
            temperature(hottest),
            temperature(manifold),
            rpm(at.rpm)
        ),
        (Some((hottest, _)), _) => {
            format!(
                "Air enters the engine at {} ({})",
                temperature(hottest),
                rpm(at.rpm)
            )
        }
        _ => "Pressure and temperature along the stations".to_owned(),
    }
}
