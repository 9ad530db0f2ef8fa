//! The program as a user runs it: arguments in; exit code, standard output and standard error out.

use std::path::Path;

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

    /// The run ends with 2, prints nothing on standard output, writes no `report.xlsx`, and says so.
    #[track_caller]
    fn refuses(&self, arguments: &[&str], message: &str) {
        let before = std::fs::read(self.path("report.xlsx")).ok();
        let (code, out, err) = self.run(arguments);
        assert_eq!(err, message);
        assert_eq!((code, out.as_str()), (2, ""));
        assert_eq!(std::fs::read(self.path("report.xlsx")).ok(), before);
    }
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
         what to do: give each file once; a list is never counted twice\n",
    );
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
         what to do: name another file after -o; inputs are never written over\n",
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

#[test]
fn samples_are_here() {
    assert!(Path::new("samples/footbridge/job.toml").exists());
}
