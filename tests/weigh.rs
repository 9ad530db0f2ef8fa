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
        "1/2 hex nut: 50 pieces, sure (over 99.9 % exact; weighed as 50.00, standard error 0.05)\n\
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
        "100 pieces, not sure (72.3 % exact; weighed as 100.00, standard error 0.46)\n  \
           to be sure: weigh a sample of 37\n  \
           check: the variation of single pieces is not known: the usual 1 % was taken (common practice, no source)\n  \
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
    assert_eq!(ran.err, message);
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
         what to do: give --sample-pieces, --sample-weight and --batch-weight, or a file with --csv\n",
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
        "1/2 hex nut: 50 pieces, sure (over 99.9 % exact; weighed as 50.00, standard error 0.05)\n\
         5/8 hex nut: not counted: a sample of 1: one piece tells nothing of the others\n\
         3/8 SAE washer: 10 pieces, sure (over 99.9 % exact; weighed as 9.94, standard error 0.13)\n  \
           check: the batch is lighter than its sample: a short bag, or the two are swapped\n\
         3/8 x 4 carriage bolt: not counted: \"8.2 kg\" contradicts the unit lb\n\
         Weighing cannot tell mixed lengths apart: sort first. Weigh the batch without the sample.\n"
    );
    assert_eq!(
        ran.err,
        format!(
            "tallybin: {path}, row 4: a sample of 1: one piece tells nothing of the others\n  \
             what to do: count out at least 2 pieces, better 20, and weigh them together\n\
             tallybin: {path}, row 7: \"8.2 kg\" contradicts the unit lb\n  \
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
             \"batch weight\", \"tare\", \"unit\", \"resolution\", \"variation\"\n"
        ),
    );
}
