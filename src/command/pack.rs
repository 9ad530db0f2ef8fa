//! `tallybin pack`: whole kits of several orders from the shop's own stock.

use std::{path::PathBuf, process::ExitCode};

use super::{Format, SHORT, inputs, limits::LimitArgs, print, progress::Progress};
use crate::{
    error::{At, Error, Result},
    kit::{Input, Job, Role},
    report::{self, packing::packs::Packs},
    settle::packing::{Order, pack},
};

/// Pack whole kits of several orders from stock: how many there are, what stops the next one, what to
/// take from which bin, and what to order.
///
/// Each job file is an order of so many kits of one kind. Only their parts lists and the stock are
/// looked at. The most whole kits are packed in all; of several ways to the same number, the one that
/// favours the orders given first. Exits 0, or 1 with --fail-on-short when not every kit can be packed,
/// or 2 on an error.
#[derive(clap::Args)]
pub struct Args {
    /// Job files (TOML).
    #[arg(required = true, value_name = "JOB")]
    jobs: Vec<PathBuf>,
    /// A list of the shop's own stock; takes the place of those that the jobs name. May be given again.
    #[arg(long, value_name = "FILE")]
    stock: Vec<PathBuf>,
    /// Write the workbook here: the answer, the pull sheet, what to order.
    #[arg(short, long, value_name = "PACK.xlsx")]
    output: Option<PathBuf>,
    /// Write a packing slip for each kit into this folder.
    #[arg(long, value_name = "FOLDER")]
    slips: Option<PathBuf>,
    /// Replace existing outputs.
    #[arg(long)]
    force: bool,
    #[command(flatten)]
    limits: LimitArgs,
    /// How to print the answer.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// Exit with 1 when not every kit can be packed.
    #[arg(long)]
    fail_on_short: bool,
}

pub fn run(args: Args) -> Result<ExitCode> {
    let mut jobs = args
        .jobs
        .iter()
        .map(|path| Job::load(path))
        .collect::<Result<Vec<Job>>>()?;
    let limits = args.limits.limits();
    for job in &mut jobs {
        let lists = job.required.iter_mut().chain(&mut job.stock);
        lists.for_each(|input| input.limits = limits);
    }
    refuse_twice(&args.jobs)?;
    for (path, job) in args.jobs.iter().zip(&jobs) {
        if job.required.is_empty() {
            return Err(Error::input(
                At::file(path),
                "the job names no required list, so nobody knows what a kit holds",
                "name the parts list: required = [\"parts-list.xlsx\"]",
            ));
        }
    }
    let mut stock = stock(&args.stock, &jobs)?;
    stock.iter_mut().for_each(|input| input.limits = limits);
    let inputs_of_all = || {
        let of_jobs = jobs.iter().flat_map(|job| job.inputs());
        let lists = of_jobs.map(|(_, input)| input.path.as_path());
        let stock = stock.iter().map(|input| input.path.as_path());
        lists
            .chain(stock)
            .chain(args.jobs.iter().map(PathBuf::as_path))
    };
    if let Some(output) = &args.output {
        inputs::refuse_as_output(output, inputs_of_all())?;
        report::file::check_path(output, args.force)?;
        report::file::check_ending(output, "a workbook", &["xlsx"])?;
    }

    let progress = Progress::start();
    let names: Vec<(String, String)> = jobs
        .iter()
        .zip(&args.jobs)
        .map(|(job, path)| (job.name.clone(), path.to_string_lossy().replace('\\', "/")))
        .collect();
    let orders = jobs
        .iter()
        .map(|job| {
            let required: Vec<(Role, &Input)> = job
                .inputs()
                .filter(|(role, _)| matches!(role, Role::Required | Role::Compared))
                .collect();
            Ok(Order {
                lists: inputs::read_all(&required, &progress)?,
                job: job.clone(),
            })
        })
        .collect::<Result<Vec<Order>>>()?;
    let given: Vec<(Role, &Input)> = stock.iter().map(|input| (Role::Stock, input)).collect();
    let lists = inputs::read_all(&given, &progress)?;
    progress.doing("packing");
    let packing = pack(orders, &lists)?;
    let packs = Packs {
        orders: &names,
        stock: &lists,
        packing: &packing,
    };
    if let Some(folder) = &args.slips {
        let slips = report::packing::slips(folder, args.force, &packs)?;
        for (path, _) in &slips {
            inputs::refuse_as_output(path, inputs_of_all())?;
        }
    }
    if let Some(output) = &args.output {
        progress.doing("writing the workbook");
        report::packing::write(output, args.force, &packs)?;
    }
    let mut slips = 0;
    if let Some(folder) = &args.slips {
        progress.doing("writing the packing slips");
        slips = report::packing::write_slips(folder, args.force, &packs)?;
    }
    progress.finish();
    print(|out| match args.format {
        Format::Json => report::packing::json(&packs, out),
        Format::Text => {
            report::packing::text(&packs, &mut *out)?;
            match &args.output {
                Some(output) => writeln!(out, "\nThe workbook is in {}.", output.display())?,
                None => writeln!(
                    out,
                    "\nNo workbook was written: name one with -o PACK.xlsx."
                )?,
            }
            match &args.slips {
                Some(folder) => writeln!(
                    out,
                    "{} in {}.",
                    crate::words::count(slips, "packing slip"),
                    folder.display()
                ),
                None => Ok(()),
            }
        }
    })?;
    let short = packing.kits() < packing.wanted();
    Ok(if short && args.fail_on_short {
        ExitCode::from(SHORT)
    } else {
        ExitCode::SUCCESS
    })
}

/// The stock lists, each once: those of the flags, else those that any of the jobs names.
fn stock(given: &[PathBuf], jobs: &[Job]) -> Result<Vec<Input>> {
    let stock: Vec<Input> = match given.is_empty() {
        false => given.iter().map(Input::at).collect(),
        true => {
            let mut seen = Vec::new();
            let all = jobs.iter().flat_map(|job| &job.stock);
            all.filter(|input| {
                let real = input.path.canonicalize().unwrap_or(input.path.clone());
                let new = !seen.contains(&real);
                seen.push(real);
                new
            })
            .cloned()
            .collect()
        }
    };
    match stock.is_empty() {
        false => Ok(stock),
        true => Err(Error::Arguments {
            found: "no stock list is given, so there is nothing to pack from".to_owned(),
            todo: "give the shop's own list with --stock FILE, or name it in a job file".to_owned(),
        }),
    }
}

/// One job file is one order.
fn refuse_twice(jobs: &[PathBuf]) -> Result<()> {
    let mut seen = Vec::new();
    for path in jobs {
        let real = path.canonicalize().unwrap_or(path.clone());
        if seen.contains(&real) {
            return Err(Error::input(
                At::file(path),
                "the same job file is given twice",
                "give it once; its \"kits\" says how many",
            ));
        }
        seen.push(real);
    }
    Ok(())
}
