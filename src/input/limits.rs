//! `[limits]`: what must not be passed.

use super::keys::limits as key;
use super::reader::Reader;
use crate::matching::Limits;

/// Reads the limits; a build without the section has none.
pub(super) fn read(root: &Reader<'_>) -> Limits {
    let Some(reader) = root.section("limits") else {
        return Limits::default();
    };
    let limits = Limits {
        max_manifold_pressure: reader.value(&key::MAX_MANIFOLD_PRESSURE),
        max_charge_temperature: reader.value(&key::MAX_CHARGE_TEMPERATURE),
        max_exhaust_temperature: reader.value(&key::MAX_EXHAUST_TEMPERATURE),
        max_cylinder_pressure: reader.value(&key::MAX_CYLINDER_PRESSURE),
        max_drive_pressure_ratio: reader.value(&key::MAX_DRIVE_PRESSURE_RATIO),
        max_supercharger_outlet_temperature: reader
            .value(&key::MAX_SUPERCHARGER_OUTLET_TEMPERATURE),
        max_compressor_outlet_temperature: reader.value(&key::MAX_COMPRESSOR_OUTLET_TEMPERATURE),
        min_surge_margin: reader.value(&key::MIN_SURGE_MARGIN),
        min_clamp_margin: reader.value(&key::MIN_CLAMP_MARGIN),
        max_injector_duty: reader.value(&key::MAX_INJECTOR_DUTY),
        max_belt_pull: reader.value(&key::MAX_BELT_PULL),
        max_rotor_tip_speed: reader.value(&key::MAX_ROTOR_TIP_SPEED),
        max_piston_speed: reader.value(&key::MAX_PISTON_SPEED),
    };
    reader.finish();
    limits
}
