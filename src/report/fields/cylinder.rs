//! Pressures in the cylinder and what they do to the head, each from the lowest to the highest that
//! is likely.

use super::rows::fields;
use crate::engine::{CylinderState, PeakBasis};

fields! { CylinderState {
    compression_pressure_low_pa = AbsolutePressure "end of compression, pressure",
        "Absolute pressure at the end of compression, by a polytrope from the manifold; lowest likely."
        |c| c.compression_pressure.low;
    compression_pressure_high_pa = AbsolutePressure "end of compression, pressure, high",
        "The same, highest likely." |c| c.compression_pressure.high;
    compression_temperature_low_k = Temperature "end of compression, temperature",
        "Temperature at the end of compression, by a polytrope from the manifold; lowest likely."
        |c| c.compression_temperature.low;
    compression_temperature_high_k = Temperature "end of compression, temperature, high",
        "The same, highest likely." |c| c.compression_temperature.high;
    gas_force_from ? text "gas force from",
        "Which peak pressure the gas force follows: estimated peak pressure or max_cylinder_pressure."
        |c| basis(c);
    gas_force_low_n ? Force "gas force per cylinder",
        "Peak pressure above ambient times the sealed bore's area; lowest likely."
        |c| Some(c.gas_force?.low);
    gas_force_high_n ? Force "gas force per cylinder, high",
        "The same, highest likely." |c| Some(c.gas_force?.high);
    clamp_force_low_n ? Force "stud clamp force per cylinder",
        "Preload of the studs around one cylinder; lowest likely." |c| Some(c.clamp_force?.low);
    clamp_force_high_n ? Force "stud clamp force per cylinder, high",
        "The same, highest likely." |c| Some(c.clamp_force?.high);
    clamp_margin_low ? Share "clamp margin",
        "Clamp force over gas force, less one; the head lifts at 0; lowest likely."
        |c| Some(c.clamp_margin?.low);
    clamp_margin_high ? Share "clamp margin, high",
        "The same, highest likely." |c| Some(c.clamp_margin?.high);
    equivalent_compression_ratio ? Number "equivalent NA compression ratio",
        "Compression ratio at which the engine, naturally aspirated, would be as close to knock."
        |c| c.equivalent_compression_ratio;
} }

fn basis(state: &CylinderState) -> Option<&'static str> {
    state.gas_force?;
    state.peak.map(|(_, basis)| match basis {
        PeakBasis::RiseRatio => "estimated peak pressure",
        PeakBasis::Limit => "max_cylinder_pressure",
    })
}
