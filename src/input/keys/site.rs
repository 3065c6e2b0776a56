//! `[site]`: where the engine runs.

use super::row::{CONVENTION, Key, Section, key, quantity, section};
use super::spec::{KPA, ZERO_CELSIUS as ZERO, of, share};
use crate::quantity::Kind;

section! {
    SITE: "site", "[site]", "Where the engine runs.";
    ALTITUDE = key("altitude", quantity(of(Kind::Length, "\"1600 m\"").at_least(-500.0).at_most(11_000.0)), "Height above sea level.").without("sea level")
        .usual(-430.0, 5200.0).slip("a height in feet needs its unit: \"5200 ft\"");
    PRESSURE = key("pressure", quantity(of(Kind::AbsolutePressure, "\"84 kPa\"").at_least(20_000.0).at_most(110_000.0)), "What a barometer reads at the site; overrides altitude. A weather report's figure is reduced to sea level and is refused.").without("the standard atmosphere's at the altitude")
        .usual(50.0 * KPA, 108.0 * KPA);
    TEMPERATURE = key("temperature", quantity(of(Kind::Temperature, "\"24 degC\"").at_least(213.15).at_most(333.15)), "Air temperature at the site.").without("the standard atmosphere's at the altitude")
        .usual(ZERO - 45.0, ZERO + 55.0);
    TEMPERATURE_OFFSET = key("temperature_offset", quantity(of(Kind::TemperatureDifference, "\"15 K\"").at_least(-60.0).at_most(60.0)), "Instead of temperature: how much warmer the air is than the standard atmosphere at that altitude.")
        .usual(-45.0, 45.0).slip("it is measured from the standard temperature at the altitude");
    RELATIVE_HUMIDITY = key("relative_humidity", quantity(share("0.4")), "Relative humidity: 0 is dry air, 1 is fog.").default(0.0, CONVENTION, "dry air")
        .usual(0.01, 1.0);
}
