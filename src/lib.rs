//! airpath estimates how a supercharger and a turbocharger in series feed a competition engine.
//!
//! # The journey of the air
//!
//! The air starts at the [`site`], a mixture of [`gas`]es at the pressure and temperature of the
//! place. It passes the parts of the [`air_path`] in flow order (filter, supercharger, turbo
//! compressor, charge cooler, throttle), each of which takes one state and gives the next, until
//! the [`engine`] swallows it: breathing, fuel, combustion. What leaves goes through the
//! [`exhaust`]: turbine, wastegate, pipe. [`matching`] finds the flow, the pressures and the speeds
//! at which all of these agree, and [`finding`] holds the result against its limits.
//!
//! Up to there everything is SI, pressures are absolute and nothing knows of files. Around that
//! core stand the edges: [`quantity`] reads and shows units, [`input`] reads what the user wrote,
//! [`study`] asks many matches, [`plot`] draws, [`report`] writes, and [`cli`] is one file a
//! command.

pub mod air_path;
pub mod cli;
pub mod engine;
pub mod exhaust;
pub mod finding;
pub mod gas;
pub mod input;
pub mod map;
pub mod matching;
pub mod numeric;
pub mod plot;
pub mod quantity;
pub mod report;
pub mod site;
pub mod study;
