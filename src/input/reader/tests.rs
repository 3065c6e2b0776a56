use super::*;
use crate::input::document::Document;
use crate::input::fault::Note;
use crate::quantity::Kind;

fn notes(text: &str, ask: impl Fn(&Reader<'_>)) -> Vec<String> {
    let document = Document::from_text("t", text);
    let context = Context::default();
    let reader = Reader::new(&document.root, Place::Line("t".into(), 1), "", &context);
    ask(&reader);
    reader.finish();
    context.into_notes().0.iter().map(Note::to_string).collect()
}

const VOLUME: Want = Want::of(Kind::Volume, "\"4.5 L\"").above(0.0);
const FILLING: Want = Want::of(Kind::Share, "0.9").at_least(0.1).at_most(3.0);

#[test]
fn a_misspelt_key_is_reported_once() {
    let said = notes("dispalcement = \"4.5 L\"\n", |r| {
        r.needed("displacement", VOLUME);
        r.value("bore", VOLUME);
    });
    assert_eq!(
        said,
        ["t:1: dispalcement: is unknown, did you mean displacement?"]
    );
}

#[test]
fn all_faults_come_in_line_order() {
    let said = notes("b = \"x\"\nq = 1\na = 4\n", |r| {
        r.needed("a", VOLUME);
        r.needed("b", VOLUME);
        r.needed("volume_of_air", VOLUME);
    });
    assert_eq!(said.len(), 4, "{said:?}");
    assert!(
        said[0].starts_with("t:1: b: ") || said[0].starts_with("t:1: volume_of_air: is missing")
    );
    assert!(said[2].starts_with("t:2: q: is unknown; known here: a, b"));
    assert_eq!(
        said[3],
        "t:3: a: 4 has no unit; a volume is wanted, write for example \"4 L\" (or cc, in3)"
    );
}

#[test]
fn a_percentage_without_its_sign_is_asked_about() {
    let said = notes("ve = 85\n", |r| {
        assert_eq!(r.value("ve", FILLING), None);
    });
    assert_eq!(
        said,
        [
            "t:1: ve: 85 makes no sense here: it has to be between 0.1 and 3; did you mean 0.85 (or \"85 %\")?"
        ]
    );
    assert!(
        notes("ve = \"85 %\"\n", |r| assert_eq!(
            r.value("ve", FILLING),
            Some(0.85)
        ))
        .is_empty()
    );
}

#[test]
fn a_table_that_does_not_rise_is_named_with_its_row_and_line() {
    let said = notes(
        "ve = [\n [1000, 0.8],\n [2000, 0.9],\n [1500, 0.9],\n]\n",
        |r| {
            r.schedule("ve", FILLING);
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
        r.schedule("ve", FILLING);
    });
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said[0].contains("row 1: 85 makes no sense"));
    assert!(said[1].contains("row 2: \"nan\" is not a finite number"));
    assert!(said[2].contains("row 3: a row is written [rpm, value], this one has 1 entries"));
    for flat in ["ve = [1000, 0.85]\n", "ve = []\n", "ve = [[]]\n"] {
        assert_eq!(
            notes(flat, |r| assert!(r.schedule("ve", FILLING).is_none())).len(),
            1
        );
    }
}

#[test]
fn a_word_gets_the_nearest_choice() {
    let said = notes("bypass = \"chek\"\n", |r| {
        r.word("bypass", &[("none", 0), ("check", 1), ("regulated", 2)]);
    });
    assert_eq!(
        said,
        [
            "t:1: bypass: \"chek\" is not known, did you mean \"check\"?; it is one of \"none\", \"check\", \"regulated\""
        ]
    );
}

#[test]
fn a_value_of_the_wrong_shape_says_what_it_is() {
    let said = notes("a = true\nb = [1]\nc = 1\nd = 1979-05-27\n", |r| {
        r.value("a", VOLUME);
        r.value("b", VOLUME);
        r.section("c");
        r.text("d");
    });
    assert!(said[0].contains("is true or false, but a volume is wanted, for example \"4.5 L\""));
    assert!(said[1].contains("is a list, but"));
    assert!(said[2].contains("is a number, but a section is wanted: [c]"));
    assert!(said[3].contains("is a date, but text in quotes is wanted"));
}
