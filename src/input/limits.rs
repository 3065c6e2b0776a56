//! `[limits]`: what must not be passed.

use super::reader::Reader;
use super::want::Want;
use crate::finding::Limits;
use crate::quantity::Kind;

const PRESSURE: Want = Want::of(Kind::AbsolutePressure, "\"275 kPa\"")
    .above(0.0)
    .at_most(3e6);
const CYLINDER: Want = Want::of(Kind::AbsolutePressure, "\"16 MPa\"")
    .above(1e5)
    .at_most(2e8);
const CHARGE: Want = Want::of(Kind::Temperature, "\"60 degC\"")
    .at_least(223.15)
    .at_most(773.15);
const EXHAUST: Want = Want::of(Kind::Temperature, "\"750 degC\"")
    .at_least(373.15)
    .at_most(1773.15);
const RATIO: Want = Want::number("1.2").above(0.0).at_most(10.0);

const CLAMP: Want = Want::of(Kind::Share, "0.5").at_least(0.0).at_most(10.0);
const FORCE: Want = Want::of(Kind::Force, "\"2 kN\"").above(0.0).at_most(1e6);
const TIP_SPEED: Want = Want::of(Kind::SurfaceSpeed, "\"60 m/s\"")
    .above(0.0)
    .at_most(1000.0);

/// Reads the limits; a build without the section has none.
pub(super) fn read(root: &Reader<'_>) -> Limits {
    let Some(reader) = root.section("limits") else {
        return Limits::default();
    };
    let limits = Limits {
        max_manifold_pressure: reader.value("max_manifold_pressure", PRESSURE),
        max_charge_temperature: reader.value("max_charge_temperature", CHARGE),
        max_exhaust_temperature: reader.value("max_exhaust_temperature", EXHAUST),
        max_cylinder_pressure: reader.value("max_cylinder_pressure", CYLINDER),
        max_drive_pressure_ratio: reader.value("max_drive_pressure_ratio", RATIO),
        max_supercharger_outlet_temperature: reader
            .value("max_supercharger_outlet_temperature", CHARGE),
        max_compressor_outlet_temperature: reader
            .value("max_compressor_outlet_temperature", CHARGE),
        min_surge_margin: reader.value("min_surge_margin", Want::share("0.12").below(1.0)),
        min_clamp_margin: reader.value("min_clamp_margin", CLAMP),
        max_injector_duty: reader.value("max_injector_duty", Want::efficiency("0.85")),
        max_belt_pull: reader.value("max_belt_pull", FORCE),
        max_rotor_tip_speed: reader.value("max_rotor_tip_speed", TIP_SPEED),
    };
    reader.finish();
    limits
}
