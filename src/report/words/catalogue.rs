//! The catalogue of findings, the words: one row a code. Its numbers are the row of the same code in
//! `finding/catalogue.rs`; a code that lacks either does not compile, nor does a row without an advice.
//!
//! A row begins with the code, its fixed word in JSON and its label (what is limited, or what is wrong).
//! It has one `sentence` that explains it and the `advice`. What only some rows have follows: `short` (a shorter
//! label for a drawing), `value` (what the number is, where the label does not say so, the figure at `{}`), `key` (that
//! sets the limit), `source` (of the rule of thumb), `severity` (where more than a margin decides),
//! `to_check` (what a build has to give so that a limit can be checked).

use super::advice::AdviceWriter;
use super::advice::{cooling, costs, gate, limits, plausible, trust};
use crate::finding::Code;

/// The words of one code.
#[derive(Debug, Clone, Copy)]
pub struct FindingWords {
    /// The fixed word.
    pub code: &'static str,
    /// What is limited, or what is wrong, as a short phrase.
    pub label: &'static str,
    /// What it is, in one sentence.
    pub sentence: &'static str,
    /// What to do.
    pub advice: Advice,
    /// What only some codes have.
    pub more: More,
}

/// Words that only some codes have; empty where there are none.
#[derive(Debug, Clone, Copy)]
pub struct More {
    /// A shorter label.
    pub short: &'static str,
    /// What the value is, where the label does not say so; the figure stands at `{}`.
    pub value: &'static str,
    /// The key that sets the limit.
    pub key: &'static str,
    /// Where the rule of thumb comes from.
    pub source: &'static str,
    /// How bad it is, where more than a margin decides.
    pub severity: &'static str,
    /// What a build has to give so that the limit can be checked.
    pub to_check: &'static str,
}

/// What to do, in one sentence.
#[derive(Debug, Clone, Copy)]
pub struct Advice {
    /// Without the numbers of a finding, and without its full stop.
    pub general: &'static str,
    /// How the numbers of a finding come in.
    pub(super) numbers: Numbers,
}

/// How the numbers of a finding come into its advice.
#[derive(Debug, Clone, Copy)]
pub(super) enum Numbers {
    /// Not at all.
    None,
    /// By the setting that was solved for; this goes on after it where it meets the limit.
    Setting(&'static str),
    /// By a function, which is given the general advice.
    By(fn(&AdviceWriter<'_>, &'static str) -> String),
}

const fn fixed(general: &'static str) -> Advice {
    let numbers = Numbers::None;
    Advice { general, numbers }
}

const fn setting(general: &'static str, and_then: &'static str) -> Advice {
    let numbers = Numbers::Setting(and_then);
    Advice { general, numbers }
}

const fn by(general: &'static str, write: fn(&AdviceWriter<'_>, &'static str) -> String) -> Advice {
    let numbers = Numbers::By(write);
    Advice { general, numbers }
}

const NO_MORE: More = More {
    short: "",
    value: "",
    key: "",
    source: "",
    severity: "",
    to_check: "",
};

/// Makes one arm a code of the rows.
macro_rules! catalogue {
    ($($name:ident $code:literal $label:literal {
        sentence: $sentence:literal,
        advice: $advice:expr,
        $($field:ident: $value:literal,)*
    })+) => {
        /// The row of a code.
        pub const fn words(code: Code) -> FindingWords {
            match code {
                $(Code::$name => FindingWords {
                    code: $code,
                    label: $label,
                    sentence: $sentence,
                    advice: $advice,
                    more: More { $($field: $value,)* ..NO_MORE },
                },)+
            }
        }
    };
}

catalogue! {
    RunsAway "runs_away" "no match, the turbocharger runs away" {
        sentence: "The turbine gives more power than the compressor absorbs at every pressure ratio.",
        advice: fixed("Fit a larger turbine or a wastegate, or give less fuel"),
        short: "turbocharger runs away",
    }
    Stalls "stalls" "no match, the turbine does not turn the compressor" {
        sentence: "The turbine gives less power than the compressor absorbs, even at rest.",
        advice: fixed("Fit a smaller turbine"),
        short: "turbine does not turn the compressor",
    }
    NoMatch "no_match" "no match" {
        sentence: "No flow satisfies both the air path and the engine at this speed.",
        advice: fixed("Check pressure drops, displacement, volumetric efficiency, and the size of turbine and \
                       wastegate"),
    }
    NotBalanced "not_balanced" "no match, the balances are not met" {
        sentence: "Flow, power or pressure do not balance, so the engine cannot run in this state.",
        advice: fixed("Use none of the figures at this speed, and check for unusual areas, pressure drops and \
                       ratios"),
        short: "balances not met",
        value: "largest residual {}",
    }
    NoBrakePower "no_brake_power" "the engine gives no power" {
        sentence: "Friction, pumping and the supercharger drive absorb all the power that the fuel gives.",
        advice: fixed("Friction, pumping and the supercharger drive absorb everything: check the fuel, \
                       gross_indicated_efficiency, the drive ratio and the turbine size"),
        value: "brake power {}",
    }
    ManifoldBelowSite "manifold_below_site" "manifold pressure below ambient" {
        sentence: "At full load the manifold is below ambient pressure, as if throttled.",
        advice: by("Check the pressure drops, or fit a bypass around the stage that restricts: the engine \
                    would breathe better without these parts at this speed",
                   plausible::manifold_below_site),
        value: "manifold {}",
        severity: "near below ambient pressure, over far below it, as with a closed throttle",
    }
    ManifoldFarAboveSite "manifold_far_above_site" "manifold pressure far above ambient" {
        sentence: "The manifold pressure is further above ambient than in any piston engine.",
        advice: setting("Run less boost, and check displacement, drive ratio and turbine area", ""),
        value: "manifold {}",
        source: "common practice: three-stage pulling tractors run 6 to 7",
    }
    ExhaustBeyondMaterial "exhaust_beyond_material" "exhaust hotter than turbine and valves survive" {
        sentence: "Turbine wheels of nickel alloy, valves and manifolds do not last at this exhaust \
                   temperature, whatever the build allows.",
        advice: by("Give less fuel or more air, and check gross_indicated_efficiency and heat_loss_share",
                   plausible::exhaust_beyond_material),
        short: "exhaust beyond its materials",
        value: "exhaust {}",
        source: "common practice for wheels of nickel alloy",
    }
    ExhaustTooCold "exhaust_too_cold" "exhaust too cold for full load" {
        sentence: "No engine at full load has so cold an exhaust, so figures of the build contradict each \
                   other.",
        advice: fixed("Check the fuel, heat_loss_share and gross_indicated_efficiency: they leave too \
                       little heat and contradict each other"),
        value: "exhaust {}",
        source: "common practice",
    }
    StagePressureRatio "stage_pressure_ratio" "pressure ratio of one stage" {
        sentence: "One machine of this kind does not reach such a pressure ratio, or only churns and heats \
                   the air.",
        advice: setting("Share the work between two stages, or run less boost",
                        ", or share the work between two stages"),
        source: "common practice: 2 to 2.5 for Roots, 3 to 4 for screws, about 5 for one wheel",
    }
    PressureLoss "pressure_loss" "pressure loss" {
        sentence: "The share of the pressure at its inlet that one part loses.",
        advice: by("Fit a wider part: this loss costs boost and power", plausible::pressure_loss),
        source: "common practice: 2 to 8 % a part",
    }
    FlowBeyondRating "flow_beyond_rating" "flow far above the rated flow" {
        sentence: "Flow through a part over the flow that its pressure drop was rated at.",
        advice: fixed("Check at_flow, or use a drop rated near the flow the part sees: the figure is \
                       extrapolated far past its rating"),
        value: "{} times the rated flow",
        source: "common practice",
    }
    DuctMach "duct_mach" "air speed in the pipe" {
        sentence: "Mach number of the air in a pipe: the faster, the more each bend costs.",
        advice: by("Use a larger diameter: at this speed bends cost much", plausible::duct_mach),
        value: "Mach number {}",
        source: "common practice, and any textbook of gas dynamics",
    }
    CylinderPressure "cylinder_pressure" "peak cylinder pressure" {
        sentence: "Estimated peak pressure in the cylinder, which loads pistons, bearings and the head.",
        advice: by("Run less boost, or lower the compression ratio", limits::cylinder_pressure),
        key: "limits.max_cylinder_pressure",
        severity: "over past the limit, near close to it or where the upper estimate is past it",
        to_check: "Give compression_ratio and pressure_rise_ratio, so that it can be checked",
    }
    ClampMargin "clamp_margin" "head clamp margin" {
        sentence: "Stud clamp force above the gas force on the head, as a share of the gas force, with the \
                   weakest clamp and the highest peak pressure.",
        advice: by("Fit stronger or more studs, or run less boost", costs::clamp),
        key: "limits.min_clamp_margin",
        source: "common practice: a clamp of 1.5 times the gas force and more",
        severity: "over below a limit that is set, near close to it; without one near below the rule of thumb, \
                   over where the head lifts",
        to_check: "Give studs_per_cylinder, stud_preload or stud_torque, bore or sealed_bore, and \
                   pressure_rise_ratio, so that it can be checked",
    }
    ManifoldPressure "manifold_pressure" "manifold pressure" {
        sentence: "Absolute pressure of the charge in the manifold.",
        advice: by("Lower the boost: drive ratio, boost_limit, bypass_pressure or the given pressure ratio",
                   limits::manifold_pressure),
        key: "limits.max_manifold_pressure",
    }
    TurboSpeed "turbo_speed" "turbocharger speed" {
        sentence: "Speed of the turbocharger shaft: above the limit the wheel can burst.",
        advice: setting("Run less boost from it, or fit a larger compressor", ", or fit a larger compressor"),
        to_check: "Give the compressor a map, so that it can be checked",
    }
    SuperchargerSpeed "supercharger_speed" "supercharger speed" {
        sentence: "Speed of the supercharger's driven shaft.",
        advice: setting("Reduce its speed with a larger supercharger pulley",
                        " with a larger pulley"),
        to_check: "Give kind and drive_ratio of the supercharger, so that it can be checked",
    }
    TipSpeed "tip_speed" "rotor tip speed" {
        sentence: "Speed of the supercharger's rotor tips.",
        advice: setting("Slow the rotors with a larger supercharger pulley",
                        " with a larger pulley"),
        key: "limits.max_rotor_tip_speed",
        to_check: "Give kind, drive_ratio and rotor_diameter of the supercharger, so that it can be checked",
    }
    PistonSpeed "piston_speed" "mean piston speed" {
        sentence: "Twice the stroke times engine speed: what rods, pistons and rings have to bear.",
        advice: fixed("Lower the top engine speed"),
        key: "limits.max_piston_speed",
        to_check: "Give stroke of [engine], so that it can be checked",
    }
    BeltPull "belt_pull" "belt load on the shaft" {
        sentence: "Force with which the belt loads the supercharger's shaft and bearing.",
        advice: setting("Fit larger pulleys on both shafts, or an outboard bearing at the supercharger pulley",
                        ", fit larger pulleys on both shafts, or an outboard bearing at the supercharger pulley"),
        key: "limits.max_belt_pull",
        to_check: "Give kind, drive_ratio and pulley_diameter of the supercharger, so that it can be checked",
    }
    BeltSpeed "belt_speed" "belt speed" {
        sentence: "Speed of the belt: above the limit pulleys need balancing, and cast iron ones burst.",
        advice: by("Fit smaller pulleys on both shafts, or balanced steel ones", costs::belt_speed),
        source: "common practice for steel pulleys; two thirds of it for cast iron",
    }
    InjectorDuty "injector_duty" "injector duty" {
        sentence: "Share of the time that the injectors are open: past the limit they hardly close between \
                   injections, and the engine runs lean.",
        advice: by("Fit larger injectors, or raise the fuel pressure", costs::injectors),
        key: "limits.max_injector_duty",
        source: "common practice: 80 to 90 %",
        to_check: "Give injectors and injector_flow of [fuel], so that it can be checked",
    }
    Knock "knock" "knock, equivalent naturally aspirated compression ratio" {
        sentence: "Compression ratio at which a naturally aspirated engine would be as close to knocking.",
        advice: by("Run less boost, a colder charge or a lower compression ratio, or use a more \
                    knock-resistant fuel", costs::knock),
        short: "knock, equivalent compression ratio",
        source: "common practice, in whole numbers",
        severity: "near past the lower figure of the fuel, over past the upper",
    }
    ExhaustTemperature "exhaust_temperature" "exhaust temperature" {
        sentence: "Temperature of the exhaust at the turbine inlet; a probe in pulsating gas reads lower.",
        advice: by("Give less fuel or more air", limits::exhaust),
        key: "limits.max_exhaust_temperature",
        to_check: "Give fuel, [engine.combustion] and [turbine] or [exhaust], so that it can be checked",
    }
    CompressorOutletTemperature "compressor_outlet_temperature" "turbo compressor outlet temperature" {
        sentence: "Air temperature at the turbo compressor outlet: above the limit a cast aluminium wheel \
                   loses life, and hoses come off.",
        advice: setting("Run less boost or more of it from the other stage, or fit a cooler between the \
                         stages",
                        ", take more of the boost from the other stage, or fit a cooler between the stages"),
        key: "limits.max_compressor_outlet_temperature",
        source: "common practice for a cast aluminium wheel",
    }
    SuperchargerOutletTemperature "supercharger_outlet_temperature" "supercharger outlet temperature" {
        sentence: "Air temperature at the supercharger outlet: above the limit the rotors grow into each \
                   other and the case.",
        advice: setting("Slow it down and let the turbocharger do more of the work",
                        ", and let the turbocharger do more of the work"),
        key: "limits.max_supercharger_outlet_temperature",
        source: "common practice for a Roots blower without its own cooling",
    }
    ChargeTemperature "charge_temperature" "charge temperature" {
        sentence: "Temperature of the charge in the manifold.",
        advice: by("Fit a larger charge cooler or give it more cooling flow, or lower the boost",
                   limits::charge),
        key: "limits.max_charge_temperature",
    }
    DrivePressureRatio "drive_pressure_ratio" "drive pressure over manifold pressure" {
        sentence: "Pressure at the turbine inlet over manifold pressure, both absolute: the higher, the more \
                   exhaust stays in the cylinders.",
        advice: setting("Fit a larger turbine, or open the wastegate earlier",
                        ", or open the wastegate earlier"),
        key: "limits.max_drive_pressure_ratio",
        to_check: "Let the turbine drive its compressor (no given pressure_ratio), so that it can be checked",
    }
    SurgeMargin "surge_margin" "surge margin" {
        sentence: "Flow left to the map's surge line at the same pressure ratio, as a share of the flow.",
        advice: by("Move away from surge: a smaller compressor, less boost at this speed, or more flow through \
                    the engine", limits::surge),
        key: "limits.min_surge_margin",
        source: "common practice: pulsation and scatter of the map take about as much",
        to_check: "Give the compressor a map, so that it can be checked",
    }
    OutsideMap "outside_map" "outside the map" {
        sentence: "The machine runs where its map was not measured.",
        advice: by("Treat these figures as a guess: the map was not measured here", limits::outside_map),
        value: "by {}",
        severity: "outside data; near below the map's slowest line at low load",
    }
    SuperchargerAboveBoostLimit "supercharger_above_boost_limit" "boost limit not held, the supercharger alone delivers more" {
        sentence: "The wastegate is wide open, and the supercharger alone makes more than the boost limit.",
        advice: setting("Lower the drive ratio with a larger supercharger pulley, or hold the limit with a \
                         regulated bypass: opening the wastegate only moves load back to the belt",
                        " with a larger pulley, or hold the limit with a regulated bypass: opening \
                         the wastegate only moves load back to the belt"),
        short: "supercharger alone above the boost limit",
        value: "manifold {}",
        key: "boost_limit",
        severity: "over above the boost limit, else near",
    }
    WastegateTooSmall "wastegate_too_small" "boost limit not held, the wastegate is too small" {
        sentence: "The wastegate is wide open and passes too little exhaust to hold its boost limit.",
        advice: by("Fit a larger wastegate valve, or a larger turbine", gate::too_small),
        short: "wastegate too small for its boost limit",
        value: "manifold {}",
        key: "boost_limit",
        severity: "over above the boost limit, else near",
    }
    WastegateWideOpen "wastegate_wide_open" "boost limit not held, the wastegate is wide open" {
        sentence: "The wastegate is wide open; supercharger and turbocharger together make more than the \
                   boost limit.",
        advice: setting("Slow the supercharger down, or fit a larger wastegate valve or a regulated bypass",
                        "; a regulated bypass would hold the limit as well"),
        short: "wastegate wide open above its boost limit",
        value: "manifold {}",
        key: "boost_limit",
        severity: "over above the boost limit, else near",
    }
    LimitInSuperchargerBand "limit_in_supercharger_band" "boost limit outside the wastegate's control range" {
        sentence: "The boost limit lies where the wastegate shifts work between the stages and hardly changes \
                   the boost.",
        advice: by("Slow the supercharger down, or fit a regulated bypass", gate::band),
        value: "manifold {}",
        key: "boost_limit",
    }
    OutletBeyondSink "outlet_beyond_sink" "charge leaves colder than the coolant enters" {
        sentence: "A charge cooler cannot cool the charge below the temperature of what cools it.",
        advice: fixed("Impossible: check effectiveness and sink_temperature"),
        value: "effectiveness {}",
    }
    EffectivenessAboveFlows "effectiveness_above_flows" "effectiveness above what the cooler's flows allow" {
        sentence: "The given effectiveness needs more heat carried away than the coolant flow can take.",
        advice: by("Give a lower effectiveness or more sink_flow", cooling::effectiveness_above_flows),
        value: "effectiveness {}",
    }
    CoolantBoils "coolant_boils" "boiling in the charge cooler" {
        sentence: "Temperature of the water leaving the charge cooler against its boiling point.",
        advice: fixed("Give the water more flow, a larger radiator or a higher circuit_pressure; the walls on \
                       the hot charge side are hotter than this"),
        value: "water {}",
    }
    RichMixture "rich_mixture" "rich mixture" {
        sentence: "More fuel is injected than the air can burn.",
        advice: by("Give less fuel or more air", trust::rich),
        value: "lambda {}",
        severity: "near; over for a diesel",
    }
    DieselSmoke "diesel_smoke" "air–fuel ratio of a diesel" {
        sentence: "Mass of dry air per mass of fuel, below which a diesel smokes.",
        advice: setting("Give less fuel or more air to run clean", " to run clean"),
        source: "common practice: 18 to 20",
    }
    FuellingAssumption "fuelling_assumption" "fuelling assumption: fixed AFR or fixed fuel quantity" {
        sentence: "With a fixed air–fuel ratio more boost brings more fuel and so more boost; with a fixed \
                   fuel quantity it does not.",
        advice: by("Give the air–fuel ratio where fuel follows the air, per_stroke where a pump sets it",
                   trust::fuelling),
        short: "fuelling assumption",
        value: "manifold {}",
        severity: "ok; near where the other assumption gives a clearly different manifold pressure",
    }
    Steep "steep" "steepness" {
        sentence: "Change of manifold pressure, in per cent, for 1 % more fuel.",
        advice: fixed("Read this as a range, not a single figure: small input errors are amplified here; a \
                       boost_limit that holds at this speed would steady it"),
        value: "{} % of manifold pressure per 1 % of fuel",
        source: "common practice",
    }
    SecondEquilibrium "second_equilibrium" "a second stable state" {
        sentence: "At this speed the engine can run at two different boost pressures, depending on how it got \
                   there.",
        advice: by("Fit a wastegate with a boost_limit between the two pressures", trust::second_state),
        value: "manifold at {}",
    }
    SuperchargerRestricts "supercharger_restricts" "supercharger acts as a restriction" {
        sentence: "The pressure after the supercharger is lower than before it.",
        advice: fixed("Fit a bypass that opens here, or a wider one"),
        value: "pressure ratio {}",
    }
    TurbineChoked "turbine_choked" "turbine choked" {
        sentence: "The turbine passes no more flow at a higher expansion ratio: drive pressure now rises with \
                   the exhaust flow.",
        advice: by("Fit a larger turbine or open the wastegate earlier to lower the drive pressure",
                   gate::choked),
        value: "expansion ratio {}",
        severity: "ok; near where the drive pressure is above the manifold pressure",
    }
    SinkStarved "sink_starved" "charge cooler short of cooling flow" {
        sentence: "Heat capacity rate of the coolant over that of the charge: below 1 the coolant warms more \
                   than the charge cools down.",
        advice: by("Give it more sink_flow: more flow helps more than more core", cooling::sink_starved),
        value: "heat capacity rate, coolant/charge, {}",
        source: "common practice: 2 or more",
        severity: "near below the rule of thumb; over where the coolant does not flow",
    }
    ChargeBelowDewPoint "charge_below_dew_point" "charge below its dew point in the cooler" {
        sentence: "Water condenses out of the charge in the cooler.",
        advice: by("Fit a drain: water can gather in the cooler", cooling::condensate),
        value: "charge {}",
    }
    OutsideCorrelation "outside_correlation" "charge cooler outside the data of its correlation" {
        sentence: "Fins or flow lie outside the measurements that the heat transfer formula was fitted to.",
        advice: by("Treat cooler performance as extrapolated", cooling::outside_correlation),
        short: "cooler outside the data of its correlation",
    }
    BeyondTable "beyond_table" "beyond a table" {
        sentence: "The engine runs beyond the first or last row of a table, whose end value is used.",
        advice: by("Add a row: the end value is used", trust::beyond_table),
    }
    LimitNotChecked "limit_not_checked" "limit not checked" {
        sentence: "A limit is set, and the build does not give what it is compared with.",
        advice: by("Give what the limit is compared with", trust::unchecked),
    }
    DragNotCounted "drag_not_counted" "freewheeling supercharger drag not included" {
        sentence: "With its bypass open the supercharger still takes power from the crank, and the build does \
                   not say how much.",
        advice: fixed("Give no_load_power and at_speed of the supercharger: brake power is overstated by that \
                       much"),
        short: "freewheeling drag not included",
        value: "rotors at {}",
    }
    FlowLawUncertain "flow_law_uncertain" "turbine flow law uncertain" {
        sentence: "At a low expansion ratio the two flow laws give different drive pressures.",
        advice: by("Try the other flow_law as well: the difference is the uncertainty here", trust::flow_law),
        value: "expansion ratio {}",
        severity: "ok; near where the other law gives a clearly different drive pressure",
    }
    SmokeLimiterActive "smoke_limiter_active" "smoke limiter active" {
        sentence: "The smoke limiter cuts this share of the fuel asked for.",
        advice: by("More air at this speed would make more power", plausible::smoke_limiter),
        value: "cuts {}",
        source: "common practice: a well-set limiter only trims",
    }
    EvaporationHeldBack "evaporation_held_back" "less fuel evaporates than intended, the charge is saturated" {
        sentence: "The charge holds as much fuel vapour as it can, and the rest stays liquid.",
        advice: by("Expect the rest of the fuel to stay in droplets", costs::held_back),
        short: "charge saturated with fuel vapour",
    }
    PowerUnknown "power_unknown" "brake power not calculated" {
        sentence: "The build lacks something that brake power is calculated from.",
        advice: by("Give what is missing for it", costs::power_unknown),
    }
    ValveOverlapUnknown "valve_overlap_unknown" "valve overlap unknown" {
        sentence: "The volumetric efficiency is corrected for back pressure as if the valves never overlapped.",
        advice: by("Expect a larger change: the correction ignores valve overlap", trust::valve_overlap),
        value: "volumetric efficiency {}",
    }
    CoolerUnconfirmed "cooler_unconfirmed" "cooler model not validated" {
        sentence: "Offset or louvred fins follow correlations that were not checked against outside data.",
        advice: fixed("Compare with one measured point (rated) before you buy: the correlations of offset and \
                       louvred fins were not validated"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{Grading, Origin, Usual};
    use std::collections::BTreeSet;

    #[test]
    fn the_word_of_a_code_is_its_name_in_snake_case() {
        for &code in Code::ALL {
            let mut snake = String::new();
            for letter in format!("{code:?}").chars() {
                if letter.is_uppercase() && !snake.is_empty() {
                    snake.push('_');
                }
                snake.extend(letter.to_lowercase());
            }
            assert_eq!(words(code).code, snake);
        }
    }

    #[test]
    fn every_code_has_a_label_a_sentence_and_an_advice_of_its_own() {
        let texts = |of: fn(FindingWords) -> &'static str| -> BTreeSet<_> {
            Code::ALL.iter().map(|code| of(words(*code))).collect()
        };
        assert_eq!(texts(|row| row.label).len(), Code::ALL.len());
        assert_eq!(texts(|row| row.sentence).len(), Code::ALL.len());
        for &code in Code::ALL {
            let row = words(code);
            assert!(row.sentence.ends_with('.'), "{code:?}");
            assert!(!row.advice.general.ends_with('.'), "{code:?}");
            assert!(row.advice.general.len() > 10, "{code:?}");
        }
    }

    #[test]
    fn a_key_of_limits_gives_the_rule_of_thumb_of_its_finding() {
        let sections = crate::input::sections(crate::quantity::UnitSystem::Si);
        let keys: Vec<_> = sections.iter().flat_map(|section| &section.keys).collect();
        for &code in Code::ALL {
            let path = words(code).more.key;
            if !path.starts_with("limits.") {
                continue;
            }
            let key = keys.iter().find(|key| key.path == path).unwrap();
            let said = key.without.as_deref().unwrap();
            let Usual::Figure(rule) = code.row().usual else {
                assert_eq!(said, "not checked", "{code:?}");
                continue;
            };
            let figure = said.strip_prefix("rule of thumb, ").unwrap();
            let celsius = figure.strip_suffix(" °C");
            let number: f64 = celsius.unwrap_or(figure).parse().unwrap();
            let si = number + celsius.map_or(0.0, |_| 273.15);
            approx::assert_relative_eq!(si, rule.limit, max_relative = 1e-12);
        }
    }

    #[test]
    fn the_words_of_a_limit_are_those_that_its_numbers_ask_for() {
        for &code in Code::ALL {
            let (row, more) = (code.row(), words(code).more);
            let is_key = matches!(row.origin, Origin::Limits(_));
            assert_eq!(more.key.starts_with("limits."), is_key, "{code:?}");
            let has_rule = row.usual != Usual::None;
            assert_eq!(!more.source.is_empty(), has_rule, "{code:?}");
            if let Grading::OrWorse(..) = row.grading {
                assert!(!more.severity.is_empty(), "{code:?}");
            }
        }
    }
}
