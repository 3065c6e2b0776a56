//! Units at the edge: "38 psi" in, the reader's units out.
//!
//! Knows every unit by its exact factor and which kind of quantity it can express; it knows no keys,
//! files or engines. What it hands on is SI, with one exception that the whole crate shares: a
//! rotational speed is in revolutions per minute.
//!
//! Three kinds of pressure are kept apart, because the same "38 psi" means three things:
//! [`Kind::AbsolutePressure`], [`Kind::BoostPressure`] (above the site) and
//! [`Kind::PressureDifference`]. [`parse()`] reports what the text itself said ("psig", "bar
//! absolute"); [`Quantity::pressure`] brings both together with the site's pressure.

mod fault;
mod kind;
mod number_and_unit;
mod parse;
mod show;
mod spelling;
mod spread;
mod table;
mod unit;
mod words;

pub use fault::QuantityError;
pub use kind::Kind;
pub use parse::{Quantity, number, parse, share};
pub use show::{
    UnitSystem, decimals, header, label, reader_value, shown, shown_roughly, usual_units,
};
pub use spelling::{nearest_unit, unit_named, units_of};
pub use spread::{SpreadError, shared_unit, split_spread, spread};
pub use unit::{Dimension, PressureReading, Unit};
pub(crate) use words::words;
pub use words::{
    Amount, Digits, Example, UnitChoice, Words, amount, exact_amount, example, rewritten,
};
