//! A next step that was solved for, in words: which setting, from where to where, and what would then
//! be past its limit.

use super::super::figure::percent;
use super::super::name::matter;
use super::Say;
use crate::finding::{Lever, Reach, Step};
use crate::quantity::Kind;

impl Say<'_> {
    /// The setting that meets the limit, or how far it may go; without one, `otherwise`, an order that
    /// names the way and no number. `also` goes on behind a setting that meets it.
    pub(super) fn step(&self, otherwise: &str, also: &str) -> String {
        let Some(step) = self.finding.step else {
            return format!("{otherwise}.");
        };
        let name = name(&step);
        let now = self.figure(step.lever, step.now, 0.0);
        let relief = step.lever.relief();
        // Beyond: towards less; within: towards the limit.
        let up = (relief > 0.0) == self.beyond;
        let table = if step.is_table {
            ", every row of its table in proportion"
        } else {
            ""
        };
        match step.to {
            Reach::At(to) => {
                let to = self.figure(step.lever, to, relief);
                let then = then(&step);
                if self.beyond {
                    let change = if up { "Raise" } else { "Lower" };
                    format!("{change} {name} from {now} to {to}{table}{also}{then}.")
                } else {
                    let goes = if up { "rise" } else { "fall" };
                    let name = capital(&name);
                    format!(
                        "{name} may {goes} from {now} to {to}{table} before the limit is reached{then}."
                    )
                }
            }
            Reach::NotUpTo(end) => {
                let end = self.figure(step.lever, end, 0.0);
                if self.beyond {
                    format!(
                        "{otherwise}; {name} alone does not get there, tried as far as {end} (now {now})."
                    )
                } else {
                    let name = capital(&name);
                    format!("{name} (now {now}) does not reach the limit, tried as far as {end}.")
                }
            }
        }
    }

    /// A setting with its unit; where it counts rounded to the side of `safe`.
    fn figure(&self, lever: Lever, value: f64, safe: f64) -> String {
        let toward = |digits: f64| {
            // What is a hair past a digit is that digit.
            let scaled = value * digits;
            let rounded = match safe {
                _ if (scaled - scaled.round()).abs() < 1e-6 => scaled.round(),
                safe if safe > 0.0 => scaled.ceil(),
                safe if safe < 0.0 => scaled.floor(),
                _ => scaled.round(),
            };
            rounded / digits
        };
        match lever {
            Lever::DriveRatio | Lever::PressureRatio => format!("{:.2}", toward(100.0)),
            Lever::AirFuelRatio | Lever::SmallestAirFuelRatio => format!("{:.1}", toward(10.0)),
            Lever::Lambda => format!("{:.3}", toward(1000.0)),
            Lever::Effectiveness | Lever::GateShare => percent(toward(1000.0)),
            Lever::BypassPressure | Lever::BoostLimit => self.boost(value),
            Lever::ValveDiameter => self.value(value, Kind::Length),
            Lever::TurbineArea => self.value(value, Kind::Area),
            Lever::FuelPerStroke => self.value(value, Kind::FuelPerStroke),
            Lever::FuelFlow => self.value(value, Kind::MassFlow),
        }
    }
}

/// What is set, as the build calls it where that says more.
fn name(step: &Step) -> String {
    let of = |what: &str, part: &str| match step.which {
        0 => format!("{what} of the {part}"),
        which => format!("{what} of {part} {}", which + 1),
    };
    match step.lever {
        Lever::DriveRatio => of("the drive ratio", "supercharger"),
        Lever::PressureRatio => "the given pressure_ratio of that stage".to_owned(),
        Lever::BypassPressure => of("bypass_pressure", "supercharger"),
        Lever::BoostLimit => of("boost_limit", "wastegate"),
        Lever::GateShare => of("largest_share", "wastegate"),
        Lever::ValveDiameter => of("valve_diameter", "wastegate"),
        Lever::TurbineArea => of("the effective area", "turbine"),
        Lever::Effectiveness => of("the effectiveness", "cooler"),
        Lever::AirFuelRatio => "the air–fuel ratio".to_owned(),
        Lever::Lambda => "lambda".to_owned(),
        Lever::FuelPerStroke => "the fuel per stroke".to_owned(),
        Lever::FuelFlow => "the fuel flow".to_owned(),
        Lever::SmallestAirFuelRatio => "the smoke limiter's smallest_air_fuel_ratio".to_owned(),
    }
}

fn capital(text: &str) -> String {
    // The name of a key stays as it is written.
    match text.strip_prefix("the ") {
        Some(rest) => format!("The {rest}"),
        None => text.to_owned(),
    }
}

/// "; past its limit would then be: injector duty".
fn then(step: &Step) -> String {
    let names: Vec<_> = step
        .then
        .iter()
        .flatten()
        .map(|code| matter(*code))
        .collect();
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => format!("; past its limit would then be: {last}"),
        Some((last, rest)) => format!(
            "; past their limits would then be: {} and {last}",
            rest.join(", ")
        ),
    }
}
