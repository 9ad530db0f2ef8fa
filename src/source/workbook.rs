//! Workbooks: xlsx and xlsm, xlsb, xls, ods.

use std::{
    fs::File,
    io::BufReader,
    ops::ControlFlow,
    path::{Path, PathBuf},
    thread,
};

use calamine::{Ods, Reader, Sheet, SheetType, SheetVisible, Xls, Xlsb};
use rustc_hash::FxHashSet;

use super::{
    Each, Format, SheetInfo,
    batch::batches,
    broken::{Broken, Found, Stop, shield},
    compound,
    displayed::{Shown, of_sheet},
    guard::{self, Package, Sheets},
    limits::Limits,
    row::Row,
    sheet_rows::{Rows, Value},
    xlsx::Xlsx,
};
use crate::error::{At, Error, Result};

type Input = BufReader<File>;

/// An opened workbook.
pub struct Workbook {
    path: PathBuf,
    limits: Limits,
    sheets: Vec<SheetInfo>,
    /// Which of all the workbook's sheets they are.
    places: Vec<usize>,
    book: Book,
}

enum Book {
    Xlsx(Box<Xlsx>),
    Xlsb(Box<Xlsb<Input>>),
    Xls(Box<Xls<Input>>),
    Ods(Box<Ods<Input>>, Vec<Shown>),
}

impl Workbook {
    /// Opens a workbook; `ole`: it is an OLE compound file, not a zip.
    pub fn open(path: &Path, ole: bool, limits: &Limits) -> Result<Workbook> {
        let broken = |error: Broken| error.at(path, limits);
        let file = File::open(path).map_err(|error| broken(Broken::Damaged(error.to_string())))?;
        let (book, all) = if ole {
            compound::check(path, limits)?;
            open_ole(BufReader::new(file)).map_err(broken)?
        } else {
            let (package, sheets) = guard::check(path, limits)?;
            open_zip(package, sheets, file).map_err(broken)?
        };
        let (places, sheets): (Vec<usize>, Vec<SheetInfo>) = all
            .into_iter()
            .enumerate()
            .filter(|(_, sheet)| sheet.typ == SheetType::WorkSheet)
            .map(|(place, sheet)| {
                let info = SheetInfo {
                    name: Some(sheet.name),
                    hidden: sheet.visible != SheetVisible::Visible,
                };
                (place, info)
            })
            .unzip();
        refuse_same_names(path, &sheets)?;
        Ok(Workbook {
            path: path.to_owned(),
            limits: *limits,
            sheets,
            places,
            book,
        })
    }

    pub fn format(&self) -> Format {
        match self.book {
            Book::Xlsx(_) => Format::Xlsx,
            Book::Xlsb(_) => Format::Xlsb,
            Book::Xls(_) => Format::Xls,
            Book::Ods(..) => Format::Ods,
        }
    }

    pub fn sheets(&self) -> &[SheetInfo] {
        &self.sheets
    }

    /// Hands on the rows of a sheet. They are parsed on a thread of their own, since taking them in
    /// takes about as long as parsing them.
    pub fn rows(&mut self, sheet: usize, each: &mut Each<'_>) -> Result<()> {
        let name = self.sheets[sheet].name.as_deref().unwrap_or_default();
        let at = At {
            sheet: Some(name.to_owned()),
            ..At::file(&self.path)
        };
        let (limits, place, book) = (&self.limits, self.places[sheet], &mut self.book);
        thread::scope(|scope| {
            let (mut full, batches, empty) = batches();
            let parser = scope.spawn(move || {
                let mut hand_on = |row: &Row| Ok(full.push(row));
                let mut rows = Rows::new(at.clone(), limits, &mut hand_on);
                let parsed = shield(|| Ok::<_, Broken>(parse(book, place, name, &mut rows)));
                match parsed {
                    Ok(Ok(())) if rows.end()?.is_continue() => {}
                    Ok(Ok(())) | Ok(Err(Stop::Enough)) => return Ok(()),
                    Ok(Err(Stop::Broken(broken))) | Err(broken) => {
                        return Err(broken.in_sheet(at, limits));
                    }
                    Ok(Err(Stop::Wrong(error))) => return Err(error),
                }
                // Whether anyone takes the last rows is all one.
                let _ = full.send();
                Ok(())
            });
            for batch in batches {
                for row in batch.rows() {
                    if each(row)?.is_break() {
                        return Ok(());
                    }
                }
                // The parser may be done and gone.
                let _ = empty.send(batch);
            }
            parser
                .join()
                .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        })
    }
}

/// Parses a sheet into rows, all but the last of which are handed on.
fn parse(
    book: &mut Book,
    place: usize,
    name: &str,
    rows: &mut Rows<'_, '_>,
) -> std::result::Result<(), Stop> {
    let go_on = |taken: Result<ControlFlow<()>>| match taken {
        Ok(ControlFlow::Continue(())) => Ok(()),
        Ok(ControlFlow::Break(())) => Err(Stop::Enough),
        Err(error) => Err(Stop::Wrong(error)),
    };
    match book {
        Book::Xlsx(book) => book.rows(place, rows),
        Book::Xlsb(book) => {
            let mut cells = book.worksheet_cells_reader(name)?;
            while let Some(cell) = cells.next_cell()? {
                go_on(rows.value(cell.get_position(), Value::from(cell.get_value())))?;
            }
            Ok(())
        }
        Book::Xls(book) => go_on(rows.range(&book.worksheet_range(name)?, &[])),
        Book::Ods(book, shown) => {
            let shown = of_sheet(shown, place);
            go_on(rows.range(&book.worksheet_range(name)?, shown))
        }
    }
}

fn open_ole(input: Input) -> Found<(Book, Vec<Sheet>)> {
    let book = shield(|| Xls::new(input))?;
    let sheets = book.sheets_metadata().to_vec();
    Ok((Book::Xls(Box::new(book)), sheets))
}

fn open_zip(package: Package, sheets: Sheets, file: File) -> Found<(Book, Vec<Sheet>)> {
    let input = BufReader::new(file);
    Ok(match package {
        Package::Xlsx => {
            let book = Xlsx::open(input.into_inner(), sheets)?;
            let sheets = book.sheets().to_vec();
            (Book::Xlsx(Box::new(book)), sheets)
        }
        Package::Xlsb => {
            let book = shield(|| Xlsb::new(input))?;
            let sheets = book.sheets_metadata().to_vec();
            (Book::Xlsb(Box::new(book)), sheets)
        }
        Package::Ods => {
            let book = shield(|| Ods::new(input))?;
            let all = book.sheets_metadata().to_vec();
            (Book::Ods(Box::new(book), sheets.shown), all)
        }
    })
}

/// Stages and addresses go by a sheet's name, so two of one name cannot be told apart.
fn refuse_same_names(path: &Path, sheets: &[SheetInfo]) -> Result<()> {
    let mut known = FxHashSet::default();
    for sheet in sheets {
        let lower = sheet.name.as_ref().map(|name| name.trim().to_lowercase());
        if !known.insert(lower) {
            return Err(Error::input(
                At {
                    sheet: sheet.name.clone(),
                    ..At::file(path)
                },
                "two sheets have this name",
                "give each sheet a name of its own",
            ));
        }
    }
    Ok(())
}
