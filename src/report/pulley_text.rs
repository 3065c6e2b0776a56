//! The pulley's own boost, in numbers that can be checked by hand.

use super::wrap::sentences_wrapped;
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::Strokes;
use crate::matching::{BypassState, Installation, Layout, Match, StationPlace};
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
    let Some(sweep) = installation.sweep_ratio() else {
        return String::new();
    };
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
    let factor = if engine.strokes == Strokes::Four {
        "2 × "
    } else {
        ""
    };
    let volume = |si| {
        format!(
            "{} {}",
            shown(si, Kind::Volume, system),
            label(Kind::Volume, system)
        )
    };
    let mut out = format!(
        "Supercharger-to-engine swept-volume ratio: {factor}{} × {:.3} / {} = {sweep:.3}.\n",
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
        return sentences_wrapped(&out);
    };
    let (Some(pulley), Some(inlet)) = (
        installation.pulley_boost(layout, found),
        found.station(layout, StationPlace::Before(part)),
    ) else {
        return sentences_wrapped(&out);
    };
    let pressure = pulley.pressure_ratio * inlet.pressure;
    let vapour = if pulley.air_share < 1.0 {
        format!(
            " / {:.3} (share of air in air and fuel vapour)",
            pulley.air_share
        )
    } else {
        String::new()
    };
    out.push_str(&format!(
        "At {:.0} rpm: × {:.3} (supercharger VE) × {:.3} (T manifold / T inlet) \
         / {:.3} (engine VE){vapour} = {:.3}, on {} {}: manifold {}, boost {} {}.\n",
        found.rpm,
        pulley.supercharger_volumetric_efficiency,
        pulley.temperature_ratio,
        pulley.volumetric_efficiency,
        pulley.pressure_ratio,
        shown(inlet.pressure, Kind::AbsolutePressure, system),
        label(Kind::AbsolutePressure, system),
        shown(pressure, Kind::AbsolutePressure, system),
        shown(
            pressure - installation.site.pressure,
            Kind::BoostPressure,
            system
        ),
        label(Kind::BoostPressure, system),
    ));
    sentences_wrapped(&out)
}
