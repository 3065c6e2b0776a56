//! airpath estimates how a supercharger and a turbocharger in series feed a competition engine.

pub mod cli;
pub mod plot;
pub mod site;
