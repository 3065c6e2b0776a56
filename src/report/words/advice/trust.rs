//! Steps that make an answer surer, and those that need no number.

use super::super::figure::plain;
use super::Say;
use crate::exhaust::FlowLaw;
use crate::finding::{Code, Detail, Held, OtherFuelling, Severity};
use crate::matching::GateState;
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn rich(&self) -> String {
        if self.finding.severity == Severity::Over {
            self.step(
                "A diesel this rich smokes and runs hot: give less fuel or more air",
                ": a diesel this rich smokes and runs hot",
            )
        } else {
            "Rich on purpose is common at full load: look at exhaust temperature and consumption."
                .to_owned()
        }
    }

    pub(super) fn smoke(&self) -> String {
        self.step("Give less fuel or more air to run clean", " to run clean")
    }

    pub(super) fn second(&self) -> String {
        let Detail::OtherBalance {
            here,
            brake_power,
            other_brake_power,
            gate,
            other_gate,
        } = self.finding.detail
        else {
            return "A wastegate with a boost_limit between the two keeps it at one.".to_owned();
        };
        self.second_balance((here, brake_power, gate), (other_brake_power, other_gate))
    }

    /// Where the engine stands and what the other balance is like: pressure, power and gate here,
    /// power and gate there.
    fn second_balance(
        &self,
        (here, power, gate): (f64, Option<f64>, GateState),
        (other_power, other_gate): (Option<f64>, GateState),
    ) -> String {
        let state = |power: Option<f64>, gate: GateState| {
            let power = power.map(|power| self.value(power, Kind::Power));
            let gate = match gate {
                GateState::None => None,
                GateState::Shut => Some("the wastegate shut"),
                GateState::Holding => Some("the wastegate holding its limit"),
                GateState::WideOpen => Some("the wastegate wide open"),
            };
            let parts: Vec<String> = power.into_iter().chain(gate.map(str::to_owned)).collect();
            parts.join(", ")
        };
        let bracketed = |text: String| {
            if text.is_empty() {
                text
            } else {
                format!(" ({text})")
            }
        };
        let opens = [gate, other_gate]
            .iter()
            .any(|gate| *gate != GateState::Shut)
            && gate != GateState::None;
        let step = if opens && gate != other_gate {
            "Set boost_limit clear above or clear below both pressures, so that the wastegate \
             cannot do either"
        } else {
            "A wastegate with a boost_limit between the two keeps it at the lower one"
        };
        format!(
            "Coming up through the speeds the engine settles at {}{}; the second{} takes a jolt \
             to reach, such as a lifted throttle. {step}.",
            self.absolute(here),
            bracketed(state(power, gate)),
            bracketed(state(other_power, other_gate)),
        )
    }

    pub(super) fn valve_overlap(&self) -> String {
        let Detail::DriveRatio { now, measured_at } = self.finding.detail else {
            return "The correction ignores valve overlap.".to_owned();
        };
        format!(
            "It was measured at a drive pressure ratio of {} and runs at {}: the correction ignores \
             valve overlap, which would move it further.",
            plain(measured_at),
            plain(now)
        )
    }

    pub(super) fn beyond_table(&self) -> String {
        match self.finding.value {
            Some(rpm) => format!("The end value is held: add a row at {rpm:.0} rpm."),
            None => "The end value is held: add a row.".to_owned(),
        }
    }

    pub(super) fn unchecked(&self) -> String {
        match self.finding.detail {
            Detail::Unchecked(limit) => make_known(limit),
            _ => "Give what the limit is held against.",
        }
        .to_owned()
    }

    pub(super) fn fuelling(&self) -> String {
        let Detail::Fuelling { held, other } = self.finding.detail else {
            return "Say whether the build holds the ratio or the fuel.".to_owned();
        };
        let result = match other {
            OtherFuelling::ManifoldPressure(p) => {
                format!("the manifold would be at {}", self.absolute(p))
            }
            OtherFuelling::RunsAway => "the turbocharger would run away".to_owned(),
        };
        match held {
            Held::Ratio => format!(
                "The build holds the air–fuel ratio; with the fuel quantity fixed at its no-boost value {result}: give per_stroke where a pump sets the fuel.",
            ),
            Held::Fuel => format!(
                "The build holds the fuel; with the air–fuel ratio fixed at its no-boost value {result}: give the ratio where the fuel follows the air.",
            ),
        }
    }

    pub(super) fn flow_law(&self) -> String {
        let Detail::FlowLaw {
            law,
            drive_pressure,
            other,
        } = self.finding.detail
        else {
            return "Try the other flow_law as well: the difference is the uncertainty here."
                .to_owned();
        };
        let other_law = match law {
            FlowLaw::Nozzle => "two_throats",
            FlowLaw::TwoThroats => "nozzle",
        };
        match other {
            Some(other) => format!(
                "With flow_law = \"{other_law}\" the drive pressure would be {} in place of {}: a \
                 turbine map would resolve this.",
                self.absolute(other),
                self.absolute(drive_pressure)
            ),
            None => format!(
                "Try flow_law = \"{other_law}\" as well: the difference is the uncertainty here.",
            ),
        }
    }
}

const fn make_known(limit: Code) -> &'static str {
    match limit {
        Code::CylinderPressure => {
            "Give compression_ratio and pressure_rise_ratio, so that it can be checked."
        }
        Code::ExhaustTemperature => {
            "Give fuel, [engine.combustion] and [turbine] or [exhaust], so that it can be checked."
        }
        Code::DrivePressureRatio => {
            "Let the turbine drive its compressor (no given pressure_ratio), so that it can be \
             checked."
        }
        Code::ClampMargin => {
            "Give studs_per_cylinder, stud_preload or stud_torque, bore or sealed_bore, and \
             pressure_rise_ratio, so that it can be checked."
        }
        Code::InjectorDuty => {
            "Give injectors and injector_flow of [fuel], so that it can be checked."
        }
        Code::TipSpeed => {
            "Give kind, drive_ratio and rotor_diameter of the supercharger, so that it can be checked."
        }
        Code::BeltPull => {
            "Give kind, drive_ratio and pulley_diameter of the supercharger, so that it can be checked."
        }
        Code::SuperchargerSpeed => {
            "Give kind and drive_ratio of the supercharger, so that it can be checked."
        }
        _ => "Give the compressor a map, so that it can be checked.",
    }
}
