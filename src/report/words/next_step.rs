//! The next step of a finding, one sentence with its numbers.

use super::advice::AdviceWriter;
use super::catalogue::{Numbers, words};
use crate::finding::{Detail, Finding, Severity};
use crate::quantity::UnitSystem;

/// What to do next, in one sentence in the reader's units.
pub fn advice(finding: &Finding, system: UnitSystem) -> String {
    let is_limit = finding.limit.is_some() && finding.margin.is_some();
    if finding.severity == Severity::Ok && is_limit {
        return "No action needed.".to_owned();
    }
    let then = finding.step.iter().flat_map(|step| step.then).flatten();
    let writer = AdviceWriter {
        finding,
        system,
        beyond: finding.is_beyond(),
        then: then.map(|code| words(code).label).collect(),
        to_check: match finding.detail {
            Detail::Unchecked(limit) => words(limit).more.to_check,
            _ => "",
        },
    };
    let advice = words(finding.code).advice;
    match advice.numbers {
        Numbers::None => format!("{}.", advice.general),
        Numbers::Setting(and_then) => writer.setting(advice.general, and_then),
        Numbers::By(write) => write(&writer, advice.general),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{
        Code, Lever, LimitMet, NextStep, OtherFuelling, Subject, SuperchargerAlone,
    };
    use crate::matching::{GateState, StationPlace};

    const SI: UnitSystem = UnitSystem::Si;

    fn said(case: &Case, code: Code) -> String {
        advice(&case.one(code), SI)
    }

    /// The same with a setting that was solved for.
    fn solved(case: &Case, code: Code, step: NextStep) -> String {
        let finding = Finding {
            step: Some(step),
            ..case.one(code)
        };
        advice(&finding, SI)
    }

    const fn step(lever: Lever, now: f64, to: LimitMet) -> NextStep {
        NextStep {
            lever,
            which: 0,
            now,
            to,
            is_table: false,
            then: [None; 3],
        }
    }

    #[test]
    fn the_step_for_the_manifold_depends_on_who_makes_the_pressure() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let turbo = said(&case, Code::ManifoldPressure);
        assert!(turbo.starts_with("Lower boost_limit"), "{turbo}");
        case.deliver(1.3);
        let pulley = said(&case, Code::ManifoldPressure);
        assert!(pulley.contains("larger supercharger pulley"), "{pulley}");
        case.gate(GateState::Holding, 0.2);
        let gate = said(&case, Code::ManifoldPressure);
        assert!(gate.contains("the wastegate's boost_limit"), "{gate}");
    }

    #[test]
    fn past_a_limit_the_setting_is_told_from_where_to_where_and_what_comes_of_it() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        case.deliver(1.3);
        let mut solution = step(Lever::DriveRatio, 2.15, LimitMet::At(1.939));
        let text = solved(&case, Code::ManifoldPressure, solution);
        // Rounded to the side that keeps the limit.
        let start =
            "Lower the drive ratio of the supercharger from 2.15 to 1.93 with a larger pulley";
        assert!(text.starts_with(start), "{text}");
        solution.then[0] = Some(Code::ExhaustTemperature);
        let text = solved(&case, Code::ManifoldPressure, solution);
        assert!(
            text.ends_with("; that would then flag: exhaust temperature."),
            "{text}"
        );
        solution.then[1] = Some(Code::SurgeMargin);
        let text = solved(&case, Code::ManifoldPressure, solution);
        assert!(
            text.ends_with("; that would then flag: exhaust temperature and surge margin."),
            "{text}"
        );
    }

    #[test]
    fn near_a_limit_the_way_and_the_room_are_told() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let room = step(Lever::BoostLimit, 185e3, LimitMet::At(191.5e3));
        let text = solved(&case, Code::ManifoldPressure, room);
        let wanted = "Small margin: the limit is reached if boost_limit of the wastegate rises from \
                      185.0 kPa gauge to 191.5 kPa gauge.";
        assert_eq!(text, wanted);
        case.installation.limits.max_charge_temperature = Some(335.0);
        let room = step(Lever::Effectiveness, 0.75, LimitMet::At(0.674));
        let text = solved(&case, Code::ChargeTemperature, room);
        let wanted = "Small margin: the limit is reached if the effectiveness of the cooler falls from \
                      75.0 % to 67.4 %.";
        assert_eq!(text, wanted);
    }

    #[test]
    fn a_setting_that_does_not_get_there_is_told_with_how_far_it_was_tried() {
        let mut case = Case::truck();
        case.gate(GateState::WideOpen, 0.45);
        case.station(StationPlace::Manifold).pressure = 1.1 * case.boost_limit();
        let end = step(Lever::GateShare, 0.45, LimitMet::NotUpTo(0.95));
        let text = solved(&case, Code::WastegateTooSmall, end);
        assert!(
            text.contains("alone is not enough, tried from 45.0 % to 95.0 %"),
            "{text}"
        );
    }

    #[test]
    fn a_table_moves_as_a_whole_and_the_second_of_a_kind_is_named() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(900.0);
        let mut solution = step(Lever::AirFuelRatio, 22.0, LimitMet::At(25.01));
        solution.is_table = true;
        let text = solved(&case, Code::ExhaustTemperature, solution);
        let start =
            "Raise the air–fuel ratio from 22.0 to 25.1, all rows of its table scaled alike";
        assert!(text.starts_with(start), "{text}");
        case.installation.limits.max_charge_temperature = Some(325.0);
        let mut second = step(Lever::Effectiveness, 0.6, LimitMet::At(0.7));
        second.which = 1;
        let text = solved(&case, Code::ChargeTemperature, second);
        assert!(
            text.contains("the effectiveness of cooler 2 from"),
            "{text}"
        );
    }

    #[test]
    fn a_charge_within_its_limit_is_never_told_that_the_cooler_cannot_hold_it() {
        let mut case = Case::truck();
        case.installation.limits.max_charge_temperature = Some(335.0);
        for to in [
            LimitMet::At(0.6),
            LimitMet::NotUpTo(0.0),
            LimitMet::NotUpTo(1.0),
        ] {
            let step = step(Lever::Effectiveness, 0.75, to);
            let text = solved(&case, Code::ChargeTemperature, step);
            assert!(!text.contains("No cooler"), "{text}");
        }
        case.installation.limits.max_charge_temperature = Some(300.0);
        let endless = step(Lever::Effectiveness, 0.75, LimitMet::NotUpTo(1.0));
        let text = solved(&case, Code::ChargeTemperature, endless);
        assert!(text.starts_with("No cooler of any size"), "{text}");
    }

    #[test]
    fn a_limit_that_holds_asks_for_nothing() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(400e3);
        assert_eq!(said(&case, Code::ManifoldPressure), "No action needed.");
    }

    #[test]
    fn the_band_is_told_with_both_pressures() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.extra.supercharger_alone = Some(SuperchargerAlone {
            at_rest: 260e3,
            at_unity: 275e3,
        });
        let text = said(&case, Code::LimitInSuperchargerBand);
        assert!(
            text.contains("260.0 kPa") && text.contains("275.0 kPa"),
            "{text}"
        );
        let lower = step(Lever::DriveRatio, 2.15, LimitMet::At(2.0));
        let text = solved(&case, Code::LimitInSuperchargerBand, lower);
        assert!(text.starts_with("Lower the drive ratio"), "{text}");
    }

    #[test]
    fn what_the_fuel_holds_is_said_with_the_other_answer() {
        let mut case = Case::truck();
        case.extra.other_fuelling = Some(OtherFuelling::ManifoldPressure(165e3));
        let text = said(&case, Code::FuellingAssumption);
        assert!(
            text.starts_with("The build fixes the air–fuel ratio"),
            "{text}"
        );
        assert!(text.contains("165.0 kPa absolute"), "{text}");
        case.extra.other_fuelling = Some(OtherFuelling::RunsAway);
        assert!(said(&case, Code::FuellingAssumption).contains("run away"));
    }

    #[test]
    fn a_pressure_in_advice_follows_the_readers_units() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let finding = Finding {
            step: Some(step(Lever::BoostLimit, 185e3, LimitMet::At(166.5e3))),
            ..case.one(Code::ManifoldPressure)
        };
        // 166.5 kPa = 24.149 psi by hand, and the lower side keeps the limit.
        let text = advice(&finding, UnitSystem::Us);
        assert!(text.contains("to 24.14 psi gauge"), "{text}");
    }

    #[test]
    fn an_upper_estimate_past_the_limit_reads_as_a_sentence() {
        let mut case = Case::truck();
        case.installation.limits.max_cylinder_pressure = Some(16e6);
        let mut finding = case.one(Code::CylinderPressure);
        finding.detail = crate::finding::Detail::Peak(Some(16.6e6));
        finding.severity = Severity::Near;
        finding.step = Some(step(Lever::BoostLimit, 185e3, LimitMet::NotUpTo(1850e3)));
        let wanted = "The upper estimate, 16600 kPa absolute, exceeds the limit; with the mid estimate it \
                      holds even with boost_limit of the wastegate raised from 185.0 kPa gauge to 1850.0 kPa \
                      gauge.";
        assert_eq!(advice(&finding, SI), wanted);
        finding.step = Some(step(Lever::BoostLimit, 185e3, LimitMet::At(210e3)));
        assert!(advice(&finding, SI).ends_with("it is reached if boost_limit of the wastegate rises from 185.0 kPa gauge to 210.0 kPa gauge."));
    }

    #[test]
    fn a_limit_that_is_not_checked_names_what_to_give() {
        for &code in Code::ALL {
            let detail = Detail::Unchecked(code);
            let finding = Finding::remark(Code::LimitNotChecked, Subject::Engine, 1.0).with(detail);
            let known = words(code).more.to_check;
            let text = advice(&finding, SI);
            assert!(known.is_empty() || text == format!("{known}."), "{text}");
        }
    }

    /// Without numbers the general advice stands there, or a sentence for that severity; never two codes
    /// with the same.
    #[test]
    fn every_code_has_a_sentence_of_its_own_also_without_numbers() {
        let mut all = std::collections::BTreeMap::new();
        for &code in Code::ALL {
            for severity in [Severity::Ok, Severity::Near, Severity::Over] {
                let finding = Finding::remark(code, Subject::Engine, 2000.0).at_severity(severity);
                let text = advice(&finding, SI);
                assert!(text.ends_with('.') && text.len() > 10, "{code:?}: {text}");
                assert_eq!(text.matches(". ").count(), 0, "{code:?}: {text}");
                let other = all.insert(text, code);
                assert!(
                    other.is_none_or(|other| other == code),
                    "{code:?} {other:?}"
                );
            }
        }
    }
}
