use super::relations::{CHOICES, IDLE, NEEDS, When};
use super::row::{Key, Range, Section, Without};
use super::*;

fn rows() -> impl Iterator<Item = (&'static Section, &'static Key)> {
    let sections = SECTIONS.into_iter();
    sections.flat_map(|section| section.keys.iter().map(move |key| (section, *key)))
}

#[test]
fn a_section_names_a_key_once_and_under_no_old_name_of_another() {
    for section in SECTIONS {
        for (at, key) in section.keys.iter().enumerate() {
            let others = section.keys[..at].iter();
            for other in others {
                assert_ne!(other.name, key.name, "{}", section.path);
                assert_ne!(other.once, Some(key.name), "{}", section.path);
                assert_ne!(key.once, Some(other.name), "{}", section.path);
            }
        }
    }
}

#[test]
fn every_row_ends_its_one_sentence() {
    for (section, key) in rows() {
        assert!(
            key.doc.ends_with('.'),
            "{}.{}: {}",
            section.path,
            key.name,
            key.doc
        );
        assert!(key.doc.len() < 170, "{}.{} is long", section.path, key.name);
    }
}

#[test]
fn what_is_usual_can_be_and_can_be_read() {
    for (section, key) in rows() {
        let built = &key.built;
        let Some(spec) = key.spec() else { continue };
        let name = section.path_of(key);
        assert!(built.usual.low <= built.usual.high, "{name}");
        let inside = |range: Range, end: f64| end.is_infinite() || range.holds(end);
        for end in [built.usual.low, built.usual.high] {
            assert!(inside(built.can, end), "{name}");
            let read = end.is_infinite() || spec.permits(end);
            // A usual range may end where the readable one does without including it.
            assert!(read || spec.permits(0.999 * end), "{name}: {end}");
        }
    }
}

#[test]
fn a_default_is_in_the_range_of_its_key() {
    let mut seen = 0;
    for (section, key) in rows() {
        if let (Without::Value { si, .. }, Some(spec)) = (key.without, key.spec()) {
            assert!(spec.permits(si), "{}", section.path_of(key));
            seen += 1;
        }
    }
    assert!(seen > 15);
}

#[test]
fn relations_speak_of_keys_that_there_are() {
    let check = |path: &str, key: &str| {
        let found = section(path).and_then(|section| section.key(key));
        assert!(found.is_some(), "{path} has no {key}");
    };
    let condition = |path: &str, when: &When| match *when {
        When::Given(key) | When::Absent(key) | When::Word(key, _) => check(path, key),
        When::AnyGiven(keys) => keys.iter().for_each(|key| check(path, key)),
    };
    for row in IDLE {
        row.keys.iter().for_each(|key| check(row.section, key));
        row.when
            .iter()
            .for_each(|when| condition(row.section, when));
    }
    for row in NEEDS {
        check(row.section, row.key);
        row.when
            .iter()
            .for_each(|when| condition(row.section, when));
    }
    for row in CHOICES {
        for way in row.alternatives {
            let keys = way.keys.iter().chain(way.beside);
            keys.for_each(|key| check(row.section, key));
        }
    }
}
