//! The air of the place against published standards: the atmosphere by `ambiance` (ISO 2533) and
//! `fluids` (US 1976), humid air by PsychroLib (ASHRAE 2017) and CoolProp
//! (tests/reference/atmosphere.csv and humid_air.csv).

#[cfg(test)]
use crate::table;
use airpath::gas::{HumidAir, saturation_pressure};
use airpath::site::standard_air;
use table::{Deviations, rows};

/// 1e-5 is required. `ambiance` has the constants of ISO 2533 as they are here, and ten digits are
/// printed; `fluids` has the gas constant of 1976: 0.5 ppm in pressure, 0.7 ppm in density.
#[test]
fn the_standard_atmosphere_is_the_published_one_up_to_6000_metres() {
    let mut all = Deviations::of("standard atmosphere");
    for row in rows("atmosphere.csv") {
        let altitude = row.number("altitude_m");
        let air = standard_air(altitude).unwrap();
        let place = format!("at {altitude} m by {}", row.text("source"));
        let limit = match row.text("source") {
            "ambiance" => 1e-9,
            _ => 1e-6,
        };
        for (what, found, column) in [
            ("pressure", air.pressure, "pressure_pa"),
            ("temperature", air.temperature, "temperature_k"),
            ("density", air.density, "density_kg_m3"),
        ] {
            let expected = row.number(column);
            all.compare(
                &format!("{what} {place}"),
                found,
                expected,
                limit * expected,
            );
        }
    }
    all.finish();
}

/// The same formulas of Hyland and Wexler, ten digits printed. At 0 °C PsychroLib, too, takes ice.
#[test]
fn the_saturation_pressure_is_that_over_water_and_over_ice() {
    let mut all = Deviations::of("saturation pressure");
    for row in rows("humid_air.csv") {
        let t = row.number("temperature_k");
        let expected = row.number("saturation_pressure_pa");
        let found = saturation_pressure(t).unwrap();
        all.compare(&format!("{t} K"), found, expected, 1e-9 * expected);
    }
    all.finish();
}

/// 0.1 % is required. PsychroLib rounds its constants: 287.042 for R of dry air (287.0400 here, 7 ppm),
/// 0.621945 for the ratio of molar masses (0.621941 here, 6 ppm).
#[test]
fn humidity_ratio_and_density_of_humid_air_are_the_handbooks() {
    let mut all = Deviations::of("humid air");
    for row in rows("humid_air.csv") {
        let [t, p, humidity] =
            ["temperature_k", "pressure_pa", "relative_humidity"].map(|name| row.number(name));
        let air = HumidAir::new(p, t, humidity).unwrap();
        let place = format!("at {t} K, {p} Pa, {humidity}");
        let ratio = row.number("humidity_ratio");
        // Without humidity the ratio is exactly 0.
        let limit = 1e-5 * ratio + f64::MIN_POSITIVE;
        all.compare(
            &format!("humidity ratio {place}"),
            air.humidity_ratio(),
            ratio,
            limit,
        );
        let density = row.number("density_kg_m3");
        let found = air.gas().density(p, t);
        all.compare(&format!("density {place}"), found, density, 1e-5 * density);
    }
    all.finish();
}

/// What the ideal gas costs: CoolProp's humid air is denser by its compressibility and by the
/// enhancement of the vapour's pressure, most (0.09 %) at −20 °C and sea level.
#[test]
fn real_humid_air_is_denser_by_less_than_a_thousandth() {
    let mut all = Deviations::of("humid air as a real gas");
    for row in rows("humid_air.csv") {
        let [t, p, humidity] =
            ["temperature_k", "pressure_pa", "relative_humidity"].map(|name| row.number(name));
        let found = HumidAir::new(p, t, humidity).unwrap().gas().density(p, t);
        let expected = row.number("density_coolprop_kg_m3");
        let place = format!("{t} K, {p} Pa, {humidity}");
        assert!(found < expected, "{place}: {found} {expected}");
        all.compare(&place, found, expected, 1e-3 * expected);
    }
    all.finish();
}
