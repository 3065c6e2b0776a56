//! Columns in the wrong unit, found by the wheel that speed, flow and ratio imply.

use super::figures::digits;
use super::table::Table;
use super::unit::in_brackets;
use crate::input::map_file::column::Content;
use crate::input::map_file::reading::Reading;
use crate::map::sense::range::{self, Standing};
use crate::map::sense::wheel::{NOZZLE_AREA, rotor_tip_speed};
use crate::map::sense::{Shape, Wheel};

const SPEED: [Content; 2] = [Content::CorrectedSpeed, Content::ActualSpeed];
const FLOW: [Content; 2] = [Content::CorrectedFlow, Content::ActualFlow];

impl Reading {
    /// Holds the wheel of a compressor's or turbine's map against what can be. An axial machine does
    /// not follow a radial wheel: nothing more than a remark is said of it.
    pub(in crate::input::map_file) fn doubt_wheel(
        &mut self,
        table: &Table<'_>,
        wheel: Wheel,
        shape: Shape,
        is_axial: bool,
    ) {
        let (Some(speed), Some(flow)) = (table.position(&SPEED), table.position(&FLOW)) else {
            return;
        };
        if is_axial {
            return;
        }
        self.wheel = Some(wheel);
        let standing = wheel.standing();
        if standing == Standing::Usual {
            return;
        }
        let line = table.sheet.heading.line;
        let implied = implied(wheel, shape);
        if standing == Standing::Odd {
            let at = if wheel.diameter_standing() == Standing::Usual {
                flow
            } else {
                speed
            };
            let meant = table.fitting_units(at, |factor| scaled(wheel, at == speed, factor).miss());
            let text = match meant {
                Some(unit) => format!(
                    "{} ({}) imply {implied}, which is unusual; {} would be usual: compare with the \
                     real wheel",
                    table.written_range(at),
                    table.unit_name(at),
                    in_brackets(&unit)
                ),
                None => format!("the map implies {implied}, which is unusual for a radial wheel"),
            };
            self.remark(line, table.heading(at), text);
            return;
        }
        let at_speed = table.fitting_units(speed, |factor| wheel.scaled(factor, 1.0).miss());
        let at_flow = table.fitting_units(flow, |factor| wheel.scaled(1.0, factor).miss());
        let (at, unit) = match (at_flow, at_speed) {
            // Where both would do, the diameter tells which of them is off.
            (Some(unit), Some(_)) if wheel.diameter_standing() == Standing::Usual => (flow, unit),
            (_, Some(unit)) => (speed, unit),
            (Some(unit), None) => (flow, unit),
            (None, None) => return self.doubt_both(table, wheel, shape, (speed, flow)),
        };
        self.wrong_unit(table, at, &unit, &implied);
    }

    /// Speed and flow both in another unit, or no unit that would do.
    fn doubt_both(
        &mut self,
        table: &Table<'_>,
        wheel: Wheel,
        shape: Shape,
        (speed, flow): (usize, usize),
    ) {
        let implied = implied(wheel, shape);
        for other in table.other_units(speed) {
            let turned = wheel.scaled(other.factor, 1.0);
            let fits = |factor: f64| turned.scaled(1.0, factor).miss();
            if let Some(unit) = table.fitting_units(flow, fits) {
                self.wrong_unit(table, speed, other.name, &implied);
                self.wrong_unit(table, flow, &unit, &implied);
                return;
            }
        }
        // A diameter that can be leaves the flow to be wrong.
        let at = if wheel.diameter_standing() == Standing::Usual {
            flow
        } else {
            speed
        };
        let fits = |power: &i32| scaled(wheel, at == speed, 10_f64.powi(*power)).is_usual();
        let power = [-3, -1, 1, -2, 2, 3, -6].into_iter().find(fits);
        let meant = power.map_or_else(
            || "check the units of speed and flow, and the pressure ratios".to_owned(),
            |power| {
                let direction = if power < 0 { "large" } else { "small" };
                let times = 10_u32.pow(power.unsigned_abs());
                format!("they look {times} times too {direction}")
            },
        );
        self.cannot_be(table, at, &meant, &implied);
    }

    fn wrong_unit(&mut self, table: &Table<'_>, at: usize, unit: &str, implied: &str) {
        let meant = if unit == "krpm" {
            format!(
                "they look like thousands: write {} [krpm], or multiply them by 1000",
                table.name(at)
            )
        } else {
            format!(
                "they look like {unit}: write {} {}",
                table.name(at),
                in_brackets(unit)
            )
        };
        self.cannot_be(table, at, &meant, implied);
    }

    fn cannot_be(&mut self, table: &Table<'_>, at: usize, meant: &str, implied: &str) {
        let what = if table.position(&SPEED) == Some(at) {
            "speeds"
        } else {
            "flows"
        };
        let text = format!(
            "{what} of {} under [{}] ({}) cannot be right: with the pressure ratios they imply {implied}; \
             {meant} (for an axial machine write # machine = axial)",
            table.written_range(at),
            table.unit_name(at),
            table.all_lines(),
        );
        self.fault(table.sheet.heading.line, table.heading(at), text);
    }

    /// The nozzle of a turbine map without speeds.
    pub(in crate::input::map_file) fn doubt_nozzle(
        &mut self,
        table: &Table<'_>,
        area: f64,
        is_axial: bool,
    ) {
        let standing = NOZZLE_AREA.standing(area);
        let Some(at) = table
            .position(&FLOW)
            .filter(|_| standing != Standing::Usual)
        else {
            return;
        };
        let meant = table
            .fitting_units(at, |factor| {
                let other = area * factor;
                let usual = NOZZLE_AREA.standing(other) == Standing::Usual;
                // Of a wheel of unknown size the commonest unit is the likeliest.
                usual.then_some(0.0)
            })
            .map_or_else(String::new, |unit| format!("; they look like {unit}"));
        let text = format!(
            "flows of {} under [{}] imply a nozzle of {} cm2{meant}",
            table.written_range(at),
            table.unit_name(at),
            digits(area * 1e4)
        );
        let (line, heading) = (table.sheet.heading.line, table.heading(at).to_owned());
        if standing == Standing::Impossible && !is_axial {
            let text = format!("{text} (for an axial machine write # machine = axial)");
            self.fault(line, &heading, text);
        } else {
            self.remark(line, &heading, text);
        }
    }

    /// The speeds of a displacement supercharger, and with the swept volume the rotors' tip speed.
    pub(in crate::input::map_file) fn doubt_rotors(
        &mut self,
        table: &Table<'_>,
        displacement: Option<f64>,
    ) {
        let Some(at) = table.position(&[Content::ActualSpeed]) else {
            return;
        };
        let speeds = table.values.iter().map(|row| row.values[at]);
        let Some(fastest) = super::super::rows::upper_middle(speeds) else {
            return;
        };
        let tip = displacement.map(|volume| rotor_tip_speed(volume, fastest));
        let by_tip = tip.map_or(Standing::Usual, |tip| range::ROTOR_TIP_SPEED.standing(tip));
        let standing = range::DISPLACEMENT_SPEED.standing(fastest).max(by_tip);
        if standing == Standing::Usual {
            return;
        }
        let fits = |factor: f64| {
            let other = range::DISPLACEMENT_SPEED.standing(fastest * factor);
            (other == Standing::Usual).then_some(0.0)
        };
        let meant = match table.fitting_units(at, fits).as_deref() {
            Some("krpm") => format!(
                ": they look like thousands, write {} [krpm] or multiply them by 1000",
                table.name(at)
            ),
            Some(unit) => format!(": they look like {unit}, write {} [{unit}]", table.name(at)),
            None => String::new(),
        };
        let tip = tip.map_or_else(String::new, |tip| {
            format!(
                ", with this displacement a rotor tip speed of about {} m/s",
                digits(tip)
            )
        });
        let speeds = format!(
            "speeds of {} under [{}] ({}){tip}",
            table.written_range(at),
            table.unit_name(at),
            table.all_lines()
        );
        let (line, heading) = (table.sheet.heading.line, table.heading(at).to_owned());
        if standing == Standing::Impossible {
            let text = format!("{speeds} cannot be a supercharger's{meant}");
            self.fault(line, &heading, text);
        } else {
            let text = format!("{speeds} are unusual for a supercharger{meant}");
            self.remark(line, &heading, text);
        }
    }
}

fn scaled(wheel: Wheel, is_speed: bool, factor: f64) -> Wheel {
    if is_speed {
        wheel.scaled(factor, 1.0)
    } else {
        wheel.scaled(1.0, factor)
    }
}

/// The wheel in words.
fn implied(wheel: Wheel, shape: Shape) -> String {
    let diameter = match wheel.diameter * 1e3 {
        mm if mm >= 1000.0 => format!("{} m", digits(mm / 1e3)),
        mm => format!("{} mm", digits(mm)),
    };
    // A diameter that is off makes the usual flow of the wheel meaningless.
    let known = wheel.diameter_standing() == Standing::Usual;
    let flow = match wheel.flow_standing() {
        Standing::Odd | Standing::Impossible if known => {
            let off = wheel.flow_off();
            if off >= 1.0 {
                format!(" with {} times its usual flow", digits(off))
            } else {
                format!(" with 1/{} of its usual flow", digits(1.0 / off))
            }
        }
        _ => String::new(),
    };
    let kind = if shape == Shape::Turbine {
        "turbine wheel"
    } else {
        "wheel"
    };
    format!("a {kind} of about {diameter}{flow}")
}
