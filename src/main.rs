//! The command line: the only place where adapters are built and the clock is read.

mod cli;

use std::process::ExitCode;

use clap::Parser;

#[cfg(feature = "jemalloc")]
#[global_allocator]
static ALLOCATOR: tikv_jemallocator::Jemalloc = tikv_jemallocator::Jemalloc;

fn main() -> ExitCode {
    let arguments = cli::Arguments::parse();
    match cli::run(arguments) {
        Ok(code) => code,
        Err(error) => {
            cli::complain(&error);
            ExitCode::FAILURE
        }
    }
}
