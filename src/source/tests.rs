//! Whole files: what opens, what is refused, and with which words.

mod foreign;
mod hostile;

use std::{
    fs,
    io::{Cursor, Write},
    path::PathBuf,
};

use rust_xlsxwriter::{ExcelDateTime, Format as CellFormat, Formula, Workbook};
use tempfile::TempDir;
use zip::{ZipWriter, write::SimpleFileOptions};

use super::*;

/// A file in a directory of its own, which goes with it.
struct Sample {
    _directory: TempDir,
    path: PathBuf,
}

fn sample(name: &str, bytes: &[u8]) -> Sample {
    let directory = tempfile::tempdir().unwrap();
    let path = directory.path().join(name);
    fs::write(&path, bytes).unwrap();
    Sample {
        _directory: directory,
        path,
    }
}

fn zip(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        zip.start_file(*name, SimpleFileOptions::default()).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// The error of opening a file and reading all of it, without the directory it lies in.
#[track_caller]
fn refused(name: &str, bytes: &[u8]) -> String {
    refused_by(&Limits::default(), name, bytes)
}

/// As [`refused`], under other limits than the usual ones.
#[track_caller]
fn refused_by(limits: &Limits, name: &str, bytes: &[u8]) -> String {
    let sample = sample(name, bytes);
    let error = read_within(limits, &sample.path).expect_err("the file is refused");
    let directory = format!("{}/", sample._directory.path().display());
    error.to_string().replace(&directory, "")
}

type Cells = Vec<(String, CellKind)>;

fn read(path: &Path) -> Result<Vec<(u32, bool, Cells)>> {
    read_within(&Limits::default(), path)
}

fn read_within(limits: &Limits, path: &Path) -> Result<Vec<(u32, bool, Cells)>> {
    let mut document = Document::open(path, limits)?;
    let mut rows = Vec::new();
    for sheet in 0..document.sheets().len() {
        document.rows(sheet, &mut |row| {
            let cells = row.cells().map(|(text, kind)| (text.to_owned(), kind));
            rows.push((row.number, row.hidden, cells.collect()));
            Ok(ControlFlow::Continue(()))
        })?;
    }
    Ok(rows)
}

/// The rows that hold anything, their cells joined.
fn texts(path: &Path) -> Vec<String> {
    read(path)
        .unwrap()
        .into_iter()
        .filter(|(.., cells)| cells.iter().any(|(text, _)| !text.is_empty()))
        .map(|(number, _, cells)| {
            let cells: Vec<String> = cells.into_iter().map(|(text, _)| text).collect();
            format!("{number}: {}", cells.join("|"))
        })
        .collect()
}

#[test]
fn a_missing_file() {
    let error = Document::open(Path::new("no/such/list.csv"), &Limits::default())
        .err()
        .unwrap();
    assert_eq!(
        error.to_string(),
        "no/such/list.csv: no such file\n  what to do: check the path and that you may read it"
    );
}

#[test]
fn a_directory() {
    let directory = tempfile::tempdir().unwrap();
    let error = Document::open(directory.path(), &Limits::default())
        .err()
        .unwrap()
        .to_string();
    assert!(
        error.ends_with(": a directory, not a file\n  what to do: name the list in it"),
        "{error}"
    );
}

#[test]
fn files_that_are_no_lists() {
    let save_as =
        "\n  what to do: save the list as a workbook (xlsx, xls, xlsb, ods), CSV or plain text";
    #[track_caller]
    fn case(name: &str, bytes: &[u8], expected: &str) {
        assert_eq!(refused(name, bytes), format!("{name}: {expected}"));
    }
    case(
        "list.csv",
        b"",
        "the file is empty\n  what to do: save the list again",
    );
    case(
        "list.txt",
        b" \n\n",
        "the file is empty\n  what to do: save the list again",
    );
    case(
        "list.pdf",
        b"%PDF-1.7 ...",
        &format!("a PDF, not a list{save_as}"),
    );
    case(
        "list.bin",
        &[0, 1, 2, 3, 4, 5, 6, 7, 8, 14, 15],
        &format!("neither a workbook nor text{save_as}"),
    );
    case(
        "list.xlsx",
        &zip(&[("readme.txt", b"hello")]),
        &format!("a zip that is no workbook{save_as}"),
    );
    case(
        "list.xlsx",
        &zip(&[
            ("[Content_Types].xml", b"<a/>"),
            ("word/document.xml", b"<a/>"),
        ]),
        &format!("a text document, not a list{save_as}"),
    );
}

fn small_workbook() -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 0, "Qty").unwrap();
    sheet.write(0, 1, "Item").unwrap();
    sheet.write(1, 0, 4).unwrap();
    sheet.write(1, 1, "hex bolt").unwrap();
    book.save_to_buffer().unwrap()
}

#[test]
fn a_workbook_cut_short() {
    let whole = small_workbook();
    for part in [1, 2, 3] {
        let error = refused("list.xlsx", &whole[..whole.len() * part / 4]);
        assert!(
            error.starts_with("list.xlsx: the workbook is damaged or cut short (")
                && error.ends_with(")\n  what to do: open it in a spreadsheet program and save it again, or ask for it again"),
            "{error}"
        );
    }
}

#[test]
fn the_content_decides_what_a_file_is() {
    let named_wrongly = sample("list.csv", &small_workbook());
    assert_eq!(texts(&named_wrongly.path), ["1: Qty|Item", "2: 4|hex bolt"]);
    let text = sample("list.xlsx", b"Qty;Item\n4;hex bolt\n");
    let document = Document::open(&text.path, &Limits::default()).unwrap();
    assert_eq!(document.format(), Format::Delimited(b';'));
}

#[test]
fn cells_of_a_workbook() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let date = CellFormat::new().set_num_format("d-mmm");
    sheet.write(0, 0, 0.1).unwrap();
    sheet.write(0, 1, 1_000_000).unwrap();
    sheet.write(0, 2, 3.75).unwrap();
    sheet.write(0, 3, true).unwrap();
    let eighth_of_march = ExcelDateTime::from_ymd(2002, 3, 8).unwrap();
    sheet
        .write_with_format(0, 4, &eighth_of_march, &date)
        .unwrap();
    sheet.write(0, 5, "  1/2 ").unwrap();
    sheet
        .write(0, 6, Formula::new("1+1").set_result("2"))
        .unwrap();
    let sample = sample("list.xlsx", &book.save_to_buffer().unwrap());
    let rows = read(&sample.path).unwrap();
    let expected = [
        ("0.1", CellKind::Number),
        ("1000000", CellKind::Number),
        ("3.75", CellKind::Number),
        ("TRUE", CellKind::Bool),
        ("2002-03-08", CellKind::Date),
        ("1/2", CellKind::Text),
        ("2", CellKind::Number),
    ];
    let expected: Cells = expected
        .iter()
        .map(|(text, kind)| ((*text).to_owned(), *kind))
        .collect();
    assert_eq!(rows, [(1, false, expected)]);
}

const TYPES: &[u8] = br#"<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>"#;
const RELS: &[u8] = br#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
const BOOK_RELS: &[u8] = br#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>"#;

/// An xlsx of one sheet with this sheet data, and these further parts.
pub(crate) fn xlsx_with(workbook_properties: &str, data: &str, more: &[(&str, &[u8])]) -> Vec<u8> {
    xlsx_named("List", workbook_properties, data, more)
}

fn xlsx_named(
    name: &str,
    workbook_properties: &str,
    data: &str,
    more: &[(&str, &[u8])],
) -> Vec<u8> {
    let book = format!(
        r#"<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">{workbook_properties}<sheets><sheet name="{name}" sheetId="1" r:id="rId1"/></sheets></workbook>"#
    );
    let sheet = format!(
        r#"<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{data}</sheetData></worksheet>"#
    );
    let mut parts: Vec<(&str, &[u8])> = vec![
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.xml", book.as_bytes()),
        ("xl/_rels/workbook.xml.rels", BOOK_RELS),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ];
    parts.extend_from_slice(more);
    zip(&parts)
}

const STYLES: &[u8] = br#"<?xml version="1.0"?><styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="16"/></cellXfs></styleSheet>"#;

#[test]
fn both_date_systems() {
    // Day 37323 of the 1900 system is 8 March 2002; the 1904 system begins 1462 days later.
    let row = r#"<row r="1"><c r="A1" s="1"><v>37323</v></c></row>"#;
    let in_1900 = sample(
        "list.xlsx",
        &xlsx_with("", row, &[("xl/styles.xml", STYLES)]),
    );
    assert_eq!(texts(&in_1900.path), ["1: 2002-03-08"]);
    let row = r#"<row r="1"><c r="A1" s="1"><v>35861</v></c></row>"#;
    let in_1904 = sample(
        "list.xlsx",
        &xlsx_with(
            r#"<workbookPr date1904="1"/>"#,
            row,
            &[("xl/styles.xml", STYLES)],
        ),
    );
    assert_eq!(texts(&in_1904.path), ["1: 2002-03-08"]);
}

/// One style, and what is read of a figure depends on the figure: half a day is none.
#[test]
fn figures_of_one_style() {
    let figures = ["0.5", "37323", "0", "37323.5", "37323", "0.5"];
    let cells = |style: &str| -> String {
        let cell = |(row, figure)| {
            format!(r#"<row r="{row}"><c r="A{row}"{style}><v>{figure}</v></c></row>"#)
        };
        (1..).zip(figures).map(cell).collect()
    };
    let read = |style: &str| {
        let file = xlsx_with("", &cells(style), &[("xl/styles.xml", STYLES)]);
        texts(&sample("list.xlsx", &file).path)
    };
    let (day, number) = ("2002-03-08", "37323");
    let rows = |day: &str, half: &str| {
        let texts = ["0.5", day, "0", half, day, "0.5"];
        let rows = (1..).zip(texts).map(|(row, text)| format!("{row}: {text}"));
        rows.collect::<Vec<String>>()
    };
    assert_eq!(read(r#" s="1""#), rows(day, day));
    assert_eq!(read(r#" s="0""#), rows(number, "37323.5"));
    assert_eq!(read(""), rows(number, "37323.5"));
    assert_eq!(read(r#" s="1" t="str""#), rows(number, "37323.5"));
}

#[test]
fn formulas_without_a_value_and_errors() {
    let row = concat!(
        r#"<row r="1"><c r="A1"><f>2*B1</f></c><c r="B1" t="e"><f>1/0</f><v>#DIV/0!</v></c>"#,
        r#"<c r="C1" t="str"><f>""</f><v></v></c><c r="D1"><v>4</v></c></row>"#
    );
    let sample = sample("list.xlsx", &xlsx_with("", row, &[]));
    let rows = read(&sample.path).unwrap();
    let kinds: Vec<CellKind> = rows[0].2.iter().map(|(_, kind)| *kind).collect();
    assert_eq!(
        kinds,
        [
            CellKind::NoValue,
            CellKind::Error,
            CellKind::Blank,
            CellKind::Number
        ]
    );
    assert_eq!(rows[0].2[1].0, "#DIV/0!");
}

/// A workbook that asks to be worked out when it is opened may hold the zeros of a program that works none out
/// (ECMA-376-1, 18.2.2: `fullCalcOnLoad`). The same formula elsewhere may have a value.
#[test]
fn zeros_that_a_program_stores_for_formulas() {
    let row = concat!(
        r#"<row r="1"><c r="A1"><f>12*2</f><v>0</v></c><c r="B1"><v>0</v></c>"#,
        r#"<c r="C1"><f t="shared" si="0"/><v>7</v></c><c r="D1"><f t="shared" si="0"/><v>0</v></c>"#,
        r#"<c r="E1"><f t="shared" si="0"/><v>7</v></c></row>"#
    );
    #[track_caller]
    fn case(properties: &str, row: &str, expected: [CellKind; 5]) {
        let sample = sample("list.xlsx", &xlsx_with(properties, row, &[]));
        let rows = read(&sample.path).unwrap();
        let kinds: Vec<CellKind> = rows[0].2.iter().map(|(_, kind)| *kind).collect();
        assert_eq!(kinds, expected, "{properties}");
    }
    use CellKind::{NoValue, Number};
    let unknown = [NoValue, Number, Number, NoValue, Number];
    case(r#"<calcPr calcId="1" fullCalcOnLoad="1"/>"#, row, unknown);
    case(r#"<calcPr calcId="1"/>"#, row, [Number; 5]);
    case("", row, [Number; 5]);
}

/// XML says 24 of each, of which the library sees 2.
#[test]
fn values_in_pieces() {
    for value in [
        "2<!-- -->4",
        "2<?x y?>4",
        "2<![CDATA[4]]>",
        "<!-- -->24",
        "2&#52;",
    ] {
        let row = format!(r#"<row r="1"><c r="A1"><v>{value}</v></c></row>"#);
        let error = refused("list.xlsx", &xlsx_with("", &row, &[]));
        assert!(
            error.contains("(other marks stand within the value of a cell)"),
            "{value}: {error}"
        );
    }
    let row = r#"<row r="1"><c r="A1" t="str"><f>B1</f><v>nut &amp; bolt</v></c><c r="B1"><!-- --><v>24</v><!-- --></c></row>"#;
    let sample = sample("list.xlsx", &xlsx_with("", row, &[]));
    assert_eq!(texts(&sample.path), ["1: nut & bolt|24"]);
}

/// What a cell shows by its number format, where that says more than the figure.
#[test]
fn words_in_the_formats_of_cells() {
    let styles = br##"<?xml version="1.0"?><styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts count="2"><numFmt numFmtId="164" formatCode="0&quot; doz&quot;"/><numFmt numFmtId="165" formatCode="#,##0"/></numFmts><cellStyleXfs><xf numFmtId="164"/></cellStyleXfs><cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="165"/></cellXfs></styleSheet>"##;
    let row = concat!(
        r#"<row r="1"><c r="A1"><v>2</v></c><c r="B1" s="1"><v>2</v></c><c r="C1" s="2"><v>2</v></c>"#,
        r#"<c r="D1" s="1"><v>0.5</v></c><c r="E1" s="1"><v>2</v></c></row>"#
    );
    let file = xlsx_with("", row, &[("xl/styles.xml", styles)]);
    let sample = sample("list.xlsx", &file);
    assert_eq!(texts(&sample.path), ["1: 2|2 doz|2|0.5|2 doz"]);
}

/// Keys of what cells say part them by control characters, which none may hold.
#[test]
fn control_characters_in_cells_are_spaces() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 0, "M8\u{1f}nut").unwrap();
    sheet.write(1, 0, "M8\u{e}nut").unwrap();
    let sample = sample("list.xlsx", &book.save_to_buffer().unwrap());
    let rows = read(&sample.path).unwrap();
    let texts: Vec<&str> = rows.iter().map(|row| row.2[0].0.as_str()).collect();
    assert_eq!(texts, ["M8 nut", "M8 nut"]);
}

#[test]
fn hidden_rows_and_sheets() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for row in 0..4 {
        sheet.write(row, 0, row).unwrap();
    }
    sheet.set_row_hidden(2).unwrap();
    book.add_worksheet().set_hidden(true);
    let sample = sample("list.xlsx", &book.save_to_buffer().unwrap());
    let hidden: Vec<bool> = read(&sample.path)
        .unwrap()
        .iter()
        .map(|row| row.1)
        .collect();
    assert_eq!(hidden, [false, false, true, false]);
    let sheets = Document::open(&sample.path, &Limits::default())
        .unwrap()
        .sheets()
        .to_vec();
    assert_eq!(
        sheets.iter().map(|s| s.hidden).collect::<Vec<_>>(),
        [false, true]
    );
}

#[test]
fn a_cell_in_the_far_corner_costs_what_it_holds() {
    let row = r#"<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>2</v></c></row>"#;
    let sample = sample("list.xlsx", &xlsx_with("", row, &[]));
    let mut document = Document::open(&sample.path, &Limits::default()).unwrap();
    let (mut rows, mut filled) = (0, 0);
    document
        .rows(0, &mut |row| {
            rows += 1;
            filled += row.cells().filter(|(text, _)| !text.is_empty()).count();
            Ok(ControlFlow::Continue(()))
        })
        .unwrap();
    assert_eq!((rows, filled), (1_048_576, 2));
}

#[test]
fn formatted_blank_rows_are_no_rows() {
    let mut data = String::from(r#"<row r="1"><c r="A1"><v>1</v></c></row>"#);
    for row in 2..1000 {
        data.push_str(&format!(r#"<row r="{row}"><c r="A{row}" s="1"/></row>"#));
    }
    let sample = sample("list.xlsx", &xlsx_with("", &data, &[]));
    assert_eq!(read(&sample.path).unwrap().len(), 1);
}

/// Spreadsheet programs refuse such a name, and other programs write it.
#[test]
fn a_sheet_without_a_name() {
    let row = r#"<row r="2"><c r="A2"><v>24</v></c></row>"#;
    for name in ["", " "] {
        let sample = sample("list.xlsx", &xlsx_named(name, "", row, &[]));
        assert_eq!(texts(&sample.path), ["2: 24"], "{name:?}");
        let content = ods_content(&table(
            r#"<table:table-row><table:table-cell office:value-type="float" office:value="24"/></table:table-row>"#,
        ));
        let content = content.replace("\"List\"", &format!("\"{name}\""));
        let sample = crate::source::tests::sample("list.ods", &ods(&content));
        assert_eq!(texts(&sample.path), ["1: 24"], "{name:?}");
    }
}

#[test]
fn the_same_sheet_name_twice() {
    let content = ods_content(&format!("{0}{0}", table("<table:table-row/>")));
    assert_eq!(
        refused("list.ods", &ods(&content)),
        "list.ods, sheet \"List\": two sheets have this name\n  what to do: give each sheet a name of its own"
    );
}

#[test]
fn a_forged_count_of_shared_strings() {
    let strings = br#"<?xml version="1.0"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="1" uniqueCount="99999999999"><si><t>a</t></si></sst>"#;
    let row = r#"<row r="1"><c r="A1" t="s"><v>0</v></c></row>"#;
    assert_eq!(
        refused(
            "list.xlsx",
            &xlsx_with("", row, &[("xl/sharedStrings.xml", strings)])
        ),
        "list.xlsx: the workbook is damaged or cut short (it claims to hold 99999999999 texts, more than it has room for)\n  \
         what to do: open it in a spreadsheet program and save it again, or ask for it again"
    );
}

#[test]
fn a_part_that_inflates_without_end() {
    let long = vec![b' '; (256 << 20) + 1];
    let error = refused("list.xlsx", &xlsx_with("", "", &[("xl/styles.xml", &long)]));
    assert!(
        error.starts_with("list.xlsx: too large to be a list: its part \"xl/styles.xml\"\n"),
        "{error}"
    );
}

fn ods_content(tables: &str) -> String {
    format!(
        r#"<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"#
    )
}

fn table(rows: &str) -> String {
    format!(r#"<table:table table:name="List">{rows}</table:table>"#)
}

fn ods(content: &str) -> Vec<u8> {
    zip(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", br#"<?xml version="1.0"?><manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>"#),
        ("content.xml", content.as_bytes()),
    ])
}

#[test]
fn an_ods() {
    let rows = concat!(
        r#"<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>"#,
        r#"<table:table-row><table:table-cell/><table:table-cell office:value-type="string"><text:p>Item</text:p></table:table-cell><table:table-cell office:value-type="float" office:value="3.75"/></table:table-row>"#,
        r#"<table:table-row><table:table-cell office:value-type="date" office:date-value="2002-03-08"><text:p>8-Mar</text:p></table:table-cell></table:table-row>"#,
        r#"<table:table-row table:number-rows-repeated="1048572"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>"#,
    );
    let sample = sample("list.ods", &ods(&ods_content(&table(rows))));
    assert_eq!(texts(&sample.path), ["3: |Item|3.75", "4: 2002-03-08"]);
}

/// The text of a cell stands beside its value, and comments on it within it (OpenDocument 1.3 part 3, 9.1.4).
#[test]
fn what_the_cells_of_an_ods_show() {
    let cell = |more: &str, figure: &str, text: &str| {
        format!(
            r#"<table:table-cell {more} office:value-type="float" office:value="{figure}">{text}</table:table-cell>"#
        )
    };
    let rows = [
        r#"<table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>"#,
        "<table:table-row><table:table-cell/>",
        &cell(
            "",
            "4",
            "<office:annotation><text:p>pairs</text:p></office:annotation><text:p>4</text:p>",
        ),
        &cell("", "4", "<text:p>4<text:s/>pairs</text:p>"),
        &cell("", "1000000", "<text:p>1E+06</text:p>"),
        r#"</table:table-row><table:table-row table:number-rows-repeated="2">"#,
        &cell(
            r#"table:number-columns-repeated="2""#,
            "3",
            "<text:p>3 doz</text:p>",
        ),
        &cell("", "5", "<text:p>5</text:p>"),
        "</table:table-row>",
    ];
    let second = table(&format!(
        "<table:table-row>{}</table:table-row>",
        cell("", "6", "<text:p>6 pr</text:p>")
    ));
    let tables = table(&rows.concat()) + &second.replace("List", "More");
    let sample = sample("list.ods", &ods(&ods_content(&tables)));
    assert_eq!(
        texts(&sample.path),
        [
            "3: |4|4 pairs|1000000",
            "4: 3 doz|3 doz|5",
            "5: 3 doz|3 doz|5",
            "1: 6 pr"
        ]
    );
}

#[test]
fn an_ods_of_repeats() {
    let rows = r#"<table:table-row table:number-rows-repeated="1000000"><table:table-cell office:value-type="float" office:value="1" table:number-columns-repeated="16384"/></table:table-row>"#;
    let error = refused("list.ods", &ods(&ods_content(&table(rows))));
    assert!(
        error.starts_with("list.ods: too large to be a list: the area of its sheets\n"),
        "{error}"
    );
}

#[test]
fn what_a_reader_of_an_ods_passes_over() {
    let cell =
        r#"<table:table-cell office:value-type="string"><text:p>Item</text:p></table:table-cell>"#;
    let row = format!("<table:table-row>{cell}</table:table-row>");
    let unnamed = table(&row) + &table(&row).replace(r#" table:name="List""#, "");
    let within = cell.replace(
        "</table:table-cell>",
        &(table(&row) + "</table:table-cell>"),
    );
    let within = table(&format!("<table:table-row>{within}</table:table-row>"));
    for (tables, found) in [
        (unnamed, "one of its sheets has no name"),
        (within, "a cell holds a table of its own"),
    ] {
        let error = refused("list.ods", &ods(&ods_content(&tables)));
        assert!(
            error.starts_with(&format!(
                "list.ods: the workbook is damaged or cut short ({found})\n"
            )),
            "{error}"
        );
    }
}

/// An OLE compound file of one stream (MS-CFB): header, one sector of table, one of directory, and
/// the stream.
fn ole(name: &str, stream: &[u8]) -> Vec<u8> {
    // A stream below 4096 bytes would lie in the mini stream.
    let length = stream.len().max(4096);
    let sectors = length.div_ceil(512) as u32;
    let mut file = vec![0u8; 512];
    file[..8].copy_from_slice(OLE);
    let mut put = |at: usize, bytes: &[u8]| file[at..at + bytes.len()].copy_from_slice(bytes);
    put(26, &3u16.to_le_bytes());
    put(28, &0xFFFEu16.to_le_bytes());
    put(30, &9u16.to_le_bytes());
    put(32, &6u16.to_le_bytes());
    put(44, &1u32.to_le_bytes());
    put(48, &1u32.to_le_bytes());
    put(56, &4096u32.to_le_bytes());
    put(60, &0xFFFF_FFFEu32.to_le_bytes());
    put(68, &0xFFFF_FFFEu32.to_le_bytes());
    for entry in 0..109 {
        let sector = if entry == 0 { 0 } else { 0xFFFF_FFFFu32 };
        put(76 + entry * 4, &sector.to_le_bytes());
    }
    // Sector 0 is the table, 1 the directory, the stream follows.
    let mut table = vec![0xFFFF_FFFDu32, 0xFFFF_FFFE];
    table.extend((0..sectors).map(|i| if i + 1 == sectors { 0xFFFF_FFFE } else { i + 3 }));
    table.resize(128, 0xFFFF_FFFF);
    file.extend(table.iter().flat_map(|id| id.to_le_bytes()));
    for (name, kind, start, length) in [
        ("Root Entry", 5u8, 0xFFFF_FFFEu32, 0u32),
        (name, 2, 2, length as u32),
        ("", 0, 0, 0),
        ("", 0, 0, 0),
    ] {
        let mut entry = [0u8; 128];
        for (i, unit) in name.encode_utf16().enumerate() {
            entry[i * 2..i * 2 + 2].copy_from_slice(&unit.to_le_bytes());
        }
        entry[64..66].copy_from_slice(&(name.len() as u16 * 2 + 2).to_le_bytes());
        entry[66] = kind;
        entry[116..120].copy_from_slice(&start.to_le_bytes());
        entry[120..124].copy_from_slice(&length.to_le_bytes());
        file.extend(entry);
    }
    file.extend(stream);
    file.resize(512 * (3 + sectors as usize), 0);
    file
}

fn record(kind: u16, data: &[u8]) -> Vec<u8> {
    let mut bytes = kind.to_le_bytes().to_vec();
    bytes.extend((data.len() as u16).to_le_bytes());
    bytes.extend(data);
    bytes
}

/// The workbook stream of an xls (MS-XLS) of one sheet with these records.
fn xls_stream(records: &[Vec<u8>]) -> Vec<u8> {
    let begin = |kind: u16| {
        let mut data = vec![0x00, 0x06];
        data.extend(kind.to_le_bytes());
        data.extend([0; 12]);
        record(0x0809, &data)
    };
    let mut globals = begin(5);
    let mut bound = (globals.len() as u32 + 4 + 6 + 2 + 4 + 4)
        .to_le_bytes()
        .to_vec();
    bound.extend([0, 0, 4, 0]);
    bound.extend(b"List");
    globals.extend(record(0x0085, &bound));
    globals.extend(record(0x000A, &[]));
    globals.extend(begin(0x10));
    globals.extend(records.iter().flatten());
    globals.extend(record(0x000A, &[]));
    globals
}

/// A number cell.
fn xls_number(row: u16, column: u16, value: f64) -> Vec<u8> {
    let mut data = row.to_le_bytes().to_vec();
    data.extend(column.to_le_bytes());
    data.extend([0, 0]);
    data.extend(value.to_le_bytes());
    record(0x0203, &data)
}

fn dimensions(bottom: u32, right: u16) -> Vec<u8> {
    let mut data = 0u32.to_le_bytes().to_vec();
    data.extend(bottom.to_le_bytes());
    data.extend([0, 0]);
    data.extend(right.to_le_bytes());
    data.extend([0, 0]);
    record(0x0200, &data)
}

#[test]
fn an_xls() {
    let stream = xls_stream(&[
        dimensions(3, 3),
        xls_number(0, 1, 4.0),
        xls_number(2, 2, 3.75),
    ]);
    let sample = sample("list.xls", &ole("Workbook", &stream));
    assert_eq!(texts(&sample.path), ["1: |4", "3: ||3.75"]);
}

#[test]
fn an_xls_of_forged_dimensions() {
    for (bottom, right) in [(u32::MAX, 256), (65_536, 60_000), (200_000, 3)] {
        let stream = xls_stream(&[dimensions(bottom, right), xls_number(0, 1, 4.0)]);
        let error = refused("list.xls", &ole("Workbook", &stream));
        assert!(
            error.starts_with("list.xls: the workbook is damaged or cut short (a sheet claims impossible rows or columns)\n"),
            "{error}"
        );
    }
    // Two cells in far corners: the reader would build all cells between.
    let stream = xls_stream(&[xls_number(0, 0, 1.0), xls_number(65_535, 255, 1.0)]);
    let error = refused("list.xls", &ole("Workbook", &stream));
    assert!(
        error.contains("too large to be a list: the area of its sheets"),
        "{error}"
    );
}

#[test]
fn an_ole_file_whose_sectors_run_in_circles() {
    let mut file = ole("Workbook", &xls_stream(&[xls_number(0, 0, 1.0)]));
    // The directory's sector follows itself.
    file[512 + 4..512 + 8].copy_from_slice(&1u32.to_le_bytes());
    let error = refused("list.xls", &file);
    assert!(error.contains("its sectors run in circles"), "{error}");
}

#[test]
fn protected_workbooks() {
    let expected = "list.xlsx: the workbook is protected by a password\n  \
                    what to do: open it, save a copy without the password, and give that";
    assert_eq!(
        refused("list.xlsx", &ole("EncryptedPackage", b"secret")),
        expected
    );
    // FilePass with the RC4 method (MS-XLS 2.4.117).
    let mut stream = record(0x0809, &[0, 6, 5, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
    stream.extend(record(0x002F, &[1, 0, 1, 0]));
    assert_eq!(refused("list.xlsx", &ole("Workbook", &stream)), expected);
}

#[test]
fn an_ole_file_without_a_workbook() {
    assert!(
        refused("letter.doc", &ole("WordDocument", b"Dear"))
            .starts_with("letter.doc: an office file that is no workbook\n")
    );
}

/// A record of an xlsb (MS-XLSB 2.1.4): type and length in seven-bit steps.
fn xlsb_record(kind: u16, data: &[u8]) -> Vec<u8> {
    let mut bytes = if kind < 128 {
        vec![kind as u8]
    } else {
        vec![(kind & 0x7F) as u8 | 0x80, (kind >> 7) as u8]
    };
    bytes.push(data.len() as u8);
    bytes.extend(data);
    bytes
}

fn xlsb_text(text: &str) -> Vec<u8> {
    let mut bytes = (text.encode_utf16().count() as u32).to_le_bytes().to_vec();
    bytes.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
    bytes
}

fn xlsb(sheet: &[Vec<u8>]) -> Vec<u8> {
    let rels = br#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="worksheet" Target="worksheets/sheet1.bin"/></Relationships>"#;
    let mut bundle = vec![0; 8];
    bundle.extend(xlsb_text("rId1"));
    bundle.extend(xlsb_text("List"));
    let mut book = xlsb_record(0x0083, &[]);
    book.extend(xlsb_record(0x008F, &[]));
    book.extend(xlsb_record(0x009C, &bundle));
    book.extend(xlsb_record(0x0090, &[]));
    book.extend(xlsb_record(0x009D, &[0; 12]));
    book.extend(xlsb_record(0x0084, &[]));
    let mut data = xlsb_record(0x0081, &[]);
    data.extend(xlsb_record(0x0094, &[0; 16]));
    data.extend(xlsb_record(0x0091, &[]));
    data.extend(sheet.iter().flatten());
    data.extend(xlsb_record(0x0092, &[]));
    data.extend(xlsb_record(0x0082, &[]));
    zip(&[
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.bin", &book),
        ("xl/_rels/workbook.bin.rels", rels),
        ("xl/worksheets/sheet1.bin", &data),
    ])
}

fn xlsb_row(row: u32) -> Vec<u8> {
    let mut data = row.to_le_bytes().to_vec();
    data.extend([0; 21]);
    xlsb_record(0x0000, &data)
}

fn xlsb_cell(column: u32, text: &str) -> Vec<u8> {
    let mut data = column.to_le_bytes().to_vec();
    data.extend([0; 4]);
    data.extend(xlsb_text(text));
    xlsb_record(0x0006, &data)
}

#[test]
fn an_xlsb() {
    let sheet = [
        xlsb_row(0),
        xlsb_cell(0, "Qty"),
        xlsb_cell(2, "Item"),
        xlsb_row(4),
        xlsb_cell(2, "bolt"),
    ];
    let sample = sample("list.xlsb", &xlsb(&sheet));
    assert_eq!(texts(&sample.path), ["1: Qty||Item", "5: ||bolt"]);
    assert_eq!(
        Document::open(&sample.path, &Limits::default())
            .unwrap()
            .format(),
        Format::Xlsb
    );
}

#[test]
fn a_library_that_panics_is_a_damaged_file() {
    // A shared string that is not there: the library indexes past the end of its table.
    let mut cell = vec![0; 8];
    cell.extend(7u32.to_le_bytes());
    let sheet = [xlsb_row(0), xlsb_record(0x0007, &cell)];
    assert_eq!(
        refused("list.xlsb", &xlsb(&sheet)),
        "list.xlsb, sheet \"List\": the workbook is damaged or cut short (its contents contradict one another)\n  \
         what to do: open it in a spreadsheet program and save it again, or ask for it again"
    );
    let far = [xlsb_row(0), xlsb_cell(u32::MAX - 1, "x")];
    assert!(refused("list.xlsb", &xlsb(&far)).contains(
        "row 1: the workbook is damaged or cut short (a cell lies outside of every sheet)"
    ));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]

    /// A few bytes changed in a good workbook make an error or another list, never a panic.
    #[test]
    fn damaged_workbooks_never_panic(
        which in 0usize..4,
        changes in proptest::collection::vec((proptest::prelude::any::<u16>(), proptest::prelude::any::<u8>()), 1..6),
    ) {
        let mut bytes = match which {
            0 => small_workbook(),
            1 => ods(&ods_content(&table(r#"<table:table-row><table:table-cell office:value-type="float" office:value="1"/></table:table-row>"#))),
            2 => ole("Workbook", &xls_stream(&[dimensions(3, 3), xls_number(0, 1, 4.0)])),
            _ => xlsb(&[xlsb_row(0), xlsb_cell(0, "Qty")]),
        };
        for (at, byte) in changes {
            let at = usize::from(at) % bytes.len();
            bytes[at] = byte;
        }
        let sample = sample("list", &bytes);
        let _ = read(&sample.path);
    }
}
