//! The rules of thumb that count where the build sets no limit.

/// What it means that a rule of thumb is passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Passed {
    /// As for a limit that the build sets: something breaks, or does not do what it is there for.
    Fails,
    /// It is worth saying and no reason to turn a build down.
    Warns,
}

/// A limit of common practice, where the build says nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rule {
    /// The limit, in the unit of what is held against it.
    pub limit: f64,
    /// What it means to pass it.
    pub passed: Passed,
}

impl Rule {
    /// A rule that fails a build.
    pub const fn fails(limit: f64) -> Self {
        let passed = Passed::Fails;
        Self { limit, passed }
    }

    /// A rule that only warns.
    pub const fn warns(limit: f64) -> Self {
        let passed = Passed::Warns;
        Self { limit, passed }
    }
}

/// Air temperature behind a supercharger, K (150 °C), past which rotors grow towards each other and
/// the case (common practice for a Roots machine without its own cooling). Fails: they seize.
pub(super) const USUAL_SUPERCHARGER_OUTLET: Rule = Rule::fails(423.15);
/// Air temperature behind a turbo compressor, K (200 °C), past which a cast aluminium wheel loses
/// life and hoses need care (common practice). Fails: wheels burst and hoses come off.
pub(super) const USUAL_COMPRESSOR_OUTLET: Rule = Rule::fails(473.15);
/// Surge margin at the same pressure ratio, a share of the flow: pulsation and map scatter take
/// about as much (common practice). Fails: a compressor that surges gives no boost and breaks.
pub(super) const USUAL_SURGE_MARGIN: Rule = Rule::fails(0.10);
/// Mass of dry air per mass of fuel below which a diesel smokes (common practice: 18 to 20). Warns:
/// smoke breaks nothing, and the heat that comes with it is held against its own limits.
pub(super) const USUAL_SMOKE_LIMIT: Rule = Rule::warns(18.0);
/// Per cent of manifold pressure per 1 % of fuel past which small things move the answer by much.
/// Warns: it says how far the figures can be trusted, and nothing of the parts.
pub(super) const USUAL_STEEPNESS: Rule = Rule::warns(2.0);
/// Excess of the studs' clamp over the gas force, a share of it: the gasket needs its share of the
/// clamp, and heat takes some (common practice: clamp of 1.5 times the gas force and more).
/// Warns: the rule is meant for the usual figures, and the margin is taken at the unfavourable end of
/// both, the weakest clamp and the highest peak. Below nothing the head lifts, which fails.
pub(super) const USUAL_CLAMP_MARGIN: Rule = Rule::warns(0.5);
/// Share of the time that an injector may stand open: past it, it hardly closes between two
/// injections (common practice: 80 to 90 %). Fails: the fuel that was asked for does not come, and a
/// spark-ignition engine runs lean.
pub(super) const USUAL_INJECTOR_DUTY: Rule = Rule::fails(0.85);
/// Speed of a belt, m/s, past which pulleys want balancing and cast iron ones burst (common practice:
/// 33 m/s for cast iron, about 50 for steel). Fails: a pulley that bursts goes through the bonnet.
pub(super) const USUAL_BELT_SPEED: Rule = Rule::fails(50.0);
/// Capacity flow of a cooler's sink over that of the charge below which the sink is starved: it then
/// warms more than the charge cools (common practice asks for 2 and more). Warns: what comes of it is
/// in the charge temperature, which has a limit of its own.
pub(super) const USUAL_SINK_FLOW: Rule = Rule::warns(1.0);
/// Share of the fuel asked for that a smoke limiter may cut (common practice: a limiter that trims is
/// set well, one that cuts more stands for fuel that is not there). Warns: nothing breaks.
pub(super) const USUAL_FUEL_CUT: Rule = Rule::warns(0.10);
