//! The program as a user runs it: arguments in; exit code, standard output and standard error out.

use assert_cmd::Command;
use pretty_assertions::assert_eq;
use tempfile::TempDir;

/// A folder with files in it, in which the program is started.
struct Bench(TempDir);

impl Bench {
    fn new(files: &[(&str, &str)]) -> Bench {
        let folder = tempfile::tempdir().expect("a folder for the test");
        for (name, text) in files {
            std::fs::write(folder.path().join(name), text).expect("a file for the test");
        }
        Bench(folder)
    }

    fn path(&self, name: &str) -> std::path::PathBuf {
        self.0.path().join(name)
    }

    /// Exit code, standard output, standard error.
    fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        let output = Command::cargo_bin("tallybin")
            .expect("the program is built")
            .current_dir(self.0.path())
            .args(arguments)
            .output()
            .expect("the program starts");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
        (
            output.status.code().expect("an exit code"),
            text(output.stdout),
            text(output.stderr),
        )
    }

    /// The run ends with 2, prints nothing on standard output, writes no `report.xlsx`, and says so, its long lines
    /// wrapped.
    #[track_caller]
    fn refuses(&self, arguments: &[&str], message: &str) {
        let before = std::fs::read(self.path("report.xlsx")).ok();
        let (code, out, err) = self.run(arguments);
        assert!(err.lines().all(|line| line.chars().count() <= 100), "{err}");
        assert_eq!(unwrapped(&err), message);
        assert_eq!((code, out.as_str()), (2, ""));
        assert_eq!(std::fs::read(self.path("report.xlsx")).ok(), before);
    }
}

/// A message whose long lines go on further to the right.
fn unwrapped(message: &str) -> String {
    message.replace("\n        ", " ").replace("\n      ", " ")
}

const PARTS: &str = "Stage,Description,Qty\nDeck,1/2 x 3-3/4 hex bolt,8\nDeck,1/2 hex nut,8\n";

#[test]
fn nothing_required() {
    Bench::new(&[]).refuses(
        &["reconcile"],
        "tallybin: no required list is given, so there is nothing to settle\n  \
         what to do: name a job file, or give the parts list with --required FILE\n",
    );
}

#[test]
fn job_file_missing() {
    Bench::new(&[]).refuses(
        &["reconcile", "job.toml"],
        "tallybin: job.toml: the job file cannot be read: No such file or directory (os error 2)\n  \
         what to do: check the path; a job file is plain text, its name usually ends in .toml\n",
    );
}

#[test]
fn one_file_twice() {
    Bench::new(&[("parts.csv", PARTS)]).refuses(
        &[
            "reconcile",
            "--required",
            "parts.csv",
            "--shipped",
            "./parts.csv",
            "-o",
            "report.xlsx",
        ],
        "tallybin: ./parts.csv: the same file is given twice, as required and as shipped\n  \
         what to do: give each file once; a list is never counted twice, unless it has a column for \
         each, headed such as \"Qty required\" and \"Qty supplied\"\n",
    );
}

/// A list that has a column for each of two roles stands for both.
#[test]
fn one_file_of_two_columns() {
    let bench = Bench::new(&[(
        "shelter.csv",
        "Qty required,Qty supplied,Description\n16,18,M8 x 40 hex bolt\n32,30,M8 washer\n",
    )]);
    let both = ["--required", "shelter.csv", "--shipped", "shelter.csv"];
    let (code, out, err) = bench.run(&[&["reconcile"], &both[..]].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("1 item short, 2 pieces in all."), "{out}");
    let [required, shipped] = ["required", "shipped"];
    for role in [required, shipped] {
        let read = format!("shelter.csv ({role}): 3 rows = 2 read");
        assert!(out.contains(&read), "{out}");
    }
}

/// An ending that says another kind of file than is written.
#[test]
fn outputs_by_another_name() {
    let bench = Bench::new(&[("parts.csv", PARTS)]);
    for (flag, name, message) in [
        (
            "-o",
            "report.pdf",
            "tallybin: report.pdf: a workbook is written here, and this name does not say so\n  \
             what to do: end the name in .xlsx\n",
        ),
        (
            "--html",
            "page.xlsx",
            "tallybin: page.xlsx: a page is written here, and this name does not say so\n  \
             what to do: end the name in .html\n",
        ),
    ] {
        bench.refuses(
            &["reconcile", "--required", "parts.csv", flag, name],
            message,
        );
    }
}

/// Under another name, too: by a link, or as a copy byte for byte.
#[test]
fn one_file_twice_under_two_names() {
    let bench = Bench::new(&[("parts.csv", PARTS), ("parts (1).csv", PARTS)]);
    bench.refuses(
        &[
            "reconcile",
            "--required",
            "parts.csv",
            "--required",
            "parts (1).csv",
        ],
        "tallybin: parts (1).csv: holds the very same as parts.csv, given as required too\n  \
         what to do: give one of the two; a list is never counted twice\n",
    );
    bench.refuses(
        &[
            "reconcile",
            "--required",
            "parts.csv",
            "--shipped",
            "parts (1).csv",
        ],
        "tallybin: parts (1).csv: holds the very same as parts.csv, given as required, and is given as shipped\n  \
         what to do: give one of the two; a list is never counted twice\n",
    );
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(bench.path("parts.csv"), bench.path("link.csv"))
            .expect("a link for the test");
        bench.refuses(
            &[
                "reconcile",
                "--required",
                "parts.csv",
                "--required",
                "link.csv",
            ],
            "tallybin: link.csv: the same file is given twice, as required and as required\n  \
             what to do: give each file once; a list is never counted twice, unless it has a column \
             for each, headed such as \"Qty required\" and \"Qty supplied\"\n",
        );
    }
}

#[test]
fn output_is_an_input() {
    let bench = Bench::new(&[("report.xlsx", PARTS)]);
    bench.refuses(
        &[
            "reconcile",
            "--required",
            "report.xlsx",
            "-o",
            "report.xlsx",
            "--force",
        ],
        "tallybin: report.xlsx: the output is also an input\n  \
         what to do: name another file; inputs are never written over\n",
    );
}

#[test]
fn kits_out_of_range() {
    let bench = Bench::new(&[("parts.csv", PARTS)]);
    for kits in ["0", "-1", "2.5", "1000001"] {
        let (code, out, err) = bench.run(&[
            "reconcile",
            "--required",
            "parts.csv",
            &format!("--kits={kits}"),
        ]);
        assert_eq!((code, out.as_str()), (2, ""));
        assert!(
            err.contains(&format!("invalid value '{kits}' for '--kits <N>'")),
            "{err}"
        );
    }
}

/// What a file that cannot be read as a list is refused with.
#[track_caller]
fn refuses_list(name: &str, bytes: &[u8], message: &str) {
    let bench = Bench::new(&[]);
    std::fs::write(bench.path(name), bytes).expect("a file for the test");
    bench.refuses(
        &["reconcile", "--required", name, "-o", "report.xlsx"],
        message,
    );
}

#[test]
fn list_missing() {
    Bench::new(&[]).refuses(
        &["reconcile", "--required", "parts.csv", "-o", "report.xlsx"],
        "tallybin: parts.csv: no such file\n  what to do: check the path and that you may read it\n",
    );
}

#[test]
fn list_is_a_directory() {
    let bench = Bench::new(&[]);
    std::fs::create_dir(bench.path("parts.xlsx")).expect("a directory for the test");
    bench.refuses(
        &["reconcile", "--required", "parts.xlsx", "-o", "report.xlsx"],
        "tallybin: parts.xlsx: a directory, not a file\n  what to do: name the list in it\n",
    );
}

#[test]
fn list_empty() {
    refuses_list(
        "parts.csv",
        b"",
        "tallybin: parts.csv: the file is empty\n  what to do: save the list again\n",
    );
}

#[test]
fn zip_that_is_no_workbook() {
    let mut zip = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    zip.start_file("letter.txt", zip::write::SimpleFileOptions::default())
        .expect("a zip in memory");
    let bytes = zip.finish().expect("a zip in memory").into_inner();
    refuses_list(
        "parts.xlsx",
        &bytes,
        "tallybin: parts.xlsx: a zip that is no workbook\n  \
         what to do: save the list as a workbook (xlsx, xls, xlsb, ods), CSV or plain text\n",
    );
}

#[test]
fn workbook_cut_short() {
    let whole = std::fs::read("samples/footbridge/parts-list.xlsx").expect("the sample");
    refuses_list(
        "parts.xlsx",
        &whole[..whole.len() / 2],
        "tallybin: parts.xlsx: the workbook is damaged or cut short \
         (invalid Zip archive: Could not find EOCD)\n  \
         what to do: open it in a spreadsheet program and save it again, or ask for it again\n",
    );
}

#[test]
fn columns_that_cannot_be_told_apart() {
    refuses_list(
        "parts.csv",
        b"a,b,c\n1,x,y\n2,z,w\n",
        "tallybin: parts.csv: no heading row is understood, and the lines do not read as items; \
         the first rows as read:\n    1: a | b | c\n    2: 1 | x | y\n    3: 2 | z | w\n  \
         what to do: write a heading row above the rows, such as Item | Qty (or Part no. | Qty); or, where there is one, \
         name its columns in a job file, beside this file: columns = { quantity = \"...\", description = \"...\" }; README.md \
         lists the other keys, such as part_number, size and stage\n",
    );
}

#[test]
fn options_that_contradict() {
    let parts = "Stage,Description,Qty,Option\nDeck,1/2 x 4 hex bolt,8,with: ramp\n";
    Bench::new(&[("parts.csv", parts)]).refuses(
        &[
            "reconcile",
            "--required",
            "parts.csv",
            "--with",
            "ramp",
            "--without",
            "Ramp",
            "-o",
            "report.xlsx",
        ],
        "tallybin: the option \"ramp\" is both taken (with) and refused (without)\n  \
         what to do: give it once: with, to build it, or without\n",
    );
}

/// What is not chosen is not counted, and the answer says so.
#[test]
fn options_that_nobody_chose() {
    let parts = "Stage,Description,Qty,Option\nDeck,1/2 x 4 hex bolt,8,\n\
                 Deck,Ramp plate,2,with: ramp\nDeck,1/2 hex nut,8,with: ramp\n";
    let bench = Bench::new(&[
        ("parts.csv", parts),
        ("count.csv", "Item,Good\n1/2 x 4 hex bolt,8\n"),
    ]);
    let job = [
        "reconcile",
        "--required",
        "parts.csv",
        "--counted",
        "count.csv",
    ];
    let told = "Without the option \"ramp\" (2 lines): say whether it is built, with or without.";
    let (_, out, _) = bench.run(&job);
    assert!(out.contains("May the job start?  YES\n"), "{out}");
    assert!(out.contains(told), "{out}");
    let (_, out, _) = bench.run(&[&job[..], &["--without", "ramp"]].concat());
    assert!(!out.contains("Without the option"), "{out}");
    let (_, out, _) = bench.run(&[&job[..], &["--with", "ramp"]].concat());
    assert!(!out.contains("Without the option"), "{out}");
}

#[test]
fn outputs_that_cannot_be_written() {
    let bench = Bench::new(&[("parts.csv", PARTS), ("old.xlsx", "old")]);
    bench.refuses(
        &[
            "reconcile",
            "--required",
            "parts.csv",
            "-o",
            "none/report.xlsx",
        ],
        "tallybin: none/report.xlsx: there is no such folder to write to\n  \
         what to do: make the folder first, or name another\n",
    );
    bench.refuses(
        &["reconcile", "--required", "parts.csv", "-o", "."],
        "tallybin: .: this is a folder\n  what to do: name a file in it, such as report.xlsx\n",
    );
    bench.refuses(
        &["reconcile", "--required", "parts.csv", "-o", "old.xlsx"],
        "tallybin: old.xlsx: the file is there already\n  \
         what to do: give --force to replace it, or name another file\n",
    );
    assert_eq!(
        std::fs::read(bench.path("old.xlsx")).ok().as_deref(),
        Some(&b"old"[..])
    );
}

#[test]
fn one_stage_in_two_required_lists() {
    let again = format!("{PARTS}\n");
    Bench::new(&[("parts.csv", PARTS), ("again.csv", &again)]).refuses(
        &["reconcile", "--required", "parts.csv", "--required", "again.csv"],
        "tallybin: again.csv, line 2: stage \"Deck\" asks for \"Deck | 1/2 x 3-3/4 hex bolt | 8\" here, and for \
         \"Deck | 1/2 x 3-3/4 hex bolt | 8\" in parts.csv, line 2 too: two required lists over one stage and \
         item are not added up\n  \
         what to do: give one of the two lists; or --required-adds, where the second adds to the first; or \
         --required-checks, to see where the two differ\n",
    );
}

/// Two lists of one kit: added up, or the second held against the first, as the user says.
#[test]
fn two_required_lists() {
    let again = "Stage,Description,Qty\nDeck,1/2 x 3-3/4 hex bolt,8\nDeck,1/2 hex nut,6\n";
    let bench = Bench::new(&[
        ("parts.csv", PARTS),
        ("again.csv", again),
        (
            "job.toml",
            "required = [\"parts.csv\", \"again.csv\"]\nrequired_checks = true\n",
        ),
        (
            "both.toml",
            "required_adds = true\nrequired_checks = true\n",
        ),
    ]);
    let run = |arguments: &[&str]| {
        let (code, out, err) = bench.run(&[arguments, &["--format", "json"]].concat());
        assert_eq!((code, err.as_str()), (0, ""));
        serde_json::from_str::<serde_json::Value>(&out).expect("one JSON object")
    };
    let lists = [
        "reconcile",
        "--required",
        "parts.csv",
        "--required",
        "again.csv",
    ];
    let added = run(&[&lists[..], &["--required-adds"]].concat());
    assert_eq!(added["totals"]["required"], 30);
    for checked in [
        run(&[&lists[..], &["--required-checks"]].concat()),
        run(&["reconcile", "job.toml"]),
    ] {
        assert_eq!(checked["totals"]["required"], 16);
        assert_eq!(checked["sources"][1]["role"], "compared");
        assert_eq!(
            checked["compared"],
            serde_json::json!([{"file": "again.csv", "agree": 1, "differ": 1, "unread": 0}])
        );
        assert_eq!(
            checked["findings"],
            serde_json::json!([{
                "finding": "required lists differ",
                "pieces": 2,
                "lines": [
                    {"file": "parts.csv", "sheet": null, "rows": [[3, 3]]},
                    {"file": "again.csv", "sheet": null, "rows": [[3, 3]]},
                ],
                "note": "Stage \"Deck\": 1/2-13 hex nut: 8 in parts.csv, 6 in again.csv.",
            }])
        );
    }
    bench.refuses(
        &["reconcile", "both.toml"],
        "tallybin: both.toml: required_adds and required_checks are both true\n  \
         what to do: keep one: a second required list either adds to the first or checks it\n",
    );
    bench.refuses(
        &["reconcile", "--required", "parts.csv", "--required-checks"],
        "tallybin: --required-checks holds a second required list against the first, and one is given\n  \
         what to do: give the second list with another --required FILE\n",
    );
}

/// A bad line never stops the run: it is set aside with its reason, and the rest is read.
#[test]
fn bad_lines_in_a_good_file() {
    let parts = "Stage,Description,Qty\nDeck,1/2 x 3-3/4 hex bolt,8\nDeck,1/2 hex nut,-3\n\
                 Deck,1/2 hex nut,2.5\nDeck,1/2 FW,99999999999\nDeck,1/2 FW,\n";
    let (code, out, err) = Bench::new(&[("parts.csv", parts)]).run(&["read", "parts.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!(out, READ);
}

const READ: &str = r#"parts.csv
    row state   pieces  reads as
  Deck
      2 read         8  1/2 x 3-3/4 hex bolt
      3 aside           "Deck | 1/2 hex nut | -3"
                        ? "-3" is no count of pieces
      4 aside           "Deck | 1/2 hex nut | 2.5"
                        ? "2.5" is no count of pieces
      5 aside           "Deck | 1/2 FW | 99999999999"
                        ? "99999999999" is no count of pieces
      6 check           1/2 flat washer
                        "Deck | 1/2 FW"
                        ? no quantity stated: not summed
6 rows = 1 read + 1 check + 3 aside + 1 headings, blanks and totals
"#;

/// What is short decides the exit code only where it is asked for.
#[test]
fn fail_on_short() {
    let slip = "Description,Shipped\n1/2 x 3-3/4 hex bolt,8\n1/2 hex nut,6\n";
    let bench = Bench::new(&[("parts.csv", PARTS), ("slip.csv", slip)]);
    let run = [
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.csv",
    ];
    assert_eq!(bench.run(&run).0, 0);
    assert_eq!(bench.run(&[&run[..], &["--fail-on-short"]].concat()).0, 1);
    assert_eq!(bench.run(&[&run[..3], &["--fail-on-short"]].concat()).0, 1);
}

#[test]
fn json_and_nothing_else_on_standard_output() {
    let slip = "Description,Shipped\n1/2 x 3-3/4 hex bolt,8\n1/2 hex nut,6\n";
    let bench = Bench::new(&[("parts.csv", PARTS), ("slip.csv", slip)]);
    let (code, out, err) = bench.run(&[
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.csv",
        "--format",
        "json",
        "-o",
        "report.xlsx",
    ]);
    assert_eq!((code, err.as_str()), (0, ""));
    let object: serde_json::Value = serde_json::from_str(&out).expect("one JSON object");
    assert_eq!(object["totals"]["required"], 16);
    assert_eq!(object["totals"]["covered"], 14);
    assert_eq!(object["totals"]["short"], 2);
    assert_eq!(object["stops_at"], "Deck");
    assert_eq!(
        object["items"][1]["findings"][0]["finding"],
        "slip is short"
    );
    assert_eq!(object["items"][1]["findings"][0]["pieces"], 2);
    assert!(bench.path("report.xlsx").exists());
}

const SLIP: &str = "Description,Qty\n1/2 x 3-3/4 hex bolt,8\n1/2 hex nut,6\n";
const COUNT: &str =
    "Description,Good,Damaged,Counted by\n1/2 x 3-3/4 hex bolt,5,1,=Wren\n1/2 hex nut,,,\n";

/// The lists of a small short kit, and what is asked for beside them.
fn claiming(bench: &Bench, more: &[&str]) -> (i32, String, String) {
    let mut arguments = vec![
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.csv",
    ];
    arguments.extend(["--counted", "count.csv"]);
    arguments.extend(more);
    bench.run(&arguments)
}

fn short_kit() -> Bench {
    Bench::new(&[
        ("parts.csv", PARTS),
        ("slip.csv", SLIP),
        ("count.csv", COUNT),
    ])
}

#[test]
fn a_claim_as_csv() {
    let bench = short_kit();
    let (code, out, err) = claiming(&bench, &["--claim", "claim.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.ends_with("The claim is in claim.csv.\n"), "{out}");
    let claim = std::fs::read_to_string(bench.path("claim.csv")).expect("a claim");
    let lines: Vec<&str> = claim.split("\r\n").collect();
    let bolt = "1/2-13 x 3-3/4 hex bolt,,8,8,5";
    let nut = "1/2-13 hex nut,,8,6,not counted";
    // Of 8 bolts due 5 are good and 1 is damaged; of 8 nuts due the slip itself lists 6.
    for begins in [
        "Claimed: 5 pieces: 4 missing, 1 damaged.".to_owned(),
        format!("1,missing,{bolt},2,"),
        format!("2,missing,{nut},2,slip is short 2"),
        format!("3,damaged,{bolt},1,"),
        "4,left out,1/2-13 hex nut,,,,,6,not counted".to_owned(),
    ] {
        let found = |line: &&&str| line.trim_matches('"').starts_with(&begins);
        assert!(
            lines.iter().any(|line| found(&line)),
            "{begins}\nin\n{claim}"
        );
    }
    // What would be a formula in a spreadsheet is marked as text.
    assert!(claim.contains(",'=Wren,"), "{claim}");
    let (_, again, _) = claiming(&bench, &["--claim", "claim.csv", "--force"]);
    assert_eq!(out, again);
}

#[test]
fn a_claim_as_a_workbook() {
    let bench = short_kit();
    let (code, _, err) = claiming(&bench, &["--claim", "claim.xlsx", "-o", "report.xlsx"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let names = |file: &str| {
        use calamine::Reader;
        calamine::open_workbook_auto(bench.path(file))
            .expect("opens")
            .sheet_names()
    };
    assert_eq!(names("claim.xlsx"), ["Claim"]);
    assert!(names("report.xlsx").iter().any(|name| name == "Claim"));
}

#[test]
fn claims_that_cannot_be_written() {
    let bench = short_kit();
    std::fs::write(bench.path("claim.csv"), "old").expect("an old claim");
    #[track_caller]
    fn case(bench: &Bench, more: &[&str], message: &str) {
        let (code, out, err) = claiming(bench, more);
        assert!(err.lines().all(|line| line.chars().count() <= 100), "{err}");
        assert_eq!(unwrapped(&err), message);
        assert_eq!((code, out.as_str()), (2, ""));
        assert_eq!(
            std::fs::read(bench.path("claim.csv")).ok().as_deref(),
            Some(&b"old"[..])
        );
        assert!(!bench.path("report.xlsx").exists());
    }
    case(
        &bench,
        &["--claim", "claim.csv", "-o", "report.xlsx"],
        "tallybin: claim.csv: the file is there already\n  \
         what to do: give --force to replace it, or name another file\n",
    );
    case(
        &bench,
        &["--claim", "claim.pdf", "-o", "report.xlsx"],
        "tallybin: claim.pdf: a claim is written as a workbook or as CSV, and this name says neither\n  \
         what to do: end the name in .xlsx or .csv\n",
    );
    case(
        &bench,
        &["--claim", "./slip.csv", "--force"],
        "tallybin: ./slip.csv: the output is also an input\n  \
         what to do: name another file; inputs are never written over\n",
    );
    case(
        &bench,
        &["--claim", "./report.xlsx", "-o", "report.xlsx"],
        "tallybin: ./report.xlsx: the workbook and the claim are to be written to the same file\n  \
         what to do: name another file after --claim\n",
    );
}

#[test]
fn one_item() {
    let bench = short_kit();
    let (code, out, err) = claiming(&bench, &["--item", "1/2 x 3-3/4 bolt"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let id = out
        .split_once("(id ")
        .and_then(|(_, rest)| rest.split_once(')'))
        .map(|(id, _)| id.to_owned())
        .expect("an id");
    assert_eq!(
        out,
        format!(
            "\
1/2-13 x 3-3/4 hex bolt (id {id})
Asked for by:
  - parts.csv, line 2: \"Deck | 1/2 x 3-3/4 hex bolt | 8\": 8 pieces
On the slip:
  - slip.csv, line 2: \"1/2 x 3-3/4 hex bolt | 8\": 8 pieces
Counted:
  - count.csv, line 2: \"1/2 x 3-3/4 hex bolt | 5 | 1 | =Wren\": 5 pieces, and 1 damaged
Dealt out, stage after stage:
  - stage 1, Deck: 5 of 8, 3 short
required 8 = covered 5 + substituted 0 + from stock 0 + short 3
on hand 5 + returned 0 = used 5 + used as substitute 0 + discarded 0 + extra 0
Why:
  - box is short 2: The slip lists 2 pieces more than the 5 good and 1 damaged that were counted.
  - damaged 1: 1 of 6 counted are damaged.
"
        )
    );
    // The id names the same item, and nothing else.
    let by_id = claiming(&bench, &["--item", &id]);
    assert_eq!(by_id, (0, out, String::new()));
    let (_, json, _) = claiming(&bench, &["--item", "nut", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json[0]["text"], "1/2-13 hex nut");
    assert_eq!(
        (&json[0]["short"], json.as_array().map(Vec::len)),
        (&2.into(), Some(1))
    );
    let (code, out, err) = claiming(&bench, &["--item", "1/2 x 4 hex bolt", "-o", "report.xlsx"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert_eq!(
        err,
        "tallybin: no item of this job is called \"1/2 x 4 hex bolt\"\n  \
         what to do: write \"1/2-13 x 3-3/4 hex bolt\", the nearest, or its id or part number\n"
    );
    assert!(!bench.path("report.xlsx").exists());
}

const SHORT_COUNT: &str =
    "Description,Good\n1/2 x 3-3/4 hex bolt,6\n1/2 x 4 hex bolt,3\n1/2 hex nut,8\n";

/// A job whose bolts are counted short, with a table of rules.
fn with_rules(rules: &str) -> Bench {
    Bench::new(&[
        ("parts.csv", PARTS),
        ("count.csv", SHORT_COUNT),
        ("rules.csv", rules),
    ])
}

const WITH_RULES: [&str; 7] = [
    "reconcile",
    "--required",
    "parts.csv",
    "--counted",
    "count.csv",
    "--substitutes",
    "rules.csv",
];

#[test]
fn a_table_of_substitutes() {
    let bench = with_rules(
        "For;Use;Longer by;Stages;Approved by;Note\n\
         1/2 x 3-3/4 hex bolt;;1/4 in;Deck;Ash;by letter\n",
    );
    let (code, out, err) = bench.run(&WITH_RULES);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("May the job start?  YES"), "{out}");
    assert!(
        out.contains("required 16 = covered 14 + substituted 2 + from stock 0 + short 0"),
        "{out}"
    );
    let (_, out, _) = bench.run(&[&WITH_RULES[..], &["--item", "1/2 x 3-3/4"]].concat());
    assert!(
        out.contains(
            "  - stage 1, Deck: 2 of 1/2-13 x 4 hex bolt, from the kit; approved by Ash; still claimed\n    \
             (rules.csv, line 2)\n"
        ),
        "{out}"
    );
    // Without the rule the longer bolts are only offered.
    let (_, out, _) = bench.run(&[&WITH_RULES[..5], &["--item", "1/2 x 3-3/4"]].concat());
    assert!(
        out.contains("offered 2: 2 pieces of 1/2-13 x 4 hex bolt over: 1/4 in longer"),
        "{out}"
    );
}

#[test]
fn bad_tables_of_substitutes() {
    with_rules("Item,Instead\nbolt,nut\n").refuses(
        &WITH_RULES,
        "tallybin: rules.csv: no heading row with \"for\" and \"approved by\"\n  \
         what to do: head the columns with for, use, longer by, shorter by, grades up, grip, stages, \
         approved by, closes claim\n",
    );
    with_rules("for,use,until,approved by\n1/2 hex nut,lock nut,May,Ash\n").refuses(
        &WITH_RULES,
        "tallybin: rules.csv, line 1: the heading \"until\" is not known on a table of substitutes\n  \
         what to do: the headings are for, use, longer by, shorter by, grades up, grip, stages, approved by, \
         closes claim; a column \"note\" is passed over\n",
    );
    with_rules("for,grades up,approved by\n\n1/2 hex nut,some,Ash\n").refuses(
        &WITH_RULES,
        "tallybin: rules.csv, line 3: \"some\" under \"grades up\" is no number of grades\n  \
         what to do: write 1 for the next grade up\n",
    );
}

#[test]
fn a_stock_list() {
    let bench = Bench::new(&[
        ("parts.csv", PARTS),
        ("count.csv", SHORT_COUNT),
        (
            "stock.csv",
            "Item,On hand,Bin,Pack of\n1/2 x 3-3/4 hex bolt,1,C4,50\n",
        ),
    ]);
    let (code, out, _) = bench.run(&[&WITH_RULES[..5], &["--stock", "stock.csv"]].concat());
    assert_eq!(code, 0);
    assert!(
        out.contains(
            "\nFrom stock, to be put back\n  - 1/2-13 x 3-3/4 hex bolt: 1 to stage 1, Deck (from C4)\n\n\
             To buy\n  - 1/2-13 x 3-3/4 hex bolt: 1 (1 pack of 50)\n"
        ),
        "{out}"
    );
}

/// What each piece of a line was taken for, and the ways to read it; for programs, too.
#[test]
fn why_a_line_reads_so() {
    let bench = Bench::new(&[(
        "notes.txt",
        "Stage 2: Rails\n\n- a 1 3/8 by 2 bolt\n- 4 1/2 hex nuts\n",
    )]);
    let (code, out, err) = bench.run(&["read", "notes.txt", "--why", "--row", "3"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let shown = out.split_once("Stage 2: Rails\n").expect("the stage").1;
    pretty_assertions::assert_str_eq!(
        shown,
        r#"      3 check        1  3/8 x 2 bolt
                        "- a 1 3/8 by 2 bolt"
                        ? "a 1 3/8" read as 1 of 3/8: a number stands there twice
                        ? may be 1 piece of 3/8 x 2 or 1 piece of 1-3/8 x 2
                        a 1       = how many
                        3/8 by 2  = size
                        bolt      = what it is
                        read as  1 of 3/8 x 2 bolt (score -20)
                        or as    1 of 1-3/8 x 2 bolt (score -25)
4 rows = 1 read + 1 check + 0 aside + 2 headings, blanks and totals
"#
    );
    let (_, json, _) = bench.run(&[
        "read",
        "notes.txt",
        "--why",
        "--row",
        "3",
        "--format",
        "json",
    ]);
    let lines: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(
        lines[0]["why"],
        serde_json::json!({
            "text": "a 1 3/8 by 2 bolt",
            "beside": [],
            "pieces": [
                {"text": "a 1", "is": "how many"},
                {"text": "3/8 by 2", "is": "size"},
                {"text": "bolt", "is": "what it is"},
            ],
            "readings": [
                {"score": -20, "text": "1 of 3/8 x 2 bolt", "known": null},
                {"score": -25, "text": "1 of 1-3/8 x 2 bolt", "known": null},
            ],
            "margin": 5,
            "sentence": null,
        })
    );
    bench.refuses(
        &["read", "notes.txt", "--row", "9"],
        "tallybin: no line stands on row 9\n  what to do: give the row of a line; without --row all are shown\n",
    );
}

/// What a line leaves open, the sizes that are used elsewhere choose, and those of the parts list.
#[test]
fn open_readings_go_by_the_sizes_that_are_sure() {
    let bench = Bench::new(&[
        (
            "list.csv",
            "Qty,Size,Description\n4,1 x 4,hex bolt\n4,8-Jan,hex nut\n",
        ),
        (
            "parts.csv",
            "Qty,Description\n4,1 x 4 hex bolt\n4,1-8 hex nut\n",
        ),
        ("slip.csv", "Qty,Size,Description\n4,8-Jan,hex nut\n"),
        ("notes.txt", "4 3/8 x 2 bolts\na 1 3/8 by 3 bolt\n"),
        ("thick.txt", "4 1-3/8 x 2 bolts\na 1 3/8 by 3 bolt\n"),
    ]);
    let (_, out, _) = bench.run(&["read", "list.csv"]);
    assert!(
        out.contains(
            "      3 check        4  1-8 hex nut
                        \"4 | 8-Jan | hex nut\"
                        ? a spreadsheet made the date 8-Jan of a size: 1-8 or 1/8
                        ? 1-8 is used elsewhere in this list\n"
        ),
        "{out}"
    );
    // By itself it is the fraction.
    let (_, out, _) = bench.run(&["read", "slip.csv"]);
    assert!(out.contains("2 check        4  1/8 hex nut\n"), "{out}");
    let (_, json, _) = bench.run(&[
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.csv",
        "--format",
        "json",
    ]);
    let account: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let items = account["items"].as_array().expect("items");
    let shipped: Vec<(&str, &serde_json::Value)> = items
        .iter()
        .map(|item| (item["kind"].as_str().expect("a kind"), &item["shipped"]))
        .collect();
    assert_eq!(
        shipped,
        [
            ("bolt", &serde_json::json!(0)),
            ("nut", &serde_json::json!(4))
        ]
    );
    let (_, out, _) = bench.run(&["read", "notes.txt", "--why", "--row", "2"]);
    assert!(
        out.contains(
            "read as  1 of 3/8 x 3 bolt (score -20; 3/8 is used elsewhere in this list)\n"
        ),
        "{out}"
    );
    let (_, out, _) = bench.run(&["read", "thick.txt", "--row", "2"]);
    assert!(
        out.contains(
            "      2 check        1  1-3/8 x 3 bolt
                        \"a 1 3/8 by 3 bolt\"
                        ? may be 1 piece of 1-3/8 x 3 or 1 piece of 3/8 x 3
                        ? 1-3/8 is used elsewhere in this list\n"
        ),
        "{out}"
    );
}

/// A table's cells stand beside the words; in prose, what the rest of the sentence says does.
#[test]
fn why_a_row_and_a_sentence_read_so() {
    let guide = "Stage 1\n\nFasten each of the three rails with two 1/2 x 6 carriage bolts and two washers. Torque to 40 ft-lb.\n";
    let bench = Bench::new(&[("parts.csv", PARTS), ("guide.txt", guide)]);
    let (_, out, _) = bench.run(&["read", "parts.csv", "--why", "--row", "2"]);
    assert!(out.contains("= quantity, by its column\n"), "{out}");
    assert!(
        out.contains("read as  1/2 x 3-3/4 hex bolt (score 0)\n"),
        "{out}"
    );
    let (_, out, _) = bench.run(&["read", "guide.txt", "--why"]);
    assert!(
        out.contains("40 ft-lb                 = torque, from the sentence\n"),
        "{out}"
    );
    // Every word of the sentence is told.
    for row in [
        "Fasten                   = other words, passed over\n",
        "each of the three rails  = how many places\n",
        "two                      = how many\n",
        "1/2 x 6                  = size\n",
        "two washers              = another item of the sentence\n",
    ] {
        assert!(out.contains(row), "{row}{out}");
    }
    assert!(
        out.contains("size 1/2 from the bolt that it goes with\n"),
        "{out}"
    );
}

/// Completions and manual pages come from the commands themselves, so that none is left out.
#[test]
fn completions_and_manual_pages() {
    let bench = Bench::new(&[]);
    let commands = ["reconcile", "pack", "read", "weigh", "completions", "man"];
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let (code, out, err) = bench.run(&["completions", shell]);
        assert_eq!((code, err.as_str()), (0, ""), "{shell}");
        for word in commands.iter().chain(&["fail-on-short", "limit"]) {
            assert!(out.contains(word), "{shell}: {word}");
        }
    }
    let (code, out, err) = bench.run(&["man"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for command in commands {
        assert!(
            out.contains(&format!("tallybin\\-{command}(1)")),
            "{command}"
        );
        let (code, out, err) = bench.run(&["man", command]);
        assert_eq!((code, err.as_str()), (0, ""), "{command}");
        assert!(out.contains(".TH") && out.contains("SYNOPSIS"), "{command}");
    }
    let (code, _, err) = bench.run(&["man", "count"]);
    assert_eq!(
        (code, err.as_str()),
        (
            2,
            "tallybin: there is no command count\n  what to do: run tallybin --help for the commands there are\n"
        )
    );
}

/// A limit is set on the command line alone, by its name.
#[test]
fn limits() {
    let bench = Bench::new(&[("parts.csv", PARTS)]);
    let run = |limit: &str| bench.run(&["read", "parts.csv", "--limit", limit]);
    assert_eq!(run("rows=3").0, 0);
    let (code, out, err) = run("rows=2");
    assert_eq!((code, out.as_str()), (2, ""));
    assert_eq!(
        unwrapped(&err),
        "tallybin: parts.csv, line 3: too large to be a list: more rows than are read of one file\n  \
         what to do: give the list in several files; or, if you trust the file, raise the limit \
         (--limit rows=N, now 2)\n"
    );
    for (limit, message) in [
        (
            "lines=3",
            "the limits are file-mb, unpacked-mb, part-mb, cells, rows, row-kb, text-mb, pairs, parcels",
        ),
        ("rows", "write a whole number after rows="),
        ("rows=0", "write a whole number after rows="),
        ("rows=many", "write a whole number after rows="),
    ] {
        let (code, _, err) = run(limit);
        let err = unwrapped(&err);
        assert!(code == 2 && err.contains(message), "{limit}: {err}");
    }
    // It holds for the parts lists and the stock of orders to be packed, too.
    std::fs::write(
        bench.path("order.toml"),
        "required = [\"parts.csv\"]\nstock = [\"parts.csv\"]\n",
    )
    .expect("written");
    let pack = |limit: &str| bench.run(&["pack", "order.toml", "--limit", limit]);
    let (code, _, err) = pack("rows=2");
    let err = unwrapped(&err);
    assert!(
        code == 2 && err.contains("(--limit rows=N, now 2)"),
        "{err}"
    );
    assert_eq!(pack("rows=3").0, 0);
    // And for the tables beside the lists.
    let numbers = "number,item\nA-1,M8 nut\nA-2,M6 nut\nA-3,M5 nut\nA-4,M4 nut\nA-5,M3 nut\n";
    std::fs::write(bench.path("numbers.csv"), numbers).expect("written");
    let settle = |limit: &str| {
        let args = ["--required", "parts.csv", "--numbers", "numbers.csv"];
        bench.run(&[&["reconcile"], &args[..], &["--limit", limit]].concat())
    };
    let (code, _, err) = settle("rows=5");
    let err = unwrapped(&err);
    assert!(
        code == 2 && err.starts_with("tallybin: numbers.csv, line 6: too large to be a list"),
        "{err}"
    );
    assert_eq!(settle("rows=6").0, 0);
    // A job file may not lift what guards against the lists that came with it.
    std::fs::write(
        bench.path("job.toml"),
        "required = [\"parts.csv\"]\nlimit = [\"rows=9\"]\n",
    )
    .expect("written");
    let (code, _, err) = bench.run(&["reconcile", "job.toml"]);
    assert!(code == 2 && err.contains("limit"), "{err}");
}

#[test]
fn a_job_file_without_end() {
    let long = "#".repeat(5 << 20);
    Bench::new(&[("job.toml", &long)]).refuses(
        &["reconcile", "job.toml", "-o", "report.xlsx"],
        "tallybin: job.toml: too large to be a job file\n  \
         what to do: name the job file; lists are given with --required, --shipped and --counted\n",
    );
}

const KIOSK: &str = "Stage,Description,Part no.,Qty,Bag\n\
                     Posts,Kiosk post 6x6 10 ft,QK-21,2,\n\
                     Posts,\"1/2-13 x 6 hex bolt, Grade 5\",,8,A\n\
                     Posts,1/2 FW USS,,16,A\n\
                     Board,1/2 FW USS,,2,B\n\
                     Board,#10 x 3 deck screw,,6,B\n\
                     Board,Map board,QK-23,1,\n";
const BINS: &str = "Bin,Description,Part no.,On hand,Pack of\n\
                    A-2,\"1/2-13 x 6 hex bolt, Grade 5\",,20,25\n\
                    A-10,1/2 USS flat washer,,60,100\n\
                    B-1,#10 x 3 deck screw,,30,\n\
                    Yard,Kiosk post 6x6 10 ft,QK-21,9,\n\
                    Rack,Map board,QK-23,3,\n";

/// What is packed is read back from its own slip: nothing short, nothing over, nothing in doubt.
#[test]
fn a_packing_slip_reads_back_to_zero_difference() {
    let bench = Bench::new(&[
        ("kiosk.csv", KIOSK),
        ("bins.csv", BINS),
        (
            "kiosk.toml",
            "name = \"Trail kiosk\"\nkits = 3\nrequired = [\"kiosk.csv\"]\n",
        ),
    ]);
    let arguments = [
        "pack",
        "kiosk.toml",
        "--stock",
        "bins.csv",
        "--slips",
        ".",
        "-o",
        "pack.xlsx",
        "--format",
        "json",
    ];
    let (code, out, err) = bench.run(&arguments);
    assert_eq!((code, err.as_str()), (0, ""));
    let object: serde_json::Value = serde_json::from_str(&out).expect("one JSON object");
    assert_eq!(object["packed"], 2);
    assert_eq!(object["wanted"], 3);
    assert_eq!(
        object["orders"][0]["next_lacks"][0]["text"],
        "1/2-13 x 6 hex bolt, Grade 5"
    );
    assert_eq!(object["orders"][0]["next_lacks"][0]["pieces"], 4);
    assert_eq!(object["to_order"][0]["packs"], 1);
    assert_eq!(object["pull"][0]["bin"], "A-2");
    assert_eq!(object["pull"][0]["take"], 16);
    assert!(bench.path("pack.xlsx").exists());
    for slip in ["trail-kiosk-kit-1.xlsx", "trail-kiosk-kit-2.xlsx"] {
        let (code, out, err) = bench.run(&[
            "reconcile",
            "--required",
            "kiosk.csv",
            "--shipped",
            slip,
            "--format",
            "json",
        ]);
        assert_eq!((code, err.as_str()), (0, ""));
        let object: serde_json::Value = serde_json::from_str(&out).expect("one JSON object");
        let totals = &object["totals"];
        assert_eq!(totals["required"], 35);
        assert_eq!(totals["covered"], 35);
        assert_eq!((&totals["short"], &totals["extra"]), (&0.into(), &0.into()));
        assert_eq!(object["sources"][1]["check"], 0);
        assert_eq!(object["sources"][1]["aside"], 0);
        for item in object["items"].as_array().expect("items") {
            assert_eq!(item["findings"], serde_json::json!([]));
            assert_eq!(item["doubts"], serde_json::json!([]));
        }
    }
    // Nothing is overwritten, and nothing is half written.
    let before = std::fs::read(bench.path("trail-kiosk-kit-1.xlsx")).expect("a slip");
    bench.refuses(
        &arguments[..6],
        "tallybin: ./trail-kiosk-kit-1.xlsx: the file is there already\n  \
         what to do: give --force to replace it, or name another file\n",
    );
    assert_eq!(
        std::fs::read(bench.path("trail-kiosk-kit-1.xlsx")).expect("a slip"),
        before
    );
    let (code, ..) = bench.run(&[&arguments[..4], &["--fail-on-short"]].concat());
    assert_eq!(code, 1);
}

/// An option that nobody chose is left out of every kit, and it is said.
#[test]
fn orders_with_an_open_option() {
    let bench = Bench::new(&[
        (
            "kiosk.csv",
            "Description,Qty,Option\n1/2 hex nut,4,\n3/8 x 2 lag screw,6,with: awning\n",
        ),
        ("kiosk.toml", "required = [\"kiosk.csv\"]\n"),
        ("bins.csv", "Bin,Item,On hand\nA1,1/2 hex nut,20\n"),
    ]);
    let (code, out, err) = bench.run(&["pack", "kiosk.toml", "--stock", "bins.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let told =
        "? Without the option \"awning\" (1 line): say whether it is built, with or without.";
    assert!(out.contains(told), "{out}");
}

#[test]
fn orders_that_cannot_be_packed() {
    let bench = Bench::new(&[
        ("kiosk.csv", KIOSK),
        ("kiosk.toml", "required = [\"kiosk.csv\"]\n"),
        ("empty.toml", "name = \"nothing\"\n"),
    ]);
    bench.refuses(
        &["pack", "kiosk.toml"],
        "tallybin: no stock list is given, so there is nothing to pack from\n  \
         what to do: give the shop's own list with --stock FILE, or name it in a job file\n",
    );
    bench.refuses(
        &["pack", "kiosk.toml", "./kiosk.toml"],
        "tallybin: ./kiosk.toml: the same job file is given twice\n  \
         what to do: give it once; its \"kits\" says how many\n",
    );
    bench.refuses(
        &["pack", "empty.toml"],
        "tallybin: empty.toml: the job names no required list, so nobody knows what a kit holds\n  \
         what to do: name the parts list: required = [\"parts-list.xlsx\"]\n",
    );
}

/// A first job file from the lists: it runs as drafted, and says what there is to settle.
#[test]
fn a_drafted_job_file() {
    let slip = "PACKING SLIP,17\n\nDESCRIPTION,QTY SHIP\n1/2 x 3-3/4 hex bolt,8\n1/2 hex nut,8\n";
    let parts = "Stage,Description,Qty,Option\nDeck,1/2 x 3-3/4 hex bolt,8,\nDeck,1/2 hex nut,8,\nRails,3/8 x 2 lag screw,4,with: mesh\n";
    let bench = Bench::new(&[("list.csv", parts), ("slip.csv", slip)]);
    let (code, out, err) = bench.run(&["draft", "slip.csv", "list.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    pretty_assertions::assert_str_eq!(
        out,
        r#"# Drafted from the lists themselves: read it through, and change what is wrong. Then
#   tallybin reconcile job.toml -o report.xlsx
name = "list"
kits = 1                       # how many are to be built

# required: what the kit takes: the parts list, or the assembly guide
# list.csv: by a column for stages, places or options
required = ["list.csv"]

# shipped: what was sent: the packing slip
# slip.csv: by a column for what was shipped
shipped = ["slip.csv"]

# counted: what is there: a bench count
# counted = ["..."]

# stock: what the shop has of its own
# stock = ["..."]

# The lists have options: mesh (1 line).
# Write those that are built into with, and leave the others in without.
with = []
without = ["mesh"]

# The stages in the order in which the lists name them: change it where the build goes otherwise.
stages = ["Deck", "Rails"]
# built_through = "..."        # the last stage that is already built
"#
    );
    let (code, out, err) = bench.run(&["draft", "slip.csv", "list.csv", "-o", "new.toml"]);
    assert_eq!(
        (code, out.as_str(), err.as_str()),
        (
            0,
            "",
            "The job file is in new.toml: read it through before you use it.\n"
        )
    );
    let (code, out, _) = bench.run(&["reconcile", "new.toml", "--fail-on-short"]);
    assert_eq!(code, 0, "{out}");
    bench.refuses(
        &["draft", "list.csv", "-o", "list.csv"],
        "tallybin: list.csv: the output is also an input\n  what to do: name another file; inputs are never written over\n",
    );
    let (code, _, err) = bench.run(&["draft", "list.csv", "new.toml"]);
    assert_eq!(code, 2);
    assert_eq!(
        err,
        "tallybin: new.toml: a job file, not a list\n  what to do: give the lists alone\n"
    );
    let (code, _, err) = bench.run(&["draft", "list.csv", "-o", "new.toml"]);
    assert_eq!(code, 2, "{err}");
}

/// The latest revision goes first; tables that a job is told by are no lists; a list that says nothing of
/// itself is rather a count than required; parts by two names are offered.
/// What the program wrote of a job before is none of its lists.
#[test]
fn a_draft_leaves_out_what_is_no_list() {
    let parts = "Stage,Description,Qty\nDeck,1/2 x 3-3/4 hex bolt,8\nDeck,1/2 hex nut,8\n";
    let slip = "PACKING SLIP,17\n\nDESCRIPTION,QTY SHIP\n1/2 x 3-3/4 hex bolt,8\n1/2 hex nut,6\n";
    let bench = Bench::new(&[("list.csv", parts), ("slip.csv", slip)]);
    let lists = [
        "reconcile",
        "--required",
        "list.csv",
        "--shipped",
        "slip.csv",
    ];
    let outputs = ["--claim", "a.csv", "--html", "a.html"];
    let (code, out, _) = bench.run(&[&lists[..], &outputs[..]].concat());
    assert_eq!(code, 0);
    std::fs::write(bench.path("a.txt"), out).expect("written");
    let (code, out, err) =
        bench.run(&["draft", "a.csv", "a.html", "a.txt", "list.csv", "slip.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for file in ["a.csv", "a.html", "a.txt"] {
        let told = format!("# {file} is left out: a claim, a verdict or a page is no list\n");
        assert!(out.contains(&told), "{out}");
    }
    assert!(out.contains("required = [\"list.csv\"]\n"), "{out}");
}

#[test]
fn a_drafted_job_file_of_many_lists() {
    let parts = |revision: &str, posts: u64| {
        format!(
            "Shelter parts list,Rev {revision}\n\nDescription,Qty\ncanopy,1\npost foot,{posts}\n"
        )
    };
    let (old, new) = (parts("B", 4), parts("C", 6));
    let bench = Bench::new(&[
        ("parts-b.csv", &old),
        ("parts-c.csv", &new),
        (
            "slip.csv",
            "PACKING SLIP\nDescription,Qty ship\nawning,1\npost foot,6\n",
        ),
        (
            "rules.csv",
            "for,longer by,approved by\n5/8 x 8 hex bolt,1/2,J. Marl\n",
        ),
        ("known.csv", "number,item\nQX-55,1/2 hex nut\n"),
        ("bench.csv", "what,how many\npost foot,6\n"),
    ]);
    let (code, out, err) = bench.run(&[
        "draft",
        "parts-b.csv",
        "parts-c.csv",
        "slip.csv",
        "rules.csv",
        "known.csv",
        "bench.csv",
    ]);
    assert_eq!((code, err.as_str()), (0, ""));
    for line in [
        "required = [\"parts-c.csv\", \"parts-b.csv\"]",
        "# parts-c.csv is revision C, the latest: leave the others out, unless they are to be compared.",
        "shipped = [\"slip.csv\"]",
        "# bench.csv: nothing in it says what it is: a count?",
        "# counted = [\"bench.csv\"]",
        "substitutes = [\"rules.csv\"]",
        "numbers = [\"known.csv\"]",
        "# [names]",
        "# \"awning\" = \"canopy\"",
    ] {
        assert!(out.lines().any(|of| of == line), "{line}\n{out}");
    }
}

/// What repeats in a guide is drafted for a person to confirm.
#[test]
fn a_job_file_drafted_from_a_guide() {
    let guide = "Assembly guide\n\nStage 1: Rails\n\nFit four 1/2 x 3 hex bolts to the left rail.\nRepeat for the right rail.\n";
    let bench = Bench::new(&[("rails.txt", guide)]);
    let (code, out, _) = bench.run(&["draft", "rails.txt"]);
    assert_eq!(code, 0);
    assert!(
        out.contains("write instead of the name: { file = \"rails.txt\", repeats = { 6 = 1 } }\n"),
        "{out}"
    );
    assert!(
        out.contains("# rails.txt: by the word \"assembly\" in its first rows\n"),
        "{out}"
    );
}

/// The likeliest first try: a list where a job file goes.
#[test]
fn a_list_in_place_of_a_job_file() {
    Bench::new(&[("parts.csv", PARTS)]).refuses(
        &["reconcile", "parts.csv"],
        "tallybin: parts.csv: this is a list, not a job file\n  \
         what to do: say what it is: --required parts.csv for a parts list, --shipped for a packing slip, \
         --counted for a bench count; tallybin draft parts.csv -o job.toml drafts a job file\n",
    );
}

#[test]
fn one_name_where_several_may_stand() {
    Bench::new(&[("job.toml", "required = \"parts.csv\"\n")]).refuses(
        &["reconcile", "job.toml"],
        "tallybin: job.toml, line 1, column 12: one value where several may stand\n  \
         1 | required = \"parts.csv\"\n    |            ^^^^^^^^^^^\n  \
         what to do: put it in brackets: [\"parts.csv\"]\n",
    );
}

/// The three bins of the sample's stock list, as a person walks past them.
#[test]
fn what_stock_lent_goes_back_bin_by_bin() {
    let output = Command::cargo_bin("tallybin")
        .expect("the program")
        .args(["reconcile", "samples/footbridge/shop-job.toml"])
        .output()
        .expect("it runs");
    let told = String::from_utf8(output.stdout).expect("UTF-8");
    let bins = told.split("(from ").skip(1).map(|rest| &rest[..5]);
    assert_eq!(bins.collect::<Vec<_>>(), ["R1-B4", "R2-C2", "R3-A1"]);
}

#[test]
fn what_was_not_read_is_looked_in_whatever_the_format() {
    let bench = Bench::new(&[
        ("parts.csv", "Item,Qty\nside rail,4\nend cap,12\nM8 nut,6\n"),
        (
            "slip.csv",
            "Item,Qty\nside rails and end caps,4 + 12\nM8 nut,6\n",
        ),
    ]);
    let arguments = [
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.csv",
    ];
    let (_, out, _) = bench.run(&arguments);
    assert!(out.contains("figure not read 12"), "{out}");
    let (code, json, err) = bench.run(&[&arguments[..], &["--format", "json"]].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    let account: serde_json::Value = serde_json::from_str(&json).expect("one object");
    assert_eq!(
        account["items"][1]["findings"][0]["finding"],
        "figure not read"
    );
}

/// Settling looks into the words of rows that state no count, also where nothing but JSON is written.
#[test]
fn rows_without_a_count_are_settled_for_json() {
    let bench = Bench::new(&[
        (
            "parts.csv",
            "Item,Qty\nFoot plate 150,4\nM8 x 40 hex bolt,8\n",
        ),
        (
            "slip.txt",
            "8 M8 x 40 hex bolts\nfoot plates, some\nM8 nuts ?\n",
        ),
        (
            "count.txt",
            "M8 x 40 bolts 8\nfoot plates, a few\nM8 nuts\n",
        ),
    ]);
    let arguments = [
        "reconcile",
        "--required",
        "parts.csv",
        "--shipped",
        "slip.txt",
        "--counted",
        "count.txt",
        "--format",
        "json",
    ];
    let (code, json, err) = bench.run(&arguments);
    assert_eq!((code, err.as_str()), (0, ""));
    let account: serde_json::Value = serde_json::from_str(&json).expect("one object");
    let foot_plate = &account["items"][0];
    assert_eq!(foot_plate["findings"][0]["finding"], "figure not read");
}

/// A count of parts is none of the lists of them, what says in which bag is no slip, and stages that bear numbers
/// go by them. Common practice, no source.
#[test]
fn a_drafted_job_file_tells_lists_apart() {
    let bench = Bench::new(&[
        (
            "bill.csv",
            "Part,1 Frame,3 Shelf,2 Top,Packed in\nHinge,2,2,,Bag 1\nHex bolt M8 x 40,4,4,4,loose\n",
        ),
        ("mia.txt", "Parts found\nhinges 4\nhex bolts M8 x 40 12\n"),
        ("jo.txt", "Checked the kit parts\nhinges 4\nM8 nuts 12\n"),
    ]);
    let (code, out, err) = bench.run(&["draft", "bill.csv", "mia.txt", "jo.txt"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for line in [
        "required = [\"bill.csv\"]",
        "counted = [\"mia.txt\", \"jo.txt\"]",
        "stages = [\"1 Frame\", \"2 Top\", \"3 Shelf\"]",
    ] {
        assert!(out.contains(line), "{line}\n{out}");
    }
}
