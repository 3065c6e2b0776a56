//! The next step, one sentence for each finding, with its numbers.

use super::figure::{percent, plain, with_unit};
use crate::exhaust::FlowLaw;
use crate::finding::{Code, Detail, Finding, Held, Maker, OtherFuelling, Severity};
use crate::map::Region;
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
        .or_else(|| say.gate())
        .unwrap_or_else(|| say.rest())
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

    fn limits(&self) -> Option<String> {
        let detail = self.finding.detail;
        Some(match (self.finding.code, detail) {
            (Code::ManifoldPressure, Detail::Boost(maker)) => self.boost_maker(maker),
            (Code::CylinderPressure, Detail::NeededManifoldPressure(p)) => self.setting(
                "Bring",
                "the manifold",
                &self.absolute(p),
                " or below, or lower the compression ratio",
            ),
            (Code::ChargeTemperature, _) => self.charge(),
            (Code::ExhaustTemperature, _) => self.exhaust(),
            (
                Code::DrivePressureRatio,
                Detail::Setting {
                    now,
                    needed: Some(needed),
                    ..
                },
            ) => {
                let now = self.value(now, Kind::Area);
                self.setting(
                    "Enlarge",
                    &format!("the turbine's effective area (now {now})"),
                    &format!("about {}", self.value(needed, Kind::Area)),
                    ", or open the wastegate earlier",
                )
            }
            (Code::DrivePressureRatio, _) => {
                "A larger turbine or an earlier wastegate lowers it.".to_owned()
            }
            (Code::SuperchargerOutletTemperature, _) => self.stage_ratio(
                ": turn it slower and let the turbocharger carry more, or cool the air behind it",
            ),
            (Code::CompressorOutletTemperature, _) => self.stage_ratio(
                ": less boost, more of it from the other stage, or a cooler between the stages",
            ),
            (Code::TurboSpeed, _) => self.stage_ratio(", or fit a larger compressor"),
            (
                Code::SuperchargerSpeed,
                Detail::Setting {
                    now,
                    needed: Some(needed),
                    ..
                },
            ) => self.setting(
                "Lower",
                &format!("the drive ratio (now {})", plain(now)),
                &plain(needed),
                " with a larger pulley on the supercharger",
            ),
            (Code::SuperchargerSpeed, _) => "Turn it slower.".to_owned(),
            (Code::SurgeMargin, _) => self.surge(),
            (
                Code::OutsideMap,
                Detail::Map {
                    region, low_end, ..
                },
            ) => outside_map(region, low_end),
            _ => return None,
        })
    }

    fn boost_maker(&self, maker: Maker) -> String {
        match maker {
            Maker::Gate { needed_boost } => self.setting(
                "Lower",
                "the wastegate's boost_limit",
                &self.boost(needed_boost),
                " or below",
            ),
            Maker::Bypass {
                needed_boost: Some(boost),
            } => self.setting("Lower", "bypass_pressure", &self.boost(boost), " or below"),
            Maker::Bypass { needed_boost: None } => {
                "The bypass holds the pressure: set bypass_pressure lower.".to_owned()
            }
            Maker::Supercharger {
                drive_ratio,
                needed,
            } => self.setting(
                "The supercharger sets the flow: lower",
                &format!("the drive ratio (now {})", plain(drive_ratio)),
                &format!("about {}", plain(needed)),
                " with a larger pulley on it, or fit a regulated bypass",
            ),
            Maker::Turbo {
                has_gate,
                needed_boost,
            } => {
                let change = if has_gate {
                    "Set"
                } else {
                    "Fit a wastegate, or a larger turbine, and set"
                };
                let boost = self.boost(needed_boost);
                self.setting(change, "boost_limit", &boost, " or below")
            }
            Maker::Other => "Lower the pressure ratio of the stages.".to_owned(),
        }
    }

    fn charge(&self) -> String {
        match self.finding.detail {
            Detail::NoCooler => "Fit a charge cooler, or lower the boost.".to_owned(),
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } => self.setting(
                "Raise",
                &format!("the effectiveness of the cooler (now {})", percent(now)),
                &format!("about {}", percent(needed)),
                " by a larger core or more cooling flow, or lower the boost",
            ),
            _ => {
                "This cooler alone cannot hold it: lower the boost, or give it colder air or water."
                    .to_owned()
            }
        }
    }

    fn exhaust(&self) -> String {
        match self.finding.detail {
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } if self.beyond => format!(
                "Run leaner, at an air–fuel ratio of about {needed:.1} (now {now:.1}): less fuel, or \
                 more air.",
            ),
            _ if self.beyond => "Give less fuel or more air.".to_owned(),
            _ => "Little room is left: add no fuel without adding air.".to_owned(),
        }
    }

    fn stage_ratio(&self, also: &str) -> String {
        match self.finding.detail {
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } => self.setting(
                "Lower",
                &format!("its pressure ratio (now {})", plain(now)),
                &format!("about {}", plain(needed)),
                also,
            ),
            _ => format!("Lower its pressure ratio{also}."),
        }
    }

    fn surge(&self) -> String {
        if self.finding.value.is_none() {
            return "The map has no surge line at this pressure ratio: lower the ratio, or find a \
                    map that reaches it."
                .to_owned();
        }
        let at_same_speed = match self.finding.detail {
            Detail::Surge { at_same_speed } => {
                format!(" ({} at the same speed)", percent(at_same_speed))
            }
            _ => String::new(),
        };
        format!(
            "Move away from surge{at_same_speed}: a smaller compressor, less boost at this speed, \
             or more flow through the engine.",
        )
    }

    fn gate(&self) -> Option<String> {
        Some(match (self.finding.code, self.finding.detail) {
            (
                Code::SuperchargerAboveBoostLimit,
                Detail::Gate {
                    drive_ratio: Some(now),
                    drive_ratio_to_hold: Some(hold),
                    solved,
                    ..
                },
            ) => {
                let about = if solved { "" } else { "about " };
                format!(
                    "Lower the drive ratio from {} to {about}{} with a larger pulley on the \
                     supercharger, or hold the limit with a regulated bypass: the wastegate only \
                     hands work back to the belt.",
                    plain(now),
                    plain(hold)
                )
            }
            (
                Code::WastegateTooSmall,
                Detail::Gate {
                    share,
                    share_to_hold: Some(hold),
                    ..
                },
            ) => format!(
                "It passes {} of the exhaust and would have to pass {}: fit a larger valve, or a \
                 larger turbine.",
                percent(share),
                percent(hold)
            ),
            (Code::WastegateTooSmall, Detail::Gate { share, .. }) => format!(
                "It is wide open and passes {} of the exhaust: fit a larger valve, or a larger \
                 turbine.",
                percent(share)
            ),
            (Code::SuperchargerAboveBoostLimit | Code::WastegateWideOpen, _) => {
                "Turn the supercharger slower, or fit a larger wastegate valve; a regulated bypass \
                 would hold the limit as well."
                    .to_owned()
            }
            (
                Code::LimitInSuperchargerBand,
                Detail::Band {
                    at_rest,
                    at_unity,
                    drive_ratio_to_hold,
                },
            ) => {
                let pulley = drive_ratio_to_hold
                    .map_or("a slower supercharger".to_owned(), |hold| {
                        format!("a drive ratio of {}", plain(hold))
                    });
                format!(
                    "The supercharger alone makes {} with the turbocharger at rest and {} with it at \
                     a pressure ratio of 1, so that the gate sets the split and hardly the boost: \
                     {pulley} or a regulated bypass would hold it.",
                    self.absolute(at_rest),
                    self.absolute(at_unity)
                )
            }
            _ => return None,
        })
    }

    fn rest(&self) -> String {
        match (self.finding.code, self.finding.detail) {
            (Code::RichMixture, _) if self.finding.severity == Severity::Over => {
                "A diesel this rich smokes and runs hot: give less fuel or more air.".to_owned()
            }
            (Code::FuellingAssumption, Detail::Fuelling { held, other }) => {
                self.fuelling(held, other)
            }
            (Code::Steep, _) => format!(
                "Take this as a band, not a figure: 1 % more fuel moves the manifold pressure by \
                 {:.1} %; a boost_limit would steady it.",
                self.finding.value.unwrap_or(0.0)
            ),
            (Code::SecondEquilibrium, Detail::Here(here)) => format!(
                "It stands at {} coming from rest and could jump: a wastegate with a boost_limit \
                 between the two keeps it there.",
                self.absolute(here)
            ),
            (
                Code::FlowLawUncertain,
                Detail::FlowLaw {
                    law,
                    drive_pressure,
                    other,
                },
            ) => self.flow_law(law, drive_pressure, other),
            (Code::ValveOverlapUnknown, Detail::DriveRatio { now, measured_at }) => format!(
                "It was measured at a drive pressure ratio of {} and runs at {}: the correction \
                 knows no valve overlap, which would move it further.",
                plain(measured_at),
                plain(now)
            ),
            (Code::BeyondTable, _) => match self.finding.value {
                Some(rpm) => format!("The end value is held: add a row at {rpm:.0} rpm."),
                None => "The end value is held: add a row.".to_owned(),
            },
            (Code::LimitNotChecked, Detail::Unchecked(limit)) => unchecked(limit).to_owned(),
            (code, _) => fixed(code, self.finding.severity).to_owned(),
        }
    }

    fn fuelling(&self, held: Held, other: OtherFuelling) -> String {
        let result = match other {
            OtherFuelling::ManifoldPressure(p) => {
                format!("the manifold would be at {}", { self.absolute(p) })
            }
            OtherFuelling::RunsAway => "the turbocharger would run away".to_owned(),
        };
        match held {
            Held::Ratio => format!(
                "The build holds the air–fuel ratio; with the fuel held {result}: give per_stroke \
                 where a pump sets the fuel.",
            ),
            Held::Fuel => format!(
                "The build holds the fuel; with the air–fuel ratio held {result}: give the ratio \
                 where the fuel follows the air.",
            ),
        }
    }

    fn flow_law(&self, law: FlowLaw, drive_pressure: f64, other: Option<f64>) -> String {
        let other_law = match law {
            FlowLaw::Nozzle => "two_throats",
            FlowLaw::TwoThroats => "nozzle",
        };
        match other {
            Some(other) => format!(
                "With flow_law = \"{other_law}\" the drive pressure would be {} in place of {}: a \
                 turbine map would settle it.",
                self.absolute(other),
                self.absolute(drive_pressure)
            ),
            None => format!(
                "Try flow_law = \"{other_law}\" as well: the difference is the uncertainty here.",
            ),
        }
    }
}

const fn unchecked(limit: Code) -> &'static str {
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
        Code::SuperchargerSpeed => {
            "Give kind and drive_ratio of the supercharger, so that it can be checked."
        }
        _ => "Give the compressor a map, so that it can be checked.",
    }
}

const fn fixed(code: Code, severity: Severity) -> &'static str {
    match code {
        Code::RunsAway => "Fit a larger turbine or a wastegate, or give less fuel.",
        Code::Stalls => "Fit a smaller turbine.",
        Code::NoMatch => {
            "Look at pressure drops, displacement, volumetric efficiency and the size of turbine \
             and wastegate."
        }
        Code::RichMixture => {
            "Rich on purpose is common at full load: look at exhaust temperature and consumption."
        }
        Code::DieselSmoke => "Give less fuel or more air to run clean.",
        Code::SuperchargerRestricts => {
            "It holds the air back here: fit a bypass that opens, or a wider one."
        }
        Code::TurbineChoked => match severity {
            Severity::Ok => "No harm by itself: drive pressure now rises with the exhaust flow.",
            _ => "A larger turbine or an earlier wastegate lowers the drive pressure.",
        },
        Code::DragNotCounted => {
            "Brake power here is too high by it: give no_load_power and at_speed of the \
             supercharger."
        }
        Code::SmokeLimiterActive => "More air at this speed would bring more power.",
        _ => "Look at this before building.",
    }
}

fn outside_map(region: Region, low_end: bool) -> String {
    if low_end {
        return "Low end, little at stake: the compressor hardly works here.".to_owned();
    }
    match region {
        Region::BeyondSurge(_) => {
            "Here it would surge: fit a smaller compressor, or take less boost at this speed."
        }
        Region::BeyondChoke(_) => {
            "It is too small for this flow: fit a larger compressor, or put the supercharger's \
                 work where the flow is lower."
        }
        Region::OverSpeed(_) => {
            "Faster than it was measured: take less boost, or fit a larger compressor."
        }
        Region::UnderSpeed(_) => {
            "Slower than it was measured: take these numbers as a guess, or find a map with \
                 slower lines."
        }
        _ => "Take these numbers as a guess: the map was not measured here.",
    }
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{Subject, SuperchargerAlone};
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
