//! `tallybin completions` and `tallybin man`: what a shell and a manual reader need, made from the
//! commands themselves.

use std::process::ExitCode;

use clap::CommandFactory;

use super::{Arguments, print};
use crate::error::{Error, Result};

/// Print completions for a shell, to be loaded from its start-up file.
#[derive(clap::Args)]
pub struct CompletionsArgs {
    /// Which shell.
    shell: clap_complete::Shell,
}

/// Print the manual page of the program, or of one of its commands (roff).
#[derive(clap::Args)]
pub struct ManArgs {
    /// Which command; the whole program when left out.
    command: Option<String>,
}

pub fn completions(args: CompletionsArgs) -> Result<ExitCode> {
    let mut script = Vec::new();
    clap_complete::generate(
        args.shell,
        &mut Arguments::command(),
        "tallybin",
        &mut script,
    );
    print(|out| out.write_all(&script))?;
    Ok(ExitCode::SUCCESS)
}

pub fn man(args: ManArgs) -> Result<ExitCode> {
    let mut program = Arguments::command();
    program.build();
    let command = match &args.command {
        None => program,
        Some(name) => program
            .find_subcommand(name)
            .cloned()
            .ok_or_else(|| Error::Arguments {
                found: format!("there is no command {name}"),
                todo: "run tallybin --help for the commands there are".to_owned(),
            })?,
    };
    print(|out| clap_mangen::Man::new(command).render(out))?;
    Ok(ExitCode::SUCCESS)
}
