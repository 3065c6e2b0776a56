//! Why there is no match: which balance, between which values.

use crate::gas::GasError;

/// Why an installation has no match at a speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MatchError {
    /// The engine speed makes no sense.
    Speed {
        /// Engine speed, rpm.
        rpm: f64,
    },
    /// No flow balances what the engine swallows against what the parts pass.
    Flow {
        /// Lowest flow tried, kg/s.
        lowest: f64,
        /// Highest flow tried, kg/s.
        highest: f64,
    },
    /// The held fuel finds too little air to burn it even to CO.
    Soot {
        /// Mass of dry air per mass of fuel at a trial.
        air_fuel_ratio: f64,
        /// The ratio at which all carbon just becomes CO.
        smallest: f64,
    },
    /// The flow balance was bracketed but its equations were not met together.
    Unsettled {
        /// Flow at the best point, kg/s.
        flow: f64,
        /// Largest residual there, where the balances could be evaluated.
        residual: Option<f64>,
    },
    /// The turbine gives more than the compressor takes as far as was looked: it runs away.
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
    NoWay {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Lowest pressure ratio looked at.
        from: f64,
        /// Highest pressure ratio that could be balanced.
        to: f64,
    },
    /// A two-stroke whose manifold does not stand above its exhaust.
    NoScavenging {
        /// Absolute manifold pressure, Pa.
        manifold: f64,
        /// Absolute pressure behind the ports, Pa.
        exhaust: f64,
    },
    /// The turbine does not even turn the compressor at rest.
    Stalls {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Pressure ratio at rest.
        at: f64,
    },
    /// What takes the heat of a charge cooler is too cold or too hot to reckon with.
    Sink(GasError),
    /// The gate cannot meet the limit and both balances together.
    Gate {
        /// The turbine, counted from 1 in exhaust order.
        turbine: usize,
        /// Largest share.
        largest: f64,
    },
}

/// Why an installation cannot be matched at any speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayoutError {
    /// A turbo compressor is neither prescribed nor driven.
    Undriven(usize),
    /// A turbine drives a stage that is not there, or one that another drives already.
    Driver(usize),
    /// A stage with a given ratio stands beside one that is driven.
    Mixed(usize),
    /// A compressor is to run on its map and has none.
    MapMissing(usize),
    /// A turbine works on blade speed and its shaft's speed is unknown.
    SpeedUnknown(usize),
    /// The exhaust cannot be reckoned.
    NoCombustion,
    /// More parts than the solver has room for.
    TooLarge,
    /// The site's air cannot exist.
    Air,
}
