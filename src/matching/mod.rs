//! The installation as meant, its balances and their solution. SI, absolute pressures; knows
//! nothing of files or units.

mod installation;

pub use installation::Installation;
