//! The commands: arguments in, text and exit code out.

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use crate::site::standard_air;

/// Runs the tool with the given arguments and returns its exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let command = arguments.into_iter().nth(1);
    if command.as_deref() != Some("line".as_ref()) {
        return ExitCode::from(2);
    }
    let Some(air) = standard_air(1600.0) else {
        return ExitCode::from(1);
    };
    let written = writeln!(
        std::io::stdout(),
        "ambient {:.1} kPa",
        air.pressure / 1000.0
    );
    if written.is_ok() {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(1)
    }
}
