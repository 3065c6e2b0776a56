//! Why there is no match: which balance, between which values.

use thiserror::Error;

use crate::gas::GasError;

/// Why an installation has no match at a speed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum MatchError {
    /// The engine speed makes no sense.
    #[error("an engine speed of {rpm} rpm makes no sense: it must be finite and above 0")]
    Speed {
        /// Engine speed, rpm.
        rpm: f64,
    },
    /// No flow balances what the engine swallows against what the parts pass.
    #[error(
        "flow balance: no flow between {lowest:.4} and {highest:.4} kg/s passes the air path and is \
         swallowed by the engine; look at pressure drops, displacement and volumetric efficiency"
    )]
    Flow {
        /// Lowest flow tried, kg/s.
        lowest: f64,
        /// Highest flow tried, kg/s.
        highest: f64,
    },
    /// The held fuel finds too little air to burn it even to CO.
    #[error(
        "combustion: the held fuel finds so little air (air-fuel ratio {air_fuel_ratio:.1}) that \
         carbon is left over, which needs more than {smallest:.1}; give less fuel, or a smallest \
         air-fuel ratio that limits it"
    )]
    Soot {
        /// Mass of dry air per mass of fuel at a trial.
        air_fuel_ratio: f64,
        /// The ratio at which all carbon just becomes CO.
        smallest: f64,
    },
    /// The flow balance was bracketed but its equations were not met together.
    #[error(
        "flow balance: near {flow:.4} kg/s the flow, pressure and exhaust balances do not meet{}; \
         look for unusual areas, drops or ratios there",
        largest_residual(*residual)
    )]
    Unsettled {
        /// Flow at the best point, kg/s.
        flow: f64,
        /// Largest residual there, where the balances could be evaluated.
        residual: Option<f64>,
    },
    /// The turbine gives more than the compressor takes as far as was looked: it runs away.
    #[error(
        "power balance of turbine {turbine}: the wheel gives more than the compressor takes at \
         every pressure ratio from {from:.2} to {to:.2}: it runs away; a larger turbine, a \
         wastegate, or less fuel would hold it"
    )]
    RunsAway {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Lowest pressure ratio looked at.
        from: f64,
        /// Highest pressure ratio looked at.
        to: f64,
    },
    /// The turbine gives more than the compressor takes as far as flow and pressures could be
    /// balanced at all.
    #[error(
        "power balance of turbine {turbine}: the wheel gives more than the compressor takes at \
         every pressure ratio from {from:.2} to {to:.2}, and beyond that no flow balances; a larger \
         turbine, a wastegate or less fuel would hold it"
    )]
    NoWay {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Lowest pressure ratio looked at.
        from: f64,
        /// Highest pressure ratio that could be balanced.
        to: f64,
    },
    /// A two-stroke whose manifold does not stand above its exhaust.
    #[error(
        "no scavenging: the manifold at {manifold:.0} Pa does not stand above the exhaust at \
         {exhaust:.0} Pa; a faster supercharger, a larger turbine or a freer exhaust would drive \
         air through the cylinders"
    )]
    NoScavenging {
        /// Absolute manifold pressure, Pa.
        manifold: f64,
        /// Absolute pressure behind the ports, Pa.
        exhaust: f64,
    },
    /// The turbine does not even turn the compressor at rest.
    #[error(
        "power balance of turbine {turbine}: the wheel gives less than the compressor takes already \
         at a pressure ratio of {at:.3}: it stalls; a smaller turbine would turn it"
    )]
    Stalls {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Pressure ratio at rest.
        at: f64,
    },
    /// What takes the heat of a charge cooler is too cold or too hot to reckon with.
    #[error("the sink of a charge cooler: {0}")]
    Sink(GasError),
    /// The gate cannot meet the limit and both balances together.
    #[error(
        "wastegate of turbine {turbine}: no share from 0 to {largest:.2} holds the boost limit with \
         the power balance met"
    )]
    Gate {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Largest share.
        largest: f64,
    },
}

fn largest_residual(residual: Option<f64>) -> String {
    residual.map_or_else(String::new, |residual| {
        format!(" (largest residual {residual:.1e})")
    })
}

/// Why an installation cannot be matched at any speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum LayoutError {
    /// A turbo compressor is neither prescribed nor driven.
    #[error("turbo compressor {0} has neither a given pressure ratio nor a turbine that drives it")]
    Undriven(usize),
    /// A turbine drives a stage that is not there, or one that another drives already.
    #[error("turbine {0} drives a turbo compressor that is not there or is driven already")]
    Driver(usize),
    /// A stage with a given ratio stands beside one that is driven.
    #[error(
        "turbine {0} drives a stage whose pressure ratio is given, while another stage is solved; \
         give both ratios or none"
    )]
    Mixed(usize),
    /// A compressor is to run on its map and has none.
    #[error("turbo compressor {0} is to run on its map, and there is none")]
    MapMissing(usize),
    /// A turbine works on blade speed and its shaft's speed is unknown.
    #[error(
        "turbine {0}: efficiency over blade speed needs a compressor map; else the speed is unknown"
    )]
    SpeedUnknown(usize),
    /// The exhaust cannot be reckoned.
    #[error("a turbine needs fuel, [engine.combustion] and the compression ratio")]
    NoCombustion,
    /// More parts than the solver has room for.
    #[error("more stages than can be solved together")]
    TooLarge,
    /// The site's air cannot exist.
    #[error("the air at the site cannot be: pressure, temperature or humidity out of range")]
    Air,
}
