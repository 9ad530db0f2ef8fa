//! `tallybin read`: how each line of a file reads.

use std::{path::PathBuf, process::ExitCode};

use super::{Format, inputs, limits::LimitArgs, print, progress::Progress};
use crate::{
    error::{Error, Result},
    kit::{Input, List, Role},
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
    /// Show how each line was understood: what each piece of it was taken for, and the ways to read it.
    #[arg(long)]
    why: bool,
    /// Show only what stands on this row or line. May be given again.
    #[arg(long = "row", value_name = "N")]
    rows: Vec<u32>,
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
        keep_words: args.why,
        limits,
        ..Input::at(path)
    };
    let given: Vec<Input> = args.files.into_iter().map(input).collect();
    let inputs: Vec<(Role, &Input)> = given.iter().map(|input| (args.role, input)).collect();
    let progress = Progress::start();
    let mut lists: Vec<List> = inputs::read_all(&inputs, &progress)?;
    progress.finish();
    if !args.rows.is_empty() {
        for list in &mut lists {
            list.lines.retain(|line| args.rows.contains(&line.row));
        }
        if let Some(row) = args.rows.iter().find(|row| {
            let mut lines = lists.iter().flat_map(|list| &list.lines);
            !lines.any(|line| line.row == **row)
        }) {
            return Err(Error::Arguments {
                found: format!("no line stands on row {row}"),
                todo: "give the row of a line; without --row all are shown".to_owned(),
            });
        }
    }
    print(|out| match args.format {
        Format::Text => report::terminal::lines(&lists, out),
        Format::Json => report::json::lines(&lists, out),
    })?;
    Ok(ExitCode::SUCCESS)
}
