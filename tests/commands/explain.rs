//! `explain`: a word in half a screen.

use super::{Scratch, assert_refused};

fn explained(word: &str) -> String {
    let ran = Scratch::new().run(&["explain", word]);
    assert_eq!(ran.code, 0, "{word}: {}", ran.err);
    ran.out
}

#[test]
fn a_key_is_explained_with_its_section_example_and_default() {
    let text = explained("supercharger.mechanical_efficiency");
    for piece in [
        "supercharger",
        "mechanical_efficiency = 0.95",
        "0.96 (common practice)",
    ] {
        assert!(text.contains(piece), "{piece}: {text}");
    }
    let both = explained("mechanical_efficiency");
    assert!(both.contains("[turbine]"), "{both}");
}

#[test]
fn the_old_name_of_a_key_leads_to_the_new_one() {
    let text = explained("measured_at_drive_ratio");
    assert!(
        text.contains("measured_at_exhaust_pressure_ratio"),
        "{text}"
    );
}

#[test]
fn every_topic_fits_half_a_screen_and_names_a_formula_or_a_limit() {
    let listed = Scratch::new().run(&["explain"]);
    assert_refused(&listed, 2, &["topics"]);
    let topics = listed.err.split("topics ").nth(1).unwrap();
    let topics = topics.lines().next().unwrap();
    let mut count = 0;
    for topic in topics.split(", ") {
        let text = explained(topic.trim());
        assert!(text.lines().count() <= 24, "{topic} is long:\n{text}");
        assert!(
            text.lines().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        count += 1;
    }
    assert!(count > 15);
}

#[test]
fn a_word_that_is_not_known_gets_the_nearest() {
    let ran = Scratch::new().run(&["explain", "surg"]);
    assert_refused(&ran, 2, &["did you mean surge?"]);
}
