//! How the numbers of a finding come into its advice, where the general advice of the catalogue needs
//! more than the setting that was solved for. Each function is given the general advice, which stands
//! where the numbers are absent.

pub mod cooling;
pub mod costs;
pub mod gate;
pub mod limits;
pub mod plausible;
pub mod trust;
mod writer;

pub use writer::AdviceWriter;
