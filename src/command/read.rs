//! `tallybin read`: how each line of a file reads.

use std::{path::PathBuf, process::ExitCode};

use super::{Format, inputs, limits::LimitArgs, print, progress::Progress};
use crate::{
    error::Result,
    kit::{List, Role, job::Input},
    report,
};

/// Show how each line of a file reads.
#[derive(clap::Args)]
pub struct Args {
    /// Workbooks, delimited text, plain text or Markdown.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// What the files say of the kit; a blank quantity means something else on a count than on a list.
    #[arg(long = "as", value_name = "ROLE", default_value = "required", value_parser = role)]
    role: Role,
    #[command(flatten)]
    limits: LimitArgs,
    /// Read the hidden sheets of workbooks, too.
    #[arg(long)]
    hidden_sheets: bool,
    /// How to print the lines.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// A role by its name.
fn role(text: &str) -> std::result::Result<Role, String> {
    text.parse()
        .map_err(|()| format!("one of {}", Role::NAMES.join(", ")))
}

pub fn run(args: Args) -> Result<ExitCode> {
    let limits = args.limits.limits();
    let input = |path| Input {
        hidden_sheets: args.hidden_sheets,
        limits,
        ..Input::at(path)
    };
    let given: Vec<Input> = args.files.into_iter().map(input).collect();
    let inputs: Vec<(Role, &Input)> = given.iter().map(|input| (args.role, input)).collect();
    let progress = Progress::start();
    let lists: Vec<List> = inputs::read_all(&inputs, &progress)?;
    progress.finish();
    print(|out| match args.format {
        Format::Text => report::terminal::lines(&lists, out),
        Format::Json => report::json::lines(&lists, out),
    })?;
    Ok(ExitCode::SUCCESS)
}
