//! Arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    airpath::cli::run(std::env::args_os())
}
