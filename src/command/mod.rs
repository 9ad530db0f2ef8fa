//! One file a subcommand.

mod draft;
mod inputs;
mod limits;
mod pack;
mod progress;
mod read;
mod reconcile;
mod shell;
mod weigh;

use std::{
    io::{self, Write},
    process::ExitCode,
};

use clap::{Parser, Subcommand, ValueEnum};

use crate::{error::Error, report};

/// Exit code when something is short and `--fail-on-short` asks for it.
const SHORT: u8 = 1;
/// Exit code of an error.
const ERROR: u8 = 2;

/// Settles what a bolt-together kit requires against what was shipped and counted, stage by stage.
#[derive(Parser)]
#[command(name = "tallybin", version, max_term_width = 100)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Reconcile(reconcile::Args),
    Pack(pack::Args),
    Read(read::Args),
    Draft(draft::Args),
    Weigh(weigh::Args),
    Completions(shell::CompletionsArgs),
    Man(shell::ManArgs),
}

/// How results are printed on standard output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// For programs; the fields are listed in the README.
    Json,
}

/// Runs the program on the process's own arguments.
pub fn main() -> ExitCode {
    report::wrap::fit_terminal();
    // clap prints its own help and usage errors, and leaves with 0 or 2.
    let result = match Arguments::parse().command {
        Command::Reconcile(args) => reconcile::run(args),
        Command::Pack(args) => pack::run(args),
        Command::Read(args) => read::run(args),
        Command::Draft(args) => draft::run(args),
        Command::Weigh(args) => weigh::run(args),
        Command::Completions(args) => shell::completions(args),
        Command::Man(args) => shell::man(args),
    };
    match result {
        Ok(code) => code,
        Err(error) => {
            // Nothing is left to be done where standard error is closed.
            let _ = writeln!(io::stderr(), "tallybin: {error}");
            ExitCode::from(ERROR)
        }
    }
}

/// Writes to standard output. A reader that has had enough (`| head`) is no error.
///
/// # Errors
/// Any other failure to write.
fn print(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Error> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    match write(&mut out).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Error::Output {
            path: "standard output".into(),
            found: format!("cannot be written: {error}"),
            todo: "check where the output is sent".to_owned(),
        }),
        _ => Ok(()),
    }
}
