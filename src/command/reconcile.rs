//! `tallybin reconcile`: the whole job, from the lists to the workbook.

use crate::words::fold;
use std::{path::PathBuf, process::ExitCode, sync::LazyLock};

use rayon::prelude::*;

use super::{Format, SHORT, inputs, limits::LimitArgs, print, progress::Progress};
use crate::{
    audit, bins,
    error::{Error, Result},
    kit::{Input, Job, List, MOST_KITS, Role, job::SecondList},
    report,
    settle::{options, settle},
};

/// Settle required against shipped and counted, and write the workbook.
///
/// Takes a job file, or the lists themselves as flags. A flag takes the place of what the job file
/// says of the same thing. Exits 0, or 1 with --fail-on-short when anything is short, or 2 on an
/// error.
#[derive(clap::Args)]
pub struct Args {
    /// A job file (TOML); its paths are relative to itself.
    #[arg(value_name = "JOB")]
    job: Option<PathBuf>,
    /// A parts list or assembly guide. May be given again.
    #[arg(long, value_name = "FILE")]
    required: Vec<PathBuf>,
    /// Required lists that name the same items in the same stages are added up.
    #[arg(long, conflicts_with = "required_checks")]
    required_adds: bool,
    /// The first required list is what is required; those after it are held against it, and only
    /// where they differ is reported.
    #[arg(long)]
    required_checks: bool,
    /// A packing slip. May be given again.
    #[arg(long, value_name = "FILE")]
    shipped: Vec<PathBuf>,
    /// A bench count, such as a filled Count sheet. May be given again.
    #[arg(long, value_name = "FILE")]
    counted: Vec<PathBuf>,
    /// What the shop has of its own: it fills what the kit lacks, and is listed to be put back. May be
    /// given again.
    #[arg(long, value_name = "FILE")]
    stock: Vec<PathBuf>,
    /// Count the hidden sheets of workbooks, too.
    #[arg(long)]
    hidden_sheets: bool,
    /// A count of what lies on the bench when the build is done. May be given again.
    #[arg(long, value_name = "FILE")]
    leftover: Vec<PathBuf>,
    /// A table of what may be used in place of what. May be given again.
    #[arg(long, value_name = "FILE")]
    substitutes: Vec<PathBuf>,
    /// A table of what maker's numbers stand for, kept from earlier jobs: columns number, item, note.
    /// May be given again.
    #[arg(long, value_name = "FILE")]
    numbers: Vec<PathBuf>,
    /// How many kits are wanted; multiplies what is required.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..=MOST_KITS))]
    kits: Option<u64>,
    /// Build with an option that the lists name. May be given again.
    #[arg(long, value_name = "NAME")]
    with: Vec<String>,
    /// Build without an option that the lists name. May be given again.
    #[arg(long, value_name = "NAME")]
    without: Vec<String>,
    /// Write the workbook here.
    #[arg(short, long, value_name = "REPORT.xlsx")]
    output: Option<PathBuf>,
    /// Write the claim here, as a workbook or as CSV by the ending.
    #[arg(long, value_name = "CLAIM.xlsx|.csv")]
    claim: Option<PathBuf>,
    /// Write a page for phone and print here; it holds the length gauge, too.
    #[arg(long, value_name = "REPORT.html")]
    html: Option<PathBuf>,
    /// Replace an existing output.
    #[arg(long)]
    force: bool,
    /// Print the whole account of one item instead of the verdict: its text, id or part number.
    #[arg(long, value_name = "ITEM")]
    item: Option<String>,
    #[command(flatten)]
    limits: LimitArgs,
    /// How to print the verdict.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// Exit with 1 when anything is short.
    #[arg(long)]
    fail_on_short: bool,
}

impl Args {
    /// The job: what the job file says, with the flags in its place where they say something.
    fn job(&self) -> Result<Job> {
        let mut job = match &self.job {
            Some(path) => Job::load(path)?,
            None => Job::default(),
        };
        for (paths, inputs) in [
            (&self.required, &mut job.required),
            (&self.shipped, &mut job.shipped),
            (&self.counted, &mut job.counted),
            (&self.stock, &mut job.stock),
            (&self.leftover, &mut job.leftover),
        ] {
            if !paths.is_empty() {
                *inputs = paths.iter().map(Input::at).collect();
            }
        }
        if self.job.is_none()
            && let Some(list) = job.required.first()
            && let Some(stem) = list.path.file_stem()
        {
            job.name = stem.to_string_lossy().into_owned();
        }
        if self.required_adds {
            job.second_list = SecondList::Adds;
        }
        if self.required_checks {
            job.second_list = SecondList::Checks;
        }
        let limits = self.limits.limits();
        job.limits = limits;
        let table = |path: &PathBuf| Input {
            limits,
            ..Input::at(path)
        };
        if !self.substitutes.is_empty() {
            job.substitutes.clear();
            job.substitute_tables = self.substitutes.iter().map(table).collect();
            job.read_substitutes()?;
        }
        if !self.numbers.is_empty() {
            job.numbers.clear();
            job.number_tables = self.numbers.iter().map(table).collect();
            job.read_numbers()?;
        }
        let lists = [
            &mut job.required,
            &mut job.shipped,
            &mut job.counted,
            &mut job.stock,
            &mut job.leftover,
        ];
        for inputs in lists {
            for input in inputs {
                input.limits = limits;
                input.hidden_sheets |= self.hidden_sheets;
            }
        }
        if let Some(kits) = self.kits {
            job.kits = kits;
        }
        let names = |given: &[String]| given.iter().map(|name| fold(name)).collect::<Vec<_>>();
        let (with, without) = (names(&self.with), names(&self.without));
        job.with.retain(|name| !without.contains(name));
        job.without.retain(|name| !with.contains(name));
        job.with.extend(with);
        job.without.extend(without);
        if job.required.is_empty() {
            return Err(Error::Arguments {
                found: "no required list is given, so there is nothing to settle".to_owned(),
                todo: "name a job file, or give the parts list with --required FILE".to_owned(),
            });
        }
        if self.required_checks && job.required.len() < 2 {
            return Err(Error::Arguments {
                found: "--required-checks holds a second required list against the first, and one \
                        is given"
                    .to_owned(),
                todo: "give the second list with another --required FILE".to_owned(),
            });
        }
        Ok(job)
    }
}

pub fn run(args: Args) -> Result<ExitCode> {
    let mut job = args.job()?;
    let given: Vec<(Role, &Input)> = job.inputs().collect();
    let inputs_of_job = || {
        let lists = given.iter().map(|(_, input)| input.path.as_path());
        let tables = job.substitute_tables.iter().chain(&job.number_tables);
        let tables = tables.map(|input| input.path.as_path());
        lists.chain(tables).chain(args.job.as_deref())
    };
    if let Some(output) = &args.output {
        inputs::refuse_as_output(output, inputs_of_job())?;
        report::file::check_path(output, args.force)?;
        report::file::check_ending(output, "a workbook", &["xlsx"])?;
    }
    if let Some(claim) = &args.claim {
        inputs::refuse_as_output(claim, inputs_of_job())?;
        report::claim::refuse_existing(claim, args.force)?;
    }
    if let Some(page) = &args.html {
        inputs::refuse_as_output(page, inputs_of_job())?;
        report::file::check_path(page, args.force)?;
        report::file::check_ending(page, "a page", &["html", "htm"])?;
    }
    inputs::refuse_two_outputs(&[
        ("workbook", "-o", args.output.as_deref()),
        ("claim", "--claim", args.claim.as_deref()),
        ("page", "--html", args.html.as_deref()),
    ])?;
    let progress = Progress::start();
    let mut lists = inputs::read_all(&given, &progress)?;
    (lists.iter_mut()).for_each(|list| list.ask_about_kits(job.kits));
    options::call_as_listed(&mut job, &lists);
    // Reports show rows as written, and so does the refusal of two required lists that say the same.
    let outputs = [&args.output, &args.claim, &args.html];
    if args.format == Format::Json
        && job.required.len() == 1
        && outputs.iter().all(|output| output.is_none())
    {
        lists.par_iter_mut().for_each(List::forget_texts);
    }
    progress.doing("settling");
    let (account, audit) = rayon::join(|| settle(&job, &lists), || audit::audit(&job, &lists));
    let account = account?;
    let items = match &args.item {
        Some(text) => Some(account.look_up(text)?),
        None => None,
    };
    let layout = LazyLock::new(|| bins::lay_out(&job.trays, job.bin_per, &account));
    if let Some(output) = &args.output {
        progress.doing("writing the workbook");
        report::workbook::write(output, args.force, &job, &lists, &account, &layout, &audit)?;
    }
    if let Some(claim) = &args.claim {
        progress.doing("writing the claim");
        report::claim::write(claim, args.force, &job, &lists, &account)?;
    }
    if let Some(page) = &args.html {
        progress.doing("writing the page");
        report::html::write(page, args.force, &job, &lists, &account, &layout, &audit)?;
    }
    progress.finish();
    print(|out| match (&items, args.format) {
        (Some(items), Format::Json) => report::json::items(&job, &lists, &account, items, out),
        (Some(items), Format::Text) => report::item::explain(&job, &lists, &account, items, out),
        (None, Format::Json) => report::json::account(&job, &lists, &account, &layout, &audit, out),
        (None, Format::Text) => {
            report::terminal::verdict(&job, &lists, &account, &audit, &mut *out)?;
            match &args.output {
                Some(output) => writeln!(out, "\nThe workbook is in {}.", output.display())?,
                None => writeln!(
                    out,
                    "\nNo workbook was written: name one with -o REPORT.xlsx."
                )?,
            }
            if let Some(claim) = &args.claim {
                writeln!(out, "The claim is in {}.", claim.display())?;
            }
            match &args.html {
                Some(page) => writeln!(out, "The page is in {}.", page.display()),
                None => Ok(()),
            }
        }
    })?;
    let short = account.totals.short > 0;
    // The process ends here, which frees a million lines sooner than dropping each would.
    std::mem::forget(layout);
    std::mem::forget((lists, account));
    Ok(if short && args.fail_on_short {
        ExitCode::from(SHORT)
    } else {
        ExitCode::SUCCESS
    })
}
