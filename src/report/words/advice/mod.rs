//! The next step, one sentence for each finding, with its numbers.

mod cooling;
mod costs;
mod gate;
mod limits;
mod trust;

use super::figure::with_unit;
use crate::finding::{Finding, Severity};
use crate::quantity::{Kind, UnitSystem};

/// What to do next, in one sentence in the reader's units.
pub fn advice(finding: &Finding, system: UnitSystem) -> String {
    let is_limit = finding.limit.is_some() && finding.margin.is_some();
    if finding.severity == Severity::Ok && is_limit {
        return "Nothing to do.".to_owned();
    }
    let say = Say {
        finding,
        system,
        beyond: finding.margin.is_some_and(|margin| margin < -1e-6),
    };
    say.limits()
        .or_else(|| say.costs())
        .or_else(|| say.gate())
        .or_else(|| say.cooling())
        .unwrap_or_else(|| say.trust())
}

struct Say<'a> {
    finding: &'a Finding,
    system: UnitSystem,
    /// Whether the limit is passed, by more than rounding.
    beyond: bool,
}

impl Say<'_> {
    fn value(&self, si: f64, kind: Kind) -> String {
        with_unit(si, kind, self.system)
    }

    fn absolute(&self, pressure: f64) -> String {
        self.value(pressure, Kind::AbsolutePressure)
    }

    fn boost(&self, pressure: f64) -> String {
        self.value(pressure, Kind::BoostPressure)
    }

    /// A setting and its number: reach it where the limit is passed, do not pass it where not.
    fn setting(&self, change: &str, name: &str, to: &str, also: &str) -> String {
        if self.beyond {
            format!("{change} {name} to {to}{also}.")
        } else {
            format!("Go no further: the limit is reached with {name} at {to}.")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{Code, OtherFuelling, Subject, SuperchargerAlone};
    use crate::matching::{GateState, StationPlace};

    const SI: UnitSystem = UnitSystem::Si;

    fn say(case: &Case, code: Code) -> String {
        advice(&case.one(code), SI)
    }

    #[test]
    fn the_step_for_the_manifold_depends_on_who_makes_the_pressure() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let turbo = say(&case, Code::ManifoldPressure);
        assert!(
            turbo.starts_with("Set boost_limit to 166.5 kPa gauge"),
            "{turbo}"
        );
        case.deliver(1.3);
        let pulley = say(&case, Code::ManifoldPressure);
        // 2.15 × 250/275 by hand.
        assert!(pulley.contains("(now 2.15) to about 1.95"), "{pulley}");
        case.gate(GateState::Holding, 0.2);
        let gate = say(&case, Code::ManifoldPressure);
        assert!(
            gate.contains("the wastegate's boost_limit to 166.5 kPa gauge"),
            "{gate}"
        );
    }

    #[test]
    fn near_a_limit_the_step_is_to_go_no_further() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let text = say(&case, Code::ManifoldPressure);
        assert!(text.starts_with("Go no further"), "{text}");
        assert!(text.contains("191.5 kPa gauge"), "{text}");
    }

    #[test]
    fn a_limit_that_holds_asks_for_nothing() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(400e3);
        assert_eq!(say(&case, Code::ManifoldPressure), "Nothing to do.");
    }

    #[test]
    fn a_gate_that_cannot_hold_names_the_pulley_or_the_valve() {
        let mut case = Case::truck();
        case.gate(GateState::WideOpen, 0.45);
        case.station(StationPlace::Manifold).pressure = 1.1 * case.boost_limit();
        case.extra.share_to_hold = Some(0.58);
        let valve = say(&case, Code::WastegateTooSmall);
        assert!(
            valve.contains("45.0 %") && valve.contains("58.0 %"),
            "{valve}"
        );
        case.deliver(1.3);
        let estimate = say(&case, Code::SuperchargerAboveBoostLimit);
        assert!(estimate.contains("from 2.15 to about 1.95"), "{estimate}");
        case.extra.drive_ratio_to_hold = Some(1.90);
        let solved = say(&case, Code::SuperchargerAboveBoostLimit);
        assert!(solved.contains("from 2.15 to 1.90"), "{solved}");
    }

    #[test]
    fn the_band_is_told_with_both_pressures() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.extra.supercharger_alone = Some(SuperchargerAlone {
            at_rest: 260e3,
            at_unity: 275e3,
        });
        let text = say(&case, Code::LimitInSuperchargerBand);
        assert!(
            text.contains("260.0 kPa") && text.contains("275.0 kPa"),
            "{text}"
        );
    }

    #[test]
    fn what_the_fuel_holds_is_said_with_the_other_answer() {
        let mut case = Case::truck();
        case.extra.other_fuelling = Some(OtherFuelling::ManifoldPressure(165e3));
        let text = say(&case, Code::FuellingAssumption);
        assert!(
            text.starts_with("The build holds the air–fuel ratio"),
            "{text}"
        );
        assert!(text.contains("165.0 kPa absolute"), "{text}");
        case.extra.other_fuelling = Some(OtherFuelling::RunsAway);
        assert!(say(&case, Code::FuellingAssumption).contains("run away"));
    }

    #[test]
    fn a_pressure_in_advice_follows_the_readers_units() {
        let mut case = Case::truck();
        case.installation.limits.max_cylinder_pressure = Some(12e6);
        let text = advice(&case.one(Code::CylinderPressure), UnitSystem::Us);
        // 268.5 kPa × 12/15 = 214.8 kPa = 31.15 psi by hand.
        assert!(text.contains("31.15 psi absolute"), "{text}");
    }

    #[test]
    fn every_code_has_one_sentence_of_advice_also_without_numbers() {
        for code in Code::ALL {
            for severity in [Severity::Ok, Severity::Near, Severity::Over] {
                let finding = Finding::remark(code, severity, Subject::Engine, 2000.0);
                let text = advice(&finding, SI);
                assert!(text.ends_with('.') && text.len() > 10, "{code:?}: {text}");
                assert_eq!(text.matches(". ").count(), 0, "{code:?}: {text}");
            }
        }
    }
}
