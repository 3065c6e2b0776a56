//! `[site]`: where the engine runs.

use super::keys::site as key;
use super::reader::Reader;
use crate::gas::HumidAir;
use crate::quantity::{Kind, amount, words};
use crate::site::{SEA_LEVEL_PRESSURE, Site, StandardAir, standard_air};

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
    let altitude = reader.value(&key::ALTITUDE);
    let standard = standard_air(altitude.unwrap_or(0.0))?;
    let pressure = pressure(reader, altitude, standard);
    let temperature = temperature(reader, altitude, standard);
    let relative_humidity = reader.value_or_default(&key::RELATIVE_HUMIDITY);
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
                ],
                STANDARD,
            ),
            None if reader.has("altitude") => {}
            None => {
                let text =
                    "using sea level; set altitude, or pressure as a barometer reads it there";
                reader.absent("altitude", text);
                reader.default_from(
                    "pressure",
                    words![
                        "the standard atmosphere's ",
                        amount(standard.pressure, Kind::AbsolutePressure, "kPa", 3),
                        " at sea level",
                    ],
                    STANDARD,
                );
            }
        }
        return Some(reader.assume(&key::PRESSURE, standard.pressure));
    }
    reader.value(&key::PRESSURE)
}

fn temperature(reader: &Reader<'_>, altitude: Option<f64>, standard: StandardAir) -> Option<f64> {
    if reader.has("temperature") {
        return reader.value(&key::TEMPERATURE);
    }
    if reader.has("temperature_offset") {
        let offset = reader.value(&key::TEMPERATURE_OFFSET)?;
        if !reader.has("altitude") {
            let text = "is measured from the standard temperature at an altitude: set site.altitude, or set \
                        temperature instead";
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
    ];
    reader.default_from("temperature", said, STANDARD);
    Some(reader.assume(&key::TEMPERATURE, standard.temperature))
}
