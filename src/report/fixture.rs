//! A small settled job for the tests of the reports: three stages, two of them short.

use crate::{
    audit::Audit,
    bins::{Bin, Layout},
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Length, PartName, Ratio, Style},
    kit::{
        Aside, BinPer, Input, Job, Line, List, More, Placement, Reading, Role, SheetRead, Tray,
        What, job::SecondList,
    },
    settle::{
        Account, Evidence, Finding, FindingKind, ItemAccount, LineRef, Rows, Share, StageAccount,
        Totals, Verdict,
    },
    source::{Format, Limits},
};

pub struct Fixture {
    pub job: Job,
    pub lists: Vec<List>,
    pub account: Account,
    pub layout: Layout,
    pub audit: Audit,
}

pub fn hex_bolt(diameter: (i64, i64), length: (i64, i64)) -> Item {
    Item {
        kind: Some(Kind::Bolt),
        style: Some(Style::Hex),
        diameter: Some(Diameter::Inch(Ratio::new(diameter.0, diameter.1))),
        length: Some(Length::Inch(Ratio::new(length.0, length.1))),
        ..Item::default()
    }
}

pub fn part(number: &str, description: &str) -> Item {
    Item {
        kind: Some(Kind::Part),
        part: Some(Box::new(PartName {
            number: Some(number.into()),
            description: Some(description.into()),
        })),
        ..Item::default()
    }
}

/// A row of a fixture's list: row number, text, what it is, stage, quantity.
pub type Row<'a> = (u32, &'a str, Result<Item, Aside>, &'a str, Option<u64>);

/// A list of one sheet, each row its own reading and placement.
pub fn list(file: &str, role: Role, sheet: Option<&str>, rows: &[Row<'_>]) -> List {
    let format = match sheet {
        Some(_) => Format::Xlsx,
        None => Format::Delimited(b','),
    };
    let mut list = List::new(file.into(), file.to_owned(), role, format);
    (list.tally.rows, list.tally.other) = (1, 1);
    for (row, text, item, stage, quantity) in rows {
        let text = list.text.push(text);
        let what = match item {
            Ok(item) => {
                list.readings.push(Reading {
                    item: item.clone(),
                    part_number: None,
                    comes_with: false,
                    lent_size: false,
                    doubts: Vec::new(),
                });
                What::Item(list.readings.len() as u32 - 1)
            }
            Err(aside) => list.put_aside(aside.clone()),
        };
        list.placements.push(Placement {
            stage: (!stage.is_empty()).then(|| (*stage).into()),
            ..Placement::default()
        });
        let doubts = match (item, quantity) {
            (Ok(_), None) if role != Role::Counted => vec![Doubt::NoQuantity],
            _ => Vec::new(),
        };
        list.tally.rows += 1;
        match (item, doubts.is_empty()) {
            (Err(_), _) => list.tally.aside += 1,
            (Ok(_), false) => list.tally.check += 1,
            (Ok(_), true) => list.tally.read += 1,
        }
        let place = list.placements.len() as u32 - 1;
        let more = More {
            doubts,
            ..More::default()
        };
        list.lines
            .push(Line::new(*row, text, what, place, *quantity).with(more));
    }
    list.sheets.push(SheetRead {
        name: sheet.map(str::to_owned),
        tally: list.tally,
        ..SheetRead::default()
    });
    list
}

/// Three stages. Of the 1/2 x 6 bolts 24 are required, 24 on the slip, 20 counted and 1 more
/// damaged, so 4 are short in the last stage; the ladder hook is not counted.
pub fn footbridge() -> Fixture {
    let bolt = hex_bolt((1, 2), (6, 1));
    let hook = part("FB-7", "ladder hook");
    let lists = vec![
        list(
            "parts.xlsx",
            Role::Required,
            Some("Stages"),
            &[
                (
                    8,
                    "Sills | 1/2 x 6 hex bolt | 8",
                    Ok(bolt.clone()),
                    "Sills",
                    Some(8),
                ),
                (
                    9,
                    "Rails | 1/2 x 6 hex bolt | 16",
                    Ok(bolt.clone()),
                    "Rails",
                    Some(16),
                ),
                (
                    10,
                    "Hooks | FB-7 ladder hook | 2",
                    Ok(hook.clone()),
                    "Hooks",
                    Some(2),
                ),
                (
                    11,
                    "Hooks | FB-7 ladder hook |",
                    Ok(hook.clone()),
                    "Hooks",
                    None,
                ),
                (
                    12,
                    "Hooks | see drawing 4",
                    Err(Aside::NoItem("no size and no part number".into())),
                    "Hooks",
                    None,
                ),
            ],
        ),
        list(
            "slip.csv",
            Role::Shipped,
            None,
            &[
                (2, "HHCS 1/2X6,24", Ok(bolt.clone()), "", Some(24)),
                (3, "FB-7 HOOK,2", Ok(hook.clone()), "", Some(2)),
            ],
        ),
        list(
            "count.xlsx",
            Role::Counted,
            Some("Count sheet"),
            &[(
                2,
                "1/2 x 6 hex bolt | 20 | 1",
                Ok(bolt.clone()),
                "",
                Some(20),
            )],
        ),
    ];
    let at = |list, rows: &[(u32, u32)]| Evidence {
        list,
        sheet: 0,
        rows: rows.into(),
    };
    let bolts = Totals {
        required: 24,
        covered: 20,
        short: 4,
        shipped: 24,
        counted: 20,
        damaged: 1,
        pool: 20,
        used: 20,
        ..Totals::default()
    };
    let hooks = Totals {
        required: 2,
        covered: 2,
        shipped: 2,
        pool: 2,
        used: 2,
        ..Totals::default()
    };
    let share = |stage, required, short| Share {
        stage,
        required,
        covered: required - short,
        short,
        ..Share::default()
    };
    let items = vec![
        ItemAccount {
            id: "B1".to_owned(),
            item: bolt,
            text: "1/2 x 6 hex bolt".to_owned(),
            part_numbers: Vec::new(),
            sums: bolts,
            counted: Some(20),
            shipped: Some(24),
            believed: 0,
            not_received: Vec::new(),
            known: true,
            open: None,
            shares: vec![share(0, 8, 0), share(1, 16, 4)],
            stand_ins: Vec::new(),
            in_play: false,
            rivals: Vec::new(),
            bags: vec!["A".into(), "B".into()],
            bags_of_stages: Box::default(),
            draws: Vec::new(),
            findings: vec![
                Finding {
                    finding: FindingKind::BoxShort,
                    pieces: 3,
                    note: "the slip lists 24, the box held 21".to_owned(),
                    evidence: vec![at(1, &[(2, 2)]), at(2, &[(2, 2)])].into(),
                },
                Finding {
                    finding: FindingKind::Damaged,
                    pieces: 1,
                    note: "1 is damaged".to_owned(),
                    evidence: vec![at(2, &[(2, 2)])].into(),
                },
            ],
            to_bring: 0,
            doubts: Vec::new(),
            required_by: vec![at(0, &[(8, 9)])].into(),
            shipped_by: vec![at(1, &[(2, 2)])].into(),
            counted_by: vec![at(2, &[(2, 2)])].into(),
        },
        ItemAccount {
            id: "P1".to_owned(),
            item: hook,
            text: "FB-7 ladder hook".to_owned(),
            part_numbers: vec!["FB-7".to_owned()],
            sums: hooks,
            counted: None,
            shipped: Some(2),
            believed: 2,
            not_received: Vec::new(),
            known: true,
            open: None,
            shares: vec![Share {
                by_slip: 2,
                ..share(2, 2, 0)
            }],
            stand_ins: Vec::new(),
            in_play: false,
            rivals: Vec::new(),
            bags: Vec::new(),
            bags_of_stages: Box::default(),
            draws: Vec::new(),
            findings: Vec::new(),
            to_bring: 0,
            doubts: Vec::new(),
            required_by: vec![at(0, &[(10, 10)])].into(),
            shipped_by: vec![at(1, &[(3, 3)])].into(),
            counted_by: Rows::default(),
        },
    ];
    let stage = |name: &str, required, short, ready| StageAccount {
        name: name.to_owned(),
        required,
        covered: required - short,
        substituted: 0,
        from_stock: 0,
        short,
        built: false,
        spare: false,
        ready,
        reasons: Vec::new(),
    };
    let account = Account {
        stages: vec![
            stage("Sills", 8, 0, Verdict::Yes),
            stage("Rails", 16, 4, Verdict::No),
            stage("Hooks", 2, 0, Verdict::CannotSay),
        ],
        items,
        totals: Totals {
            required: 26,
            covered: 22,
            short: 4,
            shipped: 26,
            counted: 20,
            damaged: 1,
            pool: 22,
            used: 22,
            ..Totals::default()
        },
        verdict: Verdict::No,
        reasons: vec!["1/2 x 6 hex bolt: 4 short in Rails".to_owned()],
        stops_at: Some(1),
        findings: Vec::new(),
        parcels: Vec::new(),
        may_be_same: Vec::new(),
        counted_before_built: false,
        times_required: None,
        compared: Vec::new(),
        put_back: None,
        to_buy: Vec::new(),
        rule_notes: Vec::new(),
        left_over: None,
        not_chosen: Vec::new(),
        no_demand: vec![LineRef { list: 0, line: 3 }],
    };
    let tray = Tray::of(2, 3);
    let bin = |column, stage, item, pieces| Bin {
        instead: None,
        tray: 1,
        row: 1,
        column,
        stage,
        item,
        pieces,
        volume_used: None,
    };
    Fixture {
        job: Job {
            name: "Fern Gully footbridge".to_owned(),
            kits: 1,
            required: vec![Input::at("parts.xlsx")],
            second_list: SecondList::Refused,
            shipped: vec![Input::at("slip.csv")],
            counted: vec![Input::at("count.xlsx")],
            stock: Vec::new(),
            leftover: Vec::new(),
            limits: Limits::default(),
            with: vec!["handrail".to_owned()],
            without: Vec::new(),
            stages: Vec::new(),
            built_through: None,
            spares: Vec::new(),
            substitutes: Vec::new(),
            substitute_tables: Vec::new(),
            numbers: Vec::new(),
            number_tables: Vec::new(),
            names: indexmap::IndexMap::new(),
            trays: vec![tray.clone()],
            bin_per: BinPer::Item,
            piece_weights: crate::weigh::kept::PieceWeights::default(),
            bag_tare_g: None,
            labels: None,
            claim: indexmap::IndexMap::new(),
        },
        lists,
        account,
        layout: Layout {
            trays: vec![tray],
            bins: vec![bin(1, 0, 0, 24), bin(2, 2, 1, 2)],
            ..Layout::default()
        },
        audit: Audit::default(),
    }
}
