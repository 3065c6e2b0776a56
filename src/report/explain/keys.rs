//! The key tables as text and JSON.

use serde_json::{Map, Value, json};

use crate::input::{KeyDescription, SectionDescription};
use crate::report::wrap::wrapped;

/// The tables of some sections as text.
pub fn keys_text(sections: &[SectionDescription]) -> String {
    let mut text = String::new();
    for section in sections {
        text.push_str(&format!("{}\n", section.heading));
        text.push_str(&wrapped(section.about, 0));
        for key in &section.keys {
            text.push('\n');
            text.push_str(&key_text(key));
        }
        text.push('\n');
    }
    text
}

/// One key: how it is written, then what it is and what holds without it.
pub(super) fn key_text(key: &KeyDescription) -> String {
    let head = match &key.example {
        Some(example) => format!("  {example}    ({})", key.written),
        None => format!("  {}    ({})", key.name, key.written),
    };
    let mut said = key.about.to_owned();
    if let Some(without) = &key.without {
        said.push(' ');
        said.push_str(&match without.strip_prefix("needed") {
            Some(when) => format!("Needed{when}."),
            None => format!("Default: {without}{}.", source_of(key)),
        });
    }
    if let Some(usual) = &key.usual {
        said.push_str(&format!(" Usually {usual}."));
    }
    if let Some(once) = key.once {
        said.push_str(&format!(" Formerly {once}."));
    }
    format!("{head}\n{}", wrapped(&said, 6))
}

fn source_of(key: &KeyDescription) -> String {
    key.source
        .map_or_else(String::new, |source| format!(" ({source})"))
}

/// The tables of some sections as JSON.
pub fn keys_json(sections: &[SectionDescription]) -> Value {
    let sections: Vec<Value> = sections
        .iter()
        .map(|section| {
            json!({
                "section": section.path,
                "heading": section.heading,
                "about": section.about,
                "keys": section.keys.iter().map(key_json).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({ "sections": sections })
}

/// One key as JSON; what does not exist is left out.
pub(super) fn key_json(key: &KeyDescription) -> Value {
    let mut object = Map::new();
    let mut put = |name: &str, value: Option<Value>| {
        if let Some(value) = value {
            object.insert(name.to_owned(), value);
        }
    };
    put("key", Some(key.path.clone().into()));
    put("written", Some(key.written.clone().into()));
    put("words", (!key.words.is_empty()).then(|| key.words.into()));
    put("example", key.example.clone().map(Value::from));
    put("without", key.without.clone().map(Value::from));
    put("source", key.source.map(Value::from));
    put("usual", key.usual.clone().map(Value::from));
    put("formerly", key.once.map(Value::from));
    put("about", Some(key.about.into()));
    Value::Object(object)
}
