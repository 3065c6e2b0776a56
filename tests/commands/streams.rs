//! What goes to which stream, and the exit codes.

use std::process::{Command, Stdio};

use super::{Scratch, kept, one_point};

/// What every remark of a build begins with: a place and a dotted key.
fn names_place_and_key(line: &str) -> bool {
    let mut parts = line.splitn(3, ": ");
    let place = parts.next().unwrap();
    let key = parts.next().unwrap_or("");
    let has_line = place
        .rsplit_once(':')
        .is_some_and(|(_, n)| n.parse::<usize>().is_ok());
    has_line && key.contains('.') && !key.contains(' ') && parts.next().is_some()
}

#[test]
fn standard_output_holds_the_result_and_standard_error_the_rest() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["line", "--verbose"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with("hill-climb truck"));
    assert!(ran.out.ends_with("qualified engineer check them.\n"));
    let mut lines = ran.err.lines();
    let first = lines.next().unwrap();
    assert!(first.contains("no build file given") && first.contains("built-in demo"));
    let (wrote, remarks): (Vec<_>, Vec<_>) = lines.partition(|line| line.starts_with("wrote "));
    assert_eq!(wrote.len(), 5, "{wrote:?}");
    assert!(remarks.len() > 3);
    for remark in remarks {
        assert!(names_place_and_key(remark), "{remark}");
    }
}

#[test]
fn defaults_are_counted_on_one_line_unless_they_are_asked_for() {
    let counted = Scratch::new().run(&["line", &one_point(), "--format", "csv"]);
    let said = format!(
        "{}:1: defaults: 4 used for keys that are not set; --verbose lists them",
        one_point()
    );
    assert_eq!(counted.err.trim_end(), said);
    let listed = Scratch::new().run(&["line", &one_point(), "--format", "csv", "--verbose"]);
    assert_eq!(
        listed.err.matches(": not set; using ").count(),
        4,
        "{}",
        listed.err
    );
    assert_eq!(counted.out, listed.out);
}

#[test]
fn a_build_that_is_given_is_not_called_the_demo() {
    let ran = Scratch::new().run(&["line", &one_point(), "--format", "csv", "--verbose"]);
    assert!(!ran.err.contains("demo"), "{}", ran.err);
    for remark in ran.err.lines() {
        assert!(names_place_and_key(remark), "{remark}");
    }
}

#[test]
fn every_command_shows_every_format_in_both_unit_systems() {
    let good = kept("../maps/invented_78mm.csv");
    let commands: [&[&str]; 5] = [
        &["check"],
        &["check", &good],
        &["point", "--rpm", "2000"],
        &["line"],
        &["rank", &good],
    ];
    for command in commands {
        for format in ["text", "json", "csv"] {
            let run = |units| {
                let scratch = Scratch::new();
                let options = ["--format", format, "--units", units];
                let ran = scratch.run(&[command, &options].concat());
                assert_eq!(ran.code, 0, "{command:?} {format} {units}: {}", ran.err);
                assert!(!ran.out.is_empty() && ran.out.ends_with('\n'));
                for word in ["NaN", "inf\n", "null"] {
                    assert!(!ran.out.contains(word), "{word} in {}", ran.out);
                }
                ran.out
            };
            let (si, us) = (run("si"), run("us"));
            if format == "text" && command != ["check"] {
                assert_ne!(si, us, "{command:?}");
            } else {
                assert_eq!(si, us, "{command:?} {format}");
            }
        }
    }
}

#[test]
fn a_closed_pipe_is_success() {
    for format in ["text", "json"] {
        let scratch = Scratch::new();
        let mut child = Command::new(env!("CARGO_BIN_EXE_airpath"))
            .args(["line", "--format", format])
            .current_dir(&scratch)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(0), "{said}");
        assert!(!said.contains("panicked") && !said.contains("standard output"));
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_standard_output_is_one_error() {
    for arguments in [
        &["line", "--format", "csv"][..],
        &["check"],
        &["--help"],
        &["--version"],
    ] {
        let scratch = Scratch::new();
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full");
        let output = Command::new(env!("CARGO_BIN_EXE_airpath"))
            .args(arguments)
            .current_dir(&scratch)
            .stdout(full.unwrap())
            .output()
            .unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {said}");
        let last = "standard output: cannot be written: the disk is full";
        assert_eq!(said.lines().last(), Some(last), "{arguments:?}");
        assert_eq!(said.matches("cannot be written").count(), 1);
    }
}

#[test]
fn no_progress_is_shown_on_a_pipe() {
    // So long that a terminal would show it.
    let arguments = ["line", "--set", "engine.rpm.step=1.5", "--format", "csv"];
    let ran = Scratch::new().run(&arguments);
    assert_eq!(ran.code, 0);
    assert!(!ran.err.contains("solving the line"), "{}", ran.err);
}

#[test]
fn a_wrong_command_line_exits_with_two() {
    let map = kept("cases/map_base.csv");
    let build = one_point();
    let wrong: [&[&str]; 13] = [
        &[],
        &["frobnicate"],
        &["point"],
        &["point", "--rpm", "0"],
        &["point", "--rpm", "-5"],
        &["point", "--rpm", "nan"],
        &["point", "--rpm", "fast"],
        &["line", "--units", "metric"],
        &["line", "--set", "site.altitude"],
        &["line", &map],
        &["rank"],
        &["rank", &build],
        &["new", "truck.txt"],
    ];
    for arguments in wrong {
        let ran = Scratch::new().run(arguments);
        assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.err);
        assert!(ran.out.is_empty() && !ran.err.is_empty(), "{arguments:?}");
    }
}

#[test]
fn help_and_version_are_results() {
    for arguments in [&["--help"][..], &["--version"], &["line", "--help"]] {
        let ran = Scratch::new().run(arguments);
        assert_eq!(ran.code, 0);
        assert!(ran.out.contains("airpath") && ran.err.is_empty());
    }
}

#[test]
fn strict_exits_with_three_when_something_is_over_and_prints_the_same() {
    let run = |more: &[&str]| Scratch::new().run(&[&["line", "--format", "json"], more].concat());
    let (lax, strict) = (run(&[]), run(&["--strict"]));
    assert!(lax.out.contains("\"severity\": \"over\""));
    assert_eq!((lax.code, strict.code), (0, 3));
    assert_eq!(lax.out, strict.out);
}

#[test]
fn strict_has_nothing_against_a_result_within_its_limits() {
    let ran = Scratch::new().run(&["line", &one_point(), "--strict", "--format", "csv"]);
    assert_eq!(ran.code, 0);
}

#[test]
fn strict_objects_to_a_point_outside_the_map() {
    // 0.1557 kg/s at 140 kPa and 346.6 K is 0.120 kg/s corrected; five litres more are beyond choke.
    let (build, map) = (one_point(), kept("cases/map_base.csv"));
    let arguments = |displacement| {
        let common = [
            "line", &build, "--map", &map, "--format", "json", "--strict",
        ];
        Scratch::new().run(&[&common[..], &["--set", displacement]].concat())
    };
    assert_eq!(arguments("engine.displacement=4.2 L").code, 0);
    let outside = arguments("engine.displacement=9.2 L");
    assert_eq!(outside.code, 3);
    assert!(outside.out.contains("\"outside data\""));
}

/// A turbine so small that it runs away from some engine speed on.
const SOME_FAIL: [&str; 4] = [
    "--set",
    "turbine.wastegate=",
    "--set",
    "turbine.effective_area=2 cm2",
];

#[test]
fn a_speed_without_a_match_is_a_row_that_says_why() {
    let run = |more: &[&str]| Scratch::new().run(&[&["line"], &SOME_FAIL[..], more].concat());
    let json = run(&["--format", "json"]).json();
    let points = json["points"].as_array().unwrap();
    let failed: Vec<_> = points.iter().filter(|p| p.get("error").is_some()).collect();
    assert!(!failed.is_empty() && failed.len() < points.len());
    for row in &failed {
        assert_eq!(row.as_object().unwrap().len(), 2, "{row}");
        assert!(row["rpm"].as_f64().unwrap() > 0.0);
        let why = row["error"].as_str().unwrap();
        assert!(why.contains("power balance"), "{why}");
    }
    let text = run(&[]);
    assert_eq!(text.code, 0);
    let said = text
        .out
        .lines()
        .filter(|line| line.starts_with("no match at "));
    assert_eq!(said.count(), failed.len());
    let csv = run(&["--format", "csv"]);
    assert_eq!(csv.code, 0);
    assert_eq!(csv.out.matches("power balance").count(), failed.len());
}

#[test]
fn strict_objects_to_a_speed_without_a_match() {
    let arguments = [&["line", "--strict", "--format", "csv"], &SOME_FAIL[..]].concat();
    assert_eq!(Scratch::new().run(&arguments).code, 3);
}

#[test]
fn nothing_solved_exits_with_one_and_says_so() {
    let fast = ["--set", "engine.rpm.from=2600", "--format", "json"];
    let line = Scratch::new().run(&[&["line"], &SOME_FAIL[..], &fast].concat());
    assert_eq!(line.code, 1);
    assert!(
        line.err
            .contains("built-in demo: no speed of the line has a match")
    );
    let point = Scratch::new().run(&[&["point", "--rpm", "3000"], &SOME_FAIL[..]].concat());
    assert_eq!((point.code, point.out.as_str()), (1, ""));
    assert!(point.err.contains("no match at 3000 rpm: power balance"));
}
