//! What happens along a line: hand-over, gates, limiter, jumps, and where the way down differs.

use serde::Serialize;

use super::view::LineView;
use crate::matching::{BypassState, GateState, Layout};
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::study::{Change, Event, EventKind, Hysteresis, MapSide, OperatingLine};

/// One event, rising in speed.
#[derive(Debug, Clone, Serialize)]
pub struct EventView {
    /// Engine speed, to half a revolution.
    pub rpm: f64,
    /// What: a fixed word.
    pub what: &'static str,
    /// At which stage or turbine, where it is about one.
    #[serde(rename = "where", skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// The same as the end of a sentence that begins with the speed.
    #[serde(skip)]
    pub words: String,
    /// Of a jump, the absolute manifold pressure before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub manifold_pressure_from_pa: Option<f64>,
    /// Of a jump, the absolute manifold pressure after it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub manifold_pressure_to_pa: Option<f64>,
}

/// Speeds between which an engine that comes down stands in another state.
#[derive(Debug, Clone, Serialize)]
pub struct HysteresisView {
    /// Lowest of them.
    pub from_rpm: f64,
    /// Highest of them.
    pub to_rpm: f64,
    /// Absolute manifold pressure on the way up, in their middle.
    pub upward_manifold_pressure_pa: f64,
    /// The same on the way down.
    pub downward_manifold_pressure_pa: f64,
}

/// The events of a line that a reader wants to hear of. What a hand-over brings with it (the
/// bypass, the rotors' ratio) is the hand-over.
pub fn event_views(layout: &Layout, line: &OperatingLine) -> Vec<EventView> {
    let is_hand_over = |event: &&Event| matches!(event.what, EventKind::HandOver { .. });
    let hand_overs: Vec<f64> = (line.events.iter().filter(is_hand_over))
        .map(|event| event.rpm)
        .collect();
    let is_told = |event: &&Event| match event.what {
        EventKind::Change(Change::Works(..)) => false,
        EventKind::Change(Change::Bypass(..)) => {
            !hand_overs.iter().any(|rpm| (rpm - event.rpm).abs() < 1.0)
        }
        _ => true,
    };
    let events = line.events.iter().filter(is_told);
    events.map(|event| view(event, layout)).collect()
}

/// Where the way down differs.
pub fn hysteresis_views(line: &OperatingLine) -> Vec<HysteresisView> {
    let view = |band: &Hysteresis| HysteresisView {
        from_rpm: band.from,
        to_rpm: band.to,
        upward_manifold_pressure_pa: band.upward,
        downward_manifold_pressure_pa: band.downward,
    };
    line.hysteresis.iter().map(view).collect()
}

fn view(event: &Event, layout: &Layout) -> EventView {
    let told = match event.what {
        EventKind::HandOver { to_turbo: true } => Told::whole(
            "hand_over_to_turbo",
            "the supercharger hands over to the turbo",
        ),
        EventKind::HandOver { to_turbo: false } => Told::whole(
            "hand_over_to_supercharger",
            "the turbo hands back to the supercharger",
        ),
        EventKind::Jump { .. } => Told::whole("jump", "the state jumps"),
        EventKind::Lost => Told::whole("match_lost", "the match is lost: no balance from here on"),
        EventKind::Found => Told::whole("match_found", "there is a match again"),
        EventKind::Change(change) => changed(change, layout),
    };
    let (from, to) = match event.what {
        EventKind::Jump { from, to } => (Some(from), Some(to)),
        _ => (None, None),
    };
    EventView {
        rpm: event.rpm,
        what: told.what,
        place: told.place,
        words: told.words,
        manifold_pressure_from_pa: from,
        manifold_pressure_to_pa: to,
    }
}

/// An event as a fixed word and in words.
struct Told {
    what: &'static str,
    place: Option<String>,
    words: String,
}

impl Told {
    fn whole(what: &'static str, words: &str) -> Self {
        Self {
            what,
            place: None,
            words: words.to_owned(),
        }
    }

    fn at(what: &'static str, place: &str, words: &str) -> Self {
        Self {
            what,
            place: Some(place.to_owned()),
            words: words.to_owned(),
        }
    }
}

fn changed(change: Change, layout: &Layout) -> Told {
    let stage = |index: usize| layout.stages.get(index).map_or("stage", |(name, _)| name);
    match change {
        Change::Gate(index, state) => {
            let turbine = layout.turbines.get(index).map_or("turbine", String::as_str);
            let (what, does) = match state {
                GateState::None | GateState::Shut => ("wastegate_shuts", "shuts"),
                GateState::Holding => ("wastegate_holds", "starts to hold the boost"),
                GateState::WideOpen => ("wastegate_wide_open", "is wide open"),
            };
            let of = if layout.turbines.len() > 1 {
                format!(" of {turbine}")
            } else {
                String::new()
            };
            Told::at(what, turbine, &format!("the wastegate{of} {does}"))
        }
        Change::Bypass(index, state) => {
            let (what, does) = match state {
                BypassState::None | BypassState::Shut => ("bypass_shuts", "bypass shuts"),
                BypassState::Open => ("bypass_opens", "bypass opens"),
                BypassState::Holding => ("bypass_holds", "bypass starts to hold its pressure"),
                BypassState::Disengaged => ("clutch_disengages", "clutch lets go"),
            };
            let name = stage(index);
            Told::at(what, name, &format!("the {name}'s {does}"))
        }
        Change::Works(index, works) => {
            let (what, does) = if works {
                ("starts_to_compress", "starts to compress")
            } else {
                ("stops_compressing", "stops compressing")
            };
            let name = stage(index);
            Told::at(what, name, &format!("the {name} {does}"))
        }
        Change::SmokeLimit(true) => Told::whole(
            "smoke_limiter_cuts_in",
            "the smoke limiter starts to cut the fuel",
        ),
        Change::SmokeLimit(false) => {
            Told::whole("smoke_limiter_lets_go", "the smoke limiter lets go")
        }
        Change::Saturated(true) => Told::whole(
            "vapour_saturates",
            "the charge takes up no more fuel as vapour",
        ),
        Change::Saturated(false) => Told::whole(
            "vapour_no_longer_saturated",
            "the charge takes up all of the fuel vapour again",
        ),
        Change::Map(index, side, outside) => {
            let (what, does) = match (side, outside) {
                (MapSide::Surge, true) => ("crosses_surge_line", "crosses its surge line"),
                (MapSide::Surge, false) => ("returns_from_surge", "is clear of surge again"),
                (MapSide::Choke, true) => ("crosses_choke_line", "runs past choke"),
                (MapSide::Choke, false) => ("returns_from_choke", "is clear of choke again"),
                (MapSide::OverSpeed, true) => ("exceeds_map_speed", "passes its map's top speed"),
                (MapSide::OverSpeed, false) => {
                    ("returns_to_map_speed", "is below its map's top speed again")
                }
            };
            let name = stage(index);
            Told::at(what, name, &format!("the {name} {does}"))
        }
    }
}

/// The events in sentences, one a line; where the way down differs last.
pub fn events_text(line: &LineView, system: UnitSystem) -> String {
    let absolute = |si: f64| shown(si, Kind::AbsolutePressure, system);
    let unit = label(Kind::AbsolutePressure, system);
    let mut out = String::new();
    for event in &line.events {
        out.push_str(&format!("At {:.0} rpm {}", event.rpm, event.words));
        if let (Some(from), Some(to)) = (
            event.manifold_pressure_from_pa,
            event.manifold_pressure_to_pa,
        ) {
            out.push_str(&format!(
                ": manifold from {} to {} {unit}",
                absolute(from),
                absolute(to)
            ));
        }
        out.push_str(".\n");
    }
    for band in &line.hysteresis {
        out.push_str(&format!(
            "Coming down, {:.0} to {:.0} rpm differ: in their middle the manifold is at {} {unit} in \
             place of {}.\n",
            band.from_rpm,
            band.to_rpm,
            absolute(band.downward_manifold_pressure_pa),
            absolute(band.upward_manifold_pressure_pa),
        ));
    }
    out
}
