//! `explain`: what a word means, in half a screen.

use serde_json::{Value, json};

use super::done::Done;
use super::failure::Failure;
use super::options::{ExplainForm, ExplainOptions};
use crate::input;
use crate::report::{self, Entry, Output};

/// Says what a word means, or which words there are.
pub(super) fn run(options: &ExplainOptions) -> Result<Done, Failure> {
    if let Some(name) = &options.schema {
        let schema = Output::named(name).map(report::schema);
        let schema = schema.ok_or_else(|| no_output(name))?;
        return Ok(Done {
            text: format!("{schema:#}\n"),
            strict_failure: false,
        });
    }
    let Some(word) = &options.word else {
        let topics: Vec<&str> = report::topic_names().collect();
        return Err(Failure::usage(&format!(
            "give a word: a key, a column, a finding, or one of the topics {}",
            topics.join(", ")
        )));
    };
    let sections = input::sections(options.units.into());
    let found = report::explain(word, &sections, options.units.into());
    if found.is_empty() {
        return Err(Failure::usage(&unknown(word, &sections)));
    }
    let text = match options.format {
        ExplainForm::Text => report::explain_text(&found),
        ExplainForm::Json => format!("{:#}\n", as_json(word, &found)),
    };
    Ok(text.into())
}

fn no_output(name: &str) -> Failure {
    let names = Output::ALL.map(Output::name).join(", ");
    Failure::usage(&format!(
        "--schema: {name} is not known; it is one of {names}"
    ))
}

fn as_json(word: &str, found: &[Entry]) -> Value {
    let entries: Vec<&Value> = found.iter().map(|entry| &entry.json).collect();
    json!({ "word": word, "entries": entries })
}

/// The nearest words, and the topics.
fn unknown(word: &str, sections: &[input::SectionDescription]) -> String {
    let keys = sections.iter().flat_map(|section| &section.keys);
    let words = report::topic_names().chain(keys.map(|key| key.name));
    let meant = match input::nearest_word(word, words) {
        Some(near) => format!(", did you mean {near}?"),
        None => ".".to_owned(),
    };
    let topics: Vec<&str> = report::topic_names().collect();
    format!(
        "{word} is not known{meant} Topics: {}; keys: airpath keys",
        topics.join(", ")
    )
}
