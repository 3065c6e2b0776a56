//! What happens along a line: hand-over, gates, limiter, jumps, and where the way down differs.

use super::rows::fields;
use crate::matching::{BypassState, GateState, Layout};
use crate::study::{
    Change, Event, EventKind, HandOver, HandOverDirection, Hysteresis, MapSide, OperatingLine,
};

/// An event as a fixed word and in words.
#[derive(Debug, Clone)]
pub struct EventInWords {
    /// The event.
    pub event: Event,
    /// A fixed word.
    pub what: &'static str,
    /// The stage or turbine, where it is about one.
    pub place: Option<String>,
    /// The end of a sentence that begins with the speed.
    pub words: String,
}

fields! {
HandOver {
    rpm = RotationalSpeed "engine speed",
        "Engine speed at which the supercharger's pressure ratio crosses 1." |h| h.rpm;
    direction = text "direction",
        "to_turbo or to_supercharger."
        |h| match h.direction {
            HandOverDirection::ToTurbo => "to_turbo",
            HandOverDirection::ToSupercharger => "to_supercharger",
        };
}

EventInWords {
    rpm = RotationalSpeed "engine speed",
        "Engine speed, to half a revolution." |e| e.event.rpm;
    what = text "event",
        "A fixed word for what happens." |e| e.what;
    where ? text "where",
        "The stage or turbine, where it is about one." |e| e.place.clone();
    manifold_pressure_from_pa ? AbsolutePressure "manifold pressure before",
        "Of a jump: absolute manifold pressure before it." |e| Some(e.jump()?.0);
    manifold_pressure_to_pa ? AbsolutePressure "manifold pressure after",
        "Of a jump: absolute manifold pressure after it." |e| Some(e.jump()?.1);
}

Hysteresis {
    from_rpm = RotationalSpeed "from",
        "Lowest speed at which the engine runs in another state when it comes down." |h| h.from;
    to_rpm = RotationalSpeed "to",
        "Highest such speed." |h| h.to;
    upward_manifold_pressure_pa = AbsolutePressure "manifold pressure upward",
        "Absolute manifold pressure on the way up, in the middle of these speeds." |h| h.upward;
    downward_manifold_pressure_pa = AbsolutePressure "manifold pressure downward",
        "The same on the way down." |h| h.downward;
}
}

impl EventInWords {
    /// The events of a line that a reader wants to hear of. What a hand-over brings with it (the
    /// bypass, the rotors' ratio) is the hand-over.
    pub fn all(layout: &Layout, line: &OperatingLine) -> Vec<Self> {
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
        events.map(|event| Self::new(*event, layout)).collect()
    }

    /// Absolute manifold pressures before and after a jump, Pa.
    pub const fn jump(&self) -> Option<(f64, f64)> {
        match self.event.what {
            EventKind::Jump { from, to } => Some((from, to)),
            _ => None,
        }
    }

    fn new(event: Event, layout: &Layout) -> Self {
        let (what, place, words) = match event.what {
            EventKind::HandOver { to_turbo: true } => whole(
                "hand_over_to_turbo",
                "the supercharger hands over to the turbo",
            ),
            EventKind::HandOver { to_turbo: false } => whole(
                "hand_over_to_supercharger",
                "the turbo hands back to the supercharger",
            ),
            EventKind::Jump { .. } => whole("jump", "the state jumps"),
            EventKind::Lost => whole("match_lost", "the match is lost: no balance from here on"),
            EventKind::Found => whole("match_found", "a match is found again"),
            EventKind::Change(change) => changed(change, layout),
        };
        Self {
            event,
            what,
            place,
            words,
        }
    }
}

/// Fixed word, place, words.
type InWords = (&'static str, Option<String>, String);

fn whole(what: &'static str, words: &str) -> InWords {
    (what, None, words.to_owned())
}

fn changed(change: Change, layout: &Layout) -> InWords {
    match change {
        Change::Gate(index, state) => gate(index, state, layout),
        Change::Bypass(index, state) => {
            let (what, does) = match state {
                BypassState::None | BypassState::Shut => ("bypass_shuts", "bypass shuts"),
                BypassState::Open => ("bypass_opens", "bypass opens"),
                BypassState::Holding => ("bypass_holds", "bypass starts to hold its pressure"),
                BypassState::Disengaged => ("clutch_disengages", "clutch disengages"),
            };
            at_stage(index, layout, what, |name| format!("the {name}'s {does}"))
        }
        Change::Works(index, works) => {
            let (what, does) = if works {
                ("starts_to_compress", "starts to compress")
            } else {
                ("stops_compressing", "stops compressing")
            };
            at_stage(index, layout, what, |name| format!("the {name} {does}"))
        }
        Change::SmokeLimit(true) => whole(
            "smoke_limiter_cuts_in",
            "the smoke limiter starts to cut the fuel",
        ),
        Change::SmokeLimit(false) => whole("smoke_limiter_lets_go", "the smoke limiter lets go"),
        Change::Saturated(true) => whole(
            "vapour_saturates",
            "the charge takes up no more fuel as vapour",
        ),
        Change::Saturated(false) => whole(
            "vapour_no_longer_saturated",
            "the charge takes up all of the fuel vapour again",
        ),
        Change::Map(index, side, outside) => {
            let (what, does) = side_crossed(side, outside);
            at_stage(index, layout, what, |name| format!("the {name} {does}"))
        }
    }
}

fn at_stage(
    index: usize,
    layout: &Layout,
    what: &'static str,
    words: impl Fn(&str) -> String,
) -> InWords {
    let name = layout.stages.get(index).map_or("stage", |(name, _)| name);
    (what, Some(name.to_owned()), words(name))
}

fn gate(index: usize, state: GateState, layout: &Layout) -> InWords {
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
    (
        what,
        Some(turbine.to_owned()),
        format!("the wastegate{of} {does}"),
    )
}

const fn side_crossed(side: MapSide, outside: bool) -> (&'static str, &'static str) {
    match (side, outside) {
        (MapSide::Surge, true) => ("crosses_surge_line", "crosses its surge line"),
        (MapSide::Surge, false) => ("returns_from_surge", "is clear of surge again"),
        (MapSide::Choke, true) => ("crosses_choke_line", "runs past choke"),
        (MapSide::Choke, false) => ("returns_from_choke", "is clear of choke again"),
        (MapSide::OverSpeed, true) => ("exceeds_map_speed", "passes its map's top speed"),
        (MapSide::OverSpeed, false) => {
            ("returns_to_map_speed", "is below its map's top speed again")
        }
    }
}
