//! Text of the user's that would steer a terminal: it is shown, never obeyed.

use std::fs;
use std::process::Command;

use super::{Scratch, one_point};
use crate::run::kept;

/// What a terminal acts upon: escape, carriage return, backspace, C1, and marks of direction.
const STEERING: [char; 7] = [
    '\u{1b}', '\r', '\u{8}', '\u{9b}', '\u{202e}', '\u{2066}', '\u{7f}',
];
/// The same within TOML text.
const IN_TOML: &str = r"\u001b]0;x\u0007\r\b\u009b2J\u202e\u2066\u007f";

fn assert_harmless(what: &str, text: &str) {
    for letter in text.chars() {
        let steers = letter.is_control() && letter != '\n' || STEERING.contains(&letter);
        assert!(!steers, "{what}: {letter:?} in {text:?}");
    }
}

/// Runs the tool and holds both its streams to be harmless; returns standard output and error.
fn harmless(scratch: &Scratch, arguments: &[&str]) -> (String, String) {
    let ran = scratch.run(arguments);
    assert_harmless(&format!("{arguments:?} out"), &ran.out);
    assert_harmless(&format!("{arguments:?} err"), &ran.err);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    (ran.out, ran.err)
}

fn write(scratch: &Scratch, name: &str, text: &str) {
    fs::write(scratch.as_ref().join(name), text).unwrap();
}

#[test]
fn a_title_is_shown_with_escapes_and_stays_itself_in_json() {
    let scratch = Scratch::new();
    let build = fs::read_to_string(one_point()).unwrap();
    let lines = build.lines().filter(|line| !line.starts_with("title"));
    let build = lines.collect::<Vec<_>>().join("\n");
    write(
        &scratch,
        "b.toml",
        &format!("title = \"up{IN_TOML}\\ndown\"\n{build}"),
    );
    for command in [
        &["line", "b.toml"][..],
        &["check", "b.toml"],
        &["point", "b.toml", "--rpm", "2000"],
        &["line", "b.toml", "--format", "csv"],
    ] {
        let (out, _) = harmless(&scratch, command);
        if !command.contains(&"csv") {
            assert!(
                out.contains("up\\u{1b}]0;x\\u{7}\\r\\u{8}\\u{9b}2J"),
                "{out}"
            );
            assert!(out.contains("\\ndown"), "one line: {out}");
        }
    }
    let (out, _) = harmless(&scratch, &["line", "b.toml", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    let meant = "up\u{1b}]0;x\u{7}\r\u{8}\u{9b}2J\u{202e}\u{2066}\u{7f}\ndown";
    assert_eq!(json["title"], meant);
}

#[test]
fn a_fault_quotes_keys_and_values_with_escapes() {
    let scratch = Scratch::new();
    let build = fs::read_to_string(one_point()).unwrap();
    for (name, line) in [
        ("key.toml", format!("\"k{IN_TOML}\" = 1\n")),
        (
            "value.toml",
            format!("[limits]\nmax_charge_temperature = \"5{IN_TOML} degC\"\n"),
        ),
    ] {
        let build = if name == "key.toml" {
            format!("{line}{build}")
        } else {
            format!("{build}\n{line}")
        };
        write(&scratch, name, &build);
        let (_, said) = harmless(&scratch, &["check", name]);
        assert!(said.contains("\\u{1b}]0;x"), "{said}");
    }
    // What is no TOML at all is quoted from the file's own bytes.
    write(&scratch, "bad.toml", "title = \u{1b}[31mred \u{202e}x\n");
    let (_, said) = harmless(&scratch, &["check", "bad.toml"]);
    assert!(said.contains("bad.toml:1"), "{said}");
}

#[test]
fn a_fault_with_a_line_break_in_its_quote_stays_one_line() {
    let scratch = Scratch::new();
    write(&scratch, "b.toml", "\"a\\nwrote b.toml\" = 1\n");
    let (_, said) = harmless(&scratch, &["check", "b.toml"]);
    assert!(
        !said.lines().any(|line| line.starts_with("wrote")),
        "{said}"
    );
}

#[test]
fn a_maps_origin_cells_and_headings_are_shown_with_escapes() {
    let scratch = Scratch::new();
    let map = fs::read_to_string(kept("cases/map_base.csv")).unwrap();
    let rows = map.lines().filter(|line| !line.contains("origin"));
    let rows = rows.collect::<Vec<_>>().join("\n");
    write(
        &scratch,
        "origin.csv",
        &format!("# origin = mea\u{1b}[8msured \u{202e}\n{rows}\n"),
    );
    let (out, _) = harmless(&scratch, &["check", "origin.csv"]);
    assert!(out.contains("mea\\u{1b}[8msured"), "{out}");
    harmless(&scratch, &["check", "origin.csv", "--format", "csv"]);
    write(
        &scratch,
        "cells.csv",
        &format!("{rows}\n1\u{1b}[2J,\u{9b}2,3,4\n"),
    );
    let (_, said) = harmless(&scratch, &["check", "cells.csv"]);
    assert!(said.contains("cells.csv:"), "{said}");
}

#[test]
fn options_that_are_wrong_are_quoted_with_escapes() {
    let scratch = Scratch::new();
    let key = "site.\u{1b}[2Jaltitude=3";
    let (_, said) = harmless(&scratch, &["line", "--set", key]);
    assert!(said.contains("site.\\u{1b}[2Jaltitude"), "{said}");
    let (_, said) = harmless(&scratch, &["line", "--set", "site.altitude=\u{9b}31m"]);
    assert!(said.contains("--set site.altitude"), "{said}");
    let (_, said) = harmless(&scratch, &["frob\u{1b}[31mni\u{202e}cate"]);
    assert!(said.contains("ni\\u{202e}cate"), "{said}");
    let beside = "at \u{202e}the\n pass\u{1b}[5m: site.altitude=2900 m";
    let (out, _) = harmless(&scratch, &["line", "--beside", beside]);
    assert!(out.contains("\\u{202e}the\\n pass\\u{1b}[5m"), "{out}");
}

#[cfg(unix)]
#[test]
fn a_file_name_is_shown_with_escapes_where_it_is_named() {
    let scratch = Scratch::new();
    let name = "tr\u{1b}[31muck\u{202e}.toml";
    let (_, said) = harmless(&scratch, &["line", name]);
    assert!(said.starts_with("tr\\u{1b}[31muck\\u{202e}.toml: there is no such"));
    let (out, said) = harmless(&scratch, &["new", name]);
    assert!(out.contains("airpath line tr\\u{1b}[31muck"), "{out}");
    assert!(said.contains("wrote tr\\u{1b}[31muck"), "{said}");
    let folder = "o\rut";
    let (_, said) = harmless(&scratch, &["line", name, "--out", folder]);
    assert!(said.contains("wrote o\\rut/"), "{said}");
    assert!(scratch.as_ref().join(folder).is_dir());
    fs::copy(
        kept("../maps/invented_78mm.csv"),
        scratch.as_ref().join("m\nap\u{8}.csv"),
    )
    .unwrap();
    let (out, _) = harmless(&scratch, &["rank", "m\nap\u{8}.csv"]);
    assert!(out.contains("m\\nap\\u{8}.csv"), "{out}");
}

#[test]
fn a_drawing_holds_no_letter_that_xml_does_not() {
    let scratch = Scratch::new();
    let beside = "p\u{1b}a\u{202e}ss\u{ffff} <&>\": site.altitude=2900 m";
    let title = "title=a\u{8}b <&> invented";
    let arguments = ["line", "--beside", beside, "--set", title];
    assert_eq!(scratch.run(&arguments).code, 0);
    let mut seen = 0;
    for name in super::names(scratch.as_ref().join("out")) {
        let svg = fs::read_to_string(scratch.as_ref().join("out").join(&name)).unwrap();
        assert!(roxmltree::Document::parse(&svg).is_ok(), "{name}");
        assert_harmless(&name, &svg);
        seen += svg.matches("p\u{fffd}a\u{fffd}ss").count();
    }
    assert!(seen > 0, "the name stands in no drawing");
}

#[cfg(unix)]
#[test]
fn a_name_that_is_no_unicode_is_said_and_not_a_panic() {
    use std::os::unix::ffi::OsStrExt;
    let scratch = Scratch::new();
    let output = Command::new(env!("CARGO_BIN_EXE_airpath"))
        .arg("check")
        .arg(std::ffi::OsStr::from_bytes(b"a\xff\x1b.csv"))
        .current_dir(&scratch)
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert_harmless("err", &said);
    assert!(
        said.contains("\\u{1b}.csv: there is no such file"),
        "{said}"
    );
}
