//! `tallybin draft`: a first job file, from the lists.

use std::{
    cmp::Reverse,
    io::Write,
    path::{Path, PathBuf},
    process::ExitCode,
};

use super::{inputs, limits::LimitArgs, print, progress::Progress};
use crate::{
    error::{At, Error, Result},
    kit::{
        Input, Job, List, Role,
        draft::{self, Guess},
    },
    report::{file, wording},
    settle::{Account, settle},
    words::walking_order,
};

/// Draft a first job file from the lists: what each file is, options, stages, repetitions.
#[derive(clap::Args)]
pub struct Args {
    /// Parts list, assembly guide, packing slip, bench count: whatever there is.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Write the job file here; else it is printed.
    #[arg(short, long, value_name = "JOB.toml")]
    output: Option<PathBuf>,
    /// Replace an existing job file.
    #[arg(long)]
    force: bool,
    #[command(flatten)]
    limits: LimitArgs,
}

pub fn run(args: Args) -> Result<ExitCode> {
    if let Some(output) = &args.output {
        inputs::refuse_as_output(output, args.files.iter().map(PathBuf::as_path))?;
        file::check_path(output, args.force)?;
    }
    let folder = args.output.as_deref().and_then(Path::parent);
    let folder = folder.filter(|folder| !folder.as_os_str().is_empty());
    let limits = args.limits.limits();
    let mut given: Vec<Input> = (args.files.iter())
        .map(|path| Input {
            shown: draft::path_from(folder.unwrap_or(Path::new(".")), path),
            limits,
            ..Input::at(path)
        })
        .collect();
    // What comes of `draft *` in the folder of an earlier job.
    let is_job = |path: &&PathBuf| {
        path.extension()
            .is_some_and(|kind| kind.eq_ignore_ascii_case("toml"))
    };
    if let Some(job) = args.files.iter().find(is_job) {
        let found = "a job file, not a list";
        return Err(Error::input(At::file(job), found, "give the lists alone"));
    }
    let tables = draft::Tables::take(&mut given);
    let mut guesses = given.iter().map(draft::guess).collect::<Result<Vec<_>>>()?;
    draft::settle_guesses(&mut guesses);
    let roles: Vec<(Role, &Input)> = guesses.iter().map(|of| of.role).zip(&given).collect();
    let progress = Progress::start();
    let lists = inputs::read_all(&roles, &progress)?;
    progress.finish();
    let mut read: Vec<_> = lists.into_iter().zip(guesses).collect();
    // A parts list says more surely than a guide in sentences what is required, and a later revision more
    // than an earlier one.
    read.sort_by_cached_key(|(list, _)| {
        let revision = list
            .revision
            .as_deref()
            .filter(|_| list.role == Role::Required);
        (list.from_sentences, Reverse(revision.map(walking_order)))
    });
    let settled = settled(&read);
    let job = match &args.output {
        Some(output) => output.to_string_lossy(),
        None => "job.toml".into(),
    };
    // As a job without a job file is called.
    let mut required = read.iter().filter(|(list, _)| list.role == Role::Required);
    let name = match required.next().and_then(|(list, _)| list.path.file_stem()) {
        Some(stem) => stem.to_string_lossy().into_owned(),
        None => "job".to_owned(),
    };
    let command = format!("tallybin reconcile {job} -o report.xlsx");
    let found = draft::Found {
        // All of a draft's are comments.
        names: (settled.iter().flat_map(wording::names_to_join))
            .map(|line| line.trim_start_matches("# ").to_owned())
            .collect(),
        slip_times: settled.and_then(|account| account.times_required),
    };
    let text = draft::job_file(&name, &command, &read, &tables, &found);
    match &args.output {
        Some(output) => {
            file::replace(output, args.force, |out| out.write_all(text.as_bytes()))?;
            // Nothing is left to be done where standard error is closed.
            let _ = writeln!(
                std::io::stderr(),
                "The job file is in {}: read it through before you use it.",
                output.display()
            );
        }
        None => print(|out| out.write_all(text.as_bytes()))?,
    }
    Ok(ExitCode::SUCCESS)
}

/// The first required list against the others, where it can be settled.
fn settled(lists: &[(List, Guess)]) -> Option<Account> {
    let lists = lists.iter().map(|(list, _)| list);
    let (required, others): (Vec<_>, Vec<_>) = lists.partition(|list| list.role == Role::Required);
    let lists: Vec<List> = required
        .into_iter()
        .take(1)
        .chain(others)
        .cloned()
        .collect();
    settle(&Job::default(), &lists).ok()
}
