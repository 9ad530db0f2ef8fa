//! Odd files that programs and people really make: each is read, and as what it is.

use super::*;

/// The filled rows of an xlsx with this sheet data and these texts.
fn rows_of(data: &str, strings: &str) -> Vec<String> {
    let strings = format!("<sst>{strings}</sst>");
    let more: &[(&str, &[u8])] = &[("xl/sharedStrings.xml", strings.as_bytes())];
    texts(&sample("list.xlsx", &xlsx_with("", data, more)).path)
}

#[track_caller]
fn cell(cell: &str, strings: &str, expected: &str) {
    let rows = rows_of(&format!(r#"<row r="1">{cell}</row>"#), strings);
    assert_eq!(rows, [format!("1: {expected}")]);
}

#[test]
fn texts_of_runs() {
    let shared = r#"<c r="A1" t="s"><v>1</v></c>"#;
    let runs = r#"<r><t xml:space="preserve">1/2 x </t></r><r><rPr><b/></rPr><t>3-3/4</t></r>"#;
    // The texts before it count, blank ones too.
    cell(shared, &format!("<si/><si>{runs}</si>"), "1/2 x 3-3/4");
    cell(
        shared,
        &format!("<si><t/></si><si>{runs}</si>"),
        "1/2 x 3-3/4",
    );
    // How a text is spoken is no part of it.
    cell(
        shared,
        r#"<si/><si><t>bolt</t><rPh sb="0" eb="1"><t>spoken</t></rPh></si>"#,
        "bolt",
    );
    cell(
        &format!(r#"<c r="A1" t="inlineStr"><is>{runs}</is></c>"#),
        "",
        "1/2 x 3-3/4",
    );
    cell(
        r#"<c r="A1" t="inlineStr"><is><t>5/8&quot; &lt;A&amp;B&gt; &#189;</t></is></c>"#,
        "",
        "5/8\" <A&B> ½",
    );
    cell(
        r#"<c r="A1" t="str"><f>B1&amp;"x"</f><v>bolt &amp; nut</v></c>"#,
        "",
        "bolt & nut",
    );
}

#[test]
fn cells_without_addresses() {
    let data = r#"<row><c><v>1</v></c><c><v>2</v></c></row><row/><row><c/><c><v>3</v></c></row>"#;
    assert_eq!(rows_of(data, ""), ["1: 1|2", "3: |3"]);
}

#[test]
fn a_prefix_before_every_name() {
    let sheet = r#"<ns0:worksheet xmlns:ns0="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><ns0:sheetData><ns0:row r="2" hidden="true"><ns0:c r="B2"><ns0:v>4</ns0:v></ns0:c></ns0:row></ns0:sheetData></ns0:worksheet>"#;
    let file = zip(&[
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.xml", br#"<ns0:workbook xmlns:ns0="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:ns1="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><ns0:sheets><ns0:sheet name="List" sheetId="1" ns1:id="rId1"/></ns0:sheets></ns0:workbook>"#),
        ("xl/_rels/workbook.xml.rels", BOOK_RELS),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ]);
    let rows = read(&sample("list.xlsx", &file).path).unwrap();
    let hidden: Vec<_> = rows
        .iter()
        .map(|(row, hidden, _)| (*row, *hidden))
        .collect();
    assert_eq!(hidden, [(1, false), (2, true)]);
}

#[test]
fn names_with_backslashes() {
    let whole = xlsx_with(
        "",
        r#"<row r="1" hidden="1"><c r="A1"><v>4</v></c></row>"#,
        &[],
    );
    let mut old = zip::ZipArchive::new(Cursor::new(whole)).unwrap();
    let mut parts = Vec::new();
    for index in 0..old.len() {
        let mut part = old.by_index(index).unwrap();
        let mut bytes = Vec::new();
        part.read_to_end(&mut bytes).unwrap();
        parts.push((part.name().unwrap().replace('/', "\\"), bytes));
    }
    let parts: Vec<(&str, &[u8])> = parts
        .iter()
        .map(|(n, b)| (n.as_str(), b.as_slice()))
        .collect();
    let rows = read(&sample("list.xlsx", &zip(&parts)).path).unwrap();
    assert_eq!((rows.len(), rows[0].1), (1, true));
}

#[test]
fn as_many_columns_as_a_sheet_has() {
    // A, B, ... Z, AA, ... XFD.
    let name = |mut column: u32| {
        let mut name = Vec::new();
        while column > 0 {
            column -= 1;
            name.insert(0, b'A' + (column % 26) as u8);
            column /= 26;
        }
        String::from_utf8(name).unwrap()
    };
    let cells: String = (1..=16_384)
        .map(|column| format!(r#"<c r="{}1"><v>{column}</v></c>"#, name(column)))
        .collect();
    let rows = read(
        &sample(
            "list.xlsx",
            &xlsx_with("", &format!(r#"<row r="1">{cells}</row>"#), &[]),
        )
        .path,
    )
    .unwrap();
    assert_eq!(rows[0].2.len(), 16_384);
    assert_eq!(rows[0].2[16_383].0, "16384");
    let text = (1..=16_384)
        .map(|n| n.to_string())
        .collect::<Vec<_>>()
        .join(",");
    let rows = read(&sample("list.csv", format!("{text}\n{text}\n").as_bytes()).path).unwrap();
    assert_eq!((rows.len(), rows[1].2.len()), (2, 16_384));
}

#[test]
fn a_claim_of_the_largest_sheet_there_is() {
    // The dimension is a claim like any other; nothing is made of it.
    let sheet = r#"<worksheet><dimension ref="A1:XFD1048576"/><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData></worksheet>"#;
    let file = zip(&[
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELS),
        ("xl/workbook.xml", br#"<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="List" sheetId="1" r:id="rId1"/></sheets></workbook>"#),
        ("xl/_rels/workbook.xml.rels", BOOK_RELS),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ]);
    assert_eq!(texts(&sample("list.xlsx", &file).path), ["1: 1"]);
}

#[test]
fn sheets_without_a_name_and_with_the_same() {
    let book = |names: [&str; 2]| {
        let sheets: String = names
            .iter()
            .enumerate()
            .map(|(i, name)| {
                format!(
                    r#"<sheet name="{name}" sheetId="{0}" r:id="rId{0}"/>"#,
                    i + 1
                )
            })
            .collect();
        let book = format!(
            r#"<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>{sheets}</sheets></workbook>"#
        );
        let sheet = br#"<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData></worksheet>"#;
        let of = |number: u8| {
            format!(
                r#"<Relationship Id="rId{number}" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet{number}.xml"/>"#
            )
        };
        let rels = format!(
            r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{}{}</Relationships>"#,
            of(1),
            of(2)
        );
        zip(&[
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", RELS),
            ("xl/workbook.xml", book.as_bytes()),
            ("xl/_rels/workbook.xml.rels", rels.as_bytes()),
            ("xl/worksheets/sheet1.xml", sheet),
            ("xl/worksheets/sheet2.xml", sheet),
        ])
    };
    for (names, shown) in [(["List", "list "], "list "), (["", ""], "")] {
        assert_eq!(
            refused("list.xlsx", &book(names)),
            format!(
                "list.xlsx, sheet \"{shown}\": two sheets have this name\n  what to do: give each sheet a name of its own"
            )
        );
    }
    let one = sample("list.xlsx", &book(["", "Other"]));
    assert_eq!(texts(&one.path), ["1: 1", "1: 1"]);
}

#[track_caller]
fn text(bytes: &[u8], expected: &[&str]) {
    assert_eq!(texts(&sample("list.csv", bytes).path), expected);
}

#[test]
fn texts_of_every_line_end_and_mark() {
    text(
        b"Qty;Item\r\n4;bolt\n5;nut\r6;rod",
        &["1: Qty|Item", "2: 4|bolt", "3: 5|nut", "4: 6|rod"],
    );
    text(
        "\u{feff}Qty;Item\n4;½ bolt\n".as_bytes(),
        &["1: Qty|Item", "2: 4|½ bolt"],
    );
    let utf16: Vec<u8> = "\u{feff}Qty\tItem\r\n4\tבורג מ\u{301}\r\n"
        .encode_utf16()
        .flat_map(u16::to_be_bytes)
        .collect();
    text(&utf16, &["1: Qty|Item", "2: 4|בורג מ\u{301}"]);
    text(
        b"Qty,Item,Note,Note,Note,Note,Note,Note,Note,Note\n4,bo\0lt\n",
        &[
            "1: Qty|Item|Note|Note|Note|Note|Note|Note|Note|Note",
            "2: 4|bo lt",
        ],
    );
}

#[test]
fn texts_of_ragged_rows_and_stray_quotes() {
    text(
        b"Qty,Item,Bag\n4,bolt\n5,nut,A,extra,cells\n\n6\n",
        &[
            "1: Qty|Item|Bag",
            "2: 4|bolt",
            "3: 5|nut|A|extra|cells",
            "5: 6",
        ],
    );
    // The quotation mark is an inch mark, or was never closed: each line stands for itself.
    text(
        b"Qty,Item\n4,\"bolt 1/2\n5,nut\n6,rod\n",
        &["1: Qty|Item", "2: 4|bolt 1/2", "3: 5|nut", "4: 6|rod"],
    );
    text(
        b"Qty,Item\n4,\"bolt, 1/2\"\"\"\n5,nut\n",
        &["1: Qty|Item", "2: 4|bolt, 1/2\"", "3: 5|nut"],
    );
    // The delimiter that most lines agree on; another one is text.
    text(
        b"Qty;Item\n4;bolt, 1/2\n5;nut, 1/2\n6,rod\n",
        &["1: Qty|Item", "2: 4|bolt, 1/2", "3: 5|nut, 1/2", "4: 6,rod"],
    );
}
