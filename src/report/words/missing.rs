//! What is missing for brake power, and what to give.

use crate::finding::MissingForPower;

/// What is missing, and the advice.
pub(super) const fn for_power(missing: MissingForPower) -> (&'static str, &'static str) {
    match missing {
        MissingForPower::Fuel => (
            "[fuel] is missing",
            "Add [fuel], [engine.combustion] and [exhaust].",
        ),
        MissingForPower::Combustion => (
            "[engine.combustion] is missing",
            "Add [engine.combustion] and [exhaust].",
        ),
        MissingForPower::Exhaust => (
            "[exhaust] or [turbine] is missing",
            "Add [exhaust] (pressure_drop and at_flow), or [turbine].",
        ),
        MissingForPower::DrivenTurbine => (
            "the compressors' ratios are given and the turbine is not solved",
            "Let the turbine drive its compressor: remove the compressor's pressure_ratio.",
        ),
        MissingForPower::Drive => (
            "the drive of a supercharger with a given pressure_ratio is unknown",
            "Give kind, displacement and drive_ratio of the supercharger instead of its pressure_ratio.",
        ),
        MissingForPower::Stroke => (
            "engine.stroke is missing",
            "Set engine.stroke (needed for friction).",
        ),
    }
}
