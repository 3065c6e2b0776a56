//! The `# key = value` lines: reference state, origin, and what single kinds of map need.

use super::number::number;
use crate::input::fault::{Note, Place};
use crate::input::nearest::nearest;
use crate::quantity::{Kind, PressureReading, Unit, parse};

/// A setting with a unit, as written.
#[derive(Debug, Clone)]
pub(super) struct Written {
    pub(super) line: usize,
    pub(super) key: &'static str,
    pub(super) text: String,
    /// SI.
    pub(super) value: f64,
    pub(super) unit: &'static Unit,
    pub(super) reading: PressureReading,
}

/// What the `#` lines said, SI.
#[derive(Debug, Default)]
pub(super) struct Settings {
    pub(super) origin: Option<String>,
    pub(super) reference_temperature: Option<f64>,
    pub(super) reference_pressure: Option<f64>,
    pub(super) inlet_temperature: Option<f64>,
    pub(super) inlet_pressure: Option<f64>,
    pub(super) displacement: Option<f64>,
    /// Whether the machine is said to be axial.
    pub(super) is_axial: bool,
    /// All that have a unit, as written.
    pub(super) written: Vec<Written>,
    /// Points of an explicit surge line as written: line, flow, pressure ratio.
    pub(super) surge: Vec<(usize, String, f64)>,
    /// Keys that were written wrongly, so that they are not called missing too.
    pub(super) faulty: Vec<&'static str>,
}

const KEYS: [&str; 8] = [
    "origin",
    "machine",
    "reference_temperature",
    "reference_pressure",
    "inlet_temperature",
    "inlet_pressure",
    "displacement",
    "surge",
];

/// Reads the lines; what is wrong with them is added to `faults`, what is not used to `remarks`.
pub(super) fn read(
    file: &str,
    lines: &[(usize, &str, &str)],
    decimal_comma: bool,
    faults: &mut Vec<Note>,
    remarks: &mut Vec<Note>,
) -> Settings {
    let mut settings = Settings::default();
    for &(line, written, value) in lines {
        let place = Place::Line(file.into(), line);
        let plain = written.to_lowercase().replace([' ', '-'], "_");
        let Some(key) = KEYS.iter().copied().find(|key| *key == plain) else {
            match nearest(&plain, KEYS) {
                Some(key) => {
                    settings.faulty.push(key);
                    faults.push(Note::new(
                        place,
                        written,
                        format!("is unknown, did you mean {key}?"),
                    ));
                }
                // A sentence with an equals sign in it is a remark of the user's.
                None if written.contains(' ') => {}
                None => remarks.push(Note::new(place, written, "is not used")),
            }
            continue;
        };
        if let Err(text) = settings.take(key, line, value, decimal_comma) {
            settings.faulty.push(key);
            faults.push(Note::new(place, key, text));
        }
    }
    settings
}

impl Settings {
    fn take(
        &mut self,
        key: &'static str,
        line: usize,
        value: &str,
        decimal_comma: bool,
    ) -> Result<(), String> {
        if key == "origin" {
            self.origin = Some(value.to_owned());
            return Ok(());
        }
        if key == "machine" {
            self.is_axial = match value.to_lowercase().as_str() {
                "axial" => true,
                "radial" | "centrifugal" => false,
                _ => return Err(format!("{value:?} is not known: write radial or axial")),
            };
            return Ok(());
        }
        if key == "surge" {
            self.surge.push(surge_point(line, value, decimal_comma)?);
            return Ok(());
        }
        let value = if decimal_comma {
            value.replace(',', ".")
        } else {
            value.to_owned()
        };
        let kind = match key {
            "reference_temperature" | "inlet_temperature" => Kind::Temperature,
            "reference_pressure" | "inlet_pressure" => Kind::AbsolutePressure,
            _ => Kind::Volume,
        };
        let quantity = parse(&value, kind).map_err(|fault| fault.to_string())?;
        if matches!(
            quantity.reading,
            PressureReading::Gauge | PressureReading::Difference
        ) {
            return Err("must be an absolute pressure, e.g. 100 kPa".to_owned());
        }
        if quantity.value <= 0.0 {
            return Err(format!("{value:?} must be above zero"));
        }
        let slot = match key {
            "reference_temperature" => &mut self.reference_temperature,
            "reference_pressure" => &mut self.reference_pressure,
            "inlet_temperature" => &mut self.inlet_temperature,
            "inlet_pressure" => &mut self.inlet_pressure,
            _ => &mut self.displacement,
        };
        if slot.is_some_and(|old| (old - quantity.value).abs() > 1e-9 * old) {
            return Err("is given twice with different values".to_owned());
        }
        *slot = Some(quantity.value);
        self.written.push(Written {
            line,
            key,
            text: value.trim().to_owned(),
            value: quantity.value,
            unit: quantity.unit,
            reading: quantity.reading,
        });
        Ok(())
    }
}

/// `# surge = 0.060 kg/s, 1.52`: one point of an explicit surge line a line.
fn surge_point(
    line: usize,
    value: &str,
    decimal_comma: bool,
) -> Result<(usize, String, f64), String> {
    let shape = || {
        "is written FLOW unit, PRESSURE RATIO, for example # surge = 0.060 kg/s, 1.52".to_owned()
    };
    let separator = if decimal_comma { ';' } else { ',' };
    let (flow, ratio) = value.split_once(separator).ok_or_else(shape)?;
    let ratio = number(ratio.trim(), decimal_comma)?;
    let flow = flow.trim();
    let flow = if decimal_comma {
        flow.replace(',', ".")
    } else {
        flow.to_owned()
    };
    Ok((line, flow, ratio))
}
