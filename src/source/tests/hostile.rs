//! Files made to do harm: each is refused with its reason, in bounded memory and time.

use super::*;

fn limits(set: &[(Limit, u64)]) -> Limits {
    let mut limits = Limits::default();
    for &(limit, most) in set {
        limits.set(limit, most);
    }
    limits
}

/// What an error says was found, by its first line.
#[track_caller]
fn case(name: &str, bytes: &[u8], found: &str) {
    case_by(&Limits::default(), name, bytes, found);
}

#[track_caller]
fn case_by(limits: &Limits, name: &str, bytes: &[u8], found: &str) {
    let error = refused_by(limits, name, bytes);
    let first = error.lines().next().unwrap_or_default();
    assert_eq!(first, format!("{name}{found}"));
}

/// As found while a sheet is read.
fn in_sheet(found: &str) -> String {
    format!(", sheet \"List\"{found}")
}

const CELL: &str = r#"<row r="1"><c r="A1" t="s"><v>0</v></c></row>"#;

fn with_strings(strings: &str) -> Vec<u8> {
    xlsx_with("", CELL, &[("xl/sharedStrings.xml", strings.as_bytes())])
}

/// A reader reserves memory for as many texts as a workbook claims, whatever way it claims them.
#[test]
fn a_forged_count_in_disguise() {
    let damaged = ": the workbook is damaged or cut short (it claims to hold 99999999999 texts, more than it has room for)";
    let count = r#"uniqueCount="99999999999""#;
    let text = "<si><t>a</t></si>";
    for strings in [
        format!("<sst {count}>{text}</sst>"),
        format!("<ns0:sst {count}>{text}</ns0:sst>"),
        format!("<sst a='>' {count}>{text}</sst>"),
        format!("<sst a=' uniqueCount=\"1\"' {count}>{text}</sst>"),
        format!("<sst uniqueCount='1' {count}>{text}</sst>"),
        format!("<sst uniqueCount='+99999999999'>{text}</sst>"),
        format!("<sst {}{count}>{text}</sst>", " ".repeat(100_000)),
        format!("<!-- it's > --><sst {count}>{text}</sst>"),
    ] {
        case("list.xlsx", &with_strings(&strings), damaged);
    }
}

#[test]
fn entities_of_ones_own() {
    let refused = ": the workbook is damaged or cut short (it declares XML entities of its own, which no workbook does)";
    let mut entities = String::from("<!ENTITY a0 'lol'>");
    for n in 1..10 {
        let ten = format!("&a{};", n - 1).repeat(10);
        entities.push_str(&format!("<!ENTITY a{n} '{ten}'>"));
    }
    let laughs = format!("<!DOCTYPE sst [{entities}]>");
    case(
        "list.xlsx",
        &with_strings(&format!("{laughs}<sst><si><t>&a9;</t></si></sst>")),
        refused,
    );
    let files = "<!DOCTYPE x [<!ENTITY f SYSTEM 'file:///etc/hostname'>]>";
    let content = ods_content(&table("")).replacen("?>", &format!("?>{files}"), 1);
    case("list.ods", &ods(&content), refused);
    let sheet = format!(
        r#"<?xml version="1.0"?>{files}<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>&f;</t></is></c></row></sheetData></worksheet>"#
    );
    case(
        "list.xlsx",
        &xlsx_of("worksheets/sheet1.xml", &sheet),
        &in_sheet(refused),
    );
}

/// An xlsx whose one sheet lies in a part of this name.
fn xlsx_of(part: &str, sheet: &str) -> Vec<u8> {
    let rels = String::from_utf8_lossy(BOOK_RELS).replace("worksheets/sheet1.xml", part);
    let book = br#"<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="List" sheetId="1" r:id="rId1"/></sheets></workbook>"#;
    zip(&[
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.xml", book),
        ("xl/_rels/workbook.xml.rels", rels.as_bytes()),
        (&format!("xl/{part}"), sheet.as_bytes()),
    ])
}

/// Each would be read again, and looked up among all.
#[test]
fn one_part_for_two_sheets() {
    let book = br#"<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="List" sheetId="1" r:id="rId1"/><sheet name="Again" sheetId="2" r:id="rId1"/></sheets></workbook>"#;
    let file = zip(&[
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.xml", book),
        ("xl/_rels/workbook.xml.rels", BOOK_RELS),
        (
            "xl/worksheets/sheet1.xml",
            b"<worksheet><sheetData/></worksheet>",
        ),
    ]);
    case(
        "list.xlsx",
        &file,
        ": the workbook is damaged or cut short (two of its sheets are one part, \"xl/worksheets/sheet1.xml\")",
    );
}

#[test]
fn places_outside_of_the_workbook() {
    for name in [
        "../../outside.xml",
        "xl/../../outside.xml",
        r"..\outside.xml",
    ] {
        let file = xlsx_with("", "", &[(name, b"<a/>")]);
        let name = name.replace('\\', "/");
        case(
            "list.xlsx",
            &file,
            &format!(
                ": the workbook is damaged or cut short (its part \"{name}\" names a place outside of the workbook)"
            ),
        );
    }
}

#[test]
fn nesting_without_end() {
    let deep = "<a>".repeat(300_000);
    let refused = ": the workbook is damaged or cut short (its XML is nested without end)";
    case("list.xlsx", &with_strings(&format!("<sst>{deep}")), refused);
    case("list.xlsx", &xlsx_with("", &deep, &[]), &in_sheet(refused));
    case("list.ods", &ods(&ods_content(&deep)), refused);
}

/// A sheet may have any name, and is looked at all the same.
#[test]
fn sheets_by_other_names() {
    let limits = limits(&[(Limit::Unpacked, 1), (Limit::Row, 1)]);
    let sheet = |text: &str| {
        format!(
            "<worksheet><sheetData><row r='1' hidden='1'><c r='A1' t='inlineStr'><is><t>{text}</t></is></c></row></sheetData></worksheet>"
        )
    };
    for part in [
        "worksheets/sheet1.dat",
        "media/picture.png",
        "Sheets/S1.XML",
    ] {
        let file = sample("list.xlsx", &xlsx_of(part, &sheet("bolt")));
        assert!(read(&file.path).unwrap()[0].1, "{part}: the row is hidden");
        case_by(
            &limits,
            "list.xlsx",
            &xlsx_of(part, &sheet(&"x".repeat(2 << 20))),
            &in_sheet(": too large to be a list: row 1 has a cell without end"),
        );
    }
}

#[test]
fn parts_that_unpack_without_end() {
    let blank = " ".repeat(3 << 20);
    let rows: String = (1..20_000).map(|row| format!("<row r='{row}'/>")).collect();
    case_by(
        &limits(&[(Limit::Unpacked, 1)]),
        "list.xlsx",
        &xlsx_with("", &format!("{rows}{rows}{rows}{rows}{rows}"), &[]),
        &in_sheet(": too large to be a list: its part \"xl/worksheets/sheet1.xml\""),
    );
    for (name, limit) in [
        ("xl/media/image1.png", Limit::Unpacked),
        ("xl/theme/theme1.xml", Limit::Part),
    ] {
        case_by(
            &limits(&[(limit, 1)]),
            "list.xlsx",
            &xlsx_with("", CELL, &[(name, blank.as_bytes())]),
            &format!(": too large to be a list: its part \"{name}\""),
        );
    }
}

#[test]
fn repeats_of_an_ods() {
    let row = |attributes: &str, cell: &str, text: &str| {
        ods(&ods_content(&table(&format!(
            r#"<table:table-row {attributes}><table:table-cell {cell} office:value-type="string"><text:p>{text}</text:p></table:table-cell></table:table-row>"#
        ))))
    };
    let text = ": too large to be a list: the text of its cells";
    let area = ": too large to be a list: the area of its sheets";
    // A thousand thousand spaces, and so often.
    case(
        "list.ods",
        &row("", "", r#"<text:s text:c="99999999999999"/>"#),
        text,
    );
    case(
        "list.ods",
        &row("", "", r#"<text:s text:c="&#57;99999999999999"/>"#),
        text,
    );
    let long = "x".repeat(1 << 20);
    case(
        "list.ods",
        &row(r#"table:number-rows-repeated="2000""#, "", &long),
        text,
    );
    case(
        "list.ods",
        &row("", r#"table:number-columns-repeated="2000""#, &long),
        text,
    );
    case(
        "list.ods",
        &row(
            r#"table:number-rows-repeated="&#57;99999""#,
            r#"a=">" table:number-columns-repeated="1000""#,
            "x",
        ),
        area,
    );
}

#[test]
fn cells_in_impossible_places() {
    for (row, found) in [
        (r#"<row r="1"><c r="XFE1"><v>1</v></c></row>"#, "row 1: "),
        (
            r#"<row r="1048577"><c r="A1048577"><v>1</v></c></row>"#,
            "it has more rows than a sheet can",
        ),
        (
            r#"<row r="9"><c r="A9"><v>1</v></c></row><row r="3"><c r="A3"><v>1</v></c></row>"#,
            "row 3: ",
        ),
        (r#"<row r="1"><c r="99999999999"><v>1</v></c></row>"#, ""),
        (r#"<row r="0"><c r="A0"><v>1</v></c></row>"#, ""),
        (r#"<row r="-1"><c r="$$"><v>1</v></c></row>"#, ""),
        (r#"<row r="1"><c r="A1" t="s"><v>7</v></c></row>"#, ""),
    ] {
        let error = refused("list.xlsx", &xlsx_with("", row, &[]));
        assert!(
            error.contains("the workbook is damaged or cut short") && error.contains(found),
            "{row}: {error}"
        );
    }
}

#[test]
fn lines_without_end() {
    let limits = limits(&[(Limit::Row, 1)]);
    let long = "a,".repeat(2000);
    let endless = "a line without end";
    for (name, text, row) in [
        ("list.csv", long.clone(), 1),
        (
            "list.txt",
            format!("Qty\r\n\r\n{}", "bolt ".repeat(2000)),
            3,
        ),
        ("list.csv", format!("a,b\rc,d\r{long}\r"), 3),
    ] {
        case_by(
            &limits,
            name,
            text.as_bytes(),
            &format!(", line {row}: too large to be a list: {endless}"),
        );
    }
    // A quoted cell may run over lines, and so may its row.
    let record = format!(
        "Qty,Item\n1,\"{}\"\n",
        "a bolt,\n".repeat(20) + &"b".repeat(1000)
    );
    case_by(
        &limits,
        "list.csv",
        record.as_bytes(),
        ", line 2: too large to be a list: a row without end",
    );
}

#[test]
fn lists_without_end() {
    let rows = "4,bolt\n".repeat(101);
    case_by(
        &limits(&[(Limit::Rows, 100)]),
        "list.csv",
        rows.as_bytes(),
        ", line 101: too large to be a list: more rows than are read of one file",
    );
    // One long text, used over and over by a small file.
    let strings = format!("<sst><si><t>{}</t></si></sst>", "bolt ".repeat(6000));
    let data: String = (1..100)
        .map(|row| format!(r#"<row r="{row}"><c r="A{row}" t="s"><v>0</v></c></row>"#))
        .collect();
    case_by(
        &limits(&[(Limit::Text, 1)]),
        "list.xlsx",
        &xlsx_with("", &data, &[("xl/sharedStrings.xml", strings.as_bytes())]),
        ", sheet \"List\", row 35: too large to be a list: more text than is read of one file",
    );
    case_by(
        &limits(&[(Limit::File, 1)]),
        "list.csv",
        " ".repeat((1 << 20) + 1).as_bytes(),
        ": too large to be a list: the file",
    );
}

#[test]
fn the_way_out_of_a_limit() {
    assert_eq!(
        refused_by(&limits(&[(Limit::Rows, 1)]), "list.csv", b"a,b\nc,d\n"),
        "list.csv, line 2: too large to be a list: more rows than are read of one file\n  \
         what to do: give the list in several files; or, if you trust the file, raise the limit \
         (--limit rows=N, now 1)"
    );
}
