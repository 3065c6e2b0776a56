//! Files that are endless, huge or no files at all: one clear fault, soon.

use std::fmt::Write as _;
use std::fs;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::{Scratch, kept, one_point};
use crate::run::Ran;

/// Far more than any of these takes, far less than a file read to its end would: a build machine
/// may be busy.
const SOON: Duration = Duration::from_secs(20);

/// Runs the tool, and stops it where it does not end soon.
fn soon(scratch: &Scratch, arguments: &[&str]) -> Ran {
    let file = |name: &str| fs::File::create(scratch.as_ref().join(name)).unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_airpath"))
        .args(arguments)
        .current_dir(scratch)
        .stdin(Stdio::null())
        .stdout(file("stdout"))
        .stderr(file("stderr"))
        .spawn()
        .unwrap();
    let started = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        if started.elapsed() > SOON {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("{arguments:?} does not end");
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let read = |name: &str| fs::read_to_string(scratch.as_ref().join(name)).unwrap();
    Ran {
        code: status.code().unwrap(),
        out: read("stdout"),
        err: read("stderr"),
    }
}

/// One fault, with these words, and few lines of it.
fn assert_said(ran: &Ran, words: &[&str]) {
    assert_eq!(ran.code, 1, "{}", ran.err);
    for word in words {
        assert!(ran.err.contains(word), "{word:?} is not in: {}", ran.err);
    }
    assert!(ran.err.lines().count() <= 60, "{}", ran.err);
}

fn write(scratch: &Scratch, name: &str, text: &str) {
    fs::write(scratch.as_ref().join(name), text).unwrap();
}

/// The build of one point with more behind it.
fn build_and(more: &str) -> String {
    format!("{}\n{more}", fs::read_to_string(one_point()).unwrap())
}

#[cfg(unix)]
#[test]
fn a_device_or_a_pipe_is_refused_and_not_waited_for() {
    let scratch = Scratch::new();
    let link = |name: &str| {
        std::os::unix::fs::symlink("/dev/zero", scratch.as_ref().join(name)).unwrap();
    };
    link("zero.toml");
    link("zero.csv");
    for name in ["pipe.toml", "pipe.csv"] {
        let made = Command::new("mkfifo")
            .arg(scratch.as_ref().join(name))
            .status();
        assert!(made.unwrap().success());
    }
    let words = "this is a pipe or a device: save its output to a file";
    for arguments in [
        &["check", "/dev/zero"][..],
        &["line", "zero.toml"],
        &["line", "--map", "zero.csv"],
        &["check", "pipe.toml", "pipe.csv"],
        &["rank", "pipe.csv"],
        &["point", "pipe.toml", "--rpm", "2000"],
    ] {
        assert_said(&soon(&scratch, arguments), &[words]);
    }
    // One that a build names, and one in a folder of maps.
    let build = fs::read_to_string(one_point()).unwrap();
    let ratio = "pressure_ratio = 1.7\n";
    assert!(build.contains(ratio));
    let build = build.replace(ratio, &format!("{ratio}map = \"pipe.csv\"\n"));
    write(&scratch, "names.toml", &build);
    assert_said(
        &soon(&scratch, &["line", "names.toml"]),
        &[words, "names.toml:"],
    );
    assert_said(&soon(&scratch, &["check", "."]), &["pipe.csv", words]);
}

#[test]
fn a_folder_in_the_place_of_a_build_is_said() {
    let scratch = Scratch::new();
    fs::create_dir(scratch.as_ref().join("d.toml")).unwrap();
    let words = "d.toml: this is a folder; expected a file";
    assert_said(&soon(&scratch, &["line", "d.toml"]), &[words]);
}

#[test]
fn a_file_far_too_large_is_not_read() {
    let scratch = Scratch::new();
    // Holes: they hold no disk.
    for (name, words) in [
        (
            "large.toml",
            "large.toml: is 400.0 MB long; the limit is 1 MB",
        ),
        (
            "large.csv",
            "large.csv: is 400.0 MB long; the limit is 16 MB",
        ),
    ] {
        let file = fs::File::create(scratch.as_ref().join(name)).unwrap();
        file.set_len(400_000_000).unwrap();
        assert_said(&soon(&scratch, &["check", name]), &[words]);
    }
}

#[test]
fn a_line_that_goes_on_and_lines_that_go_on_are_said() {
    let scratch = Scratch::new();
    write(&scratch, "long.csv", &"x".repeat(15_000_000));
    let words = "long.csv:1: line: is 15000000 bytes long";
    assert_said(&soon(&scratch, &["check", "long.csv"]), &[words]);
    write(&scratch, "rows.csv", &"1,2,3,4\n".repeat(1_900_000));
    let words = "rows.csv:50001: line: has more than 50000 lines";
    assert_said(&soon(&scratch, &["check", "rows.csv"]), &[words]);
    write(&scratch, "settings.csv", &"#a=b\n".repeat(49_000));
    assert_eq!(soon(&scratch, &["check", "settings.csv"]).code, 1);
    write(
        &scratch,
        "title.toml",
        &format!("title = \"{}\"\n", "x".repeat(900_000)),
    );
    let words = "title.toml:1: line: is 900010 bytes long";
    assert_said(&soon(&scratch, &["check", "title.toml"]), &[words]);
}

#[test]
fn keys_parts_and_rows_without_end_are_one_fault_each() {
    let scratch = Scratch::new();
    let mut keys = "[engine]\n".to_owned();
    for key in 0..49_000 {
        writeln!(keys, "k{key} = 1").unwrap();
    }
    write(&scratch, "keys.toml", &keys);
    let words = [
        "keys.toml:2: engine.k0: is unknown",
        "keys.toml:1: engine: has 49000 keys; the limit is 1000",
    ];
    assert_said(&soon(&scratch, &["check", "keys.toml"]), &words);
    let part = "[[air_path]]\npart = \"filter\"\npressure_drop = \"1 Pa\"\nat_flow = \"1 kg/s\"\n";
    write(&scratch, "parts.toml", &build_and(&part.repeat(10_000)));
    let words = "air_path: has 100";
    assert_said(
        &soon(&scratch, &["check", "parts.toml"]),
        &[words, "the limit is 100"],
    );
    let rows: String = (0..49_000).fold(String::new(), |mut rows, row| {
        let _ = writeln!(rows, "[{row},0.9],");
        rows
    });
    write(
        &scratch,
        "table.toml",
        &format!("[engine]\nvolumetric_efficiency = [{rows}]\n"),
    );
    let words = "engine.volumetric_efficiency: has 49000 rows; the limit is 2000";
    assert_said(&soon(&scratch, &["check", "table.toml"]), &[words]);
}

#[test]
fn a_build_that_is_no_toml_anywhere_is_said_by_its_first_lines() {
    let scratch = Scratch::new();
    for (name, line) in [
        ("words", "a = b c\n"),
        ("twice", "[a]\n"),
        ("marks", "= = =\n"),
    ] {
        let name = format!("{name}.toml");
        write(&scratch, &name, &line.repeat(49_000));
        let words = ["more errors follow: fix these first"];
        assert_said(&soon(&scratch, &["check", &name]), &words);
    }
}

#[test]
fn nesting_without_end_is_a_fault() {
    let scratch = Scratch::new();
    for (name, text) in [
        (
            "list",
            format!("a = {}{}\n", "[".repeat(40_000), "]".repeat(40_000)),
        ),
        (
            "table",
            format!("a = {}1{}\n", "{b=".repeat(20_000), "}".repeat(20_000)),
        ),
        ("key", format!("{}b = 1\n", "a.".repeat(40_000))),
        ("header", format!("[{}b]\nc = 1\n", "a.".repeat(40_000))),
    ] {
        let name = format!("{name}.toml");
        write(&scratch, &name, &text);
        let ran = soon(&scratch, &["check", &name]);
        assert_said(&ran, &[&name]);
        assert!(ran.err.len() < 10_000, "{} bytes are said", ran.err.len());
    }
    let set = format!("site.{}b=1", "a.".repeat(20_000));
    for option in ["--set", "--beside"] {
        let ran = soon(&scratch, &["line", option, &set]);
        assert_eq!(ran.code, 2, "{}", ran.err);
        assert!(
            ran.err
                .contains(": a key of 20002 words; none has more than 10"),
            "{}",
            ran.err
        );
        assert!(ran.err.len() < 10_000, "{} bytes are said", ran.err.len());
    }
}

#[test]
fn steps_without_end_are_a_fault() {
    let scratch = Scratch::new();
    for step in ["0.001", "1e-300"] {
        let set = format!("engine.rpm.step={step}");
        for command in ["line", "cooler", "check"] {
            let ran = soon(&scratch, &[command, "--set", &set]);
            assert_said(&ran, &["--set engine.rpm.step: ", "more than 2000 points"]);
        }
    }
}

#[test]
fn a_folder_with_more_maps_than_anybody_compares_is_said() {
    let scratch = Scratch::new();
    let folder = scratch.as_ref().join("many");
    fs::create_dir(&folder).unwrap();
    for index in 0..1001 {
        fs::copy(
            kept("cases/map_base.csv"),
            folder.join(format!("{index}.csv")),
        )
        .unwrap();
    }
    let words = "many: the folder holds 1001 map files; the limit is 1000";
    assert_said(&soon(&scratch, &["check", "many"]), &[words]);
    assert_said(&soon(&scratch, &["rank", "many"]), &[words]);
}

#[test]
fn many_faulty_maps_are_said_by_the_first_faults_and_their_number() {
    let scratch = Scratch::new();
    let folder = scratch.as_ref().join("bad");
    fs::create_dir(&folder).unwrap();
    for index in 0..80 {
        fs::write(folder.join(format!("{index:03}.csv")), "nothing\n").unwrap();
    }
    let ran = soon(&scratch, &["check", "bad", "--format", "json"]);
    assert_eq!(ran.code, 1);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let all = json["faults"].as_array().unwrap().len();
    assert!(all >= 80, "JSON holds all: {all}");
    let last = format!("and {} more faults", all - 50);
    assert_eq!(ran.err.lines().last(), Some(last.as_str()));
    assert_eq!(ran.err.lines().count(), 51);
}
