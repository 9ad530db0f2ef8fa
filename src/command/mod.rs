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
    io::{self, IsTerminal as _, Write},
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
            tell(&error);
            ExitCode::from(ERROR)
        }
    }
}

/// Tells an error on standard error, each of its lines wrapped.
fn tell(error: &Error) {
    /// Further than the lines below one, such as the rows of a file.
    const INDENT: usize = 6;
    let mut told = Vec::new();
    for line in format!("tallybin: {error}").lines() {
        let text = line.trim_start();
        let lead = &line[..line.len() - text.len()];
        let written = match line.chars().count() > report::wrap::WIDTH {
            true => report::wrap::wrapped(&mut told, lead, lead.len() + INDENT, text),
            // A path may hold blanks in a row.
            false => writeln!(told, "{line}"),
        };
        written.expect("writing to memory cannot fail");
    }
    // Nothing is left to be done where standard error is closed.
    let _ = match io::stderr().is_terminal() {
        true => Seen(io::stderr()).write_all(&told),
        false => io::stderr().write_all(&told),
    };
}

/// A terminal. Names and cells come from strangers: what of them would steer it is shown as a question mark, the
/// controls of ASCII but for line ends and tabs, and those of ISO 6429 that UTF-8 writes as C2 80 to C2 9F.
struct Seen<W>(W);

impl<W: Write> Write for Seen<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut seen = bytes.to_vec();
        for at in 0..seen.len() {
            let is_c1 = at > 0 && bytes[at - 1] == 0xc2 && (0x80..0xa0).contains(&bytes[at]);
            let steers = bytes[at].is_ascii_control() && !matches!(bytes[at], b'\n' | b'\t');
            if is_c1 {
                seen[at - 1] = b'?';
            }
            if is_c1 || steers {
                seen[at] = b'?';
            }
        }
        self.0.write_all(&seen).map(|()| bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Writes to standard output. A reader that has had enough (`| head`) is no error.
///
/// # Errors
/// Any other failure to write.
fn print(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Error> {
    let stdout = io::stdout().lock();
    let mut out: io::BufWriter<Box<dyn Write>> = io::BufWriter::new(match stdout.is_terminal() {
        true => Box::new(Seen(stdout)),
        false => Box::new(stdout),
    });
    match write(&mut out).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Error::Output {
            path: "standard output".into(),
            found: format!("cannot be written: {error}"),
            todo: "check where the output is sent".to_owned(),
        }),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_steers_a_terminal() {
        let seen = |text: &str| {
            let mut seen = Vec::new();
            Seen(&mut seen).write_all(text.as_bytes()).expect("written");
            String::from_utf8(seen).expect("text")
        };
        assert_eq!(seen("\u{1b}[31mred\u{7}\r\n\t4"), "?[31mred??\n\t4");
        assert_eq!(seen("a\u{9b}31m b\u{7f}"), "a??31m b?");
        assert_eq!(
            seen("3 \u{d7} 4 \u{2013} caf\u{e9}"),
            "3 \u{d7} 4 \u{2013} caf\u{e9}"
        );
    }
}
