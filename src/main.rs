//! The `sixhold` program.

use std::process::ExitCode;

fn main() -> ExitCode {
    sixhold::cli::run()
}
