use super::*;
use crate::input::document::Document;
use crate::input::fault::Note;
use crate::input::keys::row::{key, quantity, table};
use crate::input::keys::spec::of;
use crate::quantity::Kind;

fn notes(text: &str, ask: impl Fn(&Reader<'_>)) -> Vec<String> {
    let document = Document::from_text("t", text);
    let context = Context::default();
    let reader = Reader {
        section: None,
        ..Reader::new(&document.root, Place::Line("t".into(), 1), "", &context)
    };
    ask(&reader);
    reader.finish();
    context.into_notes().0.iter().map(Note::to_string).collect()
}

/// A row of a volume.
const fn volume(name: &'static str) -> Key {
    let spec = of(Kind::Volume, "\"4.5 L\"").above(0.0);
    key(name, quantity(spec), "A volume.")
}

static DISPLACEMENT: Key = volume("displacement");
static BORE: Key = volume("bore");
static A: Key = volume("a");
static B: Key = volume("b");
static AIR: Key = volume("volume_of_air");
static VE: Key = key(
    "ve",
    table(of(Kind::Share, "0.9").at_least(0.1).at_most(3.0)),
    "A share.",
);
static BYPASS: Key = key("bypass", crate::input::keys::row::Form::Text, "A word.");

#[test]
fn a_misspelt_key_is_reported_once() {
    let said = notes("dispalcement = \"4.5 L\"\n", |r| {
        r.needed(&DISPLACEMENT);
        r.value(&BORE);
    });
    assert_eq!(
        said,
        ["t:1: dispalcement: is unknown, did you mean displacement?"]
    );
}

#[test]
fn all_faults_come_in_line_order() {
    let said = notes("b = \"x\"\nq = 1\na = 4\n", |r| {
        r.needed(&A);
        r.needed(&B);
        r.needed(&AIR);
    });
    assert_eq!(said.len(), 4, "{said:?}");
    assert!(
        said[0].starts_with("t:1: b: ") || said[0].starts_with("t:1: volume_of_air: is missing")
    );
    assert!(said[2].starts_with("t:2: q: is unknown; known here: a, b"));
    assert_eq!(
        said[3],
        "t:3: a: 4 has no unit; expected a volume, e.g. \"4 L\" (or cc, in3)"
    );
}

#[test]
fn a_percentage_without_its_sign_is_asked_about() {
    let said = notes("ve = 85\n", |r| {
        assert_eq!(r.value(&VE), None);
    });
    assert_eq!(
        said,
        [
            "t:1: ve: 85 is out of range: it must be between 0.1 and 3; did you mean 0.85 (or \"85 %\")?"
        ]
    );
    assert!(notes("ve = \"85 %\"\n", |r| assert_eq!(r.value(&VE), Some(0.85))).is_empty());
}

#[test]
fn a_table_that_does_not_rise_is_named_with_its_row_and_line() {
    let said = notes(
        "ve = [\n [1000, 0.8],\n [2000, 0.9],\n [1500, 0.9],\n]\n",
        |r| {
            r.schedule(&VE);
        },
    );
    assert_eq!(
        said,
        [
            "t:4: ve: row 3: 1500 rpm does not rise above the 2000 rpm of the row before; sort the rows by rising rpm, one row a speed"
        ]
    );
}

#[test]
fn every_bad_row_of_a_table_is_named() {
    let said = notes("ve = [[1000, 85], [nan, 0.8], [3000]]\n", |r| {
        r.schedule(&VE);
    });
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said[0].contains("row 1: 85 is out of range"));
    assert!(said[1].contains("row 2: \"nan\" is not a finite number"));
    assert!(said[2].contains("row 3: a row is written [rpm, value], this one has 1 entries"));
    for flat in ["ve = [1000, 0.85]\n", "ve = []\n", "ve = [[]]\n"] {
        assert_eq!(notes(flat, |r| assert!(r.schedule(&VE).is_none())).len(), 1);
    }
}

#[test]
fn a_word_gets_the_nearest_choice() {
    let said = notes("bypass = \"chek\"\n", |r| {
        r.word(&BYPASS, &[("none", 0), ("check", 1), ("regulated", 2)]);
    });
    assert_eq!(
        said,
        [
            "t:1: bypass: \"chek\" is not known (did you mean \"check\"?); expected one of \"none\", \"check\", \"regulated\""
        ]
    );
}

#[test]
fn a_value_of_the_wrong_shape_says_what_it_is() {
    let said = notes("a = true\nb = [1]\nc = 1\nd = 1979-05-27\n", |r| {
        r.value(&A);
        r.value(&B);
        r.section("c");
        r.text("d");
    });
    assert!(said[0].contains("is true or false; expected a volume, e.g. \"4.5 L\""));
    assert!(said[1].contains("is a list; expected"));
    assert!(said[2].contains("is a number; expected a section: [c]"));
    assert!(said[3].contains("is a date; expected text in quotes"));
}
