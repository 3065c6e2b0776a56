//! The commands, one file each: arguments in, text, files and an exit code out.
//!
//! Standard output holds the result and nothing else; faults, remarks and the list of files written
//! go to standard error. Exit codes: 0 solved, 1 a fault in what was read or nothing solved, 2 the
//! command line itself is wrong, 3 with `--strict` when a finding is over or outside the data, or a
//! row has no match.

mod check;
mod comparison;
mod cooler;
mod done;
mod explain;
mod failure;
mod keys;
mod line;
mod load;
mod new;
mod options;
mod point;
mod progress;
mod rank;
mod read;
mod set;
mod terminal;
mod view;
mod write;
mod write_fault;

use std::ffi::OsString;
use std::io::IsTerminal;
use std::process::ExitCode;

use clap::Parser;

use options::{Arguments, Command};
use terminal::say;

/// Runs the tool with the given arguments (the first is the program's own name) and returns its
/// exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(fault) => return usage(&fault),
    };
    let done = match &arguments.command {
        Command::New(options) => new::run(options),
        Command::Check(options) => check::run(options),
        Command::Point(options) => point::run(options),
        Command::Line(options) => line::run(options),
        Command::Cooler(options) => cooler::run(options),
        Command::Rank(options) => rank::run(options),
        Command::Keys(options) => keys::run(options),
        Command::Explain(options) => explain::run(options),
    };
    let (text, code) = match done {
        Ok(done) => (done.text, if done.strict_failure { 3 } else { 0 }),
        Err(failure) => {
            terminal::say_first(failure.lines(), "faults");
            (failure.result().to_owned(), failure.code())
        }
    };
    terminal::print(&text, arguments.command.format(), code)
}

/// Help and version are results; all else is a wrong command line, which quotes what was written.
fn usage(fault: &clap::Error) -> ExitCode {
    let words = fault.render();
    if fault.use_stderr() {
        for line in words.to_string().lines() {
            say(line);
        }
        ExitCode::from(2)
    } else if std::io::stdout().is_terminal() {
        terminal::write_out(&words.ansi().to_string(), 0)
    } else {
        terminal::write_out(&words.to_string(), 0)
    }
}
