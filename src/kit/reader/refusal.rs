//! Why a file is refused: what was found in it, and what to do.

use std::{borrow::Cow, ops::ControlFlow};

use super::{
    super::{guide::is_prose, input::Input, role::Role},
    Reader,
};
use crate::{
    Result,
    columns::furniture,
    error::{At, Error},
    source::{Document, Format, Row, SheetInfo},
    words::fold,
};

/// Refuses a sheet that the job says something of, and that is not there.
pub(super) fn refuse_unknown_sheets(input: &Input, file: &str, sheets: &[SheetInfo]) -> Result<()> {
    let names = || sheets.iter().filter_map(|sheet| sheet.name.as_deref());
    let unknown = |name: &&String| !names().any(|known| fold(known) == **name);
    let Some(name) = input.sheets.keys().find(unknown) else {
        return Ok(());
    };
    let todo = match names().collect::<Vec<_>>().as_slice() {
        [] => "take sheets out of the job file: the file has none".to_owned(),
        names => format!("write one of its sheets: {}", names.join(", ")),
    };
    let found = format!("the job file's sheets name \"{name}\", and there is no such sheet");
    Err(Error::input(At::file(file), found, todo))
}

/// Refuses a file of the program's own that is no list: its report, of which the Count sheet alone is one, and a
/// job file.
pub(super) fn refuse_own(
    file: &str,
    role: Role,
    sheets: &[SheetInfo],
    heads: &[Vec<Row>],
    format: Format,
) -> Result<()> {
    let has = |name: &str| {
        sheets
            .iter()
            .any(|sheet| sheet.name.as_deref() == Some(name))
    };
    let counts = matches!(role, Role::Counted | Role::LeftOver);
    let is_report = ["Summary", "Count sheet", "Every line"]
        .into_iter()
        .all(has);
    if is_report && !counts {
        let found = format!("it is a report of this program, given as what is {role}");
        let todo =
            "give the list itself; of a report, only the Count sheet is read, with --counted";
        return Err(Error::input(At::file(file), found, todo));
    }
    let is_key = |row: &Row| {
        let key = row.get(0).split('=').next().unwrap_or_default().trim();
        matches!(key, "required" | "shipped" | "counted") && row.get(0).contains("= [")
    };
    if format == Format::Text && heads.iter().flatten().any(is_key) {
        let found = format!("it is a job file, given as what is {role}");
        let todo = "give it by itself, without a flag: tallybin reconcile job.toml";
        return Err(Error::input(At::file(file), found, todo));
    }
    Ok(())
}

/// Cells of a row that a message shows.
const SHOWN_CELLS: usize = 20;

/// The error that shows the first rows as read and says how to name the columns.
pub(super) fn no_columns(document: &Document, heads: &[Vec<Row>], input: &Input) -> Error {
    let sheet = heads.iter().position(|head| !head.is_empty());
    let at = At {
        sheet: sheet.and_then(|index| document.sheets()[index].name.clone()),
        ..At::file(document.path())
    };
    let mut found = if input.columns.is_empty() {
        "no heading row is understood, and the lines do not read as items".to_owned()
    } else {
        let named: Vec<String> = input
            .columns
            .iter()
            .map(|(meaning, heading)| format!("\"{heading}\" ({meaning})"))
            .collect();
        format!(
            "no row holds the headings that the job file names: {}",
            named.join(", ")
        )
    };
    let rows = sheet.map_or(&[][..], |index| heads[index].as_slice());
    let filled: Vec<&Row> = rows.iter().filter(|row| !row.is_empty()).take(5).collect();
    if !filled.is_empty() {
        found.push_str("; the first rows as read:");
    }
    for row in filled {
        let mut cells: Vec<Cow<'_, str>> = row
            .cells()
            .take(SHOWN_CELLS)
            .map(|(text, _)| shorten(text))
            .collect();
        if row.len() > SHOWN_CELLS {
            cells.push(Cow::Borrowed("…"));
        }
        found.push_str(&format!("\n    {}: {}", row.number, cells.join(" | ")));
    }
    let todo = if input.columns.is_empty() {
        "write a heading row above the rows, such as Item | Qty (or Part no. | Qty); or, where there is one, name its \
         columns in a job file, beside this file: columns = { quantity = \"...\", description = \"...\" }; README.md lists the \
         other keys, such as part_number, size and stage"
    } else {
        "write the headings in the job file as they stand above the rows of this file"
    };
    Error::input(at, found, todo.to_owned())
}

/// The error for a guide that names no hardware, with the headings that it has.
pub(super) fn no_hardware(document: &mut Document, role: Role) -> Result<Option<Error>> {
    if document.format() != Format::Text || role != Role::Required {
        return Ok(None);
    }
    let mut headings: Vec<String> = Vec::new();
    let mut prose = false;
    let mut text = String::new();
    document.rows(0, &mut |row| {
        row.join_into(&mut text);
        let heading = furniture::stage_title(&text)
            .or_else(|| furniture::markdown_heading(&text).map(|(_, heading)| heading));
        headings.extend(heading.map(|heading| format!("\"{}\"", shorten(heading))));
        prose |= is_prose(&text);
        Ok(ControlFlow::Continue(()))
    })?;
    if !prose && headings.is_empty() {
        return Ok(None);
    }
    let found = if headings.is_empty() {
        "no hardware is named in it, and it has no headings".to_owned()
    } else {
        format!(
            "no hardware is named in it; its headings: {}",
            headings.join(", ")
        )
    };
    let todo = "give the parts list, or a guide whose sentences name the hardware \
                (\"with four 5/8 x 6 hex bolts\")";
    Ok(Some(Error::input(
        At::file(document.path()),
        found,
        todo.to_owned(),
    )))
}

/// At most so much of a cell as a message can show.
fn shorten(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(40) {
        Some((end, _)) => Cow::Owned(format!("{}…", &text[..end])),
        None => Cow::Borrowed(text),
    }
}

impl Reader<'_> {
    /// Refuses a repetition that the job confirms where no sentence repeats.
    pub(super) fn refuse_idle_repeats(&self) -> Result<()> {
        let Some((row, found)) = self.guide.idle_repeat() else {
            return Ok(());
        };
        let lines: Vec<String> = found.keys().map(u32::to_string).collect();
        let todo = match lines.as_slice() {
            [] => {
                "take it out of repeats: no sentence of this file repeats one before it".to_owned()
            }
            lines => format!(
                "take it out of repeats, or name the line on which a sentence that repeats starts: {}",
                lines.join(", ")
            ),
        };
        Err(Error::input(
            At {
                row: Some(row),
                ..At::file(&self.list.file)
            },
            "the job file's repeats name this line, and no sentence that repeats starts on it",
            todo,
        ))
    }
}
