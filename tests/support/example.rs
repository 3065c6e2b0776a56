//! Holds an answer against a textbook's and against the same reckoned with variable heat capacity.
//!
//! The books take constant cp and γ, so that a right answer here differs from theirs by a share
//! that is known beforehand: from tests/reference/worked_examples.csv, made by Cantera.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use crate::table::rows;

/// How far the answer may lie from Cantera's, relative: newer atomic masses move a work by 9 ppm,
/// the fits of CO2 and water those of burnt gas by 86 ppm (tests/reference/README.md).
const DATA_APART: f64 = 1e-4;
/// How exactly the expected difference to the book is stated, per cent: half its last digit, and
/// the distance to Cantera.
const STATED: f64 = 0.005 + 100.0 * DATA_APART;

/// The answer to `quantity` of an example; `difference` is the expected distance to the printed
/// answer in per cent of it.
pub fn answers(example: &str, quantity: &str, found: f64, difference: f64) {
    let row = rows("worked_examples.csv")
        .into_iter()
        .find(|row| row.text("example") == example && row.text("quantity") == quantity)
        .unwrap_or_else(|| panic!("no {quantity} of {example}"));
    let (variable, printed) = (row.number("variable"), row.number("printed"));
    let from_cantera = found / variable - 1.0;
    let from_book = 100.0 * (found / printed - 1.0);
    println!(
        "{example} {quantity}: {found}, {from_cantera:.1e} from Cantera, {from_book:+.3} % from the book"
    );
    assert!(
        from_cantera.abs() <= DATA_APART,
        "{example} {quantity}: {found}, Cantera has {variable}"
    );
    assert!(
        (from_book - difference).abs() <= STATED,
        "{example} {quantity}: {found} is {from_book:+.3} % from the book's {printed}"
    );
}
