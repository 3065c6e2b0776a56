//! The pulley's own boost, in numbers that can be checked by hand.

use crate::air_path::{Part, SuperchargerKind};
use crate::engine::Strokes;
use crate::matching::{BypassState, Installation, Layout, Match, StationPlace, StationState};
use crate::quantity::{Kind, UnitSystem, label, shown};

/// The sweep ratio of the first displacement supercharger, and the manifold pressure that it makes
/// at the first speed where its bypass is shut: p_manifold/p1 = sweep ratio × supercharger
/// volumetric efficiency × (T_manifold/T1) ÷ engine volumetric efficiency (the two flows set
/// equal). Empty where there is no such supercharger.
pub fn pulley_text<'m>(
    installation: &Installation,
    layout: &Layout,
    mut matches: impl Iterator<Item = &'m Match>,
    system: UnitSystem,
) -> String {
    let stages = layout.stages.iter().enumerate();
    let machine = stages.filter_map(|(stage, (_, part))| match &installation.air_path[*part] {
        Part::Supercharger(supercharger) => match &supercharger.kind {
            SuperchargerKind::Displacement(machine) => Some((stage, *part, machine)),
            _ => None,
        },
        _ => None,
    });
    let Some((stage, part, machine)) = machine.into_iter().next() else {
        return String::new();
    };
    let engine = &installation.engine;
    let (turns, factor) = match engine.strokes {
        Strokes::Four => (2.0, "2 × "),
        Strokes::Two => (1.0, ""),
    };
    let sweep = turns * machine.displacement * machine.belt.ratio / engine.displacement;
    let volume = |si| {
        format!(
            "{} {}",
            shown(si, Kind::Volume, system),
            label(Kind::Volume, system)
        )
    };
    let mut out = format!(
        "Sweep ratio of the pulley: {factor}{} × {:.3} / {} = {sweep:.3}.\n",
        volume(machine.displacement),
        machine.belt.ratio,
        volume(engine.displacement)
    );
    let shut = |found: &&Match| {
        matches!(
            found.stages[stage].bypass,
            BypassState::Shut | BypassState::None
        )
    };
    let Some(found) = matches.find(shut) else {
        return out;
    };
    let at = |place| station(layout, found, place);
    let (Some(inlet), Some(manifold)) =
        (at(StationPlace::Before(part)), at(StationPlace::Manifold))
    else {
        return out;
    };
    let swept = inlet.density * machine.displacement * machine.belt.ratio * found.rpm / 60.0;
    let filling = found.stages[stage].mass_flow / swept;
    let hotter = manifold.temperature / inlet.temperature;
    let ve = found.engine.volumetric_efficiency;
    let ratio = sweep * filling * hotter / ve;
    let pressure = ratio * inlet.pressure;
    out.push_str(&format!(
        "At {:.0} rpm: × {filling:.3} (its volumetric efficiency) × {hotter:.3} (T manifold / T inlet) \
         / {ve:.3} (the engine's) = {ratio:.3}, on {} {}: manifold {}, boost {} {}.\n",
        found.rpm,
        shown(inlet.pressure, Kind::AbsolutePressure, system),
        label(Kind::AbsolutePressure, system),
        shown(pressure, Kind::AbsolutePressure, system),
        shown(pressure - installation.site.pressure, Kind::BoostPressure, system),
        label(Kind::BoostPressure, system),
    ));
    out
}

fn station<'m>(layout: &Layout, found: &'m Match, place: StationPlace) -> Option<&'m StationState> {
    let at = layout
        .stations
        .iter()
        .position(|station| station.place == place)?;
    found.stations.get(at)
}
