//! The next step, one sentence for each finding, with its numbers. Every code has its own.

mod cooling;
mod costs;
mod gate;
mod limits;
mod plausible;
mod step;
mod trust;

use super::figure::with_unit;
use crate::finding::{Code, Finding, Severity};
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
        beyond: finding.is_beyond(),
    };
    say.sentence()
}

struct Say<'a> {
    finding: &'a Finding,
    system: UnitSystem,
    /// Whether the limit is passed, by more than rounding.
    beyond: bool,
}

impl Say<'_> {
    fn sentence(&self) -> String {
        match self.finding.code {
            Code::RunsAway => {
                "Fit a larger turbine or a wastegate, or give less fuel.".to_owned()
            }
            Code::Stalls => "Fit a smaller turbine.".to_owned(),
            Code::NoMatch => "Look at pressure drops, displacement, volumetric efficiency and the \
                              size of turbine and wastegate."
                .to_owned(),
            Code::NotBalanced => plausible::NOT_BALANCED.to_owned(),
            Code::NoBrakePower => plausible::NO_BRAKE_POWER.to_owned(),
            Code::ManifoldBelowSite => self.manifold_below_site(),
            Code::ManifoldFarAboveSite => self.manifold_far_above_site(),
            Code::ExhaustBeyondMaterial => self.exhaust_beyond_material(),
            Code::ExhaustTooCold => plausible::EXHAUST_TOO_COLD.to_owned(),
            Code::StagePressureRatio => self.stage_pressure_ratio(),
            Code::PressureLoss => self.pressure_loss(),
            Code::FlowBeyondRating => plausible::FLOW_BEYOND_RATING.to_owned(),
            Code::DuctMach => self.duct_mach(),
            Code::CylinderPressure => self.cylinder_pressure(),
            Code::ClampMargin => self.clamp(),
            Code::ManifoldPressure => self.manifold_pressure(),
            Code::TurboSpeed => self.turbo_speed(),
            Code::SuperchargerSpeed | Code::TipSpeed => self.slower(),
            Code::BeltPull => self.belt_pull(),
            Code::BeltSpeed => self.belt_speed(),
            Code::InjectorDuty => self.injectors(),
            Code::Knock => self.knock(),
            Code::ExhaustTemperature => self.exhaust(),
            Code::CompressorOutletTemperature => self.compressor_outlet(),
            Code::SuperchargerOutletTemperature => self.supercharger_outlet(),
            Code::ChargeTemperature => self.charge(),
            Code::DrivePressureRatio => self.drive_pressure(),
            Code::SurgeMargin => self.surge(),
            Code::OutsideMap => self.outside_map(),
            Code::SuperchargerAboveBoostLimit => self.supercharger_above_limit(),
            Code::WastegateTooSmall => self.gate_too_small(),
            Code::WastegateWideOpen => self.gate_wide_open(),
            Code::LimitInSuperchargerBand => self.band(),
            Code::OutletBeyondSink => {
                "No cooler does that: look at effectiveness and sink_temperature.".to_owned()
            }
            Code::EffectivenessAboveFlows => self.effectiveness_above_flows(),
            Code::CoolantBoils => {
                "Give the water more flow, a larger radiator, or a higher circuit_pressure; walls on \
                 the charge's hot side are hotter than this."
                    .to_owned()
            }
            Code::RichMixture => self.rich(),
            Code::DieselSmoke => self.smoke(),
            Code::FuellingAssumption => self.fuelling(),
            Code::Steep => {
                "Read this as a range, not a single figure: small errors of the inputs grow here; a \
                 boost_limit that holds at this speed would steady it."
                    .to_owned()
            }
            Code::SecondEquilibrium => self.second(),
            Code::SuperchargerRestricts => {
                "It holds the air back here: fit a bypass that opens, or a wider one.".to_owned()
            }
            Code::TurbineChoked => self.choked(),
            Code::SinkStarved => self.sink_starved(),
            Code::ChargeBelowDewPoint => self.condensate(),
            Code::OutsideCorrelation => self.outside_correlation(),
            Code::BeyondTable => self.beyond_table(),
            Code::LimitNotChecked => self.unchecked(),
            Code::DragNotCounted => {
                "Brake power here is overstated by that much: give no_load_power and at_speed of the \
                 supercharger."
                    .to_owned()
            }
            Code::FlowLawUncertain => self.flow_law(),
            Code::SmokeLimiterActive => self.smoke_limiter(),
            Code::EvaporationHeldBack => self.held_back(),
            Code::PowerUnknown => self.power_unknown(),
            Code::ValveOverlapUnknown => self.valve_overlap(),
            Code::CoolerUnconfirmed => {
                "Its offset or louvred fins follow correlations that were not validated: compare with \
                 one measured point (rated) before you buy."
                    .to_owned()
            }
        }
    }

    fn value(&self, si: f64, kind: Kind) -> String {
        with_unit(si, kind, self.system)
    }

    fn absolute(&self, pressure: f64) -> String {
        self.value(pressure, Kind::AbsolutePressure)
    }

    fn boost(&self, pressure: f64) -> String {
        self.value(pressure, Kind::BoostPressure)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{Lever, OtherFuelling, Reach, Step, Subject, SuperchargerAlone};
    use crate::matching::{GateState, StationPlace};

    const SI: UnitSystem = UnitSystem::Si;

    fn say(case: &Case, code: Code) -> String {
        advice(&case.one(code), SI)
    }

    /// The same with a setting that was solved for.
    fn solved(case: &Case, code: Code, step: Step) -> String {
        let finding = Finding {
            step: Some(step),
            ..case.one(code)
        };
        advice(&finding, SI)
    }

    const fn step(lever: Lever, now: f64, to: Reach) -> Step {
        Step {
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
        let turbo = say(&case, Code::ManifoldPressure);
        assert!(turbo.starts_with("Lower boost_limit"), "{turbo}");
        case.deliver(1.3);
        let pulley = say(&case, Code::ManifoldPressure);
        assert!(pulley.contains("larger pulley"), "{pulley}");
        case.gate(GateState::Holding, 0.2);
        let gate = say(&case, Code::ManifoldPressure);
        assert!(gate.contains("the wastegate's boost_limit"), "{gate}");
    }

    #[test]
    fn past_a_limit_the_setting_is_told_from_where_to_where_and_what_comes_of_it() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        case.deliver(1.3);
        let mut solution = step(Lever::DriveRatio, 2.15, Reach::At(1.939));
        let text = solved(&case, Code::ManifoldPressure, solution);
        // Rounded to the side that keeps the limit.
        let start =
            "Lower the drive ratio of the supercharger from 2.15 to 1.93 with a larger pulley";
        assert!(text.starts_with(start), "{text}");
        solution.then[0] = Some(Code::ExhaustTemperature);
        let text = solved(&case, Code::ManifoldPressure, solution);
        assert!(
            text.ends_with("; past its limit would then be: exhaust temperature."),
            "{text}"
        );
        solution.then[1] = Some(Code::SurgeMargin);
        let text = solved(&case, Code::ManifoldPressure, solution);
        assert!(
            text.ends_with(
                "; past their limits would then be: exhaust temperature and surge margin."
            ),
            "{text}"
        );
    }

    #[test]
    fn near_a_limit_the_way_and_the_room_are_told() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let room = step(Lever::BoostLimit, 185e3, Reach::At(191.5e3));
        let text = solved(&case, Code::ManifoldPressure, room);
        let wanted = "boost_limit of the wastegate may rise from 185.0 kPa gauge to 191.5 kPa gauge \
                      before the limit is reached.";
        assert_eq!(text, wanted);
        case.installation.limits.max_charge_temperature = Some(335.0);
        let room = step(Lever::Effectiveness, 0.75, Reach::At(0.674));
        let text = solved(&case, Code::ChargeTemperature, room);
        let wanted = "The effectiveness of the cooler may fall from 75.0 % to 67.4 % before the limit \
                      is reached.";
        assert_eq!(text, wanted);
    }

    #[test]
    fn a_setting_that_does_not_get_there_is_told_with_how_far_it_was_tried() {
        let mut case = Case::truck();
        case.gate(GateState::WideOpen, 0.45);
        case.station(StationPlace::Manifold).pressure = 1.1 * case.boost_limit();
        let end = step(Lever::GateShare, 0.45, Reach::NotUpTo(0.95));
        let text = solved(&case, Code::WastegateTooSmall, end);
        assert!(
            text.contains("45.0 %") && text.contains("tried as far as 95.0 %"),
            "{text}"
        );
    }

    #[test]
    fn a_table_moves_as_a_whole_and_the_second_of_a_kind_is_named() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(900.0);
        let mut solution = step(Lever::AirFuelRatio, 22.0, Reach::At(25.01));
        solution.is_table = true;
        let text = solved(&case, Code::ExhaustTemperature, solution);
        let start =
            "Raise the air–fuel ratio from 22.0 to 25.1, every row of its table in proportion";
        assert!(text.starts_with(start), "{text}");
        case.installation.limits.max_charge_temperature = Some(325.0);
        let mut second = step(Lever::Effectiveness, 0.6, Reach::At(0.7));
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
        for to in [Reach::At(0.6), Reach::NotUpTo(0.0), Reach::NotUpTo(1.0)] {
            let step = step(Lever::Effectiveness, 0.75, to);
            let text = solved(&case, Code::ChargeTemperature, step);
            assert!(!text.contains("No cooler"), "{text}");
        }
        case.installation.limits.max_charge_temperature = Some(300.0);
        let endless = step(Lever::Effectiveness, 0.75, Reach::NotUpTo(1.0));
        let text = solved(&case, Code::ChargeTemperature, endless);
        assert!(text.starts_with("No cooler of any size"), "{text}");
    }

    #[test]
    fn a_limit_that_holds_asks_for_nothing() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(400e3);
        assert_eq!(say(&case, Code::ManifoldPressure), "Nothing to do.");
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
        let lower = step(Lever::DriveRatio, 2.15, Reach::At(2.0));
        let text = solved(&case, Code::LimitInSuperchargerBand, lower);
        assert!(text.starts_with("Lower the drive ratio"), "{text}");
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
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let finding = Finding {
            step: Some(step(Lever::BoostLimit, 185e3, Reach::At(166.5e3))),
            ..case.one(Code::ManifoldPressure)
        };
        // 166.5 kPa = 24.15 psi by hand.
        let text = advice(&finding, UnitSystem::Us);
        assert!(text.contains("to 24.15 psi gauge"), "{text}");
    }

    #[test]
    fn every_code_has_a_sentence_of_its_own_also_without_numbers() {
        let mut seen = std::collections::BTreeMap::new();
        for code in Code::ALL {
            for severity in [Severity::Ok, Severity::Near, Severity::Over] {
                let finding = Finding::remark(code, severity, Subject::Engine, 2000.0);
                let text = advice(&finding, SI);
                assert!(text.ends_with('.') && text.len() > 10, "{code:?}: {text}");
                assert_eq!(text.matches(". ").count(), 0, "{code:?}: {text}");
                if severity == Severity::Over {
                    seen.entry(text).or_insert_with(Vec::new).push(code);
                }
            }
        }
        // Both are too fast, and slower is all there is to say.
        let shared: Vec<_> = seen.into_values().filter(|codes| codes.len() > 1).collect();
        assert_eq!(shared, [[Code::SuperchargerSpeed, Code::TipSpeed]]);
    }
}
