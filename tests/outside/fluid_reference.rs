//! Properties of air and water against CoolProp (tests/reference/fluid.csv).

#[cfg(test)]
use crate::table;
use airpath::air_path::Fluid;
use airpath::gas::HumidAir;
use table::{Deviations, rows};

/// Air is an ideal gas with Sutherland's laws here: cp and density of the real gas lie within 0.3 %
/// at 250 K and above, viscosity within 1.5 %, conductivity within 1.7 %. The fits of water are to
/// this very source: cp 0.06 %, viscosity 0.4 %, conductivity 0.2 %, density 0.04 %.
#[test]
fn air_and_water_have_the_library_s_properties() {
    let gas = HumidAir::dry().gas();
    let mut all = Deviations::of("properties");
    for row in rows("fluid.csv") {
        let t = row.number("temperature_k");
        let (found, allowed) = if row.text("fluid") == "air" {
            let Ok(air) = Fluid::air(&gas, 101_325.0, t) else {
                unreachable!("within the gas's range")
            };
            (air, [3e-3, 3e-3, 0.015, 0.017])
        } else {
            (Fluid::water(t), [4e-4, 6e-4, 4e-3, 2e-3])
        };
        let pairs = [
            ("density_kg_m3", found.density),
            ("cp_j_kg_k", found.heat_capacity),
            ("viscosity_pa_s", found.viscosity),
            ("conductivity_w_m_k", found.conductivity),
        ];
        for ((name, value), allowed) in pairs.into_iter().zip(allowed) {
            let right = row.number(name);
            let place = format!("{} {t} K {name}", row.text("fluid"));
            all.compare(&place, value, right, allowed * right);
        }
    }
    all.finish();
}
