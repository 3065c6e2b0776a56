//! `[site]`: where the engine runs.

use super::reader::Reader;
use super::want::Want;
use crate::gas::HumidAir;
use crate::quantity::{Kind, amount, words};
use crate::site::{SEA_LEVEL_PRESSURE, Site, StandardAir, standard_air};

pub(super) const ALTITUDE: Want = Want::of(Kind::Length, "\"1600 m\"")
    .at_least(-500.0)
    .at_most(11_000.0);
pub(super) const PRESSURE: Want = Want::of(Kind::AbsolutePressure, "\"84 kPa\"")
    .at_least(20_000.0)
    .at_most(110_000.0);
const TEMPERATURE: Want = Want::of(Kind::Temperature, "\"24 degC\"")
    .at_least(213.15)
    .at_most(333.15);
const OFFSET: Want = Want::of(Kind::TemperatureDifference, "\"15 K\"")
    .at_least(-60.0)
    .at_most(60.0);

/// Source of the standard atmosphere.
const STANDARD: &str = "ISO 2533";

/// Reads the site and makes its pressure known to all further readers.
pub(super) fn read(root: &Reader<'_>) -> Option<Site> {
    let empty = super::document::Table::default();
    let section = if root.has("site") {
        root.section("site")
    } else {
        Some(Reader::new(
            &empty,
            root.place().clone(),
            "site",
            root.context(),
        ))
    };
    let site = section.and_then(|reader| {
        let site = read_section(&reader);
        reader.finish();
        site
    });
    // A faulty site stops the solution; what else the build says is still read against some site.
    let pressure = site
        .as_ref()
        .map_or(SEA_LEVEL_PRESSURE, |site| site.pressure);
    root.context().site_pressure.set(Some(pressure));
    site
}

fn read_section(reader: &Reader<'_>) -> Option<Site> {
    let altitude = reader.value("altitude", ALTITUDE);
    let standard = standard_air(altitude.unwrap_or(0.0))?;
    let pressure = pressure(reader, altitude, standard);
    let temperature = temperature(reader, altitude, standard);
    let relative_humidity = reader.value_or(
        "relative_humidity",
        Want::share("0.4"),
        0.0,
        "dry air is taken (relative_humidity = 0)",
    );
    if reader.has("altitude") && altitude.is_none() {
        return None;
    }
    let site = Site {
        pressure: pressure?,
        temperature: temperature?,
        relative_humidity: relative_humidity?,
        altitude,
    };
    if let Err(error) = HumidAir::new(site.pressure, site.temperature, site.relative_humidity) {
        reader.fault("relative_humidity", format!("{error}"));
        return None;
    }
    Some(site)
}

fn pressure(reader: &Reader<'_>, altitude: Option<f64>, standard: StandardAir) -> Option<f64> {
    if !reader.has("pressure") {
        match altitude {
            Some(altitude) => reader.default_from(
                "pressure",
                words![
                    "the standard atmosphere's ",
                    amount(standard.pressure, Kind::AbsolutePressure, "kPa", 1),
                    " at ",
                    amount(altitude, Kind::Length, "m", 0),
                    " is taken",
                ],
                STANDARD,
            ),
            None if reader.has("altitude") => {}
            None => reader.default_from(
                "pressure",
                words![
                    "neither is altitude: the standard atmosphere's ",
                    amount(standard.pressure, Kind::AbsolutePressure, "kPa", 3),
                    " at sea level is taken",
                ],
                STANDARD,
            ),
        }
        return Some(reader.assume("pressure", PRESSURE, standard.pressure));
    }
    reader.value("pressure", PRESSURE)
}

fn temperature(reader: &Reader<'_>, altitude: Option<f64>, standard: StandardAir) -> Option<f64> {
    if reader.has("temperature") {
        return reader.value("temperature", TEMPERATURE);
    }
    if reader.has("temperature_offset") {
        let offset = reader.value("temperature_offset", OFFSET)?;
        if !reader.has("altitude") {
            let text = "counts from the standard temperature at an altitude: give site.altitude, or \
                        the temperature itself";
            reader.fault("temperature_offset", text);
            return None;
        }
        return altitude.map(|_| standard.temperature + offset);
    }
    let at = match altitude {
        Some(altitude) => words!["at ", amount(altitude, Kind::Length, "m", 0)],
        None => "at sea level".into(),
    };
    let said = words![
        "the standard atmosphere's ",
        amount(standard.temperature, Kind::Temperature, "degC", 1),
        " ",
        at,
        " is taken",
    ];
    reader.default_from("temperature", said, STANDARD);
    Some(reader.assume("temperature", TEMPERATURE, standard.temperature))
}
