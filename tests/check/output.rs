//! Answers that cannot be written, and readers that went away.

use std::path::Path;
use std::process::{Command, Stdio};

use super::program::{run, tests};

const JOB: &str = "cases/jobs/08b-tall-van-yes";

const RUNS: [&[&str]; 8] = [
    &["check", "job.ron"],
    &["check", "job.ron", "--json"],
    &["site", "job.ron"],
    &["site", "job.ron", "--json"],
    &["validate", "job.ron"],
    &["explain", "headroom"],
    &["units", "3 m"],
    &["--help"],
];

fn into(folder: &Path, args: &[&str], out: Stdio) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_baywright"))
        .args(args)
        .current_dir(folder)
        .stdout(out)
        .stderr(Stdio::piped())
        .spawn()
        .and_then(std::process::Child::wait_with_output)
        .expect("the program runs");
    (output.status.code().expect("an exit code"), String::from_utf8(output.stderr).expect("UTF-8"))
}

/// `/dev/full` takes nothing: every write to it fails as on a full disk.
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_no_answer() {
    for args in RUNS {
        let full = std::fs::File::options().write(true).open("/dev/full").expect("/dev/full");
        let (exit, err) = into(&tests(JOB), args, full.into());
        assert_eq!(exit, 2, "{args:?}: {err}");
        assert!(
            err.lines().count() == 1 && err.starts_with("baywright: the answer cannot be written: "),
            "{args:?}: {err}"
        );
    }
}

#[test]
fn a_reader_that_went_away_is_no_error() {
    for args in RUNS {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let (exit, err) = into(&tests(JOB), args, writer.into());
        assert_eq!((exit, err.as_str()), (run(&tests(JOB), args).exit, ""), "{args:?}");
    }
}
