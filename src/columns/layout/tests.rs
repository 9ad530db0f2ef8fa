//! Heading rows, and the layouts that they make.

use super::*;

fn row(cells: &[&str]) -> Row {
    let mut row = Row::default();
    row.start(1);
    for cell in cells {
        let kind = if cell.is_empty() {
            CellKind::Blank
        } else {
            CellKind::Text
        };
        row.push(cell, kind);
    }
    row
}

fn layout(rows: &[&[&str]]) -> Option<Layout> {
    let rows: Vec<Row> = rows.iter().map(|cells| row(cells)).collect();
    Layout::of(&rows[0], rows.get(1), &IndexMap::new())
}

#[track_caller]
fn case(rows: &[&[&str]], expected: &[(Meaning, usize)]) {
    let layout = layout(rows).expect("a heading row");
    let mut found: Vec<(Meaning, usize)> = Meaning::ALL
        .iter()
        .filter(|&&m| m != Meaning::Ignored)
        .filter_map(|&m| Some((m, layout.column(m)?)))
        .collect();
    found.sort_by_key(|&(_, column)| column);
    assert_eq!(found, expected);
}

#[test]
fn heading_rows() {
    use Meaning::*;
    case(&[&["Qty", "Item"]], &[(Quantity, 0), (Description, 1)]);
    case(
        &[&[
            "Stage",
            "Line",
            "Description",
            "Part no.",
            "Qty per place",
            "Places",
            "Total",
        ]],
        &[
            (Stage, 0),
            (Description, 2),
            (PartNumber, 3),
            (Quantity, 4),
            (Places, 5),
            (Total, 6),
        ],
    );
    case(
        &[&[
            "PART NO",
            "DESCRIPTION",
            "BAG",
            "QTY ORD",
            "QTY SHIP",
            "B/O",
            "U/M",
            "PACK OF",
        ]],
        &[
            (PartNumber, 0),
            (Description, 1),
            (Bag, 2),
            (Ordered, 3),
            (Shipped, 4),
            (BackOrdered, 5),
            (Unit, 6),
            (PackSize, 7),
        ],
    );
    case(&[&["Bag", "Received"]], &[(Bag, 0), (Received, 1)]);
    case(
        &[&["Item", "Description", "Qty"]],
        &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
    );
    case(
        &[&["No.", "Item", "Qty"]],
        &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
    );
    case(
        &[&["No.", "Part no.", "Item", "Qty"]],
        &[(PartNumber, 1), (Description, 2), (Quantity, 3)],
    );
    case(
        &[&["Item", "Text", "Qty"]],
        &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
    );
}

#[test]
fn headings_over_two_rows() {
    use Meaning::*;
    case(
        &[
            &["Part", "", "Qty per", "No. of"],
            &["no.", "Description", "place", "places"],
        ],
        &[
            (PartNumber, 0),
            (Description, 1),
            (Quantity, 2),
            (Places, 3),
        ],
    );
    case(
        &[
            &["", "Quantity", ""],
            &["Description", "Ordered", "Shipped"],
        ],
        &[(Description, 0), (Ordered, 1), (Shipped, 2)],
    );
}

#[test]
fn two_columns_of_one_meaning() {
    let both = layout(&[&["Qty", "Item", "Qty"]]).unwrap();
    assert_eq!(both.second_quantity, Some(2));
    let both = layout(&[&["Type", "Item", "Qty"]]).unwrap();
    assert_eq!(both.descriptions, [0, 1]);
}

#[test]
fn quantities_of_what_another_column_counts() {
    use Meaning::*;
    let of = |cells: &[&str]| layout(&[cells]).expect("a heading row");
    let bays = of(&["Qty per bay", "No. of bays", "Description", "Shade"]);
    assert_eq!((bays.column(Places), bays.each_of), (Some(1), None));
    assert_eq!(bays.unread, [(3, "Shade".into())]);
    let boxes = of(&["Qty per hatch", "Hatches", "Description"]);
    assert_eq!(boxes.column(Places), Some(1));
    assert_eq!(
        of(&["Per shelf", "Shelves", "Description"]).column(Places),
        Some(1)
    );
    let open = of(&["Qty per bay", "Description"]);
    assert_eq!(
        (open.column(Places), open.each_of),
        (None, Some("bay".into()))
    );
    assert_eq!(of(&["Qty per bay", "Total", "Description"]).each_of, None);
    // A step's quantity is its total, unless steps are counted or a total stands beside it.
    let alone = of(&["Item", "Qty per step"]);
    assert_eq!(
        (alone.column(Quantity), alone.column(Total)),
        (None, Some(1))
    );
    let counted = of(&["Item", "Qty per step", "Steps", "Total"]);
    let columns = [Quantity, Places, Total, Stage].map(|meaning| counted.column(meaning));
    assert_eq!(columns, [Some(1), Some(2), Some(3), None]);
    let summed = of(&["Step", "Item", "Qty per step", "In all"]);
    let columns = [Quantity, Total, Stage].map(|meaning| summed.column(meaning));
    assert_eq!(columns, [Some(2), Some(3), Some(0)]);
    assert_eq!(of(&["Qty", "Bays", "Description"]).column(Places), None);
}

#[test]
fn a_column_a_stage() {
    let of = |heads: &[&str], next: &[&str]| {
        let layout = Layout::spread_of(&row(heads), &row(next), &IndexMap::new())?;
        let headings = layout
            .spread
            .iter()
            .map(|spread| spread.heading.to_string());
        Some(headings.collect::<Vec<_>>().join(", "))
    };
    let stages = Some("Base, Posts, Roof".to_owned());
    let heads = ["Item", "Base", "Posts", "Roof", "Total"];
    assert_eq!(of(&heads, &["M8 hex nut", "4", "", "8", "12"]), stages);
    assert_eq!(of(&heads[..4], &["M8 hex nut", "4", "-", "8"]), stages);
    assert_eq!(of(&heads[..4], &["M8 hex nut", "red", "", "8"]), None);
    assert_eq!(of(&heads[..4], &["M8 hex nut", "", "", ""]), None);
    assert_eq!(
        of(
            &["Item", "Qty", "Bay", "Row"],
            &["M8 hex nut", "4", "1", "2"]
        ),
        None
    );
}

#[test]
fn no_heading_rows() {
    for cells in [
        &["24", "hex bolt", "1/2 x 3"][..],
        &["Splice plate", "A"],
        &["Revision", "", "C"],
        &["Item"],
        &["Note", "Torque all bolts in stage 2 again after a week"],
    ] {
        assert_eq!(layout(&[cells]), None, "{cells:?}");
    }
}

#[test]
fn the_job_file_names_columns() {
    let named = IndexMap::from([
        (Meaning::Quantity, "Stück".to_owned()),
        (Meaning::Description, "teil".to_owned()),
    ]);
    let found = Layout::of(&row(&["Pos.", "Teil", "Stück"]), None, &named).unwrap();
    assert_eq!(found.column(Meaning::Description), Some(1));
    assert_eq!(found.column(Meaning::Quantity), Some(2));
    assert_eq!(Layout::of(&row(&["Qty", "Item"]), None, &named), None);
}
