//! The catalogue of findings, the numbers: one row a code. Its words are the row of the same code in
//! `report/words/catalogue.rs`; a code that lacks either does not compile. The order of the rows is the
//! order in which findings of one severity and margin stand.
//!
//! A row says what value and limit measure, which side of the limit is good, where the limit comes
//! from, the rule of thumb where the build says nothing, and how bad it is. The reason of every rule
//! of thumb stands above its row.

use super::rule::Bound::{AtLeast, AtMost};
use super::rule::Grading::{Always, Margin, OrWorse};
use super::rule::Measure::{
    AbsolutePressure, Force, Power, Ratio, Share, Speed, SurfaceSpeed, Temperature,
};
use super::rule::Origin::{BoostLimit, MaxSpeed, Nature, RuleOfThumb};
use super::rule::Severity::{Near, Ok, OutsideData, Over};
use super::rule::Usual::{ByFuel, ByMachine, Figure, TimesSite};
use super::rule::{Basis, Bound, Grading, Measure, Origin, Rule, Usual};
use crate::matching::Limits;

/// What the catalogue knows of one code.
#[derive(Debug, Clone, Copy)]
pub struct CatalogueRow {
    /// What value and limit measure.
    pub measure: Measure,
    /// Which side of the limit is good.
    pub bound: Bound,
    /// Where the limit comes from.
    pub origin: Origin,
    /// The limit where the build sets none.
    pub usual: Usual,
    /// How bad it is.
    pub grading: Grading,
}

/// Makes the codes and their rows from the table: measure, bound, origin, rule of thumb, severity.
macro_rules! catalogue {
    ($($(#[$doc:meta])* $code:ident: $measure:expr, $bound:expr, $origin:expr, $usual:expr, $grading:expr;)+) => {
        /// What was found.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $($(#[$doc])* $code,)+
        }

        impl Code {
            /// Every code, in order.
            pub const ALL: &'static [Self] = &[$(Self::$code),+];

            /// Its row of the catalogue.
            pub const fn row(self) -> CatalogueRow {
                match self {
                    $(Self::$code => CatalogueRow {
                        measure: $measure,
                        bound: $bound,
                        origin: $origin,
                        usual: $usual,
                        grading: $grading,
                    },)+
                }
            }
        }
    };
}

/// A key of `[limits]`.
macro_rules! set {
    ($key:ident) => {
        Origin::Limits(|limits| limits.$key)
    };
}

/// No rule of thumb stands in.
const NONE: Usual = Usual::None;

catalogue! {
    /// The turbine gives more than the compressor takes at every ratio: no match.
    RunsAway: Ratio, AtMost, Nature, NONE, Always(Over);
    /// The turbine does not turn the compressor: no match.
    Stalls: Ratio, AtMost, Nature, NONE, Always(Over);
    /// No match for another reason.
    NoMatch: Ratio, AtMost, Nature, NONE, Always(Over);
    /// The balances of a match are not met: no match either.
    NotBalanced: Ratio, AtMost, Nature, NONE, Always(Over);
    /// The engine gives no power.
    NoBrakePower: Power, AtLeast, Nature, NONE, Always(Over);
    /// The manifold lies below the air outside at full load; far below, the engine is throttled and
    /// not fed.
    ManifoldBelowSite: AbsolutePressure, AtLeast, Nature, NONE, OrWorse(Near, Over);
    /// The manifold lies above the air outside by more than any engine stands (common practice:
    /// tractors with three stages pull at about 6 to 7 times the pressure outside).
    ManifoldFarAboveSite: AbsolutePressure, AtMost, RuleOfThumb, TimesSite(Rule::fails(8.0)), Margin;
    /// The exhaust is hotter than any turbine or valve stands: past 1,100 °C wheels of nickel alloy,
    /// valves and manifolds do not last whatever the build permits (common practice: 950 to 1,050 °C).
    ExhaustBeyondMaterial: Temperature, AtMost, RuleOfThumb, Figure(Rule::fails(1373.15)), Margin;
    /// The exhaust is colder than that of any engine at full load: below 400 °C something of fuel,
    /// efficiency or heat loss is off (common practice).
    ExhaustTooCold: Temperature, AtLeast, RuleOfThumb, Figure(Rule::fails(673.15)), Always(OutsideData);
    /// A stage compresses more than one of its kind does. Past 2.8 rotors without internal compression
    /// only churn and heat the air (common practice: 2 to 2.5 in use); those that compress inside
    /// reach 3 to 4, one centrifugal wheel about 5 (common practice).
    StagePressureRatio: Ratio, AtMost, RuleOfThumb, ByMachine {
        roots: Rule::fails(2.8),
        screw: Rule::fails(4.5),
        wheel: Rule::fails(6.0),
    }, Margin;
    /// Part of the pressure that a part takes (common practice: 2 to 8 % of each). Warns: it costs power
    /// and breaks nothing. Past half of it the air would near its own speed of sound, and the square
    /// law means nothing.
    PressureLoss: Share, AtMost, RuleOfThumb, Figure(Rule::warns_up_to(0.15, 0.5, Over)), Margin;
    /// Flow through a part over the flow that its drop was rated at: past three times, the square law is
    /// carried far (common practice); past ten times the rated figure says nothing.
    FlowBeyondRating: Ratio, AtMost, RuleOfThumb, Figure(Rule::warns_up_to(3.0, 10.0, OutsideData)), Margin;
    /// Mach number in a pipe. Past 0.3 the loss is no longer that of a fluid of one density (common
    /// practice, and any textbook of gas dynamics): the pipe is narrow. Past 0.6 bends choke and the
    /// formula is void.
    DuctMach: Ratio, AtMost, RuleOfThumb, Figure(Rule::warns_up_to(0.3, 0.6, Over)), Margin;
    /// Peak cylinder pressure against its limit.
    CylinderPressure: AbsolutePressure, AtMost, set!(max_cylinder_pressure), NONE, Margin;
    /// Clamp of the head's studs over the gas force, against its minimum: the gasket needs its share of
    /// the clamp, and heat takes some (common practice: 1.5 times the gas force and more). Warns: the
    /// rule is meant for the usual figures, and the margin is taken at the unfavourable end of both, the
    /// weakest clamp and the highest peak. Below nothing the head lifts, which fails.
    ClampMargin: Share, AtLeast, set!(min_clamp_margin), Figure(Rule::warns(0.5)), Margin;
    /// Manifold pressure against its limit.
    ManifoldPressure: AbsolutePressure, AtMost, set!(max_manifold_pressure), NONE, Margin;
    /// Speed of a turbocharger's shaft against its limit.
    TurboSpeed: Speed, AtMost, MaxSpeed, NONE, Margin;
    /// Speed of a supercharger's shaft against its limit.
    SuperchargerSpeed: Speed, AtMost, MaxSpeed, NONE, Margin;
    /// Speed of a supercharger's rotor tips against its limit.
    TipSpeed: SurfaceSpeed, AtMost, set!(max_rotor_tip_speed), NONE, Margin;
    /// Mean piston speed against its limit.
    PistonSpeed: SurfaceSpeed, AtMost, set!(max_piston_speed), NONE, Margin;
    /// Pull of a belt on the supercharger's shaft against its limit.
    BeltPull: Force, AtMost, set!(max_belt_pull), NONE, Margin;
    /// Speed of a belt against what pulleys stand: past it they want balancing, and cast iron ones burst
    /// (common practice: 33 m/s for cast iron, about 50 for steel). Fails: a pulley that bursts goes
    /// through the bonnet.
    BeltSpeed: SurfaceSpeed, AtMost, RuleOfThumb, Figure(Rule::fails(50.0)), Margin;
    /// Share of the time that the injectors stand open: past it one hardly closes between two injections
    /// (common practice: 80 to 90 %). Fails: the fuel that was asked for does not come, and a
    /// spark-ignition engine runs lean.
    InjectorDuty: Share, AtMost, set!(max_injector_duty), Figure(Rule::fails(0.85)), Margin;
    /// Compression ratio of an unblown engine as near to knocking.
    Knock: Ratio, AtMost, RuleOfThumb, ByFuel, Margin;
    /// Exhaust temperature against its limit.
    ExhaustTemperature: Temperature, AtMost, set!(max_exhaust_temperature), NONE, Margin;
    /// Air temperature at a turbo compressor's outlet against its limit: past 200 °C a cast aluminium
    /// wheel loses life and hoses need care (common practice). Fails: wheels burst and hoses come off.
    CompressorOutletTemperature: Temperature, AtMost, set!(max_compressor_outlet_temperature),
        Figure(Rule::fails(473.15)), Margin;
    /// Air temperature at a supercharger's outlet against its limit: past 150 °C rotors grow towards each
    /// other and the case (common practice for a Roots machine without its own cooling). Fails: they
    /// seize.
    SuperchargerOutletTemperature: Temperature, AtMost, set!(max_supercharger_outlet_temperature),
        Figure(Rule::fails(423.15)), Margin;
    /// Charge temperature in the manifold against its limit.
    ChargeTemperature: Temperature, AtMost, set!(max_charge_temperature), NONE, Margin;
    /// Drive pressure over manifold pressure against its limit.
    DrivePressureRatio: Ratio, AtMost, set!(max_drive_pressure_ratio), NONE, Margin;
    /// Surge margin at the same pressure ratio against its minimum: pulsation and map scatter take about
    /// as much (common practice). Fails: a compressor that surges gives no boost and breaks.
    SurgeMargin: Share, AtLeast, set!(min_surge_margin), Figure(Rule::fails(0.10)), Margin;
    /// A compressor works outside its map; the milder where little is at stake.
    OutsideMap: Share, AtMost, Nature, NONE, OrWorse(Near, OutsideData);
    /// The gate is wide open because the supercharger alone delivers more than the limit.
    SuperchargerAboveBoostLimit: AbsolutePressure, AtMost, BoostLimit, NONE, Margin;
    /// The gate is wide open because it is too small.
    WastegateTooSmall: AbsolutePressure, AtMost, BoostLimit, NONE, Margin;
    /// The gate is wide open, and which of the two it is cannot be told apart.
    WastegateWideOpen: AbsolutePressure, AtMost, BoostLimit, NONE, Margin;
    /// The boost limit lies where the gate sets the split and hardly the boost.
    LimitInSuperchargerBand: AbsolutePressure, AtMost, BoostLimit, NONE, Always(Near);
    /// A cooler brings the charge beyond its sink: impossible.
    OutletBeyondSink: Share, AtMost, Nature, NONE, Margin;
    /// A given effectiveness asks more than the flows of charge and sink allow.
    EffectivenessAboveFlows: Share, AtMost, Nature, NONE, Margin;
    /// Water of a charge cooler against its boiling point.
    CoolantBoils: Temperature, AtMost, Nature, NONE, Margin;
    /// More fuel than the air can burn; a spark-ignition engine may be run so on purpose, a diesel not.
    RichMixture: Ratio, AtLeast, Nature, NONE, OrWorse(Near, Over);
    /// A diesel with so little air that it smokes: mass of dry air per mass of fuel (common practice: 18
    /// to 20). Warns: smoke breaks nothing, and the heat that comes with it is held against its own
    /// limits.
    DieselSmoke: Ratio, AtLeast, RuleOfThumb, Figure(Rule::warns(18.0)), Margin;
    /// The answer hangs on whether the ratio or the fuel is held.
    FuellingAssumption: AbsolutePressure, AtMost, Nature, NONE, OrWorse(Ok, Near);
    /// A little more fuel moves the boost by much: per cent of manifold pressure per 1 % of fuel (common
    /// practice). Warns: it says how far the figures can be trusted, and nothing of the parts.
    Steep: Ratio, AtMost, RuleOfThumb, Figure(Rule::warns(2.0)), Margin;
    /// A second stable balance exists.
    SecondEquilibrium: AbsolutePressure, AtMost, Nature, NONE, Always(Near);
    /// A supercharger lowers the pressure.
    SuperchargerRestricts: Ratio, AtLeast, Nature, NONE, Always(Near);
    /// A turbine's flow is choked; worth a warning where the exhaust pushes harder than the charge.
    TurbineChoked: Ratio, AtMost, Nature, NONE, OrWorse(Ok, Near);
    /// The sink of a charge cooler has less capacity flow than the charge: it then warms more than the
    /// charge cools (common practice asks for 2 and more). Warns: what comes of it is in the charge
    /// temperature, which has a limit of its own.
    SinkStarved: Ratio, AtLeast, RuleOfThumb, Figure(Rule::warns(1.0)), Margin;
    /// Water condenses out of the charge in a cooler.
    ChargeBelowDewPoint: Temperature, AtLeast, Nature, NONE, Always(Near);
    /// A core lies or works outside the data its correlation was fitted to.
    OutsideCorrelation: Ratio, AtMost, Nature, NONE, Always(OutsideData);
    /// The engine runs beyond the ends of a table, whose end value is held.
    BeyondTable: Speed, AtMost, Nature, NONE, Always(OutsideData);
    /// A limit was set and what it limits is unknown.
    LimitNotChecked: Ratio, AtMost, Nature, NONE, Always(Near);
    /// What idle rotors take past the hand-over is not known and not counted.
    DragNotCounted: Speed, AtMost, Nature, NONE, Always(Near);
    /// At a low expansion ratio the flow of a turbine hangs on the flow law taken.
    FlowLawUncertain: Ratio, AtLeast, Nature, NONE, OrWorse(Ok, Near);
    /// The smallest air–fuel ratio cuts this share of the fuel asked for (common practice: a limiter that
    /// trims is set well, one that cuts more stands for fuel that is not there). Warns: nothing breaks.
    SmokeLimiterActive: Share, AtMost, RuleOfThumb, Figure(Rule::warns(0.10)), Margin;
    /// The vapour's pressure holds back fuel that was meant to evaporate.
    EvaporationHeldBack: Share, AtMost, Nature, NONE, Always(Ok);
    /// Brake power is not calculated, because something is missing for it.
    PowerUnknown: Ratio, AtMost, Nature, NONE, Always(Ok);
    /// The back-pressure correction of the breathing ignores valve overlap.
    ValveOverlapUnknown: Share, AtMost, Nature, NONE, Always(Ok);
    /// A core stands on correlations that were not checked against anything outside.
    CoolerUnconfirmed: Ratio, AtMost, Nature, NONE, Always(Ok);
}

impl CatalogueRow {
    /// The limit that the build sets, where a key of `[limits]` does.
    pub fn set(&self, limits: &Limits) -> Option<f64> {
        match self.origin {
            Origin::Limits(read) => read(limits),
            _ => None,
        }
    }

    /// The rule of thumb, where one figure holds for all.
    pub(super) const fn rule(&self) -> Option<Rule> {
        match self.usual {
            Figure(rule) => Some(rule),
            _ => None,
        }
    }

    /// What a value is held against: what the build sets, else the one figure of common practice.
    pub fn limit(&self, limits: &Limits) -> Option<f64> {
        let usual = self.rule().map(|rule| rule.limit);
        self.set(limits).or(usual)
    }

    /// Where a limit comes from that no rule of thumb stood in for.
    pub(super) const fn basis(&self) -> Basis {
        match self.origin {
            Origin::Limits(_) | MaxSpeed | BoostLimit => Basis::Build,
            RuleOfThumb => Basis::CommonPractice,
            Nature => Basis::Nature,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_of_codes_is_in_order() {
        assert!(Code::ALL.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn what_no_key_sets_and_nature_does_not_has_a_rule_of_thumb() {
        for code in Code::ALL {
            let row = code.row();
            let is_rule = matches!(row.origin, RuleOfThumb);
            let may_be_rule = is_rule || matches!(row.origin, Origin::Limits(_));
            assert!(!is_rule || row.usual != Usual::None, "{code:?}");
            assert!(may_be_rule || row.usual == Usual::None, "{code:?}");
        }
    }

    #[test]
    fn a_limit_of_the_build_goes_before_the_rule_of_thumb() {
        let row = Code::SurgeMargin.row();
        let mut limits = Limits::default();
        assert_eq!(row.limit(&limits), row.rule().map(|rule| rule.limit));
        limits.min_surge_margin = Some(0.2);
        assert_eq!(row.limit(&limits), Some(0.2));
        assert_eq!(Code::ManifoldPressure.row().limit(&limits), None);
    }
}
