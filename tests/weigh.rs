//! `tallybin weigh` as a user runs it.

use std::fs;

use assert_cmd::Command;
use pretty_assertions::assert_eq;

struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

fn weigh(arguments: &[&str]) -> Ran {
    let output = Command::new(assert_cmd::cargo::cargo_bin!("tallybin"))
        .arg("weigh")
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Ran {
        code: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

#[test]
fn one_weighing() {
    let ran = weigh(&[
        "--item",
        "1/2 hex nut",
        "--sample-pieces",
        "40",
        "--sample-weight",
        "738.4",
        "--batch-weight",
        "1273.0",
        "--tare",
        "350",
        "--resolution",
        "0.1",
        "--variation",
        "0.5",
    ]);
    assert_eq!(
        ran.out,
        "1/2 hex nut: 50 pieces, and the 40 of the sample if they are of it, sure (over 99.9 % exact; weighed\n  as 50.00, standard error 0.05)\n\
         Weighing cannot tell mixed lengths apart: sort first. Weigh the batch without the sample.\n"
    );
    assert_eq!((ran.err.as_str(), ran.code), ("", Some(0)));
}

#[test]
fn an_unsure_weighing_says_what_would_make_it_sure() {
    let ran = weigh(&[
        "--sample-pieces",
        "5",
        "--sample-weight",
        "92.3 g",
        "--batch-weight",
        "1846 g",
    ]);
    // By hand: 1 % squared times (100 + 100 * 100 / 5), and steps of 1 g and of 0.1 g twenty times
    // over, of 18.46 g, each squared over 12, are 0.2112, the square of 0.4596; the normal table at
    // 0.5 / 0.4596 = 1.088, twice, less one, is 0.7234. With a sample of 37 it is 0.99.
    assert_eq!(
        ran.out,
        "100 pieces, and the 5 of the sample if they are of it, not sure (72.3 % exact; weighed as 100.00,\n  standard error 0.46)\n  \
           to be sure: weigh a sample of 37\n  \
           check: the variation of single pieces is not known: the usual 1 % was taken (common practice, no\n    source)\n  \
           check: the scale's resolution is not stated: taken from the digits as written\n\
         Weighing cannot tell mixed lengths apart: sort first. Weigh the batch without the sample.\n"
    );
}

#[test]
fn one_weighing_in_json_is_one_object() {
    let ran = weigh(&[
        "--sample-pieces",
        "20",
        "--sample-weight",
        "369.2",
        "--batch-weight",
        "3692",
        "--resolution",
        "0.1",
        "--variation",
        "0.5",
        "--format",
        "json",
    ]);
    let object: serde_json::Value = serde_json::from_str(&ran.out).expect("one object");
    assert_eq!(object["count"], 200);
    assert_eq!(object["row"], serde_json::Value::Null);
    for (field, expected) in [
        // By hand: 0.5 % squared times (200 + 200 * 200 / 20), and steps of 0.1 g of 18.46 g.
        ("standard_error", 0.235),
        // Twice the normal table at 0.5 / 0.235 = 2.128, less one.
        ("chance_exact", 0.9665),
        ("estimate", 200.0),
        ("variation", 0.5),
    ] {
        let found = object[field].as_f64().expect("a number");
        assert!((found - expected).abs() < 2e-4, "{field}: {found}");
    }
    assert_eq!(object["sample_needed"], 31);
    assert_eq!(object["sure"], false);
}

#[track_caller]
fn refused(arguments: &[&str], message: &str) {
    let ran = weigh(arguments);
    // Long lines go on further to the right.
    let err = ran.err.replace("\n        ", " ").replace("\n      ", " ");
    assert_eq!(err, message);
    assert_eq!((ran.out.as_str(), ran.code), ("", Some(2)));
}

#[test]
fn bad_weighings_are_refused() {
    refused(
        &[
            "--sample-pieces",
            "1",
            "--sample-weight",
            "18",
            "--batch-weight",
            "3692",
        ],
        "tallybin: a sample of 1: one piece tells nothing of the others\n  \
         what to do: count out at least 2 pieces, better 20, and weigh them together\n",
    );
    refused(
        &[
            "--sample-pieces",
            "20",
            "--sample-weight",
            "369",
            "--batch-weight",
            "300",
            "--tare",
            "350",
        ],
        "tallybin: the batch weighs -50 g net (300 g less a tare of 350 g)\n  \
         what to do: check the tare and weigh the batch again\n",
    );
    refused(
        &[
            "--sample-pieces",
            "20",
            "--sample-weight",
            "-369",
            "--batch-weight",
            "300",
        ],
        "tallybin: the sample weighs -369 g\n  \
         what to do: zero the scale and weigh the sample again\n",
    );
    refused(
        &[
            "--sample-pieces",
            "20",
            "--sample-weight",
            "369 g",
            "--batch-weight",
            "3.6 kg",
            "--unit",
            "g",
        ],
        "tallybin: \"3.6 kg\" contradicts the unit g\n  \
         what to do: write all weights of one weighing in one unit, or each with its own and no common one\n",
    );
    refused(
        &["--sample-pieces", "20", "--batch-weight", "300"],
        "tallybin: 1 sample pieces and 0 sample weights\n  \
         what to do: give each sample its pieces and its weight\n",
    );
    refused(
        &[],
        "tallybin: no weighing given\n  \
         what to do: give --sample-pieces, --sample-weight and --batch-weight, or a file with --csv; \
         --keep needs no batch\n",
    );
}

#[test]
fn a_sheet_of_weighings() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("weighed.csv");
    let path = path.to_str().expect("a UTF-8 path");
    fs::write(
        path,
        "Weighed on the bench;;;;;;;\n\
         Item;Sample pieces;Sample weight;Batch weight;Tare;Unit;Resolution;Variation\n\
         1/2 hex nut;40;738,4;1273,0;350;g;0,1;0,5\n\
         5/8 hex nut;1;33;300;;g;;\n\
         ;;;;;;;\n\
         3/8 SAE washer;20+20+20;81.2+80.6+82.0;40.4;;g;0.1;\n\
         3/8 x 4 carriage bolt;20;2.73;8.2 kg;;lb;;\n",
    )
    .expect("a file");
    let ran = weigh(&["--csv", path]);
    assert_eq!(
        ran.out,
        "1/2 hex nut: 50 pieces, and the 40 of the sample if they are of it, sure (over 99.9 % exact; weighed\n  as 50.00, standard error 0.05)\n\
         5/8 hex nut: not counted: a sample of 1: one piece tells nothing of the others\n\
         3/8 SAE washer: 10 pieces, and the 60 of the sample if they are of it, sure (over 99.9 % exact;\n  weighed as 9.94, standard error 0.13)\n  \
           check: the batch is lighter than its sample: a short bag, or the two are swapped\n\
         3/8 x 4 carriage bolt: not counted: \"8.2 kg\" contradicts the unit lb\n\
         Weighing cannot tell mixed lengths apart: sort first. Weigh the batch without the sample.\n"
    );
    assert_eq!(
        ran.err,
        format!(
            "tallybin: {path}, line 4: a sample of 1: one piece tells nothing of the others\n  \
             what to do: count out at least 2 pieces, better 20, and weigh them together\n\
             tallybin: {path}, line 7: \"8.2 kg\" contradicts the unit lb\n  \
             what to do: write all weights of one weighing in one unit, or each with its own and no common one\n"
        )
    );
    assert_eq!(ran.code, Some(0));

    let ran = weigh(&["--csv", path, "--format", "json"]);
    let objects: Vec<serde_json::Value> = serde_json::from_str(&ran.out).expect("an array");
    let rows: Vec<_> = objects
        .iter()
        .map(|o| (o["row"].as_u64(), o["count"].as_u64()))
        .collect();
    assert_eq!(
        rows,
        [
            (Some(3), Some(50)),
            (Some(4), None),
            (Some(6), Some(10)),
            (Some(7), None)
        ]
    );
}

#[test]
fn a_sheet_without_its_headings_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("weighed.csv");
    let path = path.to_str().expect("a UTF-8 path");
    fs::write(path, "item,pieces,weight\n1/2 hex nut,40,738.4\n").expect("a file");
    refused(
        &["--csv", path],
        &format!(
            "tallybin: {path}: no heading row with \"sample pieces\", \"sample weight\", \"batch weight\"\n  \
             what to do: head the columns with \"item\", \"sample pieces\", \"sample weight\", \
             \"batch weight\", \"tare\", \"unit\", \"resolution\", \"variation\", \
             \"sample counts\"\n"
        ),
    );
}

/// A sheet of weighings is a count: what is not sure is to check, and a row that gives no count leaves
/// its item not counted, with the row's own message.
#[test]
fn a_sheet_of_weighings_as_the_count() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("UTF-8").to_owned();
    let (parts, weighed, report) = (path("parts.csv"), path("weighed.csv"), path("report.xlsx"));
    fs::write(
        &parts,
        "Stage,Qty,Description\nDeck,48,1/2 hex nut\nDeck,200,5/16 SAE flat washer\n\
         Deck,10,3/8 lock washer\n",
    )
    .expect("a file");
    fs::write(
        &weighed,
        "item,sample pieces,sample weight,batch weight,unit,resolution,variation,sample counts\n\
         1/2-13 hex nut,20,400,960,g,0.1,0.2,no\n\
         5/16 SAE flat washer,5,12.5,500,g,0.1,2,no\n\
         3/8 lock washer,1,10,300,g,1,1,no\n",
    )
    .expect("a file");
    let output = Command::new(assert_cmd::cargo::cargo_bin!("tallybin"))
        .args(["reconcile", "--required", &parts, "--counted", &weighed])
        .args(["-o", &report, "--format", "json"])
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(0));
    let account: serde_json::Value = serde_json::from_slice(&output.stdout).expect("an object");
    let counted: Vec<(&str, Option<u64>)> = account["items"]
        .as_array()
        .expect("items")
        .iter()
        .map(|item| {
            (
                item["text"].as_str().expect("a text"),
                item["counted"].as_u64(),
            )
        })
        .collect();
    assert_eq!(
        counted,
        [
            ("1/2-13 hex nut", Some(48)),
            ("5/16 SAE flat washer", Some(200)),
            ("3/8 split lock washer", None),
        ]
    );
    let sources = account["sources"].as_array().expect("sources");
    let of_count = sources
        .iter()
        .find(|s| s["role"] == "counted")
        .expect("a count");
    assert_eq!(
        (
            &of_count["rows"],
            &of_count["read"],
            &of_count["check"],
            &of_count["aside"]
        ),
        (&4.into(), &1.into(), &2.into(), &0.into())
    );
    let mut book: calamine::Xlsx<_> = calamine::open_workbook(&report).expect("a workbook");
    let range = calamine::Reader::worksheet_range(&mut book, "Check these lines").expect("a sheet");
    let why: Vec<String> = range
        .rows()
        .filter(|row| row[0] == calamine::Data::String("check".to_owned()))
        .map(|row| row.last().expect("cells").to_string())
        .collect();
    assert!(
        why[0].starts_with("counted by weight: ") && why[0].contains(" % sure to be exact"),
        "{why:?}"
    );
    assert_eq!(
        why[1],
        "not counted: a sample of 1: one piece tells nothing of the others; \
         count out at least 2 pieces, better 20, and weigh them together"
    );
}

/// What a piece weighs is kept, and a bag is checked by it; what was kept before stays.
#[test]
fn piece_weights_are_kept_and_used() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("UTF-8").to_owned();
    let (kept, job, report) = (path("kept.csv"), path("job.toml"), path("report.xlsx"));
    let arguments = [
        "--item",
        "1/2-13 hex nut",
        "--sample-pieces",
        "40",
        "--sample-weight",
        "696",
        "--batch-weight",
        "1740",
        "--unit",
        "g",
        "--resolution",
        "0.1",
        "--variation",
        "0.8",
        "--keep",
        &kept,
    ];
    for rows in 1..=2 {
        let ran = weigh(&arguments);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
        let text = fs::read_to_string(&kept).expect("kept");
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(
            lines[0],
            "item,piece weight g,variation %,variation from,pieces,date"
        );
        assert_eq!(lines.len(), rows + 1);
        // 696 g / 40.
        assert!(
            lines[rows].starts_with("1/2-13 hex nut,17.400000,0.8000,given,40,20"),
            "{text}"
        );
    }
    // With no batch on the scale: a piece weighs the same.
    let alone: Vec<&str> = (arguments.iter())
        .filter(|of| !["--batch-weight", "1740"].contains(of))
        .copied()
        .collect();
    let ran = weigh(&alone);
    assert_eq!(
        (ran.code, ran.out.as_str()),
        (
            Some(0),
            "1/2-13 hex nut: a piece weighs 17.40 g, by a sample of 40\n"
        )
    );
    let text = fs::read_to_string(&kept).expect("kept");
    let last = text.lines().last().unwrap_or_default();
    assert!(
        last.starts_with("1/2-13 hex nut,17.400000,0.8000,given,40,20"),
        "{text}"
    );
    let ran = weigh(&[
        "--item",
        "1/2 x 3 hex bolt with hex nut",
        "--sample-pieces",
        "40",
        "--sample-weight",
        "4696",
        "--batch-weight",
        "9392",
        "--keep",
        &kept,
    ]);
    assert_eq!(ran.code, Some(0));
    assert_eq!(
        ran.err,
        "tallybin: not kept: \"1/2 x 3 hex bolt with hex nut\" names no one item\n"
    );
    #[cfg(unix)]
    {
        let link = path("link.csv");
        std::os::unix::fs::symlink(&kept, &link).expect("a link");
        let rows = fs::read_to_string(&kept).expect("kept").lines().count();
        let ran = weigh(&[
            "--item",
            "M5 nut",
            "--sample-pieces",
            "40",
            "--sample-weight",
            "48",
            "--keep",
            &link,
        ]);
        assert_eq!(ran.code, Some(0));
        let text = fs::read_to_string(&kept).expect("kept");
        assert_eq!(text.lines().count(), rows + 1, "{text}");
        assert!(fs::symlink_metadata(&link).expect("a link").is_symlink());
    }
    fs::write(
        path("parts.csv"),
        "Qty,Description,Bag\n100,1/2 hex nut,A\n",
    )
    .expect("a file");
    fs::write(
        &job,
        "required = [\"parts.csv\"]\n[weights]\npieces = \"kept.csv\"\nbag_tare_g = 14\n",
    )
    .expect("a file");
    let ran = Command::new(assert_cmd::cargo::cargo_bin!("tallybin"))
        .args(["reconcile", &job, "-o", &report])
        .output()
        .expect("the program runs");
    assert_eq!(ran.status.code(), Some(0));
    let mut book: calamine::Xlsx<_> = calamine::open_workbook(&report).expect("a workbook");
    let range = calamine::Reader::worksheet_range(&mut book, "Weights").expect("a sheet");
    let bag = range
        .rows()
        .find(|row| row[0] == calamine::Data::String("bag A".to_owned()))
        .expect("a bag");
    // 100 x 17.4 g and 14 g; 2.576 x 17.4 g x 0.8 % x the root of (100 x 100 / 40 + 100) is 6.7 g.
    let figure = |at: usize| match bag[at] {
        calamine::Data::Float(figure) => figure,
        ref other => panic!("{other:?} is no figure"),
    };
    assert_eq!((figure(3) * 1e4).round(), 17_540.0);
    // A pound is 453.59237 g (international yard and pound agreement, 1959).
    assert_eq!((figure(4) * 1e4).round(), 38_669.0);
    assert_eq!((figure(5) * 1e4).round(), 67.0);
    assert_eq!(bag[6].to_string(), "weighed pieces");
    assert_eq!(bag[7].to_string(), "with the bag's own 14 g");
}
