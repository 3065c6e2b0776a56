//! The names of codes, severities, matters and places.

use crate::finding::{Code, Detail, Finding, Missing, Passage, Severity, Subject, Table};
use crate::map::Region;
use crate::matching::Layout;

/// The fixed word of a code.
pub const fn code(code: Code) -> &'static str {
    match code {
        Code::RunsAway => "runs_away",
        Code::Stalls => "stalls",
        Code::NoMatch => "no_match",
        Code::NotBalanced => "not_balanced",
        Code::NoBrakePower => "no_brake_power",
        Code::ManifoldBelowSite => "manifold_below_site",
        Code::ManifoldFarAboveSite => "manifold_far_above_site",
        Code::ExhaustBeyondMaterial => "exhaust_beyond_material",
        Code::ExhaustTooCold => "exhaust_too_cold",
        Code::StagePressureRatio => "stage_pressure_ratio",
        Code::PressureLoss => "pressure_loss",
        Code::FlowBeyondRating => "flow_beyond_rating",
        Code::DuctMach => "duct_mach",
        Code::CylinderPressure => "cylinder_pressure",
        Code::ClampMargin => "clamp_margin",
        Code::ManifoldPressure => "manifold_pressure",
        Code::TurboSpeed => "turbo_speed",
        Code::SuperchargerSpeed => "supercharger_speed",
        Code::TipSpeed => "tip_speed",
        Code::BeltPull => "belt_pull",
        Code::BeltSpeed => "belt_speed",
        Code::InjectorDuty => "injector_duty",
        Code::Knock => "knock",
        Code::ExhaustTemperature => "exhaust_temperature",
        Code::CompressorOutletTemperature => "compressor_outlet_temperature",
        Code::SuperchargerOutletTemperature => "supercharger_outlet_temperature",
        Code::ChargeTemperature => "charge_temperature",
        Code::DrivePressureRatio => "drive_pressure_ratio",
        Code::SurgeMargin => "surge_margin",
        Code::OutsideMap => "outside_map",
        Code::SuperchargerAboveBoostLimit => "supercharger_above_boost_limit",
        Code::WastegateTooSmall => "wastegate_too_small",
        Code::WastegateWideOpen => "wastegate_wide_open",
        Code::LimitInSuperchargerBand => "limit_in_supercharger_band",
        Code::OutletBeyondSink => "outlet_beyond_sink",
        Code::EffectivenessAboveFlows => "effectiveness_above_flows",
        Code::CoolantBoils => "coolant_boils",
        Code::SinkStarved => "sink_starved",
        Code::ChargeBelowDewPoint => "charge_below_dew_point",
        Code::OutsideCorrelation => "outside_correlation",
        Code::CoolerUnconfirmed => "cooler_unconfirmed",
        Code::RichMixture => "rich_mixture",
        Code::DieselSmoke => "diesel_smoke",
        Code::FuellingAssumption => "fuelling_assumption",
        Code::Steep => "steep",
        Code::SecondEquilibrium => "second_equilibrium",
        Code::SuperchargerRestricts => "supercharger_restricts",
        Code::TurbineChoked => "turbine_choked",
        Code::BeyondTable => "beyond_table",
        Code::LimitNotChecked => "limit_not_checked",
        Code::DragNotCounted => "drag_not_counted",
        Code::FlowLawUncertain => "flow_law_uncertain",
        Code::SmokeLimiterActive => "smoke_limiter_active",
        Code::EvaporationHeldBack => "evaporation_held_back",
        Code::PowerUnknown => "power_unknown",
        Code::ValveOverlapUnknown => "valve_overlap_unknown",
    }
}

/// The key that sets the limit of a code, or what the limit is of where no key does.
pub const fn limit_name(code: Code) -> &'static str {
    match code {
        Code::CompressorOutletTemperature => "limits.max_compressor_outlet_temperature",
        Code::SuperchargerOutletTemperature => "limits.max_supercharger_outlet_temperature",
        Code::SurgeMargin => "limits.min_surge_margin",
        Code::ClampMargin => "limits.min_clamp_margin",
        Code::InjectorDuty => "limits.max_injector_duty",
        other => matter(other),
    }
}

/// The word of a severity.
pub const fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Ok => "ok",
        Severity::Near => "near",
        Severity::OutsideData => "outside data",
        Severity::Over => "over",
    }
}

/// What was found, as a short phrase.
pub fn what(finding: &Finding) -> String {
    match (finding.code, finding.detail, finding.subject) {
        (Code::OutsideMap, Detail::Map { low_end: true, .. }, _) => {
            "low end of the map, little at stake".to_owned()
        }
        (Code::OutsideMap, Detail::Map { region, .. }, _) => {
            format!("outside the map, {}", side(region))
        }
        (Code::BeyondTable, _, Subject::Table(table)) => {
            format!("beyond the table of {}", table_name(table))
        }
        (Code::LimitNotChecked, Detail::Unchecked(limit), _) => {
            format!("limit not checked: {}", matter(limit))
        }
        (Code::PowerUnknown, Detail::Missing(missing), _) => {
            format!("{}, {}", matter(Code::PowerUnknown), lacking(missing))
        }
        (code, ..) => matter(code).to_owned(),
    }
}

/// The side of a map on which a point lies.
pub(super) const fn side(region: Region) -> &'static str {
    match region {
        Region::Inside => "inside",
        Region::BeyondSurge(_) => "surge side",
        Region::BeyondChoke(_) => "choke side",
        Region::OverSpeed(_) => "over-speed",
        Region::UnderSpeed(_) => "under-speed",
        Region::LowRatio(_) => "below its pressure ratios",
        Region::HighRatio(_) => "above its pressure ratios",
    }
}

/// What is limited, as a short phrase.
pub(super) const fn matter(code: Code) -> &'static str {
    match code {
        Code::RunsAway => "no match, the turbocharger runs away",
        Code::Stalls => "no match, the turbine does not turn the compressor",
        Code::NoMatch => "no match",
        Code::NotBalanced => "no match, the balances are not met",
        Code::NoBrakePower => "the engine gives no power",
        Code::ManifoldBelowSite => "manifold below the pressure outside",
        Code::ManifoldFarAboveSite => "manifold far above the pressure outside",
        Code::ExhaustBeyondMaterial => "exhaust hotter than turbine and valves survive",
        Code::ExhaustTooCold => "exhaust too cold for full load",
        Code::StagePressureRatio => "pressure ratio of one stage",
        Code::PressureLoss => "pressure loss",
        Code::FlowBeyondRating => "flow far above the rated flow",
        Code::DuctMach => "air speed in the pipe",
        Code::CylinderPressure => "peak cylinder pressure",
        Code::ClampMargin => "clamp of the head over the gas force",
        Code::ManifoldPressure => "manifold pressure",
        Code::TurboSpeed => "turbocharger speed",
        Code::SuperchargerSpeed => "supercharger speed",
        Code::TipSpeed => "rotor tip speed",
        Code::BeltPull => "belt's pull on the shaft",
        Code::BeltSpeed => "belt speed",
        Code::InjectorDuty => "injector duty",
        Code::Knock => "knocking, compression ratio as if unblown",
        Code::ExhaustTemperature => "exhaust temperature",
        Code::CompressorOutletTemperature => "air temperature behind the turbo compressor",
        Code::SuperchargerOutletTemperature => "air temperature behind the supercharger",
        Code::ChargeTemperature => "charge temperature",
        Code::DrivePressureRatio => "drive pressure over manifold pressure",
        Code::SurgeMargin => "surge margin",
        Code::OutsideMap => "outside the map",
        Code::SuperchargerAboveBoostLimit => {
            "boost limit not held, the supercharger alone delivers more"
        }
        Code::WastegateTooSmall => "boost limit not held, the wastegate is too small",
        Code::WastegateWideOpen => "boost limit not held, the wastegate is wide open",
        Code::LimitInSuperchargerBand => "boost limit where the wastegate hardly moves the boost",
        Code::OutletBeyondSink => "charge cooled beyond what cools it",
        Code::EffectivenessAboveFlows => "effectiveness above what the cooler's flows allow",
        Code::CoolantBoils => "boiling in the charge cooler",
        Code::SinkStarved => "charge cooler short of cooling flow",
        Code::ChargeBelowDewPoint => "charge below its dew point in the cooler",
        Code::OutsideCorrelation => "charge cooler outside the data of its correlation",
        Code::CoolerUnconfirmed => "charge cooler unconfirmed",
        Code::RichMixture => "rich mixture",
        Code::DieselSmoke => "air–fuel ratio of a diesel",
        Code::FuellingAssumption => "what the fuel holds, its ratio or its mass",
        Code::Steep => "steepness",
        Code::SecondEquilibrium => "a second stable balance",
        Code::SuperchargerRestricts => "supercharger in the way",
        Code::TurbineChoked => "turbine choked",
        Code::BeyondTable => "beyond a table",
        Code::LimitNotChecked => "limit not checked",
        Code::DragNotCounted => "drag of the idle rotors not counted",
        Code::FlowLawUncertain => "flow law of the turbine uncertain",
        Code::SmokeLimiterActive => "smoke limiter at work",
        Code::EvaporationHeldBack => "less fuel evaporates than was meant, the charge is saturated",
        Code::PowerUnknown => "brake power is not reckoned",
        Code::ValveOverlapUnknown => "valve overlap unknown",
    }
}

/// What a finding's value is, where the phrase does not say it.
pub(super) const fn value_name(code: Code) -> Option<&'static str> {
    match code {
        Code::RichMixture => Some("lambda"),
        Code::NoBrakePower => Some("brake power"),
        Code::ExhaustBeyondMaterial | Code::ExhaustTooCold => Some("exhaust"),
        Code::DuctMach => Some("Mach number"),
        Code::TurbineChoked | Code::FlowLawUncertain => Some("expansion ratio"),
        Code::SuperchargerRestricts => Some("pressure ratio"),
        Code::OutletBeyondSink | Code::EffectivenessAboveFlows => Some("effectiveness"),
        Code::CoolantBoils => Some("water"),
        Code::SinkStarved => Some("capacity flow over the charge's"),
        Code::ChargeBelowDewPoint => Some("charge"),
        Code::SmokeLimiterActive => Some("cuts"),
        Code::ValveOverlapUnknown => Some("volumetric efficiency"),
        Code::FuellingAssumption
        | Code::ManifoldBelowSite
        | Code::ManifoldFarAboveSite
        | Code::SuperchargerAboveBoostLimit
        | Code::WastegateTooSmall
        | Code::WastegateWideOpen
        | Code::LimitInSuperchargerBand => Some("manifold"),
        Code::SecondEquilibrium => Some("manifold at"),
        _ => None,
    }
}

/// What is missing for brake power.
const fn lacking(missing: Missing) -> &'static str {
    match missing {
        Missing::Fuel => "[fuel] is missing",
        Missing::Combustion => "[engine.combustion] is missing",
        Missing::Exhaust => "[exhaust] or [turbine] is missing",
        Missing::DrivenTurbine => "the compressors' ratios are given and the turbine is not solved",
        Missing::Drive => "what drives a supercharger of given pressure_ratio is unknown",
        Missing::Stroke => "engine.stroke is missing",
    }
}

const fn table_name(table: Table) -> &'static str {
    match table {
        Table::VolumetricEfficiency => "volumetric_efficiency",
        Table::GrossIndicatedEfficiency => "gross_indicated_efficiency",
        Table::HeatLossShare => "heat_loss_share",
        Table::PressureRiseRatio => "pressure_rise_ratio",
        Table::AirFuelRatio => "air_fuel_ratio",
        Table::Lambda => "lambda",
        Table::FuelPerStroke => "per_stroke",
        Table::SmallestAirFuelRatio => "smallest_air_fuel_ratio",
        Table::FuelFlow => "flow",
        Table::PressureRatio(_) => "pressure_ratio",
        Table::Efficiency(_) => "efficiency",
        Table::Effectiveness(_) => "effectiveness",
        Table::SinkFlow(_) => "sink_flow",
        Table::VehicleSpeed(_) => "vehicle_speed",
        Table::BoostLimit(_) => "boost_limit",
    }
}

/// "duct", "duct 2".
fn passage_name(passage: Passage, index: usize) -> String {
    let name = match passage {
        Passage::Filter => "filter",
        Passage::Duct => "duct",
        Passage::Throttle => "throttle",
        Passage::ExhaustPipe => "exhaust pipe",
    };
    match index {
        0 => name.to_owned(),
        _ => format!("{name} {}", index + 1),
    }
}

/// Where it was found: a station, stage, cooler or turbine by its name in every output.
pub fn place(finding: &Finding, layout: &Layout) -> String {
    let stage = |index: usize| layout.stages.get(index).map(|(name, _)| name.as_str());
    let cooler = |index: usize| layout.coolers.get(index).map(|(name, _)| name.as_str());
    let turbine = |index: usize| layout.turbines.get(index).map(String::as_str);
    let station = |index: usize| layout.stations.get(index).map(|s| s.name.as_str());
    let name = match finding.subject {
        Subject::Whole => Some("installation"),
        Subject::Engine => Some("engine"),
        Subject::Station(index) => station(index),
        Subject::Stage(index) => stage(index),
        Subject::Cooler(index) => cooler(index),
        Subject::Passage(passage, index) => return passage_name(passage, index),
        Subject::Turbine(index) => turbine(index).or(Some("turbine")),
        Subject::Table(table) => match table {
            Table::AirFuelRatio
            | Table::Lambda
            | Table::FuelPerStroke
            | Table::SmallestAirFuelRatio
            | Table::FuelFlow => Some("fuel"),
            Table::PressureRatio(index) | Table::Efficiency(index) => stage(index),
            Table::Effectiveness(index) | Table::SinkFlow(index) | Table::VehicleSpeed(index) => {
                cooler(index)
            }
            Table::BoostLimit(index) => turbine(index).or(Some("turbine")),
            _ => Some("engine"),
        },
    };
    name.unwrap_or("installation").to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use std::collections::BTreeSet;

    #[test]
    fn every_code_has_its_own_word_in_snake_case() {
        let words: BTreeSet<_> = Code::ALL.into_iter().map(code).collect();
        assert_eq!(words.len(), Code::ALL.len());
        for word in words {
            assert!(
                word.bytes().all(|b| b.is_ascii_lowercase() || b == b'_'),
                "{word}"
            );
        }
    }

    #[test]
    fn every_matter_has_its_own_phrase() {
        let phrases: BTreeSet<_> = Code::ALL.into_iter().map(matter).collect();
        assert_eq!(phrases.len(), Code::ALL.len());
    }

    #[test]
    fn places_carry_the_names_of_the_layout() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(1000.0);
        case.found.rpm = 3300.0;
        let at = |code| place(&case.all(code)[0], &case.layout);
        assert_eq!(at(Code::ExhaustTemperature), "turbine inlet");
        assert_eq!(at(Code::SuperchargerSpeed), "supercharger");
        assert_eq!(at(Code::BeyondTable), "engine");
    }

    #[test]
    fn a_place_beyond_the_layout_is_the_installation() {
        let case = Case::truck();
        let finding = Finding::remark(Code::Steep, Severity::Ok, Subject::Stage(9), 1.0);
        assert_eq!(place(&finding, &case.layout), "installation");
    }
}
