//! One finding's advice in the making: its numbers in the reader's units, and the setting that was
//! solved for in words: which, from where to where, and what would then be past its limit.

use crate::finding::{Finding, Lever, LimitMet, NextStep};
use crate::quantity::{Kind, UnitSystem, decimals, label, reader_value};
use crate::report::words::figure::{roughly, with_unit};

/// What an advice is written from.
pub struct AdviceWriter<'a> {
    /// The finding.
    pub finding: &'a Finding,
    /// The reader's units.
    pub system: UnitSystem,
    /// Whether the limit is passed, by more than rounding.
    pub beyond: bool,
    /// The labels of what would be past its limit with the setting that was solved for.
    pub then: Vec<&'static str>,
    /// What a build has to give so that the limit can be checked which this finding is about.
    pub to_check: &'static str,
}

impl AdviceWriter<'_> {
    /// A value with its unit.
    pub fn value(&self, si: f64, kind: Kind) -> String {
        with_unit(si, kind, self.system)
    }

    /// A value to three figures with its unit.
    pub fn roughly(&self, si: f64, kind: Kind) -> String {
        roughly(si, kind, self.system)
    }

    /// An absolute pressure in Pa with its unit.
    pub fn absolute(&self, pressure: f64) -> String {
        self.value(pressure, Kind::AbsolutePressure)
    }

    /// The setting that meets the limit, or how far it may go; without one, `otherwise`, an order that
    /// names the way and no number. `and_then` goes on after a setting that meets it.
    pub fn setting(&self, otherwise: &str, and_then: &str) -> String {
        let Some(step) = self.finding.step else {
            return format!("{otherwise}.");
        };
        let (name, then) = (setting_name(&step), self.then_past_limits());
        let (now, to) = self.now_and_target(&step);
        match (step.to, self.beyond) {
            (LimitMet::At(_), true) => {
                let change = if step.lever.relief() > 0.0 {
                    "Raise"
                } else {
                    "Lower"
                };
                let table = rows_of_table(&step);
                format!("{change} {name} from {now} to {to}{table}{and_then}{then}.")
            }
            (LimitMet::NotUpTo(_), true) => {
                format!("{otherwise}; {name} alone is not enough, tried from {now} to {to}.")
            }
            (LimitMet::At(_), false) => format!("Small margin: the limit {}.", self.room(&step)),
            (LimitMet::NotUpTo(_), false) => format!("The limit {}.", self.room(&step)),
        }
    }

    /// How far a setting may go before the limit: "is reached if lambda falls from 1.500 to 1.320".
    pub fn room(&self, step: &NextStep) -> String {
        let (name, table) = (setting_name(step), rows_of_table(step));
        let (now, to) = self.now_and_target(step);
        let up = step.lever.relief() < 0.0;
        match step.to {
            LimitMet::At(_) => {
                let changes = if up { "rises" } else { "falls" };
                let then = self.then_past_limits();
                format!("is reached if {name} {changes} from {now} to {to}{table}{then}")
            }
            LimitMet::NotUpTo(_) => {
                let changed = if up { "raised" } else { "lowered" };
                format!("holds even with {name} {changed} from {now} to {to}{table}")
            }
        }
    }

    /// The setting now and where it meets the limit, or as far as it was tried.
    fn now_and_target(&self, step: &NextStep) -> (String, String) {
        let (to, safe) = match step.to {
            LimitMet::At(to) => (to, step.lever.relief()),
            LimitMet::NotUpTo(end) => (end, 0.0),
        };
        let figure = |value, safe| self.setting_figure(step.lever, value, safe);
        (figure(step.now, 0.0), figure(to, safe))
    }

    /// "; past its limit would then be: injector duty".
    fn then_past_limits(&self) -> String {
        match self.then.split_last() {
            None => String::new(),
            Some((last, [])) => format!("; that would then flag: {last}"),
            Some((last, rest)) => {
                let rest = rest.join(", ");
                format!("; that would then flag: {rest} and {last}")
            }
        }
    }

    /// A setting with its unit; where it counts rounded to the side of `safe`.
    fn setting_figure(&self, lever: Lever, si: f64, safe: f64) -> String {
        let kind = match lever {
            Lever::DriveRatio | Lever::PressureRatio => return rounded(si, 2, safe),
            Lever::AirFuelRatio | Lever::SmallestAirFuelRatio => return rounded(si, 1, safe),
            Lever::Lambda => return rounded(si, 3, safe),
            Lever::Effectiveness | Lever::GateShare => {
                return format!("{} %", rounded(100.0 * si, 1, safe));
            }
            Lever::BypassPressure | Lever::BoostLimit => Kind::BoostPressure,
            Lever::ValveDiameter => Kind::Length,
            Lever::TurbineArea => Kind::Area,
            Lever::FuelPerStroke => Kind::FuelPerStroke,
            Lever::FuelFlow => Kind::MassFlow,
        };
        let value = reader_value(si, kind, self.system);
        let figure = rounded(value, decimals(kind, self.system), safe);
        format!("{figure} {}", label(kind, self.system))
    }
}

/// With so many decimals, towards the side of `safe`: up above 0, down below it, else to the nearest.
fn rounded(value: f64, decimals: usize, safe: f64) -> String {
    let digits = 10_f64.powf(decimals as f64);
    let scaled = value * digits;
    let rounded = match safe {
        // What is a hair past a digit is that digit.
        _ if (scaled - scaled.round()).abs() < 1e-6 => scaled.round(),
        safe if safe > 0.0 => scaled.ceil(),
        safe if safe < 0.0 => scaled.floor(),
        _ => scaled.round(),
    };
    format!("{:.decimals$}", rounded / digits)
}

/// What is set, as the build calls it where that says more.
fn setting_name(step: &NextStep) -> String {
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

const fn rows_of_table(step: &NextStep) -> &'static str {
    if step.is_table {
        ", all rows of its table scaled alike"
    } else {
        ""
    }
}
