//! The workbook against the same cells written by the library alone; the audit against settling.

use std::{path::Path, process::Command};

use calamine::{Data, Range, Reader, Xlsx, open_workbook};
use rust_xlsxwriter::{Format, Workbook};
use tallybin::{
    audit::{Audit, audit},
    bins::{Layout, lay_out},
    kit::{Input, Job, List, Role},
    report,
    settle::{Account, settle},
};

use super::{memory, ratio, write_list};

/// Lines of each of the two lists: Every line has as many rows as both together.
const LINES: u64 = 50_000;
const DISTINCT: u64 = 5_000;
/// What the workbook may take beside the settled job: its distinct texts and some rows' heights are kept
/// until it is saved.
const BOUND: u64 = 128 << 20;

/// A settled job of two lists.
struct Settled {
    job: Job,
    lists: Vec<List>,
    account: Account,
    layout: Layout,
    audit: Audit,
}

const LISTS: [(u64, &str, Role, &str); 2] = [
    (0x9e37_79b9, "parts.csv", Role::Required, "Qty"),
    (0xd1b5_4a32, "slip.csv", Role::Shipped, "Shipped"),
];

impl Settled {
    fn of(folder: &Path) -> std::io::Result<Settled> {
        let mut lists = Vec::new();
        for (seed, file, role, heading) in LISTS {
            let path = folder.join(file);
            write_list(&path, seed, LINES, DISTINCT, heading)?;
            let list = List::read(&Input::at(&path), file.to_owned(), role, &|_| {});
            lists.push(list.expect("the list reads"));
        }
        let job = Job::default();
        let account = settle(&job, &lists).expect("the job settles");
        Ok(Settled {
            layout: lay_out(&job.trays, job.bin_per, &account),
            audit: audit(&job, &lists),
            job,
            lists,
            account,
        })
    }

    fn report(&self, path: &Path) -> u64 {
        let Settled {
            job,
            lists,
            account,
            layout,
            audit,
        } = self;
        report::workbook::write(path, true, job, lists, account, layout, audit)
            .expect("the workbook is written");
        1
    }
}

/// The cells of every sheet of a workbook.
fn cells_of(path: &Path) -> Vec<Range<Data>> {
    let mut book: Xlsx<_> = open_workbook(path).expect("the workbook opens");
    let names = book.sheet_names();
    names
        .iter()
        .map(|name| book.worksheet_range(name).expect("a sheet"))
        .collect()
}

/// Writes the same cells with the library alone, row by row in little memory, in one format.
fn write_cells(path: &Path, sheets: &[Range<Data>]) -> u64 {
    let mut workbook = Workbook::new();
    let format = Format::new().set_font_name("Arial").set_font_size(10);
    for range in sheets {
        let sheet = workbook
            .add_worksheet_with_constant_memory()
            .expect("a sheet");
        for (row, column, cell) in range.cells() {
            let (row, column) = (row as u32, column as u16);
            match cell {
                Data::Empty => continue,
                Data::Float(figure) => {
                    sheet.write_number_with_format(row, column, *figure, &format)
                }
                text => sheet.write_string_with_format(row, column, text.to_string(), &format),
            }
            .expect("a cell");
        }
    }
    workbook.save(path).expect("the workbook is written");
    1
}

pub fn report_and_audit(folder: &Path) -> std::io::Result<()> {
    let settled = Settled::of(folder)?;
    let (written, floor) = (folder.join("report.xlsx"), folder.join("floor.xlsx"));
    settled.report(&written);
    let cells = cells_of(&written);
    let rows: usize = cells.iter().map(Range::height).sum();
    ratio(
        &format!("the report, {rows} rows, against rust_xlsxwriter"),
        "1.3",
        || write_cells(&floor, &cells),
        || settled.report(&written),
    );
    let run = |output: Option<&Path>| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tallybin"));
        command.args(["reconcile", "--force"]);
        for ((_, file, ..), flag) in LISTS.into_iter().zip(["--required", "--shipped"]) {
            command.arg(flag).arg(folder.join(file));
        }
        if let Some(output) = output {
            command.arg("-o").arg(output);
        }
        memory::peak(&mut command)
    };
    let taken = run(Some(&written)).zip(run(None));
    memory::print(
        "  memory beyond the settled job's",
        "128 MB",
        taken.map(|(with, without)| with.saturating_sub(without)),
        BOUND,
    );
    ratio(
        "the audit of 50,000 required lines, against settling",
        "1",
        || settle(&settled.job, &settled.lists).map_or(0, |a| a.items.len() as u64),
        || audit(&settled.job, &settled.lists).findings.len() as u64,
    );
    Ok(())
}
