//! Whether what a map file says can be meant: every fault of sense in words, with its line and column.
//!
//! [`crate::map::sense`] knows what can be; here its answers meet the units and lines of the file, and
//! the likely slip is named: the unit under which the same figures would make sense.

mod figures;
mod rows;
mod setting;
mod share;
mod surge;
mod table;
mod unit;
mod wheel;

pub(super) use table::Table;
